"""A formula with its values put in, as a schoolbook has it."""

import ast

from planner.plan.opening import OpenProject
from planner.quantities.show import show_plain
from planner.quantities.text import clean
from planner.worksheet.declare import Figure
from planner.worksheet.explain import shown, single_expression
from planner.worksheet.outcome import Known, Spot


def put_in(opened: OpenProject, spot: Spot, declared: Figure) -> str:
    """The formula with its values in place of names; for a body with branches, each value by its name."""
    step = opened.sheet.step(spot)
    slots = zip(declared.inputs, step.slots, strict=True)
    reads = {taken.name: opened.sheet.layout.steps[slot].spot if slot >= 0 else None for taken, slot in slots}
    body = single_expression(declared.call) if declared.form is None else None  # else it is not what is shown
    if body is not None and _all_known(opened, reads, body):
        return shown(body, lambda name: _named(opened, reads, name))
    known = {name: one for name, one in reads.items() if one is not None and opened.sheet.value(one) is not None}
    return "; ".join(f"{name.replace('_', ' ')} = {_short(opened, one)}" for name, one in known.items())


def _named(opened: OpenProject, reads: dict[str, Spot | None], name: str) -> str:
    """What stands for a name in the formula: the value that it reads, or a constant by its name."""
    read = name.rstrip("_")
    return _short(opened, reads[read]) if read in reads else name.strip("_").replace("_", " ")


def _all_known(opened: OpenProject, reads: dict[str, Spot | None], body: ast.expr) -> bool:
    names = {node.id.rstrip("_") for node in ast.walk(body) if isinstance(node, ast.Name)}
    return all(
        (one := reads[name]) is not None and isinstance(opened.sheet.outcome(one), Known)
        for name in names
        if name in reads
    )


def _short(opened: OpenProject, spot: Spot | None) -> str:
    """A value in one system and without its tolerance, short enough to stand in a formula."""
    if spot is None:
        return "not known"
    value, kind = opened.sheet.value(spot), opened.sheet.catalog.kind(spot.node)
    if value is None:
        return "not known"
    if kind is None or not isinstance(value, (int, float, str, bool, tuple)):
        return clean(str(value))
    return show_plain(value, kind, opened.style, 0.0)
