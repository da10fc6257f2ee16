"""What only one thing keeps open: a spacing that nobody measured, or an obstacle whose room a mock-up settled.

One line of the axle gathers what waits for the spacings, and asks for them; what was settled is not asked again.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import replace
from typing import NamedTuple

from planner.plan.fit.clearances import spacing_measured
from planner.plan.fit.fit_limits import fit_limits
from planner.plan.fit.fit_question import FitAsked, FitLimits, FitObstacle
from planner.plan.truck.project import OpenProject
from planner.plan.truck.sweep_results import Result, SweepResults, band
from planner.quantities.quantity import Band
from planner.quantities.text import clean
from planner.worksheet.outcome import Known

JUDGED = ("guarded_clearance", "contact_clearance", "wished_clearance", "off_road_clearance")
STOPS = ("guarded_clearance", "contact_clearance", "hard_window_width")
WIDTHS = ("hard_window_width", "window_width")
LOCKS = (("inner", "stop_angle"), ("outer", "stop_angle_out"))


class Gathered(NamedTuple):
    """A clearance that only the spacings nobody measured keep open: the rule's node, and the margin with its ends."""

    node: str
    name: str
    margin: float
    low: float
    high: float


def limits_kept_open(asked: FitAsked, found: FitLimits, gathered: list[Gathered], into: SweepResults) -> list[Gathered]:
    """Steer limits and windows that hold for certain once the spacings turn out as great as they are ever assumed.

    How far a wheel steers, and whether the backspace chosen fits, follows from the obstacle that is `gathered` already.
    """
    if not asked.here.spacings_assumed:
        return []
    waiting, outside = waiting_limits(asked, found), bool(gathered) and not_inside(asked, found)
    if not waiting and not outside:
        return []
    roomy = [one._replace(held=spacing_measured(one.held)) for one in asked.ones]
    measured = fit_limits(asked._replace(tires=list(map(spacing_measured, asked.tires)), ones=roomy))
    if outside and chosen_fits(asked, measured):
        into.gathered.add(asked.at("window_ends"))
    windows = []
    for node, one in waiting.items():
        if not one.reached_by(measured.results.get(asked.at(node))):
            continue
        beside = any((each.node in STOPS) == (node != "window_width") for each in gathered)
        if node in WIDTHS and not beside:  # no wheel is chosen yet, or another one
            between = [each.wanted.name for each in asked.ones if each.wanted.name in found.ends[asked.at(node)]]
            windows.append(Gathered(node, ", ".join(between), *one.known))
        if node in WIDTHS or beside:
            into.gathered.add(asked.at(node))
    return windows


def limits_settled(asked: FitAsked, found: FitLimits, gained: Mapping[str, float], into: SweepResults) -> None:
    """Steer limits and windows that hold for certain with the room that was `gained` at each obstacle.

    At its stop and with the backspace that it has the wheel is clear there: more is not asked of either. How far it
    might steer beyond, and what another backspace would do, stays as predicted.
    """
    waiting, outside = waiting_limits(asked, found), not_inside(asked, found)
    if not gained or not (waiting or outside):
        return
    settled = fit_limits(asked._replace(ones=[_eased(each, gained) for each in asked.ones]))
    for node, one in waiting.items():
        if one.reached_by(settled.results.get(asked.at(node))):
            into.gathered.add(asked.at(node))
    if outside and chosen_fits(asked, settled):
        into.gathered.add(asked.at("window_ends"))


def _eased(one: FitObstacle, gained: Mapping[str, float]) -> FitObstacle:
    wanted, must = (replace(own, required=own.required - gained.get(own.name, 0.0)) for own in (one.wanted, one.must))
    return one._replace(wanted=wanted, must=must)


class WaitingLimit(NamedTuple):
    """A steer limit or a window that is too close to call: what is known of it, and what it has to reach."""

    known: Band
    least: float

    def reached_by(self, sure: Result | None) -> bool:
        """Whether it holds for certain by what is known of it then."""
        return isinstance(sure, Band) and sure.low >= self.least


def waiting_limits(asked: FitAsked, found: FitLimits) -> dict[str, WaitingLimit]:
    """The steer limits and windows that are too close to call, by node."""
    stops = {f"{node}_steer_limit": asked.here.readings[stop].high for node, stop in LOCKS}
    waiting = {}
    for node, least in (stops | dict.fromkeys(WIDTHS, 0.0)).items():
        known = found.results.get(asked.at(node))
        if isinstance(known, Band) and known.low < least <= known.high:
            waiting[node] = WaitingLimit(known, least)
    return waiting


def not_inside(asked: FitAsked, found: FitLimits) -> bool:
    """Whether there is a window, and the backspace that is chosen does not lie inside it for certain."""
    return asked.at("window_ends") in found.results and not chosen_fits(asked, found)


def chosen_fits(asked: FitAsked, limits: FitLimits) -> bool:
    """Whether the backspace that is chosen lies inside the window for certain, as far as its ends are known."""
    chosen = asked.opened.sheet.outcome(asked.at("backspace"))
    low, high = (limits.results.get(asked.at(f"window_{end}")) for end in ("low", "high"))
    if not isinstance(chosen, Known) or not (low or high):
        return False
    above = not isinstance(low, Band) or chosen.low >= low.high
    return above and (not isinstance(high, Band) or chosen.high <= high.low)


def spacing_results(
    opened: OpenProject,
    fitment: str,
    axle: str,
    gathered: list[Gathered],
    spacings: Collection[str],
    into: SweepResults,
) -> None:
    """One line per axle for all that only a spacing that nobody measured keeps open, stops apart from cautions."""
    for prefix, stops in (("spacing", True), ("spacing_wish", False)):
        mine = [one for one in gathered if (one.node in STOPS) == stops]
        margin, words = (opened.spot(f"{prefix}_{what}", fitment=fitment, axle=axle) for what in ("margin", "words"))
        if not mine:
            into.not_asked.add(margin)
            continue
        into.not_asked.discard(margin)
        low, high = min(one.low for one in mine), max(one.high for one in mine)
        into.results[margin] = band(max(low, min(one.margin for one in mine)), low, high)
        keys = [f"axles.{axle}.travel.{entry}" for entry in sorted(spacings)]
        into.tolerance_sources[margin] = tuple((key, (high - low) / 2) for key in keys)
        into.results[words] = ", ".join(dict.fromkeys(clean(one.name) for one in mine))
