"""What drives the speedometer: the driven gear's teeth, the error that it leaves, and an electronic sender's pulses.

The drive is taken to sit behind the transmission or transfer case, so the axle ratio is between it and the road.
"""

from typing import Any, NamedTuple

from planner.quantities.kinds import Change, Count, Length, PerLength, PerMile, Ratio
from planner.sources.reasoning import KINEMATICS
from planner.sources.standards import SPEEDOMETER_DRIVES
from planner.worksheet.declare import Impossible, assumed, figure
from planner.worksheet.turning import along

cable_turns_per_mile = assumed(
    PerMile,
    "1000",
    means="turns of the cable the speedometer reads as a mile",
    ground=SPEEDOMETER_DRIVES.recalled("1000 turns to the mile"),
)


class DrivenGear(NamedTuple):
    """The driven gear's teeth, exact and as a gear can have them, and the reading error left; positive reads high."""

    exact: Ratio
    nearest: Count
    error: Change


@figure(
    means="driven gear teeth that make the speedometer right",
    ground=SPEEDOMETER_DRIVES.recalled("1000 turns to the mile"),
    reads={"axle_ratio": "rear_axle_ratio", "rolling_circumference": "rear_rolling_circumference"},
    form="exact = drive teeth × axle ratio × adapter ratio / (rolling circumference × cable turns per mile); "
    "nearest = exact to the whole tooth; error = exact / nearest − 1",
    publishes={"nearest_driven_gear": "nearest", "driven_gear_error": "error"},
    picks=("nearest",),
)
def driven_gear_teeth(
    drive_teeth: Count,
    axle_ratio: Ratio,
    rolling_circumference: Length,
    cable_turns_per_mile: PerMile,
    speedometer_adapter_ratio: Ratio = 1.0,
) -> DrivenGear:
    """The driven gear on a drive behind the gearbox, circumference in m and cable turns to the m.

    The error is what the speedometer reads too high (above nothing) or too low with the nearest whole gear; the next
    gear with fewer teeth reads higher. Whether a gear of that count is made, and fits the housing, is to be seen.
    Raises Impossible where half a tooth or less comes out.

    A 2 m tire on 4:1 gears turns the shaft 2000 times to the km; a drive gear of 8 then needs 20 teeth for 800:

    >>> driven_gear_teeth(8, 4.0, 2.0, 0.8)
    DrivenGear(exact=20.0, nearest=20.0, error=0.0)
    """
    exact = drive_teeth * axle_ratio * speedometer_adapter_ratio / (rolling_circumference * cable_turns_per_mile)
    nearest = _whole(exact)
    if nearest < 1:
        raise Impossible("drive_teeth", f"{drive_teeth}", "enough teeth for a driven gear of at least one")
    count: Any = along(exact, nearest, lambda low, high: (max(1, _whole(low)), max(1, _whole(high))))
    return DrivenGear(exact, count, along(exact, exact / nearest - 1, _errors))


def _whole(exact: float) -> int:
    return int(float(exact) + 0.5)


def _errors(low: float, high: float) -> tuple[float, float]:
    """The least and the greatest error while the exact count goes from low to high: it jumps at each half tooth.

    >>> _errors(19.0, 20.4) == (-0.5 / 20, 0.5 / 19)
    True
    """
    first, last = max(1, _whole(low)), max(1, _whole(high))
    ends = (low / first - 1, high / last - 1)
    jumps = [(-0.5 / (one + 1), 0.5 / one) for one in range(first, last)]
    return min(*ends, *(down for down, _ in jumps)), max(*ends, *(up for _, up in jumps))


@figure(
    means="rolling circumference at which the speedometer gears in it now read true",
    ground=SPEEDOMETER_DRIVES.recalled("1000 turns to the mile"),
    reads={"axle_ratio": "rear_axle_ratio"},
)
def geared_circumference(
    drive_teeth: Count,
    driven_teeth: Count,
    axle_ratio: Ratio,
    cable_turns_per_mile: PerMile,
    speedometer_adapter_ratio: Ratio = 1.0,
) -> Length:
    """The way, in m, that a wheel must roll in one turn for the cable to turn as often as it should.

    Drive gear 8 and driven gear 16 on 4:1 gears turn the cable twice for a turn of the wheel; at 0.8 turns to the
    meter that is 2.5 m:

    >>> geared_circumference(8, 16, 4.0, 0.8)
    2.5
    """
    return drive_teeth * axle_ratio * speedometer_adapter_ratio / (driven_teeth * cable_turns_per_mile)


@figure(
    means="reading error with the driven gear in it now; plus is high",
    ground=SPEEDOMETER_DRIVES.recalled("1000 turns to the mile"),
    reads={"axle_ratio": "rear_axle_ratio", "rolling_circumference": "rear_rolling_circumference"},
)
def fitted_gear_error(
    drive_teeth: Count,
    driven_teeth: Count,
    axle_ratio: Ratio,
    rolling_circumference: Length,
    cable_turns_per_mile: PerMile,
    speedometer_adapter_ratio: Ratio = 1.0,
) -> Change:
    """Indicated over true speed, less one, by the teeth of the drive; circumference in m, cable turns to the m.

    >>> round(fitted_gear_error(8, 16, 4.0, 2.0, 0.8), 9)
    0.25
    """
    return (
        drive_teeth
        * axle_ratio
        * speedometer_adapter_ratio
        / (driven_teeth * rolling_circumference * cable_turns_per_mile)
        - 1
    )


@figure(
    means="sender pulses per mile",
    ground=KINEMATICS,
    reads={"axle_ratio": "rear_axle_ratio", "rolling_circumference": "rear_rolling_circumference"},
)
def pulses_per_mile(pulses_per_revolution: Count, axle_ratio: Ratio, rolling_circumference: Length) -> PerLength:
    """Pulses along the road, to the m, of a sender on the driveshaft; circumference in m.

    >>> pulses_per_mile(8, 4.0, 2.0)
    16.0
    """
    return pulses_per_revolution * axle_ratio / rolling_circumference
