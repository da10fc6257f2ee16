"""What one obstacle's clearance means: which rules on it are asked, from where on it is too near, on which roads.

What an obstacle is decides what too little room means. Contact is a stop, but for sheet metal that is only met off the
road. Less than the room wanted is a stop for what steers, brakes or carries fuel, and for what nobody named; for the
rest it is a caution.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from math import degrees, floor
from typing import NamedTuple

from planner.plan.fit.clearances import (
    ClearanceEnds,
    Onset,
    clearance,
    effects,
    first_onset,
    on_road,
    onset,
    spacing_measured,
    sure_clearance,
)
from planner.plan.fit.fit_question import FitObstacle
from planner.plan.fit.kept_open import JUDGED, Gathered
from planner.plan.fit.mock_ups import least_of, with_mock_ups
from planner.plan.fit.sweep_text import sweep_location
from planner.plan.fit.swept_tires import SweptTire
from planner.plan.fit.swept_wheel import SweptWheel, TireEnds, own_tolerance
from planner.plan.truck.project import OpenProject, PlannedObstacle
from planner.plan.truck.sweep_results import SweepResults, band
from planner.quantities.kinds import DISTANCE
from planner.quantities.show import Style, show
from planner.trade.fit.motion import SweptObstacle
from planner.trade.fit.sweep import Clearance
from planner.worksheet.outcome import Known, Spot

GUARDED = (None, "steering", "brake", "fuel")  # less room than wanted is a stop
ONSETS = {
    "onset_words": ("guarded_clearance", "wished_clearance"),
    "contact_onset_words": ("contact_clearance", "off_road_clearance"),
}
NOT_SWEPT = (
    " (that low, a loaded tire bulges and chains stick out; the sweep knows about neither)"  # beside its lower third
)
LEVEL = 1e-3  # m of cross travel; less than this is a level axle
STRAIGHT = 0.05  # degrees


class ObstacleResults(NamedTuple):
    """What each reading brings to an obstacle's clearance, with its entry's key, and what waits for spacings.

    `gained` is how much more room a mock-up proves than the sweep does.
    """

    brought: dict[str, tuple[str, float]]
    gathered: list[Gathered]
    gained: float = 0.0


def asked_when_unknown(kind: str | None) -> tuple[str, ...]:
    """The clearances that are asked for while an obstacle cannot be swept."""
    if kind in GUARDED:
        return ("guarded_clearance",)
    return ("contact_clearance", "wished_clearance", *(("off_road_clearance",) if kind == "sheet metal" else ()))


def obstacle_results(
    opened: OpenProject,
    fitment: str,
    axle: str,
    one: PlannedObstacle,
    obstacles: Mapping[SweptTire, SweptObstacle],
    wheels: Mapping[SweptTire, SweptWheel],
    swept: Mapping[SweptTire, ClearanceEnds],
    ends: Mapping[SweptTire, TireEnds],
    into: SweepResults,
) -> ObstacleResults:
    """One obstacle past every tire of each side that it is on: filed with what judges it, the worst one told.

    `obstacles` has it as each side's wheel meets it, whose own shift and lean are in its tolerance. The least clearance
    of several is the least, and so are its ends: whichever tire either of them is of.
    """

    worst = min(swept, key=lambda one: swept[one].found.distance)
    found, wheel, obstacle = swept[worst].found, wheels[worst], obstacles[worst]

    def at(node: str) -> Spot:
        return opened.spot(node, fitment=fitment, obstacle=obstacle.name)

    def place(of: Mapping[SweptTire, ClearanceEnds]) -> str:
        at = min(of, key=lambda at: of[at].found.distance)
        side, steers = at.side or one.measured.side, opened.steers(axle, fitment)
        where = sweep_location(opened.style, axle, side, steers, obstacle, of[at].found)
        low = min(end[2] for end in (obstacle.start, obstacle.end or obstacle.start)) < -wheel.section.diameter / 6.0
        return where + (NOT_SWEPT if low else "")

    proving = [held for held in opened.mock_ups if held.proves(fitment, obstacle.name)]
    predicted = least_of(swept.values())
    whole = with_mock_ups(swept, one.measured.side, proving) if proving else predicted
    into.results[at("least_clearance")] = band(*whole)
    into.results[at("clearance_place")] = place(swept)
    into.found[at("least_clearance")] = found
    wanted, kind = obstacle.required, one.measured.kind
    touching = swept
    if kind == "sheet metal" and obstacle.rides == "body" and whole[1] < 0.0:
        road = _road(opened, axle)
        touching = {side: clearance(on_road(wheels[side], road), obstacles[side]) for side in swept}
    if kind not in GUARDED:
        into.results[at("contact_place")] = place(touching)
    judged = _judged(kind, whole, whole if touching is swept else _no_less(least_of(touching.values()), whole[1]))
    for node in JUDGED:
        if node in judged:
            into.results[at(node)] = band(*judged[node])
            into.not_asked.discard(at(node))
        else:
            into.not_asked.add(at(node))
    limits = {"guarded_clearance": wanted, "wished_clearance": wanted}
    if kind is None:
        into.results[at("kind_words")] = "It has no kind, so it counts as steering, brake or fuel: say what it is"
    open_ones = {node: ends_ for node, ends_ in judged.items() if ends_[1] < limits.get(node, 0.0)}
    for node, words in ONSETS.items():
        within = [one for one in open_ones if one in words]
        if within:  # contact from its own place on, less room than wanted from its own
            short = replace(obstacle, required=limits.get(within[0], 0.0))
            begins = first_onset(onset(wheels[at], short) for at in swept if at.side == worst.side)
            into.results[at(node)] = _onset_words(opened.style, begins, _road(opened, axle).low, obstacle.rides)
    brought = _brought(opened, one, found, wheel, ends[worst])
    gathered = []
    assumed = {entry for each in wheels.values() for entry in each.spacings_assumed}
    if open_ones and assumed and obstacle.rides == "body":
        sure = min(sure_clearance(spacing_measured(wheels[side]), obstacles[side]) for side in swept)
        for entry in sorted(assumed):
            brought[entry] = (f"axles.{axle}.travel.{entry}", max(0.0, sure - whole[1]))
        for node, (value, low, high) in open_ones.items():
            limit = limits.get(node, 0.0)
            if sure >= limit <= high:
                into.gathered.add(at(node))
                gathered.append(Gathered(node, obstacle.name, value - limit, low - limit, high - limit))
    gained = max(0.0, whole[1] - predicted[1])
    sources = most_first(brought)
    if gained:  # then what was read there brings the doubt, and no entry behind the sweep
        sources = tuple((f"readings[{each.taken.at}].value", each.taken.room.tolerance) for each in proving)
    for node in ("least_clearance", *judged):
        into.tolerance_sources[at(node)] = sources
    return ObstacleResults(brought, gathered, gained)


def _no_less(ends: tuple[float, float, float], low: float) -> tuple[float, float, float]:
    """The clearance on a road, which is no less than that over all the axle can do."""
    return max(ends[0], low), max(ends[1], low), max(ends[2], low)


def _judged(
    kind: str | None, whole: tuple[float, float, float], touching: tuple[float, float, float]
) -> dict[str, tuple[float, float, float]]:
    """The clearances that rules are asked about, each with its ends; what touches for certain is not also too near.

    `touching` is the clearance on the axle on which contact is a stop: of sheet metal, one that rolls as a road asks.
    """
    if kind in GUARDED:
        return {"guarded_clearance": whole}
    found = {"contact_clearance": touching}
    if touching != whole and touching[2] >= 0.0:
        found["off_road_clearance"] = whole
    if whole[2] >= 0.0:
        found["wished_clearance"] = whole
    return found


def fit_obstacle(
    opened: OpenProject, axle: str, one: PlannedObstacle, obstacle: SweptObstacle, wheel: SweptWheel
) -> FitObstacle:
    """The obstacle as it is wanted clear, and as it must be for no stop to stand."""
    kind = one.measured.kind
    if kind in GUARDED:
        return FitObstacle(obstacle, obstacle, wheel)
    road = kind == "sheet metal" and obstacle.rides == "body"
    return FitObstacle(
        obstacle, replace(obstacle, required=0.0), on_road(wheel, _road(opened, axle)) if road else wheel
    )


def _road(opened: OpenProject, axle: str) -> Known:
    """The most that a road asks one wheel to stand over the other, with its tolerance: assumed where nobody says."""
    outcome = opened.sheet.outcome(opened.spot("road_cross_travel", axle=axle))
    assert isinstance(outcome, Known)
    return outcome


def _onset_words(style: Style, begins: Onset, road: float, rides: str) -> str:
    """`from 3 1/2 in of cross travel at full steer and from 12° of steer at full cross travel: only off the road ...`.

    Never later than it is.
    """
    pieces = []
    if begins.cross is not None:
        far = show(begins.cross, DISTANCE.greatest(), style)
        pieces.append("on a level axle" if begins.cross < LEVEL else f"from {far} of cross travel")
        if begins.steer is not None:
            pieces[-1] += " at full steer"
    if begins.steer is not None:
        turned = degrees(begins.steer)
        pieces.append("straight ahead" if turned < STRAIGHT else f"from {floor(turned)}° of steer")
        if begins.cross is not None:
            pieces[-1] += " at full cross travel"
    words = " and ".join(pieces) or "wherever the wheel is"
    if rides != "body" or begins.cross is None:
        return words
    asked = show(road, DISTANCE, style)
    return f"{words}: " + (
        f"only off road, since a road takes {asked}" if begins.cross > road else f"within the {asked} that a road takes"
    )


def _brought(
    opened: OpenProject, one: PlannedObstacle, found: Clearance, wheel: SweptWheel, ends: TireEnds
) -> dict[str, tuple[str, float]]:
    """What each reading brings to the clearance at the worst place, with the key of its entry."""
    obstacle, place, (_, across, up) = found.obstacle, found.place, found.normal
    halves = effects(wheel, ends, obstacle, place)
    if obstacle.rides == "body":
        reading = "squeezed_bump" if place.rise + place.far_rise > 0.0 else "droop_travel"
        halves |= {reading: abs(up) * wheel.readings[reading].half}
        halves |= {"side_shift": abs(across) * wheel.readings["side_shift"].half}
    own = sum(abs(part) * by for part, by in zip(found.normal, own_tolerance(one.measured), strict=True))
    if one.measured.measured_from == "plumb":  # beside a wheel whose lean is in doubt
        shift = max(0.0, wheel.readings["side_shift"].high) if obstacle.rides == "body" else 0.0
        halves["camber"] = max(0.0, found.taken - own - abs(across) * shift)
    return {"at": (one.key_of("at"), own)} | {
        node: (opened.key_of(source), half)
        for node, half in halves.items()
        if (source := wheel.readings[node].source) and half > 0
    }


def most_first(brought: Mapping[str, tuple[str, float]], without: str = "none") -> tuple[tuple[str, float], ...]:
    """The entries' keys with what each brings, the one that brings most first."""
    return tuple(sorted((pair for node, pair in brought.items() if node != without), key=lambda one: -one[1]))
