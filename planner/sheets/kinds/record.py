"""The build record: what was entered, every figure with formula, values and ground, flags, decisions, work, diary."""

from collections.abc import Iterator

from planner.plan.answers.basis import rested_words
from planner.plan.answers.basis_words import changes_in_words
from planner.plan.answers.flagging import Flag
from planner.plan.answers.mock_up_words import mock_up_lines
from planner.plan.answers.stage_words import stage_lines
from planner.plan.answers.stages import judged_stages
from planner.plan.drawings.backspace_window import backspace_window
from planner.plan.drawings.clearance_map import clearance_map
from planner.plan.drawings.engine_speed import engine_speed_chart
from planner.plan.drawings.fender_opening import fender_opening
from planner.plan.drawings.steered_tire import steered_tire
from planner.plan.revisit.stale_records import decisions
from planner.plan.truck.change_words import ChangedEntry, entries_of, planned_changes, title_of, written_at
from planner.plan.truck.project import OpenProject
from planner.plan.truck.reading_words import provenance, reading_lines
from planner.plan.work.inspections import earlier_words
from planner.plan.work.money import amount, money, sums
from planner.plan.work.part_words import bought_words
from planner.plan.work.received_wheels import received_wheels
from planner.plan.work.received_words import piece_words
from planner.project.diary_reading import read_diary
from planner.project.faults import Faulty, as_key
from planner.project.obstacle_names import OBSTACLES, told_key
from planner.quantities.kinds import POSITION
from planner.quantities.quantity import Quantity
from planner.quantities.show import as_written, show
from planner.quantities.text import clean, cut
from planner.sheets.blocks import Block, Caution, Contents, DrawingBlock, Fields, Heading, Paragraph, Picture, Rows
from planner.sheets.kind import CannotPrint, Content, SheetKind, Subject, stops
from planner.sheets.shop_face import shop_face
from planner.sheets.shop_section import shop_section
from planner.sheets.workings import workings
from planner.tasks.kind import PHASES
from planner.worksheet.outcome import Spot

MAIN = (
    "overall_diameter", "rim_width", "backspace", "stud_circle", "axle_ratio", "effective_axle_ratio",
    "cruise_engine_speed", "poke",
)  # fmt: skip
LAST_ENTRIES = 60
_TABLES = {
    "vehicle": "The truck", "use": "What it is for", "legal": "What the law says", "axles": "Axles",
    "drivetrain": "Drivetrain", "fitments": "Tires and wheels",
}  # fmt: skip


def build(subject: Subject) -> Content:
    opened = subject.opened
    if not opened.keys and not opened.project.obstacles:
        raise CannotPrint("nothing is entered yet that could go on record")
    blocks: list[Block] = [
        Caution(
            "This record says what was measured, worked out and done. It's not an approval: somebody licensed for it "
            "has to inspect what the code where the truck runs requires."
        ),
        Heading("Contents"),
        Contents(),
        *_facts(opened),
        *_obstacles(opened),
        *_mock_ups(opened),
        *_changes(opened),
        *_stages(subject),
        *_drawings(opened),
        Heading("Figures", fresh=True),
        Paragraph(
            "Each with its formula, the values put in, and where it comes from. ± is the worst that the measuring "
            "tolerances can add up to."
        ),
        *workings(opened),
        *_set_otherwise(opened),
        *_flags(subject),
        *_decisions(opened),
        *_work(subject),
        *_parts(subject),
        *_came(subject),
        *_sheets(opened),
        *_diary(opened),
    ]
    catalog = opened.sheet.catalog
    spots = [
        spot
        for node in MAIN
        if catalog.knows(node)
        for spot in opened.sheet.spots(node)
        if not spot.place[0] or spot.place[0] in opened.planned
    ]
    raised = stops(subject.flags)
    return Content(tuple(blocks), tuple(spots), "STOP RAISED" if raised else "", raised)


def _facts(opened: OpenProject) -> Iterator[Block]:
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
            yield Rows(("what, and its key", "as written", "by whom, when, how"), tuple(by_table[table]), (6, 4, 3))


def written(opened: OpenProject, spot: Spot) -> str:
    """An entry as the person wrote it; a list in their units."""
    value, kind = opened.given(spot), opened.sheet.catalog.kind(spot.node)
    if isinstance(value, Quantity) and value.text and kind is not None:
        return as_written(value, kind, opened.style)
    text = getattr(value, "text", "")
    return clean(text) if text or kind is None else show(value, kind, opened.style)


def _obstacles(opened: OpenProject) -> Iterator[Block]:
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


def _mock_ups(opened: OpenProject) -> Iterator[Block]:
    rows = tuple(mock_up_lines(opened))
    if rows:
        yield Heading("Measured at the mock-up", 2)
        yield Rows(("measured, and predicted by the sweep", "what it says"), rows, (6, 5))


def _changes(opened: OpenProject) -> Iterator[Block]:
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


def _stages(subject: Subject) -> Iterator[Block]:
    """What is on when, and how each stage is judged; its flags are told with the others."""
    told = list(stage_lines(subject.opened, judged_stages(subject.opened, subject.flags)))
    if told:
        yield Heading("Stages of the build")
        yield from (Paragraph(f"{line[0].upper()}{line[1:]}.") for line in told)


def _planned(opened: OpenProject, number: int, entry: ChangedEntry) -> tuple[str, str]:
    """What an entry is to be, and what was measured of it since."""
    change = opened.project.changes[number]
    meant = written_at(opened, ("changes", number, "sets", entry.written)) if entry.written in change.sets else ""
    after = change.measured.get(entry.written)
    if after is None or change.state != "done":
        return meant, "not measured since" if change.state == "done" else ""
    return meant, ", ".join(clean(str(part)) for part in (entry.planned, after.by, after.on, after.how) if part)


def _drawings(opened: OpenProject) -> Iterator[Block]:
    """Of what is planned: wheels, fender openings, the steered tire, what fits, and the engine's speed."""
    if len(opened.planned) != 1:
        return
    yield Heading("Drawings")
    drawn: dict[Picture, None] = {}
    for picture, tall in _pictures(opened, opened.planned[0]):
        same = picture._replace(title="", words="")
        if same not in drawn:
            drawn[same] = None
            yield DrawingBlock(picture, tall)


def _pictures(opened: OpenProject, fitment: str) -> Iterator[tuple[Picture, float]]:
    for draw, tall in ((shop_section, 360), (shop_face, 230), (fender_opening, 260)):
        for axle in ("front", "rear"):
            yield draw(opened, fitment, axle), tall
    for axle in ("front", "rear"):
        if opened.steers(axle, fitment):
            yield steered_tire(opened, fitment, axle), 300
    if opened.obstacles:
        for axle in ("front", "rear"):
            yield clearance_map(opened, fitment, axle), 240
            yield backspace_window(opened, fitment, axle), 240
    yield engine_speed_chart(opened, fitment), 260


def _set_otherwise(opened: OpenProject) -> Iterator[Block]:
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


def _flags(subject: Subject) -> Iterator[Block]:
    yield Heading("Flags", fresh=True)
    for answer in ("raised", "too close to call", "not known", "clear"):
        several = [flag for flag in subject.all_flags if (flag.under or flag).verdict.answer == answer]
        if several:
            yield Heading(answer[0].upper() + answer[1:], 2)
            yield Rows(("what", "how it stands", "ground"), tuple(_flag_row(flag) for flag in several), (4, 8, 2.5))


def _flag_row(flag: Flag) -> tuple[str, str, str]:
    says = [flag.says, flag.by, f"As found: {flag.as_found}" if flag.as_found else ""]
    if flag.verdict.answer in ("raised", "too close to call"):
        says.append(f"Do: {flag.cure}")
    if flag.settles:
        says.append("To settle it, measure " + "; ".join(map(clean, flag.settles)))
    if flag.needs or flag.verdict.trouble:
        says.append("Waits for " + ", ".join(map(clean, flag.wants)) if flag.wants else clean(flag.verdict.trouble))
    if flag.acceptance is not None:
        on, because = flag.acceptance.on or "", clean(flag.acceptance.because or "")
        says.append(f"ACCEPTED {on}: {because}" + (f". LAPSED: {flag.lapsed}" if flag.lapsed else ""))
    said = " ".join(text if text.endswith(".") else f"{text}." for text in says if text)
    at = f"{flag.where}: " if flag.where else ""
    what = flag.rule.severity if flag.under is None else "also"
    return f"{what}, {at}{flag.rule.notices} ({flag.rule.name})", said, str(flag.rule.ground)


def _decisions(opened: OpenProject) -> Iterator[Block]:
    settled = decisions(opened)
    if settled:
        yield Heading("Decisions")
    for one, gone in settled:
        yield Heading(clean(one.question or "a decision"), 2)
        rested_on = rested_words(opened, opened.rested_on(one))
        rows = [("chosen", clean(one.chosen or "")), ("out of", "; ".join(map(clean, one.options)))]
        rows += [("because", clean(one.because or "")), ("on", str(one.on or ""))]
        rows += [("rested on", "; ".join(map(" = ".join, rested_on)))]
        rows += [("moved since", changes_in_words(gone))]
        yield Fields(tuple(row for row in rows if row[1]))


def _work(subject: Subject) -> Iterator[Block]:
    opened, items = subject.opened, subject.work.items.values()
    yield Heading("Work", fresh=True)
    for phase in (*PHASES, ""):
        rows = []
        for one in items:
            if one.phase != phase:
                continue
            record = one.record
            said = [clean(text) for text in (record.recorded, record.note, record.because) if text] if record else []
            said += [f"odometer {clean(record.odometer.text)}"] if record and record.odometer else []
            said += [f"before: {clean(earlier_words(opened, each))}" for each in record.earlier] if record else []
            said += [clean(one.due.says)] if one.due else []
            rows.append((clean(one.title), one.state, str(record.on or "") if record else "", "; ".join(said)))
        if rows:
            yield Heading(phase[0].upper() + phase[1:] if phase else "Of your own", 2)
            yield Rows(("task", "state", "on", "recorded, noted"), tuple(rows), (7, 2, 2, 4))


def _parts(subject: Subject) -> Iterator[Block]:
    paid = money(subject.opened, subject.work)
    if not paid.rows:
        return
    rows = [
        (row.title, str(row.quantity), row.state, amount(row.price), amount(row.total) if row.counts else "not counted")
        for row in paid.rows
    ]
    yield Heading("Parts and money")
    yield Rows(("part", "how many", "state", "each", "together"), tuple(rows), (6, 2, 2, 2, 2))
    bought = [(row.title, "; ".join(bought_words(row, paid.currency))) for row in paid.rows]
    if any(words for _, words in bought):
        yield Rows(("part", "asked, paid, on its way"), tuple(row for row in bought if row[1]), (4, 10))
    yield Fields(tuple(sums(paid)))


def _came(subject: Subject) -> Iterator[Block]:
    """The wheels that came, one by one."""
    pieces = received_wheels(subject.opened, subject.flags)
    if pieces:
        yield Heading("Wheels as received")
        rows = tuple((piece.name, "; ".join(map(clean, piece_words(piece)))) for piece in pieces)
        yield Rows(("wheel", "as measured, against its order, and where it would fit"), rows, (2, 12))


def _sheets(opened: OpenProject) -> Iterator[Block]:
    rows = tuple((str(one.number), one.kind or "", str(one.on or "")) for one in opened.project.sheets)
    if rows:
        yield Heading("Sheets printed before")
        yield Rows(("number", "sheet", "on"), rows, (1, 3, 2))


def _diary(opened: OpenProject) -> Iterator[Block]:
    """The diary in short: its last entries, a line each."""
    try:
        entries = read_diary(opened.opened.source.path).entries
    except Faulty as faulty:
        yield Heading("Diary")
        yield Paragraph(f"It cannot be read: {clean(faulty.faults[0].message)}")
        return
    if not entries:
        return
    yield Heading("Diary")
    if len(entries) > LAST_ENTRIES:
        yield Paragraph(f"The last {LAST_ENTRIES} of {len(entries)} entries; the others are in the diary's file.")
    rows = []
    for entry in entries[-LAST_ENTRIES:]:
        keys = ", ".join(told_key(one.key, entry.details.get(OBSTACLES)) for one in entry.moved[:6])
        more = f" and {len(entry.moved) - 6 + entry.left_out} more" if len(entry.moved) > 6 else ""
        said = clean(entry.because)
        rows.append((str(entry.number), entry.at[:10], clean(entry.kind), cut(clean(keys + more), 300), said))
    yield Rows(("", "on", "what", "keys", "because"), tuple(rows), (1, 2.2, 2.2, 6, 5))


KIND = SheetKind(
    "record", "Build record", "everything: facts, figures with formulas and grounds, flags, decisions", build
)
