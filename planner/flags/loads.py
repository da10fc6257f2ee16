"""Whether axles, the truck and its wheel bearings carry more than they are rated for, as weighed and laden."""

from planner.quantities.kinds import Change, Count, Share, Weight, WeightChange
from planner.sources.citing import practice
from planner.sources.us_federal import AXLE_INTERPRETATION_1977
from planner.worksheet.declare import rule
from planner.worksheet.turning import least

_RATED_ANEW = "No part you bolt on raises a rating: only whoever your code allows can, in writing."


@rule(
    severity="stop",
    danger="wheel off",
    notices="the axle carries more than it is rated for",
    says="The heaviest load on this axle, weighed or entered, is {heaviest_load}; it is rated for {axle_rating}.",
    clear_says="The heaviest load on this axle, weighed or entered, is {heaviest_load}, within its rating of "
    "{axle_rating}.",
    cure="Don't drive it like this: housing, bearings, springs and brakes were made for the rating, and they break at "
    "speed. Take load off[, at least {to_clear}], or move it toward the other axle, and weigh again. " + _RATED_ANEW,
    ground=practice("the axle's rating is its maker's, as the plate says"),
    holds={"heaviest_load": "3,500 lb", "axle_rating": "3,500 lb"},
    fails={"heaviest_load": "3,501 lb", "axle_rating": "3,500 lb"},
    beyond="over by",
    as_found=True,
)
def axle_overloaded(heaviest_load: Weight, axle_rating: Weight) -> WeightChange:
    """Margin in N."""
    return axle_rating - heaviest_load


@rule(
    severity="stop",
    danger="steering or brakes",
    notices="the truck weighs more than it is rated for",
    says="Together the axles carry {front_heaviest_load} in front and {rear_heaviest_load} in back; the truck is "
    "rated for {gross_weight}.",
    clear_says="Fully loaded the axles carry {front_heaviest_load} in front and {rear_heaviest_load} in back, "
    "together within the truck's rating of {gross_weight}.",
    cure="Don't drive it like this: frame, brakes and tires were chosen for the gross weight, and it won't stop or "
    "steer in time. Take load off[, at least {to_clear}], and weigh again. " + _RATED_ANEW,
    ground=practice("it's on the plate or the papers; two axle ratings often add up to more"),
    holds={
        "gross_weight": "7,900 lb",
        "front_heaviest_load": "3,200 lb",
        "rear_heaviest_load": "4,700 lb",
        "front_laden_load": "3,200 lb",
        "rear_laden_load": "4,700 lb",
    },
    fails={
        "gross_weight": "7,900 lb",
        "front_heaviest_load": "3,200 lb",
        "rear_heaviest_load": "4,701 lb",
        "front_laden_load": "3,200 lb",
        "rear_laden_load": "4,701 lb",
    },
    beyond="over by",
    as_found=True,
)
def truck_overloaded(
    gross_weight: Weight,
    front_heaviest_load: Weight,
    rear_heaviest_load: Weight,
    front_laden_load: Weight | None = None,
    rear_laden_load: Weight | None = None,
) -> WeightChange | None:
    """Margin in N; while a laden load is not entered, nothing but how far the truck is over already."""
    room = gross_weight - front_heaviest_load - rear_heaviest_load
    laden = front_laden_load is not None and rear_laden_load is not None
    return room if laden or room < 0 else None


@rule(
    severity="stop",
    danger="wheel off",
    notices="the wheel bearings on a side carry more than they're rated for",
    says="Fully loaded, each side of this axle carries half of {full_load}; its wheel bearings are rated for "
    "{bearing_rating}.",
    clear_says="Fully loaded, each side of this axle carries half of {full_load}, within its wheel bearings' rating "
    "of {bearing_rating}.",
    cure="Don't drive it loaded: an overloaded wheel bearing runs hot, seizes, and takes the wheel off. Put less load "
    "on this axle[, at least twice {to_clear} less], enter it and stick to it, or get bearings and a spindle that the "
    "axle maker rates for it.",
    ground=practice("a bearing's rating is for a load over its middle, and no wheel brings it less"),
    holds={"full_load": "3,500 lb", "bearing_rating": "1,750 lb"},
    fails={"full_load": "3,502 lb", "bearing_rating": "1,750 lb"},
    beyond="over by",
    only_with=("bearing_rating",),
    as_found=True,
)
def bearings_overloaded(full_load: Weight, bearing_rating: Weight) -> WeightChange:
    """Margin in N of one side."""
    return bearing_rating - full_load / 2


@rule(
    severity="caution",
    danger="burst",
    notices="the tires on it now carry less than the load on them",
    says="Together the tires found carry {found_tire_margin} of the heaviest load on their axle, weighed or "
    "entered[, and {found_tire_rating_margin} of its rating]; you need at least {least_tire_margin}.",
    clear_says="Together the tires found carry {found_tire_margin} of the heaviest load on their axle, weighed or "
    "entered[, and {found_tire_rating_margin} of its rating]: no less than the {least_tire_margin} that you need.",
    cure="An overloaded tire fails hot, at speed, however long it has lasted. Until they're off, drive the truck "
    "empty, slowly and not far, or haul it to the shop on a trailer.",
    ground=AXLE_INTERPRETATION_1977.read("49 CFR 571.120; passenger tires by 571.110 and 571.120"),
    holds={"found_tire_margin": "1.2", "found_tire_rating_margin": "1", "least_tire_margin": "1"},
    fails={"found_tire_margin": "1.2", "found_tire_rating_margin": "0.999", "least_tire_margin": "1"},
    only_with=("found_tire_margin",),
    follows=("carries_less_than_load", "carries_less_than_rating"),
)
def found_tires_overloaded(
    found_tire_margin: Share, least_tire_margin: Share, found_tire_rating_margin: Share | None = None
) -> Change | None:
    """Margin as a ratio; while the axle's rating is not entered, nothing but how far they are short of its load."""
    room = found_tire_margin - least_tire_margin
    if found_tire_rating_margin is None:
        return room if room < 0 else None
    return least(room, found_tire_rating_margin - least_tire_margin)


@rule(
    severity="caution",
    danger="wheel off",
    notices="the wheels on it now are rated for less than the load on them",
    says="The wheels found are rated for {found_wheel_load_rating}; {found_tires} of them carry {found_heaviest_load}, "
    "the heaviest load on their axle, weighed or entered.",
    clear_says="The wheels found are rated for {found_wheel_load_rating}, and {found_tires} of them for no less than "
    "{found_heaviest_load}, the heaviest load on their axle, weighed or entered.",
    cure="An overloaded wheel cracks at its disc and comes apart, however long it has lasted. Look for cracks at the "
    "stud holes first. Until they're off, drive the truck empty, slowly and not far, or haul it to the shop on a "
    "trailer.",
    ground=practice("a wheel's rating is its maker's, stamped or on paper"),
    holds={"found_wheel_load_rating": "1,750 lb", "found_heaviest_load": "3,500 lb", "found_tires": "2"},
    fails={"found_wheel_load_rating": "1,749 lb", "found_heaviest_load": "3,500 lb", "found_tires": "2"},
    only_with=("found_wheel_load_rating",),
    follows=("rated_below_load", "rated_below_axle"),
)
def found_wheels_overloaded(
    found_wheel_load_rating: Weight, found_heaviest_load: Weight, found_tires: Count
) -> WeightChange:
    """Margin in N for each wheel."""
    return found_wheel_load_rating - found_heaviest_load / found_tires
