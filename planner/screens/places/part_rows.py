"""How parts, decisions and acceptances look: a row in the list, and all of it in words."""

from collections.abc import Iterator, Mapping

from planner.plan.answers.basis import rested_words
from planner.plan.answers.basis_words import LOOK_ONCE, BasisChange, changes_told
from planner.plan.truck.catalog import catalog
from planner.plan.truck.project import OpenProject
from planner.plan.work.money import CostRow as Priced
from planner.plan.work.money import Money, amount
from planner.plan.work.part_words import bought_words, weeks_words
from planner.plan.work.received_wheels import Piece
from planner.plan.work.received_words import against_words
from planner.plan.work.record_changes import record_changes
from planner.project.models.work import Acceptance, Decision, Part
from planner.screens.widgets.columns import ListRow, short, short_day

TONES = {"wanted": "accent", "ordered": "accent", "returned": "muted"}
ROOM = 24  # cells for what a part comes to


def part_row(row: Priced, part: Part | None, currency: str, sign: str) -> ListRow:
    """A part, or a fitment's price where no part of it is listed; late is said in words and not in color alone."""
    sum_ = amount(row.total, currency) if row.total is not None else "no price"
    if row.quantity != 1:
        sum_ = (
            f"{row.quantity} × {amount(row.price)} = {sum_}" if row.total is not None else f"{row.quantity} ×  {sum_}"
        )
    late = row.late or (row.coming is not None and row.coming.days_late > 0)
    mark = "LATE" if late else row.state
    tone = "warning" if late else TONES.get(row.state, "")
    name = f"{sign} {row.title}" if sign else row.title
    return ListRow(name, short(sum_, ROOM), _when(row, part) or " ", mark=mark, tone=tone)


def _when(row: Priced, part: Part | None) -> str:
    if part is not None and part.state == "ordered" and part.ordered:
        return f"on {short_day(part.ordered)}"
    if part is not None and part.arrived and part.state in ("arrived", "fitted"):
        return f"on {short_day(part.arrived)}"
    if row.order_by is not None:
        return f"by {short_day(row.order_by)}"
    return "" if row.counts else "not in the total"


def part_words(row: Priced, part: Part | None, currency: str) -> Iterator[str]:
    """All there is to say of a part, what presses first."""
    yield row.title
    if row.order_by is not None:
        weeks = f"{weeks_words(row.lead_days)} to come" if row.lead_days else "lead time not entered"
        yield f"order by {row.order_by}{': THAT DATE HAS PASSED' if row.late else ''}, {weeks}"
    elif row.lead_days and row.state in ("wanted", "ordered"):
        yield f"{weeks_words(row.lead_days)} from order to arrival"
    if part is not None:
        days = [f"{name} {day}" for name, day in (("ordered", part.ordered), ("arrived", part.arrived)) if day]
        yield "; ".join([row.state, *days])
        if part.used_for:
            yield f"for {', '.join(part.used_for)}"
        if part.source:
            yield f"from {part.source}"
    yield from bought_words(row, currency)
    if not row.counts:
        yield f"not in the total: {row.because}"


def piece_row(piece: Piece, sign: str) -> ListRow:
    """A wheel that came: where it is to go, and whether it will do there."""
    against = piece.wheel.state != "sent back" and bool(against_words(piece))
    mark = {"outside": "outside", "too close to call": "too close"}.get(piece.as_ordered, "")
    if against:
        mark = "too close" if piece.close else "NOT HERE"
    tone = "error" if mark == "NOT HERE" else "warning" if mark else ""
    name, place = f"{sign} wheel {piece.name}", piece.wheel.position or " "
    return ListRow(name, place, piece.wheel.state, mark=mark or " ", tone=tone)


def decision_row(one: Decision, gone: tuple[BasisChange, ...]) -> ListRow:
    mark = "REVISIT" if gone else "decided"
    question = one.question or "a decision without its question"
    tone = "warning" if gone else ""
    on = short_day(one.on) if one.on else " "
    return ListRow(question, one.chosen or "–", on, mark=mark, tone=tone)


def decision_words(opened: OpenProject, one: Decision, gone: tuple[BasisChange, ...]) -> Iterator[str]:
    """What was decided and why, what moved since first."""
    yield f"{one.question or ''} {one.chosen or ''}"
    yield from (said if said == LOOK_ONCE else f"changed since: {said}" for said in changes_told(gone))
    if one.because:
        yield f"because: {one.because}"
    others = [option for option in one.options if option != one.chosen]
    if others:
        yield f"not chosen: {'; '.join(others)}"
    if one.on:
        yield f"on {one.on}"
    if not gone and not opened.rested_on(one):
        yield "it doesn't say what it rests on: nobody would notice when that changes"


def acceptance_row(opened: OpenProject, one: Acceptance) -> ListRow:
    lapsed = bool(record_changes(opened, one)) or not one.because
    where = f"{one.at}: " if one.at else ""
    mark, tone = ("LAPSED", "warning") if lapsed else ("accepted", "")
    return ListRow(f"{where}{notices(one)}", mark=mark, tone=tone)


def acceptance_words(opened: OpenProject, one: Acceptance) -> Iterator[str]:
    yield f"{f'{one.at}: ' if one.at else ''}{notices(one)}"
    yield from (f"lapsed: {said}" for said in changes_told(record_changes(opened, one)))
    yield f"accepted because: {one.because}" if one.because else "lapsed: it gives no reason"
    if one.on:
        yield f"on {one.on}; {one.flag}"


def notices(one: Acceptance) -> str:
    """What the rule notices that was taken on; its name where there is no such rule any more."""
    return next((rule.notices for rule in catalog().rules.values() if rule.name == one.flag), one.flag or "no rule")


def rested(opened: OpenProject, rested_on: Mapping[str, str] | None) -> list[str | tuple[str, str]]:
    """What a record rests on, with the values of its day."""
    told = rested_words(opened, rested_on)
    return ["", "It rests on:", *((f"  {name}", value) for name, value in told)] if told else []


def sums_line(told: Money, pairs: list[tuple[str, str]]) -> str:
    unpriced = f"; without a price: {', '.join(told.unpriced)}" if told.unpriced else ""
    return ", ".join(f"{name} {value}" for name, value in pairs) + unpriced


def inner_name(table: str) -> str:
    """`quotes[0]` as `quote 1`."""
    name, _, number = table.rstrip("]").partition("[")
    return f"{name.removesuffix('s')} {int(number) + 1}" if number.isdigit() else name.replace("_", " ")
