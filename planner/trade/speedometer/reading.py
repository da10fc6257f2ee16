"""What the speedometer and odometer show against the road, the adapter that puts them right, and the legal band.

The speedometer is taken as driven from the gearbox or transfer case, as a cable is. Where the teeth of its drive are
known they say how it read on the truck as found; without them it is taken to have read true there.
"""

from typing import NamedTuple

from planner.quantities.kinds import Change, Length, Ratio, Share, Speed, Text, YesNo
from planner.sources.reasoning import KINEMATICS
from planner.sources.un import R39
from planner.worksheet.declare import figure, limit

speedometer_high_share = limit(
    Share,
    "10 %",
    means="how much a speedometer may read high, as a share of the true speed",
    ground=R39.read("paragraph 5.3, as two publications quote it alike"),
)

speedometer_high_allowance = limit(
    Speed,
    "4 km/h",
    means="how much a speedometer may read high on top of that share",
    ground=R39.read("paragraph 5.3, as two publications quote it alike"),
)

_ROUNDING = 1e-9  # a speed met exactly holds, whatever the last bits of its conversion say


class AcceptedSpeeds(NamedTuple):
    """Whether the indicated speed is accepted at that true speed, and the least and greatest that would be."""

    holds: YesNo
    low: Speed
    high: Speed


class TrueOn(NamedTuple):
    """The circumference, with the gears as found, on which the speedometer reads true, and how that is known."""

    circumference: Length
    basis: Text


_AS_DRIVEN = {
    "found_circumference": "true_reading_circumference",
    "planned_circumference": "planned_speedometer_circumference",
}


@figure(
    means="rolling circumference as the speedometer's drive sees it",
    ground=KINEMATICS,
    reads={"rolling_circumference": "rear_rolling_circumference", "regear_ratio": "rear_regear_ratio"},
)
def speedometer_circumference(rolling_circumference: Length, regear_ratio: Ratio) -> Length:
    """The circumference, in m, that with the axle ratio as found would turn the drive as often to the mile.

    New axle gears turn the driveshaft, and the cable with it, more or less often: lower gears count as a smaller
    tire. In a worksheet every figure here that compares found and planned circumferences compares these. A sender in
    the axle or at a wheel sees no gears: compare the rolling circumferences at the bench then.

    >>> speedometer_circumference(2.5, 1.25)
    2.0
    """
    return rolling_circumference / regear_ratio


@figure(
    means="rolling circumference on which the speedometer reads true, with the axle ratio as found",
    ground=KINEMATICS,
    reads={
        "found_circumference": "found_speedometer_circumference",
        "geared_circumference": "found_geared_circumference",
    },
    form="circumference = geared_circumference, by the drive's teeth where they are known, else found_circumference: "
    "taken as true on the tires as found",
    publishes={"true_reading_circumference": "circumference", "speedometer_basis": "basis"},
)
def true_reading(found_circumference: Length, geared_circumference: Length | None = None) -> TrueOn:
    """What the speedometer is measured against, in m: its own teeth where they are known.

    A driven gear seldom fits its tires exactly, so a truck that was never checked may have read some percent off.

    >>> true_reading(2.4)
    TrueOn(circumference=2.4, basis='taken as true on the tires as found')
    >>> true_reading(2.4, 2.5).circumference
    2.5
    """
    if geared_circumference is not None:
        return TrueOn(geared_circumference, "by the teeth of its drive")
    return TrueOn(found_circumference, "taken as true on the tires as found")


@figure(
    means="true speed when the speedometer shows the cruise speed",
    ground=KINEMATICS,
    reads={"indicated_speed": "cruise_speed", **_AS_DRIVEN},
)
def true_speed(indicated_speed: Speed, found_circumference: Length, planned_circumference: Length) -> Speed:
    """The road speed at an indicated one, with a speedometer that is right on the found circumference; m/s and m.

    In a worksheet that is the circumference that its drive's teeth are right for, where they are known.

    >>> true_speed(20.0, 2.0, 2.5)
    25.0
    """
    return indicated_speed * planned_circumference / found_circumference


@figure(name="error", means="speedometer error; plus is high", ground=KINEMATICS, reads=_AS_DRIVEN)
def speedometer_error(found_circumference: Length, planned_circumference: Length) -> Change:
    """Indicated over true speed, less one, with a speedometer that is right on the found circumference; both in m.

    Larger tires make it read low, by the same part at every speed. At the bench, how the speedometer read before
    adds to it; in a worksheet the teeth of its drive say so where they are known.

    >>> round(speedometer_error(2.0, 2.5), 9)
    -0.2
    """
    return found_circumference / planned_circumference - 1


@figure(means="adapter ratio that makes the speedometer right", ground=KINEMATICS, reads=_AS_DRIVEN)
def adapter_ratio(found_circumference: Length, planned_circumference: Length) -> Ratio:
    """Turns of the cable out of the adapter for one turn in; circumferences in m.

    Above 1 the adapter speeds the cable up, as larger tires want it.

    >>> adapter_ratio(2.0, 2.5)
    1.25
    """
    return planned_circumference / found_circumference


@figure(means="true distance for one mile on the odometer", ground=KINEMATICS, reads=_AS_DRIVEN)
def odometer_factor(found_circumference: Length, planned_circumference: Length) -> Ratio:
    """What to multiply the odometer's count by, from the day the planned tires go on; circumferences in m.

    >>> odometer_factor(2.0, 2.5)
    1.25
    """
    return planned_circumference / found_circumference


@figure(
    means="if the speedometer is within the limits at the cruise speed",
    ground=R39.read("paragraph 5.3, as two publications quote it alike"),
    reads={
        "indicated_speed": "cruise_speed",
        "high_share": "speedometer_high_share",
        "high_allowance": "speedometer_high_allowance",
    },
    form="low = true speed; high = true speed + high share × true speed + high allowance; "
    "holds where low ≤ indicated speed ≤ high",
)
def within_un_r39(
    indicated_speed: Speed, true_speed: Speed, high_share: Share, high_allowance: Speed
) -> AcceptedSpeeds:
    """The indicated speeds that are accepted at a true speed, all in m/s: never below it, and above it by so much.

    >>> band = within_un_r39(21.0, 20.0, 0.1, 1.0)
    >>> (band.holds, band.low, band.high)
    (True, 20.0, 23.0)
    """
    high = true_speed + high_share * true_speed + high_allowance
    slack = _ROUNDING * high
    return AcceptedSpeeds(bool(true_speed - slack <= indicated_speed <= high + slack), true_speed, high)
