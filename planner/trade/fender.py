"""What the fender opening lets in by simple geometry: a first look, before the sweep through steer and travel."""

from planner.quantities.kinds import Distance, GreatestLength, Length
from planner.sources.reasoning import GEOMETRY
from planner.worksheet.declare import Impossible, figure


@figure(means="tire that would just touch the fender opening at ride height", ground=GEOMETRY)
def zero_clearance_diameter(axle_to_fender: Length) -> GreatestLength:
    """Twice the distance from the axle's center to the opening's tightest point; both in m.

    No tire of this size fits: nothing is left for travel, steer, flex, mud or chains.

    >>> zero_clearance_diameter(24.0)
    48.0
    """
    return 2 * axle_to_fender


@figure(
    means="tire that keeps the clearance you want at full bump",
    ground=GEOMETRY,
    reads={"clearance": "wanted_clearance"},
    form="tire for clearance = 2 × (axle to fender − clearance − bump travel)",
)
def tire_for_clearance(axle_to_fender: Length, clearance: Distance, bump_travel: Distance) -> GreatestLength:
    """The largest diameter that keeps the clearance with the axle straight up on its bump stop; all in m.

    It knows neither steer nor crossed axles nor what else stands in the way. Taking the whole bump travel off is the
    cautious side where the tightest point is not straight above the axle. Raises Impossible where nothing is left.

    >>> tire_for_clearance(24.0, 2.0, 3.0)
    38.0
    """
    if clearance + bump_travel >= axle_to_fender:
        raise Impossible("axle_to_fender", "{axle_to_fender}", "more than {clearance}, and {bump_travel}, together")
    return 2 * (axle_to_fender - clearance - bump_travel)
