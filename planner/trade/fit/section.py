"""The tire on its rim as a solid of revolution, and how far a point stands from it.

The solid is drawn in its half-plane: x is how far a point lies from the center plane (axial = −offset), to either side
alike, y the distance from the axle line. It is one convex polygon, the hull of what goes around

- the crown: a parabola from (0, R) down by the crown drop to the tread's edge at t, half the tread width. Its tangents
  at both ends meet at (t/2, R), so that they go around it.
- the upper sidewall: a quarter ellipse from the tread's edge, (t, R − drop), to the widest place, half the section
  width out and half way up from the flanges to R. Tangents at every 22.5° go around it: the corner between two of them
  lies at the angle half way between, 1/cos 11.25° as far out. A sidewall that is blown up is an arc of a circle, which
  meets the same two places and lies within the ellipse.
- below the widest place straight down to the barrel's inside radius. A real one draws in to the rim. It is left as a
  box, since a curve that moved up with the widest place would make a larger tire clearer beside the rim.
- the rim, with the weights that may be clipped to it: straight down from the tips of the flanges.

So a real tire is never larger than what is drawn. Each corner moves outward or up, and none inward or down, as
diameter, section, tread, rim or flanges grow or the crown drops less: the larger of two holds the smaller, so a larger
tire is never clearer. `stretch` draws the two halves apart: what the tires at all offsets of a stretch fill together
is exactly that, and with a stretch of less than nothing, down to the crown's flat, what they all share.

The polygon is convex, so the signed distance to it (negative inside) is a convex function: at any point c with outward
normal n it holds everywhere that distance(p) ≥ distance(c) + n · (p − c). The sweep's bounds rest on this.
The wheel's disc, between barrel and mounting face, is not part of the solid: see the brake's face clearance for that.
"""

from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise
from math import cos, hypot, isfinite, radians, sin, sqrt
from typing import Literal, NamedTuple

from planner.trade.fit.motion import refuse

PartName = Literal["tread", "shoulder", "sidewall", "barrel"]
Side = Literal["inboard", "outboard"]
Probe = Callable[[float, float], tuple[float, float, float]]
Corner = tuple[float, float]

ON_LINE = 1e-9  # m; nearer than this to where two parts meet is on the line between them

STRAIGHT = 1e-15  # m²; twice the area of three corners in one line, as far as sums can tell

FACETS = 4  # sides of the polygon around a quarter of an ellipse; the two outer ones are half a side each

_STEP = radians(90.0 / FACETS)

# The corners between tangents, as shares of the ellipse's half-axes, from the tread's edge down to the widest place.
_AROUND = tuple(
    (sin((at + 0.5) * _STEP) / cos(_STEP / 2.0), cos((at + 0.5) * _STEP) / cos(_STEP / 2.0)) for at in range(FACETS)
)

_SHOULDER_ENDS = sin(radians(45.0))  # so far up the ellipse its surface faces outward as much as up


@dataclass(frozen=True, slots=True)
class TireSection:
    """A tire on its wheel. `rim_width` is the overall width over the flanges, `flange_radius` the radius of their tips.

    `offset` is positive where the mounting face is outboard of the rim's center plane. Without a `flange_radius` the
    rim is taken to end inside the tire, at the barrel. `weights` is how far what is clipped to a flange stands out
    beside it, and what the rim may be wider or narrower than `rim_width`, on which backspace and offset rest.
    """

    section_width: float
    tread_width: float
    diameter: float
    offset: float
    barrel_radius: float
    rim_width: float = 0.0
    flange_radius: float | None = None
    crown_drop: float = 0.0
    weights: float = 0.0
    stretch: float = 0.0

    def __post_init__(self) -> None:
        for entry in ("section_width", "diameter", "barrel_radius"):
            value = getattr(self, entry)
            if not (isfinite(value) and value > 0.0):
                raise refuse(entry, value, "a length of more than nothing")
        if not isfinite(self.offset):
            raise refuse("offset", self.offset, "a finite length")
        if not 0.0 <= self.tread_width <= self.section_width:
            most = self.section_width
            raise refuse("tread_width", self.tread_width, "from 0 to the section width, {most}", most=most)
        if not self.barrel_radius < self.diameter / 2.0:
            most = self.diameter / 2.0
            raise refuse("barrel_radius", self.barrel_radius, "less than the tire's radius, {most}", most=most)
        if not isfinite(self.weights):
            raise refuse("weights", self.weights, "a finite length")
        for entry in ("rim_width", "crown_drop"):
            value = getattr(self, entry)
            if not (isfinite(value) and value >= 0.0):
                raise refuse(entry, value, "a length of nothing or more")
        tip = self.flange_radius
        if tip is not None and not self.barrel_radius <= tip < self.diameter / 2.0:
            raise refuse("flange_radius", tip, "between the barrel's radius and the tire's")
        if not (isfinite(self.stretch) and self.flat >= 0.0):
            raise refuse("stretch", self.stretch, "finite, and no more taken away than the crown is flat")

    @property
    def flat(self) -> float:
        """How wide the crown is flat: so far the two halves may be drawn together."""
        return self.stretch + (self.tread_width / 2.0 if self.crown_drop else self.tread_width)

    @property
    def rim_radius(self) -> float:
        """Where the rim ends and the tire's height begins."""
        return self.barrel_radius if self.flange_radius is None else self.flange_radius

    @property
    def widest_radius(self) -> float:
        """How far from the axle line the section is widest."""
        return (self.diameter / 2.0 + self.rim_radius) / 2.0

    @property
    def shoulder_radius(self) -> float:
        """The radius at the tread's edges; a drop past the widest place is held to it."""
        return max(self.diameter / 2.0 - self.crown_drop, self.widest_radius)

    @property
    def half_width(self) -> float:
        """How far the solid reaches to either side of the center plane, with a rim and weights that stick out."""
        rim = 0.0 if self.flange_radius is None else self.rim_width / 2.0 + self.weights
        return self.stretch / 2.0 + max(self.section_width / 2.0, rim)

    @property
    def deepest(self) -> float:
        """More than this no point can be inside the solid: half its height, or half its width."""
        return min(self.half_width, (self.diameter / 2.0 - self.barrel_radius) / 2.0)


class Nearest(NamedTuple):
    """Signed distance (negative inside), the nearest part and side of the solid, and the outward normal there."""

    distance: float
    part: PartName
    side: Side
    normal: tuple[float, float]  # axial, radial


def outline(section: TireSection) -> list[Corner]:
    """The polygon's corners to one side of the center plane, (x, y) from the top down to the barrel.

    A tire 200 mm wide and 800 mm tall with a square tread, on a barrel of 190 mm radius, is a rectangle:

    >>> outline(TireSection(0.2, 0.2, 0.8, 0.0, 0.19))
    [(0.1, 0.4), (0.1, 0.19)]
    """
    top, widest, apart = section.diameter / 2.0, section.widest_radius, section.stretch / 2.0
    tread, half = section.tread_width / 2.0, section.section_width / 2.0
    across, up = half - tread, section.shoulder_radius - widest
    corners = [(section.flat / 2.0, top)]
    corners += [(apart + tread + x * across, widest + y * up) for x, y in _AROUND[:-1]]
    corners.append((apart + half, widest + _AROUND[-1][1] * up))  # to the last bit, since the side below is upright
    if section.half_width > apart + half:
        corners.append((section.half_width, section.rim_radius))
    corners.append((section.half_width, section.barrel_radius))
    hull: list[Corner] = [(-1.0, top)]
    for corner in corners:
        while hull[-1] == corner or (len(hull) > 1 and not _turns(hull[-2], hull[-1], corner)):
            hull.pop()
        hull.append(corner)
    return hull[1:]


def _turns(first: Corner, middle: Corner, last: Corner) -> bool:
    """Whether the way over `middle` turns inward there; if not, it is no corner of the hull."""
    (ax, ay), (bx, by), (cx, cy) = first, middle, last
    return (bx - ax) * (cy - by) - (by - ay) * (cx - bx) < -STRAIGHT


def probe(section: TireSection) -> Probe:
    """(axial, radial) to the exact signed distance to the solid and the outward normal there (axial, radial).

    Outside, the slanted sides are walked from the top down. A point that the way along a side has not come to yet, and
    the way along the one before has passed, is nearest to the corner between them; one that it comes to is nearest to
    the side, if it lies outside of its line. Inside, the nearest line of all counts.
    """
    center = -section.offset
    corners = outline(section)
    (flat, top), (half, bottom) = corners[0], corners[-1]
    low = max(y for x, y in corners if x == half)
    slants = []
    for (ax, ay), (bx, by) in pairwise(corners):
        if ax < bx:
            long = hypot(bx - ax, by - ay)
            ex, ey = (bx - ax) / long, (by - ay) / long
            start = ex * ax + ey * ay
            slants.append((ex, ey, start + long, start, ex * by - ey * bx, ax, ay))
    walk = tuple(slants)
    lines = tuple((-ey, ex, level) for ex, ey, _, _, level, _, _ in slants)

    def feel(axial: float, radial: float) -> tuple[float, float, float]:
        x = axial - center
        way = 1.0
        if x < 0.0:
            x, way = -x, -1.0
        beside = x - half
        if beside >= 0.0 and radial <= low:
            if radial >= bottom:
                return beside, way, 0.0
            up = radial - bottom
            far = sqrt(beside * beside + up * up)
            return far, way * beside / far, up / far
        if x <= flat:
            if radial >= top:
                return radial - top, 0.0, 1.0
        elif radial > low:
            for ex, ey, stop, start, level, ax, ay in walk:
                along = ex * x + ey * radial
                if along < stop:
                    if along > start:
                        far = ex * radial - ey * x - level
                        if far > 0.0:
                            return far, -way * ey, ex
                        break
                    across, up = x - ax, radial - ay
                    far = sqrt(across * across + up * up)
                    return (far, way * across / far, up / far) if far else (0.0, -way * ey, ex)
            else:
                across, up = beside, radial - low
                far = sqrt(across * across + up * up)
                return far, way * across / far, up / far
        best, across, up = bottom - radial, 0.0, -1.0
        if best > 0.0:
            return best, across, up
        if beside > best:
            best, across, up = beside, way, 0.0
        if radial - top > best:
            best, across, up = radial - top, 0.0, 1.0
        for nx, ny, level in lines:
            far = nx * x + ny * radial - level
            if far > best:
                best, across, up = far, way * nx, ny
        return best, across, up

    return feel


def nearest(section: TireSection, axial: float, radial: float) -> Nearest:
    """How far a point in the half-plane is from the solid, and from which part of it.

    The shoulder reaches from the tread's edge down to where the sidewall faces outward as much as up. A tire 250 mm
    wide and 800 mm tall on a barrel of 190 mm radius, 30 mm above the tread's middle:

    >>> nearest(TireSection(0.250, 0.200, 0.800, 0.0, 0.190), 0.0, 0.430).part
    'tread'
    """
    if not (isfinite(axial) and isfinite(radial) and radial >= 0.0):
        raise refuse("radial", (axial, radial), "finite lengths, and a radius of nothing or more")
    distance, across, up = probe(section)(axial, radial)
    x, y = abs(axial - distance * across + section.offset), radial - distance * up
    side: Side = "outboard" if axial >= -section.offset else "inboard"
    return Nearest(distance, _part(section, x, y), side, (across, up))


def _part(section: TireSection, x: float, y: float) -> PartName:
    """Of which part a spot of the surface is."""
    if y <= section.barrel_radius + ON_LINE or (
        y <= section.rim_radius + ON_LINE and section.half_width > (section.section_width + section.stretch) / 2.0
    ):
        return "barrel"
    shoulder, widest = section.shoulder_radius, section.widest_radius
    if y >= shoulder - ON_LINE and x <= (section.tread_width + section.stretch) / 2.0 + ON_LINE:
        return "tread"
    if y > widest + _SHOULDER_ENDS * (shoulder - widest) + ON_LINE and section.tread_width < section.section_width:
        return "shoulder"
    return "sidewall"
