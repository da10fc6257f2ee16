"""What one wheel can do: its steer, the travel of its axle, what is in doubt of them; and what it is held against.

Frame of each wheel: origin at the center of the hub's mounting face, straight ahead at ride height; x forward,
y outboard, z up (axes as ISO 8855, mirrored for the right side, so that both sides use the same sums). Meters, radians.

Signs: steer is positive where the front of the wheel moves inboard ("in"), rise where a wheel moves up.

Derivation, for `swing.py`. The wheel is carried in two steps, and a point that stays behind is seen from the wheel by
undoing them, the last one first.

1. The axle. It is a rigid bar: the line between the two mounting faces keeps its length W. Let its middle rise by h and
   the bar roll about the fore-and-aft axis through its middle by phi, this wheel up. This wheel rises by
   t = h + (W/2) sin phi, the far one by h − (W/2) sin phi. With M the middle at rest, a body point p is at
   q = M + roll(−phi) (p − M − h). Of phi the sine is used, and called the roll.
2. The steer. The kingpin axis passes K = (0, −inset, 0) along k, the unit vector of
   (−tan caster, −tan inclination, 1). The frame is right-handed on the left side, so a steer of s (front inboard, from
   x toward −y) turns the wheel by −s about k, and the point is at r = K + turn(k, +s) (q − K).

`axle` points skip step 1, `knuckle` points skip both, as they ride along.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from math import asin, cos, hypot, isfinite, pi, sin
from typing import Literal, NamedTuple

Point = tuple[float, float, float]
Ends = tuple[float, float]
Rides = Literal["body", "axle", "knuckle"]

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
