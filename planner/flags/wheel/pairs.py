"""Whether two wheels side by side can run so: how far apart they stand, how alike they are, who reaches the inner."""

from typing import Annotated

from planner.flags.contradicting import contradiction
from planner.quantities.kinds import (
    CHANGE,
    POSITION,
    Count,
    Distance,
    GreatestLength,
    Length,
    Position,
    Ratio,
    RimCode,
    Share,
    Text,
    Torque,
    YesNo,
)
from planner.sources.citing import practice
from planner.sources.us_federal import ARMY_TIRE_CARE
from planner.worksheet.declare import Finding, limit, rule
from planner.worksheet.turning import magnitude

least_sidewall_gap = limit(
    Distance,
    "1/8 in",
    means="smallest gap between a pair's sidewalls at the road, loaded",
    ground=practice("an eighth or more, or two tires rub each other through; a stone stuck there blows both"),
)
most_spacing_difference = limit(
    Distance,
    "1/4 in",
    means="how far a pair's measured spacing may be from what offset and disc make it",
    ground=practice("paint, rust between the discs and the tape add up to that much; a disc is thicker"),
)
dish_allowance = limit(
    Distance,
    "1/16 in",
    means="how far two wheels may differ in offset and be taken for one kind",
    ground=practice("wheels of one kind come out of the shop that close"),
)


@rule(
    severity="stop",
    danger="burst",
    notices="the pair's tires are closer together than their maker allows",
    says="The center planes of the two tires are {dual_spacing} apart; their maker wants at least "
    "{least_dual_spacing}.",
    clear_says="The center planes of the two tires are {dual_spacing} apart, and {least_dual_spacing} is enough for "
    "their maker.",
    cure="Don't drive it like this: two tires that press on each other chafe through, heat up and burst. Use wheels "
    "with an offset of at least {offset_for_spacing} to the face it's measured to, or narrower tires. Don't put a "
    "spacer between the discs unless the wheel maker made it for these studs.",
    ground=practice("the tire maker's least dual spacing"),
    holds={"dual_spacing": "10.61 in", "least_dual_spacing": "10.6 in", "offset_for_spacing": "4.8 in"},
    fails={"dual_spacing": "10.59 in", "least_dual_spacing": "10.6 in", "offset_for_spacing": "4.8 in"},
    only_with=("least_dual_spacing",),
    follows=("sidewalls_too_near",),
    bounds="the pair's spacing",
)
def spacing_below_makers(dual_spacing: Distance, least_dual_spacing: Length, offset_for_spacing: Position) -> Position:
    """Margin in m."""
    return dual_spacing - least_dual_spacing


@rule(
    severity="caution",
    danger="burst",
    notices="the pair's tires are close together",
    says="The center planes of the two tires are {dual_spacing} apart; {least_spacing} is common, and nobody has "
    "entered what their maker wants.",
    clear_says="{clear}.",
    cure="Tires that press on each other chafe through, heat up and burst. Before you order anything, look up the "
    "tire maker's minimum dual spacing for this exact tire and rim and enter it (tire least dual spacing): it "
    "decides. An offset of {offset_for_spacing} gives the common spacing.",
    ground=practice("a share of the section width, where the maker's least spacing is not entered"),
    holds={"dual_spacing": "10.7 in", "least_spacing": "10.695 in", "offset_for_spacing": "4.85 in"},
    fails={"dual_spacing": "10.69 in", "least_spacing": "10.695 in", "offset_for_spacing": "4.85 in"},
    bounds="a pair's usual spacing",
    follows=("sidewalls_too_near",),
)
def spacing_below_usual(
    dual_spacing: Distance,
    least_spacing: Length,
    offset_for_spacing: Position,
    least_dual_spacing: Length | None = None,
) -> Annotated[Finding, POSITION]:
    """Margin in m; the maker's own least, where it is entered, stands before it."""
    if least_dual_spacing is not None:
        clear = "Their maker says how far apart the two tires have to be, and no rule of thumb counts"
        return Finding(True, {"clear": clear})
    clear = "By a rule of thumb the two tires are far enough apart; their maker's number isn't entered, and it decides"
    return Finding(dual_spacing - least_spacing, {"clear": clear})


@rule(
    severity="stop",
    danger="burst",
    notices="the pair's sidewalls come too close at the road",
    says="Loaded, each tire is {loaded_width} wide at the road on center planes {dual_spacing} apart: that leaves "
    "{sidewall_gap} between the sidewalls (minus: they press on each other); you need at least {least_sidewall_gap}.",
    clear_says="Loaded, there is {sidewall_gap} between the two sidewalls at the road, and {least_sidewall_gap} is "
    "enough.",
    cure="Don't load it: sidewalls that touch rub through, and you can't see the inner one. Wheels with more offset, "
    "by half of what's missing, narrower tires, or more pressure if load table and rim allow it. Tires low on air "
    "bulge the most: check both before every drive.",
    ground=practice("two tires of a pair must never touch; a truck is put out of service for it"),
    holds={
        "dual_spacing": "11 in", "loaded_width": "10.87 in", "sidewall_gap": "0.13 in", "least_sidewall_gap": "1/8 in",
    },
    fails={
        "dual_spacing": "11 in", "loaded_width": "10.88 in", "sidewall_gap": "0.12 in", "least_sidewall_gap": "1/8 in",
    },
    bounds="the gap between a pair's sidewalls",
)  # fmt: skip
def sidewalls_too_near(
    sidewall_gap: Position, least_sidewall_gap: Distance, dual_spacing: Distance, loaded_width: Length
) -> Position:
    """Margin in m."""
    return sidewall_gap - least_sidewall_gap


@contradiction(
    "wheel",
    "the pair's spacing and its offset",
    says="You measured the spacing as {measured_dual_spacing}; going by offset, its face and the disc thickness it is "
    "{dual_spacing}. They may differ by up to {most_spacing_difference}.",
    clear_says="The spacing measured, {measured_dual_spacing}, goes with offset and disc, which give {dual_spacing}.",
    cure="Don't order anything by these until they agree. Measure again, and correct the entry that's wrong. If it's "
    "off by two disc thicknesses, offset was measured to the wrong face. If they're all right, there's rust, paint or "
    "a spacer between the discs and the nuts clamp on that: take it out before the truck moves.",
    ground=practice("one of the readings is wrong, or there's something between the discs"),
    holds={
        "measured_dual_spacing": "13.249 in",
        "dual_spacing": "13 in",
        "most_spacing_difference": "1/4 in",
        "tires": "4",
    },
    fails={
        "measured_dual_spacing": "13.251 in",
        "dual_spacing": "13 in",
        "most_spacing_difference": "1/4 in",
        "tires": "4",
    },
    bars=("measured_dual_spacing", "offset", "offset_face", "disc_thickness"),
)
def spacing_and_offset(
    measured_dual_spacing: Length, dual_spacing: Distance, most_spacing_difference: Distance, tires: Count
) -> Position | None:
    """Margin in m, either way; of a spacing entered for both axles nothing is said at the one with single wheels."""
    if tires != 4:
        return None
    return most_spacing_difference - magnitude(measured_dual_spacing - dual_spacing)


@rule(
    severity="caution",
    danger="burst",
    notices="the two tires of a pair differ in diameter",
    says="One tire of the pair is {pair_difference} larger than the other; the limit for this size is "
    "{most_pair_difference}.",
    clear_says="The two tires of the pair differ by {pair_difference}; the limit is {most_pair_difference}.",
    cure="Don't load it: the larger tire carries more than half and the smaller one scuffs; it heats up, and can "
    "burn. Pair tires of the same size, make and wear; if they differ within the limit, put the larger one outside. "
    "Measure both again at the same pressure, cold.",
    ground=ARMY_TIRE_CARE.read("Table 2-1, p. 2-8"),
    holds={"pair_difference": "0.37 in", "most_pair_difference": "3/8 in"},
    fails={"pair_difference": "0.38 in", "most_pair_difference": "3/8 in"},
    beyond="over by",
)
def pair_unmatched(pair_difference: Distance, most_pair_difference: GreatestLength) -> Position:
    """Margin in m."""
    return most_pair_difference - pair_difference


@rule(
    severity="caution",
    danger="burst",
    notices="you can't reach the inner tire's valve",
    says="With the outer wheel on, you can't reach the inner tire's valve, so nobody checks its pressure.",
    clear_says="With the outer wheel on, you can reach the inner tire's valve.",
    cure="A low inner tire carries nothing, rubs on the outer one and burns where nobody sees it. Before you load the "
    "truck, get a longer stem through a hand hole of the outer wheel, held so it can't chafe. Don't check it by "
    "kicking.",
    ground=practice("gauge both tires of a pair at every check"),
    holds={"inner_valve_reached": "yes"},
    fails={"inner_valve_reached": "no"},
)
def inner_valve_out_of_reach(inner_valve_reached: YesNo) -> bool:
    """Whether it can be reached."""
    return inner_valve_reached


@rule(
    severity="stop",
    danger="wheel off",
    notices="the inner nuts' torque may stretch the studs",
    says="A torque of {inner_nut_torque} on the inner nuts, threads dry, clamps with {inner_clamp_share} of the "
    "stud's proof load; the limit is {most_proof_share} times it.",
    clear_says="{sound}.",
    cure="Use the axle maker's torque for the inner nuts. If there is none, aim for three quarters of proof, dry and "
    "clean, with a torque wrench. A stretched stud breaks later, behind the outer wheel, where nobody sees it, and "
    "both wheels come off.",
    ground=practice("past its proof load a stud stretches for good; friction is known only to within a quarter"),
    holds={"pair_held_by": "inner nuts", "inner_clamp_share": "0.999", "most_proof_share": "1.0"},
    fails={"pair_held_by": "inner nuts", "inner_clamp_share": "1.001", "most_proof_share": "1.0"},
    beyond="over by",
)
def inner_nuts_past_proof(
    pair_held_by: Text,
    most_proof_share: Ratio,
    inner_clamp_share: Share | None = None,
    inner_nut_torque: Torque | None = None,
) -> Annotated[Finding | None, CHANGE]:
    """Margin as a part of the proof load; holds outright where no inner nuts hold the wheel."""
    if pair_held_by != "inner nuts":
        return Finding(True, {"sound": "No inner nuts hold the wheel"})
    sound = "The inner nuts clamp within the studs' proof load"
    return None if inner_clamp_share is None else Finding(most_proof_share - inner_clamp_share, {"sound": sound})


@rule(
    severity="note",
    notices="one spare won't fit both axles: the front wheel isn't the same kind as the pair's",
    says="A wheel of the rear pair has an offset of {rear_offset} to the face that goes on the hub, the front wheel "
    "{front_offset}. A spare for one axle won't fit the other.",
    clear_says="By rim code and offset the front wheel is the same kind as the pair's, and goes on its hub like the "
    "inner one. Before you count on one spare for both, check bolt circle and bore.",
    cure="Carry a spare for each axle, and mark them. Or order front wheels of the same kind as the pair's: they go "
    "on the front hubs like the inner one on the rear, and only the outer one is turned around. If they already are "
    "the same, an offset has the wrong sign or was measured to the wrong face.",
    ground=practice("trucks with duals in the rear mostly have one kind of wheel all around"),
    holds={"front_offset": "6.06 in", "rear_offset": "6 in", "front_code": "16", "rear_code": "16"},
    fails={"front_offset": "6.07 in", "rear_offset": "6 in", "front_code": "16", "rear_code": "16"},
    beyond="over by",
    reads={
        "rear_offset": "rear_offset_to_hub",
        "front_code": "front_rim_diameter_code",
        "rear_code": "rear_rim_diameter_code",
    },
)
def spare_for_each_axle(
    front_offset: Position, rear_offset: Position, front_code: RimCode, rear_code: RimCode, dish_allowance: Distance
) -> Annotated[Finding, POSITION]:
    """Margin in m; fails outright where the rims' codes differ."""
    if front_code != rear_code:
        return Finding(False)
    return Finding(dish_allowance - magnitude(front_offset - rear_offset))
