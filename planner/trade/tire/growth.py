"""What a tire grows to in service: the size that must clear everything, where the new one carries the load and rolls.

The casing stretches in its first weeks, and at speed; a bias one more than a radial one, whose belt holds the tread. A
tire is new before it is grown, so each amount is anywhere from nothing to its most.
"""

from planner.quantities.kinds import Length, RimCode, Share, Text
from planner.sources.standards import TIRE_FACTORS
from planner.trade.tire.charts import rim_diameters
from planner.trade.tire.designation import INCH
from planner.worksheet.declare import assumed, figure

_MEASURED = "what the tire maker says about growth (tire.growth)"
_WORN_IN = "the section width of a broken-in tire of this kind, compared with a new one"

radial_growth = assumed(
    Share,
    "1 % ± 1 %",
    means="how much a radial tire grows in service, as a share of its height over the rim",
    ground=TIRE_FACTORS.recalled("greatest sizes in service, up to 2 % of the height for a radial"),
    better=_MEASURED,
    of="designation",
)
bias_growth = assumed(
    Share,
    "2 % ± 2 %",
    means="how much a bias tire grows in service, as a share of its height over the rim",
    ground=TIRE_FACTORS.recalled("greatest sizes in service, up to 4 % of the height for a bias tire"),
    better=_MEASURED,
    of="designation",
)
radial_width_growth = assumed(
    Share,
    "1 % ± 1 %",
    means="how much wider a radial tire gets in service",
    ground=TIRE_FACTORS.recalled("greatest sizes in service: what a new one may be over its design is most of it"),
    better=_WORN_IN,
    of="designation",
)
bias_width_growth = assumed(
    Share,
    "2 % ± 2 %",
    means="how much wider a bias tire gets in service",
    ground=TIRE_FACTORS.recalled("greatest sizes in service: twice a radial's"),
    better=_WORN_IN,
    of="designation",
)


@figure(
    means="tire's overall diameter, grown in service",
    ground=TIRE_FACTORS.recalled("greatest sizes in service"),
    form="grown_diameter = overall_diameter × (1 + growth) by the maker, else overall_diameter + its height over the "
    "rim × radial_growth, or × bias_growth where it is not known to be a radial",
)
def grown_diameter(
    overall_diameter: Length,
    radial_growth: Share,
    bias_growth: Share,
    construction: Text | None = None,
    growth: Share | None = None,
    rim_diameter_code: RimCode | None = None,
    tire_rim_code: RimCode | None = None,
) -> Length:
    """In m; the height is both sides' together, over the wheel's rim or else the size's own.

    LT235/85R16 by hand, 406 mm of rim in 805.5: 805.5 + 0.02 × 399.5 = 813.49 mm.

    >>> round(grown_diameter(0.8055, 0.02, 0.04, "radial", None, 16), 5), grown_diameter(0.8, 0.02, 0.04, growth=0.01)
    (0.81349, 0.808)
    """
    if growth is not None:
        return overall_diameter * (1 + growth)
    code = rim_diameter_code or tire_rim_code
    rim = 0.0 if code is None else rim_diameters().get(code, code * INCH)
    return overall_diameter + max(0.0, overall_diameter - rim) * _of(construction, radial_growth, bias_growth)


@figure(
    means="tire's section width, grown in service",
    ground=TIRE_FACTORS.recalled("greatest sizes in service"),
    form="grown_width = section_width × (1 + radial_width_growth), or bias_width_growth where it is not known to be a "
    "radial",
)
def grown_width(
    section_width: Length, radial_width_growth: Share, bias_width_growth: Share, construction: Text | None = None
) -> Length:
    """In m, on the rim that the section width is for.

    >>> grown_width(0.25, 0.02, 0.04, "radial"), grown_width(0.25, 0.02, 0.04)
    (0.255, 0.26)
    """
    return section_width * (1 + _of(construction, radial_width_growth, bias_width_growth))


def _of(construction: str | None, radial: float, bias: float) -> float:
    return radial if construction is not None and construction.strip().lower() == "radial" else bias
