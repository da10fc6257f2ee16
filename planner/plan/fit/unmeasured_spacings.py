"""What only a spacing that nobody measured keeps open: one line of the axle gathers it, and asks for the spacing."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from typing import NamedTuple

from planner.plan.fit.clearances import spacing_measured
from planner.plan.fit.fit_limits import fit_limits
from planner.plan.fit.fit_question import FitLimits, FitObstacle
from planner.plan.fit.swept_wheel import SweptWheel
from planner.plan.truck.project import OpenProject
from planner.plan.truck.sweep_results import SweepResults, band
from planner.quantities.quantity import Band
from planner.quantities.text import clean
from planner.worksheet.outcome import Known, Spot

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


def limits_kept_open(
    opened: OpenProject,
    fitment: str,
    axle: str,
    tires: Sequence[SweptWheel],
    ones: list[FitObstacle],
    half: tuple[str, ...],
    found: FitLimits,
    gathered: list[Gathered],
    into: SweepResults,
) -> list[Gathered]:
    """Steer limits and windows that hold for certain once the spacings turn out as great as they are ever assumed.

    How far a wheel steers, and whether the backspace chosen fits, follows from the obstacle that is `gathered` already.
    """
    here = tires[0]
    if not here.spacings_assumed:
        return []

    def at(node: str) -> Spot:
        return opened.spot(node, fitment=fitment, axle=axle)

    limits = {f"{node}_steer_limit": here.readings[stop].high for node, stop in LOCKS} | dict.fromkeys(WIDTHS, 0.0)
    bands = {node: one for node in limits if isinstance(one := found.results.get(at(node)), Band)}
    waiting = {node: one for node, one in bands.items() if one.low < limits[node] <= one.high}
    outside = bool(gathered) and at("window_ends") in found.results and not chosen_fits(opened, at, found)
    if not waiting and not outside:
        return []
    roomy = [one._replace(held=spacing_measured(one.held)) for one in ones]
    measured = fit_limits(opened, fitment, axle, list(map(spacing_measured, tires)), roomy, half)
    if outside and chosen_fits(opened, at, measured):
        into.gathered.add(at("window_ends"))
    windows = []
    for node, one in waiting.items():
        sure = measured.results.get(at(node))
        if not isinstance(sure, Band) or sure.low < limits[node]:
            continue
        beside = any((each.node in STOPS) == (node != "window_width") for each in gathered)
        if node in WIDTHS and not beside:  # no wheel is chosen yet, or another one
            between = [each.wanted.name for each in ones if each.wanted.name in found.ends[at(node)]]
            windows.append(Gathered(node, ", ".join(between), one.value, one.low, one.high))
        if node in WIDTHS or beside:
            into.gathered.add(at(node))
    return windows


def chosen_fits(opened: OpenProject, at: Callable[[str], Spot], limits: FitLimits) -> bool:
    """Whether the backspace that is chosen lies inside the window for certain, as far as its ends are known."""
    chosen = opened.sheet.outcome(at("backspace"))
    low, high = (limits.results.get(at(f"window_{end}")) for end in ("low", "high"))
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
