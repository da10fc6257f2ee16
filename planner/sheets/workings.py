"""Every figure as a schoolbook has it: the formula once, then for each place the values put in and what comes out."""

import ast
from collections.abc import Iterator
from math import prod

from planner.plan.figures import value_text
from planner.plan.opening import OpenProject
from planner.plan.placing import where
from planner.plan.swept import NODES
from planner.quantities.show import Style, show
from planner.quantities.text import clean
from planner.sheets.blocks import Block, Heading, Paragraph, Rows
from planner.worksheet.declare import Figure
from planner.worksheet.explain import formula, shown, single_expression
from planner.worksheet.outcome import Known, Place, Spot


def workings(opened: OpenProject) -> Iterator[Block]:
    """All figures that have a value, by subject; for what is planned and for the truck as found."""
    subjects: dict[str, list[Block]] = {}
    waiting: dict[str, list[str]] = {}
    for node, declared in opened.sheet.catalog.figures.items():
        subject = declared.name.split(".")[0]
        rows = tuple(_rows(opened, node, declared))
        if rows:
            subjects.setdefault(subject, []).extend(_figure(declared, rows))
        else:
            waiting.setdefault(subject, []).append(declared.name)
    for subject, blocks in subjects.items():
        yield Heading(subject[0].upper() + subject[1:], 2)
        yield from blocks
    swept = _swept(opened)
    if swept:
        yield Heading("Swept clearance", 2)
        yield Paragraph(
            "The wheel with its tire turned and moved through all of its steer, travel and roll against every "
            "obstacle; the least distance, proven to the bound that is stated. Ground: geometry."
        )
        yield Rows(("what", "value", "where"), swept, (4, 3, 6))
    if waiting:
        yield Heading("Not worked out, since entries are missing", 2)
        yield Paragraph("; ".join(name for names in waiting.values() for name in names))


def _figure(declared: Figure, rows: tuple[tuple[str, str, str], ...]) -> Iterator[Block]:
    yield Heading(f"{declared.name}: {declared.means}", 3)
    yield Paragraph(f"{formula(declared)}      Ground: {declared.ground}.")
    yield Rows(("where", "values put in", "result"), rows, (3, 6, 4))


def _rows(opened: OpenProject, node: str, declared: Figure) -> Iterator[tuple[str, str, str]]:
    """One row a place; places where the same goes in and comes out share one."""
    alike: dict[tuple[str, str], list[Place]] = {}
    sheet = opened.sheet
    for spot in sheet.spots(node):
        if spot.place[0] and spot.place[0] not in ("found", *opened.planned):
            continue
        if not isinstance(sheet.outcome(spot), Known):
            continue
        at = sheet.entered(spot)
        put_in = f"entered: {clean(opened.key_of(at))} = {clean(opened.text_of(opened.key_of(at)))}" if at else ""
        alike.setdefault((put_in or _put_in(opened, spot, declared), value_text(opened, spot)), []).append(spot.place)
    for (put_in, result), places in alike.items():
        yield _places(places), put_in, result


def _places(places: list[Place]) -> str:
    """Several places by their members, axis for axis, where they are all that these can make: `tall; front, rear`."""
    axes = [tuple(dict.fromkeys(members)) for members in zip(*places, strict=True)]
    if prod(map(len, axes)) == len(places):
        return "; ".join(", ".join(map(clean, members)) for members in axes if any(members)) or "truck"
    return "; ".join(where(place) for place in places)


def _put_in(opened: OpenProject, spot: Spot, declared: Figure) -> str:
    """The formula with its values in place of names; for a body with branches, each value by its name."""
    step = opened.sheet.step(spot)
    slots = zip(declared.inputs, step.slots, strict=True)
    reads = {taken.name: opened.sheet.layout.steps[slot].spot if slot >= 0 else None for taken, slot in slots}
    body = single_expression(declared.call)
    if body is not None and _all_known(opened, reads, body):
        return shown(
            body, lambda name: _short(opened, reads.get(name.rstrip("_"))) if name.rstrip("_") in reads else name
        )
    pairs = [f"{name.replace('_', ' ')} = {_short(opened, one)}" for name, one in reads.items() if one is not None]
    return "; ".join(pair for pair in pairs if not pair.endswith(" = not known"))


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
    return show(value, kind, Style(opened.style.system, fractions=False), 0.0).partition(" (")[0]


def _swept(opened: OpenProject) -> tuple[tuple[str, str, str], ...]:
    """What the sweep gave, with where in the sweep."""
    rows = []
    beside = {
        "least_clearance": "clearance_place",
        "inner_steer_limit": "inner_steer_binds",
        "outer_steer_limit": "outer_steer_binds",
        "window_width": "window_words",
        "largest_tire": "largest_tire_binds",
    }
    for node, words in beside.items():
        for spot in opened.sheet.spots(node):
            if spot in opened.swept.results and node in NODES:
                at = opened.swept.results.get(Spot(words, spot.place), "")
                rows.append(
                    (f"{node.replace('_', ' ')} ({where(spot.place)})", value_text(opened, spot), clean(str(at)))
                )
    return tuple(rows)
