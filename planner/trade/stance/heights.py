"""How much higher the truck stands: the rise at each axle, and the planned height of everything measured on it.

The wheels' own mass is left out of the center of gravity's height, as are springs that settle and loads that shift.
"""

from planner.quantities.kinds import Distance, Length, Position, Weight
from planner.sources.reasoning import GEOMETRY, STATICS
from planner.worksheet.declare import figure
from planner.worksheet.turning import greatest


@figure(means="how much higher the truck sits at this axle than before", ground=GEOMETRY)
def rise(found_radius: Length, planned_radius: Length, lift: Distance = 0.0) -> Position:
    """The difference of the loaded radii and a lift, in m; all of the body goes with it while the springs stay.

    >>> rise(15.5, 17.25)
    1.75
    """
    return planned_radius - found_radius + lift


@figure(means="headlight center above ground", ground=GEOMETRY)
def lamp_height(found_lamp_height: Length, front_rise: Position) -> Length:
    """As found and the front axle's rise, in m: headlights are close enough to the front axle.

    >>> lamp_height(38.0, 1.75)
    39.75
    """
    return found_lamp_height + front_rise


@figure(
    means="highest fixed point above ground",
    ground=GEOMETRY,
    form="overall height = found overall height + front rise + (rear rise − front rise) × position / wheelbase; "
    "the greater rise of the two axles where the position or the wheelbase is not given",
)
def overall_height(
    found_overall_height: Length,
    front_rise: Position,
    rear_rise: Position,
    overall_height_position: Position | None = None,
    wheelbase: Length | None = None,
) -> Length:
    """In m: as found, raised on the line through both axles' rises; by the greater of the two where nobody says how far
    behind the front axle the highest point stands.

    >>> overall_height(78.0, 1.75, 2.0), overall_height(78.0, 1.0, 3.0, 25.0, 100.0)
    (80.0, 79.5)
    """
    if overall_height_position is None or wheelbase is None:
        return found_overall_height + greatest(front_rise, rear_rise)
    return found_overall_height + rise_at(overall_height_position / wheelbase, front_rise, rear_rise)


def rise_at(share: float, front_rise: float, rear_rise: float) -> float:
    """How much higher the truck stands a part of the wheelbase behind the front axle.

    >>> rise_at(0.25, 1.0, 3.0)
    1.5
    """
    return front_rise + (rear_rise - front_rise) * share


@figure(
    means="center of gravity above ground",
    ground=STATICS,
    form="cg height = found cg height + front rise + (rear rise − front rise) × rear load / (front load + rear load); "
    "the greater rise of the two axles where a load is not given",
    reads={"front_load": "front_axle_load", "rear_load": "rear_axle_load"},
)
def cg_height(
    found_cg_height: Length,
    front_rise: Position,
    rear_rise: Position,
    front_load: Weight | None = None,
    rear_load: Weight | None = None,
) -> Length:
    """In m: as found, raised on the line through both axles' rises, where the axle loads put the center of gravity
    between them; by the greater of the two rises where they are not known. The heavier wheels' own mass, low down, is
    neglected, which errs to the high and safe side.

    A rear axle that carries a quarter of the weight: a quarter of the way back.

    >>> cg_height(30.0, 1.5, 2.5), cg_height(30.0, 1.0, 3.0, 3000.0, 1000.0)
    (32.5, 31.5)
    """
    if front_load is None or rear_load is None:
        return found_cg_height + greatest(front_rise, rear_rise)
    return found_cg_height + rise_at(rear_load / (front_load + rear_load), front_rise, rear_rise)


@figure(means="lowest front point above ground", ground=GEOMETRY)
def front_point_height(
    front_point_found_height: Length,
    front_point_ahead: Length,
    front_rise: Position,
    rear_rise: Position,
    wheelbase: Length,
) -> Distance:
    """In m: as found, raised on the line through both axles' rises, carried on to the point ahead.

    >>> front_point_height(20.0, 25.0, 2.0, 1.0, 100.0)
    22.25
    """
    return front_point_found_height + front_rise + (front_rise - rear_rise) * front_point_ahead / wheelbase


@figure(means="lowest rear point above ground", ground=GEOMETRY)
def rear_point_height(
    rear_point_found_height: Length,
    rear_point_ahead: Length,
    front_rise: Position,
    rear_rise: Position,
    wheelbase: Length,
) -> Distance:
    """In m: as found, raised on the line through both axles' rises, carried on to the point behind.

    >>> rear_point_height(22.0, 50.0, 2.0, 1.0, 100.0)
    22.5
    """
    return rear_point_found_height + rear_rise + (rear_rise - front_rise) * rear_point_ahead / wheelbase


@figure(
    means="lowest point between the axles, above ground",
    ground=GEOMETRY,
    form="belly height = found belly height + front rise + (rear rise − front rise) × belly position / wheelbase, "
    "the position halfway where it is not given",
)
def belly_height(
    found_belly_height: Length,
    front_rise: Position,
    rear_rise: Position,
    wheelbase: Length,
    belly_position: Distance | None = None,
) -> Distance:
    """In m: as found, raised on the line between both axles' rises; halfway between them where no position is given.

    >>> belly_height(16.0, 1.0, 3.0, 100.0, 25.0), belly_height(16.0, 1.0, 3.0, 100.0)
    (17.5, 18.0)
    """
    position = wheelbase / 2 if belly_position is None else belly_position
    return found_belly_height + front_rise + (rear_rise - front_rise) * position / wheelbase
