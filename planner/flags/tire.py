"""What is wrong with a tire for this wheel, this axle, this speed or its age."""

from typing import Annotated

from planner.quantities.kinds import (
    DURATION,
    POSITION,
    Change,
    Count,
    Duration,
    Length,
    Pressure,
    RimCode,
    Share,
    Speed,
    SpeedChange,
    Text,
    Weight,
    WeightChange,
    YesNo,
)
from planner.sources.citing import COMMON_PRACTICE, practice
from planner.sources.un import R54
from planner.sources.us_federal import AXLE_INTERPRETATION_1977, RIM_SERVICING
from planner.worksheet.declare import Finding, limit, rule
from planner.worksheet.turning import least, where

least_tire_margin = limit(
    Share,
    "1",
    means="least that the axle's tires have to carry together, over the axle's load and over its rating",
    ground=AXLE_INTERPRETATION_1977.read("95 percent is not enough; 49 CFR 571.120"),
)

oldest_tire_age = limit(
    Duration,
    "522 weeks",
    means="oldest that a tire may be by its date code: ten years",
    ground=practice(
        "tire makers commonly say no more than ten years, the spare too; an inspection every year from five on"
    ),
)

_YEAR = 365.25 * 86400.0


@rule(
    severity="stop",
    danger="burst",
    notices="the rim is narrower or wider than the tire maker approves",
    says="A rim {rim_width} wide is {way} for this tire[; the narrowest its maker approves is {narrowest_rim}][; the "
    "widest is {widest_rim}].",
    clear_says="A rim {rim_width} wide is among those that the tire's maker approves, {narrowest_rim} to {widest_rim}.",
    cure="A tire on the wrong rim can come off its bead or fail beside it. Get a rim the tire maker approves, or "
    "another tire.",
    ground=practice("the tire maker's approved rims"),
    holds={"rim_width": "8.51 in", "narrowest_rim": "8 1/2 in", "widest_rim": "11 in"},
    fails={"rim_width": "8.49 in", "narrowest_rim": "8 1/2 in", "widest_rim": "11 in"},
    beyond="outside by",
    only_with=("narrowest_rim", "widest_rim"),
    as_found=True,
)
def rim_outside_tires_range(
    rim_width: Length, narrowest_rim: Length | None = None, widest_rim: Length | None = None
) -> Annotated[Finding | None, POSITION]:
    """Margin in m to the nearer end of the range; of one end alone nothing is said but that the rim is past it."""
    if narrowest_rim is not None and widest_rim is not None:
        return _between(rim_width, narrowest_rim, widest_rim)
    if narrowest_rim is not None and rim_width < narrowest_rim:
        return Finding(rim_width - narrowest_rim, {"way": "too narrow"})
    if widest_rim is not None and rim_width > widest_rim:
        return Finding(widest_rim - rim_width, {"way": "too wide"})
    return None


@rule(
    severity="caution",
    danger="burst",
    notices="the rim is unusually narrow or wide for the tire",
    says="A rim {rim_width} wide is {way}; by a rule of thumb the tire takes {usual_narrowest_rim} to "
    "{usual_widest_rim}, and its maker's own limits aren't both entered.",
    clear_says="{clear}.",
    cure="Don't order anything yet: a tire on the wrong rim can come off its bead or fail beside it. Look up the tire "
    "maker's approved rims for this exact tire and enter them: they decide.",
    ground=practice("a band of the section width, where the maker's approved rims are not entered"),
    holds={"rim_width": "8.14 in", "usual_narrowest_rim": "8 1/8 in", "usual_widest_rim": "11 1/4 in"},
    fails={"rim_width": "8.11 in", "usual_narrowest_rim": "8 1/8 in", "usual_widest_rim": "11 1/4 in"},
    beyond="outside by",
)
def rim_outside_usual_band(
    rim_width: Length,
    usual_narrowest_rim: Length,
    usual_widest_rim: Length,
    narrowest_rim: Length | None = None,
    widest_rim: Length | None = None,
) -> Annotated[Finding, POSITION]:
    """Margin in m to the nearer end of the band; the maker's own range, where it is entered, stands before it."""
    if narrowest_rim is not None and widest_rim is not None:
        return Finding(True, {"clear": "The tire's maker says which rims are approved, and no rule of thumb counts"})
    return _between(rim_width, usual_narrowest_rim, usual_widest_rim)


def _between(width: float, narrowest: float, widest: float) -> Finding:
    above, below = width - narrowest, widest - width
    way = "too narrow" if above < 0 else "too wide" if below < 0 else "within its range"
    clear = (
        "By a rule of thumb the rim's width suits the tire; its maker's own limits decide, and they aren't both entered"
    )
    return Finding(least(above, below), {"way": way, "clear": clear})


@rule(
    severity="stop",
    danger="burst",
    notices="the tires carry less than the load on the axle",
    says="Together the axle's tires carry {tire_margin} of the heaviest load on it, weighed or entered; you "
    "need at least {least_tire_margin}.",
    clear_says="Together the axle's tires carry {tire_margin} of the heaviest load on it, weighed or entered: no "
    "less than the {least_tire_margin} that you need.",
    cure="Don't drive it loaded: an overloaded tire fails hot, at speed. Tires with a higher load index or load "
    "range, on wheels rated for it, or less load on this axle. On a truck a passenger car tire counts for its load "
    "divided by 1.10.",
    ground=AXLE_INTERPRETATION_1977.read("49 CFR 571.120; passenger tires by 571.110 and 571.120"),
    holds={"tire_margin": "1", "least_tire_margin": "1"},
    fails={"tire_margin": "0.999", "least_tire_margin": "1"},
    as_found=True,
)
def carries_less_than_load(tire_margin: Share, least_tire_margin: Share) -> Change:
    """Margin as a ratio of the axle's load."""
    return tire_margin - least_tire_margin


@rule(
    severity="stop",
    danger="burst",
    notices="the tires carry less than the axle is rated for",
    says="Together the axle's tires carry {tire_rating_margin} of its rating; you need at least {least_tire_margin}.",
    clear_says="Together the axle's tires carry {tire_rating_margin} of its rating, no less than the "
    "{least_tire_margin} that you need.",
    cure="Tires with a higher load index or load range, on wheels rated for it. On a truck a passenger car tire "
    "counts for its load divided by 1.10. If the truck has been rerated, by whoever your code allows, enter that "
    "rating.",
    ground=AXLE_INTERPRETATION_1977.read("49 CFR 571.120; passenger tires by 571.110 and 571.120"),
    holds={"tire_rating_margin": "1", "least_tire_margin": "1"},
    fails={"tire_rating_margin": "0.999", "least_tire_margin": "1"},
    as_found=True,
    follows=("carries_less_than_load",),
)
def carries_less_than_rating(tire_rating_margin: Share, least_tire_margin: Share) -> Change:
    """Margin as a ratio of the axle's rating."""
    return tire_rating_margin - least_tire_margin


@rule(
    severity="stop",
    danger="burst",
    notices="the tire isn't made for your top speed",
    says="The tire's speed symbol allows {speed_limit}; you plan to drive {top_speed}.",
    clear_says="The tire's speed symbol allows {speed_limit}, and you plan to drive {top_speed}.",
    cure="A tire with a higher speed symbol, or a lower top speed that you enter and stick to. If a tire has no "
    "symbol, go by what its maker says.",
    ground=R54.recalled("speed category symbols; the same table in UN R30"),
    holds={"speed_limit": "65.1 mph", "top_speed": "65 mph"},
    fails={"speed_limit": "64.9 mph", "top_speed": "65 mph"},
    as_found=True,
)
def slower_than_top_speed(speed_limit: Speed, top_speed: Speed) -> SpeedChange:
    """Margin in m/s."""
    return speed_limit - top_speed


@rule(
    severity="stop",
    danger="control",
    notices="radial tires in front with bias tires behind",
    says="The front tires are {front_construction}, the rear ones {rear_construction}.",
    clear_says="The front tires are {front_construction}, the rear ones {rear_construction}: no bias tires behind "
    "radials.",
    cure="Don't drive it like this: the front holds longer than the rear, and the truck spins in a curve or when you "
    "brake, without warning. Same construction on all four; if you only have two radials, put them on the rear.",
    ground=practice("tire makers and codes forbid it: the rear lets go first"),
    holds={"front_construction": "bias", "rear_construction": "radial"},
    fails={"front_construction": "radial", "rear_construction": "bias"},
    as_found=True,
)
def radials_in_front_of_bias(front_construction: Text, rear_construction: Text) -> bool:
    """Whether the front tires are no radials with bias ones behind."""
    return (front_construction, rear_construction) != ("radial", "bias")


@rule(
    severity="caution",
    danger="control",
    notices="radial tires at one axle and bias tires at the other",
    says="The front tires are {front_construction}, the rear ones {rear_construction}.",
    cure="They react to steering differently, and one end of the truck may break loose without warning. Use the same "
    "construction on all wheels; some codes forbid mixing, and with the radials in front it's a stop.",
    ground=COMMON_PRACTICE,
    holds={"front_construction": "radial", "rear_construction": "radial"},
    fails={"front_construction": "radial", "rear_construction": "bias"},
    clear_says="The tires are {front_construction} all around.",
    follows=("radials_in_front_of_bias",),
    as_found=True,
)
def radial_and_bias_on_one_truck(front_construction: Text, rear_construction: Text) -> bool:
    """Whether both axles have tires of one construction."""
    return front_construction == rear_construction


@rule(
    severity="stop",
    danger="control",
    notices="the spare would put radial and bias tires on one axle",
    says="The spare is {spare_construction} and the axle's tires are {construction}.",
    cure="Never run this spare next to a tire of the other construction, not even to get home. Get one of the same "
    "construction and size.",
    ground=practice("never mix radial and bias tires on an axle"),
    holds={"spare_construction": "radial", "construction": "radial"},
    fails={"spare_construction": "bias", "construction": "radial"},
    only_with=("spare_construction",),
    clear_says="The spare and the axle's tires are both {construction}.",
)
def spare_mixes_radial_and_bias(spare_construction: Text, construction: Text) -> bool:
    """Whether the spare may stand in at this axle; left and right are taken to be alike otherwise."""
    return spare_construction == construction


@rule(
    severity="caution",
    danger="burst",
    notices="the spare carries less than its share of an axle",
    says="The spare, {spare_designation}, carries {spare_rated_load}[, or {spare_dual_rated_load} as one of two side "
    "by side]; fully loaded the axle puts {full_load_per_tire} on each of its {tires} tires.",
    clear_says="The spare, {spare_designation}, carries {spare_rated_load}[, or {spare_dual_rated_load} as one of two "
    "side by side]: no less than the {full_load_per_tire} that the loaded axle puts on each of its {tires} tires.",
    cure="Don't drive the truck loaded on it: an overloaded tire fails hot, at speed. Get a spare with the tires' own "
    "load index or load range[, for at least {to_clear} more]. Until then unload before you put it on, and drive "
    "slowly and not far.",
    ground=practice("a spare stands in for one of the axle's tires"),
    holds={
        "spare_designation": "7.50-16",
        "spare_rated_load": "2,500 lb",
        "full_load_per_tire": "2,500 lb",
        "tires": "2",
    },
    fails={
        "spare_designation": "7.50-16",
        "spare_rated_load": "2,500 lb",
        "spare_dual_rated_load": "2,200 lb",
        "full_load_per_tire": "2,201 lb",
        "tires": "4",
    },
    only_with=("spare_designation",),
)
def spare_carries_less(
    spare_designation: Text,
    spare_rated_load: Weight,
    full_load_per_tire: Weight,
    tires: Count,
    spare_dual_rated_load: Weight | None = None,
) -> WeightChange | None:
    """Margin in N; where two tires stand side by side it counts for what it carries so."""
    rated = spare_rated_load if tires <= 2 else spare_dual_rated_load
    return None if rated is None else rated - full_load_per_tire


@rule(
    severity="caution",
    danger="burst",
    notices="the tire is older than the limit",
    says="By its date code the tire is {age} old; {limit} is the limit.",
    clear_says="By its date code the tire is {age} old, {whose}.",
    cure="Replace it, however good the tread looks: rubber ages from the inside. If you keep it, have a tire shop "
    "take it off the rim and look it over inside and out.",
    ground=practice("tire makers commonly say no more than ten years"),
    holds={"tire_age": "521 weeks", "oldest_tire_age": "522 weeks"},
    fails={"tire_age": "523 weeks", "oldest_tire_age": "522 weeks"},
    only_with=("tire_age",),
    beyond="over by",
)
def too_old(
    tire_age: Duration, oldest_tire_age: Duration, found_tire_age: Duration | None = None
) -> Annotated[Finding, DURATION]:
    """Margin in s; of the very tires that were found the rule for those speaks."""
    words = _ages(tire_age, oldest_tire_age)
    if tire_age == found_tire_age:
        return Finding(True, words | {"whose": "like the tires found; another rule covers those"})
    return Finding(oldest_tire_age - tire_age, words | {"whose": f"within the limit of {words['limit']}"})


@rule(
    severity="caution",
    danger="burst",
    notices="the tires found are older than the limit",
    says="By their date code the tires found are {age} old; {limit} is the limit.",
    clear_says="By their date code the tires found are {age} old, within the limit of {limit}.",
    cure="Don't take them on the road with cracks, bulges or cords showing: haul the truck to the shop. Until they're "
    "off: short trips, low speed, no load, and nobody beside them when you air them up.",
    ground=practice("tire makers commonly say no more than ten years"),
    holds={"found_tire_age": "521 weeks", "oldest_tire_age": "522 weeks"},
    fails={"found_tire_age": "523 weeks", "oldest_tire_age": "522 weeks"},
    beyond="over by",
)
def found_tires_too_old(found_tire_age: Duration, oldest_tire_age: Duration) -> Annotated[Finding, DURATION]:
    """Margin in s."""
    return Finding(oldest_tire_age - found_tire_age, _ages(found_tire_age, oldest_tire_age))


@rule(
    severity="note",
    notices="held at the tire maker's minimum pressure; the load alone would need less",
    says="The load alone would need less than {running_pressure}, the tire maker's minimum pressure; the planner "
    "holds it there.",
    clear_says="The load needs {running_pressure}, above the maker's minimum of {least_pressure}.",
    if_close="Run the maker's minimum pressure or what the load needs, whichever is more; see the maker's load table "
    "for this exact tire.",
    cure="Don't go lower on the road: bead and sidewall need it. It will ride hard, like any tire that's big for its "
    "load. For soft ground ask the tire maker how low you can go, and at what speed.",
    ground=practice("the tire maker's minimum pressure beats an estimate from the load"),
    holds={"running_pressure": "26.1 psi", "least_pressure": "26 psi"},
    fails={"running_pressure": "26 psi", "least_pressure": "26 psi"},
    only_with=("least_pressure",),
)
def pressure_held_at_least(running_pressure: Pressure, least_pressure: Pressure) -> Finding:
    """Whether the load asks for more than the least pressure."""
    return Finding(where(least_pressure - running_pressure, False, True))


@rule(
    severity="stop",
    danger="burst",
    notices="tire, tube and rim don't go together",
    says="{trouble}",
    cure="By the makers' charts, get a rim made for the tire or a tire made for the rim. Some makers allow a tube in "
    "a tubeless tire and say which one; if they don't say so, don't. Have a tire shop with a cage mount it.",
    ground=RIM_SERVICING.recalled("(e): matching by the charts of tire and rim makers"),
    holds={"tire_tube": "tubeless", "rim_tubeless": "yes"},
    fails={"tire_tube": "tubeless", "rim_tubeless": "no"},
    clear_says="{sound}.",
    bars=("tire_tube", "rim_tubeless"),
    as_found=True,
)
def tube_and_rim_mismatched(tire_tube: Text, rim_tubeless: YesNo) -> Finding:
    """Whether no tubeless tire is on a rim for tubes; a tube may go on a tubeless rim, and has a note of its own."""
    tubeless = tire_tube == "tubeless"
    trouble = (
        "This puts a tubeless tire on a rim not made for one: it leaks at rivets and split rings, and nothing holds "
        "its bead on the seat."
    )
    sound = "The tire is tubeless, and so is the rim" if tubeless else "The tire takes a tube, which holds the air"
    return Finding(not tubeless or rim_tubeless, {"trouble": trouble, "sound": sound})


@rule(
    severity="stop",
    danger="blows apart",
    notices="tire and rim are of different diameters",
    says="The tire is made for rim code {tire_code} and the rim has code {rim_code}.",
    cure="Never mount them: a 16 in tire on a 16.5 in rim bursts its bead when you air it up, and that has killed "
    "people. Get a tire and a rim with the same code, read off the rubber and the metal, not off papers.",
    ground=RIM_SERVICING.recalled("(e): size designations of tire and rim must match"),
    holds={"tire_rim_code": "16", "rim_diameter_code": "16"},
    fails={"tire_rim_code": "16", "rim_diameter_code": "16.5"},
    clear_says="Tire and rim both have code {rim_code}.",
    bars=("designation", "rim_diameter_code"),
    as_found=True,
)
def rim_diameters_differ(tire_rim_code: RimCode, rim_diameter_code: RimCode) -> Finding:
    """Whether both carry one diameter code."""
    words = {"tire_code": f"{tire_rim_code:g}", "rim_code": f"{rim_diameter_code:g}"}
    return Finding(abs(tire_rim_code - rim_diameter_code) < 0.01, words)


def _ages(age: float, limit: float) -> dict[str, str]:
    """An age and its limit as people say them.

    >>> _ages(700 * 604800, 522 * 604800)
    {'age': '13.4 years', 'limit': '10 years'}
    """
    return {"age": f"{age / _YEAR:.1f} years", "limit": f"{round(limit / _YEAR, 1):g} years"}
