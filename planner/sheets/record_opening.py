"""The first page of the build record: what is on the truck now, what was accepted, what to look at again and when."""

from collections.abc import Iterable, Iterator
from datetime import date

from planner.plan.revisit.stale_records import StaleRecord, stale_records, told_together
from planner.plan.truck.project import OpenProject
from planner.plan.truck.wording import count
from planner.plan.work.inspections import comes_again, on_the_road
from planner.plan.work.item import Item
from planner.plan.work.on_truck import changes_done, on_each_end, spare
from planner.project.models.work import Acceptance
from planner.quantities.text import clean, cut, grouped
from planner.sheets.blocks import Block, Heading, Paragraph, Rows
from planner.sheets.kind import Subject, stops
from planner.sheets.titles import both_ends

MOST_ACCEPTED, MOST_DUE, MOST_STALE = 4, 6, 2  # rows: the page stays one on either paper
A_BANNER = 2  # rows that a banner takes the place of, besides one for each of its reasons
LONG, MIDDLE, NAME = 100, 76, 36  # letters of a cell: at most two or three lines
BLANK = "_" * 24
NOTHING = "Nothing so far."
NOT_YET = "Repeat inspections count from the day the road test is signed."


def opening(subject: Subject) -> Iterator[Block]:
    opened = subject.opened
    yield Heading("On the truck now")
    now = on_each_end(opened, subject.work.items)
    yield Rows(
        ("", "front", "rear"), tuple((one.what, cut(one.front, LONG), cut(one.rear, LONG)) for one in now), (3, 7, 7)
    )
    done = cut("; ".join(changes_done(opened)), LONG) or "none on record"
    yield Paragraph(f"Spare: {cut(spare(opened), LONG)}. Changes to the truck that are done: {done}.")
    raised = stops(subject.flags)
    fewer = A_BANNER + len(raised) if raised else 0
    yield Heading("Accepted, and by whom")
    accepted = list(_accepted(subject))
    yield from _table(("what", "because", "by whom, when"), accepted, (5, 4.5, 5.5), max(1, MOST_ACCEPTED - fewer // 2))
    yield Heading("Look at again, and when")
    due, stale = list(_due(subject.work.items.values())), list(_stale(subject))
    most = max(1, MOST_DUE - fewer // 2)
    more = [f"{len(due) - most} more under Check again"] * (len(due) > most)
    left = len(stale) - MOST_STALE
    more += [f"{count(left, 'more record', 'more records')} in the task list"] * (left > 0)
    again = [*due[:most], *stale[:MOST_STALE], *([("and", "; ".join(more))] if more else [])]
    yield from _table(("what", "when, or why"), again, (6, 8), len(again))
    if on_the_road(opened) is None:
        yield Paragraph(NOT_YET)


def _table(
    heads: tuple[str, ...], rows: list[tuple[str, ...]], shares: tuple[float, ...], most: int
) -> Iterator[Block]:
    if not rows:
        yield Paragraph(NOTHING)
        return
    yield Rows(heads, tuple(rows[:most]), shares)
    if len(rows) > most:
        yield Paragraph(f"And {len(rows) - most} more, further on.")


def _by(by: str | None, on: object) -> str:
    """Who and when; what nobody wrote down can be written in by hand."""
    return f"{cut(clean(by), NAME) if by else f'by {BLANK}'}, {on or f'on {BLANK[:12]}'}"


def _took_on(opened: OpenProject, one: Acceptance) -> str:
    """What an acceptance took on, and where."""
    rule = opened.sheet.catalog.rules.get(opened.sheet.catalog.named(one.flag or "") or "")
    at = f" ({clean(one.at)})" if one.at else ""
    return f"{rule.notices if rule else clean(one.flag or '')}{at}"


def _accepted(subject: Subject) -> Iterator[tuple[str, ...]]:
    """What was accepted, and the hold points that were signed, the last of them first."""
    opened = subject.opened
    lapsed = {id(flag.acceptance): flag.lapsed for flag in subject.all_flags if flag.acceptance is not None}
    for one in opened.project.acceptances:
        gone = lapsed.get(id(one), "")
        because = f"LAPSED: {gone}" if gone else clean(one.because or "")
        yield cut(_took_on(opened, one), MIDDLE), cut(because, MIDDLE), _by(one.by, one.on)
    for item in reversed([*subject.work.items.values()]):
        record = item.record
        if item.hold and record is not None and record.state == "done":
            because = ("LOOK AGAIN. " if item.state == "look again" else "") + clean(record.because or "")
            yield cut(f"hold point: {clean(item.title)}", MIDDLE), cut(because, MIDDLE), _by(record.by, record.on)


def _due(items: Iterable[Item]) -> list[tuple[str, ...]]:
    """What is due some day, once or again and again, the first of it first: what says the same stands in one row."""
    due = [(one.due, one) for one in items if one.due is not None and (comes_again(one) or not one.closed)]
    due.sort(key=lambda pair: (pair[0].answer == "not yet", pair[0].day or date.max))
    alike = grouped((when.says, clean(one.title)) for when, one in due)
    return [(cut("; ".join(both_ends(titles)), LONG), cut(says, LONG)) for says, titles in alike.items()]


def _stale(subject: Subject) -> Iterator[tuple[str, ...]]:
    """Records to look at again, since what they rested on moved."""
    titles = {one.record.id: one.title for one in subject.work.items.values() if one.record is not None}
    for news in told_together(stale_records(subject.opened)):
        named = [_called(subject.opened, one, titles) for one in news.records]
        yield cut("; ".join(both_ends(named)), MIDDLE), cut("; ".join(news.told), LONG)


def _called(opened: OpenProject, one: StaleRecord, titles: dict[str | None, str]) -> str:
    if one.record == "acceptance":
        return f"accepted: {_took_on(opened, opened.project.acceptances[one.at])}"
    if one.record != "task":
        return f"{one.record}: {one.name}"
    return clean(titles.get(opened.project.tasks[one.at].id, one.name))
