"""What the tires do to the axle ratio: what it feels like, and what restores it."""

from typing import Annotated

from planner.quantities.kinds import CHANGE, Change, Ratio, Ratios, Share
from planner.sources.citing import COMMON_PRACTICE, practice
from planner.sources.reasoning import KINEMATICS
from planner.worksheet.declare import Finding, limit, rule
from planner.worksheet.turning import least, magnitude

greatest_ratio_change = limit(
    Share,
    "5 %",
    means="how far the effective axle ratio may move before the gears should follow",
    ground=practice("about what you notice on a grade, and half a step between listed gear sets"),
)

greatest_tooth_difference = limit(
    Share,
    "0.5 %",
    means="how far an axle ratio as entered may be from its tooth counts",
    ground=practice("a ratio is written to two decimals; one tooth is 2 % or more"),
)

_TELLING = 0.0005  # less than this shows as 0.0 %


@rule(
    severity="caution",
    notices="gears feel different: the effective axle ratio moved",
    says="The gearing acts like {effective_axle_ratio} instead of {found_axle_ratio}: {moved}. The limit is "
    "{greatest_ratio_change} either way.",
    clear_says="The gearing acts like {effective_axle_ratio} instead of {found_axle_ratio}: {moved}, within "
    "the limit of {greatest_ratio_change} either way.",
    cure="Regear both axles to a ratio near the restoring one, choose tires closer to the old size, or accept the "
    "change once you've looked at engine speed, grades and brakes.",
    ground=COMMON_PRACTICE,
    holds={"effective_axle_ratio": "4.65", "found_axle_ratio": "4.89", "greatest_ratio_change": "5 %"},
    fails={"effective_axle_ratio": "4.64", "found_axle_ratio": "4.89", "greatest_ratio_change": "5 %"},
    beyond="over by",
)
def effective_ratio_moved(
    effective_axle_ratio: Ratio, found_axle_ratio: Ratio, greatest_ratio_change: Share
) -> Annotated[Finding, CHANGE]:
    """Margin as a ratio: how much further it might have moved, either way."""
    change = effective_axle_ratio / found_axle_ratio - 1
    return Finding(greatest_ratio_change - magnitude(change), {"moved": _feel(change)})


@rule(
    severity="caution",
    notices="no listed gear set restores the ratio",
    says="A ratio of {restoring_axle_ratio} would restore the old feel. Of the sets listed, {below}; {above}. The "
    "limit is {greatest_ratio_change}.",
    clear_says="A ratio of {restoring_axle_ratio} would restore the old feel: a set listed, or the axle's own "
    "{axle_ratio}, comes within the limit of {greatest_ratio_change}.",
    cure="Ask for other sets for this axle and its carrier, choose a tire size in between, or accept the closer set. "
    "Both axles get the same ratio. Setting up a ring and pinion is skilled work: bearing preload, backlash and tooth "
    "contact decide if the axle lasts.",
    ground=KINEMATICS,
    holds={
        "gear_sets": "4.10, 4.71",
        "restoring_axle_ratio": "4.95",
        "axle_ratio": "4.10",
        "greatest_ratio_change": "5 %",
    },
    fails={
        "gear_sets": "4.10, 4.70",
        "restoring_axle_ratio": "4.95",
        "axle_ratio": "4.10",
        "greatest_ratio_change": "5 %",
    },
    only_with=("gear_sets",),
    beyond="over by",
    follows=("effective_ratio_moved",),
)
def no_gear_set_restores(
    gear_sets: Ratios, restoring_axle_ratio: Ratio, axle_ratio: Ratio, greatest_ratio_change: Share
) -> Annotated[Finding, CHANGE]:
    """Margin as a ratio: how much further the best ratio might have lain off; the fitment's own gears count too."""
    below = max((one for one in gear_sets if one <= restoring_axle_ratio), default=None)
    above = min((one for one in gear_sets if one >= restoring_axle_ratio), default=None)
    off = least(*(magnitude(one / restoring_axle_ratio - 1) for one in (*gear_sets, axle_ratio)))
    return Finding(
        greatest_ratio_change - off,
        {
            "below": _set(below, restoring_axle_ratio, "none is taller than that"),
            "above": _set(above, restoring_axle_ratio, "none is lower than that"),
        },
    )


@rule(
    severity="stop",
    danger="control",
    notices="the axle ratio and the tooth counts contradict each other",
    says="The axle ratio entered is {found_axle_ratio}; the teeth give {found_tooth_ratio}. "
    "They may differ by up to {greatest_tooth_difference}.",
    clear_says="The axle ratio entered, {found_axle_ratio}, goes with the teeth, which give {found_tooth_ratio}.",
    cure="Don't order gears until both agree. Count again: mark the driveshaft and a wheel, and turn. With portal "
    "axles or hub reductions, enter their ratio too (hub reduction).",
    ground=KINEMATICS,
    holds={"found_axle_ratio": "4.913", "found_tooth_ratio": "4.8889", "greatest_tooth_difference": "0.5 %"},
    fails={"found_axle_ratio": "4.914", "found_tooth_ratio": "4.8889", "greatest_tooth_difference": "0.5 %"},
    beyond="over by",
    bars=("found_axle_ratio", "ring_teeth", "pinion_teeth"),
    close_agrees=True,
)
def ratio_differs_from_teeth(
    found_axle_ratio: Ratio, found_tooth_ratio: Ratio, greatest_tooth_difference: Share
) -> Change:
    """Margin as a ratio: how much further apart they might be."""
    return greatest_tooth_difference - magnitude(found_axle_ratio / found_tooth_ratio - 1)


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
