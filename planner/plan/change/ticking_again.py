"""Ticking what comes again: the time before is kept, and the odometer is written down."""

import datetime
from collections.abc import Mapping

from planner.plan.truck.project import OpenProject
from planner.plan.truck.recording import Recording, RefusedChange
from planner.plan.work.inspections import last_reading, shown
from planner.plan.work.item import Item
from planner.project.changes import DELETE
from planner.project.lines import Key
from planner.quantities.grammar import read
from planner.quantities.kinds import LENGTH
from planner.quantities.quantity import Quantity
from planner.quantities.text import clean
from planner.quantities.unreadable import Unreadable

KEPT = ("on", "odometer", "recorded", "note", "because", "by")


def odometer_read(opened: OpenProject, one: Item, written: str, on: datetime.date) -> Quantity | None:
    """What the odometer showed at a tick; where nothing was written, what was read that day, if it counts for it."""
    vehicle = opened.project.vehicle
    if written.strip():
        return a_distance(opened, written)
    return vehicle.odometer if odometer_counts(one) and vehicle.odometer_on == on else None


def odometer_counts(one: Item) -> bool:
    """Whether a task is told from by distance: the truck is on the road with it."""
    return one.due is not None or (one.task is not None and one.phase in ("road test", "check again"))


def a_distance(opened: OpenProject, written: str, what: str = "odometer") -> Quantity:
    """What was written; a number alone is in miles, or kilometers for who thinks in them: never in feet."""
    text = written.strip()
    if text.replace(",", "").replace(".", "", 1).isdigit():
        text += " mi" if opened.project.vehicle.units == "inch" else " km"
    try:
        return read(text, LENGTH)
    except Unreadable:
        raise RefusedChange(f"{what}: read '{clean(written)}'; accepted: a distance, such as 12,345 mi") from None


def odometer_entry(opened: OpenProject, shows: Quantity, on: datetime.date) -> dict[Key, object]:
    """The changes that enter the odometer as it was read, where nothing later is there."""
    last = last_reading(opened)
    if last is not None and last.on is not None and last.on > on:
        return {}
    return {("vehicle", "odometer"): shows.text, ("vehicle", "odometer_on"): on}


def enter_odometer(opened: OpenProject, written: str, on: datetime.date) -> Recording:
    """What the odometer shows today, entered."""
    shows = a_distance(opened, written)
    last = last_reading(opened)
    says = f"the odometer shows {clean(shows.text)}"
    if last is not None and float(shows.value) < last.shown:
        says += f", less than {shown(opened, last.shown)} before: nothing is known by distance until each is done again"
    return Recording({("vehicle", "odometer"): shows.text, ("vehicle", "odometer_on"): on}, "odometer", says)


def before_it(one: Item, fields: Mapping[str, object]) -> dict[Key, object]:
    """The changes that keep the last time under the ones before it, and leave nothing of it with this one."""
    if one.due is None or one.at is None or one.record is None or one.record.state != "done":
        return {}
    record = one.record
    told = {name: getattr(record, name) for name in KEPT if getattr(record, name) is not None}
    told |= {"odometer": record.odometer.text} if record.odometer is not None else {}
    changes: dict[Key, object] = {("tasks", one.at, "earlier", len(record.earlier)): told}
    gone = (name for name in KEPT if name in told and fields.get(name) is None)
    return changes | {("tasks", one.at, name): DELETE for name in gone}
