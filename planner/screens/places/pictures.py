"""The pictures that places offer, each by the end of the truck that it shows."""

from collections.abc import Callable, Iterator
from functools import partial
from math import ceil

from planner.plan.drawings.backspace_window import backspace_window
from planner.plan.drawings.backspace_window import size as window_size
from planner.plan.drawings.clearance_map import clearance_map
from planner.plan.drawings.clearance_map import size as clearance_size
from planner.plan.drawings.engine_speed import engine_speed_chart
from planner.plan.drawings.fender_opening import fender_opening
from planner.plan.drawings.look_ends import look_end
from planner.plan.drawings.look_side import look_side
from planner.plan.drawings.looks import MOST, looks_beside
from planner.plan.drawings.scene import Grid, Scene
from planner.plan.drawings.steered_tire import steered_tire
from planner.plan.drawings.stud_circle import stud_circle
from planner.plan.drawings.wheel_section import wheel_section
from planner.plan.truck.project import OpenProject
from planner.screens.widgets.picture_view import Picture

ENDS = ("front", "rear")


def looks(opened: OpenProject, fitment: str) -> Iterator[Picture]:
    """The truck from the side and from both ends, and every candidate beside the others where there are several."""
    yield Picture("from the side", lambda width, height: look_side(opened, fitment))
    yield from _scenes("the look", look_end, opened, fitment)
    if len(opened.candidates) > 1:
        yield Picture("the candidates side by side", lambda *room: looks_beside(opened, across(opened, *room)))


def across(opened: OpenProject, width: int, height: int) -> int:
    """How many trucks in a row are drawn largest: a truck is twice as long as high, a cell of the terminal narrow."""
    count = min(len(opened.candidates), MOST)

    def scale(row: int) -> float:
        return min(width / (2.2 * row), 2 * height / ceil(count / row))

    return max(range(1, count + 1), key=scale)


def steered_tires(opened: OpenProject, fitment: str) -> Iterator[Picture]:
    steered = tuple(axle for axle in ENDS if opened.steers(axle, fitment))
    return _scenes("steered tire from above", steered_tire, opened, fitment, steered)


def engine_speeds(opened: OpenProject, fitment: str) -> Iterator[Picture]:
    yield Picture("engine speed over road speed", lambda width, height: engine_speed_chart(opened, fitment))


def _grids(
    name: str,
    make: Callable[[OpenProject, str, str, int, int], Grid],
    size: Callable[[int, int], tuple[int, int]],
    opened: OpenProject,
    fitment: str,
) -> Iterator[Picture]:
    """A grid is made for its room: so many rows and columns."""

    def made(axle: str) -> Callable[[int, int], Grid]:
        return lambda width, height: make(opened, fitment, axle, *size(width, height))

    for axle in ENDS:
        yield Picture(f"{name}, {axle}", made(axle))


def _scenes(
    name: str,
    make: Callable[[OpenProject, str, str], Scene],
    opened: OpenProject,
    fitment: str,
    ends: tuple[str, ...] = ENDS,
) -> Iterator[Picture]:
    """A scene is the same for any room: the canvas scales it."""

    def made(axle: str) -> Callable[[int, int], Scene]:
        return lambda width, height: make(opened, fitment, axle)

    for axle in ends:
        yield Picture(f"{name}, {axle}", made(axle))


stud_circles = partial(_scenes, "bolt circle", stud_circle)
fender_openings = partial(_scenes, "fender opening", fender_opening)
wheel_sections = partial(_scenes, "wheel section", wheel_section)
clearance_maps = partial(_grids, "clearance, steered and crossed", clearance_map, clearance_size)
backspace_windows = partial(_grids, "diameter and backspace that fit", backspace_window, window_size)
