"""The sweep of a project: motion, tire and obstacles taken from the worksheet, and the results put back in it.

What a tolerance does to a clearance. The low end is a sweep of its own: the tire as large and wide as its tolerances
let it be, at either end of its offset, steered and travelled as far as the readings allow, the obstacle's whole
tolerance taken off, and what the kingpin's readings can take off at the worst place. The high end is the distance at
the worst place with everything at its kindest: the least clearance can never be more than the distance at one place.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from functools import lru_cache
from math import hypot
from typing import TYPE_CHECKING, Any, NamedTuple

from planner.plan.bounds import bounds
from planner.plan.places import words
from planner.plan.swept import Swept, band
from planner.project.models.measurements import Obstacle as Measured
from planner.quantities.kinds import DISTANCE
from planner.quantities.show import show
from planner.trade.fit.limits import Way, largest_tire, steer_limit
from planner.trade.fit.motion import Motion, Obstacle, Place, wheel_point
from planner.trade.fit.section import Section, nearest
from planner.trade.fit.sweep import Clearance, inside_at_rest, least_clearance
from planner.trade.fit.trace import Trace, trace
from planner.trade.fit.window import Window, backspace_window, choose
from planner.worksheet.outcome import Known, Spot, Waiting
from planner.worksheet.sheet import Worksheet

if TYPE_CHECKING:
    from planner.plan.opening import OpenProject, PlannedObstacle


class Reading(NamedTuple):
    """One value that the sweep takes, with the ends of its tolerance and the entry that brings most of it."""

    value: float
    low: float
    high: float
    source: Spot | None


class Wheel(NamedTuple):
    """One axle's wheel in one fitment, ready to be swept; `wide` and `large` are at the ends that hurt."""

    motion: Motion
    wide: Motion
    section: Section
    large: Section
    readings: Mapping[str, Reading]


WINDOW_STEP = 1e-4  # m; finer than any wheel is made
WORST_BOUND = 5e-4  # m; the worst case is proven to this, on the safe side
FIGHT_STEP = 5e-4  # m; by how much two limits miss each other is not cut from metal
MOTION = ("face_to_face", "bump_travel", "droop_travel")
STEERING = ("kingpin_inset", "inclination", "caster", "stop_angle")
TIRE = ("section_width", "tread_width", "overall_diameter", "offset", "inner_radius", "overall_width")
_LEANS = {
    "kingpin_inset": "kingpin_inset",
    "inclination": "inclination",
    "caster": "caster",
    "face_to_face": "face_to_face",
}
_SHAPES = {"section_width": "section_width", "overall_diameter": "diameter", "offset": "offset"}


def read(sheet: Worksheet, node: str, fitment: str, axle: str) -> Reading | Spot:
    """A node's value for one end of one fitment; its spot where there is none."""
    layout = sheet.layout
    full = tuple({"fitment": fitment, "axle": axle}.get(axis, "") for axis in layout.axes)
    spot = Spot(node, layout.place(full, layout.scopes[node]))
    outcome = sheet.outcome(spot)
    if not isinstance(outcome, Known):
        return spot
    source = outcome.shares[0].spot if outcome.shares else None
    return Reading(outcome.value, outcome.low, outcome.high, source)


def wheel(sheet: Worksheet, fitment: str, axle: str, steers: bool) -> Wheel | tuple[Spot, ...]:
    """The wheel at one axle, or the spots without a value; raises ValueError naming an impossible entry."""
    nodes = (*MOTION, *(STEERING if steers else ()), *TIRE)
    found = {node: read(sheet, node, fitment, axle) for node in nodes}
    missing = tuple(one for one in found.values() if isinstance(one, Spot))
    if missing:
        return missing
    taken = {node: one for node, one in found.items() if isinstance(one, Reading)}
    outer = read(sheet, "stop_angle_out", fitment, axle) if steers else None
    # The outer wheel turns less than the inner one: without a reading of its own it is swept as far.
    taken["stop_angle_out"] = (
        outer if isinstance(outer, Reading) else taken.get("stop_angle", Reading(0.0, 0.0, 0.0, None))
    )
    taken.setdefault("stop_angle", Reading(0.0, 0.0, 0.0, None))
    return Wheel(
        _motion(taken, "value"), _motion(taken, "high"), _section(taken, "value"), _section(taken, "high"), taken
    )


def _motion(taken: Mapping[str, Reading], end: str) -> Motion:
    def far(node: str) -> float:
        return max(0.0, float(getattr(taken[node], end)))

    lean = {name: taken[node].value for node, name in _LEANS.items() if node in taken}
    return Motion(
        bump=far("bump_travel"),
        droop=far("droop_travel"),
        steer_out=far("stop_angle"),
        steer_in=far("stop_angle_out"),
        **lean,
    )


def _section(taken: Mapping[str, Reading], end: str) -> Section:
    def far(node: str) -> float:
        return float(getattr(taken[node], end))

    tread, section = taken["tread_width"].value, taken["section_width"].value
    if tread > section:
        raise ValueError(f"tread_width: read {tread:g} m, accepted is at most the section width, {section:g} m")
    thin = taken["inner_radius"].value if end == "value" else taken["inner_radius"].low
    return Section(
        section_width=far("section_width"),
        tread_width=min(far("tread_width"), far("section_width")),
        diameter=far("overall_diameter"),
        offset=taken["offset"].value,
        barrel_radius=thin,
        rim_width=taken["overall_width"].value,
    )


def obstacle_of(measured: Measured, name: str, required: float) -> Obstacle | None:
    """The obstacle as the sweep takes it; None while it is not measured."""
    if measured.at is None or measured.moves_with is None:
        return None
    ends = [measured.at, *([measured.to] if measured.to else [])]
    points = [tuple(axis.value for axis in end) for end in ends]
    slack = tuple(max(end[axis].tolerance for end in ends) for axis in range(3))
    start, end = points[0], points[1] if len(points) > 1 else None
    return Obstacle(name, start, end, measured.moves_with, required, slack)


@lru_cache(maxsize=1024)
def swept(
    motion: Motion, wide: Motion, section: Section, large: Section, offsets: tuple[float, float], one: Obstacle
) -> tuple[Clearance, float]:
    """The least clearance, and what is sure at the worst of the tire's and the travel's tolerances.

    The tires at all offsets from one end of its tolerance to the other together fill a section of the same shape,
    wider by the stretch between the two. What is proven there is sure however coarse the bound.
    """
    found = least_clearance(trace(motion, one), section)
    stretch = offsets[1] - offsets[0]
    if (motion, section) == (wide, large) and not stretch:
        return found, found.sure
    filled = replace(
        large,
        offset=(offsets[0] + offsets[1]) / 2,
        section_width=large.section_width + stretch,
        tread_width=large.tread_width + stretch,
        rim_width=large.rim_width + stretch,
    )
    return found, least_clearance(trace(wide, one), filled, WORST_BOUND).sure


def clearance(here: Wheel, one: Obstacle) -> tuple[Clearance, float, float, dict[str, float]]:
    """One obstacle's least clearance, its low and high end, and what each reading brings at the worst place."""
    offset = here.readings["offset"]
    found, low = swept(here.motion, here.wide, here.section, here.large, (offset.low, offset.high), one)
    effects = {node: _effect(here, one, found.place, node) for node in (*_LEANS, *_SHAPES) if node in here.readings}
    low -= sum(max(0.0, -down) for node in _LEANS for down, _ in [effects.get(node, (0.0, 0.0))])
    kind = _kindest(here, one, found.place)
    high = kind + found.taken + sum(max(0.0, up) for _, up in effects.values())
    halves = {node: max(abs(down), abs(up)) for node, (down, up) in effects.items()}
    return found, low, max(high, found.distance), halves


def _at(motion: Motion, section: Section, one: Obstacle, place: Place) -> float:
    x, y, z = wheel_point(motion, one, place)
    return nearest(section, y, hypot(x, z)).distance


def _effect(here: Wheel, one: Obstacle, place: Place, node: str) -> tuple[float, float]:
    """How far a reading's tolerance takes the distance at one place down and up."""
    reading, middle = here.readings[node], _at(here.motion, here.section, one, place)
    moved = []
    for end in (reading.low, reading.high):
        if node in _LEANS:
            moved.append(_at(replace(here.motion, **{_LEANS[node]: end}), here.section, one, place) - middle)
        else:
            section = (
                replace(here.section, tread_width=min(here.section.tread_width, end))
                if node == "section_width"
                else here.section
            )
            moved.append(_at(here.motion, replace(section, **{_SHAPES[node]: end}), one, place) - middle)
    return min(0.0, *moved), max(0.0, *moved)


def _kindest(here: Wheel, one: Obstacle, place: Place) -> float:
    """The distance at the worst place, or as near to it as the wheel surely comes."""
    taken = here.readings
    steer = min(max(place.steer, -max(0.0, taken["stop_angle"].low)), max(0.0, taken["stop_angle_out"].low))
    travel = min(max(place.travel, -max(0.0, taken["droop_travel"].low)), max(0.0, taken["bump_travel"].low))
    return _at(here.motion, here.section, one, replace(place, steer=steer, travel=travel))


def sweep(opened: OpenProject) -> Swept:
    """Everything that the sweep gives for what is planned."""
    results: dict[Spot, Any] = {}
    needs: dict[Spot, tuple[str, ...]] = {}
    troubles: dict[Spot, str] = {}
    doubts: dict[Spot, tuple[tuple[str, float], ...]] = {}
    named = opened.obstacles
    for label, one in named.items():
        results[opened.spot("required_clearance", obstacle=label)] = one.required
    for fitment in opened.planned:
        for axle in ("front", "rear"):
            mine = {label: one for label, one in named.items() if one.measured.axle == axle}
            _sweep_one(opened, fitment, axle, mine, Swept(results, needs, troubles, doubts))
        for label, one in named.items():
            if one.measured.axle is None:
                needs[opened.spot("least_clearance", fitment=fitment, obstacle=label)] = (f"{one.key}.axle",)
    return Swept(results, needs, troubles, doubts)


def _sweep_one(opened: OpenProject, fitment: str, axle: str, mine: Mapping[str, PlannedObstacle], into: Swept) -> None:
    spots = {label: opened.spot("least_clearance", fitment=fitment, obstacle=label) for label in mine}
    end_spots = [
        opened.spot(node, fitment=fitment, axle=axle) for node in ("inner_steer_limit", "window_width", "largest_tire")
    ]
    try:
        here = wheel(opened.sheet, fitment, axle, opened.steers(axle))
    except ValueError as fault:
        into.troubles.update(dict.fromkeys((*spots.values(), *end_spots), str(fault)))
        return
    if not isinstance(here, Wheel):
        keys = tuple(dict.fromkeys(key for spot in here for key in _roots(opened, spot)))
        into.needs.update(dict.fromkeys(end_spots, keys))
        for label, one in mine.items():
            own = _unmeasured(one)
            into.needs[spots[label]] = (own, *keys) if own else keys
        return
    paths: list[Trace] = []
    for label, one in mine.items():
        obstacle = obstacle_of(one.measured, label, one.required.value)
        if obstacle is None:
            into.needs[spots[label]] = (_unmeasured(one),)
            continue
        paths.append(trace(here.wide, obstacle))
        found, low, high, halves = clearance(here, obstacle)
        into.results[spots[label]] = band(found.distance, low, high)
        place = opened.spot("clearance_place", fitment=fitment, obstacle=label)
        into.results[place] = words(opened.style, axle, one.measured.side, opened.steers(axle), obstacle, found)
        brought = {f"{one.key}.at": found.taken} | {
            opened.key_of(source): half
            for node, half in halves.items()
            if (source := here.readings[node].source) and half > 0
        }
        into.doubts[spots[label]] = tuple(sorted(brought.items(), key=lambda pair: -pair[1]))
    for spot, value in _ends(opened, fitment, axle, here, paths):
        into.results[spot] = value


def _unmeasured(one: PlannedObstacle) -> str:
    """The key that an obstacle lacks before it can be swept; empty where it lacks none."""
    lacking = "at" if one.measured.at is None else "moves_with" if one.measured.moves_with is None else ""
    return f"{one.key}.{lacking}" if lacking else ""


def _roots(opened: OpenProject, spot: Spot) -> tuple[str, ...]:
    """The entries that a spot waits for, or the impossible one behind it."""
    outcome = opened.sheet.outcome(spot)
    if isinstance(outcome, Waiting):
        return tuple(key for need in (*outcome.needs, *outcome.either) for key in opened.keys_needed(need))
    return opened.keys_needed(spot)


def _ends(opened: OpenProject, fitment: str, axle: str, here: Wheel, paths: list[Trace]) -> Iterator[tuple[Spot, Any]]:
    """The steer limits, the window of backspace and the largest tire at one end, by what has been measured."""

    def at(node: str) -> Spot:
        return opened.spot(node, fitment=fitment, axle=axle)

    if opened.steers(axle) and paths:
        ways: tuple[tuple[str, Way], ...] = (("inner", "out"), ("outer", "in"))
        for node, way in ways:
            found = steer_limit(paths, here.section, way)
            yield at(f"{node}_steer_limit"), found.angle
            yield at(f"{node}_steer_binds"), found.binds or "the stop"
    limits = bounds(opened, fitment, axle)
    wide = here.section.rim_width
    window = backspace_window(paths, here.section, 0.0, wide, limits.backspace, WINDOW_STEP, FIGHT_STEP)
    yield from ((at(node), value) for node, value in _window(opened, window, here))
    if paths or limits.diameter:
        least = 2 * here.section.barrel_radius + 0.02
        largest = largest_tire(paths, here.section, least, max(least, 1.6), limits.diameter)
        if largest.diameter is not None:
            yield at("largest_tire"), largest.diameter
        yield at("largest_tire_binds"), largest.binds or "nothing that was measured"


def _window(opened: OpenProject, window: Window, here: Wheel) -> Iterator[tuple[str, Any]]:
    """The stretch of backspaces nearest to the one chosen, or which two limits leave none."""
    chosen = here.section.offset + here.section.rim_width / 2
    if window.intervals:
        best = min(window.intervals, key=lambda one: max(one.low - chosen, chosen - one.high, 0.0))
        choice = choose(Window((best,), None), opened.sheet.value(opened.spot("backspace_step")))
        yield "window_width", best.high - best.low
        yield "window_low", best.low
        yield "window_high", best.high
        low, high = best.low_binds or "the rim's own width", best.high_binds or "the rim's own width"
        yield "window_words", f"{low} binds below, {high} above"
        if choice is not None:
            yield "window_choice", choice.backspace
    elif window.fight is not None:
        first, second, by = window.fight.first, window.fight.second, window.fight.by
        yield "window_width", -(by if by is not None else here.section.rim_width)
        if second is None or by is None:
            yield "window_words", f"No backspace keeps {first}"
        else:
            yield "window_words", f"{first} and {second} miss each other by {show(by, DISTANCE, opened.style)}"


def misplaced(opened: OpenProject) -> Iterator[tuple[str, str]]:
    """Obstacles that would lie inside the tire found on the truck: a reading is wrong."""
    for label, one in opened.obstacles.items():
        if one.measured.axle is None:
            continue
        try:
            here = wheel(opened.sheet, "found", one.measured.axle, opened.steers(one.measured.axle))
            obstacle = obstacle_of(one.measured, label, 0.0)
            if isinstance(here, Wheel) and obstacle and inside_at_rest(here.motion, obstacle, here.section):
                yield one.key, label
        except ValueError:
            continue  # told where the wheel itself is judged
