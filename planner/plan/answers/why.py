"""Why a value is what it is, as steps to be shown one a line: down to the entries, with the values put in."""

import ast
from collections.abc import Iterator
from functools import partial
from typing import NamedTuple

from planner.plan.answers.figure_rows import value_text
from planner.plan.answers.mock_up_words import by_mock_up
from planner.plan.answers.uncertainty_sources import UncertaintySource, uncertainty_sources
from planner.plan.truck.catalog import entry_key
from planner.plan.truck.change_words import found_beside, origin
from planner.plan.truck.pairs import passed_on, readers
from planner.plan.truck.project import OpenProject
from planner.plan.truck.reading_words import provenance
from planner.plan.truck.sweep_results import NODES
from planner.plan.truck.wording import place_name
from planner.quantities.show import show_plain
from planner.quantities.text import clean, in_words
from planner.worksheet.declare import Assumed, Figure, Rule
from planner.worksheet.explain import Reason, explain, formula, shown, single_expression
from planner.worksheet.outcome import Failed, Known, Spot, Waiting


class WhyStep(NamedTuple):
    """One value on the way down: how it was had, and the key of the entry that makes it, or would."""

    depth: int
    name: str
    value: str
    how: str
    spot: Spot
    key: str = ""


class Why(NamedTuple):
    """Everything that can be told of one value; `sums` are its formula, the values put in, and its ground."""

    title: str
    value: str
    sums: tuple[tuple[str, str], ...]
    steps: tuple[WhyStep, ...]
    brings: tuple[UncertaintySource, ...]
    read_by: tuple[tuple[str, Spot], ...]


def why(opened: OpenProject, spot: Spot) -> Why:
    """The reasons for the value at a spot of the worksheet."""
    opened = opened.seen_from(spot.node)
    reason, catalog = explain(opened.sheet, spot, partial(passed_on, opened)), opened.sheet.catalog
    at = place_name(spot.place)
    title = f"{clean(_name(opened, spot))}{f' ({at})' if at else ''}: {catalog.means(spot.node)}"
    steps = tuple(_steps(opened, reason, 0))
    read_by = {_name(opened, one): one for one in reversed(readers(opened, spot))}
    brings = tuple(uncertainty_sources(opened, spot))
    return Why(
        title, value_text(opened, spot), tuple(_sums(opened, reason)), steps, brings, tuple(sorted(read_by.items())),
    )  # fmt: skip


def _name(opened: OpenProject, spot: Spot) -> str:
    catalog = opened.sheet.catalog
    if spot.node in catalog.rules:
        return f"flag {catalog.called(spot.node)}"
    return catalog.called(spot.node) if spot.node in catalog.figures else in_words(spot.node)


def _sums(opened: OpenProject, reason: Reason) -> Iterator[tuple[str, str]]:
    declared = reason.declared
    if isinstance(declared, Figure) and reason.rests_on:
        yield "formula", formula(declared)
        if isinstance(reason.outcome, Known):
            yield "values put in", with_values(opened, reason.spot, declared)
    if isinstance(declared, Rule):
        yield "it warns that", declared.notices
    if isinstance(declared, (Figure, Rule, Assumed)):
        yield "ground", str(declared.ground)
    if isinstance(reason.outcome, Failed):
        yield "impossible", clean(reason.outcome.why)


def _steps(opened: OpenProject, reason: Reason, depth: int) -> Iterator[WhyStep]:
    spot = reason.spot
    at = place_name(spot.place)
    name = f"{spot.node.replace('_', ' ')}{f' ({at})' if at else ''}"
    how, key = _how(opened, reason)
    yield WhyStep(depth, clean(name), value_text(opened, spot), how, spot, key)
    for below in () if reason.again else reason.rests_on:
        yield from _steps(opened, below, depth + 1)


def _how(opened: OpenProject, reason: Reason) -> tuple[str, str]:
    """How a value was had, and the key at which to look or to write."""
    spot = reason.spot
    if reason.again:
        return "worked out above", ""
    if spot.node in NODES:
        said = "swept" if isinstance(reason.outcome, Known) else "the sweep waits"
        told = by_mock_up(opened, spot) if opened.mock_ups else ""
        return f"{said}; {told}" if told else said, next(iter(opened.keys_needed(spot)), "")
    if reason.entered_at is not None:
        key = opened.key_of(reason.entered_at)
        read = provenance(opened, key)
        return f"{origin(opened, key)}{f'; {read}' if read else ''}{found_beside(opened, key)}", key
    if reason.how == "assumed" and isinstance(reason.declared, Assumed):
        table = "limits" if reason.declared.limit else "assumptions"
        return "assumed", f"{table}.{spot.node}.value"
    if isinstance(reason.outcome, Waiting) and reason.how == "missing":
        return f"enter {clean(entry_key(spot))}", entry_key(spot)
    return "", ""


def with_values(opened: OpenProject, spot: Spot, declared: Figure) -> str:
    """The formula with its values in place of names; for a body with branches, each value by its name."""
    reads = dict(zip((taken.name for taken in declared.inputs), opened.sheet.reads(spot), strict=True))
    body = single_expression(declared.call) if declared.form is None else None  # else it is not what is shown
    if body is not None and _all_known(opened, reads, body):
        return shown(body, lambda name: _named(opened, reads, name))
    known = {name: one for name, one in reads.items() if one is not None and opened.sheet.value(one) is not None}
    return "; ".join(f"{name.replace('_', ' ')} = {_short(opened, one)}" for name, one in known.items())


def _named(opened: OpenProject, reads: dict[str, Spot | None], name: str) -> str:
    """What stands for a name in the formula: the value that it reads, or a constant by its name."""
    read = name.rstrip("_")
    return _short(opened, reads[read]) if read in reads else in_words(name.strip("_"))


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
