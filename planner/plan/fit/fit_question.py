"""The question at one end of a fitment, at the worst of all tolerances and at the kindest, and where it is filed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

from planner.plan.fit.swept_tires import placings
from planner.plan.fit.swept_wheel import SweptWheel, filled, shared
from planner.plan.truck.pairs import backspaces, in_pairs
from planner.plan.truck.project import OpenProject
from planner.plan.truck.sweep_results import Result
from planner.quantities.quantity import Quantity
from planner.trade.fit.motion import SweptObstacle
from planner.trade.fit.section import TireSection
from planner.trade.fit.trace import Trace, most_doubt, trace
from planner.trade.fit.window import Placing
from planner.worksheet.outcome import Spot


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


def both_sides(tires: Sequence[SweptWheel], ones: list[tuple[SweptWheel, SweptObstacle]]) -> BothSides:
    """Everything at the end that hurts, and everything at the kindest.

    At the worst an obstacle must be kept clear of by its whole tolerance beside what it wants; at the kindest by as
    much less, and by what the motion leaves in doubt. What comes out for the two are the ends between which the truth
    lies.
    """
    offsets = [(here.readings["offset"].low, here.readings["offset"].high) for here in tires]
    hard = [trace(wheel.wide, one) for wheel, one in ones]
    both = [(wheel, _eased(path)) for (wheel, _), path in zip(ones, hard, strict=True)]
    soft = [trace(wheel.kind, one, kind=True) for wheel, one in both]
    # How far it may steer is the question for these: they steer as far as the others.
    locked = [replace(w.kind, steer_in=w.wide.steer_in, steer_out=w.wide.steer_out) for w, _ in both]
    steered = [trace(motion, one, kind=True) for motion, (_, one) in zip(locked, both, strict=True)]
    large = [filled(here.large, ends) for here, ends in zip(tires, offsets, strict=True)]
    worst = SweepSide(hard, hard, large, tires[0].large)
    small = [shared(here.small, ends) for here, ends in zip(tires, offsets, strict=True)]
    return worst, SweepSide(soft, steered, small, tires[0].small)


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
    def looked_at(self) -> tuple[float, float]:
        """Between which backspaces the window is looked for."""
        return backspaces(self.opened, self.fitment, self.wide)

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
        given = None if entry is None else self.opened.given(entry)
        return given.tolerance if isinstance(given, Quantity) else 0.0

    @property
    def as_found(self) -> float | None:
        """The backspace that keeps the tire's center plane where it was found; of a pair, where one was found."""
        found = self.known("found_offset")
        if found is None or self.pair != in_pairs(self.opened, "found", self.axle):
            return None
        return found + self.wide / 2

    def placed(self) -> Sequence[Placing]:
        """Where each tire stands at any backspace, as well as that is known; none where it is not."""
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
