"""Whether front and rear tires travel alike where four-wheel drive locks both axles together."""

from typing import Annotated

from planner.quantities.kinds import CHANGE, Change, Share, Speed, SpeedChange, YesNo
from planner.sources.citing import COMMON_PRACTICE, practice
from planner.worksheet.declare import Finding, limit, rule
from planner.worksheet.turning import magnitude

greatest_axle_mismatch = limit(
    Share,
    "1 %",
    means="how far front and rear travel may differ with four-wheel drive locked",
    ground=practice("past it the driveline winds up on hard ground and wears tires and gears"),
)

greatest_locked_mismatch = limit(
    Share,
    "3 %",
    means="how far front and rear travel may differ with four-wheel drive locked on a hard road",
    ground=practice("tires with grip can't slip more than that every turn: a joint or the case gives first"),
)

_TELLING = 0.0005  # less than this shows as 0.0 %
_TOGETHER = (
    "Match both ends: same tires, same wear, right pressures, and the same ratio in both axles. With these ratios, "
    "front tires that roll {further} per turn would match the rear. Roll out all four before you order anything."
)


@rule(
    severity="stop",
    danger="control",
    notices="front and rear are too far apart to lock four-wheel drive on a hard road",
    says="The front tires {travel}, and four-wheel drive is locked on hard, dry road: the limit there is "
    "{greatest_locked_mismatch}.[ At {cruise_speed} the two ends are {axle_speed_difference} apart.] Nothing can "
    "slip, so the driveline winds up: the truck goes straight in a turn, won't come out of four-wheel drive, and "
    "breaks a joint, a shaft or the case.",
    clear_says="{clear}.",
    cure="Never lock it on a hard road, and enter that you don't (locked on hard road). " + _TOGETHER,
    ground=COMMON_PRACTICE,
    holds={"axle_mismatch": "-2.99 %", "part_time_four_wheel_drive": "yes", "locked_on_hard_road": "yes"},
    fails={"axle_mismatch": "-3.01 %", "part_time_four_wheel_drive": "yes", "locked_on_hard_road": "yes"},
    beyond="over by",
    as_found=True,
)
def driveline_winds_up(
    axle_mismatch: Change,
    greatest_locked_mismatch: Share,
    part_time_four_wheel_drive: YesNo | None = None,
    locked_on_hard_road: YesNo | None = None,
    cruise_speed: Speed | None = None,
    axle_speed_difference: SpeedChange | None = None,
) -> Annotated[Finding | None, CHANGE]:
    """Margin as a ratio, either way; asks what locks, and when, only where the ends differ by more than that."""
    travel, margin = _travel(axle_mismatch), greatest_locked_mismatch - magnitude(axle_mismatch)
    words = {"travel": travel, "further": _further(axle_mismatch), "clear": "Nothing locks the two axles together"}
    if part_time_four_wheel_drive is False:
        return Finding(True, words)
    if locked_on_hard_road is False:
        return Finding(True, words | {"clear": "Four-wheel drive is never locked on a hard road"})
    if None in (part_time_four_wheel_drive, locked_on_hard_road) and margin < 0:
        return None
    return Finding(margin, words | {"clear": f"The front tires {travel}, within what a driveline gives on a hard road"})


@rule(
    severity="caution",
    danger="control",
    notices="front and rear tires don't travel the same in four-wheel drive",
    says="The front tires {travel}; with the axles locked together the limit is {greatest_axle_mismatch}.[ At "
    "{cruise_speed} the two ends are {axle_speed_difference} apart.] On hard ground the driveline winds up: it jumps, "
    "won't steer, and wears tires and gears.",
    clear_says="{clear}.",
    cure="Use four-wheel drive on loose ground only, and never on pavement. " + _TOGETHER,
    ground=COMMON_PRACTICE,
    holds={"axle_mismatch": "0.99 %", "part_time_four_wheel_drive": "yes", "greatest_axle_mismatch": "1 %"},
    fails={"axle_mismatch": "-1.01 %", "part_time_four_wheel_drive": "yes", "greatest_axle_mismatch": "1 %"},
    beyond="over by",
    follows=("driveline_winds_up",),
    as_found=True,
)
def axles_travel_apart(
    axle_mismatch: Change,
    greatest_axle_mismatch: Share,
    part_time_four_wheel_drive: YesNo | None = None,
    cruise_speed: Speed | None = None,
    axle_speed_difference: SpeedChange | None = None,
) -> Annotated[Finding | None, CHANGE]:
    """Margin as a ratio, either way; holds outright where nothing locks the two axles together.

    Asks whether anything does only where the two ends differ by more than they may.
    """
    travel, margin = _travel(axle_mismatch), greatest_axle_mismatch - magnitude(axle_mismatch)
    words = {"travel": travel, "further": _further(axle_mismatch), "clear": "Nothing locks the two axles together"}
    if part_time_four_wheel_drive is False:
        return Finding(True, words)
    if part_time_four_wheel_drive is None and margin < 0:
        return None
    clear = f"The front tires {travel}, within the limit for axles that are locked together"
    return Finding(margin, words | {"clear": clear})


def _travel(axle_mismatch: float) -> str:
    """How the front tires travel against the rear ones.

    >>> _travel(0.012), _travel(-0.03), _travel(0.0)
    ('run 1.2 % ahead of the rear ones', 'drag 3.0 % behind the rear ones', 'travel with the rear ones')
    """
    amount = f"{abs(axle_mismatch) * 100:.1f} %"
    if abs(axle_mismatch) < _TELLING:
        return "travel with the rear ones"
    return f"run {amount} ahead of the rear ones" if axle_mismatch > 0 else f"drag {amount} behind the rear ones"


def _further(axle_mismatch: float) -> str:
    """How much further the front tires would have to roll in a turn to travel with the rear ones.

    >>> _further(0.25), _further(-0.2)
    ('20.0 % less', '25.0 % further')
    """
    more = 1 / (1 + axle_mismatch) - 1
    return f"{abs(more) * 100:.1f} % {'further' if more > 0 else 'less'}"
