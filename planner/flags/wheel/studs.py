"""Whether studs and nuts hold the wheel: thread engaged, seats, thread hand, torque against clamp."""

from typing import Annotated

from planner.quantities.kinds import (
    ANGLE,
    CHANGE,
    POSITION,
    Angle,
    Change,
    Count,
    Distance,
    Length,
    Position,
    Ratio,
    Share,
    Text,
    Torque,
)
from planner.sources.citing import COMMON_PRACTICE, practice
from planner.sources.standards import INCH_THREADS
from planner.worksheet.declare import Finding, limit, rule
from planner.worksheet.turning import magnitude

least_engagement = limit(
    Ratio,
    "1.0",
    means="least thread engagement of a lug nut, in stud diameters",
    ground=practice("one diameter and more of steel on steel"),
)
most_seat_angle_difference = limit(
    Angle,
    "1 deg",
    means="how far the included angles of nut and seat may differ",
    ground=practice("cones touch over their whole face or not at all"),
)
most_ball_radius_difference = limit(
    Distance,
    "0.5 mm",
    means="how far the radius of a nut's ball seat may differ from the wheel's",
    ground=practice("ball seats come in steps of a millimeter, and one step off is a different seat"),
)
most_proof_share = limit(
    Ratio,
    "1.0",
    means="most clamp as a part of the stud's proof load, friction at its lowest",
    ground=practice("past its proof load a stud stretches for good"),
)
least_proof_share = limit(
    Ratio,
    "0.4",
    means="least clamp as a part of the stud's proof load",
    ground=practice("aim for three quarters; a stud clamped far below that works loose and fatigues"),
)


@rule(
    severity="stop",
    danger="wheel off",
    notices="not enough thread engagement on the lug nuts",
    says="The {stud_diameter} studs go {engaged_length} into their nuts; you need at least {least_engagement} times "
    "the diameter.",
    clear_says="The {stud_diameter} studs go {engaged_length} into their nuts, no less than the {least_engagement} "
    "times the diameter that you need.",
    cure="Don't drive on it: threads strip and the wheel comes off. Longer studs, pressed in by somebody with the "
    "tools for it, a thinner disc at the studs, or nuts that reach into the disc. No spacer on these studs. Count the "
    "turns: the nut has to thread on by its full height.",
    ground=INCH_THREADS.recalled("thread engagement; common practice for the one diameter"),
    holds={"engaged_length": "0.57 in", "stud_diameter": "9/16 in", "least_engagement": "1.0"},
    fails={"engaged_length": "0.555 in", "stud_diameter": "9/16 in", "least_engagement": "1.0"},
    as_found=True,
)
def thread_engagement_short(engaged_length: Position, stud_diameter: Length, least_engagement: Ratio) -> Position:
    """Margin in m of thread."""
    return engaged_length - least_engagement * stud_diameter


@rule(
    severity="stop",
    danger="wheel off",
    notices="the lug nut seats don't match the wheel",
    says="The wheel's seats are {wheel_seat}, your nuts are {nut_seat}.",
    cure="Don't drive on them: a nut that seats on an edge feels tight and comes loose in a few miles. Get nuts made "
    "for this wheel, thread and seat.",
    ground=COMMON_PRACTICE,
    holds={"wheel_seat": "cone", "nut_seat": "cone"},
    fails={"wheel_seat": "ball", "nut_seat": "cone"},
    clear_says="Wheel and nuts both have {nut_seat} seats.",
)
def seat_shape_differs(wheel_seat: Text, nut_seat: Text) -> bool:
    """Whether the shapes are the same."""
    return wheel_seat == nut_seat


@rule(
    severity="stop",
    danger="wheel off",
    notices="cone seats of nut and wheel differ in angle",
    says="The wheel's cone seats are {wheel_seat_angle}, the nuts' {nut_seat_angle}.",
    cure="Don't drive on them: a cone that seats on an edge feels tight and comes loose. Get nuts with the wheel's "
    "angle. Before you put weight on the wheel, put bluing on a seat and check that it touches all around.",
    ground=COMMON_PRACTICE,
    holds={
        "wheel_seat": "cone",
        "nut_seat": "cone",
        "wheel_seat_angle": "60 deg",
        "nut_seat_angle": "59.1 deg",
        "most_seat_angle_difference": "1 deg",
    },
    fails={
        "wheel_seat": "cone",
        "nut_seat": "cone",
        "wheel_seat_angle": "60 deg",
        "nut_seat_angle": "58.9 deg",
        "most_seat_angle_difference": "1 deg",
    },
    beyond="over by",
    clear_says="{sound}.",
)
def seat_angle_differs(
    wheel_seat: Text,
    nut_seat: Text,
    most_seat_angle_difference: Angle,
    wheel_seat_angle: Angle | None = None,
    nut_seat_angle: Angle | None = None,
) -> Annotated[Finding | None, ANGLE]:
    """Margin in rad; holds outright, and asks for no angle, where the seats are not both cones."""
    if wheel_seat != "cone" or nut_seat != "cone":
        return Finding(True, {"sound": "Wheel and nuts aren't both cone seats, so no angle has to match"})
    if wheel_seat_angle is None or nut_seat_angle is None:
        return None
    sound = "The cone seats of wheel and nuts have the same angle, within what cones allow"
    return Finding(most_seat_angle_difference - magnitude(wheel_seat_angle - nut_seat_angle), {"sound": sound})


@rule(
    severity="stop",
    danger="wheel off",
    notices="ball seats of nut and wheel differ in radius",
    says="The wheel's ball seats have a radius of {wheel_ball_radius}, the nuts' {nut_ball_radius}.",
    clear_says="{sound}.",
    cure="Don't drive on them: a ball in the wrong seat touches on a line, works loose and cracks the disc. Get nuts "
    "with the wheel's radius. Use a radius gauge on nut and seat, then put bluing on a seat and check that it touches "
    "all around.",
    ground=COMMON_PRACTICE,
    holds={
        "wheel_seat": "ball",
        "nut_seat": "ball",
        "wheel_ball_radius": "14 mm",
        "nut_ball_radius": "13.55 mm",
        "most_ball_radius_difference": "0.5 mm",
    },
    fails={
        "wheel_seat": "ball",
        "nut_seat": "ball",
        "wheel_ball_radius": "14 mm",
        "nut_ball_radius": "13.45 mm",
        "most_ball_radius_difference": "0.5 mm",
    },
    beyond="over by",
)
def ball_radius_differs(
    wheel_seat: Text,
    nut_seat: Text,
    most_ball_radius_difference: Distance,
    wheel_ball_radius: Length | None = None,
    nut_ball_radius: Length | None = None,
) -> Annotated[Finding | None, POSITION]:
    """Margin in m; holds outright, and asks for no radius, where the seats are not both balls."""
    if wheel_seat != "ball" or nut_seat != "ball":
        return Finding(True, {"sound": "Wheel and nuts aren't both ball seats, so no radius has to match"})
    if wheel_ball_radius is None or nut_ball_radius is None:
        return None
    sound = "The ball seats of wheel and nuts have the same radius, within what balls allow"
    return Finding(most_ball_radius_difference - magnitude(wheel_ball_radius - nut_ball_radius), {"sound": sound})


@rule(
    severity="caution",
    danger="wheel off",
    notices="left-hand threads on one side",
    says="The studs have {thread_hand_left}-hand threads on the left side and {thread_hand_right}-hand ones on the "
    "right: left-hand nuts loosen clockwise.",
    cure="Read the end of the stud (often marked L) before you put a wrench on it: force it the wrong way and it "
    "shears. Order nuts for each side, mark hubs and nuts, never swap hubs side to side, and write it on the wheel "
    "sheet.",
    ground=COMMON_PRACTICE,
    holds={"thread_hand_left": "right", "thread_hand_right": "right"},
    fails={"thread_hand_left": "left", "thread_hand_right": "right"},
    clear_says="All studs have right-hand threads.",
)
def left_hand_threads(thread_hand_left: Text, thread_hand_right: Text) -> bool:
    """Whether all threads are right-hand."""
    return thread_hand_left != "left" and thread_hand_right != "left"


@rule(
    severity="stop",
    danger="wheel off",
    notices="the nut torque may stretch the studs",
    says="A torque of {nut_torque} on dry threads clamps with {clamp_share_of_proof} of the stud's proof load, and "
    "friction is known only to within a quarter; the limit is {most_proof_share} times it.",
    clear_says="A torque of {nut_torque} on dry threads clamps with {clamp_share_of_proof} of the stud's proof load, "
    "no more than {most_proof_share} times it.",
    cure="Use the axle or wheel maker's torque. If there is none, aim for three quarters of proof, threads dry and "
    "clean, with a torque wrench, in a star, and retorque after 50 miles (80 km). Oil on the threads stretches studs.",
    ground=COMMON_PRACTICE,
    holds={"clamp_share_of_proof": "0.999", "most_proof_share": "1.0", "nut_torque": "113 lbf·ft"},
    fails={"clamp_share_of_proof": "1.001", "most_proof_share": "1.0", "nut_torque": "114 lbf·ft"},
    beyond="over by",
)
def studs_past_proof(clamp_share_of_proof: Share, most_proof_share: Ratio, nut_torque: Torque) -> Change:
    """Margin as a part of the proof load."""
    return most_proof_share - clamp_share_of_proof


@rule(
    severity="caution",
    danger="wheel off",
    notices="the lug nut torque is low for these studs",
    says="A torque of {nut_torque} on dry threads clamps with {clamp_share_of_proof} of the stud's proof load{outer}; "
    "it takes at least {least_proof_share} times it to keep a wheel tight.",
    clear_says="A torque of {nut_torque} on dry threads clamps with {clamp_share_of_proof} of the stud's proof "
    "load{outer}, no less than {least_proof_share} times it.",
    cure="Use the axle or wheel maker's torque; check again after 50 and 500 miles (80 and 800 km).",
    ground=COMMON_PRACTICE,
    holds={"clamp_share_of_proof": "0.401", "least_proof_share": "0.4", "nut_torque": "46 lbf·ft"},
    fails={"clamp_share_of_proof": "0.399", "least_proof_share": "0.4", "nut_torque": "45 lbf·ft"},
)
def studs_slack(
    clamp_share_of_proof: Share,
    least_proof_share: Ratio,
    nut_torque: Torque,
    outer_thread_ratio: Ratio,
    tires: Count | None = None,
    pair_held_by: Text | None = None,
) -> Annotated[Finding | None, CHANGE]:
    """Margin as a part of the proof load; a pair's outer nut turns on the inner one, whose thread outside is wider."""
    unsaid = pair_held_by is None if tires == 4 else tires is None and pair_held_by is not None
    if unsaid:  # what holds the pair, or if there is one
        return None
    if tires != 4 or pair_held_by != "inner nuts":
        return Finding(clamp_share_of_proof - least_proof_share, {"outer": ""})
    outer = (
        " on the stud's own thread; the outer nuts turn on the inner ones' wider thread and clamp a third less or so"
    )
    return Finding(clamp_share_of_proof / outer_thread_ratio - least_proof_share, {"outer": outer})
