"""How the truck stands against tipping: its width, the height of its center of gravity, and the slope that tips it."""

from math import asin, atan, tan

from planner.quantities.kinds import Angle, Length, Position, Ratio, Weight
from planner.sources.citing import practice
from planner.sources.reasoning import GEOMETRY, STATICS
from planner.sources.standards import CENTER_OF_GRAVITY
from planner.sources.us_federal import ROLLOVER
from planner.trade.stance.heights import rise_at
from planner.worksheet.declare import Impossible, assumed, figure

lean_share = assumed(
    Ratio,
    "0.9 ± 0.05",
    means="what's left of the stability factor when springs and tires give before the truck tips",
    ground=practice("a leaning body moves its center of gravity out by about a tenth of half the track"),
)


@figure(means="width over both tires of this axle", ground=GEOMETRY)
def width_over_tires(face_to_face: Length, outboard_reach: Position) -> Length:
    """Sidewall to sidewall in m, without the bulge at the ground.

    >>> width_over_tires(58.0, 6.5)
    71.0
    """
    return face_to_face + 2 * outboard_reach


@figure(means="average track of the two axles", ground=ROLLOVER.read())
def mean_track(front_track: Length, rear_track: Length) -> Length:
    """Halfway between the front and rear track, in m.

    >>> mean_track(62.0, 64.0)
    63.0
    """
    return (front_track + rear_track) / 2


@figure(means="static stability factor", ground=ROLLOVER.read(), reads={"track": "mean_track"})
def stability_factor(track: Length, cg_height: Length) -> Ratio:
    """Half the track over the height of the center of gravity: the sideways g that would tip a rigid truck.

    Springs, tires and a slipping load make the true limit lower. Class averages run from 1.1 for full-size vans
    to 1.4 for cars.

    >>> stability_factor(60.0, 25.0)
    1.2
    """
    return track / 2 / cg_height


@figure(means="side force that tips the truck, as a share of its weight", ground=STATICS)
def tipping_force(stability_factor: Ratio, lean_share: Ratio) -> Ratio:
    """What springs and tires leave of the stability factor.

    >>> tipping_force(1.0, 0.75)
    0.75
    """
    return stability_factor * lean_share


@figure(means="side slope at which a rigid truck would tip", ground=STATICS, reads={"track": "mean_track"})
def side_slope(track: Length, cg_height: Length) -> Angle:
    """In rad, standing still; a limit of arithmetic and no slope to drive: bumps, springs and momentum tip sooner.

    >>> from math import degrees
    >>> round(degrees(side_slope(60.0, 30.0)), 9)
    45.0
    """
    return atan(track / 2 / cg_height)


@figure(
    means="how much higher this axle sits on the old tires than in the lift test",
    ground=GEOMETRY,
    reads={"test_radius": "lift_test_loaded_radius"},
)
def rise_since_test(found_radius: Length, test_radius: Length) -> Position:
    """The difference of the loaded radii, in m.

    >>> rise_since_test(15.5, 13.75)
    1.75
    """
    return found_radius - test_radius


@figure(
    name="cg_height_by_lift",
    means="center of gravity above ground, by lifting the rear axle",
    ground=CENTER_OF_GRAVITY.recalled("axle lift method"),
    form="cg height = loaded radius + wheelbase × (raised front load − level front load) / (weight × tan(A)), "
    "sin(A) = raise / wheelbase; on the tires as found higher by front rise + (rear rise − front rise) × "
    "(1 − level front load / weight)",
    reads={
        "loaded_radius": "lift_test_loaded_radius",
        "front_rise": "front_rise_since_test",
        "rear_rise": "rear_rise_since_test",
    },
)
def found_cg_height(
    wheelbase: Length,
    weight: Weight,
    level_front_load: Weight,
    raised_front_load: Weight,
    raise_: Length,
    loaded_radius: Length,
    front_rise: Position = 0.0,
    rear_rise: Position = 0.0,
) -> Length:
    """In m above level ground: loads in N off the scale, `raise` how far the rear axle was lifted; a height that was
    entered stands before it.

    The front scale gains little and its error is multiplied: lift high, lock the springs, weigh with the same fuel
    and load. Front and rear tires of one loaded radius in the test; where the axles stand higher or lower on the tires
    as found, the height is carried over to these. Raises for readings that put it below the ground.

    sin A = 0.6, so tan A = 0.75: 120 × 200 / (5000 × 0.75) = 6.4 above the axles, 22.4 above the ground. On found tires
    1 taller in front and 2 behind, half of the weight behind: 1.5 more.

    >>> round(found_cg_height(120.0, 5000.0, 2500.0, 2700.0, 72.0, 16.0), 9)
    22.4
    >>> round(found_cg_height(120.0, 5000.0, 2500.0, 2700.0, 72.0, 16.0, 1.0, 2.0), 9)
    23.9
    """
    if not raise_ < wheelbase:
        raise Impossible("raise", "{raise}", "a lift much less than {wheelbase}")
    if not level_front_load < weight:
        raise Impossible("level_front_load", "{level_front_load}", "the front axle's share of {weight}")
    if not raised_front_load < weight:
        raise Impossible("raised_front_load", "{raised_front_load}", "the front axle's share of {weight}")
    gain = (raised_front_load - level_front_load) / weight
    height = loaded_radius + wheelbase * gain / tan(asin(raise_ / wheelbase))
    if not height > 0:
        raise Impossible(
            "raised_front_load",
            "{raised_front_load}",
            "more than {level_front_load}: this much less puts the center of gravity below ground",
        )
    return height + rise_at(1 - level_front_load / weight, front_rise, rear_rise)
