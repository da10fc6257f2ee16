"""What the tire of a solid front axle on leaf springs most often touches, as blanks to measure, in a new project."""

from typing import NamedTuple


class Suspect(NamedTuple):
    """One usual suspect: what it is, what it moves with, and how a person with a tape finds where it is."""

    name: str
    side: str
    moves_with: str
    kind: str
    measure: str


ZERO = (
    "All positions are from the middle of the hub's mounting face, the wheel straight ahead and the truck at ride "
    "height, level: forward, outboard (inboard is minus), up (down is minus)."
)

SUSPECTS = (
    Suspect(
        "spring pack",
        "both",
        "body",
        "spring",
        "Hang a plumb line down the outer side of the leaves, beside the rear of the tire; measure inboard to "
        "it from a straight edge across the hub face, then forward and up to the leaf's corner.",
    ),
    Suspect(
        "U-bolts",
        "both",
        "axle",
        "spring",
        "To the outermost thread or nut of the U-bolts; measure from the straight edge across the hub face, "
        "then forward and up from the hub's middle.",
    ),
    Suspect(
        "frame rail",
        "both",
        "body",
        "frame",
        "Square in from the hub face to the rail's outer side, at the height of the tire's top and bottom; "
        "give both ends of the stretch beside the tire (at and to).",
    ),
    Suspect(
        "tie rod end at full lock",
        "both",
        "knuckle",
        "steering",
        "To the rod end's grease fitting or nut, whichever is nearest the wheel; it turns with the wheel, so "
        "measure straight ahead.",
    ),
    Suspect(
        "drag link at full lock",
        "left",
        "body",
        "steering",
        "Turn to full lock first, then measure to the nearest point of the link as it lies there: forward, "
        "inboard and up from the hub's middle as if the wheel were straight.",
    ),
    Suspect(
        "brake hose",
        "both",
        "body",
        "brake",
        "To the hose's outermost bend, wheel straight; then watch it through lock and bump with the wheel "
        "off: it must not come nearer than this point says.",
    ),
    Suspect(
        "fender lip, front",
        "both",
        "body",
        "sheet metal",
        "To the lip's lowest inner edge ahead of the axle: forward and up from the hub's middle, outboard "
        "from the hub face.",
    ),
    Suspect(
        "fender lip, rear",
        "both",
        "body",
        "sheet metal",
        "The same behind the axle; forward is minus there.",
    ),
    Suspect(
        "inner fender",
        "both",
        "body",
        "sheet metal",
        "To the nearest point of the inner panel over and behind the tire; press the tape against the panel's "
        "bolts and flanges, they stand out.",
    ),
    Suspect(
        "bump stop",
        "both",
        "body",
        "frame",
        "To the outer edge of the bump stop or its bracket.",
    ),
    Suspect(
        "shock",
        "both",
        "axle",
        "other",
        "To the shock's body or lower bolt where it comes nearest the tire.",
    ),
    Suspect(
        "exhaust",
        "right",
        "body",
        "exhaust",
        "To the pipe's or muffler's nearest point; cold engine. Rubber wants more room from heat than from steel.",
    ),
)
