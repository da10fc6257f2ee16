"""Limits that only an obstacle keeps open whose room was measured at a mock-up: what was settled is not asked again."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from planner.plan.fit.fit_limits import fit_limits
from planner.plan.fit.fit_question import FitAsked, FitLimits, FitObstacle
from planner.plan.fit.unmeasured_spacings import chosen_fits, not_inside, waiting_limits
from planner.plan.truck.sweep_results import SweepResults


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
