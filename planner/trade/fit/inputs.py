"""What the sweep needs of tire and rim where nobody measured it: tread, crown, flanges, inside of the barrel."""

from planner.quantities.kinds import Distance, Length, Ratio, RimCode
from planner.sources.citing import practice
from planner.sources.reasoning import GEOMETRY
from planner.sources.standards import RIM_DIAMETERS
from planner.trade.wheel.barrel import rim_diameters
from planner.worksheet.declare import assumed, figure

tread_share = assumed(
    Ratio,
    "0.85 ± 0.10",
    means="tread width as a share of the section width",
    ground=practice("0.75 for round shoulders to 0.95 for square lugs"),
    better="the tread, shoulder to shoulder (tire.tread_width)",
    of="designation",
)
crown_share = assumed(
    Ratio,
    "0.035 ± 0.025",
    means="how much lower the tread is at its shoulder than in the middle, as a share of its width",
    ground=practice("0.01 for a flat radial to 0.06 for a round bias tire, from memory"),
    better="a straightedge over the crown and a rule down to the tread's edge (tire.crown_drop)",
    of="designation",
)
flange_height = assumed(
    Length,
    "20 mm ± 8 mm",
    means="height of the rim flange over the bead seat",
    ground=RIM_DIAMETERS.recalled(
        "12.7 mm on rims of 15°, 14.1 (B), 17.3 (J), 18 (JJ), 19.6 (K), 22.2 (E, F), 27.9 (G); "
        "wide-base truck rims have more: measure them"
    ),
    better="the rim flange, from the bead seat up (wheel.flange_height)",
)
weight_reach = assumed(
    Distance,
    "5 mm ± 5 mm",
    means="how far balance weights stick out past the rim flange",
    ground=practice("none, or up to 10 mm if they're clipped on"),
)
rim_depth = assumed(
    Distance,
    "45 mm",
    means="from the bead seats in to the inside of the barrel, drop center and metal together",
    ground=practice("up to 45 mm; the wheel maker's drawing or a caliper comes first"),
)
backspace_step = assumed(
    Distance,
    "1/4 in",
    means="the steps the wheel maker offers backspace in",
    ground=practice("a quarter of an inch"),
)


@figure(means="width of the tread, shoulder to shoulder", ground=practice("a share of the section width"))
def tread_width(section_width: Length, tread_share: Ratio) -> Length:
    """In m. The sidewalls round off what the section is wider.

    >>> tread_width(10.0, 0.85)
    8.5
    """
    return section_width * tread_share


@figure(means="how much lower the tread is at its shoulder than in the middle", ground=practice("a share of its width"))
def crown_drop(tread_width: Length, crown_share: Ratio) -> Distance:
    """In m: how far a straightedge over the crown is off the tread's edge.

    >>> crown_drop(10.0, 0.03)
    0.3
    """
    return tread_width * crown_share


@figure(
    means="radius of the rim's flange tips",
    ground=GEOMETRY,
    form="flange_radius = bead seat radius by rim code + flange_height; inner_radius + rim_depth + flange_height where "
    "no code is known",
)
def flange_radius(
    flange_height: Length,
    rim_depth: Distance,
    inner_radius: Length,
    rim_diameter_code: RimCode | None = None,
    tire_rim_code: RimCode | None = None,
) -> Length:
    """In m, by the wheel's rim code, else the tire's; a code that the table lacks is taken as inches.

    Taken large where it is not known: from there the tire's height begins, and the higher, the fuller the sidewall.
    A 16 in rim, 405.6 mm at the bead seats, with flanges of 17.3 mm: 202.8 + 17.3 = 220.1 mm.

    >>> round(flange_radius(0.0173, 0.045, 0.17, 16), 5), round(flange_radius(0.02, 0.045, 0.17), 5)
    (0.2201, 0.235)
    """
    code = rim_diameter_code or tire_rim_code
    if code is None:
        return inner_radius + rim_depth + flange_height
    return rim_diameters().get(float(code), code * 0.0254) / 2 + flange_height


@figure(
    means="inside radius of the barrel, as the sweep uses it",
    ground=GEOMETRY,
    form="inner_radius = barrel_radius, else rim code × 25.4 mm / 2 − rim_depth",
)
def inner_radius(
    rim_depth: Distance,
    barrel_radius: Length | None = None,
    rim_diameter_code: RimCode | None = None,
    tire_rim_code: RimCode | None = None,
) -> Length | None:
    """In m: as measured or drawn, else from the wheel's rim code, else from the tire's.

    Taken small where it is not known, so that what stands inside the wheel is not given room that is not there.

    >>> round(inner_radius(0.045, None, 17.0, None), 4)
    0.1709
    >>> inner_radius(0.045, 0.18, 17.0, None)
    0.18
    """
    code = rim_diameter_code or tire_rim_code
    if barrel_radius is not None or code is None:
        return barrel_radius
    return code * 0.0127 - rim_depth
