"""Every figure as a schoolbook has it: the formula once, then for each place the values put in and what comes out."""

from collections.abc import Iterator
from math import prod

from planner.plan.answers.figure_rows import value_text
from planner.plan.answers.why import with_values
from planner.plan.truck.change_words import found_beside, origin
from planner.plan.truck.pairs import asked_there
from planner.plan.truck.project import OpenProject
from planner.plan.truck.wording import place_name
from planner.quantities.text import clean
from planner.sheets.blocks import Block, Heading, Paragraph, Rows
from planner.worksheet.declare import Figure
from planner.worksheet.explain import formula
from planner.worksheet.outcome import Known, Place

SHOWN = ("least_clearance", "inner_steer_limit", "outer_steer_limit", "window_width", "largest_tire")  # of the sweep


def workings(opened: OpenProject) -> Iterator[Block]:
    """All figures that have a value, by subject; for what is planned and for the truck as found."""
    subjects: dict[str, list[Block]] = {}
    waiting: dict[str, list[str]] = {}
    for node, declared in opened.sheet.catalog.figures.items():
        subject = declared.name.split(".")[0]
        rows = tuple(_rows(opened, node, declared))
        if not rows and not any(asked_there(opened, spot) for spot in opened.sheet.spots(node)):
            continue
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
            "The wheel and tire moved through all their steer, travel and roll past every obstacle; the least "
            "distance, proven to the bound given. Ground: geometry."
        )
        yield Rows(("what", "value", "where"), swept, (4, 3, 6))
    if waiting:
        yield Heading("Not worked out: entries are missing", 2)
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
        if not isinstance(sheet.outcome(spot), Known) or not asked_there(opened, spot):
            continue
        at = sheet.entered(spot)
        if at:
            key = opened.key_of(at)
            given = f"{origin(opened, key)} = {opened.written_at(key)}{found_beside(opened, key)}"
        else:
            given = with_values(opened, spot, declared)
        alike.setdefault((given, value_text(opened, spot)), []).append(spot.place)
    for (given, result), places in alike.items():
        yield _places(places), given, result


def _places(places: list[Place]) -> str:
    """Several places by their members, axis for axis, where they are all that these can make: `tall; front, rear`."""
    axes = [tuple(dict.fromkeys(members)) for members in zip(*places, strict=True)]
    if prod(map(len, axes)) == len(places):
        return "; ".join(", ".join(map(clean, members)) for members in axes if any(members)) or "truck"
    return "; ".join(place_name(place) for place in places)


def _swept(opened: OpenProject) -> tuple[tuple[str, str, str], ...]:
    """What the sweep gave, with where in the sweep."""
    rows = []
    for node in SHOWN:
        for spot in opened.sheet.spots(node):
            if spot in opened.swept.results:
                name = f"{node.replace('_', ' ')} ({place_name(spot.place)})"
                rows.append((name, value_text(opened, spot), clean(opened.swept.words(spot))))
    return tuple(rows)
