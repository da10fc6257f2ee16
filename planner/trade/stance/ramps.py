"""Approach, departure and breakover: the steepest ramps that the truck meets with nothing but its tires.

All are taken at the loaded tire: a circle about the axle's center, which stands at the loaded radius above the ground.
"""

from math import asin, atan, pi

from planner.quantities.kinds import Angle, Distance, Length
from planner.sources.standards import VEHICLE_DIMENSIONS
from planner.worksheet.declare import Impossible, figure
from planner.worksheet.turning import least

_TANGENT = "atan((point height − loaded radius) / point ahead) + asin(loaded radius / distance from the axle's center)"


def tangent_angle(away: float, height: float, radius: float, key: str) -> float:
    """The angle above the ground, in rad, of the line from a point down to where it touches the tire's circle.

    `away` is how far the point stands from the axle along the ground. Raises for a point inside the tire.
    """
    if not away > 0 * away:
        raise Impossible(
            key, "a point right over the axle center", "a point clear of the tire, in front of or behind it"
        )
    slant = (away**2 + (height - radius) ** 2) ** 0.5
    if slant < radius:
        raise Impossible(key, "a point inside the tire", "a point clear of the tire")
    return atan((height - radius) / away) + asin(radius / slant)


@figure(
    means="approach angle",
    ground=VEHICLE_DIMENSIONS.recalled("6.10; SAE J1100"),
    form=f"approach angle = {_TANGENT}, at most 90°",
    reads={
        "point_ahead": "front_point_ahead",
        "point_height": "front_point_height",
        "loaded_radius": "front_loaded_radius",
    },
)
def approach_angle(point_ahead: Length, point_height: Distance, loaded_radius: Length) -> Angle:
    """The steepest slope in rad that the front tires meet before the point does; lengths in m, standing level.

    Springs that dip and tires that squash against the slope make it less. 90° where nothing stands in the tire's way.

    A ramp of 30° that touches a 16 in tire leaves the ground 16 × tan(15°) = 4.287 in ahead of the axle, and is
    (30 − 4.287) × tan(30°) = 14.845 in high at 30 in.

    >>> from math import degrees
    >>> round(degrees(approach_angle(30.0, 14.845, 16.0)), 2)
    30.0
    """
    return least(pi / 2, tangent_angle(point_ahead, point_height, loaded_radius, "point_ahead"))


@figure(
    means="departure angle",
    ground=VEHICLE_DIMENSIONS.recalled("6.11; SAE J1100"),
    form=f"departure angle = {_TANGENT}, at most 90°",
    reads={
        "point_ahead": "rear_point_ahead",
        "point_height": "rear_point_height",
        "loaded_radius": "rear_loaded_radius",
    },
)
def departure_angle(point_ahead: Length, point_height: Distance, loaded_radius: Length) -> Angle:
    """The approach angle of the rear end, in rad: `point_ahead` is how far the point stands behind the rear axle.

    >>> from math import degrees
    >>> round(degrees(departure_angle(30.0, 14.845, 16.0)), 2)
    30.0
    """
    return least(pi / 2, tangent_angle(point_ahead, point_height, loaded_radius, "point_ahead"))


@figure(
    means="breakover angle",
    ground=VEHICLE_DIMENSIONS.recalled("6.9; SAE J1100"),
    form=f"breakover angle = to the front and to the rear tire, each {_TANGENT}",
    turns=("position",),
    reads={
        "clearance": "belly_height",
        "loaded_radius": "front_loaded_radius",
        "position": "belly_position",
        "rear_radius": "rear_loaded_radius",
    },
)
def breakover_angle(
    wheelbase: Length,
    clearance: Distance,
    loaded_radius: Length,
    position: Distance | None = None,
    rear_radius: Length | None = None,
) -> Angle:
    """The sharpest crest in rad that passes under the lowest point between the axles; lengths in m.

    `position` is how far behind the front axle that point stands, the middle where it is not given. `rear_radius` is
    the rear tires' loaded radius where it differs. With tires shrunk to points and the middle it is
    2 × atan(2 × clearance / wheelbase).

    >>> from math import degrees
    >>> round(degrees(breakover_angle(200.0, 100.0, 1e-9)), 6)
    90.0
    """
    behind = wheelbase / 2 if position is None else position
    if not behind < wheelbase:
        raise Impossible("position", "{position}", "a point in front of the rear axle, at less than {wheelbase}")
    to_front = tangent_angle(behind, clearance, loaded_radius, "position")
    to_rear = tangent_angle(
        wheelbase - behind, clearance, loaded_radius if rear_radius is None else rear_radius, "position"
    )
    return to_front + to_rear
