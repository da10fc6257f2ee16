"""Engine speed and road speed: each from the other, at cruise, at the top, and crawling at idle.

The clutch is taken as home and the tires as not slipping; a torque converter slips some percent on top.
"""

import math

from planner.quantities.kinds import Length, Ratio, Speed, TurningSpeed
from planner.sources.reasoning import KINEMATICS
from planner.worksheet.declare import figure


@figure(means="engine speed in each gear at the cruise speed", ground=KINEMATICS, reads={"road_speed": "cruise_speed"})
def engine_speed(road_speed: Speed, rolling_circumference: Length, overall_ratio: Ratio) -> TurningSpeed:
    """How fast the engine turns, in rad/s, at a road speed in m/s on tires of a rolling circumference in m.

    In a worksheet the road speed is the cruise speed. At 20 m/s a 2 m tire turns 10 times a second, the engine through
    a 4:1 train 40 times, which is 2,400 rpm:

    >>> round(engine_speed(20.0, 2.0, 4.0) * 60 / (2 * math.pi), 6)
    2400.0
    """
    return 2 * math.pi * road_speed * overall_ratio / rolling_circumference


@figure(
    means="road speed in each gear with the engine at its top speed",
    ground=KINEMATICS,
    reads={"engine_speed": "highest_engine_speed"},
)
def road_speed(engine_speed: TurningSpeed, rolling_circumference: Length, overall_ratio: Ratio) -> Speed:
    """The road speed in m/s at an engine speed in rad/s on tires of a rolling circumference in m.

    In a worksheet the engine speed is the fastest that the engine may turn. The example above the other way round:

    >>> round(road_speed(2400 * 2 * math.pi / 60, 2.0, 4.0), 9)
    20.0
    """
    return engine_speed * rolling_circumference / (2 * math.pi * overall_ratio)


@figure(
    means="engine speed at cruise in top gear and high range",
    ground=KINEMATICS,
    reads={
        "road_speed": "cruise_speed",
        "rolling_circumference": "rear_rolling_circumference",
        "overall_ratio": "rear_cruise_ratio",
    },
)
def cruise_engine_speed(road_speed: Speed, rolling_circumference: Length, overall_ratio: Ratio) -> TurningSpeed:
    """How fast the engine turns, in rad/s, at the cruise speed in m/s; by the rear tires' circumference in m.

    >>> round(cruise_engine_speed(20.0, 2.0, 4.0) * 60 / (2 * math.pi), 6)
    2400.0
    """
    return 2 * math.pi * road_speed * overall_ratio / rolling_circumference


@figure(
    means="engine speed at your top speed in top gear and high range",
    ground=KINEMATICS,
    reads={
        "road_speed": "top_speed",
        "rolling_circumference": "rear_rolling_circumference",
        "overall_ratio": "rear_cruise_ratio",
    },
)
def top_engine_speed(road_speed: Speed, rolling_circumference: Length, overall_ratio: Ratio) -> TurningSpeed:
    """How fast the engine turns, in rad/s, at the intended top speed in m/s; by the rear tires' circumference in m.

    >>> round(top_engine_speed(30.0, 2.0, 4.0) * 60 / (2 * math.pi), 6)
    3600.0
    """
    return 2 * math.pi * road_speed * overall_ratio / rolling_circumference


@figure(
    means="crawl speed at idle in the lowest gear and low range",
    ground=KINEMATICS,
    reads={"rolling_circumference": "rear_rolling_circumference", "crawl_ratio": "rear_crawl_ratio"},
)
def crawl_speed(idle_speed: TurningSpeed, rolling_circumference: Length, crawl_ratio: Ratio) -> Speed:
    """The road speed in m/s with the engine idling, its idle speed in rad/s; by the rear tires' circumference in m.

    600 rpm through a 60:1 train turn the wheel ten times a minute, and a 2.4 m tire goes 24 m in that minute:

    >>> round(crawl_speed(600 * 2 * math.pi / 60, 2.4, 60.0), 9)
    0.4
    """
    return idle_speed * rolling_circumference / (2 * math.pi * crawl_ratio)
