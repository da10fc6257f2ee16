"""One wheel of a project as the sweep takes it: motion, tire and obstacles, read from the worksheet with their ends."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from math import cos, hypot, radians, sin
from typing import Literal, NamedTuple

from planner.plan.fit.swept_motion import (
    OTHER,
    SPACINGS,
    SweptReading,
    kindest_motion,
    middle_motion,
    refuse_spacings,
    widest_motion,
)
from planner.plan.truck.project import OpenProject, PlannedObstacle
from planner.project.models.measurements import Obstacle
from planner.trade.fit.motion import Motion, Point, SweptObstacle, lean_doubt, refuse
from planner.trade.fit.section import TireSection
from planner.worksheet.outcome import Failed, Known, Spot, Waiting
from planner.worksheet.sheet import Worksheet

TireName = Literal["", "inner", "outer"]

PLANES: dict[TireName, str] = {"inner": "inner_center_plane", "outer": "outer_center_plane"}


class SweptWheel(NamedTuple):
    """One axle's wheel in one fitment, ready to be swept; `wide` and `large` are at the ends that hurt.

    `wide` goes wherever a truck that agrees with the readings may go, `kind` only where every such truck does. `small`
    is the tire with everything at the kindest. `waits` is what its offset waits for, where it is wanted for any
    backspace: then it stands nowhere yet. `tire` says which of a pair it is.
    """

    motion: Motion
    wide: Motion
    kind: Motion
    section: TireSection
    large: TireSection
    small: TireSection
    readings: Mapping[str, SweptReading]
    waits: tuple[Spot, ...] = ()
    tire: TireName = ""

    @property
    def spacings_assumed(self) -> tuple[str, ...]:
        """The entries of the spacings across the truck that nobody measured."""
        return tuple(entry for node, entry in SPACINGS.items() if self.readings[node].assumed)


MOTION = ("face_to_face", "squeezed_bump", "droop_travel", "bump_spacing", "droop_spacing")

AT_REST = ("side_shift", "camber", "toe")  # assumed where they are not entered, so always known

STEERING = ("kingpin_inset", "inclination", "caster", "stop_angle")

TIRE = (
    "grown_width", "tread_width", "crown_drop", "grown_diameter", "offset",
    "inner_radius", "flange_radius", "overall_width", "weight_reach",
)  # fmt: skip

MOST_CAMBER = radians(10.0)  # a wheel that leans more is a slip of the pen

SHAPES = {
    "grown_width": "section_width",
    "tread_width": "tread_width",
    "crown_drop": "crown_drop",
    "grown_diameter": "diameter",
    "inner_radius": "barrel_radius",
    "flange_radius": "flange_radius",
    "weight_reach": "weights",
}

TireEnds = Mapping[str, tuple[TireSection, ...]]  # by reading, the tire with it at its low and high end


def _spot(sheet: Worksheet, node: str, fitment: str, axle: str) -> Spot:
    layout = sheet.layout
    full = tuple({"fitment": fitment, "axle": axle}.get(axis, "") for axis in layout.axes)
    return Spot(node, layout.place(full, layout.scopes[node]))


def read(sheet: Worksheet, node: str, fitment: str, axle: str) -> SweptReading | Spot:
    """A node's value for one end of one fitment; its spot where there is none."""
    spot = _spot(sheet, node, fitment, axle)
    outcome = sheet.outcome(spot)
    if not isinstance(outcome, Known):
        return spot
    source = outcome.shares[0].spot if outcome.shares else None
    unmeasured = node in SPACINGS and sheet.value(_spot(sheet, SPACINGS[node], fitment, axle)) is None
    return SweptReading(outcome.value, outcome.low, outcome.high, source, unmeasured)


def swept_wheel(
    sheet: Worksheet,
    fitment: str,
    axle: str,
    steers: bool,
    far: Worksheet | None = None,
    anywhere: bool = False,
    tire: TireName = "",
) -> SweptWheel | tuple[Spot, ...]:
    """The wheel at one axle, or the spots without a value; raises ValueError naming an impossible entry.

    `far` has the readings of the other side, whose travel lets the axle roll; without it both ends travel alike. What
    is asked for `anywhere`, at any backspace, needs no offset. One `tire` of a pair stands at its own center plane, and
    that, the other way about, is what counts as its offset.
    """
    nodes = (*MOTION, *AT_REST, *(STEERING if steers else ()), *TIRE)
    found = {node: read(sheet, node, fitment, axle) for node in nodes}
    if tire:
        stands = read(sheet, PLANES[tire], fitment, axle)
        found["offset"] = stands if isinstance(stands, Spot) else stands.turned()
        found["grown_diameter"] = _unmatched(sheet, fitment, axle, found["grown_diameter"])
    if far is not None:
        found |= {OTHER[node]: read(far, node, fitment, axle) for node in OTHER}
    missing = tuple(one for one in found.values() if isinstance(one, Spot))
    waits = missing if anywhere and missing == (found["offset"],) else ()
    if missing and not waits:
        return missing
    if waits:
        found["offset"] = SweptReading(0.0, 0.0, 0.0, None)
    taken = {node: one for node, one in found.items() if isinstance(one, SweptReading)}
    tread, section = taken["tread_width"].value, taken["grown_width"].value
    if tread > section:
        raise refuse("tread_width", tread, "at most the section width, {most}", most=section)
    outer = read(sheet, "stop_angle_out", fitment, axle) if steers else None
    # The outer wheel turns less than the inner one: without a reading of its own it is swept as far.
    taken["stop_angle_out"] = (
        outer if isinstance(outer, SweptReading) else taken.get("stop_angle", SweptReading(0.0, 0.0, 0.0, None))
    )
    taken.setdefault("stop_angle", SweptReading(0.0, 0.0, 0.0, None))
    cross = read(sheet, "most_cross_travel", fitment, axle)
    if isinstance(cross, SweptReading):
        taken["most_cross_travel"] = cross
    elif isinstance(outcome := sheet.outcome(cross), Waiting) and outcome.barred:
        return (cross,)  # it was entered, and is not known: the axle is not one whose cross travel nobody measured
    if abs(taken["camber"].value) > MOST_CAMBER:
        raise refuse("camber", taken["camber"].value, "a lean of at most 10° either way")
    refuse_spacings(taken)
    middle, large, small = (_section(taken, each) for each in ("value", "high", "low"))
    return SweptWheel(
        middle_motion(taken), widest_motion(taken), kindest_motion(taken), middle, large, small, taken, waits, tire
    )


def _unmatched(sheet: Worksheet, fitment: str, axle: str, diameter: SweptReading | Spot) -> SweptReading | Spot:
    """The diameter of either tire of a pair: where the two differ, nobody says which of them it was read on."""
    apart = read(sheet, "pair_difference", fitment, axle)
    if isinstance(apart, Spot):
        outcome = sheet.outcome(apart)
        return apart if isinstance(outcome, Waiting) and outcome.barred else diameter
    if isinstance(diameter, Spot):
        return diameter
    by = max(0.0, apart.high)
    return diameter._replace(low=diameter.low - by, high=diameter.high + by)


def keys_behind(opened: OpenProject, spots: Iterable[Spot]) -> tuple[str, ...]:
    """The keys of the entries that spots without a value wait for, or of the impossible ones behind them."""
    keys: list[str] = []
    for spot in spots:
        outcome = opened.sheet.outcome(spot)
        needs: Iterable[Spot] = (*outcome.needs, *outcome.either) if isinstance(outcome, Waiting) else ()
        if isinstance(outcome, Failed) and outcome.spot is not None:
            needs = _in_place_of(opened, outcome.spot, outcome.key)
        keys += [key for need in needs or (spot,) for key in opened.keys_needed(need)]
    return tuple(dict.fromkeys(keys))


def _in_place_of(opened: OpenProject, failed: Spot, impossible: str) -> tuple[Spot, ...]:
    """What would take the place of a figure that failed: itself where it may be entered, else what it was given."""
    if failed.node in opened.sheet.catalog.facts:
        return (failed,)
    read = (opened.sheet.entered(one) for one in opened.sheet.inputs(failed) if one.node == impossible)
    return tuple(one for one in read if one is not None)


OTHER_END = {"high": "low", "low": "high", "value": "value"}


def _section(taken: Mapping[str, SweptReading], end: str) -> TireSection:
    """The tire as read, at its largest ("high") or at its smallest.

    A rim that may be wider than it was read reaches as much further out; backspace goes by its width as read.
    """

    def far(node: str) -> float:
        return float(getattr(taken[node], end))

    def near(node: str) -> float:
        return float(getattr(taken[node], OTHER_END[end]))

    rim = taken["overall_width"].value
    return TireSection(
        section_width=far("grown_width"),
        tread_width=min(far("tread_width"), far("grown_width")),
        diameter=far("grown_diameter"),
        offset=taken["offset"].value,
        barrel_radius=near("inner_radius"),
        rim_width=rim,
        flange_radius=max(far("flange_radius"), near("inner_radius")),
        crown_drop=max(0.0, near("crown_drop")),
        weights=far("weight_reach") + (far("overall_width") - rim) / 2.0,
    )


def tire_ends(here: SweptWheel) -> TireEnds:
    """The tire with each of its readings at either end of its tolerance, the others as read."""
    found: dict[str, tuple[TireSection, ...]] = {}
    for node, one in here.readings.items():
        ends = (one.low, one.high)
        if node == "offset":
            found[node] = tuple(replace(here.section, offset=end) for end in ends)
        elif node in SHAPES:
            found[node] = tuple(
                _section({**here.readings, node: SweptReading(end, end, end, None)}, "value") for end in ends
            )
    return found


def kingpin_doubts(here: SweptWheel) -> dict[str, Motion]:
    """By reading of the kingpin and the axle's width, a motion in which it alone is in doubt."""
    sure = replace(here.motion, lean_doubt=0.0, inset_doubt=0.0, width_doubt=0.0)
    found = {"face_to_face": replace(sure, width_doubt=here.wide.width_doubt)}
    if "inclination" in here.readings:
        lean, trail = here.readings["inclination"], here.readings["caster"]
        found |= {
            "kingpin_inset": replace(sure, inset_doubt=here.wide.inset_doubt),
            "inclination": replace(sure, lean_doubt=lean_doubt(lean.value, trail.value, lean.half, 0.0)),
            "caster": replace(sure, lean_doubt=lean_doubt(lean.value, trail.value, 0.0, trail.half)),
        }
    return found


def own_tolerance(measured: Obstacle) -> Point:
    """How far off an obstacle's own reading may be: forward, outboard and up, at whichever of its ends is worse."""
    at, to = measured.at, measured.to
    return _point(max(one.tolerance, other.tolerance) for one, other in zip(at or (), to or at or (), strict=True))


def swept_obstacle(one: PlannedObstacle, name: str, here: SweptWheel) -> SweptObstacle | None:
    """The obstacle as the sweep takes it, past this wheel; None while it is not measured, or something is not known.

    What rides with the body may come nearer by the axle's shift sideways, which its tolerance across takes in. What was
    measured by plumb line and level is seen from a wheel that leans by its camber and toe, as far as those are known.
    """
    measured = one.measured
    if one.fault or one.required is None or measured.at is None or measured.moves_with is None:
        return None
    required = one.required.value
    at, to = measured.at, measured.to
    x, y, z = own_tolerance(measured)
    ends = [_point(axis.value for axis in point) for point in (at, to) if point]
    if measured.measured_from == "plumb":
        camber, toe = here.readings["camber"], here.readings["toe"]
        lean, turn = camber.half, toe.half / (2.0 * here.section.diameter)
        far = [max(abs(end[axis]) for end in ends) for axis in range(3)]
        turn += 0.25 * abs(toe.value) / (2.0 * here.section.diameter)  # it was read on tires of some other size
        bend = hypot(*far) * (lean + turn) ** 2  # what an arc is off its tangent by, and more
        x, y, z = x + far[1] * turn + bend, y + far[2] * lean + far[0] * turn + bend, z + far[1] * lean + bend
        ends = [_leant(end, camber.value, toe.value / (2.0 * here.section.diameter)) for end in ends]
    if measured.moves_with == "body":
        y += max(0.0, here.readings["side_shift"].high)
    return SweptObstacle(name, ends[0], ends[1] if to else None, measured.moves_with, required, (x, y, z))


def _leant(point: Point, camber: float, turn: float) -> Point:
    """A point measured by plumb line and level as a wheel sees it that leans out at the top and turns in ahead."""
    x, y, z = point
    y, z = cos(camber) * y - sin(camber) * z, sin(camber) * y + cos(camber) * z
    return cos(turn) * x - sin(turn) * y, sin(turn) * x + cos(turn) * y, z


def _point(values: Iterable[float]) -> Point:
    forward, outboard, up = values
    return forward, outboard, up


def filled(large: TireSection, offsets: tuple[float, float]) -> TireSection:
    """The section that the tires at all offsets from one end to the other fill together."""
    return replace(large, offset=(offsets[0] + offsets[1]) / 2, stretch=large.stretch + offsets[1] - offsets[0])


def shared(small: TireSection, offsets: tuple[float, float]) -> TireSection:
    """The section that lies within the tires at all offsets from one end to the other."""
    apart = min(offsets[1] - offsets[0], small.flat)
    return replace(small, offset=(offsets[0] + offsets[1]) / 2, stretch=small.stretch - apart)
