"""What the hub needs of a wheel: its bolt circle as best known, how its readings disagree, and its pilot."""

import csv
from functools import cache
from itertools import pairwise, permutations
from pathlib import Path

from planner.quantities.kinds import Count, Distance, Length, Points, Position
from planner.sources.citing import practice
from planner.sources.reasoning import GEOMETRY
from planner.trade.bolts.circle import chord_share
from planner.worksheet.declare import figure
from planner.worksheet.turning import along, greatest


@cache
def standard_circles() -> tuple[float, ...]:
    """The common bolt circles, in m."""
    with Path(__file__).with_name("standard_circles.csv").open(encoding="utf-8", newline="") as table:
        rows = list(csv.DictReader(table))
    return tuple(float(row["diameter"]) * (0.0254 if row["unit"] == "in" else 0.001) for row in rows)


@figure(
    means="bolt circle as best known, from any one of its readings",
    ground=practice("a drawing before a measurement, all studs before two, a long chord before a short one"),
    form="stated, else fitted to the points, else by the longest chord measured",
)
def stud_circle(
    stud_count: Count,
    stated_stud_circle: Length | None = None,
    points_stud_circle: Length | None = None,
    circle_from_edges: Length | None = None,
    circle_from_skip: Length | None = None,
    circle_from_adjacent: Length | None = None,
    outer_edge_skip: Count = 1,
    skip: Count = 1,
) -> Length | None:
    """One of the readings, in m: the one that a measuring error moves least. Nothing where there is no reading.

    Of two chords the longer is taken, since the error of a short one grows more; of equal ones the caliper's over
    the edges. Readings are not averaged: one that is wrong would spoil the rest; see bolt circle disagreement.

    >>> stud_circle(6, circle_from_skip=5.49, circle_from_adjacent=5.6, skip=2)
    5.49
    >>> stud_circle(6, stated_stud_circle=5.5, circle_from_adjacent=5.6)
    5.5
    """
    if stated_stud_circle is not None:
        return stated_stud_circle
    if points_stud_circle is not None:
        return points_stud_circle
    chords = [
        (circle_from_edges, chord_share(stud_count, outer_edge_skip, "outer_edge_skip")),
        (circle_from_skip, chord_share(stud_count, skip)),
        (circle_from_adjacent, chord_share(stud_count, 1)),
    ]
    read = [(circle, share) for circle, share in chords if circle is not None]
    return max(read, key=lambda one: one[1])[0] if read else None


@figure(
    means="how far the bolt circle readings disagree (it takes two of them, or four points)",
    ground=GEOMETRY,
    form="largest minus smallest diameter read, or twice how far the worst point is off its circle, if that's more",
)
def stud_circle_disagreement(
    stated_stud_circle: Length | None = None,
    points_stud_circle: Length | None = None,
    circle_from_edges: Length | None = None,
    circle_from_skip: Length | None = None,
    circle_from_adjacent: Length | None = None,
    stud_points_worst_residual: Distance | None = None,
    stud_points: Points | None = None,
) -> Distance | None:
    """On the diameter, in m; nothing where there is only one reading, which cannot be checked.

    Three points always fit a circle and count as one reading; four and more check themselves.

    >>> round(stud_circle_disagreement(stated_stud_circle=5.5, circle_from_skip=5.52), 12)
    0.02
    """
    readings = (stated_stud_circle, points_stud_circle, circle_from_edges, circle_from_skip, circle_from_adjacent)
    read = [one for one in readings if one is not None]
    spreads = [one - other for one, other in permutations(read, 2)]
    if stud_points_worst_residual is not None and stud_points is not None and len(stud_points) > 3:
        spreads.append(2 * stud_points_worst_residual)
    return greatest(*spreads, 0.0) if spreads else None


@figure(
    means="nearest common bolt circle",
    ground=practice("common bolt circles"),
    form="standard bolt circle = the nearest in the table",
    picks=("",),
)
def standard_stud_circle(stud_circle: Length) -> Length:
    """The listed circle nearest to this one, in m; old and heavy hubs need not be on any list.

    >>> standard_stud_circle(0.1145)
    0.1143
    """
    return along(stud_circle, _nearest(stud_circle), lambda low, high: (_nearest(low), _nearest(high)))


def _nearest(stud_circle: float) -> float:
    return min(standard_circles(), key=lambda one: abs(one - stud_circle))


@figure(
    means="how far the bolt circle is from the nearest common one",
    ground=practice("common bolt circles"),
    form="off standard = |bolt circle − the nearest in the table|",
)
def stud_circle_off_standard(stud_circle: Length) -> Distance:
    """In m, either way.

    >>> round(stud_circle_off_standard(0.1145), 9)
    0.0002
    """
    return along(stud_circle, _off(stud_circle), _least_and_most_off)


def _off(stud_circle: float) -> float:
    return abs(stud_circle - _nearest(stud_circle))


def _least_and_most_off(low: float, high: float) -> tuple[float, float]:
    """Nothing on a listed circle, most halfway between two."""
    listed = sorted(standard_circles())
    turns = (*listed, *((one + other) / 2 for one, other in pairwise(listed)))
    found = [_off(one) for one in (low, high, *turns) if low <= one <= high]
    return min(found), max(found)


@figure(means="how much wider the wheel's bore is than the hub's pilot", ground=GEOMETRY)
def register_gap(wheel_bore: Length, hub_pilot: Length) -> Position:
    """On the diameter, in m; below nothing the wheel does not go on.

    Measure the pilot where the wheel's disc sits, past its lead-in, and the bore clear of paint and burrs.

    >>> register_gap(4.27, 4.25) > 0
    True
    """
    return wheel_bore - hub_pilot
