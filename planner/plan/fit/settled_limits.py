"""Limits that only an obstacle keeps open whose room was measured at a mock-up: what was settled is not asked again."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from planner.plan.fit.fit_limits import fit_limits
from planner.plan.fit.fit_question import FitLimits, FitObstacle
from planner.plan.fit.swept_wheel import SweptWheel
from planner.plan.fit.unmeasured_spacings import LOCKS, WIDTHS, chosen_fits
from planner.plan.truck.project import OpenProject
from planner.plan.truck.sweep_results import SweepResults
from planner.quantities.quantity import Band
from planner.worksheet.outcome import Spot


def limits_settled(
    opened: OpenProject,
    fitment: str,
    axle: str,
    tires: Sequence[SweptWheel],
    ones: list[FitObstacle],
    half: tuple[str, ...],
    found: FitLimits,
    gained: Mapping[str, float],
    into: SweepResults,
) -> None:
    """Steer limits and windows that hold for certain with the room that was `gained` at each obstacle.

    At its stop and with the backspace that it has the wheel is clear there: more is not asked of either. How far it
    might steer beyond, and what another backspace would do, stays as predicted.
    """

    def at(node: str) -> Spot:
        return opened.spot(node, fitment=fitment, axle=axle)

    limits = {f"{node}_steer_limit": tires[0].readings[stop].high for node, stop in LOCKS} | dict.fromkeys(WIDTHS, 0.0)
    bands = {node: one for node in limits if isinstance(one := found.results.get(at(node)), Band)}
    waiting = [node for node, one in bands.items() if one.low < limits[node] <= one.high]
    outside = at("window_ends") in found.results and not chosen_fits(opened, at, found)
    if not gained or not (waiting or outside):
        return
    settled = fit_limits(opened, fitment, axle, tires, [_eased(each, gained) for each in ones], half)
    for node in waiting:
        sure = settled.results.get(at(node))
        if isinstance(sure, Band) and sure.low >= limits[node]:
            into.gathered.add(at(node))
    if outside and chosen_fits(opened, at, settled):
        into.gathered.add(at("window_ends"))


def _eased(one: FitObstacle, gained: Mapping[str, float]) -> FitObstacle:
    wanted, must = (replace(own, required=own.required - gained.get(own.name, 0.0)) for own in (one.wanted, one.must))
    return one._replace(wanted=wanted, must=must)
