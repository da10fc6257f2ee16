"""What the wheels and rims themselves mean for the build: rims that come apart, ratings, and mass."""

from typing import Annotated

from planner.quantities.kinds import POSITION, Change, Count, Force, Length, Mass, Position, Ratio, Text, Weight
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


@rule(
    severity="caution",
    notices="the rims found come apart in pieces, or nobody has said that they do not",
    says="{pieces}",
    clear_says="The rims found are in one piece.",
    cure="Before any nut is loosened or bead broken: chock the truck, take out the valve core and let all air out "
    "of the tire, both of a dual pair, run a wire through the valve stem to see that it is open, and stand clear of "
    "the rim's line. Find out which nuts hold the wheel to the hub and which clamp the rim halves: never loosen the "
    "clamping nuts with air in the tire. Have the rims taken apart and put together by a shop trained and "
    "equipped for multi-piece rims, inflated only in a restraining cage with a clip-on chuck and a long hose. Never "
    "mix parts, never weld, hammer or heat a rim; scrap cracked, bent or rusted pieces. 29 CFR 1910.177 binds "
    "employers and is the sound way for everybody.",
    ground=RIM_SERVICING.recalled("(d) and (f)"),
    holds={"found_rim_pieces": "one"},
    fails={"found_rim_pieces": "multi"},
)
def multi_piece_rims(found_rim_pieces: Text | None = None) -> Finding:
    """Whether the rims found are known to be in one piece: not knowing is no safer than knowing the worst."""
    if found_rim_pieces is None:
        return Finding(
            False,
            {
                "pieces": "Nobody has said whether the rims found come apart: treat them as multi-piece until somebody "
                f"qualified has looked, then enter it (fitments.found.wheel.pieces). {_DEADLY}"
            },
        )
    return Finding(found_rim_pieces != "multi", {"pieces": f"The rims found come apart. {_DEADLY}"})


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
    clear_says="With a backspace of {backspace} on {overall_width} over the flanges the face lies within the rim, or "
    "the wheel is of a kind made to run in pairs.",
    beyond="outside by",
    bounds="the rim's own width",
)
def face_outside_rim(
    backspace: Position, overall_width: Length, front_tires: Count | None = None, rear_tires: Count | None = None
) -> Annotated[Finding, POSITION]:
    """Margin in m to the nearer edge of the rim; holds outright on a truck that has pairs, whose wheels are made so."""
    if max(front_tires or 0, rear_tires or 0) > 2:
        return Finding(True)
    return Finding(least(backspace, overall_width - backspace))


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
