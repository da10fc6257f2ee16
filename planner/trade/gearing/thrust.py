"""What reaches the ground: thrust at the tires, the slope that it climbs, and the torque in an axle shaft.

In a worksheet these stand for the lowest gear and low range, at the engine's greatest torque.
"""

from math import asin, atan, pi
from typing import NamedTuple

from planner.quantities.kinds import Force, Grade, Length, Ratio, Share, Text, Torque, Weight, YesNo
from planner.sources.citing import practice
from planner.sources.reasoning import TEXTBOOK
from planner.sources.textbooks import UNIVERSITY_PHYSICS
from planner.worksheet.declare import Impossible, assumed, figure
from planner.worksheet.turning import least, where

driveline_efficiency = assumed(
    Ratio,
    "0.85 ± 0.05",
    means="share of the engine's torque that gets to the wheels",
    ground=practice("two or three gear meshes and a bevel axle; a worm axle or cold, thick oil gives less"),
)

rolling_resistance = assumed(
    Share,
    "0.02 ± 0.01",
    means="drag of the rolling tires, as a share of the weight on them",
    ground=practice("good concrete 0.015, gravel 0.02 to 0.03; soft earth 0.05 to 0.1 and sand 0.2: enter your ground"),
)

tire_grip = assumed(
    Ratio,
    "0.85 ± 0.15",
    means="friction between tire and a dry, hard road",
    better="how well the road you drive on grips (assumptions.tire_grip)",
    # What shafts have to bear and what tips a truck: the more the tires hold, the worse.
    ground=UNIVERSITY_PHYSICS.read("table of friction: rubber on dry concrete 1.0 at rest, 0.7 sliding"),
)

climbing_grip = assumed(
    Ratio,
    "0.75 ± 0.25",
    means="friction between the tire and the ground it climbs on, dry or wet",
    better="how well the ground it climbs on grips (assumptions.climbing_grip)",
    ground=UNIVERSITY_PHYSICS.read(
        "table of friction: rubber on dry concrete 1.0 at rest, on wet 0.5 to 0.7; snow 0.2 and "
        "ice 0.1 from memory: enter your ground"
    ),
)


class ShaftTorque(NamedTuple):
    """The torque that a shaft may see, and which limit sets it: "engine" or "grip"."""

    torque: Torque
    governed_by: Text


@figure(
    means="thrust at the ground in the lowest gear and low range",
    ground=TEXTBOOK,
    reads={
        "overall_ratio": "rear_crawl_ratio",
        "efficiency": "driveline_efficiency",
        "loaded_radius": "rear_loaded_radius",
    },
    form="tractive effort = engine torque × overall ratio × efficiency / loaded radius",
)
def tractive_effort(engine_torque: Torque, overall_ratio: Ratio, efficiency: Ratio, loaded_radius: Length) -> Force:
    """The push of all driven tires together, in N, from a torque in N·m and a loaded radius in m, before any slip.

    Raises Impossible for an efficiency above 1. In low gears the tires often cannot hold what the engine gives.

    >>> tractive_effort(200.0, 30.0, 0.5, 0.4)
    7500.0
    """
    _at_most_one(efficiency)
    return engine_torque * overall_ratio * efficiency / loaded_radius


@figure(
    means="steepest slope the thrust climbs in low",
    ground=TEXTBOOK,
    reads={"weight": "gross_weight"},
    form="gradeability = asin(tractive effort / weight / √(1 + rolling resistance²)) − atan(rolling resistance)",
)
def gradeability(tractive_effort: Force, rolling_resistance: Share, weight: Weight) -> Grade:
    """The slope in rad on which the thrust just balances the weight's pull and the tires' drag; forces in N.

    Solves W sin θ + f W cos θ = T without small angles. Below nothing, the truck holds its speed only downhill.
    Where the thrust is beyond what any slope asks, the answer is π/2: the tires' grip governs then, see
    `grip_limited_grade`. Raises Impossible for a thrust below nothing. What an engine climbs is not what brakes
    hold, nor what is safe to turn or stop on.

    >>> from math import degrees
    >>> round(degrees(gradeability(5000.0, 0.0, 10000.0)), 9)
    30.0
    """
    share = tractive_effort / weight / (1 + rolling_resistance**2) ** 0.5
    if share < 0:
        raise Impossible("tractive_effort", "{tractive_effort}", "a forward thrust, 0 N or more")
    return where(share - 1, pi / 2, asin(min(share, 1)) - atan(rolling_resistance))


@figure(
    means="steepest slope the driven tires hold",
    ground=TEXTBOOK,
    reads={"friction": "climbing_grip", "front_load": "front_axle_load", "rear_load": "rear_axle_load"},
    form="grip limited grade = atan(friction) with all wheels driven; with one axle driven, on which w of the weight "
    "stands, atan(friction × w / (1 ∓ friction × cg height / wheelbase)), minus with the rear one, which carries no "
    "more than all of it: never more than atan(friction)",
)
def grip_limited_grade(
    friction: Ratio,
    front_driven: YesNo | None = None,
    rear_driven: YesNo | None = None,
    front_load: Weight | None = None,
    rear_load: Weight | None = None,
    cg_height: Length | None = None,
    wheelbase: Length | None = None,
) -> Grade | None:
    """The slope in rad at which the driven tires slide; an axle of which nobody said that it is not driven is.

    With one axle driven it holds what stands on it, and a slope moves weight to the rear one: loads in N, lengths in m,
    of which that asks. Raises Impossible where no axle is driven.

    >>> from math import degrees
    >>> round(degrees(grip_limited_grade(1.0)), 9), round(degrees(grip_limited_grade(0.5, False, True, 1, 1, 1, 2)), 4)
    (45.0, 18.4349)
    """
    if front_driven is False and rear_driven is False:
        raise Impossible("front_driven", "{front_driven}", "at least one axle is driven, {rear_driven}")
    if front_driven is not False and rear_driven is not False:
        return atan(friction)
    if front_load is None or rear_load is None or cg_height is None or wheelbase is None:
        return None
    carried = (front_load if rear_driven is False else rear_load) / (front_load + rear_load)
    moved = friction * cg_height / wheelbase
    if rear_driven is False:
        return atan(friction * carried / (1 + moved))
    # Where the front wheels leave the ground first, all of the weight stands on the rear ones.
    return atan(friction if carried + moved >= 1 else friction * carried / (1 - moved))


@figure(
    means="torque one axle shaft may see in the lowest gear",
    ground=TEXTBOOK,
    reads={
        "overall_ratio": "crawl_ratio",
        "efficiency": "driveline_efficiency",
        "axle_load": "full_load",
        "friction": "tire_grip",
    },
    form="torque = the less of engine torque × overall ratio × efficiency and friction × axle load × loaded radius, "
    "over hub_ratio; half of it with an open differential",
    publishes={"shaft_torque": "torque", "shaft_torque_governed_by": "governed_by"},
)
def axle_shaft_torque(
    engine_torque: Torque,
    overall_ratio: Ratio,
    efficiency: Ratio,
    axle_load: Weight,
    friction: Ratio,
    loaded_radius: Length,
    hub_ratio: Ratio = 1.0,
    differential: Text | None = None,
) -> ShaftTorque:
    """The worst case for one shaft: all the torque of the engine on this axle, as far as its tires hold, fully loaded.

    Torques in N·m, load in N, radius in m. A differential that can lock, or limits its slip, may bring all of it to one
    wheel while the other is off the ground, and so counts one that nobody named; an open one gives each shaft half. A
    reduction at the hub stands between the shaft and the wheel. Shock loads (a hopping or suddenly gripping tire) go
    beyond, and a joint at full steer carries less than a straight one. Raises Impossible for an efficiency above 1.

    >>> axle_shaft_torque(200.0, 60.0, 0.5, 10000.0, 0.75, 0.4)
    ShaftTorque(torque=3000.0, governed_by='grip')
    >>> axle_shaft_torque(200.0, 60.0, 0.5, 10000.0, 0.75, 0.4, 2.0, "open").torque
    750.0
    """
    _at_most_one(efficiency)
    share = (0.5 if differential == "open" else 1.0) / hub_ratio
    by_engine = engine_torque * overall_ratio * efficiency * share
    by_grip = friction * axle_load * loaded_radius * share
    return ShaftTorque(least(by_engine, by_grip), "engine" if by_engine <= by_grip else "grip")


def _at_most_one(efficiency: Ratio) -> None:
    if efficiency > 1:
        raise Impossible("efficiency", "{efficiency}", "a share of 1, such as 0.85")
