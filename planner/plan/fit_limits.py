"""How far the sweep lets a wheel steer, which backspaces it leaves and how large a tire, each with its two ends."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import TYPE_CHECKING, NamedTuple

from planner.plan.bounds import bounds
from planner.plan.swept import Result, band
from planner.plan.wheels import Wheel, filled
from planner.quantities.kinds import DISTANCE
from planner.quantities.show import show
from planner.trade.fit.limits import Limit, Way, largest_tire, steer_limit
from planner.trade.fit.motion import Obstacle
from planner.trade.fit.section import Section
from planner.trade.fit.trace import Trace, trace
from planner.trade.fit.window import Interval, Window, backspace_window, choose
from planner.worksheet.outcome import Spot

if TYPE_CHECKING:
    from planner.plan.opening import OpenProject

RIM = "the rim's own width"
WINDOW_STEP = 1e-4  # m; finer than any wheel is made
HARD = ("window_width", "window_words")
FIGHT_STEP = 5e-4  # m; by how much two limits miss each other is not cut from metal


class Side(NamedTuple):
    """What is swept at one end of all tolerances: the obstacles' paths, the tire as it stands, and at any backspace."""

    paths: list[Trace]
    standing: Section
    anywhere: Section


def _sides(here: Wheel, ones: list[tuple[Obstacle, float]]) -> tuple[Side, Side]:
    """Everything at the end that hurts, and everything at the kindest.

    At the worst an obstacle must be kept clear of by its whole tolerance and the kingpin's beside what it wants; at the
    kindest by as much less. What comes out for the two are the ends between which the truth lies.
    """
    taken = here.readings
    hard = [replace(one, required=one.required + leans) for one, leans in ones]
    soft = [
        replace(one, required=max(0.0, one.required - one.reach - leans), tolerance=(0.0, 0.0, 0.0))
        for one, leans in ones
    ]
    width = max(taken["section_width"].low, 1e-3)
    small = replace(
        here.section,
        section_width=width,
        tread_width=min(here.section.tread_width, width),
        diameter=max(taken["overall_diameter"].low, 2 * here.section.barrel_radius + 1e-3),
    )
    offsets = (taken["offset"].low, taken["offset"].high)
    worst = Side([trace(here.wide, one) for one in hard], filled(here.large, offsets), here.large)
    return worst, Side([trace(here.wide, one) for one in soft], small, small)


class FitLimits(NamedTuple):
    """What is filed in the worksheet, and by the spot of a window's width the names of the limits at its two ends."""

    results: dict[Spot, Result]
    ends: dict[Spot, tuple[str, ...]]


def fit_limits(
    opened: OpenProject, fitment: str, axle: str, here: Wheel, ones: list[tuple[Obstacle, float]]
) -> FitLimits:
    """The steer limits, the window of backspace and the largest tire at one end, by what has been measured.

    Each stands at its worst, with the kindest as its other end.
    """
    ends: dict[Spot, tuple[str, ...]] = {}
    return FitLimits(dict(_limits(opened, fitment, axle, here, ones, ends)), ends)


def _limits(
    opened: OpenProject,
    fitment: str,
    axle: str,
    here: Wheel,
    ones: list[tuple[Obstacle, float]],
    ends: dict[Spot, tuple[str, ...]],
) -> Iterator[tuple[Spot, Result]]:

    def at(node: str) -> Spot:
        return opened.spot(node, fitment=fitment, axle=axle)

    worst, kind = _sides(here, ones)
    if opened.steers(axle) and ones:
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
        least = 2 * here.section.barrel_radius + 0.02
        found_tires = [
            largest_tire(side.paths, side.standing, least, max(least, 1.6), limits.diameter) for side in (worst, kind)
        ]
        largest, best_tire = found_tires
        if largest.diameter is not None:
            yield at("largest_tire"), band(largest.diameter, largest.diameter, best_tire.diameter or largest.diameter)
        yield at("largest_tire_binds"), largest.binds or "nothing that was measured"


def _nearest(window: Window, chosen: float) -> Interval | None:
    return min(window.intervals, key=lambda one: max(one.low - chosen, chosen - one.high, 0.0), default=None)


def _chosen(here: Wheel) -> float:
    """The backspace that the wheel has."""
    return here.section.offset + here.section.rim_width / 2


def _ends(window: Window, here: Wheel) -> tuple[str, ...]:
    """What binds the stretch nearest to the one chosen at either end, or the limits that leave none."""
    best = _nearest(window, _chosen(here))
    if best is not None:
        return best.low_binds or RIM, best.high_binds or RIM
    return (window.fight.first, window.fight.second or "") if window.fight is not None else ()


def _window(opened: OpenProject, window: Window, kind: Window, here: Wheel) -> Iterator[tuple[str, Result]]:
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
