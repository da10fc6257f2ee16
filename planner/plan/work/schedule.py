"""When the work can be done: earliest and latest times, slack, the critical path, calendar dates, order-by dates."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date, timedelta
from graphlib import CycleError, TopologicalSorter
from heapq import heappop, heappush
from math import ceil, floor
from typing import NamedTuple

from planner.plan.work.schedule_error import CircularWaits, NoSuchJob, TwiceNamed

DUST = 1e-9  # of an hour or a day: what float sums leave over

FARTHEST = 36_500  # days: a schedule that runs longer than a century has no dates worth giving


def hours_to(start: date, day: date, rate: float) -> float:
    """Working hours from the start to the beginning of a day; less than nothing for a day before it."""
    return (day - start).days * rate


def day_after(start: date, days: int) -> date | None:
    try:
        return start + timedelta(days) if abs(days) <= FARTHEST else None
    except OverflowError:
        return None


def first_day(start: date, hours: float, rate: float) -> date | None:
    """The day on which work at this hour begins."""
    return day_after(start, floor(hours / rate + DUST))


def last_day(start: date, hours: float, rate: float, begun: float = 0.0) -> date | None:
    """The day on which the last of these hours is worked, not before the one on which it was begun."""
    return day_after(start, max(ceil(hours / rate - DUST) - 1, floor(begun / rate + DUST)))


def arrival(start: date, hours: float, rate: float) -> date | None:
    """The first day that a delivery is there for the whole of."""
    return day_after(start, ceil(hours / rate - DUST))


class Job(NamedTuple):
    """Something to do, and the jobs that it waits on; one that is done takes no more time and waits on nothing."""

    id: str
    hours: float
    after: tuple[str, ...] = ()
    done: bool = False


class Delivery(NamedTuple):
    """Something that is waited for by the calendar: `days` from order to arrival, and the jobs that need it.

    `by` is the job that orders it, if one does; `ordered` when it was, after which no job stands before it.
    """

    id: str
    days: float
    needed_by: tuple[str, ...] = ()
    by: str = ""
    ordered: date | None = None
    arrived: bool = False


class Times(NamedTuple):
    """Working hours from the start; `starts` and `ends` are the first and the last day of it at the earliest.

    `starts_by` is the first day at the latest, without moving the end of the whole.
    """

    earliest_start: float
    earliest_finish: float
    latest_start: float
    critical: bool
    starts: date | None = None
    ends: date | None = None
    starts_by: date | None = None

    @property
    def slack(self) -> float:
        """Hours by which it can be late and nothing else is."""
        return self.latest_start - self.earliest_start


class Schedule(NamedTuple):
    """All times by the id of the job or delivery; `critical` is the longest chain, first to last.

    `order_by` is the last day to order each delivery that has not been ordered.
    """

    times: Mapping[str, Times]
    critical: tuple[str, ...]
    hours: float
    finish: date | None
    alone_hours: float
    alone: date | None
    order_by: Mapping[str, date]


class _Step(NamedTuple):
    """A job or a delivery in hours of the one clock; `release` is before when it cannot begin."""

    id: str
    hours: float
    release: float
    after: tuple[str, ...]
    works: bool


def schedule(
    jobs: Sequence[Job],
    deliveries: Sequence[Delivery] = (),
    *,
    start: date | None = None,
    hours_a_week: float | None = None,
) -> Schedule:
    """Work out all times; raises `CircularWaits`, `NoSuchJob` or `TwiceNamed`.

    Without `start` there are no dates, and without `hours_a_week` neither dates nor waits for deliveries.
    """
    rate = (hours_a_week or 0.0) / 7
    steps = _steps(jobs, deliveries, rate, start)
    order = _order(steps)
    early, binding = _forward(steps, order)
    total = max((early[id_] + steps[id_].hours for id_ in order), default=0.0)
    begins = start if rate > 0 else None  # without it there are no dates
    late = _backward(steps, order, total)
    last = next((id_ for id_ in order if early[id_] + steps[id_].hours >= total), None)
    chain: list[str] = []
    while last is not None:
        chain.append(last)
        last = binding[last]
    times = {id_: _times(step, early[id_], late[id_], begins, rate) for id_, step in steps.items()}
    alone = _alone(steps, order, late)
    return Schedule(
        times=times,
        critical=tuple(reversed(chain)),
        hours=total,
        finish=last_day(begins, total, rate) if begins else None,
        alone_hours=alone,
        alone=last_day(begins, alone, rate) if begins else None,
        order_by={
            one.id: by
            for one in deliveries
            if not one.ordered and not one.arrived and (by := times[one.id].starts_by) is not None
        },
    )


def _steps(jobs: Sequence[Job], deliveries: Sequence[Delivery], rate: float, start: date | None) -> dict[str, _Step]:
    needs: dict[str, list[str]] = {}
    for one in deliveries:
        for name in one.needed_by:
            needs.setdefault(name, []).append(one.id)
    steps: dict[str, _Step] = {}
    for job in jobs:
        after = () if job.done else tuple(dict.fromkeys((*job.after, *needs.get(job.id, ()))))
        _put(steps, _Step(job.id, 0.0 if job.done else job.hours, 0.0, after, works=True))
    for one in deliveries:
        _put(steps, _delivery(one, rate, start))
        for name in one.needed_by:
            if name not in steps:
                raise NoSuchJob(one.id, name)
    for step in steps.values():
        for earlier in step.after:
            if earlier not in steps:
                raise NoSuchJob(step.id, earlier)
    return steps


def _put(steps: dict[str, _Step], step: _Step) -> None:
    if step.id in steps:
        raise TwiceNamed(step.id)
    steps[step.id] = step


def _delivery(one: Delivery, rate: float, start: date | None) -> _Step:
    if one.arrived:
        return _Step(one.id, 0.0, 0.0, (), works=False)
    wait = one.days * rate
    if one.ordered and start:
        # Ordered before the start, part of the wait is behind us; ordered after it, the clock begins on that day.
        behind = hours_to(start, one.ordered, rate)
        return _Step(one.id, max(0.0, wait + min(behind, 0.0)), max(behind, 0.0), (), works=False)
    return _Step(one.id, wait, 0.0, (one.by,) if one.by and not one.ordered else (), works=False)


def _sorter(steps: Mapping[str, _Step]) -> TopologicalSorter[str]:
    """What goes through the steps, each after all that it waits on; what can go first goes first, as given."""
    sorter = TopologicalSorter[str](dict.fromkeys(steps, ()))
    for id_, step in steps.items():
        sorter.add(id_, *step.after)
    return sorter


def _order(steps: Mapping[str, _Step]) -> list[str]:
    """Each after all that it waits on."""
    try:
        return list(_sorter(steps).static_order())
    except CycleError as found:
        circle = found.args[1][:0:-1]  # it begins and ends with the same, each after the one that waits on it
        first = circle.index(next(id_ for id_ in steps if id_ in circle))
        raise CircularWaits(circle[first:] + circle[:first]) from None


def _forward(steps: Mapping[str, _Step], order: Iterable[str]) -> tuple[dict[str, float], dict[str, str | None]]:
    """The earliest starts, and by which wait each is held."""
    early: dict[str, float] = {}
    binding: dict[str, str | None] = {}
    for id_ in order:
        step, at, holds = steps[id_], steps[id_].release, None
        for earlier in step.after:
            done = early[earlier] + steps[earlier].hours
            if done > at or (holds is None and done == at):
                at, holds = done, earlier
        early[id_], binding[id_] = at, holds
    return early, binding


def _backward(steps: Mapping[str, _Step], order: Sequence[str], end: float) -> dict[str, float]:
    """The latest starts that keep the end."""
    finish = dict.fromkeys(order, end)
    late: dict[str, float] = {}
    for id_ in reversed(order):
        late[id_] = finish[id_] - steps[id_].hours
        for earlier in steps[id_].after:
            finish[earlier] = min(finish[earlier], late[id_])
    return late


def _alone(steps: Mapping[str, _Step], order: Sequence[str], late: Mapping[str, float]) -> float:
    """When one pair of hands is done that never rests while there is something to do, the most pressing first.

    To begin with what can be begun, whenever nothing else is under way, is the soonest that one person can end.
    """
    place = {id_: at for at, id_ in enumerate(order)}
    sorter, ended = _sorter(steps), dict[str, float]()
    coming: list[tuple[float, int]] = []  # cannot begin before a time
    ready: list[tuple[float, int]] = []  # can begin now
    now = end = 0.0

    def begin() -> None:
        for id_ in sorter.get_ready():
            free = max((steps[id_].release, *(ended[earlier] for earlier in steps[id_].after)))
            heappush(coming, (free, place[id_]))

    def finished(id_: str, at: float) -> None:
        ended[id_] = at
        sorter.done(id_)
        begin()

    sorter.prepare()
    begin()
    while coming or ready:
        if not ready and coming[0][0] > now:
            now = coming[0][0]
        while coming and coming[0][0] <= now:
            at, index = heappop(coming)
            step = steps[order[index]]
            if step.works:
                heappush(ready, (late[step.id], index))
            else:  # a delivery is on its way while other work goes on
                finished(step.id, at + step.hours)
                end = max(end, at + step.hours)
        if ready:
            _, index = heappop(ready)
            now += steps[order[index]].hours
            end = max(end, now)
            finished(order[index], now)
    return end


def _times(step: _Step, early: float, late: float, start: date | None, rate: float) -> Times:
    done = early + step.hours
    critical = late - early <= DUST * max(1.0, abs(late))
    if start is None:
        return Times(early, done, late, critical)
    return Times(
        early,
        done,
        late,
        critical,
        first_day(start, early, rate),
        arrival(start, done, rate) if not step.works else last_day(start, done, rate, early),
        first_day(start, late, rate),
    )
