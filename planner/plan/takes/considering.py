"""What it takes, noted in the project: a change to the truck that is considered, or a candidate of its own."""

import copy
from collections.abc import Mapping
from math import ceil
from typing import Any, cast

from planner.plan.takes.least_changes import LeastChange
from planner.plan.takes.sized_candidate import CUT_FOR_RIM, AskedFor
from planner.plan.takes.tried_truck import moved
from planner.plan.truck.project import OpenProject
from planner.plan.truck.recording import Recording, RefusedChange
from planner.plan.work.decisions import begin_candidate
from planner.project.change_checks import PLANNED, change_title
from planner.project.change_kinds import kind_called
from planner.project.faults import as_key
from planner.project.lines import Key
from planner.project.models.measurements import Obstacle
from planner.quantities.kinds import DISTANCE
from planner.quantities.quantity import Quantity
from planner.quantities.show import Style, show_plain
from planner.quantities.text import clean
from planner.trade.tire.designation import INCH, MILLIMETRE

OF_THE_SIZE = ("overall_diameter", "section_width")

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
        raise RefusedChange(
            f"{asked.size} is no candidate yet: start one with --as NAME, then consider a change with it"
        )
    if not lever.kind:
        raise RefusedChange(f"'{says}' isn't a change to the truck but another candidate: --as NAME starts it")
    sets = {one.key: show_plain(one.at(change.amount), one.kind, style) for one in lever.entries}
    if lever.kind == "lift":
        sets[f"axles.{lever.end}.lift"] = show_plain(change.amount, DISTANCE.smallest(), style)
    elif lever.obstacles:
        sets |= _moved_obstacle(opened, change)
    for name in KEPT.get(lever.kind, ()):
        key = f"axles.{lever.end}.{name}"
        if opened.spot_at(key) is not None:
            sets[key] = opened.text_of(key)
    fields: dict[str, object] = {
        "name": lever.named(change.amount, style),
        "kind": lever.kind,
        "state": "considered",
        "with": [asked.fitment],
    }
    fields |= {"because": because} if because else {}
    details = {"caution": kind_called(lever.kind).caution}
    at = len(opened.project.changes)
    told = f"considered: {says}{_same_entry(opened, asked.fitment, sets)}"
    return Recording({("changes", at): {**fields, "sets": sets}}, "change", told, because, details)


def _same_entry(opened: OpenProject, fitment: str, sets: Mapping[str, object]) -> str:
    """What stands in the way of deciding it: a change that is decided or done and sets one of its entries."""
    there = {number: opened.project.changes[number] for number in opened.changes_of(fitment)}
    others = [
        f"'{clean(change_title(number, one))}'"
        for number, one in there.items()
        if one.state in PLANNED and sets.keys() & one.sets.keys()
    ]
    return f"; {' and '.join(others)} sets the same: before you decide this one, take that one back" if others else ""


def started(opened: OpenProject, asked: AskedFor, change: LeastChange | None, name: str) -> Recording:
    """A candidate with the size that was asked for, or with what a change makes of its wheel or gears.

    The changes that go with the one that it is like go with it too. Raises `RefusedChange` for what is no candidate.
    """
    like, style = asked.like or asked.fitment, opened.style
    entry = change.lever.entries[0] if change is not None and change.lever.entries else None
    if change is not None and (change.lever.kind or entry is None):
        raise RefusedChange(f"'{change.lever.says(change.amount, style)}' is a change to the truck: leave out --as")
    if entry is not None and entry.key in OF_THE_SIZE:
        raise RefusedChange("another tire is another size: ask what that one takes, and start a candidate with it")
    if entry is None and not asked.size:
        raise RefusedChange(f"{asked.fitment} is a candidate already")
    says = asked.size or like
    if change is not None:
        says += f", {change.lever.named(change.amount, style)}"
    begun = begin_candidate(opened, name, says, like)
    fields = copy.deepcopy(dict(cast(dict[str, Any], begun.changes["fitments", name])))
    if asked.size:
        _put_size(fields, asked)
    if entry is not None and change is not None:
        ends = ("front", "rear") if len(entry.spots) == 1 else ("",)
        end = next((one for one in ends if one in entry.spots[0].place), "")
        table = fields.setdefault(end, {}) if end else fields
        table = table if entry.key == "axle_ratio" else table.setdefault("wheel", {})
        table[entry.key] = show_plain(entry.at(change.amount), entry.kind, style)
    also: dict[Key, object] = {
        ("changes", at, "with"): [*one.with_fitments, name]
        for at, one in enumerate(opened.project.changes)
        if like in one.with_fitments
    }
    return begun._replace(changes={("fitments", name): fields, **also})


def _put_size(fields: dict[str, Any], asked: AskedFor) -> None:
    """The size in place of the tire, at both ends; what is told of another tire, or cut for another rim, goes."""
    fields["tire"] = {"designation": asked.size}
    whole = asked.opened.project.fitments[asked.fitment]
    for told in ("price", "lead_time"):
        fields.pop(told, None)
    for table, end in ((fields, whole), (fields.get("front", {}), whole.front), (fields.get("rear", {}), whole.rear)):
        if table is not fields:
            table.pop("tire", None)
        code, wheel = end.wheel.rim_diameter, table.get("wheel", {})
        if code is not None and not code.text:  # another than it was
            for cut in CUT_FOR_RIM:
                wheel.pop(cut, None)
            wheel["rim_diameter"] = f"{code.value:g}"


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
