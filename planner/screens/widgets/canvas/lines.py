"""Dimension lines: box characters and arrows on whole cells, the thin lines that lead to them at the exact place."""

from collections.abc import Callable
from functools import partial
from math import hypot

from planner.plan.drawings.scene import Anchor, Dimension
from planner.screens.widgets.canvas.dots import DotScale, Raster


def draw_dimension(raster: Raster, fit: DotScale, one: Dimension) -> Callable[[], None]:
    """Draws its line; gives what writes its text, once all lines stand."""
    start, end = (fit.at(spot) for spot in dimension_ends(one))
    for point, stood in ((fit.at(one.start), start), (fit.at(one.end), end)):
        raster.run((point, stood), "dimension")
    if abs(end[0] - start[0]) >= abs(end[1] - start[1]):
        return _level(raster, int(start[1]) // 4, (int(start[0]) // 2, int(end[0]) // 2), one.text)
    right = one.away == 0 or start[0] > fit.at(one.start)[0]
    return _upright(raster, int(start[0]) // 2, (int(start[1]) // 4, int(end[1]) // 4), one.text, right)


def dimension_ends(one: Dimension) -> tuple[tuple[float, float], tuple[float, float]]:
    """The two ends of the dimension line."""
    (x0, y0), (x1, y1) = one.start, one.end
    long = hypot(x1 - x0, y1 - y0)
    nx, ny = (-(y1 - y0) / long, (x1 - x0) / long) if long > 1e-9 else (0.0, 1.0)
    return (x0 + nx * one.away, y0 + ny * one.away), (x1 + nx * one.away, y1 + ny * one.away)


def _level(raster: Raster, row: int, ends: tuple[int, int], text: str) -> Callable[[], None]:
    """`←── text ──→`, or with the text beside it where it is too long for that."""
    start, stop = sorted(ends)
    rows = sorted(range(raster.height), key=lambda other: abs(other - row))[:7]
    row = next((other for other in rows if raster.free(other, start, stop + 1)), row)
    inside = stop - start - 1
    if inside >= len(text) + 4:
        before = (inside - len(text) - 2) // 2
        after = inside - len(text) - 2 - before
        raster.put(row, start, f"←{'─' * before} {text} {'─' * after}→", "dimension")
        return lambda: None
    if inside >= 1:
        raster.put(row, start, f"←{'─' * inside}→", "dimension")
    else:
        start, stop = start - 1, max(stop, start) + 1
        raster.put(row, start, "→" + "│" * (stop - start - 1) + "←", "dimension")
    return partial(_beside, raster, row, (start, stop), text)


def _beside(raster: Raster, row: int, ends: tuple[int, int], text: str) -> None:
    """The text of a level dimension at the one of its ends where there is room."""
    (start, stop), size = ends, len(text)
    places = [(row, stop + 2), (row, start - 1 - size)]
    places += [(row + down, at) for down in (1, -1) for at in (stop + 2, start - 1 - size)]
    for at_row, at in places:
        if raster.free(at_row, at, at + size):
            raster.put(at_row, at, text, "dimension")
            return
    raster.place(row, stop + 2, text, "left", "dimension")


def _upright(raster: Raster, column: int, ends: tuple[int, int], text: str, right: bool) -> Callable[[], None]:
    """An upright arrow with its text beside it, halfway."""
    top, bottom = sorted(ends)
    if bottom - top < 2:
        raster.put((top + bottom) // 2, column, "↕", "dimension")
    else:
        for row in range(top + 1, bottom):
            raster.put(row, column, "│", "dimension")
        raster.put(top, column, "↑", "dimension")
        raster.put(bottom, column, "↓", "dimension")
    at = column + 2 if right else column - 1
    anchor: Anchor = "left" if right else "right"
    return lambda: raster.place((top + bottom) // 2, at, text, anchor, "dimension")
