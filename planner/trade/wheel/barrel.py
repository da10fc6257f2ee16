"""The rim's diameter at the bead seat by its code, and the room that the barrel leaves inside."""

import csv
from functools import cache
from pathlib import Path

from planner.quantities.kinds import Distance, Length, RimCode
from planner.sources.reasoning import GEOMETRY
from planner.sources.standards import RIM_DIAMETERS
from planner.worksheet.declare import Impossible, figure


@cache
def rim_diameters(seat_degrees: int | None = None) -> dict[float, float]:
    """Specified rim diameter in m by rim diameter code, of one angle of bead seat (5 or 15) or of both."""
    with Path(__file__).with_name("rim_diameters.csv").open(encoding="utf-8", newline="") as table:
        rows = list(csv.DictReader(table))
    wanted = [row for row in rows if seat_degrees in (None, int(row["seat_degrees"]))]
    return {float(row["code"]): float(row["diameter_mm"]) / 1000 for row in wanted}


@figure(
    means="specified diameter at the bead seat",
    ground=RIM_DIAMETERS.recalled("specified rim diameter D"),
    form="specified rim diameter = table at the rim diameter code",
)
def specified_rim_diameter(rim_diameter_code: RimCode) -> Length:
    """The bead seat's diameter in m; not the code in inches, and not the nominal diameter of the tire formulas.

    Whole codes are drop-center rims with 5° bead seats, codes in .5 are rims with 15° seats. A flat-base truck rim
    of the same code is another diameter again: measure it. Raises Impossible for a code that the table lacks.

    >>> specified_rim_diameter(15)
    0.3802
    """
    known = rim_diameters()
    code = float(rim_diameter_code)
    if code not in known:
        codes = ", ".join(f"{one:g}" for one in sorted(known))
        raise Impossible("rim_diameter_code", f"{code:g}", f"the table has {codes}; measure any other rim")
    return known[code]


@figure(
    means="room inside the barrel at the drop center, as a radius",
    ground=GEOMETRY,
    form="barrel radius = specified rim diameter / 2 − well depth − thickness, unless measured",
    reads={"measured": None},
)
def barrel_radius(
    rim_diameter_code: RimCode | None = None,
    well_depth: Distance | None = None,
    thickness: Distance | None = None,
    measured: Length | None = None,
) -> Length | None:
    """The least inside radius in m: a measured one as it is, otherwise from the code, the drop center and the steel.

    Good for the drop center, the tightest part of the barrel: a brake that stands beside the well has more room.
    Welds, balance weights and valve stems are not in it. Gives nothing while an input is missing.

    A 16 in rim (405.6 mm), the well 1 in deep, the barrel 1/4 in: 202.8 − 25.4 − 6.35 = 171.05 mm.

    >>> round(barrel_radius(16, 0.0254, 0.00635), 5), barrel_radius(measured=0.18)
    (0.17105, 0.18)
    """
    if measured is not None:
        return measured
    if rim_diameter_code is None or well_depth is None or thickness is None:
        return None
    radius = specified_rim_diameter(rim_diameter_code) / 2 - well_depth - thickness
    if not radius > 0:
        raise Impossible(
            "well_depth", "{well_depth}", "less than the rim's radius, with {thickness}, by {rim_diameter_code}"
        )
    return radius
