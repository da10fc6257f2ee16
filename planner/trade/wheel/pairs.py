"""Where the center planes of the tires lie at one end of an axle: of one wheel, or of a pair mounted dish to dish.

Of a pair (four tires on the axle) the inner wheel's disc lies on the hub and the outer wheel, turned around, on the
inner's disc. The two are mirrored about the face between the discs, one disc's thickness outboard of the hub's face.
One of the same kind that stands alone in front lies on its hub as the inner one does. On a single wheel all of these
planes are the one at -offset.
"""

from planner.quantities.kinds import Count, Distance, Length, Position, Text
from planner.sources.reasoning import GEOMETRY
from planner.worksheet.declare import Impossible, figure

PAIR = 4  # tires on an axle with two wheels at each end


def is_pair(tires: int | None) -> bool:
    """Whether an axle has two wheels at each end; raises Impossible for a number that is neither one nor two at each.

    >>> is_pair(None), is_pair(2), is_pair(4)
    (False, False, True)
    """
    if tires not in (None, 2, PAIR):
        raise Impossible("tires", "{tires}", "2, or 4 for duals: the planner doesn't know any other number on one axle")
    return tires == PAIR


@figure(
    means="thickness of each of a pair's two discs, zero on a single wheel",
    ground=GEOMETRY,
    form="paired_disc = disc_thickness with four tires on the axle, otherwise nothing",
)
def paired_disc(
    tires: Count | None = None,
    disc_thickness: Length | None = None,
    pair_held_by: Text | None = None,
    offset_face: Text | None = None,
) -> Distance | None:
    """What a pair's wheels are moved apart by beyond their offset, in m; no answer for a pair without a thickness, nor
    where something was entered of a pair and nobody said how many tires stand on the axle.

    Raises Impossible for rims that are clamped to a spoked hub: no disc says where those stand.

    >>> paired_disc(2), paired_disc(4, 0.5), paired_disc(4), paired_disc(None, 0.5, "inner nuts")
    (0.0, 0.5, None, None)
    """
    if tires is None and (pair_held_by or offset_face):
        return None
    if not is_pair(tires):
        return 0.0
    _refuse_clamps(pair_held_by)
    return disc_thickness


def _refuse_clamps(pair_held_by: str | None) -> None:
    if pair_held_by == "clamps":
        accepted = "wheels with discs: the planner can't place rims clamped to a spoked hub"
        raise Impossible("pair_held_by", "a pair held by {pair_held_by}", accepted, "can't be worked out")


@figure(
    means="disc thickness between the hub and the nut on its stud",
    ground=GEOMETRY,
    form="clamped_thickness = disc_thickness; of a pair on long studs 2 × disc_thickness",
)
def clamped_thickness(
    disc_thickness: Length, tires: Count | None = None, pair_held_by: Text | None = None
) -> Distance | None:
    """In m. An inner nut holds the inner disc alone, and the outer wheel's nut goes onto that nut.

    No answer for a pair of which nobody said what holds it; raises Impossible for one that is clamped to spokes.

    >>> clamped_thickness(0.5), clamped_thickness(0.5, 4, "long studs"), clamped_thickness(0.5, 4, "inner nuts")
    (0.5, 1.0, 0.5)
    """
    if not is_pair(tires):
        return disc_thickness
    _refuse_clamps(pair_held_by)
    return {"long studs": 2 * disc_thickness, "inner nuts": disc_thickness}.get(pair_held_by or "")


@figure(
    means="the face on the hub (of a pair's inner wheel) outboard of the rim's center plane",
    ground=GEOMETRY,
    form="offset_to_hub = offset; where a pair's is taken to the face between the discs, offset − paired_disc",
)
def offset_to_hub(
    offset: Position, paired_disc: Distance, tires: Count | None = None, offset_face: Text | None = None
) -> Position | None:
    """Offset to the hub's side of the disc, in m. Of a pair it must be said which face it was taken to.

    Center plane 6 inboard of the face on the hub, discs of a half: 6 1/2 inboard of the face between them.

    >>> offset_to_hub(6.0, 0.5, 4, "hub"), offset_to_hub(6.5, 0.5, 4, "disc"), offset_to_hub(6.0, 0.5, 4)
    (6.0, 6.0, None)
    >>> offset_to_hub(-1.0, 0.0)
    -1.0
    """
    if not is_pair(tires):
        return offset
    return {"hub": offset, "disc": offset - paired_disc}.get(offset_face or "")


@figure(means="hub face outboard to the tire's center plane (of a pair, the inner tire's)", ground=GEOMETRY)
def inner_center_plane(offset_to_hub: Position) -> Position:
    """Outboard of the hub's mounting face, so below nothing where it lies inboard; in m.

    >>> inner_center_plane(6.0)
    -6.0
    """
    return -offset_to_hub


@figure(
    means="hub face outboard to the tire's center plane (of a pair, the outer tire's)",
    ground=GEOMETRY,
    form="outer_center_plane = −offset_to_hub; of a pair offset_to_hub + 2 × paired_disc",
)
def outer_center_plane(offset_to_hub: Position, paired_disc: Distance, tires: Count | None = None) -> Position:
    """The inner wheel's plane mirrored about the face between the discs; in m.

    >>> outer_center_plane(6.0, 0.5, 4), outer_center_plane(6.0, 0.0)
    (7.0, -6.0)
    """
    return offset_to_hub + 2 * paired_disc if is_pair(tires) else -offset_to_hub


@figure(
    means="hub face outboard of the tire's center plane (of a pair, the outer tire's)",
    ground=GEOMETRY,
)
def outer_offset(outer_center_plane: Position) -> Position:
    """The offset of a single wheel whose tire would stand where a pair's outer one does; in m.

    >>> outer_offset(7.0)
    -7.0
    """
    return -outer_center_plane


@figure(
    means="hub face outboard of the tire's center plane (of a pair, the middle between the two)",
    ground=GEOMETRY,
)
def middle_offset(inner_center_plane: Position, outer_center_plane: Position) -> Position:
    """Where the load of this end of the axle acts; in m. The middle of a pair lies at the face between its discs.

    >>> middle_offset(-6.0, 7.0)
    -0.5
    """
    return -(inner_center_plane + outer_center_plane) / 2
