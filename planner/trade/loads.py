"""What each tire, axle and wheel bearing carries, and how heavy a wheel is to turn."""

from planner.quantities.kinds import Count, Distance, Inertia, Length, Mass, Multiple, Position, Ratio, Weight
from planner.sources.citing import practice
from planner.sources.reasoning import ARITHMETIC, GEOMETRY, STATICS, TEXTBOOK
from planner.sources.us_federal import AXLE_INTERPRETATION_1977
from planner.worksheet.declare import Impossible, assumed, figure
from planner.worksheet.turning import magnitude

shape_factor = assumed(
    Ratio,
    "0.6 ± 0.1",
    means="how far out the wheel's mass lies: moment of inertia over mass × radius²",
    ground=practice("a uniform disc has 0.5, a thin ring 1; tread and rim lie far out, disc and sidewalls nearer"),
)


@figure(means="load on one tire", ground=STATICS, also=("load",))
def per_tire(axle_load: Weight, tires: Count) -> Weight:
    """The axle's load shared by its tires, in N; the heavier side of a truck carries more: weigh each side to know.

    >>> per_tire(12000.0, 2)
    6000.0
    """
    return axle_load / tires


@figure(
    means="what the axle's tires carry over the load on it",
    ground=AXLE_INTERPRETATION_1977.read("the tires' sum at least the axle's rating; 49 CFR 571.120"),
    reads={"load_capacity": "rated_load"},
)
def tire_margin(axle_load: Weight, tires: Count, load_capacity: Weight) -> Ratio:
    """At least 1 where the tires carry the axle; the load capacity is of one tire, taken as a weight.

    Two tires of 900 on an axle of 1,500:

    >>> tire_margin(1500.0, 2, 900.0)
    1.2
    """
    return tires * load_capacity / axle_load


@figure(
    means="what the axle's tires carry over its rating",
    ground=AXLE_INTERPRETATION_1977.read("the tires' sum at least the axle's rating; 49 CFR 571.120"),
    reads={"load_capacity": "rated_load"},
)
def tire_rating_margin(axle_rating: Weight, tires: Count, load_capacity: Weight) -> Ratio:
    """The same against the axle's own rating, which is what the rule asks for: 95 percent of it is not enough.

    >>> tire_rating_margin(2000.0, 2, 950.0)
    0.95
    """
    return tires * load_capacity / axle_rating


@figure(means="tire's center plane to the middle of the wheel bearings", ground=GEOMETRY, also=("arm",))
def bearing_arm(bearing_setback: Position, offset: Position) -> Distance:
    """How far off the middle of the bearings the tire's load acts, to either side; all in m.

    The tire's center plane lies at -offset from the mounting face, the middle of the bearings at -bearing_setback.
    Bearings 2.5 inboard of the face, and a tire 2 outboard of it, stand 4.5 apart:

    >>> bearing_arm(2.5, -2.0)
    4.5
    """
    return magnitude(bearing_setback - offset)


@figure(
    means="bending on the wheel bearings against what it was",
    ground=STATICS,
    form="bearing_moment_ratio = planned_arm × planned_load / (found_arm × found_load)",
)
def bearing_moment_ratio(
    found_arm: Distance, planned_arm: Distance, found_load: Weight, planned_load: Weight
) -> Multiple:
    """The moment of the tire's upright load about the middle of the bearings, planned over found.

    Cornering and potholes act at the tire's radius and are not in it. Raises Impossible where the found tire stood
    over the middle of the bearings: there was no moment then, and nothing to compare with; go by the planned arm.
    Twice the arm with 1.5 times the load:

    >>> bearing_moment_ratio(1.0, 2.0, 4000.0, 6000.0)
    3.0
    """
    if found_arm == 0:
        raise Impossible(
            "found_arm",
            "{found_arm}",
            "more than nothing; over the middle of the bearings there is no moment to compare with",
        )
    return planned_arm * planned_load / (found_arm * found_load)


@figure(means="mass of one tire on its wheel", ground=ARITHMETIC)
def turning_mass(tire_mass: Mass, wheel_mass: Mass) -> Mass:
    """Tire and wheel together, in kg; drum and hub are not in it.

    >>> turning_mass(30.0, 20.0)
    50.0
    """
    return tire_mass + wheel_mass


@figure(
    means="moment of inertia of one tire on its wheel",
    ground=TEXTBOOK,
    reads={"mass": "turning_mass", "radius": "free_radius"},
)
def wheel_inertia(mass: Mass, radius: Length, shape_factor: Ratio) -> Inertia:
    """About the axle, in kg·m²; `radius` is the tire's free radius in m. A uniform disc has a shape factor of 0.5:

    >>> wheel_inertia(50.0, 2.0, 0.5)
    100.0
    """
    return shape_factor * mass * radius**2
