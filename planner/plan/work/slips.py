"""Parts that are on their way: the day that each is to come, and what slips when one comes later, by name."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import date, timedelta
from typing import NamedTuple

from planner.plan.truck.project import OpenProject
from planner.plan.truck.wording import count
from planner.plan.work.parts import NeededPart, lead_days
from planner.plan.work.schedule import Delivery, Schedule
from planner.quantities.text import clean

PART = "part "  # before a part's id in a schedule, so that it is none of the tasks'

FEW = 3  # tasks that are named in a sentence


class MovedTask(NamedTuple):
    """A task that begins later than it would."""

    id: str
    was: date
    now: date


class ExpectedPart(NamedTuple):
    """A part that has not come: the day it was to come by its order, and the one it can be expected on at the earliest.

    `tasks` begin later by it, in the order of the list, and `finish` is the day on which the work ends without and with
    that.
    """

    agreed: date
    expected: date
    tasks: tuple[MovedTask, ...] = ()
    finish: tuple[date | None, date | None] = (None, None)

    @property
    def days_late(self) -> int:
        return max(0, (self.expected - self.agreed).days)


def as_promised(parts: Sequence[NeededPart], deliveries: Sequence[Delivery]) -> list[Delivery]:
    """The deliveries, each ordered part on the day for which it was promised."""
    days = {PART + need.id: need.part.promised for need in parts if need.part.state == "ordered"}
    return [_on(one, day) if (day := days.get(one.id)) else one for one in deliveries]


def expected_parts(
    opened: OpenProject,
    parts: Sequence[NeededPart],
    deliveries: Sequence[Delivery],
    ahead: Schedule,
    left: Callable[[Sequence[Delivery]], Schedule],
    order_by: Mapping[str, date],
    today: date,
) -> dict[str, ExpectedPart]:
    """Every part with a day to come by that is not here, by its id; `left` schedules what is left by deliveries."""
    found = {}
    for need in parts:
        days = _days(need, lead_days(opened, need), order_by.get(need.id), today)
        if days is None:
            continue
        agreed, expected = days
        one = ExpectedPart(agreed, expected)
        if one.days_late:
            in_time = left([_on(each, agreed) if each.id == PART + need.id else each for each in deliveries])
            one = one._replace(tasks=tuple(_moved(in_time, ahead)), finish=(in_time.finish, ahead.finish))
        found[need.id] = one
    return found


def _on(one: Delivery, day: date) -> Delivery:
    """A delivery that comes on a day, whenever it was ordered."""
    return one._replace(days=0.0, ordered=day, by="")


def _days(need: NeededPart, lead: float | None, order_by: date | None, today: date) -> tuple[date, date] | None:
    """The day that a part was to come, and the earliest that it can; None where nothing says either."""
    part, after = need.part, timedelta(lead or 0.0)
    try:
        if part.state == "ordered":
            by_order = part.ordered + after if part.ordered is not None and lead is not None else None
            agreed = by_order or part.promised
            return None if agreed is None else (agreed, max(part.promised or agreed, today))
        if part.state == "wanted" and order_by is not None and order_by < today:
            return order_by + after, today + after
    except OverflowError:
        pass  # a lead time of more than ten thousand years
    return None


def _moved(was: Schedule, now: Schedule) -> Iterator[MovedTask]:
    for id_, times in now.times.items():
        before = was.times[id_].starts
        if not id_.startswith(PART) and before is not None and times.starts is not None and before < times.starts:
            yield MovedTask(id_, before, times.starts)


def late_words(one: ExpectedPart) -> str:
    """What slips by a part that comes late, in one sentence each."""
    told = [f"{clean(each.id)} starts {each.now}, not {each.was}" for each in one.tasks[:FEW]]
    told += [f"{count(len(one.tasks) - FEW, 'task')} more start later"] if len(one.tasks) > FEW else []
    was, now = one.finish
    if now is None:
        ends = "there is no date for the end of the work" if was is None else "the work ends too far out for a date"
        return "; ".join([*told, ends])
    if was is not None:
        told.append(f"the work ends {now}, not {was}" if was < now else f"the work still ends {now}")
    return "; ".join(told) if one.tasks else "no task starts later because of it"
