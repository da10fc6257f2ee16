"""The axle ratio against the tire: what the gears feel like, what would restore them, and whether both axles agree.

A ratio is turns of the driveshaft for one turn of the wheel; a larger one is a lower, slower gear.
"""

from collections.abc import Callable
from math import inf, nextafter
from typing import NamedTuple

from planner.quantities.kinds import Change, Count, Length, Ratio, Ratios, Speed, SpeedChange
from planner.sources.citing import practice
from planner.sources.reasoning import KINEMATICS
from planner.worksheet.declare import Impossible, assumed, figure
from planner.worksheet.turning import along, magnitude

hub_ratio = assumed(
    Ratio,
    "1",
    means="hub reduction at the wheel, 1 if there is none",
    ground=practice("portal axles and hub reductions have one, others don't"),
)


class GearSets(NamedTuple):
    """The listed sets on either side of the ratio that restores, and how far each leaves the feel from what it was."""

    below: Ratio
    below_change: Change
    above: Ratio
    above_change: Change


@figure(
    means="axle ratio from its tooth counts",
    ground=KINEMATICS,
    form="tooth ratio = ring teeth / pinion teeth × hub ratio",
)
def tooth_ratio(ring_teeth: Count, pinion_teeth: Count, hub_ratio: Ratio = 1.0) -> Ratio:
    """Turns of the driveshaft for one of the wheel, whatever ratio is entered beside the counts.

    `hub_ratio` is what gears out at the wheel multiply it by, on a portal axle or with hub reductions. Raises
    Impossible where the pinion has as many teeth as the ring gear or more: the counts are swapped.

    >>> tooth_ratio(41, 10), tooth_ratio(41, 10, 2.0)
    (4.1, 8.2)
    """
    if pinion_teeth >= ring_teeth:
        raise Impossible("pinion_teeth", "{pinion_teeth}", "fewer teeth than the ring gear has, {ring_teeth}")
    return ring_teeth / pinion_teeth * hub_ratio


@figure(means="axle ratio, from its teeth if none is entered", ground=KINEMATICS)
def axle_ratio(tooth_ratio: Ratio) -> Ratio:
    """Turns of the driveshaft for one of the wheel.

    >>> axle_ratio(4.1)
    4.1
    """
    return tooth_ratio


@figure(means="axle ratio the gears act like now", ground=KINEMATICS)
def effective_axle_ratio(axle_ratio: Ratio, found_circumference: Length, planned_circumference: Length) -> Ratio:
    """The ratio that on the tires as found would feel as this axle ratio does on the planned ones; circumferences in m.

    In a worksheet the axle ratio is that of the fitment asked about, so that one with new gears shows its own feel.
    Tires a tenth larger make 4.40 gears pull like 4.00:

    >>> round(effective_axle_ratio(4.40, 2.0, 2.2), 9)
    4.0
    """
    return axle_ratio * found_circumference / planned_circumference


@figure(
    means="axle ratio that brings the old gearing back", ground=KINEMATICS, reads={"axle_ratio": "found_axle_ratio"}
)
def restoring_axle_ratio(axle_ratio: Ratio, found_circumference: Length, planned_circumference: Length) -> Ratio:
    """The ratio that feels on the planned tires as the ratio as found did on the found ones; circumferences in m.

    >>> round(restoring_axle_ratio(4.00, 2.0, 2.2), 9)
    4.4
    """
    return axle_ratio * planned_circumference / found_circumference


@figure(
    means="gear sets closest to the restoring ratio",
    ground=KINEMATICS,
    form="below = greatest of gear sets ≤ restoring axle ratio; above = least of gear sets ≥ restoring axle ratio; "
    "change = set / restoring axle ratio − 1",
    publishes={"gear_set_below": "below", "gear_set_above": "above"},
    picks=("below", "above"),
)
def nearest_gear_sets(gear_sets: Ratios, restoring_axle_ratio: Ratio) -> GearSets:
    """The listed sets next below and above the restoring ratio, and what each does to the effective ratio.

    A change is against the feel as found: above nothing the set is lower geared (more pull, a faster engine), below
    nothing taller. Where the restoring ratio lies beyond the list, the end of the list stands on both sides, and its
    change says so by its sign. Front and rear must get the same ratio. Raises Impossible on an empty list.

    >>> nearest_gear_sets((4.0, 5.0, 6.0), 4.0).above
    4.0
    >>> sets = nearest_gear_sets((3.0, 5.0), 4.0)
    >>> (sets.below, sets.below_change, sets.above, sets.above_change)
    (3.0, -0.25, 5.0, 0.25)
    """
    if not gear_sets:
        raise Impossible("gear_sets", "an empty list", "enter at least one ratio, such as 4.10")

    def below(ratio: float) -> float:
        return max((one for one in gear_sets if one <= ratio), default=min(gear_sets))

    def above(ratio: float) -> float:
        return min((one for one in gear_sets if one >= ratio), default=max(gear_sets))

    def picked(pick: Callable[[float], float]) -> tuple[float, float]:
        def changes(low: float, high: float) -> tuple[float, float]:
            sets = [one for one in gear_sets if low <= one <= high]
            near = (beside for one in sets for beside in (nextafter(one, 0), one, nextafter(one, inf)))
            found = [pick(ratio) / ratio - 1 for ratio in (low, high, *near) if low <= ratio <= high]
            return min(found), max(found)

        ratio, one = restoring_axle_ratio, pick(restoring_axle_ratio)
        return along(ratio, one, lambda low, high: (pick(low), pick(high))), along(ratio, one / ratio - 1, changes)

    return GearSets(*picked(below), *picked(above))


@figure(
    means="how much lower this fitment's gears are than the old ones",
    ground=KINEMATICS,
    form="regear_ratio = axle_ratio / found_axle_ratio; 1, the gears taken to stay, where no axle_ratio is known",
)
def regear_ratio(axle_ratio: Ratio | None = None, found_axle_ratio: Ratio | None = None) -> Ratio | None:
    """This fitment's axle ratio over the one as found; 1 where the gears stay.

    An axle's ratio holds for every fitment that enters none of its own, so where this fitment has none at all the
    gears are taken to stay, whatever they are. Nothing where new gears are entered and the old ones are not known.

    >>> regear_ratio(5.0, 4.0), regear_ratio()
    (1.25, 1.0)
    """
    if axle_ratio is None:
        return 1.0
    return None if found_axle_ratio is None else axle_ratio / found_axle_ratio


tires_alike = assumed(
    Ratio,
    "1 ± 0.005",
    means="how much tires of one size differ in roll-out: the front over the rear",
    ground=practice("half a percent between new ones of one make at the right pressure; more with wear"),
    better="the roll-out of the front and of the rear tires (tire.rolling_circumference of each axle)",
)


@figure(
    means="how far the front tires run ahead of the rear in four-wheel drive",
    ground=KINEMATICS,
    reads={"front_ratio": "front_axle_ratio", "rear_ratio": "rear_axle_ratio"},
    form="axle_mismatch = (front_circumference / front_ratio) / (rear_circumference / rear_ratio) − 1, × tires_alike "
    "before the 1 is taken off where both axles roll alike",
)
def axle_mismatch(
    front_ratio: Ratio, rear_ratio: Ratio, front_circumference: Length, rear_circumference: Length, tires_alike: Ratio
) -> Change:
    """Front travel against rear travel for one turn of both driveshafts, minus one; circumferences in m.

    Positive where the front tires run ahead, negative where they drag. What one size is off by is common to both axles
    that wear it; what is left is how alike its pieces are, which counts where neither axle has a size of its own. A
    rolling circumference also moves with pressure, load and wear, by a percent or so: measure all four tires by rolling
    them, at their pressures, loaded.

    >>> axle_mismatch(4.0, 4.0, 2.5, 2.0, 1.0)
    0.25
    """
    alike = tires_alike if front_circumference == rear_circumference else 1.0
    return (front_circumference / front_ratio) / (rear_circumference / rear_ratio) * alike - 1


@figure(
    means="how fast front and rear tires slip against each other at cruise in four-wheel drive",
    ground=KINEMATICS,
    form="axle_speed_difference = |axle_mismatch| × cruise_speed",
)
def axle_speed_difference(axle_mismatch: Change, cruise_speed: Speed) -> SpeedChange:
    """What the tires must slip by at that road speed, in m/s, with both axles locked together.

    >>> axle_speed_difference(-0.25, 20.0)
    5.0
    """
    return magnitude(axle_mismatch) * cruise_speed
