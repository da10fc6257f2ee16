"""How far a wheel may be steered, and how tall its tire may be, so that every obstacle keeps its required clearance.

Both answers are proven: nothing in the sweep up to the answer comes under what an obstacle must keep, its measuring
tolerance taken off in full. Where a question is too close to call, the answer is the smaller one.
"""

from collections.abc import Sequence
from dataclasses import replace
from heapq import heappop, heappush
from math import inf, isfinite, radians
from typing import Literal, NamedTuple

from planner.trade.fit.motion import Motion, SweepPlace, refuse
from planner.trade.fit.section import TireSection, probe
from planner.trade.fit.sweep import BUDGET, SURE, YES_OR_NO, falls, looker, near_cells
from planner.trade.fit.swing import legs
from planner.trade.fit.trace import ROLL, STEER, Cell, Trace, halves, place

Way = Literal["in", "out"]

STEER_STEP = radians(0.01)
ROLL_STEP = 2e-3  # of the sine: some 3 mm from one wheel to the other
DIAMETER_STEP = 1e-4  # m


class Limit(NamedTuple):
    """A limit that is not swept: the figure at hand must be from `low` to `high`."""

    name: str
    low: float = -inf
    high: float = inf


class SteerLimit(NamedTuple):
    """The most steer one way. `binds` names the obstacle that stops it, at `place`; None where the lock itself does.

    Not `kept`: an obstacle comes too close even straight ahead, and the angle is nothing.
    Not `finished`: a budget ran out, and the angle is proven but more may be possible.
    """

    angle: float
    kept: bool
    binds: str | None
    place: SweepPlace | None
    evaluations: int
    finished: bool


class RollLimit(NamedTuple):
    """The most roll, as its sine, and where the obstacle first comes too near; None where it never does."""

    roll: float
    place: SweepPlace | None


class LargestTire(NamedTuple):
    """The largest diameter that keeps everything, and what binds; None where even the smallest asked about does not."""

    diameter: float | None
    binds: str | None


def steer_limit(
    paths: Sequence[Trace], section: TireSection, way: Way, step: float = STEER_STEP, budget: int = BUDGET
) -> SteerLimit:
    """The most steer at which every obstacle keeps its clearance whatever the axle does, to `step`, never over.

    The lock looked at is that of the traces' own motion. About an upright kingpin through the hub, a point 0.3 m ahead
    and 0.25 m inboard comes within 20 mm of a sidewall 0.1 m inboard at sin(s − 39.806°) = −0.12/0.3905, s = 21.91°:

    >>> from math import degrees
    >>> from planner.trade.fit.motion import Motion, SweptObstacle
    >>> from planner.trade.fit.trace import trace
    >>> rail = SweptObstacle("rail", (0.3, -0.25, 0.0), required=0.02)
    >>> found = steer_limit(
    ...     [trace(Motion(1.5, steer_in=0.6), rail)], TireSection(0.2, 0.2, 0.8, 0.0, 0.19), "in"
    ... )
    >>> f"{degrees(found.angle):.2f}", found.binds
    ('21.91', 'rail')
    """
    if not paths:
        raise refuse("paths", 0, "at least one obstacle's trace")
    motion = paths[0].motion
    if any((path.motion.steer_in, path.motion.steer_out) != (motion.steer_in, motion.steer_out) for path in paths):
        raise refuse("paths", "several locks", "traces of one wheel's steer")
    if not step > 0.0:
        raise refuse("step", step, "more than nothing, in rad")
    lock, turn = (motion.steer_in, 1.0) if way == "in" else (motion.steer_out, -1.0)
    found = SteerLimit(lock, True, None, None, 0, True)
    for path in paths:
        angle, where, count, finished = _first_breach(path, section, STEER, turn, found.angle, step, budget)
        evaluations, all_finished = found.evaluations + count, found.finished and finished
        found = found._replace(evaluations=evaluations, finished=all_finished)
        if where is not None:
            found = found._replace(angle=angle, kept=angle > 0.0, binds=path.obstacle.name, place=where)
            if not found.kept:
                break
    return found


def most_roll(motion: Motion) -> float:
    """The most that the axle can roll either way, as a sine."""
    return max(abs(end) for leg in legs(motion, "body") for end in (leg.low, leg.high))


def roll_limit(path: Trace, section: TireSection, step: float = ROLL_STEP, budget: int = BUDGET) -> RollLimit:
    """The most roll either way, as its sine, at which the obstacle keeps its clearance through all steer and rise.

    To `step`, never over.
    """
    most, where = max(abs(end) for leg in path.region.legs for end in (leg.low, leg.high)), None
    for turn in (1.0, -1.0):
        found = _first_breach(path, section, ROLL, turn, most, step, budget)
        if found[1] is not None:
            most, where = found[0], found[1]
    return RollLimit(most, where)


def _first_breach(
    path: Trace, section: TireSection, axis: int, turn: float, most: float, step: float, budget: int
) -> tuple[float, SweepPlace | None, int, bool]:
    """The steer (or roll), up to `most`, before which nothing comes under what must be kept, and where that is broken.

    Cells wait in the order of the steer at which they might first break it. By the sweep's bound, a cell's distance at
    u half-extents from its middle, in the way asked about, is at least level + slope u; so it breaks nothing before the
    u at which that falls under what must be kept. The search ends when the first of these is within `step` of a place
    that is known to break it, or to come within a thousandth of a millimeter of that.
    """
    keep, look, whole = path.obstacle.keep, looker(section), probe(section)
    short = keep + SURE
    count, first, first_at = 0, inf, None
    heap: list[tuple[float, int, Cell]] = []

    def weigh(cell: Cell, before: float) -> None:
        nonlocal count, first, first_at
        distance, low, _ = look(cell, keep)
        count += 1
        if low >= keep:
            return
        middle, half = turn * cell.middle[axis], cell.extent[axis]
        start = max(before, middle - half)
        if distance < short and middle < first:
            first, first_at = max(0.0, middle), place(path, cell.leg, cell.middle)
        distance, na, nr = whole(cell.axial, cell.radial)
        rates = [na * axial + nr * radial for axial, radial in zip(cell.moves[::2], cell.moves[1::2], strict=True)]
        slope = turn * rates[axis]
        guess = middle - half
        if slope < 0.0 and half > 0.0:
            others = sum(abs(rate) for which, rate in enumerate(rates) if which != axis)
            # `falls` counts steer and along together; apart they come to no more than twice their curve beside it.
            apart = 2.0 * abs(na * cell.curves[8] + nr * cell.curves[9]) if axis == STEER else 0.0
            level = distance - falls(cell, na, nr)[0] - apart - slope
            start = max(start, middle + half * max(-1.0, (keep - level) / slope))
            # Where the bound without its slack would break it: most often it does, and then the search is nearly over.
            under = distance - cell.doubt - others
            guess = min(middle + half, middle + half * max(-1.0, (keep - under) / slope) + step / 2.0)
        if guess < first:
            at = [
                turn * guess if which == axis else start_ - half_ if rate > 0.0 else start_ + half_
                for which, (start_, half_, rate) in enumerate(zip(cell.middle, cell.extent, rates, strict=True))
            ]
            there = (at[0], at[1], at[2], at[3])
            axial, radial, doubt = path.seen(cell.leg, there)
            count += 1
            if whole(axial, radial)[0] - doubt < short:
                first = max(0.0, guess)
                first_at = place(path, cell.leg, there)
        heappush(heap, (start, count, cell))

    for root in path.region.roots:
        if turn * root.middle[axis] >= 0.0:
            weigh(root, 0.0)
    while heap and heap[0][0] <= most and count < budget:
        start, _, cell = heap[0]
        if first - start <= step:
            return first if path.kind else start, first_at, count, True
        heappop(heap)
        for half in halves(path, cell):
            weigh(half, start)
    if not heap or heap[0][0] > most:
        return most, None, count, True
    start, _, cell = heap[0]
    if path.kind:
        start = min(first, most)
    middle = list(cell.middle)
    middle[axis] = turn * start
    return start, first_at or place(path, cell.leg, (middle[0], middle[1], middle[2], middle[3])), count, False


def largest_tire(
    paths: Sequence[Trace],
    section: TireSection,
    low: float,
    high: float,
    limits: Sequence[Limit] = (),
    step: float = DIAMETER_STEP,
    budget: int = YES_OR_NO,
) -> LargestTire:
    """The largest diameter from `low` to `high` that keeps every limit at the section's width and offset.

    To `step`, as far as the budget of each question lasts: what it leaves open is too large.

    A larger tire is never clearer, so each obstacle's own largest is found by halving. A limit's `high` caps it too.
    """
    rim = 2.0 * section.rim_radius
    if not (isfinite(low) and isfinite(high) and rim < low <= high):
        raise refuse("low, high", (low, high), f"two diameters in order, over the rim's {rim:g} m")
    if not step > 0.0:
        raise refuse("step", step, "more than nothing, in m")
    best, binds = high, None
    for limit in limits:
        if limit.low > high or limit.high < low:
            return LargestTire(None, limit.name)
        if limit.high < best:
            best, binds = limit.high, limit.name
    for path in paths:
        keep = path.obstacle.keep
        near = near_cells(path, replace(section, diameter=best), keep, path.region.roots, budget)
        if not near:
            continue
        if near_cells(path, replace(section, diameter=low), keep, near, budget):
            return LargestTire(None, path.obstacle.name)
        good, bad = low, best
        while bad - good > step:
            middle = (good + bad) / 2.0
            still = near_cells(path, replace(section, diameter=middle), keep, near, budget)
            if still:
                bad, near = middle, still
            else:
                good = middle
        best, binds = bad if path.kind else good, path.obstacle.name
    for limit in limits:
        if best < limit.low:
            return LargestTire(None, binds or limit.name)
    return LargestTire(best, binds)
