"""When the project's work can be done: dates, slack, the critical path, and by when each part must be ordered."""

from collections.abc import Mapping
from datetime import date
from typing import NamedTuple

from planner.plan.truck.project import OpenProject
from planner.plan.work.item import Item
from planner.plan.work.parts import NeededPart, lead_days, matching_parts, planned_parts
from planner.plan.work.schedule import Delivery, Job, Schedule, schedule

PART = "part "  # before a part's id in a schedule, so that it is none of the tasks'


class TaskDates(NamedTuple):
    """`ahead` is what is left, from today or from the start if that is yet to come; `planned` the whole as planned.

    `order_by` is the last day to order each part, by its id, so that the whole is done when it was to be. `undated`
    says why there are no dates; `untimed` are tasks of the person's own without a time, counted as none.
    """

    ahead: Schedule
    planned: Schedule
    order_by: Mapping[str, date]
    undated: str
    untimed: tuple[str, ...]


def task_dates(opened: OpenProject, items: "Mapping[str, Item]", today: date) -> TaskDates:
    """The dates of the list; raises `Unschedulable` where it cannot be put in order."""
    plan = opened.project.plan
    start, hours = plan.start or today, plan.hours_a_week
    deliveries = _deliveries(opened, items)
    ahead = schedule(
        [Job(one.id, one.hours or 0.0, one.after, _is_done(one)) for one in items.values()],
        [one._replace(needed_by=tuple(id_ for id_ in one.needed_by if not _is_done(items[id_]))) for one in deliveries],
        start=max(start, today),
        hours_a_week=hours,
    )
    planned = schedule(
        [Job(one.id, one.hours or 0.0, one.after) for one in items.values()],
        [one._replace(ordered=None) for one in deliveries],
        start=start,
        hours_a_week=hours,
    )
    not_ordered = {PART + need.id: need.id for need in planned_parts(opened) if not need.ordered}
    return TaskDates(
        ahead=ahead,
        planned=planned,
        order_by={not_ordered[id_]: day for id_, day in planned.order_by.items() if id_ in not_ordered},
        undated="" if hours else "no dates: enter the hours that you have a week (plan.hours_a_week)",
        untimed=tuple(one.id for one in items.values() if one.hours is None and not _is_done(one)),
    )


def _is_done(one: "Item") -> bool:
    return one.record is not None and (one.record.state == "done" or (one.record.state == "dropped" and not one.hold))


def _deliveries(opened: OpenProject, items: "Mapping[str, Item]") -> list[Delivery]:
    needed_by: dict[str, list[str]] = {}
    for one in items.values():
        for need in one.parts:
            needed_by.setdefault(need.id, []).append(one.id)
    return [
        Delivery(
            PART + need.id,
            lead_days(opened, need.part) or 0.0,
            tuple(needed_by[need.id]),
            _ordered_by(need, items, needed_by[need.id]),
            need.part.ordered if need.part.state == "ordered" else None,
            need.there,
        )
        for need in planned_parts(opened)
        if need.id in needed_by
    ]


def _ordered_by(need: NeededPart, items: "Mapping[str, Item]", needed_by: list[str]) -> str:
    """The task that orders a part; none where a task before that one needs the part already."""
    for one in items.values():
        if one.task and one.task.orders and matching_parts([need], one.task.orders):
            return "" if _before(one.id, items) & set(needed_by) else one.id
    return ""


def _before(id_: str, items: "Mapping[str, Item]") -> set[str]:
    found: set[str] = set()
    ahead = [id_]
    while ahead:
        for earlier in items[ahead.pop()].after:
            if earlier not in found:
                found.add(earlier)
                ahead.append(earlier)
    return found
