"""One end of the truck past any tire: at which backspaces every stop of the sweep holds, tolerances at their worst.

What is asked is a yes or no at one backspace, which costs far less than a window; what ruled out the last tire is asked
first of the next, since it most likely rules it out too.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from math import inf
from typing import NamedTuple

from planner.plan.fit.backspace_limits import NONE_KEEPS, BackspacesTried, kept, limit_of, rule_spot
from planner.plan.fit.clearances import sure_clearance
from planner.plan.fit.fit_question import FitAsked, FitObstacle
from planner.plan.fit.fit_windows import FIGHT_STEP, WINDOW_STEP
from planner.plan.fit.obstacle_results import fit_obstacle
from planner.plan.fit.swept_tires import ready_tires, swept_tires
from planner.plan.fit.swept_wheel import SweptWheel, filled, swept_obstacle
from planner.plan.truck.pairs import asked_there, in_pairs
from planner.plan.truck.project import OpenProject
from planner.trade.fit.limits import Limit
from planner.trade.fit.section import TireSection
from planner.trade.fit.sweep import YES_OR_NO, keeps
from planner.trade.fit.trace import Trace, trace
from planner.trade.fit.window import Interval, Placing, at_backspace, backspace_window
from planner.worksheet.outcome import Known

SLACK = 1e-9  # m


class AxleFit(NamedTuple):
    """What one tire on one rim asks of an axle, whatever its backspace; `near` is where the tire's middle was found.

    `stretch` has the backspaces that every stop without a sweep allows, `binds` the one that allows none.
    """

    asked: FitAsked
    paths: list[Trace]
    placed: tuple[Placing, ...]
    section: TireSection
    limits: tuple[Limit, ...]
    stretch: tuple[float, float]
    binds: str
    near: float | None
    poke: float | None  # at no backspace: it falls by what the backspace grows


def axle_fit(opened: OpenProject, fitment: str, axle: str) -> AxleFit | None:
    """The axle past the tire that stands on the worksheet; None where that is not known."""
    tires = ready_tires(swept_tires(opened, fitment, axle, anywhere=True))
    if not tires:
        return None
    asked = FitAsked(opened, fitment, axle, tires, _obstacles(opened, fitment, axle, tires[0]), ())
    paths = [trace(one.held.wide, one.must) for one in asked.ones]
    tried = BackspacesTried(opened, fitment, axle)
    limits, binds = _limits(opened, fitment, axle, tried, asked.looked_at)
    low, high = asked.looked_at
    stretch = max((low, *(one.low for one in limits))), min((high, *(one.high for one in limits)))
    poke = opened.spot("poke", fitment=fitment, axle=axle)
    at_none = tried.outcome(poke, 0.0) if not in_pairs(opened, fitment, axle) else None
    value = float(at_none.value) if isinstance(at_none, Known) else None
    return AxleFit(asked, paths, tuple(asked.placed()), tires[0].large, limits, stretch, binds, asked.as_found, value)


def _obstacles(opened: OpenProject, fitment: str, axle: str, wheel: SweptWheel) -> list[FitObstacle]:
    found = []
    for label, one in opened.obstacles_of(fitment).items():
        swept = swept_obstacle(one, label, wheel) if one.measured.axle == axle else None
        if swept is not None:
            found.append(fit_obstacle(opened, axle, one, swept, wheel))
    return found


def _limits(
    opened: OpenProject, fitment: str, axle: str, tried: BackspacesTried, looked_at: tuple[float, float]
) -> tuple[tuple[Limit, ...], str]:
    """What the stops with a bound leave of the backspaces, and the rule of the one that leaves none."""
    low, high = looked_at
    found: list[Limit] = []
    for rule in opened.sheet.catalog.rules.values():
        spot = rule_spot(opened, rule.node, fitment, axle) if rule.bounds and rule.severity == "stop" else None
        if spot is None or not asked_there(opened, spot) or not isinstance(tried.outcome(spot, low), Known):
            continue
        if in_pairs(opened, fitment, axle) and not tried.moves(spot, *looked_at):
            continue
        stretch = kept(tried.margins(spot, "low"), *looked_at)
        low, high = max(low, stretch[0]), min(high, stretch[1])
        found.append(limit_of(rule.bounds, stretch, *looked_at))
        if stretch == NONE_KEEPS or low > high:
            return tuple(found), rule.name
    return tuple(found), ""


def stop_window(fit: AxleFit, backspace: float) -> Interval | None:
    """The stretch of backspaces around one at which every stop of this axle holds, proven; None where there is none."""
    found = backspace_window(
        fit.paths, fit.section, *fit.asked.looked_at, fit.limits, WINDOW_STEP, FIGHT_STEP, fit.placed
    )
    return min(found.intervals, key=lambda one: max(one.low - backspace, backspace - one.high), default=None)


def in_the_way(fit: AxleFit, backspace: float, off: float, order: list[str]) -> str:
    """The obstacle that is too near for sure or perhaps; empty where all of them keep their room, proven.

    The wheel may come with `off` more or less backspace. `order` has the names of those that were in the way, the last
    first.
    """
    places = [at_backspace(fit.section, one.alone(backspace), 2.0 * (max(one.aside, 0.0) + off)) for one in fit.placed]
    rank = {name: at for at, name in enumerate(order)}
    for path in sorted(fit.paths, key=lambda one: rank.get(one.obstacle.name, len(rank))):
        name = path.obstacle.name
        if not all(keeps(path, place, path.obstacle.keep, YES_OR_NO) for place in places):
            if name in rank:
                order.remove(name)
            order.insert(0, name)
            return name
    return ""


def least_room(opened: OpenProject, fitment: str, axle: str, most: float) -> tuple[float, str]:
    """The least that is left to any stop of the sweep at the worst, and to what; `most` where all leave more.

    The wheel stands where the worksheet has it. Only what may be less than all before it is worked out.
    """
    best, binds = most, ""
    for wheel in ready_tires(swept_tires(opened, fitment, axle)):
        offset = wheel.readings["offset"]
        section = filled(wheel.large, (offset.low, offset.high))
        for one in _obstacles(opened, fitment, axle, wheel):
            path = trace(one.held.wide, one.must)
            if best < inf and keeps(path, section, one.must.keep + best + SLACK, YES_OR_NO):
                continue
            left = sure_clearance(one.held, one.must) - one.must.required
            if left < best:
                best, binds = left, one.must.name
    return best, binds


def steps(low: float, high: float, step: float, worth: Callable[[float], tuple[float, ...]]) -> Iterator[float]:
    """The maker's steps from one backspace to another, the best first."""
    first, last = -int(-(low - SLACK) // step), int((high + SLACK) // step)
    yield from sorted((count * step for count in range(first, last + 1)), key=worth)
