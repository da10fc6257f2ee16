"""Backspace and offset, and how far the tire reaches to either side of the mounting face.

Axial positions are from the hub's mounting face, outboard positive. Offset is positive where the mounting face is
outboard of the rim's center plane, so the tire's center plane lies at -offset. Of two wheels side by side (`pairs.py`)
the inner tire reaches inboard and the outer one outboard; track goes by the middle between them.
"""

from planner.quantities.kinds import Distance, Length, Position, Text
from planner.sources.citing import practice
from planner.sources.reasoning import GEOMETRY
from planner.worksheet.declare import assumed, figure

flange_thickness = assumed(
    Distance,
    "1/2 in",
    means="thickness of each rim flange, outside the bead seat",
    ground=practice("half an inch a side; measure a forged or heavy steel rim"),
)


@figure(means="wheel's width over both flanges", ground=GEOMETRY)
def overall_width(rim_width: Length, flange_thickness: Distance) -> Length:
    """The rim's width between the bead seats and both flanges; all in m.

    >>> overall_width(9.0, 0.5)
    10.0
    """
    return rim_width + 2 * flange_thickness


@figure(means="mounting face outboard of the rim's center plane", ground=GEOMETRY)
def offset(backspace: Position, rim_width: Length, flange_thickness: Distance) -> Position:
    """Offset from backspace, which is measured from the rim's inboard edge to the mounting face; all in m.

    A 20×11 rim with 4 of backspace has its face 2 inboard of the center plane when each flange adds a half:

    >>> offset(4.0, 11.0, 0.5)
    -2.0
    """
    return backspace - rim_width / 2 - flange_thickness


@figure(means="offset that goes with the backspace", ground=GEOMETRY)
def offset_by_backspace(backspace: Position, rim_width: Length, flange_thickness: Distance) -> Position:
    """The same by the backspace, whatever offset is entered beside it; all in m.

    >>> offset_by_backspace(4.0, 11.0, 0.5)
    -2.0
    """
    return backspace - rim_width / 2 - flange_thickness


@figure(means="mounting face to the rim's inboard edge", ground=GEOMETRY)
def backspace(offset: Position, rim_width: Length, flange_thickness: Distance) -> Position:
    """Backspace from offset; all in m.

    >>> backspace(-2.0, 11.0, 0.5)
    4.0
    """
    return offset + rim_width / 2 + flange_thickness


@figure(
    means="mounting face inboard to the tire's inner sidewall, grown in service",
    ground=GEOMETRY,
    reads={"section_width": "grown_width", "offset": "offset_to_hub"},
)
def inboard_reach(section_width: Length, offset: Position) -> Position:
    """How far the tire reaches inboard; all in m.

    >>> inboard_reach(12.0, 1.0)
    7.0
    """
    return section_width / 2 + offset


@figure(
    means="mounting face outboard to the tire's outer sidewall, grown in service",
    ground=GEOMETRY,
    reads={"section_width": "grown_width", "offset": "outer_offset"},
)
def outboard_reach(section_width: Length, offset: Position) -> Position:
    """How far the tire reaches outboard; all in m.

    >>> outboard_reach(12.0, 1.0)
    5.0
    """
    return section_width / 2 - offset


@figure(means="how far the tire sticks out past the fender edge", ground=GEOMETRY)
def poke(outboard_reach: Position, face_to_fender_edge: Position) -> Position:
    """Positive where rubber is outside the fender edge; all in m.

    >>> poke(7.0, 6.5)
    0.5
    """
    return outboard_reach - face_to_fender_edge


@figure(
    means="offset that gives the poke you want",
    ground=GEOMETRY,
    reads={"poke": "wanted_poke", "section_width": "grown_width"},
)
def offset_for_poke(poke: Position, section_width: Length, face_to_fender_edge: Position) -> Position:
    """The inverse of poke for a wheel that stands alone; all in m.

    >>> offset_for_poke(0.5, 12.0, 6.5)
    -1.0
    """
    return section_width / 2 - face_to_fender_edge - poke


@figure(
    means="offset of a pair's wheels that gives the poke you want, to the face offset is measured to",
    ground=GEOMETRY,
    form="pair_offset_for_poke = −offset_for_poke − 2 × paired_disc to the face on the hub, one paired_disc more to "
    "the one between the discs",
)
def pair_offset_for_poke(offset_for_poke: Position, paired_disc: Distance, offset_face: Text) -> Position:
    """The outer wheel is turned around: more offset takes it further out; all in m.

    Its plane must lie 7.5 outboard; discs of 0.5 leave 6.5 to the face on the hub, 7 to the one between the discs:

    >>> pair_offset_for_poke(-7.5, 0.5, "hub"), pair_offset_for_poke(-7.5, 0.5, "disc")
    (6.5, 7.0)
    """
    return -offset_for_poke - (1 if offset_face == "disc" else 2) * paired_disc


@figure(
    means="between the tires' center planes at the two ends of the axle (of pairs, between their middles)",
    ground=GEOMETRY,
    reads={"offset": "middle_offset"},
)
def track(face_to_face: Length, offset: Position) -> Length:
    """Each center plane lies inboard of its mounting face by the offset; all in m.

    >>> track(60.0, -2.0)
    64.0
    """
    return face_to_face - 2 * offset
