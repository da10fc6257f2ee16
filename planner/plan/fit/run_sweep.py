"""The sweep of a project: motion, tire and obstacles taken from the worksheet, and the results put back in it.

What a tolerance does to a clearance. The low end is a sweep of its own: the tire as large and wide as its tolerances
let it be, at either end of its offset, steered and traveled as far as the readings allow, the obstacle's whole
tolerance taken off, and what the kingpin's readings can take off at the worst place. The high end is the distance at
the worst place with everything at its kindest: the least clearance can never be more than the distance at one place.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from functools import lru_cache
from itertools import count
from math import hypot

from planner.plan.fit.fit_limits import fit_limits
from planner.plan.fit.sweep_text import sweep_error_text, sweep_location
from planner.plan.fit.swept_wheel import (
    KINGPIN_READINGS,
    ReadingEnds,
    SweptWheel,
    filled,
    keys_behind,
    reading_ends,
    side_wheels,
    swept_obstacle,
    swept_wheel,
)
from planner.plan.truck.progress import step
from planner.plan.truck.project import OpenProject, PlannedObstacle
from planner.plan.truck.sweep_results import AT_END, AT_OBSTACLE, Result, SweepResults, band
from planner.trade.fit.motion import Motion, SweepPlace, SweptObstacle, wheel_point
from planner.trade.fit.section import TireSection, nearest
from planner.trade.fit.sweep import Clearance, inside_at_rest, least_clearance, proven_clearance
from planner.trade.fit.trace import trace
from planner.worksheet.outcome import Spot, Waiting

# Limits by the reading that each takes the place of, whose own tolerance brings nothing to it.
LIMITS = {
    "inner_steer_limit": "stop_angle",
    "outer_steer_limit": "stop_angle_out",
    "window_low": "offset",
    "window_high": "offset",
    "largest_tire": "overall_diameter",
}

WORST_BOUND = 5e-4  # m; the worst case is proven to this, on the safe side


@lru_cache(maxsize=1024)
def least_and_sure_clearance(
    motion: Motion,
    wide: Motion,
    section: TireSection,
    large: TireSection,
    offsets: tuple[float, float],
    one: SweptObstacle,
) -> tuple[Clearance, float]:
    """The least clearance, and what is sure at the worst of the tire's and the travel's tolerances.

    The tires at all offsets from one end of its tolerance to the other together fill a section of the same shape,
    wider by the stretch between the two. What is proven there is sure however coarse the bound.
    """
    found = least_clearance(trace(motion, one), section)
    stretch = offsets[1] - offsets[0]
    if (motion, section) == (wide, large) and not stretch:
        return found, found.sure
    return found, proven_clearance(trace(wide, one), filled(large, offsets), WORST_BOUND) - one.reach


def clearance(
    here: SweptWheel, moved: ReadingEnds, one: SweptObstacle
) -> tuple[Clearance, float, float, dict[str, float], float]:
    """One obstacle's least clearance, its low and high end, what each reading brings at the worst place, and how much
    of that is the kingpin's; `moved` is the wheel with each reading at either end.
    """
    offset = here.readings["offset"]
    found, low = least_and_sure_clearance(
        here.motion, here.wide, here.section, here.large, (offset.low, offset.high), one
    )
    effects = _effects(here, moved, one, found.place)
    kingpin_allowance = sum(max(0.0, -down) for node in KINGPIN_READINGS for down, _ in [effects.get(node, (0.0, 0.0))])
    kind = _kindest(here, one, found.place)
    high = kind + found.taken + sum(max(0.0, up) for _, up in effects.values())
    halves = {node: max(abs(down), abs(up)) for node, (down, up) in effects.items()}
    return found, low - kingpin_allowance, max(high, found.distance), halves, kingpin_allowance


def _at(motion: Motion, section: TireSection, one: SweptObstacle, place: SweepPlace) -> float:
    x, y, z = wheel_point(motion, one, place)
    return nearest(section, y, hypot(x, z)).distance


def _effects(
    here: SweptWheel, moved: ReadingEnds, one: SweptObstacle, place: SweepPlace
) -> dict[str, tuple[float, float]]:
    """How far each reading's tolerance takes the distance at one place down and up."""
    x, y, z = wheel_point(here.motion, one, place)
    radial = hypot(x, z)
    middle = nearest(here.section, y, radial).distance
    found = {}
    for node, ends in moved.items():
        same = node not in KINGPIN_READINGS  # only the tire is another: the point stays where it is seen
        ways = [
            (nearest(section, y, radial).distance if same else _at(motion, section, one, place)) - middle
            for motion, section in ends
        ]
        found[node] = (min(0.0, *ways), max(0.0, *ways))
    return found


def _kindest(here: SweptWheel, one: SweptObstacle, place: SweepPlace) -> float:
    """The distance at the worst place, or as near to it as the wheel surely comes."""
    taken = here.readings
    steer = min(max(place.steer, -max(0.0, taken["stop_angle"].low)), max(0.0, taken["stop_angle_out"].low))
    travel = min(max(place.travel, -max(0.0, taken["droop_travel"].low)), max(0.0, taken["bump_travel"].low))
    return _at(here.motion, here.section, one, place._replace(steer=steer, travel=travel))


def run_sweep(opened: OpenProject) -> SweepResults:
    """Everything that the sweep gives for what is planned."""
    results: dict[Spot, Result] = {}
    needs: dict[Spot, tuple[str, ...]] = {}
    troubles: dict[Spot, str] = {}
    tolerance_sources: dict[Spot, tuple[tuple[str, float], ...]] = {}
    barred: set[Spot] = set()
    into = SweepResults(results, needs, troubles, tolerance_sources, {}, barred)
    for label, one in opened.obstacles.items():
        wanted = opened.spot("required_clearance", obstacle=label)
        if one.required is not None and not one.fault:
            results[wanted] = one.required
        elif one.fault:
            needs[wanted] = (one.fault,)
    whole = sum(
        2 + sum(one.measured.axle is not None for one in opened.obstacles_of(fitment).values())
        for fitment in opened.planned
    )
    done = count()

    def between() -> None:
        step(next(done), whole)

    for fitment in opened.planned:
        named = opened.obstacles_of(fitment)
        for label, one in named.items():
            if "wants" in one.set_at and one.required is not None and not one.fault:
                results[opened.spot("required_clearance", fitment=fitment, obstacle=label)] = one.required
        loose = tuple(one for one in named.values() if one.measured.axle is None)  # it may stand at either axle
        for axle in ("front", "rear"):
            mine = {label: one for label, one in named.items() if one.measured.axle == axle}
            _sweep_one(opened, fitment, axle, mine, loose, into, between)
        for label, one in named.items():
            if one.fault:
                barred.update(opened.spot(node, fitment=fitment, obstacle=label) for node in AT_OBSTACLE)
            if one.measured.axle is None:
                spot = opened.spot("least_clearance", fitment=fitment, obstacle=label)
                needs[spot] = (one.fault or one.key_of("axle"),)
    return into


def _sweep_one(
    opened: OpenProject,
    fitment: str,
    axle: str,
    mine: Mapping[str, PlannedObstacle],
    loose: tuple[PlannedObstacle, ...],
    into: SweepResults,
    between: Callable[[], None],
) -> None:
    spots = {label: opened.spot("least_clearance", fitment=fitment, obstacle=label) for label in mine}
    end_spots = [
        opened.spot(node, fitment=fitment, axle=axle) for node in ("inner_steer_limit", "window_width", "largest_tire")
    ]

    def bar(*labels: str) -> None:
        """What rests on an entry that was made and is not known has no other way to a value."""
        into.barred.update(opened.spot(node, fitment=fitment, axle=axle) for node in AT_END)
        into.barred.update(opened.spot(node, fitment=fitment, obstacle=one) for one in labels for node in AT_OBSTACLE)

    lost, way_steered = opened.fit_fault(axle, fitment), opened.steered_fault(axle, fitment)
    if lost is not None:
        bar(*(mine if way_steered else ()))
        into.needs.update(dict.fromkeys((*end_spots, *(spots.values() if way_steered else ())), (way_steered or lost,)))
        if way_steered:
            return
    try:
        here = swept_wheel(opened.sheet, fitment, axle, opened.steers(axle, fitment))
        sides = side_wheels(opened, fitment, axle) or {"": here}
    except ValueError as fault:
        into.troubles.update(
            dict.fromkeys((*spots.values(), *end_spots), sweep_error_text(opened, fitment, axle, fault))
        )
        return
    limited = here
    if not isinstance(here, SweptWheel):
        if any(_is_barred(opened, spot) for spot in here):
            bar()
        else:  # the window needs no backspace: it is what is asked
            limited = swept_wheel(opened.sheet, fitment, axle, opened.steers(axle, fitment), anywhere=True)
        keys = keys_behind(opened, here)
        into.needs.update(dict.fromkeys(end_spots, (lost, *keys) if lost else keys))
    swept_ones: list[tuple[float, SweptObstacle, float]] = []
    brought: dict[str, dict[str, tuple[str, float]]] = {}
    ends: dict[str, ReadingEnds] = {}
    for label, one in mine.items():
        between()
        own = unmeasured_key(one)
        wheels = {side: wheel for side, wheel in sides.items() if one.measured.side in (side, "both") or not side}
        waiting = [wheel for wheel in wheels.values() if not isinstance(wheel, SweptWheel)]
        if own or waiting:
            keys = tuple(dict.fromkeys(key for several in waiting for key in keys_behind(opened, several)))
            into.needs[spots[label]] = (own, *keys) if own else keys
        if any(_is_barred(opened, spot) for several in waiting for spot in several):
            bar(label)
        obstacle = as_swept(one, label)
        if obstacle is None:
            continue
        try:
            swept = {
                side: clearance(wheel, _ends(ends, side, wheel), obstacle)
                for side, wheel in wheels.items()
                if isinstance(wheel, SweptWheel) and not waiting
            }
            whole = swept.get("")
            if whole is None and isinstance(limited, SweptWheel):  # limits have no side: they take the span over both
                whole = clearance(limited, _ends(ends, "limited", limited), obstacle)
        except ValueError as fault:  # within its tolerances the wheel or the motion cannot be
            said = f"within the tolerances entered: {sweep_error_text(opened, fitment, axle, fault)}"
            into.troubles.update(dict.fromkeys((spots[label], *end_spots), said))
            continue
        if swept:
            brought[label] = _told(opened, fitment, axle, one, obstacle, wheels, swept, into)
        if whole is not None:
            swept_ones.append((whole[0].proven - obstacle.keep, obstacle, whole[-1]))
    if not isinstance(limited, SweptWheel) or any(spot in into.troubles for spot in end_spots):
        return
    # What binds is most likely the one with least to spare: asked first, it leaves least to ask of the others.
    nearest_first = [
        (obstacle, kingpin_allowance) for _, obstacle, kingpin_allowance in sorted(swept_ones, key=lambda one: one[0])
    ]
    between()
    if lost is not None:
        return
    try:
        halfway = tuple(dict.fromkeys(key for one in (*mine.values(), *loose) if (key := unmeasured_key(one))))
        limits = fit_limits(opened, fitment, axle, limited, nearest_first, halfway)
        if limits.barred:
            bar()
            into.needs.update(dict.fromkeys(end_spots, limits.barred))
            return
        into.results.update(limits.results)
        into.needs.update(limits.needs)
        by_rules = {name: {key: (key, half) for key, half in of_rule} for name, of_rule in limits.brought.items()}
        brought = {name: each for name, each in by_rules.items() if each} | brought
        for node, asked in LIMITS.items():  # a limit is as doubtful as the clearance that binds it
            limit = opened.spot(node, fitment=fitment, axle=axle)
            binds = into.words(limit)
            if limit in into.results and binds in brought:
                into.tolerance_sources[limit] = _most_first(brought[binds], without=asked)
        for window, both in limits.ends.items():  # and a window as the two limits at its ends
            pairs = sorted(pair for name in both for pair in _most_first(brought.get(name, {}), without="offset"))
            if pairs:
                into.tolerance_sources[window] = tuple(sorted(dict(pairs).items(), key=lambda one: -one[1]))
    except ValueError as fault:
        into.troubles.update(dict.fromkeys(end_spots, sweep_error_text(opened, fitment, axle, fault)))


def _told(
    opened: OpenProject,
    fitment: str,
    axle: str,
    one: PlannedObstacle,
    obstacle: SweptObstacle,
    wheels: Mapping[str, SweptWheel | tuple[Spot, ...]],
    swept: Mapping[str, tuple[Clearance, float, float, dict[str, float], float]],
    into: SweepResults,
) -> dict[str, tuple[str, float]]:
    """One obstacle past the wheel of each side that it is on, the worst of them told; what each reading brings to it.

    The least clearance of two sides is the lesser, and so are its ends: whichever side either of them is of.
    """
    spot = opened.spot("least_clearance", fitment=fitment, obstacle=obstacle.name)
    place = opened.spot("clearance_place", fitment=fitment, obstacle=obstacle.name)
    worst = min(swept, key=lambda side: swept[side][0].distance)
    found, _, _, halves, _ = swept[worst]
    low, high = min(each[1] for each in swept.values()), min(each[2] for each in swept.values())
    into.results[spot] = band(found.distance, low, high)
    into.results[place] = sweep_location(
        opened.style, axle, worst or one.measured.side, opened.steers(axle, fitment), obstacle, found
    )
    into.found[spot] = found
    wheel = wheels[worst]
    assert isinstance(wheel, SweptWheel)
    brought = {"at": (one.key_of("at"), found.taken)} | {
        node: (opened.key_of(source), half)
        for node, half in halves.items()
        if (source := wheel.readings[node].source) and half > 0
    }
    into.tolerance_sources[spot] = _most_first(brought)
    return brought


def _ends(ends: dict[str, ReadingEnds], side: str, wheel: SweptWheel) -> ReadingEnds:
    """The wheel of a side with each reading at either end, made once."""
    if side not in ends:
        ends[side] = reading_ends(wheel)
    return ends[side]


def _most_first(brought: Mapping[str, tuple[str, float]], without: str = "none") -> tuple[tuple[str, float], ...]:
    """The entries' keys with what each brings, the one that brings most first."""
    return tuple(sorted((pair for node, pair in brought.items() if node != without), key=lambda one: -one[1]))


def unmeasured_key(one: PlannedObstacle) -> str:
    """The key that an obstacle lacks before it can be swept; empty where it lacks none."""
    if one.fault:
        return one.fault
    lacks = (entry for entry in ("axle", "at", "moves_with") if getattr(one.measured, entry) is None)
    lacking = next(lacks, "")
    return one.key_of(lacking) if lacking else ""


def _is_barred(opened: OpenProject, spot: Spot) -> bool:
    outcome = opened.sheet.outcome(spot)
    return isinstance(outcome, Waiting) and bool(outcome.barred)


def as_swept(one: PlannedObstacle, label: str) -> SweptObstacle | None:
    """The obstacle as the sweep takes it; None while it is not measured, or something of it is not known."""
    return None if one.fault or one.required is None else swept_obstacle(one.measured, label, one.required.value)


def obstacles_inside_tire(opened: OpenProject) -> Iterator[tuple[str, str]]:
    """Obstacles that would lie inside the tire found on the truck, each with its axle: a reading is wrong."""
    wheels: dict[str, dict[str, SweptWheel | tuple[Spot, ...]]] = {}
    for label, one in opened.obstacles.items():
        axle = one.measured.axle
        if axle is None or one.fault or opened.fault_at("axles", axle, "steered"):
            continue
        try:
            if axle not in wheels:
                whole = {"": swept_wheel(opened.sheet, "found", axle, opened.steers(axle, "found"))}
                wheels[axle] = side_wheels(opened, "found", axle) or whole
            obstacle = swept_obstacle(one.measured, label, 0.0)
            here = [wheel for side, wheel in wheels[axle].items() if one.measured.side in (side, "both") or not side]
            if obstacle and any(
                isinstance(wheel, SweptWheel) and inside_at_rest(wheel.motion, obstacle, wheel.section)
                for wheel in here
            ):
                yield label, axle
        except ValueError:
            continue  # told where the wheel itself is judged
