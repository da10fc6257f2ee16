"""How an axle moves by its readings: in the middle of their tolerances, as far as it may go, and as far as it must."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import NamedTuple

from planner.trade.fit.motion import MOST_LEAN, MOST_ROLL, Ends, Motion, lean_doubt, refuse
from planner.worksheet.outcome import Spot

SPACINGS = {"bump_spacing": "stops_apart", "droop_spacing": "droop_apart"}

OTHER = {"squeezed_bump": "other_bump", "droop_travel": "other_droop"}  # of the far end of the axle

KINGPIN_READINGS = ("kingpin_inset", "inclination", "caster", "face_to_face")


class SweptReading(NamedTuple):
    """One value that the sweep takes, with the ends of its tolerance and the entry that brings most of it."""

    value: float
    low: float
    high: float
    source: Spot | None
    assumed: bool = False

    @property
    def half(self) -> float:
        """The larger of the two halves of its tolerance."""
        return max(self.high - self.value, self.value - self.low)

    def turned(self) -> SweptReading:
        """The same, counted the other way."""
        return self._replace(value=-self.value, low=-self.high, high=-self.low)


Readings = Mapping[str, SweptReading]


def middle_motion(taken: Readings) -> Motion:
    """The motion in the middle of every tolerance."""
    return _motion(taken, "value", "value")


def widest_motion(taken: Readings) -> Motion:
    """All that a truck within the tolerances may do: the greatest travel, and every spacing that the stops may have."""
    half = {node: taken[node].half for node in KINGPIN_READINGS[:3] if node in taken}
    lean = 0.0
    if half:
        for node in ("inclination", "caster"):
            most = abs(taken[node].value) + half[node]
            if most >= MOST_LEAN:
                raise refuse(node, most, "a lean of less than 45° either way")
        lean = lean_doubt(taken["inclination"].value, taken["caster"].value, half["inclination"], half["caster"])
    inset, width = half.get("kingpin_inset", 0.0), taken["face_to_face"].half
    return replace(_motion(taken, "high", "low"), lean_doubt=lean, inset_doubt=inset, width_doubt=width)


def kindest_motion(taken: Readings) -> Motion:
    """What every truck within the tolerances does."""
    return _motion(taken, "low", "high")


def _motion(taken: Readings, end: str, other: str) -> Motion:
    """The motion with travel, steer and roll at one end of their tolerances, and spacings from the `other` to it."""

    def far(node: str) -> float:
        return max(0.0, float(getattr(taken[node], end)))

    def apart(node: str) -> Ends:
        return getattr(taken[node], other), getattr(taken[node], end)

    lean = {node: taken[node].value for node in KINGPIN_READINGS if node in taken}
    return Motion(
        bump=far("squeezed_bump"),
        droop=far("droop_travel"),
        steer_out=far("stop_angle"),
        steer_in=far("stop_angle_out"),
        stops_apart=apart("bump_spacing"),
        droop_apart=apart("droop_spacing"),
        most_roll=_most_roll(taken, end, other),
        **lean,
        **{name: far(name) for name in OTHER.values() if name in taken},
    )


def _most_roll(taken: Readings, end: str, across: str) -> float:
    """The sine of the roll at which one wheel stands over the other by the most that was measured, if that was."""
    if "most_cross_travel" not in taken:
        return MOST_ROLL
    width = float(getattr(taken["face_to_face"], across))
    return min(MOST_ROLL, max(0.0, float(getattr(taken["most_cross_travel"], end))) / width)


def refuse_spacings(taken: Readings) -> None:
    """Refuse spacings as entered that are wider than the axle, or roll it past what any axle rolls."""
    width = taken["face_to_face"].value
    entered = [(taken[node].value, entry) for node, entry in SPACINGS.items() if not taken[node].assumed]
    if not entered:
        return
    if max(entered)[0] > width:
        raise refuse(max(entered)[1], max(entered)[0], "at most {width}, the face-to-face width", width=width)
    apart = sum(taken[node].high if taken[node].assumed else taken[node].value for node in SPACINGS)
    travel = taken["squeezed_bump"].value + taken["droop_travel"].value
    if min(2.0 * travel / apart, _most_roll(taken, "value", "value")) >= MOST_ROLL > 0.0:
        least, entry = min(entered)
        more = 2.0 * travel / MOST_ROLL - (apart - least)
        raise refuse(entry, least, "more than {more}: closer in, bump and droop roll the axle past 30°", more=more)
