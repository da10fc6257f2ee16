"""One of the changes that it takes, noted in the project as a change that is considered."""

from math import ceil
from typing import Any

from planner.plan.takes.least_changes import LeastChange
from planner.plan.takes.sized_candidate import AskedFor
from planner.plan.takes.tried_truck import moved
from planner.plan.truck.project import OpenProject
from planner.plan.truck.recording import Recording, RefusedChange
from planner.project.change_kinds import kind_called
from planner.project.faults import as_key
from planner.project.models.measurements import Obstacle
from planner.quantities.kinds import DISTANCE
from planner.quantities.quantity import Quantity
from planner.quantities.show import Style, show_plain
from planner.trade.tire.designation import INCH, MILLIMETRE

# What a change of its kind leaves open and a builder keeps as it was: entered so, it is said and not assumed.
KEPT = {
    "bump stop": ("travel.bump_gives", "travel.stops_apart"),
    "lift": ("travel.bump", "travel.droop", "travel.most_cross_travel", "travel.side_shift", "kingpin.caster"),
}


def considered(opened: OpenProject, asked: AskedFor, change: LeastChange, because: str) -> Recording:
    """The change as it is written down; raises `RefusedChange` for what is no change of the truck."""
    lever, style = change.lever, opened.style
    says = lever.says(change.amount, style)
    if asked.size:
        raise RefusedChange(f"{asked.size} is no candidate yet: enter it as one first, then consider a change with it")
    if not lever.kind:
        raise RefusedChange(f"'{says}' is no change to the truck: enter it under the candidate {asked.fitment}")
    sets = {one.key: show_plain(one.at(change.amount), one.kind, style) for one in lever.entries}
    if lever.kind == "lift":
        sets[f"axles.{lever.end}.lift"] = show_plain(change.amount, DISTANCE.smallest(), style)
    elif lever.obstacles:
        sets |= _moved_obstacle(opened, change)
    for name in KEPT.get(lever.kind, ()):
        key = f"axles.{lever.end}.{name}"
        if opened.spot_at(key) is not None:
            sets[key] = opened.text_of(key)
    fields: dict[str, object] = {"name": says, "kind": lever.kind, "state": "considered", "with": [asked.fitment]}
    fields |= {"because": because} if because else {}
    details = {"caution": kind_called(lever.kind).caution}
    at = len(opened.project.changes)
    return Recording({("changes", at): {**fields, "sets": sets}}, "change", f"considered: {says}", because, details)


def _moved_obstacle(opened: OpenProject, change: LeastChange) -> dict[str, Any]:
    """Where the obstacle is then, each end with the tolerance that it was read with."""
    (name, direction), *_ = change.lever.obstacles
    thousandth = INCH / 1000 if opened.style.system == "inch" else MILLIMETRE / 10
    amount = ceil(change.amount / thousandth - 1e-9) * thousandth
    one: Obstacle = opened.obstacles[name].measured
    there = moved(one, (direction[0] * amount, direction[1] * amount, direction[2] * amount))
    return {
        as_key(("obstacles", name, end)): [_plain(axis, opened.style) for axis in point]
        for end, point in (("at", there.at), ("to", there.to))
        if point is not None
    }


def _plain(axis: Quantity, style: Style) -> str:
    """A place with its tolerance, as it was read or moved by full thousandths."""
    unit, of_si = ("in", INCH) if style.system == "inch" else ("mm", MILLIMETRE)
    value, tolerance = (f"{round(one / of_si, 4):g} {unit}" for one in (axis.value, axis.tolerance))
    return f"{value} ± {tolerance}" if axis.tolerance else value
