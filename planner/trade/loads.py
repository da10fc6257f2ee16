"""What each tire, axle and wheel bearing carries, and how heavy a wheel is to turn."""

from planner.quantities.kinds import (
    Count,
    Distance,
    Force,
    Inertia,
    Length,
    Mass,
    Multiple,
    Position,
    Ratio,
    Share,
    Torque,
    Weight,
    YesNo,
)
from planner.sources.citing import practice
from planner.sources.reasoning import ARITHMETIC, GEOMETRY, STATICS, TEXTBOOK
from planner.sources.us_federal import AXLE_INTERPRETATION_1977
from planner.trade.tire.loading import STANDARD_GRAVITY
from planner.worksheet.declare import assumed, figure
from planner.worksheet.turning import greatest, magnitude

shape_factor = assumed(
    Ratio,
    "0.6 ± 0.1",
    means="how far out the wheel's mass is: moment of inertia over mass × radius²",
    ground=practice("a uniform disc has 0.5, a thin ring 1; tread and rim are far out, disc and sidewalls closer in"),
)


side_force_share = assumed(
    Ratio,
    "0.3",
    means="side force of the road on a tire in the corner used here, as a share of its load",
    ground=practice("a brisk curve on a dry road; at twice that a truck slides, or is close to tipping"),
)


unweighed_growth = assumed(
    Force,
    "0 N ± 180 N",
    means="how much more one new tire and wheel weigh than an old one, if nobody weighed both",
    ground=practice(
        "40 lb, or 18 kg, is the difference between a pickup's tire and wheel and one a third wider and taller"
    ),
    better="what a tire and a wheel weigh, old and new (tire.mass, wheel.mass)",
)


@figure(
    means="load on this axle as weighed, on these wheels and tires",
    ground=STATICS,
    form="carried load = axle load + (tires × turning mass − tires found × turning mass found) × 9.80665 m/s²; "
    "axle load + tires × unweighed growth where a mass is not given; axle load on the wheels that it was weighed on",
    reads={"found_mass": "found_turning_mass", "planned_mass": "planned_turning_mass"},
)
def carried_load(
    axle_load: Weight,
    tires: Count,
    found_tires: Count,
    unweighed_growth: Force,
    found_mass: Mass | None = None,
    planned_mass: Mass | None = None,
    as_weighed: YesNo = False,
) -> Weight:
    """The scale's reading in N, and what the new wheels and tires weigh more than those it was weighed on; masses of
    one tire on its wheel in kg.

    Two that are 10 kg heavier each:

    >>> round(carried_load(10000.0, 2, 2, 0.0, 50.0, 60.0), 3), carried_load(10000.0, 2, 2, 150.0)
    (10196.133, 10300.0)
    """
    if as_weighed:
        return axle_load
    if found_mass is None or planned_mass is None:
        return axle_load + tires * unweighed_growth
    return axle_load + (tires * planned_mass - found_tires * found_mass) * STANDARD_GRAVITY


@figure(
    means="heaviest load on this axle, weighed or entered",
    ground=ARITHMETIC,
    form="heaviest load = the greater of carried load and laden load, or the one that is given",
)
def heaviest_load(
    carried_load: Weight | None = None, laden_load: Weight | None = None, axle_load: Weight | None = None
) -> Weight | None:
    """In N; what nobody weighed or entered is not in it. No answer where the axle was weighed and it is not known
    what it carries on these wheels.

    >>> heaviest_load(9000.0, 12000.0), heaviest_load(9000.0)
    (12000.0, 9000.0)
    """
    if carried_load is None:
        return laden_load if axle_load is None else None
    return carried_load if laden_load is None else greatest(carried_load, laden_load)


@figure(
    means="load on this axle with the truck fully loaded",
    ground=practice("an axle may be loaded up to its rating, and one day it is"),
    form="full load = laden load, or the axle's rating where it is not given; never less than the carried load",
)
def full_load(
    laden_load: Weight | None = None,
    axle_rating: Weight | None = None,
    carried_load: Weight | None = None,
    axle_load: Weight | None = None,
) -> Weight | None:
    """In N: the heaviest load as entered; the axle's rating stands in for it. No answer where the axle was weighed and
    it is not known what it carries on these wheels.

    >>> full_load(12000.0, 15000.0), full_load(None, 15000.0, 9000.0)
    (12000.0, 15000.0)
    """
    laden = axle_rating if laden_load is None else laden_load
    if carried_load is None:
        return laden if axle_load is None else None
    return None if laden is None else greatest(laden, carried_load)


@figure(means="load on one tire, truck as weighed", ground=STATICS, also=("load",), reads={"axle_load": "carried_load"})
def per_tire(axle_load: Weight, tires: Count) -> Weight:
    """The axle's load shared by its tires, in N; the heavier side of a truck carries more: weigh each side to know.

    >>> per_tire(12000.0, 2)
    6000.0
    """
    return axle_load / tires


@figure(means="load on one tire, truck fully loaded", ground=STATICS)
def full_load_per_tire(full_load: Weight, tires: Count) -> Weight:
    """The same of the laden axle, in N.

    >>> full_load_per_tire(16000.0, 4)
    4000.0
    """
    return full_load / tires


@figure(
    means="what the axle's tires carry over the heaviest load on it",
    ground=AXLE_INTERPRETATION_1977.read("the tires' sum at least the axle's rating; 49 CFR 571.120"),
    reads={"axle_load": "heaviest_load", "load_capacity": "rated_load"},
)
def tire_margin(axle_load: Weight, tires: Count, load_capacity: Weight) -> Share:
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
def tire_rating_margin(axle_rating: Weight, tires: Count, load_capacity: Weight) -> Share:
    """The same against the axle's own rating, which is what the rule asks for: 95 percent of it is not enough.

    >>> tire_rating_margin(2000.0, 2, 950.0)
    0.95
    """
    return tires * load_capacity / axle_rating


@figure(
    means="tire's center plane (the middle of a pair) to the middle of the wheel bearings",
    ground=GEOMETRY,
    also=("arm",),
    reads={"offset": "middle_offset"},
)
def bearing_arm(bearing_setback: Position, offset: Position) -> Distance:
    """How far off the middle of the bearings the tire's load acts, to either side; all in m.

    The tire's center plane lies at -offset from the mounting face, the middle of the bearings at -bearing_setback.
    Bearings 2.5 inboard of the face, and a tire 2 outboard of it, stand 4.5 apart:

    >>> bearing_arm(2.5, -2.0)
    4.5
    """
    return magnitude(bearing_setback - offset)


@figure(means="load on one side of this axle, as weighed", ground=STATICS)
def side_load(axle_load: Weight) -> Weight:
    """Half of the axle's load in N, by one wheel or by two side by side; what new wheels weigh more stands on the road
    by itself, and no bearing carries it.

    >>> side_load(12000.0)
    6000.0
    """
    return axle_load / 2


@figure(
    means="most bending on the wheel bearings of one side, in a corner",
    ground=STATICS,
    reads={"load": "side_load"},
)
def bearing_moment(bearing_arm: Distance, load: Weight, loaded_radius: Length, side_force_share: Ratio) -> Torque:
    """About the middle of the bearings, in N·m; the load in N, the lengths in m.

    The upright load of this end acts at the arm. In a corner the road's side force, a share of that load, acts at the
    loaded radius; one way around it bends the bearings as the load does. Potholes and curbs are not in it.

    An arm of 2, a load of 100, a radius of 10 and half the load to the side: 100 × 2 + 50 × 10 = 700.

    >>> bearing_moment(2.0, 100.0, 10.0, 0.5)
    700.0
    """
    return load * (bearing_arm + side_force_share * loaded_radius)


@figure(
    means="bending on the wheel bearings, compared with before",
    ground=STATICS,
    reads={"found_moment": "found_bearing_moment", "planned_moment": "planned_bearing_moment"},
)
def bearing_moment_ratio(found_moment: Torque, planned_moment: Torque) -> Multiple:
    """The moment in a corner, planned over found: an arm that was short makes no wall of a little more.

    >>> bearing_moment_ratio(2000.0, 3000.0)
    1.5
    """
    return planned_moment / found_moment


@figure(
    means="load that would bend the bearings as much on the old wheel, truck fully loaded, in a corner",
    ground=STATICS,
    form="bearing_load = full_load / 2 × (bearing_arm + side_force_share × loaded_radius) / "
    "(found_arm + side_force_share × found_radius)",
    reads={"found_radius": "found_loaded_radius", "found_arm": "found_bearing_arm"},
)
def bearing_load(
    full_load: Weight,
    bearing_arm: Distance,
    loaded_radius: Length,
    found_radius: Length,
    side_force_share: Ratio,
    found_arm: Distance | None = None,
) -> Weight:
    """What to hold against the bearings' own rating, which is for the wheels found; in N, lengths in m.

    On the wheels found it is half of the axle's load; where nobody knows how they stood, over the bearings' middle. An
    arm as long as the side force's own (a quarter of a radius of 16) makes it twice as much:

    >>> bearing_load(2000.0, 0.0, 16.0, 16.0, 0.25), bearing_load(2000.0, 4.0, 16.0, 16.0, 0.25)
    (1000.0, 2000.0)
    >>> bearing_load(2000.0, 4.0, 16.0, 16.0, 0.25, 4.0)
    1000.0
    """
    as_found = (found_arm or 0.0) + side_force_share * found_radius
    return full_load / 2 * (bearing_arm + side_force_share * loaded_radius) / as_found


@figure(means="mass of one tire and wheel", ground=ARITHMETIC)
def turning_mass(tire_mass: Mass, wheel_mass: Mass) -> Mass:
    """Tire and wheel together, in kg; drum and hub are not in it.

    >>> turning_mass(30.0, 20.0)
    50.0
    """
    return tire_mass + wheel_mass


@figure(
    means="moment of inertia of one tire and wheel",
    ground=TEXTBOOK,
    reads={"mass": "turning_mass", "radius": "free_radius"},
)
def wheel_inertia(mass: Mass, radius: Length, shape_factor: Ratio) -> Inertia:
    """About the axle, in kg·m²; `radius` is the tire's free radius in m. A uniform disc has a shape factor of 0.5:

    >>> wheel_inertia(50.0, 2.0, 0.5)
    100.0
    """
    return shape_factor * mass * radius**2
