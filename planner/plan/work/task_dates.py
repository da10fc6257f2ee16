"""When the project's work can be done: dates, slack, the critical path, and by when each part must be ordered."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from typing import NamedTuple

from planner.plan.truck.project import OpenProject
from planner.plan.work.dependencies import all_before
from planner.plan.work.inspections import comes_again
from planner.plan.work.item import Item
from planner.plan.work.parts import OF_A_SET, NeededPart, lead_days, matching_parts, planned_parts, set_days, set_kinds
from planner.plan.work.record_changes import record_changes
from planner.plan.work.schedule import Delivery, Job, Schedule, schedule
from planner.plan.work.slips import PART, ExpectedPart, as_promised, expected_parts

WHOLE_SET = "set "  # before the name of a candidate whose own tires and wheels are no parts of the list


class TaskDates(NamedTuple):
    """`ahead` is what is left, from today or from the start if that is yet to come; `planned` the whole as planned.

    `order_by` is the last day to order each part, by its id, so that the whole is done when it was to be; of a
    candidate's own tires and wheels, where they are no parts of the list, by its key. `undated` says why there are no
    dates; `untimed` are tasks of the person's own without a time, counted as none; `coming` has the parts with a day
    to come by.
    """

    ahead: Schedule
    planned: Schedule
    order_by: Mapping[str, date]
    undated: str
    untimed: tuple[str, ...]
    coming: Mapping[str, ExpectedPart]


def task_dates(opened: OpenProject, items: "Mapping[str, Item]", today: date) -> TaskDates:
    """The dates of the list; raises `Unschedulable` where it cannot be put in order."""
    plan, items = opened.project.plan, _of_the_build(items)
    start, hours = plan.start or today, plan.hours_a_week
    parts = planned_parts(opened)
    deliveries = [*_deliveries(opened, parts, items), *_sets(opened, parts, items)]
    jobs = [Job(one.id, one.hours or 0.0, one.after, _is_done(one)) for one in items.values()]
    awaited = [
        one._replace(needed_by=tuple(id_ for id_ in one.needed_by if not _is_done(items[id_]))) for one in deliveries
    ]

    def left(coming: Sequence[Delivery]) -> Schedule:
        return schedule(jobs, coming, start=max(start, today), hours_a_week=hours)

    promised = as_promised(parts, awaited)
    ahead = left(promised)
    planned = schedule(
        [Job(one.id, one.hours or 0.0, one.after) for one in items.values()],
        [one._replace(ordered=None, arrived=one.arrived and not one.id.startswith(WHOLE_SET)) for one in deliveries],
        start=start,
        hours_a_week=hours,
    )
    wanted = {PART + need.id: need.id for need in parts if not need.ordered}
    wanted |= {
        one.id: f"fitments.{one.id.removeprefix(WHOLE_SET)}"
        for one in deliveries
        if one.id.startswith(WHOLE_SET) and one.ordered is None and not one.arrived
    }
    order_by = {wanted[id_]: day for id_, day in planned.order_by.items() if id_ in wanted}
    return TaskDates(
        ahead=ahead,
        planned=planned,
        order_by=order_by,
        undated="" if hours else "no dates: enter your hours a week (plan.hours_a_week)",
        untimed=tuple(one.id for one in items.values() if one.hours is None and not _is_done(one)),
        coming=expected_parts(opened, parts, promised, ahead, left, order_by, today),
    )


def _of_the_build(items: Mapping[str, Item]) -> dict[str, Item]:
    """The tasks without those that come again: they never end."""
    there = {id_: one for id_, one in items.items() if not comes_again(one)}
    return {id_: one._replace(after=tuple(name for name in one.after if name in there)) for id_, one in there.items()}


def _is_done(one: "Item") -> bool:
    return one.record is not None and (one.record.state == "done" or (one.record.state == "dropped" and not one.hold))


def _deliveries(opened: OpenProject, parts: Sequence[NeededPart], items: "Mapping[str, Item]") -> list[Delivery]:
    needed_by: dict[str, list[str]] = {}
    for one in items.values():
        for need in one.parts:
            needed_by.setdefault(need.id, []).append(one.id)
    return [
        Delivery(
            PART + need.id,
            lead_days(opened, need) or 0.0,
            tuple(needed_by[need.id]),
            _ordered_by(need, items, needed_by[need.id]),
            need.part.ordered if need.part.state == "ordered" else None,
            need.there,
        )
        for need in parts
        if need.id in needed_by
    ]


def _sets(opened: OpenProject, parts: Sequence[NeededPart], items: "Mapping[str, Item]") -> Iterator[Delivery]:
    """A candidate's own tires and wheels, as far as they are no parts of the list, by the candidate's lead time."""
    for name in opened.planned:
        days = set_days(opened, name)
        listed = {kind for need in parts for kind in set_kinds(opened, need, name)}
        missing = [kind for kind in OF_A_SET if kind not in listed]
        if not days or not missing:
            continue
        needed_by = tuple(one.id for one in items.values() if one.task and set(missing) & set(one.task.parts))
        orders = [one for one in items.values() if one.task and set(missing) & set(one.task.orders)]
        by = orders[0].id if orders and not all_before(orders[0].id, items) & set(needed_by) else ""
        ticked = _holds(opened, orders[0]) if orders else False
        came = any(_holds(opened, items[id_]) for id_ in needed_by)
        on = orders[0].record.on if ticked and orders[0].record is not None else None
        yield Delivery(WHOLE_SET + name, days, needed_by, by, on, came)


def _holds(opened: OpenProject, one: "Item") -> bool:
    """Whether a task is done for what is planned now: what its tick rested on has not moved."""
    return one.record is not None and one.record.state == "done" and not record_changes(opened, one.record)


def _ordered_by(need: NeededPart, items: "Mapping[str, Item]", needed_by: list[str]) -> str:
    """The task that orders a part; none where a task before that one needs the part already."""
    for one in items.values():
        if one.task and one.task.orders and matching_parts([need], one.task.orders):
            return "" if all_before(one.id, items) & set(needed_by) else one.id
    return ""
