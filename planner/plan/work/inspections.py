"""When what comes again is due: by the day and by the odometer, whichever comes first, from the last time it was done.

Not due is only said where both can be told. Overdue is said where either is past.
"""

from calendar import monthrange
from collections.abc import Iterable, Iterator
from datetime import date, timedelta
from typing import NamedTuple

from planner.plan.truck.project import OpenProject
from planner.plan.work.item import Due, Item
from planner.project.models.work import DoneBefore, Task
from planner.quantities.grammar import read
from planner.quantities.kinds import LENGTH
from planner.worksheet.outcome import Known, number

ON_THE_ROAD = "road.qualified"  # from it on the truck is driven, and what comes again is counted
MILE, KILOMETER = 1609.344, 1000.0
STALE = timedelta(days=31)  # an odometer that nobody read for so long says no more that a distance is not past
A_DAY = 100.0 * MILE  # common practice: what is driven in a day at the most; after as many the distance may be past


class OdometerReading(NamedTuple):
    """What the odometer showed, in m, and when; a reading without a day may be of any."""

    shown: float
    on: date | None


def comes_again(one: Item) -> bool:
    """Whether a task is due again after each time, by the list or by the person's own entries."""
    record = one.record
    own = record is not None and (record.every_distance is not None or record.every_months is not None)
    return own or (one.task is not None and one.task.every is not None and not one.task.every.once)


def on_the_road(opened: OpenProject) -> Task | None:
    """The record of the road test that let the truck onto the road."""
    return next((one for one in opened.project.tasks if one.id == ON_THE_ROAD and one.state == "done"), None)


def last_reading(opened: OpenProject) -> OdometerReading | None:
    """The odometer as it was read last; a reading without a day is the last where none shows more."""
    found = list(_readings(opened))
    dated = [one for one in found if one.on is not None]
    last = max(dated, key=lambda one: (one.on or date.min, one.shown), default=None)
    undated = max((one for one in found if one.on is None), key=lambda one: one.shown, default=None)
    return undated if last is None or (undated is not None and undated.shown > last.shown) else last


def _readings(opened: OpenProject) -> Iterator[OdometerReading]:
    vehicle = opened.project.vehicle
    if vehicle.odometer is not None:
        yield OdometerReading(float(vehicle.odometer.value), vehicle.odometer_on)
    for task in opened.project.tasks:
        records: list[Task | DoneBefore] = [task, *task.earlier]
        for one in records:
            if one.odometer is not None:
                yield OdometerReading(float(one.odometer.value), one.on)


def due(opened: OpenProject, one: Item, today: date) -> Due | None:
    """When a task is due next; None for one that does not come again, and before the truck is on the road."""
    record, every = one.record, one.task.every if one.task is not None else None
    ticked = record is not None and record.state == "done"
    if not (comes_again(one) or every is not None) or (every is not None and every.once and ticked):
        return None
    base = record if record is not None and ticked else on_the_road(opened)
    if base is None:
        return None
    written = every.distance if every is not None else ""
    written = (every.first if every is not None and not ticked else "") or written
    distance = read(written, LENGTH).value if written else None
    months = every.months if every is not None else None
    if record is not None and record.every_distance is not None:
        distance = float(record.every_distance.value)
    if record is not None and record.every_months is not None:
        months = record.every_months
    return _told(opened, base, distance, months, today)


def _told(opened: OpenProject, base: Task, distance: float | None, months: int | None, today: date) -> Due:
    past: list[str] = []
    lost: list[str] = []
    needs: list[str] = []
    told: list[str] = []
    day = None if months is None or base.on is None else months_after(base.on, months)
    at = None
    if base.on is None or base.on > today:
        lost.append(
            "when it was last done" if base.on is None else f"it was last done on {base.on}, which is in the future"
        )
        needs.append("tasks")
    elif day is not None:
        told.append(f"by {day}")
        past += [f"since {day}"] if today > day else []
    if distance is not None:
        now = last_reading(opened)
        at = None if base.odometer is None else float(base.odometer.value) + distance / odometer_factor(opened)
        if at is not None:
            told.append(f"at {shown(opened, at)}")
        if at is not None and now is not None and now.shown > at:
            past.append(f"by distance: the odometer shows {shown(opened, now.shown)}, and it was due {told[-1]}")
        elif lack := _unread(base, now, today, at):
            lost.append(lack)
            needs.append("vehicle.odometer")
    next_ = "due " + " or ".join(told) + (", whichever comes first" if len(told) > 1 else "") if told else ""
    if past:
        return Due("overdue", f"OVERDUE {' and '.join(past)}", day, at)
    if lost:
        says = f"whether it is due is not known: {'; '.join(lost)}"
        return Due("not known", f"{next_}; {says}" if next_ else says, day, at, tuple(needs))
    return Due("not yet", next_, day, at)


def _unread(base: Task, now: OdometerReading | None, today: date, at: float | None) -> str:
    """Why the odometer does not say that a distance is not past yet; empty where it does."""
    if now is None:
        return "no odometer reading is entered"
    if base.odometer is None or at is None:
        return "the odometer was not written down the last time"
    if now.shown < float(base.odometer.value):
        return "the odometer shows less than the last time: it rolled over, or was changed"
    if now.on is None:
        return "nobody says when the odometer was last read"
    if now.on > today:
        return f"the odometer was read on {now.on}, which is in the future"
    stale = today - now.on > STALE or (today - now.on).days * A_DAY > at - now.shown
    return f"the odometer was last read on {now.on}" if stale else ""


def together(late: Iterable[tuple[str, str]]) -> str:
    """What is overdue, in words; those that say the same stand together."""
    alike: dict[str, list[str]] = {}
    for id_, says in late:
        alike.setdefault(says, []).append(id_)
    return "; ".join(f"{', '.join(ids)}: {says}" for says, ids in alike.items())


def odometer_factor(opened: OpenProject) -> float:
    """By how much the road is longer than the odometer counts, at the most; never less than what it counts."""
    found = [1.0]
    for fitment in opened.planned:
        outcome = opened.sheet.outcome(opened.spot("odometer_factor", fitment=fitment))
        if isinstance(outcome, Known) and number(outcome.value) is not None:
            found.append(outcome.high)
    return max(found)


def months_after(day: date, months: int) -> date:
    """The same day so many months later, or the last of a month that has no such day."""
    years, month = divmod(day.month - 1 + months, 12)
    year = min(day.year + years, date.max.year)
    return date(year, month + 1, min(day.day, monthrange(year, month + 1)[1]))


def shown(opened: OpenProject, distance: float) -> str:
    """`12,345 mi`, or kilometers."""
    unit, name = (MILE, "mi") if opened.project.vehicle.units == "inch" else (KILOMETER, "km")
    return f"{distance / unit:,.0f} {name}"


def earlier_words(opened: OpenProject, record: Task | DoneBefore) -> str:
    """One time that it was done: `2026-05-01 at 11,200 mi: 135 ft·lb`."""
    at = f" at {shown(opened, float(record.odometer.value))}" if record.odometer is not None else ""
    said = "; ".join(text for text in (record.recorded, record.note, record.because, record.by) if text)
    return f"{record.on or 'no date'}{at}{f': {said}' if said else ''}"
