"""What was done, for the build record: decisions, work, parts and money, wheels as they came, sheets, the diary."""

from collections.abc import Iterator

from planner.plan.answers.basis import rested_words
from planner.plan.answers.basis_words import changes_in_words
from planner.plan.change.diary_told import told_entries
from planner.plan.revisit.stale_records import decisions as settled_decisions
from planner.plan.truck.project import OpenProject
from planner.plan.work.inspections import earlier_words
from planner.plan.work.money import amount, money, sums
from planner.plan.work.part_words import bought_words
from planner.plan.work.received_wheels import received_wheels
from planner.plan.work.received_words import piece_words
from planner.project.diary_reading import read_diary
from planner.project.faults import Faulty
from planner.project.way_back import standing_words
from planner.quantities.text import clean
from planner.sheets.blocks import Block, Fields, Heading, Paragraph, Rows
from planner.sheets.kind import Subject
from planner.sheets.photos import photo_block
from planner.tasks.kind import PHASES

LAST_ENTRIES = 60


def decisions(subject: Subject) -> Iterator[Block]:
    opened = subject.opened
    settled = settled_decisions(opened)
    if settled:
        yield Heading("Decisions")
    for one, gone in settled:
        yield Heading(clean(one.question or "a decision"), 2)
        rested_on = rested_words(opened, opened.rested_on(one))
        rows = [("chosen", clean(one.chosen or "")), ("chosen from", "; ".join(map(clean, one.options)))]
        rows += [("because", clean(one.because or "")), ("by", clean(one.by or "")), ("on", str(one.on or ""))]
        rows += [("rested on", "; ".join(map(" = ".join, rested_on)))]
        rows += [("changed since", changes_in_words(gone))]
        yield Fields(tuple(row for row in rows if row[1]))
        yield from photo_block(subject.photos, [("", one.photos)])


def work(subject: Subject) -> Iterator[Block]:
    opened, items = subject.opened, subject.work.items.values()
    yield Heading("Work")
    for phase in (*PHASES, ""):
        rows = []
        for one in items:
            if one.phase != phase:
                continue
            record = one.record
            said = [clean(text) for text in (record.recorded, record.note, record.because) if text] if record else []
            said += [f"by {clean(record.by)}"] if record and record.by else []
            said += [f"odometer {clean(record.odometer.text)}"] if record and record.odometer else []
            said += [f"before: {clean(earlier_words(opened, each))}" for each in record.earlier] if record else []
            said += [clean(one.due.says)] if one.due else []
            rows.append((clean(one.title), one.state, str(record.on or "") if record else "", "; ".join(said)))
        if rows:
            yield Heading(phase[0].upper() + phase[1:] if phase else "Of your own", 2)
            yield Rows(("task", "state", "on", "recorded, noted"), tuple(rows), (6, 2, 2, 5))
            taken = [(one.title, one.record.photos) for one in items if one.phase == phase and one.record]
            yield from photo_block(subject.photos, taken)
    kept = {one.id: one for one in opened.project.tasks if one.photos and one.id not in subject.work.items}
    if kept:
        yield Heading("Photos of tasks that aren't in the list right now", 2)
        yield from photo_block(subject.photos, ((one.title or id_ or "", one.photos) for id_, one in kept.items()))


def parts(subject: Subject) -> Iterator[Block]:
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
    taken = [(one.title or one.id or "a part", one.photos) for one in subject.opened.project.parts]
    yield from photo_block(subject.photos, taken)


def came(subject: Subject) -> Iterator[Block]:
    """The wheels that came, one by one."""
    pieces = received_wheels(subject.opened, subject.flags)
    if pieces:
        yield Heading("Wheels as received")
        rows = tuple((piece.name, "; ".join(map(clean, piece_words(piece)))) for piece in pieces)
        yield Rows(("wheel", "as measured, against its order, and where it would fit"), rows, (2, 12))
        taken = [(f"wheel {one.mark or ''}", one.photos) for one in subject.opened.project.wheels]
        yield from photo_block(subject.photos, taken)


def sheets(opened: OpenProject) -> Iterator[Block]:
    rows = tuple((str(one.number), one.kind or "", str(one.on or "")) for one in opened.project.sheets)
    if rows:
        yield Heading("Sheets printed before")
        yield Rows(("number", "sheet", "on"), rows, (1, 3, 2))


def diary(opened: OpenProject) -> Iterator[Block]:
    """The diary in short: its last entries, each by what it was of, and from what to what."""
    source = opened.opened.source
    try:
        found = read_diary(source.path)
    except Faulty as faulty:
        yield Heading("Diary")
        yield Paragraph(f"It cannot be read: {clean(faulty.faults[0].message)}")
        return
    if not found.entries:
        return
    yield Heading("Diary")
    if len(found.entries) > LAST_ENTRIES:
        yield Paragraph(f"The last {LAST_ENTRIES} of {len(found.entries)} entries; the others are in the diary's file.")
    rows = tuple(
        (str(one.number), one.on, one.what, "; ".join(one.told), one.because)
        for one in told_entries(opened, found, LAST_ENTRIES)
    )
    yield Rows(("", "on", "what", "of what, from what to what", "because"), rows, (0.9, 2.1, 1.9, 8, 5))
    stands = standing_words(found, source)
    if stands:
        yield Paragraph(stands)
