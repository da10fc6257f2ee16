"""How the truck stands to the eye: the tire in its fender opening, rake, and the front's stance beside the rear's.

The opening is measured from the axle's center in five directions, at ride height; the tire above the hub is taken
round, since only its foot is flattened. What is drawn and told here is a new tire's size: what it grows to in service
counts where it may touch.
"""

from math import atan

from planner.quantities.kinds import Angle, Distance, Length, Position, Share
from planner.sources.reasoning import GEOMETRY
from planner.worksheet.declare import figure
from planner.worksheet.turning import least


@figure(means="fender opening's width at hub height", ground=GEOMETRY)
def opening_width(opening_ahead: Length, opening_behind: Length) -> Length:
    """From its front edge to its rear edge, in m.

    >>> opening_width(22.0, 23.0)
    45.0
    """
    return opening_ahead + opening_behind


@figure(
    means="least of what was measured from the axle's center up to the opening, straight and halfway",
    ground=GEOMETRY,
    form="tightest overhead = the least of opening top, opening up ahead and opening up behind",
)
def tightest_overhead(
    opening_top: Length, opening_up_ahead: Length | None = None, opening_up_behind: Length | None = None
) -> Length:
    """What the tightest point of the opening is no further off than; all in m.

    >>> tightest_overhead(24.0, 23.5), tightest_overhead(24.0)
    (23.5, 24.0)
    """
    return least(opening_top, opening_up_ahead or opening_top, opening_up_behind or opening_top)


@figure(means="how much of the fender opening's width the tire takes", ground=GEOMETRY)
def fender_fill(overall_diameter: Length, opening_width: Length) -> Share:
    """The tire over the opening: past 1 it goes behind the sheet metal; both in m.

    >>> fender_fill(36.0, 45.0)
    0.8
    """
    return overall_diameter / opening_width


@figure(means="gap between tire and fender opening, straight ahead, at rest", ground=GEOMETRY)
def gap_ahead(opening_ahead: Length, overall_diameter: Length) -> Position:
    """What the tire's radius leaves, in m; negative where the edge hides part of the tire.

    >>> gap_ahead(22.0, 36.0)
    4.0
    """
    return opening_ahead - overall_diameter / 2


@figure(means="gap between tire and fender opening, up ahead, at rest", ground=GEOMETRY)
def gap_up_ahead(opening_up_ahead: Length, overall_diameter: Length) -> Position:
    """The same halfway between ahead and up, in m.

    >>> gap_up_ahead(23.0, 36.0)
    5.0
    """
    return opening_up_ahead - overall_diameter / 2


@figure(means="gap between tire and fender opening, at the top, at rest", ground=GEOMETRY)
def gap_top(opening_top: Length, overall_diameter: Length) -> Position:
    """The same straight up, in m.

    >>> gap_top(24.0, 36.0)
    6.0
    """
    return opening_top - overall_diameter / 2


@figure(means="gap between tire and fender opening, up behind, at rest", ground=GEOMETRY)
def gap_up_behind(opening_up_behind: Length, overall_diameter: Length) -> Position:
    """The same halfway between behind and up, in m.

    >>> gap_up_behind(23.0, 36.0)
    5.0
    """
    return opening_up_behind - overall_diameter / 2


@figure(means="gap between tire and fender opening, straight behind, at rest", ground=GEOMETRY)
def gap_behind(opening_behind: Length, overall_diameter: Length) -> Position:
    """The same straight back, in m.

    >>> gap_behind(22.5, 36.0)
    4.5
    """
    return opening_behind - overall_diameter / 2


@figure(
    means="gap to the same point of the opening straight ahead, axle up on its bump stop",
    ground=GEOMETRY,
    form="bump gap ahead = √(opening ahead² + bump travel²) − overall diameter / 2",
)
def bump_gap_ahead(opening_ahead: Length, bump_travel: Distance, overall_diameter: Length) -> Position:
    """The axle's center has come up: the point lies below it now, and further off; all in m.

    >>> bump_gap_ahead(24.0, 7.0, 36.0)
    7.0
    """
    away: float = (opening_ahead**2 + bump_travel**2) ** 0.5
    return away - overall_diameter / 2


@figure(
    means="gap to the same point of the opening up ahead, axle up on its bump stop",
    ground=GEOMETRY,
    form="bump gap up ahead = √(opening up ahead² − √2 × opening up ahead × bump travel + bump travel²) − "
    "overall diameter / 2",
    turns=("opening_up_ahead", "bump_travel"),
)
def bump_gap_up_ahead(opening_up_ahead: Length, bump_travel: Distance, overall_diameter: Length) -> Position:
    """The point lies as far ahead as up, and the axle's center comes up by the travel; all in m.

    >>> round(bump_gap_up_ahead(2**0.5 * 20.0, 5.0, 36.0), 9)
    7.0
    """
    away: float = (opening_up_ahead**2 - 2**0.5 * opening_up_ahead * bump_travel + bump_travel**2) ** 0.5
    return away - overall_diameter / 2


@figure(means="gap to the top of the opening, axle up on its bump stop", ground=GEOMETRY)
def bump_gap_top(opening_top: Length, bump_travel: Distance, overall_diameter: Length) -> Position:
    """Straight up the whole travel is lost, in m; negative where the tire goes up behind the edge, or into it.

    >>> bump_gap_top(24.0, 3.0, 36.0)
    3.0
    """
    return opening_top - bump_travel - overall_diameter / 2


@figure(
    means="gap to the same point of the opening up behind, axle up on its bump stop",
    ground=GEOMETRY,
    form="bump gap up behind = √(opening up behind² − √2 × opening up behind × bump travel + bump travel²) − "
    "overall diameter / 2",
    turns=("opening_up_behind", "bump_travel"),
)
def bump_gap_up_behind(opening_up_behind: Length, bump_travel: Distance, overall_diameter: Length) -> Position:
    """The same behind, in m.

    >>> round(bump_gap_up_behind(2**0.5 * 20.0, 5.0, 36.0), 9)
    7.0
    """
    away: float = (opening_up_behind**2 - 2**0.5 * opening_up_behind * bump_travel + bump_travel**2) ** 0.5
    return away - overall_diameter / 2


@figure(
    means="gap to the same point of the opening straight behind, axle up on its bump stop",
    ground=GEOMETRY,
    form="bump gap behind = √(opening behind² + bump travel²) − overall diameter / 2",
)
def bump_gap_behind(opening_behind: Length, bump_travel: Distance, overall_diameter: Length) -> Position:
    """The same straight back, in m.

    >>> bump_gap_behind(24.0, 7.0, 36.0)
    7.0
    """
    away: float = (opening_behind**2 + bump_travel**2) ** 0.5
    return away - overall_diameter / 2


@figure(means="frame above ground at this axle", ground=GEOMETRY)
def frame_height(static_loaded_radius: Length, ride_height: Distance) -> Length:
    """The axle's center above ground, and the frame above that, in m.

    >>> frame_height(16.0, 14.0)
    30.0
    """
    return static_loaded_radius + ride_height


@figure(means="how much higher the frame is at the rear axle than at the front", ground=GEOMETRY)
def rake_height(front_frame_height: Length, rear_frame_height: Length) -> Position:
    """Positive where the front sits lower; in m over the wheelbase.

    >>> rake_height(30.0, 31.5)
    1.5
    """
    return rear_frame_height - front_frame_height


@figure(means="how far the frame leans down toward the front", ground=GEOMETRY)
def rake(rake_height: Position, wheelbase: Length) -> Angle:
    """In rad; negative where the front sits higher.

    >>> from math import degrees
    >>> round(degrees(rake(100.0, 100.0)), 9)
    45.0
    """
    return atan(rake_height / wheelbase)


@figure(means="how much further the truck leans down toward the front than as found", ground=GEOMETRY)
def rake_gained(front_rise: Position, rear_rise: Position, wheelbase: Length) -> Angle:
    """In rad, from the rise at both axles, whatever the rake was.

    >>> from math import degrees
    >>> round(degrees(rake_gained(1.0, 101.0, 100.0)), 9)
    45.0
    """
    return atan((rear_rise - front_rise) / wheelbase)


@figure(means="how much further the front tires stick out past the fender than the rear ones", ground=GEOMETRY)
def poke_difference(front_poke: Position, rear_poke: Position) -> Position:
    """Negative where the rear ones stick out further; in m.

    >>> poke_difference(0.5, -0.25)
    0.75
    """
    return front_poke - rear_poke


@figure(means="front track minus rear track", ground=GEOMETRY)
def track_difference(front_track: Length, rear_track: Length) -> Position:
    """Half of it is how far a front tire stands outside the rear one's line, in m.

    >>> track_difference(66.0, 65.0)
    1.0
    """
    return front_track - rear_track
