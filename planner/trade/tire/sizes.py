"""How large a tire of a given designation is: overall diameter, and section width on the rim that it will be on.

New and unloaded; how they grow in service is in `growth.py`. A maker's own figure or a tape around the tread comes
first: design diameters of the standards differ from the sum below by -1.2 to +0.5 %, and a tire may be made to what
the standards let it be off by. Of two sizes each is off by itself, and both axles alike where they wear one.
"""

from math import floor
from typing import NamedTuple

from planner.quantities.kinds import GreatestLength, Length, Ratio, SmallestLength, Text
from planner.sources.citing import practice
from planner.sources.un import R54
from planner.trade.tire.charts import charted, rim_diameters
from planner.trade.tire.designation import INCH, TireSize, read_designation
from planner.worksheet.declare import Impossible, assumed, figure

flotation_rim_share = assumed(
    Ratio,
    "0.80",
    means="width of a flotation tire's measuring rim, as a share of the tire's nominal width",
    ground=practice("a 12.50 in section is measured on a 10 in rim, to the nearest half inch"),
)

diameter_as_made = assumed(
    Ratio,
    "1 ± 0.02",
    means="a new tire's diameter over the one its size stands for",
    ground=R54.recalled("6.1.4, d + 2 × 0.97 H to d + 2 × 1.04 H: about -1.5 to +2 %"),
    better="the tire maker's diameter, or a tape around the tread (tire.overall_diameter)",
    of="designation",
)
width_as_made = assumed(
    Ratio,
    "1 ± 0.04",
    means="a new tire's section width over the one its size stands for",
    ground=R54.recalled("6.1.5, up to 4 % more for a radial; as much less is taken"),
    better="the tire maker's section width, or straightedges to both sidewalls (tire.section_width)",
    of="designation",
)

narrowest_rim_ratio = assumed(
    Ratio,
    "0.65",
    means="narrowest rim, as a share of the tire's section width",
    ground=practice("used if the tire maker's approved rims aren't entered"),
)
widest_rim_ratio = assumed(
    Ratio,
    "0.90",
    means="widest rim, as a share of the tire's section width",
    ground=practice("used if the tire maker's approved rims aren't entered"),
)

# Share of the nominal width that the measuring rim is wide, by least aspect: from memory, and as the measuring rims
# of well-known sizes bear out (LT235/85R16 on 6.5, 265/70R17 on 8.0, 205/55R16 on 6.5, 225/45R17 on 7.5 in).
_RIM_SHARES = ((0.75, 0.70), (0.60, 0.75), (0.50, 0.80), (0.45, 0.85), (0.0, 0.90))


class RimBand(NamedTuple):
    """The narrowest and the widest rim, between the bead seats."""

    low: SmallestLength
    high: GreatestLength


@figure(
    means="tire's overall diameter, going by its size",
    ground=R54.recalled("6.1.2, D = d + 2H; the same in UN R30; Annex 5 for sizes without an aspect"),
    form="design_diameter = d + 2 × H, H = nominal section width × aspect ratio and d by rim diameter code; as written "
    "for a flotation size; by table for an old numeric size; all read from designation",
)
def design_diameter(designation: Text) -> Length:
    """Diameter in m; d is the nominal rim diameter of the UN regulations (406 mm for 16).

    A flotation size is taken as it is written; its design diameter in UN R54 is about 12 mm less, so a fit on the
    written one errs to the safe side. Raises Impossible for a size that can be worked out neither from its text nor
    from the table, and asks for the measured diameter. LT235/85R16 by hand: 406 + 2 × 0.85 × 235 = 805.5 mm.

    >>> round(design_diameter("LT235/85R16 120/116R"), 4), round(design_diameter("37x12.50R17LT"), 4)
    (0.8055, 0.9398)
    """
    found = _diameter(read_designation(designation))
    if found is None:
        raise _unsized(designation, "overall_diameter")
    return found


@figure(
    means="tire's overall diameter, new and unloaded",
    ground=R54.recalled("6.1.2, D = d + 2H; the same in UN R30; Annex 5 for sizes without an aspect"),
    form="overall_diameter = design_diameter × diameter_as_made, by designation",
)
def overall_diameter(designation: Text, diameter_as_made: Ratio) -> Length:
    """Diameter in m as tires of this size are made. Raises Impossible where the size has no design diameter.

    LT235/85R16 by hand: 406 + 2 × 0.85 × 235 = 805.5 mm; 1 % larger, 813.6 mm.

    >>> round(overall_diameter("LT235/85R16 120/116R", 1.01), 4), overall_diameter("7.50-16", 1.0)
    (0.8136, 0.806)
    """
    return design_diameter(designation) * diameter_as_made


@figure(
    means="tire's section width on its measuring rim",
    ground=R54.recalled("6.1.1, S1; Annex 5 for the old numeric sizes"),
    form="design_section_width = S1: as designation writes it, or by table for an old numeric size",
)
def design_section_width(designation: Text) -> Length:
    """Section width in m on the rim that the standard measures it on.

    Raises Impossible for a size whose width stands neither in its text nor in the table.

    >>> design_section_width("LT235/85R16"), design_section_width("9.00-20")
    (0.235, 0.256)
    """
    size = read_designation(designation)
    row = charted(size)
    if row is not None and row.section_width is not None:
        return row.section_width
    # The first figure of an old inch size is not its section: 7.50-16 is 8.3 in wide.
    if size.nominal_section_width is None or size.kind == "numeric":
        raise _unsized(designation, "section_width")
    return size.nominal_section_width


@figure(
    means="tire's section width on the rim it will be on",
    ground=R54.recalled("6.1.1.2, S = S1 + K (A - A1), K = 0.4; the same in UN R30"),
    form="section_width = S1 × width_as_made + 0.4 × (rim_width − A1), with S1 and the measuring rim A1 read from "
    "designation; S1 × width_as_made where no rim_width is given",
)
def section_width(
    designation: Text, flotation_rim_share: Ratio, width_as_made: Ratio, rim_width: Length | None = None
) -> Length:
    """Section width in m, without raised lettering.

    `rim_width` is between the bead seats. The measuring rim is the table's, else a share of the nominal width to the
    nearest half inch. Raises Impossible for a rim wider than the tire is tall, and where no width is known.
    By hand, 12.5 in on 9 in instead of 10: 12.5 - 0.4 × 1 = 12.1 in = 0.30734 m.

    >>> round(section_width("37x12.50R17LT", 0.80, 1.0, 9 * 0.0254), 5)
    0.30734
    """
    nominal = design_section_width(designation)
    if rim_width is None:
        return nominal * width_as_made
    size = read_designation(designation)
    tall = _diameter(size)
    if tall is not None and rim_width >= tall:
        raise Impossible("rim_width", "{rim_width}", "a rim narrower than the tire is tall, {designation}")
    return nominal * width_as_made + 0.4 * (rim_width - _measuring_rim(size, nominal, flotation_rim_share))


@figure(
    means="narrowest and widest rim for the tire",
    ground=practice("shares of the section width; the tire maker's approved rims come first"),
    form="low = low × section_width, high = high × section_width",
    reads={"section_width": "design_section_width", "low": "narrowest_rim_ratio", "high": "widest_rim_ratio"},
    publishes={"usual_narrowest_rim": "low", "usual_widest_rim": "high"},
)
def rim_width_band(section_width: Length, low: Ratio, high: Ratio) -> RimBand:
    """Both ends in m, from the section width on the measuring rim: one on a narrow rim would forgive itself.

    A rule of thumb, and a wide one: low-profile tires need the upper half of it, tall ones the lower. Raises
    Impossible where low is above high. A 10 in section by shares of 0.7 and 0.9:

    >>> rim_width_band(10.0, 0.7, 0.9)
    RimBand(low=7.0, high=9.0)
    """
    if low > high:
        raise Impossible("low", "{low}", "at most {high}")
    return RimBand(low * section_width, high * section_width)


def _diameter(size: TireSize) -> float | None:
    """Design diameter in m; None where neither the text nor the tables give it."""
    if size.nominal_overall_diameter is not None:
        return size.nominal_overall_diameter
    if size.nominal_section_width is not None and size.aspect_ratio is not None:
        rim = rim_diameters().get(size.rim_diameter_code)
        return None if rim is None else rim + 2 * size.nominal_section_width * size.aspect_ratio
    row = charted(size)
    return None if row is None else row.overall_diameter


def _measuring_rim(size: TireSize, nominal: float, flotation_rim_share: float) -> float:
    row = charted(size)
    if row is not None and row.measuring_rim is not None:
        return row.measuring_rim
    share = flotation_rim_share
    if size.kind != "flotation":
        aspect = size.aspect_ratio or 1.0
        share = next(share for least, share in _RIM_SHARES if aspect >= least)
    return floor(2 * share * nominal / INCH + 0.5) / 2 * INCH


def _unsized(designation: str, wanted: str) -> Impossible:
    return Impossible(
        "designation",
        f"sizing {designation.strip()!r} from its text or a table",
        f"enter the measured {wanted} (a tire of such a size needs its overall_diameter and section_width measured)",
    )
