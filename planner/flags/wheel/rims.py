"""What the wheels and rims themselves mean for the build: rims that come apart, ratings, and mass."""

from planner.quantities.kinds import Change, Count, Force, Length, Mass, Position, Ratio, Text, Weight
from planner.sources.citing import COMMON_PRACTICE, practice
from planner.sources.us_federal import RIM_SERVICING, TIRE_SELECTION
from planner.worksheet.declare import Finding, limit, rule
from planner.worksheet.turning import least

most_mass_growth = limit(
    Ratio,
    "1.15",
    means="how many times the found wheel and tire the planned ones may weigh",
    ground=practice("springs, shocks, bearings and brakes were chosen for the mass found"),
)


_DEADLY = "Multi-piece rims are held together by the tire's pressure alone and can fly apart with deadly force."


_SERVICE = (
    "Have the rims taken apart and put together by a shop trained and equipped for multi-piece rims, inflated only in "
    "a restraining cage with a clip-on chuck and a long hose. Never mix parts, never weld, hammer or heat a rim; scrap "
    "cracked, bent or rusted pieces. 29 CFR 1910.177 binds employers and is the sound way for everybody."
)


@rule(
    severity="caution",
    notices="the rims found come apart in pieces, or nobody has said that they do not",
    says="{pieces}",
    clear_says="{sound}",
    cure="Before any nut is loosened or bead broken: chock the truck, take out the valve core and let all air out "
    "of the tire, both of a dual pair, run a wire through the valve stem to see that it is open, and stand clear of "
    "the rim's line. Find out which nuts hold the wheel to the hub and which clamp the rim halves: never loosen the "
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
            f"qualified has looked, then enter it (fitments.found.wheel.pieces). {_DEADLY}"
        )
    if found_rim_pieces == "multi":
        too = ", the spare's too" if found_spare_pieces == "multi" else ""
        unsaid = " Nobody has said it of the spare: take it for one." if spare and found_spare_pieces is None else ""
        return _pieces(f"The rims found come apart{too}. {_DEADLY}{unsaid}")
    if found_spare_pieces == "multi":
        return _pieces(f"The rim of the spare that was found comes apart. {_DEADLY}")
    if spare and found_spare_pieces is None:
        return None
    too = ", the spare's too" if spare else ""
    return Finding(True, {"pieces": "", "sound": f"The rims found are in one piece{too}."})


@rule(
    severity="caution",
    notices="the rims planned come apart in pieces, or their spare's does",
    says="{pieces}",
    clear_says="{sound}",
    cure="Choose rims in one piece where the axle and the tire allow it. If it is to be these, kept or new: every tire "
    "change, flat and slow leak on the road is the work of such a shop, and nobody adds air beside the truck to a tire "
    "that ran low: it is taken off and looked into first. " + _SERVICE,
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
    notices="the mounting face lies outside the rim",
    says="The backspace is {backspace} on a rim that is {overall_width} wide over its flanges: the mounting face lies "
    "outside of it.",
    cure="Measure backspace and rim width again: only wheels made to run in pairs are dished so deep. If it is one, "
    "see what stands between hub and rim, and have its maker say in writing that it may run alone.",
    ground=practice("on a single wheel the disc sits between the rim's edges"),
    holds={"backspace": "4 1/2 in", "overall_width": "10 in"},
    fails={"backspace": "11 in", "overall_width": "10 in"},
    beyond="outside by",
    bounds="the rim's own width",
)
def face_outside_rim(backspace: Position, overall_width: Length) -> Position:
    """Margin in m to the nearer edge of the rim."""
    return least(backspace, overall_width - backspace)


@rule(
    severity="stop",
    notices="the wheel is rated for less than it carries",
    says="The wheel is rated for {wheel_load_rating}; {tires} of them carry {axle_load} on this axle.",
    cure="Order wheels rated for this axle's share at the least, better with a margin for load that shifts; "
    "a wheel without a rating needs its maker's word in writing.",
    ground=TIRE_SELECTION.recalled("S5: rims for the axle's load"),
    holds={"wheel_load_rating": "2,000 lb", "axle_load": "3,500 lb", "tires": "2"},
    fails={"wheel_load_rating": "1,600 lb", "axle_load": "3,500 lb", "tires": "2"},
)
def rated_below_load(wheel_load_rating: Weight, axle_load: Weight, tires: Count) -> Force:
    """Margin in N for each wheel."""
    return wheel_load_rating - axle_load / tires


@rule(
    severity="caution",
    notices="the wheel is rated for less than its part of the axle's rating",
    says="The wheel is rated for {wheel_load_rating}; {tires} of them do not make up the axle's rating of "
    "{axle_rating}.",
    cure="Take wheels that carry the axle's whole rating, or decide for a lower one: mark it on the truck, and ask the "
    "authority that registers it whether it must be on paper.",
    ground=TIRE_SELECTION.recalled("S5: rims for the axle's rating"),
    holds={"wheel_load_rating": "2,000 lb", "axle_rating": "3,500 lb", "tires": "2"},
    fails={"wheel_load_rating": "1,600 lb", "axle_rating": "3,500 lb", "tires": "2"},
)
def rated_below_axle(wheel_load_rating: Weight, axle_rating: Weight, tires: Count) -> Force:
    """Margin in N for each wheel."""
    return wheel_load_rating - axle_rating / tires


@rule(
    severity="caution",
    notices="wheel and tire have grown heavier",
    says="Each wheel with its tire goes from {found_turning_mass} to {planned_turning_mass}; up to {most_mass_growth} "
    "times the found mass is let pass. All of it is unsprung, and all of it turns.",
    cure="Choose a lighter wheel or tire, or plan for it: shocks, bump stops, wheel bearings, steering parts and "
    "brakes work harder, and two people or a dolly lift each corner.",
    ground=COMMON_PRACTICE,
    holds={"found_turning_mass": "110 lb", "planned_turning_mass": "115 lb", "most_mass_growth": "1.15"},
    fails={"found_turning_mass": "90 lb", "planned_turning_mass": "125 lb", "most_mass_growth": "1.15"},
    beyond="over by",
)
def unsprung_mass_grown(found_turning_mass: Mass, planned_turning_mass: Mass, most_mass_growth: Ratio) -> Change:
    """Margin as a part of the mass found."""
    return most_mass_growth - planned_turning_mass / found_turning_mass
