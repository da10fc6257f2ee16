"""How far apart the two tires of a pair stand, how near they come at the road, and how alike they must be."""

from planner.quantities.fineness import INCH
from planner.quantities.kinds import Distance, GreatestLength, Length, Position, Ratio, Share, Text
from planner.sources.citing import practice
from planner.sources.reasoning import GEOMETRY
from planner.sources.us_federal import ARMY_TIRE_CARE
from planner.worksheet.declare import Impossible, assumed, figure
from planner.worksheet.turning import along

_NARROWEST = 0.85  # of the section width, which by a size alone is good to 12 %: no loaded tire is narrower than that

usual_spacing_share = assumed(
    Ratio,
    "1.15",
    means="least spacing of a pair's center planes over the section width, if the tire maker's isn't known",
    ground=practice("makers' tables give 1.13 to 1.16 times the section width; the table for the exact tire counts"),
    better="the tire maker's minimum dual spacing (tire.least_dual_spacing)",
)
road_bulge = assumed(
    Share,
    "7 % ± 3 %",
    means="how much wider a loaded tire is at the road than its section",
    ground=practice("makers give loaded widths of about 4 to 10 percent over the section"),
    better="the gap between the sidewalls at the road, loaded, and the spacing (pair.sidewall_gap, pair.spacing)",
)


@figure(means="between the center planes of a pair's two tires", ground=GEOMETRY)
def dual_spacing(inner_center_plane: Position, outer_center_plane: Position) -> Distance:
    """In m; nothing on a single wheel.

    >>> dual_spacing(-6.0, 7.0)
    13.0
    """
    return outer_center_plane - inner_center_plane


@figure(
    means="least spacing of a pair's center planes",
    ground=practice("the tire maker's least, else a share of the section width"),
    form="least_spacing = least_dual_spacing by the tire's maker, else usual_spacing_share × section_width",
)
def least_spacing(
    section_width: Length, usual_spacing_share: Ratio, least_dual_spacing: Length | None = None
) -> Length:
    """In m.

    >>> least_spacing(10.0, 1.15), least_spacing(10.0, 1.15, 11.25)
    (11.5, 11.25)
    """
    return usual_spacing_share * section_width if least_dual_spacing is None else least_dual_spacing


@figure(
    means="offset of a pair's wheels that gives the least spacing, to the face offset is measured to",
    ground=GEOMETRY,
    form="offset_for_spacing = least_spacing / 2 to the face between the discs, less of paired_disc to the hub's",
)
def offset_for_spacing(least_spacing: Length, paired_disc: Distance, offset_face: Text) -> Position:
    """In m.

    >>> offset_for_spacing(13.0, 0.5, "hub"), offset_for_spacing(13.0, 0.5, "disc")
    (6.0, 6.5)
    """
    return least_spacing / 2 - (0.0 if offset_face == "disc" else paired_disc)


@figure(
    means="width of one tire of a pair at the road, loaded and grown in service",
    ground=practice("a share over the section width; a pair's measured gap comes first"),
    form="loaded_width = grown_width × (1 + road_bulge); by a gap that was measured, (measured_dual_spacing, or "
    "dual_spacing, − measured_sidewall_gap) × grown_width / section_width",
)
def loaded_width(
    section_width: Length,
    grown_width: Length,
    road_bulge: Share,
    measured_dual_spacing: Length | None = None,
    measured_sidewall_gap: Distance | None = None,
    dual_spacing: Distance | None = None,
) -> Length:
    """In m. Tires that were measured may be new and grow yet; a gap without a spacing goes with the wheels' own.

    Raises Impossible for a gap that would make the tires far narrower at the road than their section.

    A pair 13 apart with 2 between its sidewalls has tires 11 wide at the road:

    >>> loaded_width(10.0, 10.0, 0.5), loaded_width(10.0, 10.0, 0.5, 13.0, 2.0)
    (15.0, 11.0)
    """
    spacing = dual_spacing if measured_dual_spacing is None else measured_dual_spacing
    if spacing is None or measured_sidewall_gap is None:
        return grown_width * (1 + road_bulge)
    at_road = spacing - measured_sidewall_gap
    if at_road < _NARROWEST * section_width:
        accepted = "a smaller one: at the road no tire is narrower than its section, {section_width}"
        raise Impossible("measured_sidewall_gap", "{measured_sidewall_gap}", accepted)
    return at_road * grown_width / section_width


@figure(means="between the two sidewalls of a pair at the road, loaded and grown in service", ground=GEOMETRY)
def sidewall_gap(dual_spacing: Distance, loaded_width: Length) -> Position:
    """In m; below nothing they press on each other.

    >>> sidewall_gap(13.0, 11.0)
    2.0
    """
    return dual_spacing - loaded_width


@figure(
    means="most the two tires of a pair may differ in diameter",
    ground=ARMY_TIRE_CARE.read("Table 2-1, p. 2-8"),
    form="most_pair_difference = 1/4 in below 30 in of overall_diameter, 3/8 in to 40 in, 1/2 in to 50 in, then 3/4 in",
    picks=("",),
)
def most_pair_difference(overall_diameter: Length) -> GreatestLength:
    """By the table, in m from m.

    >>> [round(most_pair_difference(inches * 0.0254) / 0.0254, 6) for inches in (29, 31.6, 41, 52)]
    [0.25, 0.375, 0.5, 0.75]
    """
    return along(overall_diameter, _most(overall_diameter), lambda low, high: (_most(low), _most(high)))


def _most(diameter: float) -> float:
    if diameter < 30 * INCH:
        return INCH / 4
    return 3 * INCH / 8 if diameter <= 40 * INCH else INCH / 2 if diameter <= 50 * INCH else 3 * INCH / 4
