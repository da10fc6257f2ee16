"""How a wheel steers and travels, and where a measured point then stands as seen from the wheel.

Frame of each wheel: origin at the center of the hub's mounting face, straight ahead at ride height; x forward,
y outboard, z up (axes as ISO 8855, mirrored for the right side, so that both sides use the same sums). Meters, radians.

Signs: steer is positive where the front of the wheel moves inboard ("in"), travel where the axle end moves up (bump).

Derivation. The wheel is carried in two steps, and a point that stays behind is seen from the wheel by undoing them,
the last one first.

1. The axle. Let this end rise by t and the other end by u. The face-to-face line, of length W, keeps its length, so its
   middle rises by (t + u)/2 and it rolls about the fore-and-aft axis through its middle by phi, sin phi = (t − u)/W.
   `together`: u = t. `crossed`: u = −t, held to the other end's bump and droop. In each stretch between those stops
   both (t + u)/2 and sin phi are straight-line functions of t; such a stretch is a `Leg`.
   With M the middle at rest, a body point p is at q = M + roll(−phi) (p − M − rise).
2. The steer. The kingpin axis passes K = (0, −inset, 0) along k, the unit vector of
   (−tan caster, −tan inclination, 1). The frame is right-handed on the left side, so a steer of s (front inboard, from
   x toward −y) turns the wheel by −s about k, and the point is at r = K + turn(k, +s) (q − K).

`axle` points skip step 1, `knuckle` points skip both, as they ride along.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from math import cos, hypot, isfinite, pi, sin, sqrt, tan
from typing import Literal, NamedTuple

Point = tuple[float, float, float]
Case = Literal["together", "crossed"]
Rides = Literal["body", "axle", "knuckle"]
Swing = Callable[[float, float, float], tuple[float, ...]]

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

    `steer_in`, `steer_out`, `bump` and `droop` are amounts, never negative. `other_bump` and `other_droop` belong to
    the far end of the axle and are taken as this end's where left out. An unsteered wheel has no steer either way.
    Inclination (from the front) and caster (from the side) are positive where the top leans inboard and rearward.
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


@dataclass(frozen=True, slots=True)
class SweptObstacle:
    """A measured point, or an edge from `start` to `end`, in the wheel's frame at rest, and the clearance it must keep.

    `rides` says what it moves with. `tolerance` is the measuring tolerance along x, y and z.
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
        if not (isfinite(self.required) and self.required >= 0.0):
            raise refuse(self.name, self.required, "a required clearance of nothing or more, in m")
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
    """One moment of the sweep: steer, travel and case, and how far along the edge, from 0 at its start to 1."""

    steer: float = 0.0
    travel: float = 0.0
    case: Case = "together"
    along: float = 0.0


class Leg(NamedTuple):
    """A stretch of travel in which the middle's rise and the sine of the roll are straight-line functions of travel."""

    case: Case
    low: float
    high: float
    rise: tuple[float, float]  # at no travel, and per meter of travel
    roll: tuple[float, float]


def legs(motion: Motion, rides: Rides) -> tuple[Leg, ...]:
    """The stretches of travel that a point that rides with `rides` goes through, case by case."""
    if rides != "body":
        return (Leg("together", 0.0, 0.0, (0.0, 0.0), (0.0, 0.0)),)
    low, high = -motion.droop, motion.bump
    found = [Leg("together", low, high, (0.0, 1.0), (0.0, 0.0))]
    if low == high == 0.0:
        return tuple(found)
    up = motion.bump if motion.other_bump is None else motion.other_bump
    down = motion.droop if motion.other_droop is None else motion.other_droop
    width = motion.face_to_face
    # The far end answers −t between its own stops; past them it stays on the stop.
    found += [
        Leg("crossed", max(low, start), min(high, stop), rise, roll)
        for start, stop, rise, roll in (
            (low, -up, (up / 2.0, 0.5), (-up / width, 1.0 / width)),
            (-up, down, (0.0, 0.0), (0.0, 2.0 / width)),
            (down, high, (-down / 2.0, 0.5), (down / width, 1.0 / width)),
        )
        if max(low, start) < min(high, stop)
    ]
    return tuple(found)


def swing(motion: Motion, obstacle: SweptObstacle, leg: Leg) -> Swing:
    """The obstacle seen from the wheel: (steer, travel, along) to its point and how that point moves.

    Gives 27 floats: x, y, z; then their rates by steer, by travel, by along; then their second derivatives by steer
    twice, travel twice, steer and travel, steer and along, travel and along. For a knuckle point steer is ignored.
    """
    x0, y0, z0 = obstacle.start
    ex, ey, ez = obstacle.edge
    rise0, rise1 = leg.rise
    roll0, roll1 = leg.roll
    half, inset = motion.face_to_face / 2.0, motion.kingpin_inset
    lean_x, lean_y = -tan(motion.caster), -tan(motion.inclination)
    size = hypot(lean_x, lean_y, 1.0)
    kx, ky, kz = lean_x / size, lean_y / size, 1.0 / size
    steered = obstacle.rides != "knuckle"

    def see(steer: float, travel: float, along: float) -> tuple[float, ...]:
        sin_roll = roll0 + roll1 * travel
        cos_roll = sqrt(1.0 - sin_roll * sin_roll)
        across, above = y0 + along * ey + half, z0 + along * ez - rise0 - rise1 * travel
        y = cos_roll * across + sin_roll * above
        vx, vy, vz = x0 + along * ex, y - half + inset, cos_roll * above - sin_roll * across
        turn_rate = roll1 / cos_roll
        turn_twice = turn_rate * turn_rate * sin_roll / cos_roll
        ty, tz = turn_rate * vz - rise1 * sin_roll, -turn_rate * y - rise1 * cos_roll
        fy, fz = cos_roll * ey + sin_roll * ez, cos_roll * ez - sin_roll * ey
        tty = turn_twice * vz + turn_rate * (tz - rise1 * cos_roll)
        ttz = -turn_twice * y - turn_rate * (ty - rise1 * sin_roll)
        tey, tez = turn_rate * fz, -turn_rate * fy
        if not steered:
            point = (vx, vy - inset, vz, 0.0, 0.0, 0.0, 0.0, ty, tz, ex, fy, fz)
            still = (0.0,) * 6
            return (*point, 0.0, 0.0, 0.0, 0.0, tty, ttz, *still, 0.0, tey, tez)
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
        gx, gy, gz = m00 * ex + m01 * fy + m02 * fz, m10 * ex + m11 * fy + m12 * fz, m20 * ex + m21 * fy + m22 * fz
        return (
            rx, ry - inset, rz, sx, sy, sz, tx, ty, tz, gx, gy, gz,
            ky * sz - kz * sy, kz * sx - kx * sz, kx * sy - ky * sx,
            m01 * tty + m02 * ttz, m11 * tty + m12 * ttz, m21 * tty + m22 * ttz,
            ky * tz - kz * ty, kz * tx - kx * tz, kx * ty - ky * tx,
            ky * gz - kz * gy, kz * gx - kx * gz, kx * gy - ky * gx,
            m01 * tey + m02 * tez, m11 * tey + m12 * tez, m21 * tey + m22 * tez,
        )  # fmt: skip

    return see


def leg_of(motion: Motion, obstacle: SweptObstacle, place: SweepPlace) -> Leg:
    """The leg that `place` is in; raises ValueError where the wheel cannot go there."""
    if not 0.0 <= place.along <= 1.0:
        raise refuse("along", place.along, "from 0 to 1")
    if not -motion.steer_out <= place.steer <= motion.steer_in:
        raise refuse("steer", place.steer, f"from {-motion.steer_out:g} to {motion.steer_in:g} rad")
    if not -motion.droop <= place.travel <= motion.bump:
        raise refuse("travel", place.travel, f"from {-motion.droop:g} to {motion.bump:g} m")
    found = legs(motion, obstacle.rides)
    if len(found) == 1:
        return found[0]
    return next(leg for leg in found if leg.case == place.case and leg.low <= place.travel <= leg.high)


def wheel_point(motion: Motion, obstacle: SweptObstacle, place: SweepPlace) -> Point:
    """Where the obstacle's point is in the frame that turns and travels with the wheel.

    Steered 90 degrees in about a vertical kingpin through the origin, a point ahead is found outboard:

    >>> still = Motion(face_to_face=1.5, steer_in=pi / 2)
    >>> x, y, z = wheel_point(still, SweptObstacle("stone", (0.4, 0.0, 0.1)), SweepPlace(steer=pi / 2))
    >>> round(x, 9) + 0.0, round(y, 9), round(z, 9)
    (0.0, 0.4, 0.1)
    """
    x, y, z, *_ = swing(motion, obstacle, leg_of(motion, obstacle, place))(place.steer, place.travel, place.along)
    return (x, y, z)


def measured_direction(motion: Motion, obstacle: SweptObstacle, place: SweepPlace, direction: Point) -> Point:
    """A direction of the wheel's frame as it lies in the frame in which the obstacle was measured."""
    leg = leg_of(motion, obstacle, place)
    found = []
    for unit in ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)):
        # The rate along a unit edge is where the motion turns that unit vector.
        arm = SweptObstacle("unit", (0.0, 0.0, 0.0), unit, obstacle.rides)
        turned = swing(motion, arm, leg)(place.steer, place.travel, 0.0)[9:12]
        found.append(sum(a * b for a, b in zip(turned, direction, strict=True)))
    return (found[0], found[1], found[2])
