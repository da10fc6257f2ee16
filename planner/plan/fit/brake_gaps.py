"""Gaps to the brake read at a mock-up, the bare wheel turned all around: held against what the readings leave there."""

from __future__ import annotations

from collections.abc import Sequence

from planner.plan.fit.mock_ups import Stale, mock_up_words
from planner.plan.truck.held_mock_up import HeldMockUp
from planner.plan.truck.project import OpenProject
from planner.plan.truck.sweep_results import SweepResults
from planner.project.mock_ups import BrakeGap, brake_gaps
from planner.project.sides import SIDES
from planner.quantities.quantity import Band, Quantity
from planner.quantities.text import clean
from planner.worksheet.outcome import Known, Outcome

GAPS = ("radial_clearance", "face_clearance", "valve_clearance")


def held_brake_gaps(opened: OpenProject, stale: Stale) -> tuple[HeldMockUp, ...]:
    """Every reading of a gap to the brake, in the order of the file; `stale` says what moved under one."""
    return tuple(_held(opened, one, stale) for one in brake_gaps(opened.project, opened.opened.assumes))


def predicted_gap(opened: OpenProject, fitment: str, axle: str) -> Band | None:
    """The least gap to any part of the brake, as far as it is known; None where none of it is."""
    known = [one for one in _outcomes(opened, fitment, axle) if isinstance(one, Known)]
    return _least(known) if known else None


def _least(several: Sequence[Known | Quantity]) -> Band:
    """The least of several, and the least of either end."""
    return Band(*(min(float(getattr(one, end)) for one in several) for end in ("value", "low", "high")))


def _outcomes(opened: OpenProject, fitment: str, axle: str) -> list[Outcome]:
    """The gaps at each part of the brake; a valve outboard of the disc comes near none."""
    valve = opened.sheet.value(opened.spot("valve_side", fitment=fitment, axle=axle))
    asked = GAPS[:2] if valve == "outboard" else GAPS
    return [opened.sheet.outcome(opened.spot(node, fitment=fitment, axle=axle)) for node in asked]


def brake_gap_results(opened: OpenProject, fitment: str, axle: str, into: SweepResults) -> None:
    """What the readings of one axle's brake say.

    They prove a gap only where both sides were read: the other side's drum may be another one.
    """
    gap, least, margin, words, doubts = (
        opened.spot(f"mock_up_gap{what}", fitment=fitment, axle=axle)
        for what in ("", "_least", "_margin", "_words", "_doubts")
    )
    own = [one for one in opened.mock_ups if (one.fitment, one.label) == (fitment, _label(axle))]
    held = [one for one in own if one.answer != "not known"]
    if not held:
        return
    into.results[least] = _least([one.taken.room for one in held])
    worst = min(held, key=lambda one: 0.0 if one.margin is None else one.margin)
    into.results[margin] = 0.0 if worst.margin is None else worst.margin
    into.results[words] = f"{worst.called}: {mock_up_words(opened, worst)}"
    into.results[doubts] = ", ".join(clean(opened.spoken(key)) for key in worst.rests_on) or "the brake"
    proving = [one for one in held if one.answer == "agrees" and not one.why]
    if worst.answer == "differs":
        into.barred.add(gap)
        into.needs[gap] = (f"readings[{worst.taken.at}].value",)
    elif all(any(one.side == side for one in proving) for side in SIDES):
        into.results[gap] = _least([one.taken.room for one in proving])


def _label(axle: str) -> str:
    return f"axles.{axle}.brake"


def _held(opened: OpenProject, taken: BrakeGap, stale: Stale) -> HeldMockUp:
    held = HeldMockUp(taken, _label(taken.axle), taken.axle, "agrees")
    moved = stale(taken.reading)
    if moved.wheel:
        return held._replace(answer="not known", why=moved.wheel)
    outcomes = _outcomes(opened, held.fitment, taken.axle)
    known = [one for one in outcomes if isinstance(one, Known)]
    room, whole = taken.room, len(known) == len(outcomes)  # what is not known may be the nearest
    missing = () if taken.reading.side else ("side",)
    least = None if missing else room.low
    held = held._replace(why=moved.truck, least=least, most=room.high, missing=missing)
    predicted = predicted_gap(opened, held.fitment, taken.axle)
    if predicted is None:
        return held
    margin = min(predicted.high - room.low, room.high - predicted.low) if whole else predicted.high - room.low
    nearest = min(known, key=lambda one: float(one.value))
    rests_on = tuple(opened.key_of(share.spot) for share in nearest.shares[:3])
    answer = held._replace(predicted=predicted, margin=margin, rests_on=rests_on)
    return answer._replace(answer="differs") if margin < 0.0 else answer
