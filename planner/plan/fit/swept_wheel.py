"""One wheel of a project as the sweep takes it: motion, tire and obstacles, read from the worksheet with their ends."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import NamedTuple

from planner.plan.truck.project import OpenProject
from planner.project.models.measurements import Obstacle as Measured
from planner.trade.fit.motion import Motion, Point, SweptObstacle, refuse
from planner.trade.fit.section import TireSection
from planner.worksheet.outcome import Known, Spot, Waiting
from planner.worksheet.sheet import Worksheet


class SweptReading(NamedTuple):
    """One value that the sweep takes, with the ends of its tolerance and the entry that brings most of it."""

    value: float
    low: float
    high: float
    source: Spot | None


class SweptWheel(NamedTuple):
    """One axle's wheel in one fitment, ready to be swept; `wide` and `large` are at the ends that hurt.

    `waits` is what its offset waits for, where it is wanted for any backspace: then it stands nowhere yet.
    """

    motion: Motion
    wide: Motion
    section: TireSection
    large: TireSection
    readings: Mapping[str, SweptReading]
    waits: tuple[Spot, ...] = ()


MOTION = ("face_to_face", "bump_travel", "droop_travel")

OTHER = {"bump_travel": "other_bump", "droop_travel": "other_droop"}  # of the far end of the axle

STEERING = ("kingpin_inset", "inclination", "caster", "stop_angle")

TIRE = ("section_width", "tread_width", "overall_diameter", "offset", "inner_radius", "overall_width")

KINGPIN_READINGS = {
    "kingpin_inset": "kingpin_inset",
    "inclination": "inclination",
    "caster": "caster",
    "face_to_face": "face_to_face",
}

SHAPES = {"section_width": "section_width", "overall_diameter": "diameter", "offset": "offset"}

ReadingEnds = Mapping[
    str, tuple[tuple[Motion, TireSection], ...]
]  # by reading, motion and tire with it at its low and high end


def read(sheet: Worksheet, node: str, fitment: str, axle: str) -> SweptReading | Spot:
    """A node's value for one end of one fitment; its spot where there is none."""
    layout = sheet.layout
    full = tuple({"fitment": fitment, "axle": axle}.get(axis, "") for axis in layout.axes)
    spot = Spot(node, layout.place(full, layout.scopes[node]))
    outcome = sheet.outcome(spot)
    if not isinstance(outcome, Known):
        return spot
    source = outcome.shares[0].spot if outcome.shares else None
    return SweptReading(outcome.value, outcome.low, outcome.high, source)


def swept_wheel(
    sheet: Worksheet, fitment: str, axle: str, steers: bool, far: Worksheet | None = None, anywhere: bool = False
) -> SweptWheel | tuple[Spot, ...]:
    """The wheel at one axle, or the spots without a value; raises ValueError naming an impossible entry.

    `far` has the readings of the other side, whose travel lets the axle roll; without it both ends travel alike. What
    is asked for `anywhere`, at any backspace, needs no offset.
    """
    nodes = (*MOTION, *(STEERING if steers else ()), *TIRE)
    found = {node: read(sheet, node, fitment, axle) for node in nodes}
    if far is not None:
        found |= {OTHER[node]: read(far, node, fitment, axle) for node in OTHER}
    missing = tuple(one for one in found.values() if isinstance(one, Spot))
    waits = missing if anywhere and missing == (found["offset"],) else ()
    if missing and not waits:
        return missing
    if waits:
        found["offset"] = SweptReading(0.0, 0.0, 0.0, None)
    taken = {node: one for node, one in found.items() if isinstance(one, SweptReading)}
    outer = read(sheet, "stop_angle_out", fitment, axle) if steers else None
    # The outer wheel turns less than the inner one: without a reading of its own it is swept as far.
    taken["stop_angle_out"] = (
        outer if isinstance(outer, SweptReading) else taken.get("stop_angle", SweptReading(0.0, 0.0, 0.0, None))
    )
    taken.setdefault("stop_angle", SweptReading(0.0, 0.0, 0.0, None))
    return SweptWheel(
        _motion(taken, "value"), _motion(taken, "high"), _section(taken, "value"), _section(taken, "high"), taken, waits
    )


def side_wheels(opened: OpenProject, fitment: str, axle: str) -> dict[str, SweptWheel | tuple[Spot, ...]]:
    """The wheel of each side, where left and right were read apart and differ; nothing where they are alike."""
    steers = opened.steers(axle, fitment)
    sheets = opened.side_sheets
    across = zip(sheets, reversed(list(sheets.values())), strict=True)
    found = {side: swept_wheel(sheets[side], fitment, axle, steers, far) for side, far in across}
    several = list(found.values())
    return found if any(one != several[0] for one in several) else {}


def keys_behind(opened: OpenProject, spots: Iterable[Spot]) -> tuple[str, ...]:
    """The keys of the entries that spots without a value wait for, or of the impossible ones behind them."""
    keys: list[str] = []
    for spot in spots:
        outcome = opened.sheet.outcome(spot)
        needs = (*outcome.needs, *outcome.either) if isinstance(outcome, Waiting) else ()
        keys += [key for need in needs or (spot,) for key in opened.keys_needed(need)]
    return tuple(dict.fromkeys(keys))


def _motion(taken: Mapping[str, SweptReading], end: str) -> Motion:
    def far(node: str) -> float:
        return max(0.0, float(getattr(taken[node], end)))

    lean = {name: taken[node].value for node, name in KINGPIN_READINGS.items() if node in taken}
    other = {name: far(name) for name in OTHER.values() if name in taken}
    return Motion(
        bump=far("bump_travel"),
        droop=far("droop_travel"),
        steer_out=far("stop_angle"),
        steer_in=far("stop_angle_out"),
        **lean,
        **other,
    )


def _section(taken: Mapping[str, SweptReading], end: str) -> TireSection:
    def far(node: str) -> float:
        return float(getattr(taken[node], end))

    tread, section = taken["tread_width"].value, taken["section_width"].value
    if tread > section:
        raise refuse("tread_width", tread, "at most the section width, {most}", most=section)
    thin = taken["inner_radius"].value if end == "value" else taken["inner_radius"].low
    return TireSection(
        section_width=far("section_width"),
        tread_width=min(far("tread_width"), far("section_width")),
        diameter=far("overall_diameter"),
        offset=taken["offset"].value,
        barrel_radius=thin,
        rim_width=taken["overall_width"].value,
    )


def reading_ends(here: SweptWheel) -> ReadingEnds:
    """The wheel with each of the readings that have no sweep of their own at either end of its tolerance."""
    motion, section = here.motion, here.section
    found: dict[str, tuple[tuple[Motion, TireSection], ...]] = {}
    for node, one in here.readings.items():
        ends = (one.low, one.high)
        if node in KINGPIN_READINGS:
            found[node] = tuple((replace(motion, **{KINGPIN_READINGS[node]: end}), section) for end in ends)
        elif node == "section_width":
            treads = [min(section.tread_width, end) for end in ends]
            found[node] = tuple(
                (motion, replace(section, section_width=end, tread_width=tread))
                for end, tread in zip(ends, treads, strict=True)
            )
        elif node in SHAPES:
            found[node] = tuple((motion, replace(section, **{SHAPES[node]: end})) for end in ends)
    return found


def swept_obstacle(measured: Measured, name: str, required: float) -> SweptObstacle | None:
    """The obstacle as the sweep takes it; None while it is not measured."""
    if measured.at is None or measured.moves_with is None:
        return None
    at, to = measured.at, measured.to
    slack = _point(max(one.tolerance, other.tolerance) for one, other in zip(at, to or at, strict=True))
    start, end = _point(axis.value for axis in at), _point(axis.value for axis in to) if to else None
    return SweptObstacle(name, start, end, measured.moves_with, required, slack)


def _point(values: Iterable[float]) -> Point:
    forward, outboard, up = values
    return forward, outboard, up


def filled(large: TireSection, offsets: tuple[float, float]) -> TireSection:
    """The section that the tires at all offsets from one end to the other fill together."""
    stretch = offsets[1] - offsets[0]
    return replace(
        large,
        offset=(offsets[0] + offsets[1]) / 2,
        section_width=large.section_width + stretch,
        tread_width=large.tread_width + stretch,
        rim_width=large.rim_width + stretch,
    )
