"""What the wheels and rims themselves mean for the build: rims that come apart, ratings, and mass."""

from typing import Annotated

from planner.quantities.kinds import (
    CHANGE,
    POSITION,
    Count,
    Length,
    Mass,
    Position,
    Pressure,
    PressureChange,
    Ratio,
    Text,
    Weight,
    WeightChange,
)
from planner.sources.citing import COMMON_PRACTICE, practice
from planner.sources.us_federal import RIM_SERVICING, TIRE_SELECTION
from planner.worksheet.declare import Finding, limit, rule
from planner.worksheet.turning import least

most_mass_growth = limit(
    Ratio,
    "1.15",
    means="how many times the old wheel and tire the planned ones may weigh",
    ground=practice("springs, shocks, bearings and brakes were chosen for the old weight"),
)


_DEADLY = "Only tire pressure holds a multi-piece rim together, and it can fly apart and kill."


_SERVICE = (
    "Have a shop trained and equipped for multi-piece rims take them apart and put them together, and inflate them "
    "only in a cage with a clip-on chuck and a long hose. Never mix parts, never weld, hammer or heat a rim; scrap "
    "cracked, bent or rusted pieces. 29 CFR 1910.177 is the law for employers and the right way for everybody."
)


@rule(
    severity="caution",
    danger="blows apart",
    notices="multi-piece rims, or nobody has said what they are",
    says="{pieces}",
    clear_says="{sound}",
    cure="Stand out of the rim's line of fire. Before you loosen a nut or break a bead: chock the truck, take out the "
    "valve core and let all the air out, both tires of a dual pair, and run a wire through the valve stem to see that "
    "it's open. Find out which nuts hold the wheel to the hub and which clamp the rim halves: never loosen the "
    "clamping nuts with air in the tire. " + _SERVICE,
    ground=RIM_SERVICING.recalled("(d) and (f)"),
    holds={"found_rim_pieces": "one", "found_spare_designation": "7.50-16", "found_spare_pieces": "one"},
    fails={"found_rim_pieces": "one", "found_spare_designation": "7.50-16", "found_spare_pieces": "multi"},
)
def multi_piece_rims(
    found_rim_pieces: Text | None = None,
    found_spare_pieces: Text | None = None,
    found_spare_designation: Text | None = None,
) -> Finding | None:
    """Whether the rims found are known to be in one piece: not knowing is no safer than knowing the worst.

    The spare found is one of them; of one that stands beside rims in one piece it is asked.
    """
    spare = found_spare_pieces is not None or found_spare_designation is not None
    if found_rim_pieces is None:
        return _pieces(
            "Nobody has said whether the rims found come apart: treat them as multi-piece until somebody "
            f"qualified has looked, then enter it (found wheel pieces). {_DEADLY}"
        )
    if found_rim_pieces == "multi":
        too = ", the spare's too" if found_spare_pieces == "multi" else ""
        unsaid = " Nobody has said about the spare: treat it as one." if spare and found_spare_pieces is None else ""
        return _pieces(f"The rims found come apart{too}. {_DEADLY}{unsaid}")
    if found_spare_pieces == "multi":
        return _pieces(f"The rim of the spare found comes apart. {_DEADLY}")
    if spare and found_spare_pieces is None:
        return None
    too = ", the spare's too" if spare else ""
    return Finding(True, {"pieces": "", "sound": f"The rims found are in one piece{too}."})


@rule(
    severity="caution",
    danger="blows apart",
    notices="the rims planned come apart in pieces, or their spare's does",
    says="{pieces}",
    clear_says="{sound}",
    cure=f"Choose one-piece rims if axle and tire allow it. {_SERVICE} That goes for old rims and new, at every tire "
    "change, flat and slow leak, as long as you run them. Never add air on the truck to a tire that ran low: have it "
    "taken off and looked at inside first.",
    ground=RIM_SERVICING.recalled("(d) to (f)"),
    holds={"rim_pieces": "one", "spare_designation": "7.50-16", "spare_pieces": "one"},
    fails={"rim_pieces": "one", "spare_designation": "7.50-16", "spare_pieces": "multi"},
)
def planned_multi_piece_rims(
    rim_pieces: Text, spare_pieces: Text | None = None, spare_designation: Text | None = None
) -> Finding | None:
    """Whether every rim that will be on the truck is in one piece, the spare's with them."""
    spare = spare_pieces is not None or spare_designation is not None
    which = {
        (True, True): "The rims planned come apart, the spare's too.",
        (True, False): "The rims planned come apart.",
        (False, True): "The rim of the spare comes apart.",
    }
    told = which.get((rim_pieces == "multi", spare_pieces == "multi"))
    if told is not None:
        return _pieces(f"{told} {_DEADLY}")
    if spare and spare_pieces is None:
        return None
    too = ", the spare's too" if spare else ""
    return Finding(True, {"pieces": "", "sound": f"The rims are in one piece{too}."})


def _pieces(told: str) -> Finding:
    return Finding(False, {"pieces": told, "sound": ""})


@rule(
    severity="caution",
    danger="wheel off",
    notices="the mounting face is outside the rim",
    says="The backspace is {backspace} on a rim {overall_width} wide over its flanges: that puts the mounting face "
    "outside the rim.",
    cure="Measure backspace and rim width again: only wheels made to run as duals are dished that deep. If it is one, "
    "see what's between hub and rim, and get it in writing from its maker that it may run single.",
    ground=practice("on a single wheel the disc sits between the rim's edges"),
    holds={"backspace": "9.99 in", "overall_width": "10 in"},
    fails={"backspace": "10.01 in", "overall_width": "10 in"},
    clear_says="{sound}.",
    beyond="outside by",
    bounds="the rim's own width",
)
def face_outside_rim(
    backspace: Position,
    overall_width: Length,
    front_tires: Count | None = None,
    rear_tires: Count | None = None,
    front_offset_face: Text | None = None,
    rear_offset_face: Text | None = None,
    rear_pair_held_by: Text | None = None,
) -> Annotated[Finding | None, POSITION]:
    """Margin in m to the nearer edge of the rim; on a truck with pairs, whose wheels are dished past the rim, to the
    inboard one alone. No answer past the other while something is said of a pair and nothing of how many tires."""
    if max(front_tires or 0, rear_tires or 0) > 2:
        return Finding(backspace, {"sound": "The truck runs duals, and their wheels are dished past the rim"})
    front_open = front_tires is None and front_offset_face is not None
    rear_open = rear_tires is None and (rear_offset_face is not None or rear_pair_held_by is not None)
    if (front_open or rear_open) and backspace > overall_width:
        return None
    return Finding(
        least(backspace, overall_width - backspace), {"sound": "The mounting face is between the rim's two edges"}
    )


@rule(
    severity="stop",
    danger="wheel off",
    notices="the wheel is rated for less than it carries",
    says="The wheel is rated for {wheel_load_rating}; {tires} of them carry {heaviest_load}, the heaviest load on this "
    "axle, weighed or entered.",
    clear_says="The wheel is rated for {wheel_load_rating}, and {tires} of them for no less than {heaviest_load}, the "
    "heaviest load on this axle, weighed or entered.",
    cure="Don't drive on it: an overloaded wheel cracks at its disc and comes apart. Get wheels rated for their share "
    "of this axle[, at least {to_clear} more each], better with some to spare for load that shifts. If a wheel has no "
    "rating, get one from its maker in writing.",
    ground=TIRE_SELECTION.recalled("S5: rims for the axle's load"),
    holds={"wheel_load_rating": "1,750 lb", "heaviest_load": "3,500 lb", "tires": "2"},
    fails={"wheel_load_rating": "1,749 lb", "heaviest_load": "3,500 lb", "tires": "2"},
    as_found=True,
)
def rated_below_load(wheel_load_rating: Weight, heaviest_load: Weight, tires: Count) -> WeightChange:
    """Margin in N for each wheel."""
    return wheel_load_rating - heaviest_load / tires


@rule(
    severity="stop",
    danger="wheel off",
    notices="the wheel is rated for less than its share of the axle's rating",
    says="The wheel is rated for {wheel_load_rating}; {tires} of them don't add up to the axle's rating of "
    "{axle_rating}.",
    clear_says="The wheel is rated for {wheel_load_rating}; {tires} of them add up to no less than the axle's rating "
    "of {axle_rating}.",
    cure="Don't load the axle to its rating on them: an overloaded wheel cracks at its disc and comes apart. Get "
    "wheels that together carry the axle's whole rating[, each at least {to_clear} more]. If the truck has been "
    "rerated, by whoever your code allows, enter that rating and mark it on the truck.",
    ground=TIRE_SELECTION.recalled("S5: rims for the axle's rating"),
    holds={"wheel_load_rating": "1,750 lb", "axle_rating": "3,500 lb", "tires": "2"},
    fails={"wheel_load_rating": "1,749 lb", "axle_rating": "3,500 lb", "tires": "2"},
    as_found=True,
    follows=("rated_below_load",),
)
def rated_below_axle(wheel_load_rating: Weight, axle_rating: Weight, tires: Count) -> WeightChange:
    """Margin in N for each wheel."""
    return wheel_load_rating - axle_rating / tires


@rule(
    severity="stop",
    danger="burst",
    notices="the tire needs more pressure than the wheel takes",
    says="The wheel takes no more than {greatest_pressure}, the tire may have {rated_pressure}[. Fully loaded the "
    "tire needs {laden_pressure}][. For its share of the axle's rating the tire needs {rating_pressure}].",
    clear_says="The wheel takes {greatest_pressure}, the tire may have {rated_pressure}[. Fully loaded the tire needs "
    "{laden_pressure}][. For its share of the axle's rating the tire needs {rating_pressure}].",
    cure="Never air it up past what the wheel takes: the rim splits or throws the tire, and kills whoever is standing "
    "there. Get wheels rated for that pressure[, at least {to_clear} more], or a tire that carries the load on less. "
    "If only the fully loaded pressure is over, enter a lighter load and stick to it.",
    ground=practice("a rim is rated for a load and a pressure, and both bind"),
    holds={
        "greatest_pressure": "50 psi",
        "rated_pressure": "80 psi",
        "laden_pressure": "48 psi",
        "rating_pressure": "50 psi",
    },
    fails={
        "greatest_pressure": "50 psi",
        "rated_pressure": "80 psi",
        "laden_pressure": "48 psi",
        "rating_pressure": "50.1 psi",
    },
    beyond="over by",
    as_found=True,
)
def pressure_past_wheels(
    greatest_pressure: Pressure,
    rated_pressure: Pressure,
    laden_pressure: Pressure | None = None,
    rating_pressure: Pressure | None = None,
) -> PressureChange | None:
    """Margin in Pa. A wheel that takes what stands on the tire takes all that it may have. One that takes less is held
    to both pressures that are needed; while one of them is not known nothing is said but that the other is over.
    """
    rooms = [greatest_pressure - one for one in (laden_pressure, rating_pressure) if one is not None]
    room = least(*rooms) if len(rooms) > 1 else rooms[0] if rooms else None
    if room is not None and (len(rooms) > 1 or room < 0):
        return room
    beyond_tire = greatest_pressure - rated_pressure
    return beyond_tire if beyond_tire >= 0 else None


@rule(
    severity="caution",
    danger="burst",
    notices="the tire's sidewall allows more pressure than the wheel takes",
    says="The tire may have {rated_pressure}, and needs that to carry its full load; the wheel takes "
    "{greatest_pressure}.",
    clear_says="The wheel takes {greatest_pressure}, no less than the {rated_pressure} that the tire may have.",
    cure="People air up to what the sidewall says, and the rim splits or throws the tire: mark the wheel's pressure "
    "beside each valve and on the card on the dash. Better yet, get wheels rated for the tire's pressure.",
    ground=practice("a rim is rated for a load and a pressure, and both bind"),
    holds={"rated_pressure": "50 psi", "greatest_pressure": "50 psi"},
    fails={"rated_pressure": "50.1 psi", "greatest_pressure": "50 psi"},
    beyond="over by",
    only_with=("greatest_pressure",),
)
def sidewall_pressure_past_wheels(rated_pressure: Pressure, greatest_pressure: Pressure) -> PressureChange:
    """Margin in Pa."""
    return greatest_pressure - rated_pressure


@rule(
    severity="caution",
    danger="breakage",
    notices="wheel and tire have grown heavier",
    says="Each wheel with its tire goes from {found_turning_mass} to {planned_turning_mass}{together}; the limit is "
    "{most_mass_growth} times the old weight. All of it is unsprung, and all of it spins.",
    clear_says="Each wheel with its tire goes from {found_turning_mass} to {planned_turning_mass}{together}, no more "
    "than {most_mass_growth} times the old weight.",
    cure="Choose a lighter wheel or tire, or plan for it: shocks, bump stops, wheel bearings, steering parts and "
    "brakes work harder, and two people or a dolly lift each corner.",
    ground=COMMON_PRACTICE,
    holds={"found_turning_mass": "110 lb", "planned_turning_mass": "126.4 lb", "most_mass_growth": "1.15"},
    fails={"found_turning_mass": "110 lb", "planned_turning_mass": "126.6 lb", "most_mass_growth": "1.15"},
    beyond="over by",
)
def unsprung_mass_grown(
    found_turning_mass: Mass,
    planned_turning_mass: Mass,
    most_mass_growth: Ratio,
    found_tires: Count | None = None,
    planned_tires: Count | None = None,
) -> Annotated[Finding, CHANGE]:
    """Margin as a part of the mass found; of as many wheels as stand on the axle, where that changes."""
    if found_tires == planned_tires or found_tires is None or planned_tires is None:
        return Finding(most_mass_growth - planned_turning_mass / found_turning_mass, {"together": ""})
    grown = planned_tires * planned_turning_mass / (found_tires * found_turning_mass)
    return Finding(most_mass_growth - grown, {"together": f", {planned_tires} of them for {found_tires}"})
