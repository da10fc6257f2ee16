"""What the tires do to the gearing: engine speed, the effective ratio, both axles together, shafts, crawling."""

from math import atan, tan
from typing import Annotated

from planner.quantities.kinds import (
    ANGLE,
    CHANGE,
    TORQUE_CHANGE,
    Angle,
    Change,
    Count,
    Ratio,
    Ratios,
    Share,
    Speed,
    SpeedChange,
    Text,
    Torque,
    TurningSpeed,
    TurningSpeedChange,
    YesNo,
)
from planner.sources.citing import COMMON_PRACTICE, practice
from planner.sources.reasoning import ENTERED, KINEMATICS
from planner.worksheet.declare import Finding, limit, rule

greatest_ratio_change = limit(
    Share,
    "5 %",
    means="how far the effective axle ratio may move before the gears should follow",
    ground=practice("about what a driver notices on a grade, and half a step between listed gear sets"),
)

greatest_axle_mismatch = limit(
    Share,
    "1 %",
    means="how far front and rear travel may differ with four-wheel drive locked",
    ground=practice("beyond it the driveline winds up on hard ground and wears tires and gears"),
)

greatest_shaft_torque_growth = limit(
    Share,
    "10 %",
    means="how far the torque in an axle shaft may grow over the found truck",
    ground=practice("old shafts and joints have an unknown share of their life behind them"),
)

greatest_tooth_difference = limit(
    Share,
    "0.5 %",
    means="how far an axle ratio as entered may lie from its tooth counts",
    ground=practice("a ratio is written to two decimals; one tooth is 2 % or more"),
)

_TELLING = 0.0005  # less than this shows as 0.0 %


@rule(
    severity="caution",
    notices="the engine turns too slowly at cruise",
    says="{cruise_engine_speed} at cruise in top gear; you want no less than {lowest_cruise_engine_speed}",
    cure="Lower (numerically higher) axle gears in both axles alike, or smaller tires; or cruise a gear down. "
    "An engine that lugs runs hot and overheats its bearings.",
    ground=ENTERED,
    holds={"cruise_engine_speed": "2,100 rpm", "lowest_cruise_engine_speed": "1,600 rpm"},
    fails={"cruise_engine_speed": "1,500 rpm", "lowest_cruise_engine_speed": "1,600 rpm"},
    only_with=("lowest_cruise_engine_speed",),
)
def engine_slow_at_cruise(
    cruise_engine_speed: TurningSpeed, lowest_cruise_engine_speed: TurningSpeed
) -> TurningSpeedChange:
    """Margin in rad/s: how far the engine turns above the floor."""
    return cruise_engine_speed - lowest_cruise_engine_speed


@rule(
    severity="caution",
    notices="the engine turns too fast at cruise",
    says="{cruise_engine_speed} at cruise in top gear; you want no more than {highest_cruise_engine_speed}",
    cure="Taller (numerically lower) axle gears in both axles alike, an overdrive, or a slower cruise.",
    ground=ENTERED,
    holds={"cruise_engine_speed": "2,400 rpm", "highest_cruise_engine_speed": "2,800 rpm"},
    fails={"cruise_engine_speed": "3,000 rpm", "highest_cruise_engine_speed": "2,800 rpm"},
    only_with=("highest_cruise_engine_speed",),
)
def engine_fast_at_cruise(
    cruise_engine_speed: TurningSpeed, highest_cruise_engine_speed: TurningSpeed
) -> TurningSpeedChange:
    """Margin in rad/s: how far the engine turns below the ceiling."""
    return highest_cruise_engine_speed - cruise_engine_speed


@rule(
    severity="caution",
    notices="the engine would pass its own top speed at the intended top speed",
    says="{top_engine_speed} at your top speed in top gear; the engine may turn {highest_engine_speed} at most",
    cure="Taller axle gears or a lower top speed. Past its limit an old engine can throw a rod or burst a flywheel.",
    ground=ENTERED,
    holds={"top_engine_speed": "3,100 rpm", "highest_engine_speed": "3,600 rpm"},
    fails={"top_engine_speed": "4,000 rpm", "highest_engine_speed": "3,600 rpm"},
)
def engine_past_its_top_speed(top_engine_speed: TurningSpeed, highest_engine_speed: TurningSpeed) -> TurningSpeedChange:
    """Margin in rad/s: how far the engine stays below its limit."""
    return highest_engine_speed - top_engine_speed


@rule(
    severity="caution",
    notices="the effective axle ratio moved",
    says="the gears feel like {effective_axle_ratio} where {found_axle_ratio} was: {moved}; "
    "{greatest_ratio_change} is the limit",
    cure="Regear both axles alike towards the restoring ratio, choose tires nearer the found size, or accept the "
    "change with the engine speed, grades and brakes in view.",
    ground=COMMON_PRACTICE,
    holds={"effective_axle_ratio": "4.75", "found_axle_ratio": "4.89", "greatest_ratio_change": "5 %"},
    fails={"effective_axle_ratio": "4.20", "found_axle_ratio": "4.89", "greatest_ratio_change": "5 %"},
)
def effective_ratio_moved(
    effective_axle_ratio: Ratio, found_axle_ratio: Ratio, greatest_ratio_change: Share
) -> Annotated[Finding, CHANGE]:
    """Margin as a ratio: how much further it might have moved, either way."""
    change = effective_axle_ratio / found_axle_ratio - 1
    return Finding(greatest_ratio_change - abs(change), {"moved": _feel(change)})


@rule(
    severity="caution",
    notices="no listed gear set restores the ratio",
    says="{restoring_axle_ratio} would restore the old feel; the nearest listed: {below}; {above}",
    cure="Ask for other sets for this axle and its carrier, choose tires between, or accept the nearer set. "
    "Both axles get the same ratio. Setting up ring and pinion is skilled work: bearing preload, backlash and tooth "
    "contact decide whether the axle lasts.",
    ground=KINEMATICS,
    holds={
        "gear_sets": "4.10, 4.56, 4.88, 5.38",
        "restoring_axle_ratio": "4.95",
        "axle_ratio": "4.10",
        "greatest_ratio_change": "5 %",
    },
    fails={
        "gear_sets": "3.73, 4.10",
        "restoring_axle_ratio": "4.95",
        "axle_ratio": "4.10",
        "greatest_ratio_change": "5 %",
    },
    only_with=("gear_sets",),
)
def no_gear_set_restores(
    gear_sets: Ratios, restoring_axle_ratio: Ratio, axle_ratio: Ratio, greatest_ratio_change: Share
) -> Annotated[Finding, CHANGE]:
    """Margin as a ratio: how much further the best ratio might have lain off; the fitment's own gears count too."""
    below = max((one for one in gear_sets if one <= restoring_axle_ratio), default=None)
    above = min((one for one in gear_sets if one >= restoring_axle_ratio), default=None)
    least = min(abs(one / restoring_axle_ratio - 1) for one in (*gear_sets, axle_ratio))
    return Finding(
        greatest_ratio_change - least,
        {
            "below": _set(below, restoring_axle_ratio, "none is taller"),
            "above": _set(above, restoring_axle_ratio, "none is lower"),
        },
    )


@rule(
    severity="caution",
    notices="front and rear tires do not travel alike in four-wheel drive",
    says="the front tires {travel}; {greatest_axle_mismatch} is the limit with the axles locked together",
    cure="Bring ratios and rolling circumferences together: the same tires at both ends, equally worn, at their "
    "pressures, and the same ratio in both axles. Until then use four-wheel drive on loose ground only, and never "
    "on pavement: the driveline winds up, steers badly, and can break a joint.",
    ground=COMMON_PRACTICE,
    holds={"axle_mismatch": "0.4 %", "part_time_four_wheel_drive": "yes", "greatest_axle_mismatch": "1 %"},
    fails={"axle_mismatch": "-3 %", "part_time_four_wheel_drive": "yes", "greatest_axle_mismatch": "1 %"},
    only_with=("part_time_four_wheel_drive",),
)
def axles_travel_apart(
    axle_mismatch: Change, part_time_four_wheel_drive: YesNo, greatest_axle_mismatch: Share
) -> Annotated[Finding, CHANGE]:
    """Margin as a ratio, either way; holds outright where nothing locks the two axles together."""
    amount = f"{abs(axle_mismatch) * 100:.1f} %"
    travel = f"run {amount} ahead of the rear ones" if axle_mismatch > 0 else f"drag {amount} behind the rear ones"
    words = {"travel": "travel with the rear ones" if abs(axle_mismatch) < _TELLING else travel}
    return Finding(greatest_axle_mismatch - abs(axle_mismatch) if part_time_four_wheel_drive else True, words)


@rule(
    severity="caution",
    notices="an axle shaft may see more than its rating",
    says="up to {shaft_torque} in one shaft in the lowest gear, set by {governs}; rated {axle_shaft_rating}",
    cure="Stronger shafts and joints, taller low gears, smaller tires, or a driver who knows: no full throttle in the "
    "lowest gear with a wheel stuck, at full steer, or hopping. A broken joint can lock the steering.",
    ground=ENTERED,
    holds={"shaft_torque": "2,100 lbf·ft", "axle_shaft_rating": "2,800 lbf·ft", "shaft_torque_governed_by": "grip"},
    fails={"shaft_torque": "3,400 lbf·ft", "axle_shaft_rating": "2,800 lbf·ft", "shaft_torque_governed_by": "engine"},
    only_with=("axle_shaft_rating",),
)
def shaft_torque_past_rating(
    shaft_torque: Torque, axle_shaft_rating: Torque, shaft_torque_governed_by: Text
) -> Annotated[Finding, TORQUE_CHANGE]:
    """Margin in N·m: what is left to the rating."""
    governs = "the tires' grip" if shaft_torque_governed_by == "grip" else "the engine and its gears"
    return Finding(axle_shaft_rating - shaft_torque, {"governs": governs})


@rule(
    severity="caution",
    notices="the torque in an axle shaft has grown",
    says="up to {shaft_torque} in one shaft where {found_shaft_torque} was; {greatest_shaft_torque_growth} more is the "
    "limit",
    cure="Inspect shafts, splines and joints for twist and cracks before the tires go on; consider stronger ones. "
    "Drive as if the old ones were at their limit.",
    ground=COMMON_PRACTICE,
    holds={
        "shaft_torque": "2,100 lbf·ft",
        "found_shaft_torque": "2,000 lbf·ft",
        "greatest_shaft_torque_growth": "10 %",
    },
    fails={
        "shaft_torque": "2,500 lbf·ft",
        "found_shaft_torque": "2,000 lbf·ft",
        "greatest_shaft_torque_growth": "10 %",
    },
)
def shaft_torque_grown(shaft_torque: Torque, found_shaft_torque: Torque, greatest_shaft_torque_growth: Share) -> Change:
    """Margin as a ratio: how much further it might have grown."""
    return 1 + greatest_shaft_torque_growth - shaft_torque / found_shaft_torque


@rule(
    severity="note",
    notices="the truck crawls faster at idle than wanted",
    says="{crawl_speed} at idle in the lowest gear; {wanted_crawl_speed} is wanted",
    cure="Lower axle gears, a lower transfer case, or smaller tires. On a descent the brakes must do what the gears do "
    "not.",
    ground=ENTERED,
    holds={"crawl_speed": "1.2 mph", "wanted_crawl_speed": "1.5 mph"},
    fails={"crawl_speed": "2.1 mph", "wanted_crawl_speed": "1.5 mph"},
    only_with=("wanted_crawl_speed",),
)
def crawls_fast_at_idle(crawl_speed: Speed, wanted_crawl_speed: Speed) -> SpeedChange:
    """Margin in m/s: how much slower than wanted it can go."""
    return wanted_crawl_speed - crawl_speed


@rule(
    severity="caution",
    notices="the wanted grade is out of reach",
    says="a grade of {wanted_grade} is wanted in low; {governs} ends at {reached}",
    cure="Where the thrust ends first: lower gears, smaller tires or less weight. Where the grip does: no gear helps. "
    "What climbs a grade is not what holds, brakes or turns on it; a road test is for a qualified person.",
    ground=ENTERED,
    holds={"gradeability": "30 deg", "grip_limited_grade": "38 deg", "wanted_grade": "40 %"},
    fails={"gradeability": "15 deg", "grip_limited_grade": "38 deg", "wanted_grade": "40 %"},
    only_with=("wanted_grade",),
)
def grade_out_of_reach(
    gradeability: Angle, grip_limited_grade: Angle, wanted_grade: Share
) -> Annotated[Finding, ANGLE]:
    """Margin in rad: how much steeper it might be before thrust or grip ends, whichever is first."""
    thrust_ends_first = gradeability <= grip_limited_grade
    least = gradeability if thrust_ends_first else grip_limited_grade
    words = {
        "governs": "the thrust" if thrust_ends_first else "the tires' grip, all wheels driven,",
        "reached": f"{tan(least) * 100:.0f} %",
    }
    return Finding(least - atan(wanted_grade), words)


@rule(
    severity="caution",
    notices="the axle ratio and the tooth counts disagree",
    says="{found_axle_ratio} is entered; {ring_teeth} and {pinion_teeth} teeth give {by_teeth}",
    cure="Count again: mark the drive shaft and a wheel, and turn. Do not order gears until both agree.",
    ground=KINEMATICS,
    holds={"found_axle_ratio": "4.89", "ring_teeth": "44", "pinion_teeth": "9", "greatest_tooth_difference": "0.5 %"},
    fails={"found_axle_ratio": "4.10", "ring_teeth": "44", "pinion_teeth": "9", "greatest_tooth_difference": "0.5 %"},
    only_with=(
        "ring_teeth",
        "pinion_teeth",
    ),
)
def ratio_differs_from_teeth(
    found_axle_ratio: Ratio, ring_teeth: Count, pinion_teeth: Count, greatest_tooth_difference: Share
) -> Annotated[Finding, CHANGE]:
    """Margin as a ratio: how much further apart they might be."""
    by_teeth = ring_teeth / pinion_teeth
    return Finding(greatest_tooth_difference - abs(found_axle_ratio / by_teeth - 1), {"by_teeth": f"{by_teeth:.3f}"})


def _feel(change: float) -> str:
    """A change of the effective ratio in words.

    >>> _feel(-0.062), _feel(0.1)
    ('6.2 % taller (slower engine, less pull)', '10.0 % lower (faster engine, more pull)')
    """
    if abs(change) < _TELLING:
        return "as before"
    what = "taller (slower engine, less pull)" if change < 0 else "lower (faster engine, more pull)"
    return f"{abs(change) * 100:.1f} % {what}"


def _set(ratio: float | None, restoring: float, none: str) -> str:
    return none if ratio is None else f"{ratio:.2f} feels {_feel(ratio / restoring - 1)}"
