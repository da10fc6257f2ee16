"""The tire and its wheel's barrel as a solid of revolution, and how far a point stands from it.

The solid is drawn in its half-plane: `axial` is y from the hub's mounting face (outboard positive), `radial` the
distance from the axle line. It is the union of

- the tire: a rectangle about the center plane (axial = −offset), half the section width to each side, from the barrel's
  inside radius out to half the diameter, its two outer corners rounded by (section width − tread width)/2. Where that
  is more than the sidewall is high, the rounding is held to the sidewall's height, so that the section still spans its
  full width: the drawn solid is then larger than the rounder one, never smaller. It grows with the diameter everywhere.
- the rim: a rectangle, half the overall rim width to each side, from the barrel's inside radius out to the tips of the
  flanges. It shows only where it sticks out of the tire.

Each of the two is convex in the half-plane, so the signed distance to each is a convex function: at any point c with
outward normal n it holds everywhere that distance(p) ≥ distance(c) + n · (p − c). The sweep's bounds rest on this.
The wheel's disc, between barrel and mounting face, is not part of the solid: see the brake's face clearance for that.
"""

from collections.abc import Callable
from dataclasses import dataclass
from math import acos, asin, atan2, cos, hypot, isfinite, pi, sin
from typing import Literal, NamedTuple

from planner.trade.fit.motion import refuse

PartName = Literal["tread", "shoulder", "sidewall", "barrel"]
Side = Literal["inboard", "outboard"]
Probe = Callable[[float, float], tuple[float, float, float]]

ON_LINE = 1e-9  # m; nearer than this to where two parts meet is on the line between them


@dataclass(frozen=True, slots=True)
class TireSection:
    """A tire on its wheel. `rim_width` is the overall width over the flanges, `flange_radius` the radius of their tips.

    `offset` is positive where the mounting face is outboard of the rim's center plane. Without a `flange_radius` the
    rim is taken to end inside the tire.
    """

    section_width: float
    tread_width: float
    diameter: float
    offset: float
    barrel_radius: float
    rim_width: float = 0.0
    flange_radius: float | None = None

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
        if not (isfinite(self.rim_width) and self.rim_width >= 0.0):
            raise refuse("rim_width", self.rim_width, "a length of nothing or more")
        tip = self.flange_radius
        if tip is not None and not self.barrel_radius <= tip < self.diameter / 2.0:
            raise refuse("flange_radius", tip, "between the barrel's radius and the tire's")

    @property
    def corner(self) -> float:
        """The rounding of the outer corners."""
        return min((self.section_width - self.tread_width) / 2.0, self.diameter / 2.0 - self.barrel_radius)

    @property
    def deepest(self) -> float:
        """More than this no point can be inside the solid.

        Half the height bounds it, and so does half the greater width. Above the flanges' tips a point is no deeper than
        half the section's width, below them no deeper than the flange is high.
        """
        tall = self.diameter / 2.0 - self.barrel_radius
        if self.flange_radius is None:
            return min(self.section_width, tall) / 2.0
        above = max(self.section_width / 2.0, self.flange_radius - self.barrel_radius)
        return min(max(self.section_width, self.rim_width) / 2.0, above, tall / 2.0)


class Nearest(NamedTuple):
    """Signed distance (negative inside), the nearest part and side of the solid, and the outward normal there."""

    distance: float
    part: PartName
    side: Side
    normal: tuple[float, float]  # axial, radial


def _sticks_out(section: TireSection) -> bool:
    """Whether the rim shows outside the tire."""
    if section.flange_radius is None:
        return False
    half, corner = section.section_width / 2.0, section.corner
    beyond = section.rim_width / 2.0 - (half - corner)
    above = section.flange_radius - (section.diameter / 2.0 - corner)
    return section.rim_width / 2.0 > half or (beyond > 0.0 and above > 0.0 and hypot(beyond, above) > corner)


def _rounded(center: float, half: float, bottom: float, top: float, corner: float) -> Probe:
    """Distance to a rectangle with its two top corners rounded, and the outward normal: exact on both sides."""
    flat, shoulder = half - corner, top - corner

    def feel(axial: float, radial: float) -> tuple[float, float, float]:
        x = axial - center
        way = 1.0
        if x < 0.0:
            x, way = -x, -1.0
        if x > flat and radial > shoulder:
            across, up = x - flat, radial - shoulder
            far = hypot(across, up)
            if far - corner >= bottom - radial:
                return far - corner, way * across / far, up / far
            return bottom - radial, 0.0, -1.0
        beside, above, below = x - half, radial - top, bottom - radial
        if below > 0.0 and beside > 0.0:
            far = hypot(beside, below)
            return far, way * beside / far, -below / far
        if beside >= above and beside >= below:
            return beside, way, 0.0
        return (above, 0.0, 1.0) if above >= below else (below, 0.0, -1.0)

    return feel


def probes(section: TireSection) -> tuple[Probe, ...]:
    """For each convex part of the solid: (axial, radial) to signed distance and outward normal (axial, radial).

    Outside, the distance to the solid is the least of these. Inside, it is for one part alone; see `probe` for two.
    """
    center, bottom = -section.offset, section.barrel_radius
    tire = _rounded(center, section.section_width / 2.0, bottom, section.diameter / 2.0, section.corner)
    if section.flange_radius is None or not _sticks_out(section):
        return (tire,)
    return tire, _rounded(center, section.rim_width / 2.0, bottom, section.flange_radius, 0.0)


def probe(section: TireSection) -> Probe:
    """(axial, radial) to the exact signed distance to the whole solid and the outward normal there."""
    parts = probes(section)
    if len(parts) == 1:
        return parts[0]
    tire, rim = parts
    lines, arcs = _outline(section)
    center = -section.offset

    def feel(axial: float, radial: float) -> tuple[float, float, float]:
        to_tire, to_rim = tire(axial, radial), rim(axial, radial)
        nearest = to_tire if to_tire[0] <= to_rim[0] else to_rim
        if nearest[0] >= 0.0:
            return nearest
        # Inside, each part alone would take the other's inside for its own surface: only the outline counts.
        x = abs(axial - center)
        way = 1.0 if axial >= center else -1.0
        found = []
        for ax, ay, bx, by in lines:
            long = (bx - ax) ** 2 + (by - ay) ** 2
            share = max(0.0, min(1.0, ((x - ax) * (bx - ax) + (radial - ay) * (by - ay)) / long)) if long else 0.0
            found.append((ax + share * (bx - ax), ay + share * (by - ay)))
        for cx, cy, corner, start, stop in arcs:
            angle = max(start, min(stop, atan2(radial - cy, x - cx)))
            found.append((cx + corner * cos(angle), cy + corner * sin(angle)))
        depth, sx, sy = min((hypot(sx - x, sy - radial), sx, sy) for sx, sy in found)
        if depth == 0.0:
            return nearest
        return -depth, way * (sx - x) / depth, (sy - radial) / depth

    return feel


def _outline(section: TireSection) -> tuple[list[tuple[float, ...]], list[tuple[float, ...]]]:
    """The outboard half of the outline of tire and rim together, from the center plane: lines, and arcs by angle.

    Every end of an arc is also the end of a line, so a point that no spot of the arc faces finds that end on the line.
    """
    half, corner, bottom = section.section_width / 2.0, section.corner, section.barrel_radius
    top, rim, tip = section.diameter / 2.0, section.rim_width / 2.0, section.flange_radius or 0.0
    flat, shoulder = half - corner, top - corner
    lines: list[tuple[float, ...]] = [(0.0, top, flat, top)]
    arcs: list[tuple[float, ...]] = []
    if tip > shoulder:
        meets = asin(min(1.0, (tip - shoulder) / corner))
        arcs.append((flat, shoulder, corner, meets, pi / 2.0))
        lines.append((flat + corner * cos(meets), tip, rim, tip))
    else:
        arcs.append((flat, shoulder, corner, 0.0, pi / 2.0))
        lines += [(half, shoulder, half, tip), (half, tip, rim, tip)]
    if rim >= half:
        lines += [(rim, tip, rim, bottom), (0.0, bottom, rim, bottom)]
    else:
        leaves = acos(max(-1.0, min(1.0, (rim - flat) / corner)))
        arcs.append((flat, shoulder, corner, 0.0, leaves))
        lines += [(rim, tip, rim, shoulder + corner * sin(leaves)), (half, shoulder, half, bottom)]
        lines.append((0.0, bottom, half, bottom))
    return lines, arcs


def nearest(section: TireSection, axial: float, radial: float) -> Nearest:
    """How far a point in the half-plane is from the solid, and from which part of it.

    A tire 250 mm wide and 800 mm tall on a barrel of 190 mm radius: 30 mm above the tread's middle.

    >>> nearest(TireSection(0.250, 0.200, 0.800, 0.0, 0.190), 0.0, 0.430).part
    'tread'
    """
    if not (isfinite(axial) and isfinite(radial) and radial >= 0.0):
        raise refuse("radial", (axial, radial), "finite lengths, and a radius of nothing or more")
    distance, across, up = probe(section)(axial, radial)
    x, y = abs(axial - distance * across + section.offset), radial - distance * up
    part: PartName = "sidewall"
    if y <= section.barrel_radius + ON_LINE or _on_rim(section, x, y):
        part = "barrel"
    elif y >= section.diameter / 2.0 - ON_LINE:
        part = "tread"
    elif y > section.diameter / 2.0 - section.corner + ON_LINE:
        part = "shoulder"
    return Nearest(distance, part, "outboard" if axial >= -section.offset else "inboard", (across, up))


def _on_rim(section: TireSection, x: float, y: float) -> bool:
    """Whether a spot of the surface is on a rim that shows."""
    tip = section.flange_radius
    if tip is None or not _sticks_out(section):
        return False
    if y > tip + ON_LINE or x > section.rim_width / 2.0 + ON_LINE:
        return False
    return abs(y - tip) <= ON_LINE or abs(x - section.rim_width / 2.0) <= ON_LINE
