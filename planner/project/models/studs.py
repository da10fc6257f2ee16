"""Where a wheel sits on its axle: the studs and their circle, the nuts, and the hub."""

from typing import Literal

from planner.project.models.entry import (
    ACount,
    ALength,
    AnAngle,
    APressure,
    AText,
    ATorque,
    AYesNo,
    SomePoints,
    Table,
    fact,
)
from planner.project.models.tools import CALIPER, CALIPER_TWICE, RULE, TAPE_CLOSE


class Studs(Table):
    """The bolt circle, measured whichever way you like, and the studs themselves."""

    count: ACount = fact("how many studs", name="stud_count", example="6")
    circle: ALength = fact(
        "bolt circle diameter, if a drawing or plate gives it", name="stated_stud_circle", example="8 3/4 in"
    )
    adjacent_spacing: ALength = fact(
        "center to center of two studs next to each other", example="4.375 in ± 0.005 in", usual=CALIPER_TWICE
    )
    skip_spacing: ALength = fact(
        "center to center of two studs farther apart", example="7.578 in ± 0.010 in", usual=CALIPER_TWICE
    )
    skip: ACount = fact("how many spaces are between those two studs", example="2")
    outer_edge_spacing: ALength = fact(
        "over the outsides of two studs", example="8.203 in ± 0.010 in", usual=CALIPER_TWICE
    )
    outer_edge_skip: ACount = fact("how many spaces are between those two studs", example="2")
    points: SomePoints = fact(
        "centers of the studs in any square frame",
        name="stud_points",
        example='[["0 in", "4.375 in"], ["3.789 in", "2.188 in"], ["3.789 in", "-2.188 in"]]',
        usual=CALIPER,
    )
    diameter: ALength = fact("outside diameter of the thread", name="stud_diameter", example="5/8 in")
    threads_per_inch: ACount = fact("threads per inch, for inch threads", example="18")
    pitch: ALength = fact("pitch, for metric threads", example="1.5 mm")
    length: ALength = fact(
        "how far the stud sticks out of the mounting face",
        name="stud_length",
        example="1 7/8 in ± 1/16 in",
        usual=TAPE_CLOSE,
    )
    torque: ATorque = fact("lug nut torque you'll use, dry and clean", name="nut_torque", example="150 ft·lb")
    right_thread: AText = fact(
        "thread of the studs on the truck's right side, if it's different from the left",
        name="right_stud_thread",
        example="M14 x 1.5",
        since=2,
    )
    proof_stress: APressure = fact("proof strength by the stud's marking, if marked", example="85,000 psi")


class Nuts(Table):
    """The lug nuts you have, or the ones you'll buy."""

    thread: AText = fact(
        "thread of the nuts as marked or gauged",
        name="nut_thread",
        example="5/8-18",
        how="Size and threads per inch, or M with diameter and pitch; LH after it if it's left-hand. For duals with "
        "inner nuts, the inner nut's thread on the stud",
        since=2,
    )
    seat: Literal["cone", "ball", "flat"] | None = fact(
        "seat shape of your nuts", name="nut_seat", example="cone", since=2
    )
    seat_angle: AnAngle = fact("included angle of a cone seat", name="nut_seat_angle", example="60 deg", since=2)
    ball_radius: ALength = fact("radius of a ball seat", name="nut_ball_radius", example="14 mm", since=2)
    closed: AYesNo = fact("if the nut is closed at its outer end", name="nut_closed", example="no", since=2)
    depth: ALength = fact(
        "thread length in the nut; in a closed one, down to the bottom",
        name="nut_depth",
        example="1 3/16 in",
        how="In a closed one, turn a stud in by hand until it bottoms, and measure how much of it is inside",
        since=2,
        usual=RULE,
    )
    engaged_length: ALength = fact(
        "thread engagement with the nut tight, from counting turns",
        name="counted_thread",
        example="7/8 in",
        how="With the wheel that's on now: count the turns from first catch to tight, times the pitch",
        since=2,
        usual=RULE,
    )
    hand_left: Literal["left", "right"] | None = fact(
        "thread hand on the truck's left side", name="thread_hand_left", example="right", since=2
    )
    hand_right: Literal["left", "right"] | None = fact(
        "thread hand on the truck's right side", name="thread_hand_right", example="right", since=2
    )


class Hub(Table):
    """Where the wheel sits on the axle."""

    pilot: ALength = fact("diameter of the hub's pilot", name="hub_pilot", example="5 3/4 in ± 0.005 in", usual=CALIPER)
    centring: Literal["hub", "studs"] | None = fact("what centers the wheel", example="studs")
