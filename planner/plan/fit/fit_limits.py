"""The limits on backspace and on diameter that need no sweep: poke, law, scrub, bearings, brake."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from math import inf
from typing import NamedTuple

from planner.plan.fit.swept_wheel import SweptWheel, filled
from planner.plan.truck.project import OpenProject
from planner.plan.truck.sweep_results import Result, band
from planner.quantities.kinds import DISTANCE
from planner.quantities.show import show
from planner.trade.fit.limits import Limit, Way, largest_tire, steer_limit
from planner.trade.fit.motion import SweptObstacle
from planner.trade.fit.section import TireSection
from planner.trade.fit.trace import Trace, most_doubt, trace
from planner.trade.fit.window import Interval, Window, backspace_window, choose
from planner.worksheet.outcome import Spot, Waiting

Known = Callable[[str], float | None]


class Bounds(NamedTuple):
    """What the backspace and the diameter must lie between, apart from the obstacles.

    `hard` are those of the backspace that are not the person's to give up: a stop stands behind each. `barred` are
    those that may be among them and rest on an entry that was made and is not known.
    """

    backspace: tuple[Limit, ...]
    hard: tuple[Limit, ...]
    diameter: tuple[Limit, ...]
    barred: tuple[Spot, ...]


def bounds(opened: OpenProject, fitment: str, axle: str) -> Bounds:
    """Every limit whose figures are known, but for the cautions that the person took on.

    What is not known limits nothing here: the rules on it say that it is not known.
    """

    barred: dict[Spot, None] = {}

    def known(node: str) -> float | None:
        spot = opened.spot(node, fitment=fitment, axle=axle)
        value = opened.sheet.value(spot)
        outcome = opened.sheet.outcome(spot) if value is None else None
        if isinstance(outcome, Waiting) and outcome.barred:
            barred[spot] = None
        return None if value is None else float(value)

    taken_on = {one.flag for one in opened.project.acceptances if one.because}
    own = [(rule, limit) for rule, limit in _backspace(known) if rule not in taken_on]
    stops = {rule.name for rule in opened.sheet.catalog.rules.values() if rule.severity == "stop"}
    hard = tuple(limit for rule, limit in own if rule in stops)
    tall = tuple(_diameter(known))
    return Bounds(tuple(limit for _, limit in own), hard, tall, tuple(barred))


def _backspace(known: Known) -> Iterator[tuple[str, Limit]]:
    """Each limit with the rule that judges the same."""
    section, wide, offset = known("grown_width"), known("overall_width"), known("offset")
    if section is None or wide is None or offset is None:
        return
    half = wide / 2  # backspace = offset + half the overall width
    edge = known("face_to_fender_edge")
    pokes = (
        ("fit.poke_past_greatest", "the greatest poke wanted", "greatest_poke"),
        ("fit.poke_past_local_code", "the local code on poke", "legal_poke"),
    )
    for rule, name, node in pokes:
        greatest = known(node)
        if edge is not None and greatest is not None:
            yield rule, Limit(name, low=section / 2 - edge - greatest + half)
    wanted, slack = known("wanted_poke"), known("poke_allowance")
    if edge is not None and wanted is not None and slack is not None:
        middle = section / 2 - edge - wanted + half
        yield "fit.poke_not_as_wanted", Limit("the poke wanted", middle - slack, middle + slack)
    legal, face_to_face = known("legal_width"), known("face_to_face")
    if legal is not None and face_to_face is not None:
        yield "fit.wider_than_legal", Limit("the legal width", low=(face_to_face + section - legal) / 2 + half)
    scrub, found_scrub, most = known("scrub_radius"), known("found_scrub_radius"), known("most_scrub_change")
    if scrub is not None and found_scrub is not None and most is not None:
        middle = offset + scrub - found_scrub + half  # more offset is as much less scrub
        yield "steering.scrub_radius_changed", Limit("the scrub radius", middle - most, middle + most)
    setback, found_arm, ratio = known("bearing_setback"), known("found_bearing_arm"), known("most_bearing_moment")
    if setback is not None and found_arm is not None and ratio is not None:
        yield (
            "steering.bearing_moment_grown",
            Limit("the wheel bearings", setback - ratio * found_arm + half, setback + ratio * found_arm + half),
        )
    clearance, gap = known("radial_clearance"), known("least_brake_gap")
    if clearance is not None and gap is not None and clearance < gap:
        yield "brakes.barrel_near_brake", Limit("the brake inside the barrel", inf, inf)


def _diameter(known: Known) -> Iterator[Limit]:
    door, tall, diameter = known("door_height"), known("overall_height"), known("overall_diameter")
    if door is not None and tall is not None and diameter is not None:
        yield Limit("the door", high=diameter + 2 * (door - tall))


RIM = "the rim's own width"

WINDOW_STEP = 1e-4  # m; finer than any wheel is made

HARD = ("window_width", "window_words")

FIGHT_STEP = 5e-4  # m; by how much two limits miss each other is not cut from metal


class SweepSide(NamedTuple):
    """What is swept at one end of all tolerances: the obstacles' paths, the tire as it stands, and at any backspace."""

    paths: list[Trace]
    standing: TireSection
    anywhere: TireSection


def _sides(here: SweptWheel, ones: list[SweptObstacle]) -> tuple[SweepSide, SweepSide]:
    """Everything at the end that hurts, and everything at the kindest.

    At the worst an obstacle must be kept clear of by its whole tolerance beside what it wants; at the kindest by as
    much less, and by what the motion leaves in doubt. What comes out for the two are the ends between which the truth
    lies.
    """
    offsets = (here.readings["offset"].low, here.readings["offset"].high)
    hard = [trace(here.wide, one) for one in ones]
    soft = [
        replace(
            path.obstacle,
            required=max(0.0, path.obstacle.required - path.obstacle.reach - most_doubt(path)),
            tolerance=(0.0, 0.0, 0.0),
        )
        for path in hard
    ]
    worst = SweepSide(hard, filled(here.large, offsets), here.large)
    return worst, SweepSide([trace(here.kind, one) for one in soft], here.small, here.small)


class FitLimits(NamedTuple):
    """What is filed in the worksheet, and by the spot of a window's width the names of the limits at its two ends.

    Nothing is where a limit is `barred`: it rests on an entry that was made and is not known.
    """

    results: dict[Spot, Result]
    ends: dict[Spot, tuple[str, ...]]
    barred: tuple[Spot, ...] = ()


def fit_limits(opened: OpenProject, fitment: str, axle: str, here: SweptWheel, ones: list[SweptObstacle]) -> FitLimits:
    """The steer limits, the window of backspace and the largest tire at one end, by what has been measured.

    Each stands at its worst, with the kindest as its other end.
    """
    ends: dict[Spot, tuple[str, ...]] = {}
    barred = bounds(opened, fitment, axle).barred if opened.opened.faults else ()
    return (
        FitLimits({}, {}, barred) if barred else FitLimits(dict(_limits(opened, fitment, axle, here, ones, ends)), ends)
    )


def _limits(
    opened: OpenProject,
    fitment: str,
    axle: str,
    here: SweptWheel,
    ones: list[SweptObstacle],
    ends: dict[Spot, tuple[str, ...]],
) -> Iterator[tuple[Spot, Result]]:

    def at(node: str) -> Spot:
        return opened.spot(node, fitment=fitment, axle=axle)

    worst, kind = _sides(here, ones)
    if opened.steers(axle, fitment) and ones:
        ways: tuple[tuple[str, Way], ...] = (("inner", "out"), ("outer", "in"))
        for node, way in ways:
            found, best = (steer_limit(side.paths, side.standing, way) for side in (worst, kind))
            yield at(f"{node}_steer_limit"), band(found.angle, found.angle, best.angle)
            yield at(f"{node}_steer_binds"), found.binds or "the stop"
    limits = bounds(opened, fitment, axle)
    wide = here.section.rim_width

    def windows(of: tuple[Limit, ...], width: str) -> dict[str, Result]:
        hurting, kindest = (
            backspace_window(side.paths, side.anywhere, 0.0, wide, of, WINDOW_STEP, FIGHT_STEP)
            for side in (worst, kind)
        )
        ends[at(width)] = _ends(hurting, here)
        return dict(_window(opened, hurting, kindest, here))

    window = windows(limits.backspace, "window_width")
    yield from ((at(node), value) for node, value in window.items())
    # Only where nothing is left does it matter which limits a person could give up.
    if "window_low" in window or limits.hard == limits.backspace:
        hard, ends[at("hard_window_width")] = window, ends[at("window_width")]
    else:
        hard = windows(limits.hard, "hard_window_width")
    yield from ((at(f"hard_{node}"), hard[node]) for node in HARD if node in hard)
    if ones or limits.diameter:
        least = 2 * here.large.rim_radius + 0.02
        found_tires = [
            largest_tire(side.paths, side.standing, least, max(least, 1.6), limits.diameter) for side in (worst, kind)
        ]
        largest, best_tire = found_tires
        if largest.diameter is not None:
            yield at("largest_tire"), band(largest.diameter, largest.diameter, best_tire.diameter or largest.diameter)
        yield at("largest_tire_binds"), largest.binds or "nothing that was measured"


def _nearest(window: Window, chosen: float) -> Interval | None:
    return min(window.intervals, key=lambda one: max(one.low - chosen, chosen - one.high, 0.0), default=None)


def _chosen(here: SweptWheel) -> float:
    """The backspace that the wheel has."""
    return here.section.offset + here.section.rim_width / 2


def _ends(window: Window, here: SweptWheel) -> tuple[str, ...]:
    """What binds the stretch nearest to the one chosen at either end, or the limits that leave none."""
    best = _nearest(window, _chosen(here))
    if best is not None:
        return best.low_binds or RIM, best.high_binds or RIM
    return (window.fight.first, window.fight.second or "") if window.fight is not None else ()


def _window(opened: OpenProject, window: Window, kind: Window, here: SweptWheel) -> Iterator[tuple[str, Result]]:
    """The stretch of backspaces nearest to the one chosen, or which two limits leave none."""
    best, kindest = (_nearest(one, _chosen(here)) for one in (window, kind))
    widest = kindest.high - kindest.low if kindest else None
    if best is not None:
        choice = choose(Window((best,), None), opened.sheet.value(opened.spot("backspace_step")))
        width = best.high - best.low
        yield "window_width", band(width, width, widest or width)
        yield "window_low", band(best.low, kindest.low if kindest else best.low, best.low)
        yield "window_high", band(best.high, best.high, kindest.high if kindest else best.high)
        low, high = _ends(window, here)
        yield "window_low_binds", low
        yield "window_high_binds", high
        yield "window_words", f"{low} binds below, {high} above"
        if choice is not None:
            yield "window_choice", choice.backspace
    elif window.fight is not None:
        first, second, by = window.fight.first, window.fight.second, window.fight.by
        short = -(by if by is not None else here.section.rim_width)
        eased = kind.fight.by if kind.fight is not None else None
        yield (
            "window_width",
            band(short, short, widest if widest is not None else -eased if eased is not None else short),
        )
        if second is None or by is None:
            yield "window_words", f"No backspace keeps {first}"
        else:
            yield "window_words", f"{first} and {second} miss each other by {show(by, DISTANCE, opened.style)}"
