"""The tires at one end of an axle as the sweep takes them: one, or the two of a pair, and where each goes.

Both tires of a pair turn, rise and roll with one hub. So the motion is the same, and each is swept by itself, in its
own place: what lies between them is outboard of the one and inboard of the other, and is judged by the gap to each.
"""

from __future__ import annotations

from math import isclose
from typing import NamedTuple

from planner.plan.fit.backspace_limits import BackspacesTried
from planner.plan.fit.swept_wheel import PLANES, SweptWheel, TireName, swept_wheel
from planner.plan.truck.pairs import in_pairs
from planner.plan.truck.project import OpenProject
from planner.trade.fit.window import ALONE, Placing
from planner.worksheet.outcome import Known, Spot
from planner.worksheet.sheet import Worksheet


class SweptTire(NamedTuple):
    """One of the tires that are swept: the side of the truck, empty where both are alike, and which of a pair."""

    side: str = ""
    tire: TireName = ""


SweptOrWaiting = SweptWheel | tuple[Spot, ...]


def swept_tires(
    opened: OpenProject,
    fitment: str,
    axle: str,
    anywhere: bool = False,
    sheet: Worksheet | None = None,
    far: Worksheet | None = None,
) -> dict[TireName, SweptOrWaiting]:
    """Every tire at one end of an axle, or the spots without a value; raises ValueError naming an impossible entry.

    `sheet` has the readings of one side where it has its own, `far` those of the other. `anywhere` as for one wheel.
    """
    sheet = opened.sheet if sheet is None else sheet
    steers = opened.steers(axle, fitment)
    if not in_pairs(opened, fitment, axle):
        return {"": swept_wheel(sheet, fitment, axle, steers, far, anywhere)}
    anywhere = anywhere and placings(opened, fitment, axle) is not None
    return {tire: swept_wheel(sheet, fitment, axle, steers, far, anywhere, tire) for tire in PLANES}


def ready_tires(tires: dict[TireName, SweptOrWaiting]) -> tuple[SweptWheel, ...]:
    """The tires, where all of them are known; none where one of them is not."""
    ready = tuple(one for one in tires.values() if isinstance(one, SweptWheel))
    return ready if len(ready) == len(tires) else ()


def side_tires(
    opened: OpenProject, fitment: str, axle: str, alike: dict[TireName, SweptOrWaiting]
) -> dict[SweptTire, SweptOrWaiting]:
    """The tires of each side, where left and right were read apart and differ; else those of either, `alike`."""
    sheets = opened.side_sheets
    across = zip(sheets, reversed(list(sheets.values())), strict=True)
    found = {side: swept_tires(opened, fitment, axle, sheet=sheets[side], far=far) for side, far in across}
    several = list(found.values())
    if all(one == several[0] for one in several):
        found = {"": alike}
    return {SweptTire(side, tire): wheel for side, tires in found.items() for tire, wheel in tires.items()}


def placings(opened: OpenProject, fitment: str, axle: str) -> tuple[Placing, ...] | None:
    """Where the tires of this axle stand at any backspace; None while that rests on what is not known.

    Read from the center planes at two backspaces: between them they lie on a straight line.
    """
    if not in_pairs(opened, fitment, axle):
        return ALONE
    wide = opened.sheet.value(opened.spot("overall_width", fitment=fitment, axle=axle))
    if wide is None:
        return None
    tried, found = BackspacesTried(opened, fitment, axle), []
    for plane in PLANES.values():
        first, last = (tried.outcome(opened.spot(plane, fitment=fitment, axle=axle), at) for at in (0.0, wide))
        if not (isinstance(first, Known) and isinstance(last, Known)):
            return None
        way = (first.value - last.value) / wide
        if not isclose(abs(way), 1.0, rel_tol=1e-9):
            raise AssertionError(f"{plane} moves by {way} for each of backspace")
        aside = max(first.high - first.value, first.value - first.low)
        found.append(Placing(wide / 2.0 - first.value, round(way), aside))
    return tuple(found)
