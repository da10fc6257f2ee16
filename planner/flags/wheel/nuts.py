"""Whether the nuts have thread enough for their studs, and closed ones clamp before they bottom."""

from typing import Annotated

from planner.quantities.kinds import POSITION, Distance, Length, Position, Ratio, YesNo
from planner.sources.citing import practice
from planner.sources.reasoning import GEOMETRY
from planner.sources.standards import INCH_THREADS
from planner.worksheet.declare import Finding, limit, rule

least_nut_room = limit(
    Distance,
    "1/16 in",
    means="least room in a closed nut past the end of the stud, with the nut tight",
    ground=practice("a turn of thread: seats bed in and studs pull through a little when you retorque"),
)

_OPEN = {"sound": "The nuts are open, and no stud bottoms in them"}
_ROOM = {"sound": "The closed nuts leave enough room past the end of the studs"}
_BOTTOMED = "they torque up against the end of the stud, the wheel isn't clamped, and it works off."


@rule(
    severity="stop",
    danger="wheel off",
    notices="a closed nut bottoms on its stud before it clamps",
    says="The studs go {engaged_length} into closed nuts {nut_depth} deep; with the nut on its seat you need at least "
    "{least_nut_room} past the end of the stud.",
    clear_says="{sound}.",
    cure=f"Don't run these nuts: {_BOTTOMED} Use open nuts, or closed ones at least {{least_nut_depth}} deep, same "
    "thread and seat. Try each by hand on a bare stud, and count that it goes on farther than it will sit. Don't put "
    "washers under a cone or ball seat.",
    ground=GEOMETRY,
    holds={
        "nut_closed": "yes",
        "nut_depth": "1 in",
        "engaged_length": "23.8 mm",
        "least_nut_depth": "25.388 mm",
    },
    fails={
        "nut_closed": "yes",
        "nut_depth": "1 in",
        "engaged_length": "23.9 mm",
        "least_nut_depth": "25.488 mm",
    },
)
def closed_nut_bottoms(
    nut_closed: YesNo,
    least_nut_room: Distance,
    nut_depth: Length | None = None,
    engaged_length: Position | None = None,
    least_nut_depth: Position | None = None,
) -> Annotated[Finding | None, POSITION]:
    """Margin in m; holds outright where the nuts are open."""
    if not nut_closed:
        return Finding(True, _OPEN)
    return None if nut_depth is None or least_nut_depth is None else Finding(nut_depth - least_nut_depth, _ROOM)


@rule(
    severity="stop",
    danger="wheel off",
    notices="the closed nuts on the truck now bottom on their studs",
    says="On the wheels found the studs go {found_engaged_length} into closed nuts {nut_depth} deep; you need at "
    "least {least_nut_room} past the end of the stud.",
    clear_says="{sound}.",
    cure=f"Don't move the truck on them: {_BOTTOMED} Put open nuts of the same thread and seat on now, in a star, at "
    "their torque, and enter them.",
    ground=GEOMETRY,
    holds={"nut_closed": "yes", "nut_depth": "1 in", "found_engaged_length": "23.8 mm", "least_nut_room": "1/16 in"},
    fails={"nut_closed": "yes", "nut_depth": "1 in", "found_engaged_length": "23.9 mm", "least_nut_room": "1/16 in"},
    only_with=("found_engaged_length",),
    follows=("closed_nut_bottoms",),
)
def found_closed_nut_bottoms(
    nut_closed: YesNo, found_engaged_length: Position, least_nut_room: Distance, nut_depth: Length | None = None
) -> Annotated[Finding | None, POSITION]:
    """Margin in m; holds outright where the nuts are open."""
    if not nut_closed:
        return Finding(True, _OPEN)
    return None if nut_depth is None else Finding(nut_depth - found_engaged_length - least_nut_room, _ROOM)


@rule(
    severity="stop",
    danger="wheel off",
    notices="the nuts are too short",
    says="The nuts have {nut_depth} of thread on a {stud_diameter} stud; you need at least {least_engagement} times "
    "the diameter, however long the stud is.",
    clear_says="The nuts have {nut_depth} of thread on a {stud_diameter} stud, no less than the {least_engagement} "
    "times the diameter that you need.",
    cure="Don't drive on them: thin nuts strip before they reach torque, and the wheel comes off. Use full lug nuts, "
    "not jam nuts: thread at least as long as the stud is thick, right for the wheel's seat and the stud's thread.",
    ground=INCH_THREADS.recalled("thread engagement; common practice for the one diameter"),
    holds={"nut_depth": "9/16 in", "stud_diameter": "9/16 in", "least_engagement": "1.0"},
    fails={"nut_depth": "0.56 in", "stud_diameter": "9/16 in", "least_engagement": "1.0"},
    as_found=True,
)
def nut_thread_short(nut_depth: Length, stud_diameter: Length, least_engagement: Ratio) -> Position:
    """Margin in m of thread."""
    return nut_depth - least_engagement * stud_diameter


@rule(
    severity="stop",
    danger="wheel off",
    notices="going by the turns you counted, not enough thread engagement",
    says="Going by the turns you counted, the nuts hold {counted_thread} of a {stud_diameter} stud; you need at least "
    "{least_engagement} times the diameter.",
    clear_says="Going by the turns you counted, the nuts held {counted_thread}, on the wheel that was on then.",
    cure="Don't drive on it: threads strip and the wheel comes off. Longer studs, pressed in by somebody with the "
    "tools for it, a thinner disc at the studs, or nuts with more thread. Count again with the new wheel on and enter "
    "that: another disc changes it.",
    ground=practice("one diameter and more of steel on steel"),
    holds={"counted_thread": "9/16 in", "stud_diameter": "9/16 in", "least_engagement": "1.0"},
    fails={"counted_thread": "0.56 in", "stud_diameter": "9/16 in", "least_engagement": "1.0"},
    only_with=("counted_thread",),
)
def counted_thread_short(counted_thread: Length, stud_diameter: Length, least_engagement: Ratio) -> Position:
    """Margin in m of thread."""
    return counted_thread - least_engagement * stud_diameter
