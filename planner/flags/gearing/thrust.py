"""What the gears and tires put through the axle shafts, and which grade they climb."""

from math import atan, tan
from typing import Annotated

from planner.quantities.kinds import ANGLE, CHANGE, TORQUE_CHANGE, Angle, Share, Text, Torque, YesNo
from planner.sources.citing import COMMON_PRACTICE, practice
from planner.sources.reasoning import ENTERED
from planner.worksheet.declare import Finding, limit, rule
from planner.worksheet.turning import magnitude

greatest_shaft_torque_growth = limit(
    Share,
    "10 %",
    means="how much more torque an axle shaft may see than on the truck as found",
    ground=practice("nobody knows how much life old shafts and joints have left"),
)
most_driveshaft_angle = limit(
    Angle,
    "7 deg",
    means="greatest angle in a driveshaft joint at ride height",
    ground=practice("a single joint runs smoothly to about 3° and short-lived past 7° at road speed; from memory"),
)


@rule(
    severity="caution",
    danger="breakage",
    notices="a driveshaft joint works at a steep angle",
    says="At ride height the worse joint of this driveshaft works at {driveshaft_angle}; the limit is "
    "{most_driveshaft_angle}.",
    clear_says="At ride height the worse joint of this driveshaft works at {driveshaft_angle}, within the limit "
    "of {most_driveshaft_angle}.",
    cure="A joint that breaks at speed throws the shaft at tank, lines and floor. Rotate the axle housing or lower "
    "the transfer case[, for at least {to_clear} less angle], both joints the same, or have a driveline shop make a "
    "shaft with a CV joint, and enter its limit. Check that the slip joint doesn't come apart at full droop or bottom "
    "at full bump.",
    ground=COMMON_PRACTICE,
    holds={"driveshaft_angle": "6.9 deg", "most_driveshaft_angle": "7 deg"},
    fails={"driveshaft_angle": "7.1 deg", "most_driveshaft_angle": "7 deg"},
    only_with=("driveshaft_angle",),
    beyond="over by",
    as_found=True,
)
def shaft_joint_too_steep(driveshaft_angle: Angle, most_driveshaft_angle: Angle) -> Angle:
    """Margin in rad, to either side of straight."""
    return most_driveshaft_angle - magnitude(driveshaft_angle)


@rule(
    severity="caution",
    danger="breakage",
    notices="an axle shaft may see more than its rating",
    says="One shaft may see up to {shaft_torque} in the lowest gear, set by {governs}, the differential {taken}; it is "
    "rated for {axle_shaft_rating}.",
    clear_says="One shaft sees no more than {shaft_torque} in the lowest gear, set by {governs}, the differential "
    "{taken}; it is rated for {axle_shaft_rating}.",
    cure="Stronger shafts and joints, taller low gears, smaller tires, or a driver who knows: no full throttle in the "
    "lowest gear with a wheel stuck, at full steer, or hopping. A broken joint can lock the steering.",
    ground=ENTERED,
    holds={"shaft_torque": "2,799 lbf·ft", "axle_shaft_rating": "2,800 lbf·ft", "shaft_torque_governed_by": "grip"},
    fails={"shaft_torque": "2,801 lbf·ft", "axle_shaft_rating": "2,800 lbf·ft", "shaft_torque_governed_by": "engine"},
    only_with=("axle_shaft_rating",),
    beyond="over by",
    as_found=True,
)
def shaft_torque_past_rating(
    shaft_torque: Torque, axle_shaft_rating: Torque, shaft_torque_governed_by: Text, differential: Text | None = None
) -> Annotated[Finding, TORQUE_CHANGE]:
    """Margin in N·m: what is left to the rating."""
    governs = "the tires' grip" if shaft_torque_governed_by == "grip" else "the engine and its gears"
    return Finding(axle_shaft_rating - shaft_torque, {"governs": governs, "taken": _taken(differential)})


@rule(
    severity="caution",
    danger="breakage",
    notices="the torque in an axle shaft has grown",
    says="One shaft may see up to {shaft_torque}, where it was {found_shaft_torque}, the differential {taken}; the "
    "limit is {greatest_shaft_torque_growth} more.",
    clear_says="One shaft sees no more than {shaft_torque}, where it was {found_shaft_torque}, the differential "
    "{taken}: within the limit of {greatest_shaft_torque_growth} more.",
    cure="Before the tires go on, look for twist and cracks in shafts, splines and joints; think about stronger ones. "
    "Drive as if the old ones were at their limit.",
    ground=COMMON_PRACTICE,
    holds={
        "shaft_torque": "2,199 lbf·ft",
        "found_shaft_torque": "2,000 lbf·ft",
        "greatest_shaft_torque_growth": "10 %",
    },
    fails={
        "shaft_torque": "2,201 lbf·ft",
        "found_shaft_torque": "2,000 lbf·ft",
        "greatest_shaft_torque_growth": "10 %",
    },
    beyond="over by",
    follows=("shaft_torque_past_rating",),
)
def shaft_torque_grown(
    shaft_torque: Torque,
    found_shaft_torque: Torque,
    greatest_shaft_torque_growth: Share,
    differential: Text | None = None,
) -> Annotated[Finding, CHANGE]:
    """Margin as a ratio: how much further it might have grown."""
    return Finding(
        1 + greatest_shaft_torque_growth - shaft_torque / found_shaft_torque, {"taken": _taken(differential)}
    )


def _taken(differential: str | None) -> str:
    """What stands behind a shaft's torque, and whether somebody said so.

    >>> _taken("open"), _taken(None)
    ('open: each shaft gets half', 'taken as a locker, since nobody entered what it is')
    """
    if differential is None:
        return "taken as a locker, since nobody entered what it is"
    return "open: each shaft gets half" if differential == "open" else f"{differential}: one shaft may get all"


@rule(
    severity="caution",
    notices="the truck can't climb the grade you want",
    says="You want a {wanted_grade} grade in low; {governs} runs out at {reached}.",
    clear_says="In low the truck climbs the {wanted_grade} grade you want: {governs} runs out only at {reached}.",
    cure="If thrust runs out first: lower gears, smaller tires or less weight. If grip does, no gear helps. Climbing "
    "a grade doesn't mean the truck can hold, brake or turn on it: have a qualified person road-test it.",
    ground=ENTERED,
    holds={"gradeability": "21.9 deg", "grip_limited_grade": "38 deg", "wanted_grade": "40 %"},
    fails={"gradeability": "21.7 deg", "grip_limited_grade": "38 deg", "wanted_grade": "40 %"},
    only_with=("wanted_grade",),
    as_found=True,
)
def grade_out_of_reach(
    gradeability: Angle,
    grip_limited_grade: Angle,
    wanted_grade: Share,
    front_driven: YesNo | None = None,
    rear_driven: YesNo | None = None,
) -> Annotated[Finding, ANGLE]:
    """Margin in rad: how much steeper it might be before thrust or grip ends, whichever is first."""
    thrust_ends_first = gradeability <= grip_limited_grade
    least = gradeability if thrust_ends_first else grip_limited_grade
    driven = "two wheels" if front_driven is False or rear_driven is False else "all wheels"
    words = {
        "governs": "the thrust" if thrust_ends_first else f"the tires' grip, {driven} driven,",
        "reached": f"{tan(least) * 100:.0f} %",
    }
    return Finding(least - atan(wanted_grade), words)
