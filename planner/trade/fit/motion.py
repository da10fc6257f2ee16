"""How a wheel steers and travels, and where a measured point then stands as seen from the wheel.

Frame of each wheel: origin at the center of the hub's mounting face, straight ahead at ride height; x forward,
y outboard, z up (axes as ISO 8855, mirrored for the right side, so that both sides use the same sums). Meters, radians.

Signs: steer is positive where the front of the wheel moves inboard ("in"), rise where a wheel moves up.

Derivation. The wheel is carried in two steps, and a point that stays behind is seen from the wheel by undoing them,
the last one first.

1. The axle. It is a rigid bar: the line between the two mounting faces keeps its length W. Let its middle rise by h and
   the bar roll about the fore-and-aft axis through its middle by phi, this wheel up. This wheel rises by
   t = h + (W/2) sin phi, the far one by h − (W/2) sin phi. With M the middle at rest, a body point p is at
   q = M + roll(−phi) (p − M − h). Of phi the sine is used, and called the roll.
2. The steer. The kingpin axis passes K = (0, −inset, 0) along k, the unit vector of
   (−tan caster, −tan inclination, 1). The frame is right-handed on the left side, so a steer of s (front inboard, from
   x toward −y) turns the wheel by −s about k, and the point is at r = K + turn(k, +s) (q − K).

`axle` points skip step 1, `knuckle` points skip both, as they ride along.

What the axle can do. Bump stops stand a apart, what ends the droop d apart, each middle to middle:

    h ± (a/2) sin phi ≤ bump,   h ± (d/2) sin phi ≥ −droop,   |sin phi| ≤ most_roll

each side with its own bump and droop. In h and sin phi that is a region with straight sides, and it is cut at its
corners into strips of roll (`Leg`), in which the least and the greatest rise of this wheel are straight lines.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from math import asin, cos, hypot, isfinite, pi, sin, sqrt, tan
from typing import Literal, NamedTuple

Point = tuple[float, float, float]
Ends = tuple[float, float]
Rides = Literal["body", "axle", "knuckle"]
Swing = Callable[[float, float, float, float], tuple[float, ...]]

MOST_LEAN = pi / 4  # a kingpin that leans more than this is a slip of the pen
MOST_ROLL = 0.5  # sine of the roll; no axle rolls 30 degrees against its body


class Unfit(ValueError):
    """A motion, section or obstacle that cannot be: the `entry`, what was `read`, and what is `accepted` instead.

    `accepted` names `lengths`, which are in m, in {braces}: whoever tells a person of it puts them in their units.
    """

    def __init__(self, entry: str, read: object, accepted: str, lengths: Mapping[str, float]) -> None:
        super().__init__(entry, read, accepted)
        self.entry, self.read, self.accepted, self.lengths = entry, read, accepted, lengths

    def __str__(self) -> str:
        accepted = self.accepted.format_map({name: f"{length:g} m" for name, length in self.lengths.items()})
        return f"{self.entry}: read {self.read!r}, accepted is {accepted}"


def refuse(entry: str, read: object, accepted: str, **lengths: float) -> Unfit:
    """The error for an entry that cannot be: names it, what was read, and what is accepted."""
    return Unfit(entry, read, accepted, lengths)


def _within(entry: str, value: float, low: float, high: float, accepted: str, **lengths: float) -> None:
    if not (isfinite(value) and low <= value <= high):
        raise refuse(entry, value, accepted, **lengths)


@dataclass(frozen=True, slots=True)
class Motion:
    """What one wheel can do: kingpin, face-to-face width of its axle, steer each way, travel of both ends.

    `steer_in`, `steer_out`, `bump` and `droop` are amounts, never negative; bump and droop are measured where the stops
    are. `other_bump` and `other_droop` belong to the far end of the axle and are taken as this end's where left out. An
    unsteered wheel has no steer either way. Inclination (from the front) and caster (from the side) are positive where
    the top leans inboard and rearward.

    `stops_apart` and `droop_apart` have two values each: the spacing as it holds the end that is the nearer to its own
    stop, then as it holds the other end. With the least spacing first and the greatest last, the region holds that of
    every spacing between; the other way about it lies within them all. Left out, the stops stand at the hub faces.

    The doubts are by how much the kingpin axis may lean another way, stand elsewhere, and the axle be wider or
    narrower: `doubt` says what that comes to.
    """

    face_to_face: float
    bump: float = 0.0
    droop: float = 0.0
    steer_in: float = 0.0
    steer_out: float = 0.0
    kingpin_inset: float = 0.0
    inclination: float = 0.0
    caster: float = 0.0
    other_bump: float | None = None
    other_droop: float | None = None
    stops_apart: Ends | None = None
    droop_apart: Ends | None = None
    most_roll: float = MOST_ROLL
    lean_doubt: float = 0.0
    inset_doubt: float = 0.0
    width_doubt: float = 0.0

    def __post_init__(self) -> None:
        if not (isfinite(self.face_to_face) and self.face_to_face > 0.0):
            raise refuse("face_to_face", self.face_to_face, "a length of more than nothing")
        for entry in ("inclination", "caster"):
            angle = getattr(self, entry)
            if not (isfinite(angle) and abs(angle) < MOST_LEAN):
                raise refuse(entry, angle, "a lean of less than 45° either way")
        half = self.face_to_face / 2.0
        accepted = "within {half}, half the face-to-face width"
        _within("kingpin_inset", self.kingpin_inset, -half, half, accepted, half=half)
        for entry in ("steer_in", "steer_out"):
            _within(entry, getattr(self, entry), 0.0, pi / 2, "an angle from 0 to 90°")
        most = MOST_ROLL * half
        for entry in ("bump", "droop", "other_bump", "other_droop"):
            value = getattr(self, entry)
            if value is not None:
                _within(entry, value, 0.0, most, "from 0 to {most}, a roll of 30°", most=most)
        for entry in ("stops_apart", "droop_apart"):
            for value in getattr(self, entry) or ():
                if not (isfinite(value) and value > 0.0):
                    raise refuse(entry, value, "a length of more than nothing")
        _within("most_roll", self.most_roll, 0.0, MOST_ROLL, "the sine of a roll from 0 to 30°")
        for entry in ("lean_doubt", "inset_doubt", "width_doubt"):
            if not (isfinite(getattr(self, entry)) and getattr(self, entry) >= 0.0):
                raise refuse(entry, getattr(self, entry), "nothing or more")

    @property
    def doubtful(self) -> bool:
        """Whether any of the doubts is more than nothing."""
        return bool(self.lean_doubt or self.inset_doubt or self.width_doubt)


@dataclass(frozen=True, slots=True)
class SweptObstacle:
    """A measured point, or an edge from `start` to `end`, in the wheel's frame at rest, and the clearance it must keep.

    `rides` says what it moves with. `tolerance` is how far along x, y and z it may stand from where it was measured.
    Where the kindest truck is asked about, what must be kept may be less than nothing.
    """

    name: str
    start: Point
    end: Point | None = None
    rides: Rides = "body"
    required: float = 0.0
    tolerance: Point = (0.0, 0.0, 0.0)

    def __post_init__(self) -> None:
        for point in (self.start, self.end or self.start):
            if len(point) != 3 or not all(isfinite(value) for value in point):
                raise refuse(self.name, point, "a point of three finite numbers, in m")
        if self.rides not in ("body", "axle", "knuckle"):
            raise refuse(self.name, self.rides, "body, axle or knuckle")
        if not isfinite(self.required):
            raise refuse(self.name, self.required, "a finite clearance, in m")
        if len(self.tolerance) != 3 or not all(isfinite(value) and value >= 0.0 for value in self.tolerance):
            raise refuse(self.name, self.tolerance, "three tolerances of nothing or more, in m")

    @property
    def edge(self) -> Point:
        """From start to end; nothing at all for a point."""
        end = self.end or self.start
        return (end[0] - self.start[0], end[1] - self.start[1], end[2] - self.start[2])

    @property
    def reach(self) -> float:
        """The farthest that the true point can be from the measured one: the corner of the box of tolerances."""
        return hypot(*self.tolerance)

    @property
    def keep(self) -> float:
        """What a sweep of the measured point must clear so that the true one keeps what is required, whatever it is."""
        return self.required + self.reach


class SweepPlace(NamedTuple):
    """One moment of the sweep: steer, how far this wheel and the far one have risen, and how far along the edge.

    `along` goes from 0 at the edge's start to 1.
    """

    steer: float = 0.0
    rise: float = 0.0
    far_rise: float = 0.0
    along: float = 0.0

    def roll(self, motion: Motion) -> float:
        """The sine of the axle's roll."""
        return (self.rise - self.far_rise) / motion.face_to_face


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


def doubt(motion: Motion, steer: float, roll: float, reach: float) -> float:
    """The most that the doubts move a point that is `reach` from the kingpin's foot, at a steer and sine of roll.

    Two turns by s about axes that pass one point and lie e apart take it at most 2 sin(s/2) e × reach apart: of the
    difference of the two only what lies across the axis counts, and of that only what the turn itself changes. An axis
    that stands elsewhere by i moves all by at most 2 sin(s/2) i, and a middle of the axle elsewhere by half of w
    moves all by at most 2 sin(phi/2) w/2.
    """
    turned = 2.0 * sin(min(abs(steer), pi) / 2.0)
    rolled = 2.0 * sin(asin(min(abs(roll), 1.0)) / 2.0)
    return turned * (motion.lean_doubt * reach + motion.inset_doubt) + rolled * motion.width_doubt / 2.0


def lean_doubt(inclination: float, caster: float, by_inclination: float, by_caster: float) -> float:
    """The most that a kingpin axis leans another way when its two angles are each off by as much, in radians.

    By caster alone the axis of (−tan caster, −tan inclination, 1) turns by at most 1/cos inclination of it, and the
    other way about: the rate is sec² c sec i / (sec² c + tan² i).

    >>> lean_doubt(0.0, 0.0, 0.01, 0.0)
    0.01
    """
    lean, trail = (
        min(abs(angle) + by, MOST_LEAN) for angle, by in ((inclination, by_inclination), (caster, by_caster))
    )
    return by_caster / cos(lean) + by_inclination / cos(trail)


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


NOTHING = (0.0,) * 9  # what steer does to a point that it does not move


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


SLIP = 1e-9  # in m, or of the sine of a roll: more than the sums' own rounding, less than anybody could measure


def shared(leg: Leg, motion: Motion, place: SweepPlace) -> tuple[float, float, float, float]:
    """A place of the sweep as a leg's steer, share, roll and along."""
    roll = place.roll(motion) if leg.high > leg.low else leg.low
    least, room = leg.span(roll)
    share = min(1.0, max(0.0, (place.rise - least) / room)) if room > 0.0 else 0.0
    return place.steer, share, roll, place.along


def wheel_point(motion: Motion, obstacle: SweptObstacle, place: SweepPlace) -> Point:
    """Where the obstacle's point is in the frame that turns and travels with the wheel.

    Steered 90 degrees in about a vertical kingpin through the origin, a point ahead is found outboard:

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
