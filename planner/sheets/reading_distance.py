"""How large letters are for the distance that they are read from, and how far a paper reaches with them."""

from math import floor, radians, tan
from typing import NamedTuple

from planner.quantities.grammar import read
from planner.quantities.kinds import LENGTH
from planner.quantities.show import Style
from planner.quantities.text import clean
from planner.quantities.unreadable import Unreadable
from planner.quantities.usual_unit import with_usual_unit
from planner.sheets.blocks import ReadFrom
from planner.sheets.kind import CannotPrint

# Of a capital at the eye: NUREG-0700 rev. 2, 1.3.1-4, 16 minutes of arc at the least, 20 to 22 are better.
LEAST_ARC, BETTER_ARC = (radians(minutes / 60) for minutes in (16, 20))
CAPITAL = 0.65  # a capital's height in the size of its letters; the lowest of our two weights has 0.652
POINT = 0.0254 / 72  # m
FOOT = 0.3048  # m
EDGE = 28.35  # pt: 10 mm, which any printer reaches
BETWEEN = 24.0  # pt: between two phases side by side
LARGE = 700.0  # pt: the short side of a paper for two phases, A3 or tabloid
LINE = 20.3  # a line's width in the size of its letters: 34 letters, 16 at the most, and the boxes before them
USUAL = {"inch": "4 ft", "metric": "1.2 m"}
NEAREST = {"inch": ("2 ft", 2 * FOOT), "metric": ("0.6 m", 0.6)}  # nearer it is a card for the bench


class WallLayout(NamedTuple):
    """How a wall sheet lies on its paper: the letters' size in pt, phases side by side, and whether it lies across."""

    letters: float
    columns: int
    across: bool


def capital(meters: float, arc: float = LEAST_ARC) -> float:
    """The height of a capital in m that is seen under this angle from there.

    >>> round(capital(2.0) * 1000, 1)
    9.3
    """
    return meters * tan(arc)


def read_distance(text: str, style: Style) -> ReadFrom:
    """The distance that is asked for, the usual one where none is; raises `CannotPrint`, in one line."""
    least, nearest = NEAREST[style.system]
    text = text.strip() or USUAL[style.system]
    try:
        told = read(with_usual_unit(text, LENGTH, "ft" if style.system == "inch" else "m"), LENGTH)
    except Unreadable as trouble:
        said = f"read '{trouble.read}': it {trouble.problem}; accepted: a distance from {least} up"
        raise CannotPrint(f"distance: {said}, such as {USUAL[style.system]}") from None
    if told.value < nearest * (1 - 1e-9):
        near = f"nearer than {least} is for the bench: print the step cards (checklist)"
        raise CannotPrint(f"distance: read '{clean(text)}'; {near}")
    return ReadFrom(clean(told.text or text), told.value + told.tolerance)


def fitted(read_from: ReadFrom, paper: str, size: tuple[float, float]) -> WallLayout:
    """The largest letters that the paper takes, no larger than is better; raises `CannotPrint` where it is too small.

    It lies across only where its short side takes too few letters, and has two phases side by side where both fit.
    """
    least, better = (capital(read_from.meters, arc) / POINT / CAPITAL for arc in (LEAST_ARC, BETTER_ARC))
    short, long = (side - 2 * EDGE for side in size)
    for columns, across, wide in ((2, True, (long - BETWEEN) / 2), (1, False, short), (1, True, long)):
        if columns == 2 and size[0] < LARGE:
            continue
        if wide / LINE >= least:
            return WallLayout(min(better, wide / LINE), columns, across)
    reach = long / LINE * CAPITAL * POINT / tan(LEAST_ARC)
    told = f"{floor(reach / FOOT * 10) / 10:g} ft ({floor(reach * 10) / 10:g} m)"
    larger = "" if size[0] >= LARGE else ", A3 and tabloid further"
    raise CannotPrint(
        f"distance: read '{read_from.says}'; {paper.capitalize()} can be read from {told} at most{larger}"
    )
