"""One obstacle past one wheel: its least clearance with both ends, from where on it is too near, and on which roads.

What a tolerance does to a clearance. The low end is a sweep of its own: the tire as large and wide as its tolerances
let it be, at either end of its offset, everywhere that a truck within the readings may steer and travel, with all that
the kingpin's and the axle's readings leave in doubt and the obstacle's whole tolerance taken off. The high end is the
distance at one place to which every truck within the readings comes, with everything at its kindest: the least
clearance can never be more than the distance at one place.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from functools import lru_cache
from itertools import product
from math import hypot, radians
from typing import NamedTuple

from planner.plan.fit.swept_motion import SPACINGS
from planner.plan.fit.swept_wheel import SweptWheel, TireEnds, filled, kingpin_doubts
from planner.trade.fit.limits import most_roll, roll_limit, steer_limit
from planner.trade.fit.motion import Ends, Motion, SweepPlace, SweptObstacle
from planner.trade.fit.section import TireSection, nearest
from planner.trade.fit.sweep import BOUND, Clearance, least_clearance, proven_clearance
from planner.trade.fit.swing import wheel_point
from planner.trade.fit.trace import doubt_of, trace
from planner.worksheet.outcome import Known

WORST_BOUND = 5e-4  # m; the worst case is proven to this, on the safe side
KIND_BOUND = 2e-3  # m; any place will do for the high end, and one near the worst does well
ONSET_STEP = radians(0.5)  # an onset is told in whole degrees, and never later than it is
CLOSE = 0.05  # of the margin; a clearance that is far from what is wanted need not be proven closer


class ClearanceEnds(NamedTuple):
    """The least clearance in the middle of the tolerances, and what it comes to at their worst and at their kindest."""

    found: Clearance
    low: float
    high: float


class Onset(NamedTuple):
    """From where on an obstacle comes too near, at the worst of the tolerances.

    `cross` is how far one wheel stands over the other then, at whatever steer; `steer` how far the wheel is turned, at
    whatever the axle does. Nothing where it is too near straight ahead on a level axle, None where only both together
    do it, or it does not steer or ride with the body.
    """

    cross: float | None
    steer: float | None


@lru_cache(maxsize=2048)
def _nominal(motion: Motion, section: TireSection, one: SweptObstacle) -> Clearance:
    return least_clearance(trace(motion, one), section, BOUND, wanted=one.required, close=CLOSE)


@lru_cache(maxsize=2048)
def _sure(wide: Motion, large: TireSection, offsets: Ends, one: SweptObstacle) -> float:
    """What is sure at the worst of the tire's and the travel's tolerances.

    The tires at all offsets from one end of its tolerance to the other together fill a section of the same shape,
    wider by the stretch between the two. What is proven there is sure however coarse the bound.
    """
    path = trace(wide, one)
    return proven_clearance(path, filled(large, offsets), WORST_BOUND, wanted=one.keep, close=CLOSE) - one.reach


@lru_cache(maxsize=2048)
def _kindest(
    kind: Motion, wide: Motion, small: TireSection, offsets: Ends, one: SweptObstacle, slack: tuple[float, float, float]
) -> float:
    """The most that the least clearance can be: at one place to which every truck comes, with all at its kindest."""
    middle = replace(small, offset=(offsets[0] + offsets[1]) / 2.0)
    place = least_clearance(trace(kind, one), middle, KIND_BOUND, wanted=one.required, close=CLOSE).place
    x, y, z = point = wheel_point(kind, one, place)
    most = doubt_of(wide, one, (place.steer, 0.0, place.roll(kind), place.along), point)
    # The distance to a convex solid is greatest at a corner of the box in which the point may be.
    turned = _turned_box(kind, one, place, slack)
    farthest = max(
        nearest(replace(small, offset=offset), y + dy, hypot(x + dx, z + dz)).distance
        for offset in offsets
        for dx, dy, dz in turned
    )
    return farthest + most


def _turned_box(
    motion: Motion, one: SweptObstacle, place: SweepPlace, slack: tuple[float, float, float]
) -> list[tuple[float, float, float]]:
    """The corners of the box of an obstacle's tolerance, from its middle, as the wheel sees them."""
    if not any(slack):
        return [(0.0, 0.0, 0.0)]
    x, y, z = wheel_point(motion, one, place)
    found = []
    for signs in product((-1.0, 1.0), repeat=3):
        bx, by, bz = (sign * value for sign, value in zip(signs, slack, strict=True))
        start, end = ((a + bx, b + by, c + bz) for a, b, c in (one.start, one.end or one.start))
        moved = replace(one, start=start, end=end if one.end else None)
        u, v, w = wheel_point(motion, moved, place)
        found.append((u - x, v - y, w - z))
    return found


def clearance(here: SweptWheel, one: SweptObstacle) -> ClearanceEnds:
    """One obstacle's least clearance with its low and high end."""
    offset, shift = here.readings["offset"], here.readings["side_shift"]
    offsets = (offset.low, offset.high)
    found = _nominal(here.motion, here.section, _bare(one))
    x, y, z = one.tolerance
    sideways, slack = 0.0, (x, y, z)
    if one.rides == "body":
        # An axle that moves sideways as it rolls comes by so much nearer, in the middle of its tolerance too.
        rolled, most = abs(found.place.roll(here.motion)), most_roll(here.motion)
        sideways = max(0.0, shift.value) * (rolled / most if most > 0.0 else 0.0) * abs(found.normal[1])
    middle = found.distance - sideways
    low = _sure(here.wide, here.large, offsets, one)
    high = _kindest(here.kind, here.wide, here.small, offsets, _bare(one), slack)
    taken = sum(abs(n) * by for n, by in zip(found.normal, one.tolerance, strict=True))
    found = found._replace(obstacle=one, distance=middle, proven=found.proven - sideways, taken=taken, tire=here.tire)
    return ClearanceEnds(found, min(low, middle), max(high, middle))


def _bare(one: SweptObstacle) -> SweptObstacle:
    return replace(one, tolerance=(0.0, 0.0, 0.0))


def on_road(here: SweptWheel, road_cross: Known) -> SweptWheel:
    """The wheel on an axle that rolls no more than a road asks."""

    def held(motion: Motion, cross: float, width: float) -> Motion:
        return replace(motion, most_roll=min(motion.most_roll, max(0.0, cross) / width))

    width = here.readings["face_to_face"]
    return here._replace(
        motion=held(here.motion, float(road_cross.value), width.value),
        wide=held(here.wide, road_cross.high, width.low),
        kind=held(here.kind, road_cross.low, width.high),
    )


def spacing_measured(here: SweptWheel) -> SweptWheel:
    """The wheel as if the spacings that nobody measured were as great as they are ever assumed to be."""
    wide = here.wide
    for node, entry in SPACINGS.items():
        if here.readings[node].assumed:
            most = (here.readings[node].high, here.readings[node].high)
            wide = replace(wide, stops_apart=most) if entry == "stops_apart" else replace(wide, droop_apart=most)
    return here._replace(wide=wide)


def sure_clearance(here: SweptWheel, one: SweptObstacle) -> float:
    """The low end alone."""
    offset = here.readings["offset"]
    return _sure(here.wide, here.large, (offset.low, offset.high), one)


def onset(here: SweptWheel, one: SweptObstacle) -> Onset:
    """From where on the obstacle comes nearer than it wants, at the worst of the tolerances."""
    offset = here.readings["offset"]
    return _onset(here.wide, here.large, (offset.low, offset.high), one, here.motion.face_to_face)


@lru_cache(maxsize=2048)
def _onset(wide: Motion, large: TireSection, offsets: Ends, one: SweptObstacle, face_to_face: float) -> Onset:
    path, section = trace(wide, one), filled(large, offsets)
    cross = steer = None
    if one.rides == "body":
        breach = roll_limit(path, section)
        cross = breach.roll * face_to_face if breach.place is not None else None
    if one.rides != "knuckle" and (wide.steer_in or wide.steer_out):
        ways = [steer_limit([path], section, way, ONSET_STEP) for way in ("in", "out")]
        steer = min((way.angle for way in ways if way.binds is not None), default=None)
    return Onset(cross, steer)


def first_onset(several: Iterable[Onset]) -> Onset:
    """From where on the first of several tires comes too near."""
    found = list(several)
    cross = min((one.cross for one in found if one.cross is not None), default=None)
    return Onset(cross, min((one.steer for one in found if one.steer is not None), default=None))


def effects(here: SweptWheel, moved: TireEnds, one: SweptObstacle, place: SweepPlace) -> dict[str, float]:
    """How far each reading's tolerance takes the distance at one place, down or up."""
    x, y, z = point = wheel_point(here.motion, one, place)
    radial = hypot(x, z)
    middle = nearest(here.section, y, radial).distance
    found = {
        node: max(abs(nearest(section, y, radial).distance - middle) for section in ends)
        for node, ends in moved.items()
    }
    at = (place.steer, 0.0, place.roll(here.motion) if one.rides == "body" else 0.0, place.along)
    for node, alone in kingpin_doubts(here).items():
        found[node] = doubt_of(alone, one, at, point)
    return found
