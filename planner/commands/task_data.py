"""The task list, one task, and the parts, as plain data."""

from collections.abc import Iterable
from typing import Any

from planner.plan.truck.project import OpenProject
from planner.plan.work.inspections import earlier_words
from planner.plan.work.item import Item
from planner.plan.work.money import CostRow, Money
from planner.plan.work.received_wheels import Piece
from planner.plan.work.received_words import advice
from planner.plan.work.task_list import Work
from planner.plan.work.task_values import range_text, recorded_stands
from planner.plan.work.task_words import torque


def item_data(opened: OpenProject, listed: Work, one: Item) -> dict[str, Any]:
    """One task as plain data."""
    times, record, task = listed.dates.ahead.times.get(one.id), one.record, one.task
    data: dict[str, Any] = {
        "id": one.id,
        "title": one.title,
        "phase": one.phase or None,
        "from": one.origin,
        "state": one.state,
        "hold": one.hold,
        "waits": list(one.waits),
        "held_by": list(one.holds),
        "stops": [flag.rule.name for flag in one.stops],
        "after": list(one.after),
        "hours": one.hours,
        "caution": one.caution or None,
        "how": one.how or None,
        "parts": [{"id": need.id, "state": need.part.state} for need in one.parts],
    }
    if one.undecided:
        data["decide_again"] = list(one.undecided)
    if one.once:
        data["measured_once"] = [each.key for each in one.once]
    if one.why:
        data["look_again"] = one.why
    if one.due is not None:
        data["due"] = {
            "answer": one.due.answer,
            "on": one.due.day and one.due.day.isoformat(),
            "odometer": one.due.at,
            "says": one.due.says,
        }
    if tight := torque(opened, one):
        data["torque"] = tight
    if task is not None and task.records is not None:
        data["records"] = {
            "label": task.records.label,
            "acceptable": range_text(opened, task.records, one.axle) or None,
        }
    if record is not None:
        data["record"] = {
            "on": record.on and record.on.isoformat(),
            "recorded": record.recorded,
            "stands": recorded_stands(opened, one) or None,
            "note": record.note,
            "because": record.because,
            "by": record.by,
            "photos": record.photos,
            "odometer": record.odometer and record.odometer.text,
            "earlier": [earlier_words(opened, each) for each in record.earlier],
        }
    if times is not None and not one.closed:
        data["schedule"] = {
            "slack_hours": times.slack,
            "critical": times.critical,
            "starts": times.starts and times.starts.isoformat(),
            "ends": times.ends and times.ends.isoformat(),
        }
    return data


def list_data(opened: OpenProject, listed: Work, items: Iterable[Item], told: Money) -> dict[str, Any]:
    """The list as plain data."""
    when = listed.dates
    return {
        "project": opened.project.vehicle.name,
        "today": listed.today.isoformat(),
        "finish": when.ahead.finish and when.ahead.finish.isoformat(),
        "finish_alone": when.ahead.alone and when.ahead.alone.isoformat(),
        "undated": when.undated or None,
        "critical": [id_ for id_ in when.ahead.critical],
        "tasks": [item_data(opened, listed, one) for one in items],
        "kept": [{"id": one.id, "state": one.record.state, "why": one.why} for one in listed.kept],
        "money": money_data(told),
    }


def money_data(told: Money, came: Iterable[Piece] = ()) -> dict[str, Any]:
    """Parts and sums as plain data; amounts are texts, so that no cent is lost."""
    data: dict[str, Any] = {
        "currency": told.currency or None,
        "wanted": str(told.promised),
        "spent": str(told.spent),
        "paid": None if told.paid is None else str(told.paid),
        "owed": None if told.owed is None else str(told.owed),
        "budget": None if told.budget is None else str(told.budget),
        "over": None if told.over is None or told.each else str(told.over),
        "parts": [_part_data(row) for row in told.rows],
    }
    if wheels := [_piece_data(piece) for piece in came]:
        data["wheels"] = wheels
    if told.each:
        data["with_each"] = {name: str(one.total) for name, one in told.each}
    return data


def _piece_data(piece: Piece) -> dict[str, Any]:
    return {
        "mark": piece.wheel.mark,
        "position": piece.wheel.position,
        "state": piece.wheel.state,
        "as_ordered": piece.as_ordered,
        "held": [one._asdict() for one in piece.held],
        "ends": [
            {
                "axle": end.axle,
                "side": end.side or None,
                "against": [flag.rule.name for flag in end.against],
                "standing": [flag.rule.name for flag in end.standing],
                "not_known": [flag.rule.name for flag in end.open],
            }
            for end in piece.places
        ],
        "does_at": list(piece.does_at),
        "advice": advice(piece),
    }


def _part_data(row: CostRow) -> dict[str, Any]:
    data: dict[str, Any] = {
        "id": row.id,
        "state": row.state,
        "quantity": row.quantity,
        "price": None if row.price is None else str(row.price),
        "counts": row.counts,
        "because": row.because or None,
        "order_by": row.order_by and row.order_by.isoformat(),
        "late": row.late,
    }
    if row.part is not None and row.part.quotes:
        data["quotes"] = [
            {
                "from": one.seller,
                "price": None if one.price is None else str(one.price),
                "lead_time": one.lead_time and one.lead_time.text,
                "taken": bool(one.taken),
            }
            for one in row.part.quotes
        ]
    if row.paid is not None:
        data["paid"], data["owed"] = str(row.paid), None if row.owed is None else str(row.owed)
    if row.coming is not None:
        finish = [day and day.isoformat() for day in row.coming.finish]
        data["coming"] = {
            "agreed": row.coming.agreed.isoformat(),
            "expected": row.coming.expected.isoformat(),
            "days_late": row.coming.days_late,
            "moves": [
                {"id": one.id, "was": one.was.isoformat(), "now": one.now.isoformat()} for one in row.coming.tasks
            ],
            "finish": dict(zip(("was", "now"), finish, strict=True)) if row.coming.days_late else None,
        }
    return data
