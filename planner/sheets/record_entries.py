"""What was entered, for the build record: facts by whom and how, obstacles, mock-ups, changes, limits set otherwise."""

from collections.abc import Iterator

from planner.plan.answers.mock_up_words import mock_up_lines
from planner.plan.truck.change_words import ChangedEntry, entries_of, planned_changes, title_of, written_at
from planner.plan.truck.project import OpenProject
from planner.plan.truck.reading_words import provenance, reading_lines, taken_by
from planner.project.faults import as_key
from planner.quantities.kinds import POSITION
from planner.quantities.quantity import Quantity
from planner.quantities.show import as_written, show
from planner.quantities.text import clean
from planner.sheets.blocks import Block, Fields, Heading, Paragraph, Rows
from planner.sheets.kind import Subject
from planner.sheets.photos import photo_block
from planner.worksheet.outcome import Spot

_TABLES = {
    "vehicle": "The truck", "use": "What it is for", "legal": "What the law says", "axles": "Axles",
    "drivetrain": "Drivetrain", "fitments": "Tires and wheels",
}  # fmt: skip


def facts(opened: OpenProject) -> Iterator[Block]:
    """Every entry as it was written, by the file's tables, with who measured it and how."""
    by_table: dict[str, list[tuple[str, str, str]]] = {}
    for spot, key in opened.keys.items():
        if key[0] not in _TABLES or (key[0] == "fitments" and key[1] not in ("found", *opened.planned)):
            continue
        name = as_key(key)
        several = reading_lines(opened, name)
        taken = "; ".join([provenance(opened, name), *(several if len(several) > 1 else ())])
        means = opened.sheet.catalog.means(spot.node)
        row = (f"{means} ({clean(name)})", written(opened, spot), taken)
        by_table.setdefault(key[0], []).append(row)
    yield Heading("Facts, as they were entered", fresh=True)
    project = opened.project
    words = [
        ("truck", project.vehicle.description),
        ("year", project.vehicle.year),
        ("registered", project.legal.place),
    ]
    yield Fields(tuple((label, clean(str(text))) for label, text in words if text))
    for table, title in _TABLES.items():
        if table in by_table:
            yield Heading(title, 2)
            yield Rows(("what, and its key", "as written", "by whom, when, how"), tuple(by_table[table]), (5.5, 3.5, 5))


def written(opened: OpenProject, spot: Spot) -> str:
    """An entry as the person wrote it; a list in their units."""
    value, kind = opened.given(spot), opened.sheet.catalog.kind(spot.node)
    if isinstance(value, Quantity) and value.text and kind is not None:
        return as_written(value, kind, opened.style)
    text = getattr(value, "text", "")
    return clean(text) if text or kind is None else show(value, kind, opened.style)


def readings(subject: Subject) -> Iterator[Block]:
    """The readings of which there are photos."""
    opened = subject.opened
    found = [
        (", ".join(filter(None, (opened.spoken(one.of or ""), taken_by(one)))), one.photos)
        for one in opened.project.readings
        if one.photos
    ]
    if found:
        yield Heading("Photos of what was measured", 2)
        yield from photo_block(subject.photos, found)


def obstacles(opened: OpenProject) -> Iterator[Block]:
    rows = []
    for label, one in opened.obstacles.items():
        ends = [
            "(" + ", ".join(as_written(axis, POSITION, opened.style) for axis in end) + ")"
            for end in (one.measured.at, one.measured.to)
            if end is not None
        ]
        rows.append((clean(label), " to ".join(ends) or "not measured", clean(one.measured.moves_with or "?")))
    if rows:
        yield Heading("What's around the wheels", 2)
        yield Rows(("what", "forward, outboard, up from the hub face", "moves with"), tuple(rows), (4, 8, 2))


def mock_ups(opened: OpenProject) -> Iterator[Block]:
    rows = tuple(mock_up_lines(opened))
    if rows:
        yield Heading("Measured at the mock-up", 2)
        yield Rows(("measured, and predicted by the sweep", "what it says"), rows, (6, 5))


def changes(opened: OpenProject) -> Iterator[Block]:
    """What is planned, or was done, to the truck itself: beside each value the one that was found."""
    numbers = planned_changes(opened)
    if numbers:
        yield Heading("Changes to the truck")
        yield Paragraph("Above is the truck as found; the plan uses these values instead.")
    for number in numbers:
        one = opened.project.changes[number]
        yield Heading(clean(title_of(opened, number)), 2)
        rows = [("what", one.kind), ("how it stands", one.state), ("on", str(one.on or ""))]
        rows += [("goes with", ", ".join(map(clean, one.with_fitments or opened.candidates)))]
        rows += [("because", clean(one.because or "")), ("done by", clean(one.done_by or ""))]
        yield Fields(tuple(row for row in rows if row[1]))
        entries = [
            (clean(each.key), each.found, *_planned(opened, number, each)) for each in entries_of(opened, number)
        ]
        if entries:
            yield Rows(("what", "found", "planned", "measured after, by whom, when, how"), tuple(entries), (5, 4, 4, 5))


def _planned(opened: OpenProject, number: int, entry: ChangedEntry) -> tuple[str, str]:
    """What an entry is to be, and what was measured of it since."""
    change = opened.project.changes[number]
    meant = written_at(opened, ("changes", number, "sets", entry.written)) if entry.written in change.sets else ""
    after = change.measured.get(entry.written)
    if after is None or change.state != "done":
        return meant, "not measured since" if change.state == "done" else ""
    return meant, ", ".join(clean(str(part)) for part in (entry.planned, after.by, after.on, after.how) if part)


def set_otherwise(opened: OpenProject) -> Iterator[Block]:
    rows = []
    for table, changes in (("limits", opened.project.limits), ("assumptions", opened.project.assumptions)):
        for name, change in changes.items():
            value = clean(opened.text_of(f"{table}.{name}.value"))
            assumed = opened.sheet.catalog.assumed.get(name)
            stands = assumed.text if assumed else ""
            rows.append((clean(name), value, stands, clean(change.because or "")))
    if rows:
        yield Heading("Limits and assumptions you set yourself")
        yield Rows(("what", "set to", "else", "because"), tuple(rows), (3, 3, 2, 5))
