"""The task list, one task, and the parts, as plain pages."""

from collections.abc import Iterable, Iterator

from planner.commands.page import WIDTH, columns, ink, paragraph
from planner.plan.truck.project import OpenProject
from planner.plan.work.item import Item
from planner.plan.work.money import CostRow, Money, amount, sums
from planner.plan.work.part_words import bought_words, weeks_words
from planner.plan.work.received_wheels import Piece
from planner.plan.work.received_words import piece_words
from planner.plan.work.task_list import Kept, Work, next_behind, next_up
from planner.plan.work.task_words import (
    BOXES,
    FIRST,
    about,
    first_sentence,
    how_far,
    how_long,
    recorded,
    stands,
    to_write,
)
from planner.quantities.text import clean, grouped
from planner.tasks.kind import PHASES


def head(opened: OpenProject, listed: Work) -> list[str]:
    """What the truck is, how far the work is, and when it ends."""
    lines = [ink(clean(opened.project.vehicle.name or "A truck without a name"), "strong")]
    lines += paragraph(how_far(opened, listed), 2)
    return [*lines, *(line for words in how_long(opened, listed) for line in paragraph(words, 2)), ""]


def listing(opened: OpenProject, listed: Work, items: Iterable[Item], *, kept: bool = False) -> list[str]:
    """The tasks by phase."""
    lines: list[str] = []
    by_phase = grouped((one.phase, one) for one in items)
    for phase in (*PHASES, ""):
        if phase in by_phase:
            lines += [ink(phase.upper() or "YOUR OWN, IN NO PHASE", "strong")]
            for one in by_phase[phase]:
                lines += _entry(opened, one)
            lines.append("")
    if kept and listed.kept:
        lines += [ink("KEPT", "strong"), *(line for one in listed.kept for line in _kept(one)), ""]
    return lines


def _entry(opened: OpenProject, one: Item, now: bool = False) -> list[str]:
    """A task in a few lines; that it can be done now goes without saying where `now` stands above it."""
    lines = paragraph(one.title, 0, f"{BOXES[one.state]} ")
    if one.state == "look again":
        lines[0] = ink(lines[0], "caution")
    told = [one.id, *(["HOLD POINT"] if one.hold else []), *([] if now and one.state == "ready" else stands(one))]
    if one.hours is not None and not one.closed:
        told.append(f"{one.hours:g} h")
    lines += [ink(line, "faint") for line in paragraph("; ".join(map(clean, told)), 4)]
    if one.state == "done" or (one.record and one.record.recorded):
        lines += [line for words in recorded(opened, one) for line in paragraph(words, 4)]
    if one.closed:
        return lines
    if one.why:
        lines += paragraph(f"look again: {one.why}", 4)
    lines += [line for name, told in to_write(opened, one) for line in paragraph(f"{name}: {told}", 4)]
    if one.caution:
        lines += paragraph(first_sentence(one.caution), 4, "CAUTION: ")
    return lines


def _kept(one: Kept) -> list[str]:
    said = f"{one.id}: {one.record.state}"
    said += f" {one.record.on}" if one.record.on else ""
    said += f", recorded {one.record.recorded}" if one.record.recorded else ""
    said += f", note: {one.record.note}" if one.record.note else ""
    return paragraph(f"{clean(said)} ({one.why})", 4)


def whole(opened: OpenProject, listed: Work, one: Item) -> list[str]:
    """Everything about one task."""
    lines = [ink(line, "strong") for line in paragraph(one.title, 0, f"{BOXES[one.state]} ")]
    lines += ["", *columns(about(opened, listed, one)), ""]
    if one.caution:
        lines += [*paragraph(one.caution, 2, "CAUTION: "), ""]
    return [*lines, *(paragraph(one.how, 2) if one.how else []), "", FIRST]


def short_page(opened: OpenProject, listed: Work) -> list[str]:
    """What can be done now, hold points first, and what stands next behind it."""
    now, behind = next_up(listed), next_behind(listed)
    lines = [ink("CAN BE DONE NOW", "strong"), *(line for one in now for line in _entry(opened, one, now=True)), ""]
    if not now:
        lines = ["Nothing can be done now: --all shows what each task waits on.", ""]
    if behind:
        lines += [ink("NEXT AFTER THAT", "strong"), *(line for one in behind for line in _title(one)), ""]
    return [*lines, ink("--all lists all of it; planner task FILE show ID shows one in full.", "faint"), FIRST]


def _title(one: Item) -> list[str]:
    """A task in a line, with its id where there is room for it."""
    lines = paragraph(clean(one.title), 0, f"{BOXES[one.state]} ")
    beside = f"  {clean(one.id)}{', HOLD POINT' if one.hold else ''}"
    if len(lines[-1]) + len(beside) > WIDTH:
        return [*lines, ink(f"   {beside}", "faint")]
    return [*lines[:-1], lines[-1] + ink(beside, "faint")]


def next_page(opened: OpenProject, listed: Work) -> list[str]:
    """What can be done now, hold points first."""
    found = next_up(listed)
    if not found:
        return ["Nothing can be done now: planner task FILE --all shows what each task waits on."]
    return [line for one in found for line in (*_entry(opened, one), "")] + [FIRST]


def parts_page(told: Money, came: Iterable[Piece] = ()) -> list[str]:
    """Each part, what is promised and spent, by when what is wanted must be ordered, and every wheel that came."""
    lines: list[str] = []
    for row in told.rows:
        lines += paragraph(row.title, 0)
        lines += [line for words in _row(row, told.currency) for line in paragraph(words, 4)]
    if not told.rows:
        lines.append("No parts are listed yet: enter them under [[parts]].")
    lines += ["", *columns(sums(told))]
    if told.unpriced:
        lines += ["", *paragraph(f"without a price, not in the total: {', '.join(map(clean, told.unpriced))}")]
    for piece in came:
        lines += ["", *paragraph(f"wheel {piece.name}", 0)]
        lines += [line for words in piece_words(piece) for line in paragraph(clean(words), 4)]
    return lines


def _row(row: CostRow, currency: str) -> Iterator[str]:
    sum_ = f"{row.quantity} × {amount(row.price, currency)} = {amount(row.total, currency)}"
    yield f"{clean(row.id)}; {row.state}; {sum_}" + ("" if row.counts else f"; not in the total: {row.because}")
    if row.order_by is not None:
        weeks = f", {weeks_words(row.lead_days)} to come" if row.lead_days else ", lead time not entered"
        yield f"order by {row.order_by}{weeks}" + (": THAT DATE HAS PASSED" if row.late else "")
    yield from bought_words(row, currency)
