"""What the sweep takes of the axle's travel where nobody measured it: stop spacings, side shift, give, and lean."""

from planner.quantities.kinds import Angle, Distance, Length, Position, Ratio
from planner.sources.citing import practice
from planner.sources.reasoning import GEOMETRY
from planner.worksheet.declare import assumed, figure

stops_share = assumed(
    Ratio,
    "0.6 ± 0.2",
    means="spacing of the bump stops as a share of the face-to-face width",
    ground=practice("0.4 to 0.8: at the frame rails, which are farther in the narrower the frame"),
    better="the spacing of the bump stops (travel.stops_apart)",
)
droop_share = assumed(
    Ratio,
    "0.6 ± 0.2",
    means="spacing of what limits droop as a share of the face-to-face width",
    ground=practice("0.4 to 0.8: shocks, straps and springs sit about where the bump stops do"),
    better="the spacing of what limits droop (travel.droop_apart)",
)
bump_gives = assumed(
    Distance,
    "1/2 in ± 1/2 in",
    means="how far a bump stop squashes",
    ground=practice("nothing for steel on steel, up to an inch for a tall rubber"),
    better="how far the bump stop squashes (travel.bump_gives)",
)
side_shift = assumed(
    Distance,
    "1/4 in ± 1/4 in",
    means="how far the axle moves sideways when it rolls as far as it can",
    ground=practice("up to half an inch on leaf springs; a track bar moves it more: measure it"),
    better="how far the axle moves sideways (travel.side_shift)",
)
camber = assumed(
    Angle,
    "0.5 deg ± 1 deg",
    means="lean of the wheel at rest; plus if the top leans out",
    ground=practice("half a degree out on a front axle, give or take a degree for a worn or bent one"),
    better="the wheel's camber",
)
toe = assumed(
    Position,
    "1/16 in ± 1/8 in",
    means="how much closer together the two tires are in front than behind",
    ground=practice("a sixteenth in, give or take an eighth on a worn linkage"),
    better="the wheels' toe",
)
road_cross_travel = assumed(
    Distance,
    "6 in",
    means="the most a road lifts one wheel over the other",
    ground=practice("a curb under one wheel"),
)


@figure(
    means="spacing of the bump stops, as the sweep uses it",
    ground=GEOMETRY,
    form="bump_spacing = stops_apart, else stops_share × face_to_face",
)
def bump_spacing(stops_share: Ratio, face_to_face: Length, stops_apart: Length | None = None) -> Length:
    """In m: as measured, else a part of the face-to-face width.

    >>> bump_spacing(0.5, 1.5, None), bump_spacing(0.5, 1.5, 0.8)
    (0.75, 0.8)
    """
    return stops_share * face_to_face if stops_apart is None else stops_apart


@figure(
    means="spacing of what limits droop, as the sweep uses it",
    ground=GEOMETRY,
    form="droop_spacing = droop_apart, else droop_share × face_to_face",
)
def droop_spacing(droop_share: Ratio, face_to_face: Length, droop_apart: Length | None = None) -> Length:
    """In m: as measured, else a part of the face-to-face width.

    >>> droop_spacing(0.5, 1.5, None), droop_spacing(0.5, 1.5, 0.8)
    (0.75, 0.8)
    """
    return droop_share * face_to_face if droop_apart is None else droop_apart


@figure(means="bump travel with the stop squashed, as the sweep uses it", ground=GEOMETRY)
def squeezed_bump(bump_travel: Distance, bump_gives: Distance) -> Distance:
    """In m.

    >>> squeezed_bump(75.0, 12.0)
    87.0
    """
    return bump_travel + bump_gives
