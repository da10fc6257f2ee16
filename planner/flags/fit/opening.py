"""What a tape tells about fit before any sweep: the tire at the fender's edge and in the opening, width, the spare."""

from planner.flags.contradicting import contradiction
from planner.quantities.kinds import Change, Distance, Length, Position, Share
from planner.sources.citing import COMMON_PRACTICE, Ground, practice
from planner.sources.reasoning import ENTERED, GEOMETRY
from planner.sources.us_federal import LEGAL_WIDTH
from planner.worksheet.declare import limit, rule
from planner.worksheet.turning import greatest, magnitude

LOCAL_CODE = Ground("local code, entered by the person")

poke_allowance = limit(
    Distance,
    "1/2 in",
    means="how far the sidewall may be from where you want it",
    ground=practice("on an old truck, body, fenders and axle are off by that much from one side to the other"),
)

legal_width = limit(
    Length,
    "102 in",
    means="most overall width allowed",
    ground=LEGAL_WIDTH.recalled("102 in on the national network; other roads and places may allow less"),
)

greatest_spare_difference = limit(
    Share,
    "2 %",
    means="how far the spare's diameter may be from the tire it replaces",
    ground=practice("about the difference between a new tire and a worn one of its size"),
)

stud_circle_allowance = limit(
    Distance,
    "0.5 mm",
    means="how far the spare's bolt circle may be from a hub's",
    ground=practice("a seat can't pull a stud over more without bending it; some standard circles differ by 0.7 mm"),
)


@rule(
    severity="note",
    notices="the tire isn't where you want it at the fender edge",
    says="The sidewall sticks out {poke} past the fender edge (minus is inside it); you want {wanted_poke}, give or "
    "take {poke_allowance}.",
    clear_says="The sidewall sticks out {poke} past the fender edge (minus is inside it): within {poke_allowance} of "
    "the {wanted_poke} that you want.",
    cure="The wheel's figures give the offset for that poke. Before you order it, see what it does to the inboard "
    "side, the scrub radius and the bearings.",
    ground=ENTERED,
    holds={"poke": "-0.01 in", "wanted_poke": "-1/2 in", "poke_allowance": "1/2 in"},
    fails={"poke": "0.01 in", "wanted_poke": "-1/2 in", "poke_allowance": "1/2 in"},
    only_with=("wanted_poke",),
    beyond="over by",
    bounds="the poke wanted",
    follows=("poke_past_local_code", "poke_past_greatest"),
)
def poke_not_as_wanted(poke: Position, wanted_poke: Position, poke_allowance: Distance) -> Position:
    """Margin in m, either way: how much further off it might be."""
    return poke_allowance - magnitude(poke - wanted_poke)


@rule(
    severity="caution",
    notices="the tire sticks out farther than you'd accept",
    says="The sidewall sticks out {poke} past the fender edge (minus is inside it); {greatest_poke} is the most you'd "
    "accept.",
    clear_says="The sidewall sticks out {poke} past the fender edge (minus is inside it), no farther than the "
    "{greatest_poke} you'd accept.",
    cure="More backspace (for a pair's wheels, less)[, by at least {to_clear},] or a narrower tire, if there's room "
    "inboard; or a fender flare. Local code comes first: it says if the tread has to be covered.",
    ground=ENTERED,
    holds={"poke": "-0.01 in", "greatest_poke": "0 in"},
    fails={"poke": "0.01 in", "greatest_poke": "0 in"},
    only_with=("greatest_poke",),
    beyond="over by",
    bounds="the greatest poke wanted",
    follows=("poke_past_local_code",),
    as_found=True,
)
def poke_past_greatest(poke: Position, greatest_poke: Position) -> Position:
    """Margin in m: how much further out it might stand."""
    return greatest_poke - poke


@rule(
    severity="stop",
    danger="law",
    notices="the tire sticks out farther than local code allows",
    says="The sidewall sticks out {poke} past the fender edge (minus is inside it); local code allows {legal_poke}.",
    clear_says="The sidewall sticks out {poke} past the fender edge (minus is inside it), no farther than the "
    "{legal_poke} that local code allows.",
    cure="Before you take it on a public road: more backspace (for a pair's wheels, less)[, by at least {to_clear}], "
    "a narrower tire, or a flare that covers the tread. Read the code itself: some go by the tread and not the "
    "sidewall, and some want mud flaps.",
    ground=LOCAL_CODE,
    holds={"poke": "-0.01 in", "legal_poke": "0 in"},
    fails={"poke": "0.01 in", "legal_poke": "0 in"},
    beyond="over by",
    bounds="the local code on poke",
    as_found=True,
)
def poke_past_local_code(poke: Position, legal_poke: Position) -> Position:
    """Margin in m: how much further out the code would let it stand."""
    return legal_poke - poke


@rule(
    severity="stop",
    danger="law",
    notices="the truck is wider than the law allows",
    says="The truck is {width_over_tires} wide over its tires[ and {body_width} over its body]; {legal_width} is the "
    "most allowed, body included.",
    clear_says="The truck is {width_over_tires} wide over its tires[ and {body_width} over its body], no wider than "
    "the {legal_width} allowed.",
    cure="More backspace (for a pair's wheels, less) or narrower tires[, at least {to_clear} for both sides "
    "together]; or get a permit for the roads it will use. Mirrors usually don't count: read the rule where the truck "
    "is registered.",
    ground=LEGAL_WIDTH.recalled(),
    holds={"width_over_tires": "101.99 in", "legal_width": "102 in", "body_width": "78 in"},
    fails={"width_over_tires": "102.01 in", "legal_width": "102 in", "body_width": "78 in"},
    beyond="over by",
    bounds="the legal width",
    as_found=True,
)
def wider_than_legal(width_over_tires: Length, legal_width: Length, body_width: Length | None = None) -> Position:
    """Margin in m: how much wider the widest of tires and body might be."""
    return legal_width - greatest(width_over_tires, body_width or 0.0)


@rule(
    severity="caution",
    danger="control",
    notices="the spare isn't the same size as every tire",
    says="The spare is {spare_diameter} tall; the front tires are {front_diameter}, the rear ones {rear_diameter}. "
    "They may differ by {greatest_spare_difference}.",
    clear_says="The spare is {spare_diameter} tall, the front tires {front_diameter}, the rear ones {rear_diameter}: "
    "within {greatest_spare_difference} of one another's size.",
    cure="Carry a spare the size of the tires. With a different size drive slowly, not far, in two-wheel drive and "
    "with any locker off: it strains them, and the truck pulls to one side when you brake.",
    ground=COMMON_PRACTICE,
    reads={"front_diameter": "front_overall_diameter", "rear_diameter": "rear_overall_diameter"},
    holds={
        "spare_diameter": "36.1 in",
        "front_diameter": "36.8 in",
        "rear_diameter": "36.8 in",
        "greatest_spare_difference": "2 %",
    },
    fails={
        "spare_diameter": "36.0 in",
        "front_diameter": "36.8 in",
        "rear_diameter": "36.8 in",
        "greatest_spare_difference": "2 %",
    },
    only_with=("spare_diameter",),
    beyond="over by",
)
def spare_differs_in_size(
    spare_diameter: Length, front_diameter: Length, rear_diameter: Length, greatest_spare_difference: Share
) -> Change:
    """Margin as a ratio at the corner that it suits least."""
    front, rear = magnitude(spare_diameter / front_diameter - 1), magnitude(spare_diameter / rear_diameter - 1)
    return greatest_spare_difference - greatest(front, rear)


@rule(
    severity="caution",
    danger="wheel off",
    notices="the spare does not bolt on at every corner",
    says="The spare's bolt circle is {spare_stud_circle}; the front hubs' is {front_circle}, the rear hubs' "
    "{rear_circle}. They may differ by {stud_circle_allowance}.",
    clear_says="The spare's bolt circle is {spare_stud_circle}, and the front hubs' {front_circle} and the rear hubs' "
    "{rear_circle} are within {stud_circle_allowance} of it.",
    cure="Never pull a wheel down over studs it doesn't fit: they bend, and the wheel comes off. Carry a spare wheel "
    "for each bolt circle, or have a wheel maker drill one. Compare stud count, bore, seats and threads too.",
    ground=COMMON_PRACTICE,
    reads={"front_circle": "front_stud_circle", "rear_circle": "rear_stud_circle"},
    holds={
        "spare_stud_circle": "8 3/4 in",
        "front_circle": "8 3/4 in",
        "rear_circle": "221.8 mm",
        "stud_circle_allowance": "0.5 mm",
    },
    fails={
        "spare_stud_circle": "8 3/4 in",
        "front_circle": "8 3/4 in",
        "rear_circle": "221.7 mm",
        "stud_circle_allowance": "0.5 mm",
    },
    only_with=("spare_stud_circle",),
    beyond="over by",
)
def spare_misses_studs(
    spare_stud_circle: Length, front_circle: Length, rear_circle: Length, stud_circle_allowance: Distance
) -> Position:
    """Margin in m, on the diameter, at the axle that it suits least."""
    front, rear = magnitude(spare_stud_circle - front_circle), magnitude(spare_stud_circle - rear_circle)
    return stud_circle_allowance - greatest(front, rear)


@rule(
    severity="caution",
    danger="breakage",
    notices="the tire is large for the fender opening",
    says="The tire grows to {overall_diameter} in service; straight up on the bump stop the opening has room for "
    "{tire_for_clearance}.",
    clear_says="The tire grows to {overall_diameter} in service; straight up on the bump stop the opening has room "
    "for {tire_for_clearance}, which is no less.",
    cure="This is just a first look: the sweep through steer and travel decides. A smaller tire, longer bump stops, a "
    "lift, or an opening cut back by somebody who knows where the body carries load. Then mock it up through all its "
    "travel.",
    ground=GEOMETRY,
    holds={"overall_diameter": "37.99 in", "tire_for_clearance": "38 in"},
    fails={"overall_diameter": "38.01 in", "tire_for_clearance": "38 in"},
    beyond="over by",
    reads={"overall_diameter": "grown_diameter"},
)
def tire_large_for_opening(overall_diameter: Length, tire_for_clearance: Length) -> Position:
    """Margin in m on the diameter."""
    return tire_for_clearance - overall_diameter


@contradiction(
    "fit",
    "the tightest point of the fender opening",
    says="The tightest point of the opening is entered at {axle_to_fender} from the axle center, but the edge is "
    "only {tightest_overhead} away, straight up or halfway to it.",
    clear_says="The tightest point of the opening is entered at {axle_to_fender} from the axle center; straight up "
    "and halfway to it the edge is {tightest_overhead} away, and the two go together.",
    cure="Don't pick a tire by them until they agree: sit the truck at ride height, measure again from the axle "
    "center to the edge, and correct the entry that's wrong.",
    ground=GEOMETRY,
    holds={"axle_to_fender": "24 in", "tightest_overhead": "24.01 in"},
    fails={"axle_to_fender": "24 in", "tightest_overhead": "23.99 in"},
    bars=("axle_to_fender",),
    danger="breakage",
)
def tightest_point_contradicted(axle_to_fender: Length, tightest_overhead: Length) -> Position:
    """Margin in m: how much further off the nearest of the measured points is."""
    return tightest_overhead - axle_to_fender
