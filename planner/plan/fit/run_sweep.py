"""The sweep of a project: motion, tire and obstacles taken from the worksheet, and the results put back in it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from itertools import count

from planner.plan.fit.brake_gaps import brake_gap_results
from planner.plan.fit.clearances import clearance
from planner.plan.fit.fit_limits import fit_limits
from planner.plan.fit.fit_question import FitAsked, FitObstacle
from planner.plan.fit.kept_open import JUDGED, Gathered, limits_kept_open, limits_settled, spacing_results
from planner.plan.fit.mock_ups import mock_up_results
from planner.plan.fit.obstacle_results import (
    asked_when_unknown,
    fit_obstacle,
    most_first,
    obstacle_results,
)
from planner.plan.fit.sweep_text import sweep_error_text
from planner.plan.fit.swept_tires import SweptOrWaiting, SweptTire, ready_tires, side_tires, swept_tires
from planner.plan.fit.swept_wheel import SweptWheel, keys_behind, swept_obstacle, tire_ends
from planner.plan.truck.progress import step
from planner.plan.truck.project import OpenProject, PlannedObstacle
from planner.plan.truck.sweep_results import AT_END, AT_OBSTACLE, SweepResults
from planner.trade.fit.sweep import inside_at_rest
from planner.worksheet.outcome import Failed, Known, Spot, Waiting

# Limits by the reading that each takes the place of, whose own tolerance brings nothing to it.
LIMITS = {
    "inner_steer_limit": "stop_angle",
    "outer_steer_limit": "stop_angle_out",
    "window_low": "offset",
    "window_high": "offset",
    "largest_tire": "grown_diameter",
}


def run_sweep(opened: OpenProject) -> SweepResults:
    """Everything that the sweep gives for what is planned."""
    into = SweepResults({}, {}, {}, {}, {}, set(), set(), set())
    for label, one in opened.obstacles.items():
        wanted = opened.spot("required_clearance", obstacle=label)
        if one.required is not None and not one.fault:
            into.results[wanted] = one.required
        elif one.fault:
            into.needs[wanted] = (one.fault,)
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
                into.results[opened.spot("required_clearance", fitment=fitment, obstacle=label)] = one.required
        loose = tuple(one for one in named.values() if one.measured.axle is None)  # it may stand at either axle
        for axle in ("front", "rear"):
            brake_gap_results(opened, fitment, axle, into)
            mine = {label: one for label, one in named.items() if one.measured.axle == axle}
            _sweep_one(opened, fitment, axle, mine, loose, into, between)
        for label, one in named.items():
            if one.fault:
                here = {opened.spot(node, fitment=fitment, obstacle=label) for node in AT_OBSTACLE}
                into.barred.update(here - into.results.keys())  # what is wanted is known where only its place is not
            if one.measured.axle is None:
                spot = opened.spot("least_clearance", fitment=fitment, obstacle=label)
                into.needs[spot] = (one.fault or one.key_of("axle"),)
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
    all_spots = (*spots.values(), *end_spots)

    def bar(*labels: str) -> None:
        """What rests on an entry that was made and is not known has no other way to a value: not what is wanted."""
        swept = [node for node in AT_OBSTACLE if node != "required_clearance"]
        into.barred.update(opened.spot(node, fitment=fitment, axle=axle) for node in AT_END)
        into.barred.update(opened.spot(node, fitment=fitment, obstacle=one) for one in labels for node in swept)

    lost, way_steered = opened.fit_fault(axle, fitment), opened.steered_fault(axle, fitment)
    if lost is not None:
        bar(*(mine if way_steered else ()))
        into.needs.update(dict.fromkeys((*end_spots, *(spots.values() if way_steered else ())), (way_steered or lost,)))
        if way_steered:
            return
    for label, one in mine.items():
        kept = asked_when_unknown(one.measured.kind)
        if unmeasured_key(one) and not one.fault:
            kept = kept[:1]  # of what nobody measured yet one line is enough
        into.not_asked.update(opened.spot(node, fitment=fitment, obstacle=label) for node in JUDGED if node not in kept)
        mock_up_results(opened, fitment, label, into)
    spacing_results(opened, fitment, axle, [], (), into)
    road = opened.spot("road_cross_travel", axle=axle)
    if not isinstance(opened.sheet.outcome(road), Known):  # it was set, and cannot be read
        bar(*mine)
        into.needs.update(dict.fromkeys(all_spots, keys_behind(opened, (road,))))
        return
    if opened.suspension(axle, fitment) == "independent":
        why = f"the {axle} axle has independent suspension: the sweep only knows a solid axle"
        into.troubles.update(dict.fromkeys(all_spots, why))
        return
    try:
        here = swept_tires(opened, fitment, axle)
        sides = side_tires(opened, fitment, axle, here)
        limited = ready_tires(here)
        lacking = [spot for one in here.values() if not isinstance(one, SweptWheel) for spot in one]
        lost_spot = any(_is_barred(opened, spot) for spot in lacking)
        if lacking and not lost_spot:  # the window needs no backspace: it is what is asked
            limited = ready_tires(swept_tires(opened, fitment, axle, anywhere=True))
    except ValueError as fault:
        into.troubles.update(dict.fromkeys(all_spots, sweep_error_text(opened, fitment, axle, fault)))
        return
    outcomes = map(opened.sheet.outcome, lacking)
    failed = next((outcome.why for outcome in outcomes if isinstance(outcome, Failed)), "")
    if failed:
        into.troubles.update(dict.fromkeys((*spots.values(), *(() if limited else end_spots)), failed))
        if not limited:  # what would do in place of the impossible one can be asked for all the same
            into.needs.update(dict.fromkeys(all_spots, keys_behind(opened, lacking)))
            return
    if lacking:
        if lost_spot:
            bar()
        keys = keys_behind(opened, lacking)
        into.needs.update(dict.fromkeys(end_spots, (lost, *keys) if lost else keys))
    swept_ones: list[tuple[float, FitObstacle]] = []
    brought: dict[str, dict[str, tuple[str, float]]] = {}
    gathered: list[Gathered] = []
    gained: dict[str, float] = {}
    ends = {at: tire_ends(wheel) for at, wheel in sides.items() if isinstance(wheel, SweptWheel)}
    for label, one in mine.items():
        between()
        own = unmeasured_key(one)
        wheels = {at: wheel for at, wheel in sides.items() if one.measured.side in (at.side, "both") or not at.side}
        waiting = [wheel for wheel in wheels.values() if not isinstance(wheel, SweptWheel)]
        if own or waiting:
            keys = tuple(dict.fromkeys(key for several in waiting for key in keys_behind(opened, several)))
            into.needs[spots[label]] = (own, *keys) if own else keys
        if any(_is_barred(opened, spot) for several in waiting for spot in several):
            bar(label)
        ready = {at: wheel for at, wheel in wheels.items() if isinstance(wheel, SweptWheel)}
        if own or one.required is None:
            continue
        try:
            made = {at: swept_obstacle(one, label, wheel) for at, wheel in ready.items()}
            swept = {
                at: clearance(ready[at], obstacle)
                for at, obstacle in made.items()
                if obstacle is not None and not waiting
            }
            if limited:  # limits have no side: they take the span over both
                whole = swept_obstacle(one, label, limited[0])
                assert whole is not None
                sideless = [found for at, found in swept.items() if not at.side]
                low = min(found.low for found in sideless or [clearance(tire, whole) for tire in limited])
                swept_ones.append((low - whole.required, fit_obstacle(opened, axle, one, whole, limited[0])))
            if swept:
                met = {at: obstacle for at, obstacle in made.items() if obstacle is not None}
                results = obstacle_results(opened, fitment, axle, one, met, ready, swept, ends, into)
                brought[label] = results.brought
                gained |= {label: results.gained} if results.gained else {}
                gathered += results.gathered
        except ValueError as fault:  # within its tolerances the wheel or the motion cannot be
            said = f"within the tolerances entered: {sweep_error_text(opened, fitment, axle, fault)}"
            into.troubles.update(dict.fromkeys((spots[label], *end_spots), said))
            continue
    spacings = {entry for wheel in sides.values() if isinstance(wheel, SweptWheel) for entry in wheel.spacings_assumed}
    spacing_results(opened, fitment, axle, gathered, spacings, into)
    if not limited or any(spot in into.troubles for spot in end_spots):
        return
    # What binds is most likely the one with least to spare: asked first, it leaves least to ask of the others.
    nearest_first = [obstacle for _, obstacle in sorted(swept_ones, key=lambda one: one[0])]
    between()
    if lost is not None:
        return
    try:
        halfway = tuple(dict.fromkeys(key for one in (*mine.values(), *loose) if (key := unmeasured_key(one))))
        asked = FitAsked(opened, fitment, axle, limited, nearest_first, halfway)
        limits = fit_limits(asked)
        if limits.barred:
            bar()
            into.needs.update(dict.fromkeys(end_spots, limits.barred))
            return
        into.results.update(limits.results)
        into.needs.update(limits.needs)
        gathered += limits_kept_open(asked, limits, gathered, into)
        spacing_results(opened, fitment, axle, gathered, {*spacings, *limited[0].spacings_assumed}, into)
        limits_settled(asked, limits, gained, into)
        by_rules = {name: {key: (key, half) for key, half in of_rule} for name, of_rule in limits.brought.items()}
        brought = {name: each for name, each in by_rules.items() if each} | brought
        for node, reading in LIMITS.items():  # a limit is as doubtful as the clearance that binds it
            limit = opened.spot(node, fitment=fitment, axle=axle)
            binds = into.words(limit)
            if limit in into.results and binds in brought:
                into.tolerance_sources[limit] = most_first(brought[binds], without=reading)
        for window, both in limits.ends.items():  # and a window as the two limits at its ends
            pairs = sorted(pair for name in both for pair in most_first(brought.get(name, {}), without="offset"))
            if pairs:
                into.tolerance_sources[window] = tuple(sorted(dict(pairs).items(), key=lambda one: -one[1]))
    except ValueError as fault:
        into.troubles.update(dict.fromkeys(end_spots, sweep_error_text(opened, fitment, axle, fault)))


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


def obstacles_inside_tire(opened: OpenProject) -> Iterator[tuple[str, str]]:
    """Obstacles that would lie inside a tire found on the truck, each with its axle: a reading is wrong."""
    wheels: dict[str, dict[SweptTire, SweptOrWaiting]] = {}
    for label, one in opened.obstacles.items():
        axle = one.measured.axle
        if axle is None or one.fault or opened.fault_at("axles", axle, "steered"):
            continue
        try:
            if axle not in wheels:
                wheels[axle] = side_tires(opened, "found", axle, swept_tires(opened, "found", axle))
            met = wheels[axle].items()
            here = [wheel for at, wheel in met if one.measured.side in (at.side, "both") or not at.side]
            ready = [wheel for wheel in here if isinstance(wheel, SweptWheel)]
            seen = [(wheel, swept_obstacle(one, label, wheel)) for wheel in ready]
            if any(made and inside_at_rest(wheel.motion, made, wheel.small) for wheel, made in seen):
                yield label, axle
        except ValueError:
            continue  # told where the wheel itself is judged
