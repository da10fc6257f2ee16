"""The bolt circle from what a tape, a caliper or a drawing of the hub face says."""

from collections.abc import Sequence
from math import pi, sin
from typing import NamedTuple

from planner.quantities.kinds import Count, Distance, Length, Point, Points
from planner.sources.reasoning import GEOMETRY, LEAST_SQUARES
from planner.worksheet.declare import Impossible, figure

_FLAT = 1e-6  # across the line of the points, as a part of along it: flatter than this no circle can be told
_STEPS = 100
_SETTLED = 1e-12


class FittedCircle(NamedTuple):
    """The circle that runs nearest to a set of points, and how far the worst of them lies off it."""

    diameter: Length
    center: Point
    worst_residual: Distance


def chord_share(count: int, skip: int, key: str = "skip") -> float:
    """The chord between studs `skip` apart as a part of the circle's diameter.

    >>> chord_share(6, 1), chord_share(4, 2)
    (0.49999999999999994, 1.0)
    """
    if count < 2:
        raise Impossible("count", f"{count}", "at least 2 studs")
    if not 1 <= skip < count:
        raise Impossible(key, f"{skip}", f"1 to {count - 1} spaces between the two studs")
    return sin(pi * skip / count)


@figure(
    means="bolt circle from two studs next to each other",
    ground=GEOMETRY,
    form="diameter = spacing / sin(180° / count)",
    reads={"spacing": "adjacent_spacing", "count": "stud_count"},
)
def circle_from_adjacent(spacing: Length, count: Count) -> Length:
    """Diameter in m from the spacing of two neighbors, center to center.

    The shorter the chord, the more a reading's error grows: with 8 studs 2.6 times, with 5 studs 1.7 times.
    Six studs stand as far apart as the circle's radius:

    >>> round(circle_from_adjacent(2.75, 6), 12)
    5.5
    """
    return spacing / chord_share(count, 1)


@figure(
    means="bolt circle from two studs farther apart",
    ground=GEOMETRY,
    form="diameter = spacing / sin(180° × skip / count)",
    reads={"spacing": "skip_spacing", "count": "stud_count"},
)
def circle_from_skip(spacing: Length, count: Count, skip: Count) -> Length:
    """Diameter in m from two studs `skip` spaces apart, center to center; straight across it is the spacing itself.

    >>> circle_from_skip(6.5, 8, 4)
    6.5
    """
    return spacing / chord_share(count, skip)


@figure(
    means="bolt circle over the outsides of two studs",
    ground=GEOMETRY,
    form="diameter = (outer edge spacing − stud diameter) / sin(180° × skip / count)",
    reads={"count": "stud_count", "skip": "outer_edge_skip"},
)
def circle_from_edges(outer_edge_spacing: Length, stud_diameter: Length, count: Count, skip: Count) -> Length:
    """Diameter in m measured over two studs `skip` spaces apart, outer edge to outer edge.

    Measure over full threads: a worn or tapered stud end reads small. Raises where the two studs would touch.

    >>> circle_from_edges(7.0, 0.5, 8, 4)
    6.5
    """
    if not outer_edge_spacing > stud_diameter:
        raise Impossible(
            "outer_edge_spacing", "{outer_edge_spacing}", "the width over two studs, more than {stud_diameter}"
        )
    return (outer_edge_spacing - stud_diameter) / chord_share(count, skip)


@figure(
    means="bolt circle through the measured stud centers",
    ground=LEAST_SQUARES,
    form="the circle closest to all the points: distances squared and summed are least",
    reads={"points": "stud_points"},
    publishes={"points_stud_circle": "diameter", "stud_points_worst_residual": "worst_residual"},
)
def circle_from_points(points: Points) -> FittedCircle:
    """Geometric fit: center and diameter in m, and how far the worst point lies off the circle.

    Points in any square frame, three or more. Three always fit exactly: only a fourth checks them. Raises for
    points that stand on a line. Starts from the algebraic fit and takes Gauss–Newton steps on the true distances.

    >>> fit = circle_from_points(((5.0, 0.0), (0.0, 5.0), (-5.0, 0.0), (0.0, -5.0)))
    >>> round(fit.diameter, 12), round(fit.worst_residual, 12)
    (10.0, 0.0)
    """
    if len(points) < 3:
        raise Impossible("points", f"{len(points)} points", "at least three different points")
    mean_x = sum(x for x, _ in points) / len(points)
    mean_y = sum(y for _, y in points) / len(points)
    spread = (sum((x - mean_x) ** 2 + (y - mean_y) ** 2 for x, y in points) / len(points)) ** 0.5
    if not spread:
        raise Impossible("points", "points all in one place", "at least three different points")
    plain = [(float((x - mean_x) / spread), float((y - mean_y) / spread)) for x, y in points]
    a, b = _nearest_center(plain, _algebraic_center(plain))
    distances = _distances(plain, a, b)
    radius = sum(distances) / len(distances)
    worst = max(abs(distance - radius) for distance in distances)
    return FittedCircle(2 * radius * spread, (mean_x + a * spread, mean_y + b * spread), worst * spread)


def _algebraic_center(points: Sequence[tuple[float, float]]) -> tuple[float, float]:
    """Where x² + y² + Dx + Ey + F is least, squared and summed, for points about their own middle."""
    xx, yy = sum(x * x for x, _ in points), sum(y * y for _, y in points)
    xy = sum(x * y for x, y in points)
    across = (xx + yy) / 2 - (((xx - yy) / 2) ** 2 + xy * xy) ** 0.5
    if across <= _FLAT**2 * (xx + yy):
        raise Impossible("points", "points on a straight line", "at least three points that a circle can run through")
    xz = sum(x * (x * x + y * y) for x, y in points) / 2
    yz = sum(y * (x * x + y * y) for x, y in points) / 2
    return _solve(xx, xy, yy, xz, yz)


def _nearest_center(points: Sequence[tuple[float, float]], center: tuple[float, float]) -> tuple[float, float]:
    """Gauss–Newton on distance less radius, the best radius for a center being the mean distance; never uphill."""
    a, b = center
    misfit = _misfit(points, a, b)
    for _ in range(_STEPS):
        distances = _distances(points, a, b)
        radius = sum(distances) / len(points)
        ways = [((x - a) / d, (y - b) / d) if d else (0.0, 0.0) for (x, y), d in zip(points, distances, strict=True)]
        mean_u, mean_v = sum(u for u, _ in ways) / len(ways), sum(v for _, v in ways) / len(ways)
        rows = [(u - mean_u, v - mean_v, d - radius) for (u, v), d in zip(ways, distances, strict=True)]
        uu, vv = sum(u * u for u, _, _ in rows), sum(v * v for _, v, _ in rows)
        uv = sum(u * v for u, v, _ in rows)
        step_a, step_b = _solve(uu, uv, vv, sum(u * e for u, _, e in rows), sum(v * e for _, v, e in rows))
        while abs(step_a) + abs(step_b) > _SETTLED * radius and _misfit(points, a + step_a, b + step_b) > misfit:
            step_a, step_b = step_a / 2, step_b / 2
        if abs(step_a) + abs(step_b) <= _SETTLED * radius:
            return a, b
        a, b = a + step_a, b + step_b
        misfit = _misfit(points, a, b)
    raise Impossible("points", "points that don't lie on any circle", "stud centers on one circle: measure each again")


def _distances(points: Sequence[tuple[float, float]], a: float, b: float) -> list[float]:
    return [((x - a) ** 2 + (y - b) ** 2) ** 0.5 for x, y in points]


def _misfit(points: Sequence[tuple[float, float]], a: float, b: float) -> float:
    distances = _distances(points, a, b)
    radius = sum(distances) / len(points)
    return sum((distance - radius) ** 2 for distance in distances)


def _solve(xx: float, xy: float, yy: float, right_x: float, right_y: float) -> tuple[float, float]:
    """Two equations with a symmetric matrix."""
    determinant = xx * yy - xy * xy
    if not determinant:
        raise Impossible("points", "points on a straight line", "at least three points that a circle can run through")
    return (right_x * yy - right_y * xy) / determinant, (right_y * xx - right_x * xy) / determinant
