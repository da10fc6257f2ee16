"""What the sweep and the rules leave: how far each wheel steers, which backspaces there are, how large a tire."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import inf
from typing import NamedTuple

from planner.plan.fit.backspace_limits import BackspaceLimit, backspace_limits, rule_spot
from planner.plan.fit.swept_tires import in_pairs, placings
from planner.plan.fit.swept_wheel import SweptWheel, filled, keys_behind
from planner.plan.truck.project import INBOARD, OUTBOARD, OpenProject
from planner.plan.truck.sweep_results import NODES, Result, band
from planner.quantities.kinds import DISTANCE
from planner.quantities.quantity import Quantity
from planner.quantities.show import show
from planner.trade.fit.limits import LargestTire, Limit, SteerLimit, Way, largest_tire, steer_limit
from planner.trade.fit.motion import Motion, SweptObstacle
from planner.trade.fit.section import TireSection
from planner.trade.fit.trace import Trace, most_doubt, trace
from planner.trade.fit.window import Interval, Placing, Window, backspace_window, choose
from planner.worksheet.outcome import Known, Spot, Waiting

RIM = "the rim's own width"

WINDOW_STEP = 1e-4  # m; finer than any wheel is made

FIGHT_STEP = 2e-3  # m; by how much two limits miss each other is not cut from metal

# Rules that look at where the truck ends outboard, and the one that does so only where it is what ends the window.
FENDER_RULES = ("poke_not_as_wanted", "poke_past_greatest", "poke_past_local_code")
WIDTH_RULE = "wider_than_legal"

DOOR_RULE = "taller_than_the_door"


class SweepSide(NamedTuple):
    """What is swept at one end of all tolerances: the obstacles' paths, each tire as it stands, and at any backspace.

    `steered` are the paths through as much steer as there may be, in which the most is looked for.
    """

    paths: list[Trace]
    steered: list[Trace]
    standing: list[TireSection]
    anywhere: TireSection


BothSides = tuple[SweepSide, SweepSide]


class FitObstacle(NamedTuple):
    """An obstacle past the wheel: as it is wanted clear, and as it must be for no stop to stand.

    The latter holds on the axle as `held`: of sheet metal, on one that rolls no more than a road asks.
    """

    wanted: SweptObstacle
    must: SweptObstacle
    held: SweptWheel


def _sides(tires: Sequence[SweptWheel], ones: list[tuple[SweptWheel, SweptObstacle]]) -> BothSides:
    """Everything at the end that hurts, and everything at the kindest.

    At the worst an obstacle must be kept clear of by its whole tolerance beside what it wants; at the kindest by as
    much less, and by what the motion leaves in doubt. What comes out for the two are the ends between which the truth
    lies.
    """
    offsets = [(here.readings["offset"].low, here.readings["offset"].high) for here in tires]
    hard = [trace(wheel.wide, one) for wheel, one in ones]
    both = [(wheel, _eased(path)) for (wheel, _), path in zip(ones, hard, strict=True)]
    soft = [trace(wheel.kind, one, kind=True) for wheel, one in both]
    steered = [trace(_locked_as(wheel.wide, wheel.kind), one, kind=True) for wheel, one in both]
    large = [filled(here.large, ends) for here, ends in zip(tires, offsets, strict=True)]
    worst = SweepSide(hard, hard, large, tires[0].large)
    return worst, SweepSide(soft, steered, [here.small for here in tires], tires[0].small)


def _locked_as(wide: Motion, kind: Motion) -> Motion:
    """A kind motion that steers as far as the other: how far it may steer is what is asked."""
    return replace(kind, steer_in=wide.steer_in, steer_out=wide.steer_out)


def _eased(path: Trace) -> SweptObstacle:
    by = path.obstacle.reach + most_doubt(path)
    return replace(path.obstacle, required=path.obstacle.required - by, tolerance=(0.0, 0.0, 0.0))


class FitLimits(NamedTuple):
    """What is filed in the worksheet, and by the spot of a window's width the names of the limits at its two ends.

    `brought` has by the name of a rule's limit which entries move it, by key and how far. `needs` has the keys that a
    limit waits for which is not known. Nothing is where a limit is `barred`: it rests on entries that were made and are
    not known, at these keys.
    """

    results: dict[Spot, Result]
    ends: dict[Spot, tuple[str, ...]]
    needs: dict[Spot, tuple[str, ...]]
    brought: dict[str, tuple[tuple[str, float], ...]]
    barred: tuple[str, ...] = ()


class FitAsked(NamedTuple):
    """One end of a fitment, its obstacles, the most pressing first, and the keys that others of them lack (`half`).

    `tires` are the one that stands there, or a pair's inner and outer; `here` is the first of them.
    """

    opened: OpenProject
    fitment: str
    axle: str
    tires: Sequence[SweptWheel]
    ones: list[FitObstacle]
    half: tuple[str, ...]

    @property
    def here(self) -> SweptWheel:
        return self.tires[0]

    @property
    def pair(self) -> bool:
        return len(self.tires) > 1

    def at(self, node: str) -> Spot:
        return self.opened.spot(node, fitment=self.fitment, axle=self.axle)

    def known(self, node: str) -> float | None:
        value = self.opened.sheet.value(self.at(node))
        return None if value is None else float(value)

    @property
    def wide(self) -> float:
        return self.here.section.rim_width

    @property
    def chosen(self) -> float | None:
        """The backspace that the wheel has, if any is chosen yet."""
        if self.pair:  # whose tires stand elsewhere than at the offset
            return self.known("backspace")
        return None if self.here.waits else self.here.section.offset + self.wide / 2

    @property
    def makers_tolerance(self) -> float:
        """How well the wheel's maker holds the backspace, where that is entered."""
        entry = self.opened.sheet.entered(self.at("backspace"))
        given = None if entry is None else self.opened.sheet.given(entry)
        return given.tolerance if isinstance(given, Quantity) else 0.0

    @property
    def as_found(self) -> float | None:
        """The backspace that keeps the tire's center plane where it was found; of a pair, where one was found."""
        found = self.known("found_offset")
        if found is None or self.pair != in_pairs(self.opened, "found", self.axle):
            return None
        return found + self.wide / 2

    def placed(self) -> Sequence[Placing]:
        """Where each tire stands at any backspace, as well as that is known."""
        if self.pair:
            return placings(self.opened, self.fitment, self.axle) or ()
        rim = self.here.readings["overall_width"]  # the offset is the backspace less half of the rim's width
        return (Placing(aside=(rim.high - rim.low) / 4),)

    def middles(self) -> tuple[float, float]:
        """How far outboard of the hub's face the center planes of the inmost and of the outmost tire stand."""
        if self.here.waits:
            found = self.known("found_offset")
            return -(found or 0.0), -(found or 0.0)
        return -self.tires[0].section.offset, -self.tires[-1].section.offset


def across(one: SweptObstacle) -> tuple[float, float]:
    """How far outboard of the hub's face an obstacle stands, at either end of an edge."""
    return one.start[1], (one.end or one.start)[1]


def fit_limits(
    opened: OpenProject,
    fitment: str,
    axle: str,
    tires: Sequence[SweptWheel],
    ones: list[FitObstacle],
    half: tuple[str, ...] = (),
) -> FitLimits:
    """The steer limits, the window of backspaces and the largest tire at one end, by what has been measured.

    Each stands at its worst, with the kindest as its other end. While an obstacle is entered halfway, only what fails
    without it is told.
    """
    asked = FitAsked(opened, fitment, axle, tires, ones, half)
    here = asked.here
    own, tall = backspace_limits(opened, fitment, axle, asked.wide), diameter_limits(opened, fitment, axle)
    barred = (*own.barred, *tall.barred) if opened.opened.faults else ()
    found = FitLimits({}, {}, {}, {limit.rule.bounds: limit.brought for limit in own.limits}, barred)
    if not barred:
        wanted = _sides(tires, [(here, one.wanted) for one in ones])
        must = wanted
        if any(one.must != one.wanted for one in ones):
            must = _sides(tires, [(one.held, one.must) for one in ones])
        if here.waits:
            wait = dict.fromkeys(map(asked.at, ("inner_steer_limit", "outer_steer_limit", "largest_tire")))
            found.needs.update(dict.fromkeys(wait, keys_behind(opened, here.waits)))
        else:
            _standing(asked, wanted, must, tall, found)
        _windows(asked, wanted, must, own.limits, found)
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
        results[at("largest_tire_binds")] = largest.binds or "nothing that was measured"


def _least_steer(side: SweepSide, way: Way) -> SteerLimit:
    """The most steer that every tire allows."""
    return min((steer_limit(side.steered, tire, way) for tire in side.standing), key=lambda one: one.angle)


def _least_largest(side: SweepSide, low: float, high: float, limits: Sequence[Limit]) -> LargestTire:
    """The largest diameter that both tires of a pair may have: they are of one size."""
    found = [largest_tire(side.paths, tire, low, high, limits) for tire in side.standing]
    return min(found, key=lambda one: -inf if one.diameter is None else one.diameter)


class BothWindows(NamedTuple):
    """The stretches of backspace at the worst of all tolerances, and at the kindest."""

    worst: Window
    kindest: Window


def _windows(
    asked: FitAsked, wanted: BothSides, must: BothSides, own: tuple[BackspaceLimit, ...], found: FitLimits
) -> None:
    """The window that keeps every limit, and the one that only keeps those behind which a stop stands."""
    counted = [limit for limit in own if not limit.taken_on]
    hard = [limit for limit in counted if limit.rule.severity == "stop"]
    whole = _both(asked, wanted, counted)
    _tell(asked, whole, own, "window", found)
    # Only where nothing is left does it matter which limits a person could give up.
    same = whole.worst.intervals or (len(hard) == len(counted) and must is wanted)
    _tell(asked, whole if same else _both(asked, must, hard), own, "hard_window", found)
    if same:
        for node in ("hard_window_low", "hard_window_high"):
            found.results.pop(asked.at(node), None)


def _both(asked: FitAsked, sides: BothSides, limits: list[BackspaceLimit]) -> BothWindows:
    hurting, kind = [limit.worst for limit in limits], [limit.kindest for limit in limits]
    placed = asked.placed()
    eased = [one._replace(aside=-one.aside) for one in placed]
    hurts, eases = (
        backspace_window(side.paths, side.anywhere, 0.0, asked.wide, bounds, WINDOW_STEP, FIGHT_STEP, stand)
        for side, bounds, stand in zip(sides, (hurting, kind), (placed, eased), strict=True)
    )
    return BothWindows(hurts, eases)


def _tell(asked: FitAsked, both: BothWindows, own: tuple[BackspaceLimit, ...], name: str, found: FitLimits) -> None:
    """One window filed, or what it waits for: an obstacle that is entered halfway, or a side where none is measured."""
    at, results, near = asked.at, found.results, asked.as_found if asked.chosen is None else asked.chosen
    best, kindest = (_nearest(one, near) for one in (both.worst, both.kindest))
    every = [at(f"{name}_{node}") for node in ("width", "low", "high", "choice") if f"{name}_{node}" in NODES]
    found.ends[every[0]] = _ends(both.worst, best)
    if asked.half and kindest is not None:
        found.needs.update(dict.fromkeys(every, asked.half))
        results[at("window_ends")] = "an obstacle is entered halfway"
    elif best is None:
        results.update((at(f"{name}_{node}"), value) for node, value in _no_window(asked, both, kindest))
    else:
        missing = _unmeasured(asked, own, best)
        side_needs = tuple(f"obstacles.{asked.axle}.{side}" for side in missing)
        found.needs.update(dict.fromkeys(every, side_needs) if missing else {})
        for node, value in _window(asked, best, kindest or best, missing):
            if f"{name}_{node}" in NODES:
                results[at(f"{name}_{node}")] = value


def _nearest(window: Window, near: float | None) -> Interval | None:
    """The stretch nearest to a backspace, or the widest."""
    if near is None:
        return max(window.intervals, key=lambda one: one.high - one.low, default=None)
    return min(window.intervals, key=lambda one: max(one.low - near, near - one.high, 0.0), default=None)


def _ends(window: Window, best: Interval | None) -> tuple[str, ...]:
    """What binds a stretch at either end, or the limits that leave none."""
    if best is not None:
        return best.low_binds or RIM, best.high_binds or RIM
    return (window.fight.first, window.fight.second or "") if window.fight is not None else ()


def _unmeasured(asked: FitAsked, own: tuple[BackspaceLimit, ...], best: Interval) -> tuple[str, ...]:
    """The sides of the tire on which nothing says how far it may stand out: what nobody measured is not clear.

    Outboard a limit on what stands out past the fender says so too, and the legal width where that is what binds.
    """
    inmost, outmost = asked.middles()
    sides = [y for one in asked.ones for y in across(one.wanted)]
    rules = {limit.rule.node: limit.rule.bounds for limit in own}
    outboard = any(y > outmost for y in sides) or any(node in rules for node in FENDER_RULES)
    further_out = best.high_binds if asked.pair else best.low_binds
    outboard = outboard or (WIDTH_RULE in rules and further_out == rules[WIDTH_RULE])
    inboard = any(y < inmost for y in sides)
    return tuple(side for side, known in ((INBOARD, inboard), (OUTBOARD, outboard)) if not known)


def _window(
    asked: FitAsked, best: Interval, kindest: Interval, missing: tuple[str, ...]
) -> Iterator[tuple[str, Result]]:
    """A stretch of backspaces, each end at its worst with the kindest as its other end, where its side is known."""
    low, high = best.low_binds or RIM, best.high_binds or RIM
    ends = {OUTBOARD: f"{low} binds below", INBOARD: f"{high} binds above"}
    ends.update((side, f"nothing {side} of the tire is measured") for side in missing)
    yield "ends", ", ".join(ends.values())
    if OUTBOARD not in missing:
        yield "low", band(best.low, kindest.low, best.low)
        yield "low_binds", low
    if INBOARD not in missing:
        yield "high", band(best.high, best.high, kindest.high)
        yield "high_binds", high
    if missing:
        return
    width = best.high - best.low
    yield "width", band(width, width, kindest.high - kindest.low)
    yield "words", f"{low} binds below, {high} above"
    step = asked.opened.sheet.value(asked.opened.spot("backspace_step"))
    choice = choose(Window((best,), None), step, asked.as_found, asked.makers_tolerance)
    if choice is not None:
        yield "choice", choice.backspace


def _no_window(asked: FitAsked, both: BothWindows, kindest: Interval | None) -> Iterator[tuple[str, Result]]:
    """Which two limits leave no backspace, by how much, and what is left of it at the kindest."""
    fight, eased = both.worst.fight, both.kindest.fight
    if fight is None:
        return
    short = -(fight.by if fight.by is not None else asked.wide)
    kind = kindest.high - kindest.low if kindest else -eased.by if eased is not None and eased.by is not None else short
    yield "width", band(short, short, kind)
    if fight.second is None or fight.by is None:
        yield "words", f"no backspace keeps {fight.first}"
    else:
        by = show(fight.by, DISTANCE, asked.opened.style)
        yield "words", f"{fight.first} and {fight.second} miss each other by {by}"
