"""What the sweep through steer and travel means: will it touch, how far can it steer, which backspace fits."""

from typing import Annotated

from planner.quantities.kinds import ANGLE, Angle, Distance, Length, Position, Text
from planner.sources.citing import practice
from planner.sources.reasoning import GEOMETRY
from planner.worksheet.declare import Finding, limit, rule
from planner.worksheet.turning import least

obstacle_clearance = limit(
    Distance,
    "1 in",
    means="least clearance to an obstacle that states none of its own",
    ground=practice("an inch: tires grow with speed, springs wind up, and tape measures lie"),
)


_GO_AND_LOOK = (
    "Nobody under a raised truck. Put it on stands rated for it, the wheel turned and the axle where it gets close, "
    "and go look. Then "
)


@rule(
    severity="stop",
    danger="steering or brakes",
    notices="the tire or wheel comes too close to what steers, brakes or carries fuel",
    says="At the worst, {clearance_place}: {guarded_clearance}, needs {required_clearance}[; too close {onset_words}].",
    clear_says="At the worst, {clearance_place}: {guarded_clearance}, no less than the {required_clearance} it needs.",
    cure=_GO_AND_LOOK
    + "move the obstacle, limit the steer or the bump, or choose a smaller tire or another backspace; prove "
    "it with clay before the truck rolls[. {kind_words}].",
    ground=GEOMETRY,
    holds={
        "guarded_clearance": "25.1 mm",
        "required_clearance": "25 mm",
        "clearance_place": "left front: tread to hose",
    },
    fails={
        "guarded_clearance": "24.9 mm",
        "required_clearance": "25 mm",
        "clearance_place": "left front: tread to hose",
    },
    follows=("tire_touches",),
)
def tire_too_near(
    guarded_clearance: Position,
    required_clearance: Distance,
    clearance_place: Text,
    onset_words: Text | None = None,
    kind_words: Text | None = None,
) -> Position:
    """Margin in m over the clearance that the obstacle must keep."""
    return guarded_clearance - required_clearance


@rule(
    severity="stop",
    danger="steering or brakes",
    notices="the tire or wheel touches",
    says="At the worst, {contact_place}: {contact_clearance}[; it touches {contact_onset_words}].",
    clear_says="At the worst, {contact_place}: {contact_clearance}, and nothing touches.",
    cure=_GO_AND_LOOK
    + "move the obstacle, limit the steer or the bump, or choose a smaller tire or another backspace; prove "
    "it with clay before the truck rolls.",
    ground=GEOMETRY,
    holds={"contact_clearance": "0.1 mm", "contact_place": "left front: tread to spring"},
    fails={"contact_clearance": "-0.1 mm", "contact_place": "left front: tread to spring"},
)
def tire_touches(contact_clearance: Position, contact_place: Text, contact_onset_words: Text | None = None) -> Position:
    """Margin in m to contact; for sheet metal on an axle that rolls no more than a road asks."""
    return contact_clearance


@rule(
    severity="caution",
    danger="breakage",
    notices="the tire touches sheet metal off the road",
    says="At the worst, {clearance_place}: {off_road_clearance}[; it touches {contact_onset_words}].",
    clear_says="At the worst, {clearance_place}: {off_road_clearance}, and nothing touches.",
    cure="Trim or move the sheet metal, or limit how far the axle can cross. If you live with it, the metal bends and "
    "its edge can cut a tire: roll the edge over, and look the tire over every time you've been off road.",
    ground=GEOMETRY,
    holds={"off_road_clearance": "0.1 mm", "clearance_place": "left front: tread to fender lip"},
    fails={"off_road_clearance": "-0.1 mm", "clearance_place": "left front: tread to fender lip"},
    follows=("tire_touches",),
)
def tire_touches_off_road(
    off_road_clearance: Position, clearance_place: Text, contact_onset_words: Text | None = None
) -> Position:
    """Margin in m to contact, over all that the axle can do."""
    return off_road_clearance


@rule(
    severity="caution",
    danger="breakage",
    notices="the tire or wheel comes closer to something than you want",
    says="At the worst, {clearance_place}: {wished_clearance}, you want {required_clearance}[; too close "
    "{onset_words}].",
    clear_says="At the worst, {clearance_place}: {wished_clearance}, no less than the {required_clearance} you want.",
    cure=_GO_AND_LOOK
    + "say how close you'll let it come, move it, or choose a smaller tire or another backspace. Tires grow and "
    "springs wind up: a small gap on paper is no gap on the road.",
    ground=GEOMETRY,
    holds={
        "wished_clearance": "25.1 mm",
        "required_clearance": "25 mm",
        "clearance_place": "left front: tread to rail",
    },
    fails={
        "wished_clearance": "24.9 mm",
        "required_clearance": "25 mm",
        "clearance_place": "left front: tread to rail",
    },
    follows=("tire_touches", "tire_too_near", "tire_touches_off_road"),
)
def tire_near(
    wished_clearance: Position, required_clearance: Distance, clearance_place: Text, onset_words: Text | None = None
) -> Position:
    """Margin in m over the room that is wanted."""
    return wished_clearance - required_clearance


_MEASURE_SPACING = (
    "Put the frame on stands before anybody gets under it. Measure across the truck, center to center: between the "
    "two bump stops, and between whatever limits droop on each side."
)


@rule(
    severity="stop",
    danger="steering or brakes",
    notices="nobody has measured how far the axle can roll, and that decides if the tire has room",
    says="How far the axle can roll decides if the tire has room at: {spacing_words}.",
    clear_says="However far apart the stops are, the tire has room at: {spacing_words}.",
    cure=_MEASURE_SPACING,
    ground=GEOMETRY,
    holds={"spacing_margin": "0.1 mm", "spacing_words": "the frame rail"},
    fails={"spacing_margin": "-0.1 mm", "spacing_words": "the frame rail"},
)
def roll_not_measured(spacing_margin: Position, spacing_words: Text) -> Position:
    """Margin in m of the nearest of those that only the spacings keep open."""
    return spacing_margin


@rule(
    severity="caution",
    danger="breakage",
    notices="nobody has measured how far the axle can roll, and that decides if the tire has the room you want",
    says="How far the axle can roll decides if the tire has the room you want at: {spacing_wish_words}.",
    clear_says="However far apart the stops are, the tire has the room you want at: {spacing_wish_words}.",
    cure=_MEASURE_SPACING,
    ground=GEOMETRY,
    holds={"spacing_wish_margin": "0.1 mm", "spacing_wish_words": "the frame rail"},
    fails={"spacing_wish_margin": "-0.1 mm", "spacing_wish_words": "the frame rail"},
)
def roll_not_measured_for_wish(spacing_wish_margin: Position, spacing_wish_words: Text) -> Position:
    """Margin in m of the nearest of those that only the spacings keep open."""
    return spacing_wish_margin


@rule(
    severity="stop",
    danger="steering or brakes",
    notices="the wheel gets too close before it reaches its steering stop",
    says="The inner wheel can turn {inner_steer_limit} before {inner_steer_binds} is too close; the stop lets it turn "
    "{stop_angle} now.",
    clear_says="There is room for the inner wheel to turn {inner_steer_limit}, and the stop lets it turn {stop_angle}.",
    cure="{advice} {inner_steer_limit}[: {stop_extension} more stop screw].[ The turning radius goes from "
    "{turning_radius} to {limited_turning_radius}.][ A backspace of {window_choice} would get the angle back.][ A "
    "tire no larger than {largest_tire} would keep it.] Steering stops are safety parts: have somebody licensed for "
    "steering work check them.",
    ground=GEOMETRY,
    holds={"inner_steer_limit": "29 deg", "stop_angle": "29 deg", "inner_steer_binds": "the stop"},
    fails={"inner_steer_limit": "28.9 deg", "stop_angle": "29 deg", "inner_steer_binds": "the spring"},
    only_with=("stop_angle",),
    follows=("tire_touches", "tire_too_near"),
)
def locks_too_wide(
    inner_steer_limit: Angle,
    stop_angle: Angle,
    inner_steer_binds: Text,
    stop_extension: Position | None = None,
    turning_radius: Length | None = None,
    limited_turning_radius: Length | None = None,
    window_choice: Position | None = None,
    largest_tire: Length | None = None,
) -> Annotated[Finding, ANGLE]:
    """Margin in rad between what fits and where the stop stands."""
    return Finding(inner_steer_limit - stop_angle, {"advice": _advice(inner_steer_limit)})


@rule(
    severity="stop",
    danger="steering or brakes",
    notices="the outer wheel can't steer as far as it does now",
    says="The outer wheel can turn {outer_steer_limit} before {outer_steer_binds} is too close; it turns "
    "{stop_angle_out} now.",
    clear_says="There is room for the outer wheel to turn {outer_steer_limit}, and it turns {stop_angle_out} now.",
    cure="{advice} {outer_steer_limit} for the outer wheel. Have somebody licensed for steering work check the stops.",
    ground=GEOMETRY,
    holds={"outer_steer_limit": "26 deg", "stop_angle_out": "26 deg", "outer_steer_binds": "the stop"},
    fails={"outer_steer_limit": "25.9 deg", "stop_angle_out": "26 deg", "outer_steer_binds": "the drag link"},
    only_with=("stop_angle_out",),
    follows=("tire_touches", "tire_too_near"),
)
def outer_lock_too_wide(
    outer_steer_limit: Angle, stop_angle_out: Angle, outer_steer_binds: Text
) -> Annotated[Finding, ANGLE]:
    """Margin in rad between what fits and how far the outer wheel now turns."""
    return Finding(outer_steer_limit - stop_angle_out, {"advice": _advice(outer_steer_limit)})


def _advice(steer_limit: float) -> str:
    """What to do about a stop, before the angle that it may stand at; none helps where there is no room straight.

    >>> _advice(0.5)[-33:], _advice(0.0)[:22]
    ('the steering stop to no more than', 'No steering stop helps')
    """
    if steer_limit <= 0:
        return "No steering stop helps: there's no room even with the wheels straight. The stop would have to be at"
    return "Before anybody drives it, set the steering stop to no more than"


@rule(
    severity="stop",
    danger="steering or brakes",
    notices="no backspace keeps the tire clear and within the law",
    says="No backspace works, even if you give up every wish and rule of practice: {hard_window_words}.",
    clear_says="There is a backspace that works: {hard_window_words}.",
    cure="Don't order any wheel for this tire: whatever the backspace, it comes too close to an obstacle or sticks "
    "out farther than the law allows. Change the tire width, move an obstacle, or limit the steer.",
    ground=GEOMETRY,
    holds={"hard_window_width": "0.01 in", "hard_window_words": "the spring binds below, the rail above"},
    fails={"hard_window_width": "-0.01 in", "hard_window_words": "the spring and the rail miss each other"},
)
def no_backspace_clears(hard_window_width: Position, hard_window_words: Text) -> Position:
    """Margin in m, as for every limit, counting only those behind which a stop stands."""
    return hard_window_width


@rule(
    severity="caution",
    danger="breakage",
    notices="no backspace keeps every wish and rule of practice",
    says="No backspace keeps every limit, wishes and rules of practice counted: {window_words}.",
    clear_says="There is a backspace that works: {window_words}.",
    cure="Decide what gives: another tire width, another limit, an obstacle moved, or less steer.[ Between "
    "{hard_window_low} and {hard_window_high} nothing is too close and it's legal: there you only give up a wish or a "
    "rule of practice.] Any wheel you order now breaks one of them.",
    ground=GEOMETRY,
    holds={"window_width": "0.01 in", "window_words": "the spring binds below, the poke above"},
    fails={
        "window_width": "-0.01 in",
        "window_words": "the spring and the poke fight",
        "hard_window_low": "4 in",
        "hard_window_high": "4 1/2 in",
    },
    follows=("no_backspace_clears",),
)
def no_backspace_fits(
    window_width: Position,
    window_words: Text,
    hard_window_low: Position | None = None,
    hard_window_high: Position | None = None,
) -> Position:
    """Margin in m: how wide the stretch of backspaces is, or by how much two limits miss each other."""
    return window_width


@rule(
    severity="caution",
    danger="breakage",
    notices="the backspace is outside the window that fits",
    says="You chose a backspace of {backspace}[; the least that keeps every limit is {window_low}][; the most is "
    "{window_high}]: {window_ends}.",
    clear_says="A backspace of {backspace} is inside the window, no less than {window_low} and no more than "
    "{window_high}: {window_ends}.",
    cure="Order a wheel inside the window[, {window_choice} in the steps its maker offers], or decide which limit "
    "gives. Once a wheel is made, its backspace stays: never make up for it with spacers its studs weren't made for.",
    ground=GEOMETRY,
    holds={
        "backspace": "4.49 in",
        "window_low": "4 in",
        "window_high": "4 1/2 in",
        "window_ends": "the rail binds below, the spring binds above",
    },
    fails={
        "backspace": "4.51 in",
        "window_low": "4 in",
        "window_high": "4 1/2 in",
        "window_ends": "the rail binds below, the spring binds above",
    },
    only_with=("window_ends",),
    follows=(
        "tire_touches",
        "tire_too_near",
        "tire_touches_off_road",
        "tire_near",
        "sidewalls_too_near",
        "spacing_below_makers",
        "spacing_below_usual",
        "poke_past_local_code",
        "wider_than_legal",
        "poke_past_greatest",
        "scrub_radius_changed",
        "scrub_radius_changed_sign",
        "bearing_moment_grown",
        "stability_fallen",
        "face_outside_rim",
    ),
)
def backspace_outside_window(
    backspace: Position,
    window_ends: Text,
    window_low: Position | None = None,
    window_high: Position | None = None,
    window_choice: Position | None = None,
    window_low_binds: Text | None = None,
    window_high_binds: Text | None = None,
) -> Position | None:
    """Margin in m to the nearer end; while one end is not known, nothing but how far past the other it lies."""
    over = None if window_low is None else backspace - window_low
    under = None if window_high is None else window_high - backspace
    if over is not None and under is not None:
        return least(over, under)
    past = over if under is None else under
    return past if past is not None and past < 0 else None
