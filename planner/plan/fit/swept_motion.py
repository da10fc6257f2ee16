"""How an axle moves by its readings: in the middle of their tolerances, as far as it may go, and as far as it must."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, NamedTuple

from planner.trade.fit.motion import MOST_LEAN, MOST_ROLL, Ends, Motion, lean_doubt, refuse
from planner.worksheet.outcome import Spot

SPACINGS = {"bump_spacing": "stops_apart", "droop_spacing": "droop_apart"}

OTHER = {"squeezed_bump": "other_bump", "droop_travel": "other_droop"}  # of the far end of the axle

KINGPIN_READINGS = {
    "kingpin_inset": "kingpin_inset",
    "inclination": "inclination",
    "caster": "caster",
    "face_to_face": "face_to_face",
}


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
    stops, droop = _spacings(taken, "value", "value")
    roll = _most_roll(taken, "value", "value")
    return Motion(stops_apart=stops, droop_apart=droop, most_roll=roll, **_lengths(taken, "value"))


def widest_motion(taken: Readings) -> Motion:
    """All that a truck within the tolerances may do: the greatest travel, and every spacing that the stops may have."""
    stops, droop = _spacings(taken, "low", "high")
    half = {node: taken[node].half for node in ("kingpin_inset", "inclination", "caster") if node in taken}
    lean = 0.0
    if half:
        for node in ("inclination", "caster"):
            most = abs(taken[node].value) + half[node]
            if most >= MOST_LEAN:
                raise refuse(node, most, "a lean of less than 45° either way")
        lean = lean_doubt(taken["inclination"].value, taken["caster"].value, half["inclination"], half["caster"])
    return Motion(
        stops_apart=stops,
        droop_apart=droop,
        most_roll=_most_roll(taken, "high", "low"),
        lean_doubt=lean,
        inset_doubt=half.get("kingpin_inset", 0.0),
        width_doubt=taken["face_to_face"].half,
        **_lengths(taken, "high"),
    )


def kindest_motion(taken: Readings) -> Motion:
    """What every truck within the tolerances does."""
    stops, droop = _spacings(taken, "high", "low")
    roll = _most_roll(taken, "low", "high")
    return Motion(stops_apart=stops, droop_apart=droop, most_roll=roll, **_lengths(taken, "low"))


def _spacings(taken: Readings, first: str, last: str) -> tuple[Ends, Ends]:
    """The spacings of the stops and of what ends the droop, each at two ends of its tolerance."""
    stops, droop = (taken[node] for node in ("bump_spacing", "droop_spacing"))
    return (getattr(stops, first), getattr(stops, last)), (getattr(droop, first), getattr(droop, last))


def _lengths(taken: Readings, end: str) -> dict[str, Any]:
    """What a motion takes as it stands, with travel and steer at one end of their tolerances."""

    def far(node: str) -> float:
        return max(0.0, float(getattr(taken[node], end)))

    lean = {name: taken[node].value for node, name in KINGPIN_READINGS.items() if node in taken}
    other = {name: far(name) for name in OTHER.values() if name in taken}
    turns = {"steer_out": far("stop_angle"), "steer_in": far("stop_angle_out")}
    return {"bump": far("squeezed_bump"), "droop": far("droop_travel")} | turns | lean | other


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
