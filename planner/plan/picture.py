"""The window over diameter × backspace as data: for each pair the limit that it breaks."""

from planner.plan.bounds import bounds
from planner.plan.opening import OpenProject
from planner.plan.wheels import Wheel, behind, obstacle_of, wheel
from planner.trade.fit.trace import trace
from planner.trade.fit.window import WindowMap, evenly, window_map

Range = tuple[float, float]


def window_picture(
    opened: OpenProject,
    fitment: str,
    axle: str,
    diameters: Range,
    backspaces: Range,
    rows: int = 40,
    columns: int = 60,
) -> WindowMap:
    """Every pair held against the whole sweep, lengths in m; raises LookupError where the wheel is not known yet."""
    here = wheel(opened.sheet, fitment, axle, opened.steers(axle))
    if not isinstance(here, Wheel):
        raise LookupError(", ".join(behind(opened, here)))
    paths = []
    for label, one in opened.obstacles.items():
        obstacle = obstacle_of(one.measured, label, one.required.value)
        if obstacle is not None and one.measured.axle == axle:
            paths.append(trace(here.wide, obstacle))
    limits = bounds(opened, fitment, axle).backspace
    return window_map(paths, here.section, evenly(*diameters, rows), evenly(*backspaces, columns), limits)
