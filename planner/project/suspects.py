"""What the tire of a solid front axle on leaf springs most often touches, as blanks to measure, in a new project."""

from typing import NamedTuple


class Suspect(NamedTuple):
    """One usual suspect: what it is, what it moves with, and how a person with a tape finds where it is."""

    name: str
    kind: str
    measure: str
    side: str = "both"
    moves_with: str = "body"


ZERO = (
    "Measure everything from the center of the hub's mounting face, wheel straight ahead, truck level at ride height: "
    "forward, outboard (inboard is minus), up (down is minus)."
)

SUSPECTS = (
    Suspect(
        "spring pack",
        "spring",
        "Hang a plumb line down the outer side of the leaves, beside the rear of the tire. Measure inboard to it from "
        "a straightedge across the hub face, then forward and up to the corner of the leaf.",
    ),
    Suspect(
        "U-bolts",
        "spring",
        "To the outermost thread or nut of the U-bolts. Measure from a straightedge across the hub face, then forward "
        "and up from the center of the hub.",
        moves_with="axle",
    ),
    Suspect(
        "frame rail",
        "frame",
        "Square in from the hub face to the outer side of the rail, at the height of the tire's top and bottom. Give "
        "both ends of the stretch beside the tire (at and to).",
    ),
    Suspect(
        "tie rod end at full lock",
        "steering",
        "To the rod end's grease fitting or nut, whichever is closest to the wheel. It turns with the wheel, so "
        "measure straight ahead.",
        moves_with="knuckle",
    ),
    Suspect(
        "drag link at full lock",
        "steering",
        "Turn to full lock first, then measure to the nearest point of the link as it sits there: forward, inboard "
        "and up from the center of the hub as if the wheel were straight.",
        side="left",
    ),
    Suspect(
        "brake hose",
        "brake",
        "To the hose's outermost bend, wheel straight. Then watch it through lock and bump with the wheel off: it "
        "must not come closer than this point.",
    ),
    Suspect(
        "fender lip, front",
        "sheet metal",
        "To the lowest inner edge of the lip ahead of the axle: forward and up from the center of the hub, outboard "
        "from the hub face.",
    ),
    Suspect(
        "fender lip, rear",
        "sheet metal",
        "The same behind the axle; forward is minus there.",
    ),
    Suspect(
        "inner fender",
        "sheet metal",
        "To the nearest point of the inner panel above and behind the tire. Go by its bolts and flanges: they stick "
        "out.",
    ),
    Suspect(
        "bump stop",
        "frame",
        "To the outer edge of the bump stop or its bracket.",
    ),
    Suspect(
        "shock",
        "other",
        "To the shock's body or lower bolt, wherever it's closest to the tire.",
        moves_with="axle",
    ),
    Suspect(
        "exhaust",
        "exhaust",
        "To the nearest point of the pipe or muffler, engine cold. Rubber needs more room from heat than from steel.",
        side="right",
    ),
)
