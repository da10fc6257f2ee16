"""What the sweep and the rules leave: how far each wheel steers, which backspaces there are, how large a tire."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from math import inf
from typing import NamedTuple, TypeAlias

from planner.plan.fit.backspace_limits import backspace_limits, rule_spot
from planner.plan.fit.fit_question import BothSides, FitAsked, FitLimits, SweepSide, across, both_sides
from planner.plan.fit.fit_windows import windows, windows_wait
from planner.plan.fit.swept_wheel import keys_behind
from planner.plan.truck.project import INBOARD, OpenProject
from planner.plan.truck.sweep_results import band
from planner.trade.fit.limits import LargestTire, Limit, SteerLimit, Way, largest_tire, steer_limit
from planner.trade.fit.motion import Motion, SweptObstacle
from planner.trade.fit.section import TireSection
from planner.trade.fit.trace import Trace, trace
from planner.worksheet.outcome import Known, Waiting

AskedPath: TypeAlias = tuple[Motion, SweptObstacle, bool]  # what a trace is made of

DOOR_RULE = "taller_than_the_door"


def fit_limits(asked: FitAsked) -> FitLimits:
    """The steer limits, the window of backspaces and the largest tire at one end, by what has been measured.

    Each stands at its worst, with the kindest as its other end. While an obstacle is entered halfway, only what fails
    without it is told.
    """
    opened, end, here, ones = asked.opened, (asked.fitment, asked.axle), asked.here, asked.ones
    own, tall = backspace_limits(opened, *end, asked.wide), diameter_limits(opened, *end)
    barred = (*own.barred, *tall.barred) if opened.opened.faults or opened.at_odds else ()
    found = FitLimits({}, {}, {}, {limit.rule.bounds: limit.brought for limit in own.limits}, barred)
    if not barred:
        wanted = both_sides(asked.tires, [(here, one.wanted) for one in ones])
        must = wanted
        if any(one.must != one.wanted for one in ones):
            must = both_sides(asked.tires, [(one.held, one.must) for one in ones])
        if here.waits:
            wait = dict.fromkeys(map(asked.at, ("inner_steer_limit", "outer_steer_limit", "largest_tire")))
            found.needs.update(dict.fromkeys(wait, keys_behind(opened, here.waits)))
        else:
            _standing(asked, wanted, must, tall, found)
            if tall.barred:  # by what a change leaves open
                found.results.pop(asked.at("largest_tire"), None)
                found.needs[asked.at("largest_tire")] = tall.barred
        if own.barred or own.waits:
            windows_wait(asked, own.barred or own.waits, found)
        else:
            windows(asked, wanted, must, own.limits, found)
    return found


class DiameterLimits(NamedTuple):
    """What the diameter must keep apart from the obstacles, at the worst and at the kindest; `barred` as above."""

    worst: tuple[Limit, ...]
    kindest: tuple[Limit, ...]
    barred: tuple[str, ...]


def diameter_limits(opened: OpenProject, fitment: str, axle: str) -> DiameterLimits:
    """The lowest door, by what its rule leaves: the truck rises by half of what the tires grow."""
    spots = rule_spot(opened, DOOR_RULE, fitment, axle), opened.spot("overall_diameter", fitment=fitment, axle=axle)
    room, diameter = (opened.sheet.outcome(spot) for spot in spots)
    if isinstance(room, Known) and isinstance(diameter, Known):
        ends = (diameter.low + 2 * room.low, diameter.high + 2 * room.high)
        worst, kindest = (Limit("the door", high=end) for end in ends)
        return DiameterLimits((worst,), (kindest,), ())
    waiting = [one for one in (room, diameter) if isinstance(one, Waiting)]
    return DiameterLimits((), (), tuple(opened.key_of(spot) for one in waiting for spot in one.barred))


def _standing(asked: FitAsked, wanted: BothSides, must: BothSides, tall: DiameterLimits, found: FitLimits) -> None:
    """The limits of the wheel that is chosen: how far it must not steer, and how tall its tire may be."""
    here, at, results = asked.here, asked.at, found.results
    # A wheel steers toward what stands inboard of it: while nothing there is measured nobody knows how far it may. What
    # rides with the knuckle turns along and tells nothing.
    around = [one.wanted for one in asked.ones if one.wanted.rides != "knuckle"]
    inboard = any(y < asked.middles()[0] for one in around for y in across(one))
    lacking = asked.half or (() if inboard else (f"obstacles.{asked.axle}.{INBOARD}",))
    if asked.opened.steers(asked.axle, asked.fitment) and asked.ones:
        ways: tuple[tuple[str, Way, str], ...] = (("inner", "out", "stop_angle"), ("outer", "in", "stop_angle_out"))
        for node, way, stop in ways:
            limit, best = (_least_steer(side, way) for side in must)
            if lacking and best.angle >= here.readings[stop].low:
                found.needs[at(f"{node}_steer_limit")] = lacking
                continue
            results[at(f"{node}_steer_limit")] = band(limit.angle, limit.angle, best.angle)
            results[at(f"{node}_steer_binds")] = limit.binds or "the stop"
    elif asked.half:
        found.needs.update(dict.fromkeys(map(at, ("inner_steer_limit", "outer_steer_limit")), asked.half))
    if asked.half:
        found.needs[at("largest_tire")] = asked.half
    elif asked.ones or tall.worst:
        least = 2 * here.section.rim_radius + 0.02
        largest, best_tire = (
            _least_largest(side, least, max(least, 1.6), limits)
            for side, limits in zip(wanted, (tall.worst, tall.kindest), strict=True)
        )
        if largest.diameter is not None:
            results[at("largest_tire")] = band(
                largest.diameter, largest.diameter, best_tire.diameter or largest.diameter
            )
        results[at("largest_tire_binds")] = largest.binds or "nothing you measured"


def _least_steer(side: SweepSide, way: Way) -> SteerLimit:
    """The most steer that every tire allows."""
    return min((_steer(_asked(side.steered), tire, way) for tire in side.standing), key=lambda one: one.angle)


def _least_largest(side: SweepSide, low: float, high: float, limits: Sequence[Limit]) -> LargestTire:
    """The largest diameter that both tires of a pair may have: they are of one size."""
    found = [_largest(_asked(side.paths), tire, low, high, tuple(limits)) for tire in side.standing]
    return min(found, key=lambda one: -inf if one.diameter is None else one.diameter)


def _asked(paths: Sequence[Trace]) -> tuple[AskedPath, ...]:
    return tuple((path.motion, path.obstacle, path.kind) for path in paths)


@lru_cache(maxsize=256)
def _steer(paths: tuple[AskedPath, ...], tire: TireSection, way: Way) -> SteerLimit:
    """Kept, as a clearance is: an edit of what nothing here reads asks it again."""
    return steer_limit([trace(*one) for one in paths], tire, way)


@lru_cache(maxsize=256)
def _largest(
    paths: tuple[AskedPath, ...], tire: TireSection, low: float, high: float, limits: tuple[Limit, ...]
) -> LargestTire:
    return largest_tire([trace(*one) for one in paths], tire, low, high, limits)
