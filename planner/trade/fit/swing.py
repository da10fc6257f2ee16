"""Where a measured point stands as seen from a wheel that steers and travels, over all that its axle can do.

What the axle can do. Bump stops stand a apart, what ends the droop d apart, each middle to middle:

    h ± (a/2) sin phi ≤ bump,   h ± (d/2) sin phi ≥ −droop,   |sin phi| ≤ most_roll

each side with its own bump and droop. In h and sin phi that is a region with straight sides, and it is cut at its
corners into strips of roll (`Leg`), in which the least and the greatest rise of this wheel are straight lines.
"""

from collections.abc import Callable
from functools import lru_cache
from math import cos, hypot, sin, sqrt, tan
from typing import NamedTuple

from planner.trade.fit.motion import Ends, Motion, Point, Rides, SweepPlace, SweptObstacle, refuse

Swing = Callable[[float, float, float, float], tuple[float, ...]]

SLIP = 1e-9  # in m, or of the sine of a roll: more than the sums' own rounding, less than anybody could measure
NOTHING = (0.0,) * 9  # what steer does to a point that it does not move


class Leg(NamedTuple):
    """A strip of roll, and this wheel's least and greatest rise in it: at no roll, and per unit of roll."""

    low: float
    high: float
    least: Ends
    most: Ends

    def span(self, roll: float) -> Ends:
        """This wheel's least rise at a roll, and from there to its greatest."""
        least = self.least[0] + self.least[1] * roll
        return least, max(0.0, self.most[0] + self.most[1] * roll - least)


STILL = (Leg(0.0, 0.0, (0.0, 0.0), (0.0, 0.0)),)


@lru_cache(maxsize=64)
def legs(motion: Motion, rides: Rides) -> tuple[Leg, ...]:
    """The strips of the region that a point that rides with `rides` goes through, the far wheel's highest first."""
    if rides != "body":
        return STILL
    half = motion.face_to_face / 2.0
    ups = (motion.bump, motion.bump if motion.other_bump is None else motion.other_bump)
    downs = (motion.droop, motion.droop if motion.other_droop is None else motion.other_droop)
    whole = (2.0 * half, 2.0 * half)
    stops, straps = motion.stops_apart or whole, motion.droop_apart or whole
    found = []
    for way in (-1.0, 1.0):
        # Rolled this way, `up` is the end that is higher: its stop is the nearer, and the lower end's strap.
        up, down = (0, 1) if way > 0.0 else (1, 0)
        tops = ((ups[up], -way * stops[0] / 2.0), (ups[down], way * stops[1] / 2.0))
        floors = ((-downs[down], way * straps[0] / 2.0), (-downs[up], -way * straps[1] / 2.0))
        found += _strips(way, tops, floors, motion.most_roll, half)
    return tuple(sorted(found)) or STILL if found else (_level(motion, half),)


def _level(motion: Motion, half: float) -> Leg:
    """The one strip of an axle that cannot roll."""
    other_up = motion.bump if motion.other_bump is None else motion.other_bump
    other_down = motion.droop if motion.other_droop is None else motion.other_droop
    return Leg(0.0, 0.0, (-min(motion.droop, other_down), half), (min(motion.bump, other_up), half))


def _strips(way: float, tops: tuple[Ends, Ends], floors: tuple[Ends, Ends], most_roll: float, half: float) -> list[Leg]:
    """The strips to one side of no roll: between two lines above and two below, as far as there is room between."""
    end = way * most_roll
    for top in tops:
        for floor in floors:
            closing = way * (floor[1] - top[1])
            if closing > 0.0:
                end = way * min(abs(end), (top[0] - floor[0]) / closing)
    corners = {0.0, end}
    for first, second in (tops, floors):
        if first[1] != second[1]:
            cross = (second[0] - first[0]) / (first[1] - second[1])
            if 0.0 < way * cross < abs(end):
                corners.add(cross)
    edges = sorted(corners)  # one alone where the axle cannot roll this way
    made = []
    for low, high in zip(edges, edges[1:], strict=False):
        middle = (low + high) / 2.0
        top = min(tops, key=lambda line: line[0] + line[1] * middle)
        floor = max(floors, key=lambda line: line[0] + line[1] * middle)
        made.append(Leg(low, high, (floor[0], floor[1] + half), (top[0], top[1] + half)))
    return made


def swing(motion: Motion, obstacle: SweptObstacle, leg: Leg) -> Swing:
    """The obstacle seen from the wheel: (steer, share, roll, along) to its point and how that point moves.

    `share` says where this wheel is between its least and its greatest rise at that roll, from 0 to 1. Gives 36 floats:
    x, y, z; then their rates by steer, share, roll and along; then their second derivatives by steer twice, roll twice,
    steer and share, steer and roll, steer and along, share and roll, roll and along. The others are nothing. For a
    knuckle point steer is ignored.
    """
    x0, y0, z0 = obstacle.start
    ex, ey, ez = obstacle.edge
    least0, least1 = leg.least
    room0, room1 = leg.most[0] - least0, leg.most[1] - least1
    half, inset = motion.face_to_face / 2.0, motion.kingpin_inset
    lean_x, lean_y = -tan(motion.caster), -tan(motion.inclination)
    size = hypot(lean_x, lean_y, 1.0)
    kx, ky, kz = lean_x / size, lean_y / size, 1.0 / size
    steered = obstacle.rides != "knuckle"
    sunk = half - least1

    def see(steer: float, share: float, roll: float, along: float) -> tuple[float, ...]:
        cosine = sqrt(1.0 - roll * roll)
        room = room0 + room1 * roll
        across = y0 + along * ey + half
        above = z0 + along * ez - least0 - share * room + sunk * roll
        y, vz = cosine * across + roll * above, cosine * above - roll * across
        vx, vy = x0 + along * ex, y - half + inset
        rate = 1.0 / cosine  # of the angle, by its sine
        again = roll * rate * rate * rate
        k = sunk - share * room1  # of `above`, by the roll
        ty, tz = -roll * room, -cosine * room
        py, pz = rate * vz + roll * k, cosine * k - rate * y
        fy, fz = cosine * ey + roll * ez, cosine * ez - roll * ey
        ppy = again * vz + rate * pz + k
        ppz = -again * y - rate * py - roll * rate * k
        tpy, tpz = -room - roll * room1, roll * rate * room - cosine * room1
        pey, pez = rate * fz, -rate * fy
        if not steered:
            return (
                vx, vy - inset, vz, 0.0, 0.0, 0.0, 0.0, ty, tz, 0.0, py, pz, ex, fy, fz,
                0.0, 0.0, 0.0, 0.0, ppy, ppz, *NOTHING, 0.0, tpy, tpz, 0.0, pey, pez,
            )  # fmt: skip
        c, s = cos(steer), sin(steer)
        u = 1.0 - c
        m00, m11, m22 = c + kx * kx * u, c + ky * ky * u, c + kz * kz * u
        m01, m10 = kx * ky * u - kz * s, kx * ky * u + kz * s
        m02, m20 = kx * kz * u + ky * s, kx * kz * u - ky * s
        m12, m21 = ky * kz * u - kx * s, ky * kz * u + kx * s
        rx = m00 * vx + m01 * vy + m02 * vz
        ry = m10 * vx + m11 * vy + m12 * vz
        rz = m20 * vx + m21 * vy + m22 * vz
        # A turn about k moves whatever it turns at the rate k × that.
        sx, sy, sz = ky * rz - kz * ry, kz * rx - kx * rz, kx * ry - ky * rx
        tx, ty, tz = m01 * ty + m02 * tz, m11 * ty + m12 * tz, m21 * ty + m22 * tz
        px, py, pz = m01 * py + m02 * pz, m11 * py + m12 * pz, m21 * py + m22 * pz
        gx, gy, gz = m00 * ex + m01 * fy + m02 * fz, m10 * ex + m11 * fy + m12 * fz, m20 * ex + m21 * fy + m22 * fz
        return (
            rx, ry - inset, rz, sx, sy, sz, tx, ty, tz, px, py, pz, gx, gy, gz,
            ky * sz - kz * sy, kz * sx - kx * sz, kx * sy - ky * sx,
            m01 * ppy + m02 * ppz, m11 * ppy + m12 * ppz, m21 * ppy + m22 * ppz,
            ky * tz - kz * ty, kz * tx - kx * tz, kx * ty - ky * tx,
            ky * pz - kz * py, kz * px - kx * pz, kx * py - ky * px,
            ky * gz - kz * gy, kz * gx - kx * gz, kx * gy - ky * gx,
            m01 * tpy + m02 * tpz, m11 * tpy + m12 * tpz, m21 * tpy + m22 * tpz,
            m01 * pey + m02 * pez, m11 * pey + m12 * pez, m21 * pey + m22 * pez,
        )  # fmt: skip

    return see


def leg_of(motion: Motion, obstacle: SweptObstacle, place: SweepPlace) -> Leg:
    """The leg that `place` is in; raises ValueError where the wheel cannot go there."""
    if not 0.0 <= place.along <= 1.0:
        raise refuse("along", place.along, "from 0 to 1")
    if not -motion.steer_out <= place.steer <= motion.steer_in:
        raise refuse("steer", place.steer, f"from {-motion.steer_out:g} to {motion.steer_in:g} rad")
    found = legs(motion, obstacle.rides)
    if obstacle.rides != "body":
        return found[0]
    roll = place.roll(motion)
    for leg in found:
        least, room = leg.span(roll)
        if leg.low - SLIP <= roll <= leg.high + SLIP and least - SLIP <= place.rise <= least + room + SLIP:
            return leg
    raise refuse("rise", (place.rise, place.far_rise), "heights of the two wheels within what stops and droop allow")


def shared(leg: Leg, motion: Motion, place: SweepPlace) -> tuple[float, float, float, float]:
    """A place of the sweep as a leg's steer, share, roll and along."""
    roll = place.roll(motion) if leg.high > leg.low else leg.low
    least, room = leg.span(roll)
    share = min(1.0, max(0.0, (place.rise - least) / room)) if room > 0.0 else 0.0
    return place.steer, share, roll, place.along


def wheel_point(motion: Motion, obstacle: SweptObstacle, place: SweepPlace) -> Point:
    """Where the obstacle's point is in the frame that turns and travels with the wheel.

    Steered 90 degrees in about a vertical kingpin through the origin, a point ahead is found outboard:

    >>> from math import pi
    >>> still = Motion(face_to_face=1.5, steer_in=pi / 2)
    >>> x, y, z = wheel_point(still, SweptObstacle("stone", (0.4, 0.0, 0.1)), SweepPlace(steer=pi / 2))
    >>> round(x, 9) + 0.0, round(y, 9), round(z, 9)
    (0.0, 0.4, 0.1)
    """
    leg = leg_of(motion, obstacle, place)
    x, y, z, *_ = swing(motion, obstacle, leg)(*shared(leg, motion, place))
    return (x, y, z)


def measured_direction(motion: Motion, obstacle: SweptObstacle, place: SweepPlace, direction: Point) -> Point:
    """A direction of the wheel's frame as it lies in the frame in which the obstacle was measured."""
    leg = leg_of(motion, obstacle, place)
    steer, share, roll, _ = shared(leg, motion, place)
    found = []
    for unit in ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)):
        # The rate along a unit edge is where the motion turns that unit vector.
        arm = SweptObstacle("unit", (0.0, 0.0, 0.0), unit, obstacle.rides)
        turned = swing(motion, arm, leg)(steer, share, roll, 0.0)[12:15]
        found.append(sum(a * b for a, b in zip(turned, direction, strict=True)))
    return (found[0], found[1], found[2])
