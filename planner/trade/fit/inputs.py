"""What the sweep needs of the tire where nobody measured it: tread width, and how far in the solid reaches."""

from planner.quantities.kinds import Distance, Length, Ratio, RimCode
from planner.sources.citing import practice
from planner.sources.reasoning import GEOMETRY
from planner.worksheet.declare import assumed, figure

tread_share = assumed(
    Ratio,
    "0.85",
    means="tread width as a part of the section width",
    ground=practice("0.85; a mud tire is squarer: measure it"),
)
rim_depth = assumed(
    Distance,
    "45 mm",
    means="from the bead seats in to the inside of the barrel, drop well and metal together",
    ground=practice("up to 45 mm; the wheel maker's drawing or a caliper comes first"),
)
backspace_step = assumed(
    Distance,
    "1/4 in",
    means="the step in which the wheel maker offers backspace",
    ground=practice("a quarter of an inch"),
)


@figure(means="width of the tread, shoulder to shoulder", ground=practice("a share of the section width"))
def tread_width(section_width: Length, tread_share: Ratio) -> Length:
    """In m. The outer corners are rounded by half of what the section is wider.

    >>> tread_width(10.0, 0.85)
    8.5
    """
    return section_width * tread_share


@figure(
    means="inside radius of the barrel, as the sweep takes it",
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
