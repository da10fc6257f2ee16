"""What offset and tire do to the steering and the wheel bearings."""

from typing import Annotated

from planner.quantities.kinds import CHANGE, POSITION, Angle, Distance, Position, Ratio, Weight, WeightChange
from planner.sources.citing import COMMON_PRACTICE, practice
from planner.worksheet.declare import Finding, limit, rule
from planner.worksheet.turning import magnitude, where

most_scrub_change = limit(
    Distance,
    "1/2 in",
    means="how far the scrub radius may move from what was found",
    ground=practice("you hardly feel half an inch at the steering wheel"),
)
most_bearing_moment = limit(
    Ratio,
    "1.10",
    means="most moment on the wheel bearings, against what was found",
    ground=practice("a tenth more costs a quarter of the bearing's life"),
)
most_drag_link_angle = limit(
    Angle,
    "10 deg",
    means="how far a drag link may stand off level at ride height",
    ground=practice("the nearer to level the less every bump steers; from memory"),
)


@rule(
    severity="caution",
    danger="control",
    notices="the drag link is far off level",
    says="At ride height the drag link is {drag_link_angle} off level; the limit is {most_drag_link_angle}.",
    clear_says="At ride height the drag link is {drag_link_angle} off level, within the limit of "
    "{most_drag_link_angle}.",
    cure="Every bump steers the truck, and its joints bind at full droop. Don't heat or bend a steering part. Have "
    "somebody licensed for steering work bring it closer to level[, by at least {to_clear},] with a pitman or "
    "steering arm made for it.",
    ground=COMMON_PRACTICE,
    holds={"drag_link_angle": "9.9 deg", "most_drag_link_angle": "10 deg"},
    fails={"drag_link_angle": "10.1 deg", "most_drag_link_angle": "10 deg"},
    only_with=("drag_link_angle",),
    beyond="over by",
    as_found=True,
)
def drag_link_off_level(drag_link_angle: Angle, most_drag_link_angle: Angle) -> Angle:
    """Margin in rad, to either side of level."""
    return most_drag_link_angle - magnitude(drag_link_angle)


@rule(
    severity="caution",
    danger="control",
    notices="the scrub radius has changed",
    says="The scrub radius goes from {found_scrub_radius} to {planned_scrub_radius}; the limit is a change of "
    "{most_scrub_change}.",
    clear_says="The scrub radius goes from {found_scrub_radius} to {planned_scrub_radius}: within the limit, a change "
    "of {most_scrub_change}.",
    cure="Choose an offset that brings the tire's center plane back[ by at least {to_clear}], best of all to where it "
    "was, or plan for it: kickback, heavier steering, a pull when one front brake grabs, more load on steering box, "
    "tie rod ends and kingpins. Have them checked, and road-test after alignment.",
    ground=COMMON_PRACTICE,
    holds={"found_scrub_radius": "1.5 in", "planned_scrub_radius": "1.99 in", "most_scrub_change": "1/2 in"},
    fails={"found_scrub_radius": "1.5 in", "planned_scrub_radius": "2.01 in", "most_scrub_change": "1/2 in"},
    beyond="over by",
    bounds="the scrub radius",
    follows=("scrub_radius_changed_sign",),
)
def scrub_radius_changed(
    found_scrub_radius: Position, planned_scrub_radius: Position, most_scrub_change: Distance
) -> Position:
    """Margin in m."""
    return most_scrub_change - magnitude(planned_scrub_radius - found_scrub_radius)


@rule(
    severity="caution",
    danger="control",
    notices="the scrub radius has changed sign",
    says="The scrub radius goes from {found_scrub_radius} to {planned_scrub_radius}, through zero to the other side: "
    "braking and ruts now turn the wheels the other way.",
    cure="Choose an offset that keeps the tire's center plane on its old side of the kingpin line. If not, have a "
    "qualified person align and road-test it, and try one-sided braking at low speed.",
    ground=COMMON_PRACTICE,
    holds={"found_scrub_radius": "1.5 in", "planned_scrub_radius": "0.01 in"},
    fails={"found_scrub_radius": "1.5 in", "planned_scrub_radius": "-0.01 in"},
    beyond="across by",
    clear_says="The scrub radius goes from {found_scrub_radius} to {planned_scrub_radius} and stays on its side.",
    bounds="the side of the scrub radius",
)
def scrub_radius_changed_sign(
    found_scrub_radius: Position, planned_scrub_radius: Position
) -> Annotated[Finding, POSITION]:
    """Margin in m: how far the planned one stays on the found one's side; holds outright where it is the same."""
    if planned_scrub_radius == found_scrub_radius:
        return Finding(True)
    return Finding(where(found_scrub_radius, planned_scrub_radius, -planned_scrub_radius))


@rule(
    severity="caution",
    danger="wheel off",
    notices="the moment on the wheel bearings has grown",
    says="In a corner the wheel bearings carry {bearing_moment_ratio} times the moment found; the limit is "
    "{most_bearing_moment}.",
    clear_says="In a corner the wheel bearings carry {bearing_moment_ratio} times the moment found[; what counts is "
    "their own rating of {bearing_rating}].",
    cure="An offset that brings the tire's center plane closer to the middle of the bearings, or a smaller tire. If "
    "not, put in new bearings, set right, and seals; check play and heat after the first drive and at every service. "
    "Ask the axle maker if there still is one.",
    ground=COMMON_PRACTICE,
    holds={"bearing_moment_ratio": "1.10", "most_bearing_moment": "1.10"},
    fails={"bearing_moment_ratio": "1.101", "most_bearing_moment": "1.10"},
    beyond="over by",
    bounds="the wheel bearings",
    follows=("bearings_overloaded", "bearings_past_rating"),
)
def bearing_moment_grown(
    bearing_moment_ratio: Ratio, most_bearing_moment: Ratio, bearing_rating: Weight | None = None
) -> Annotated[Finding, CHANGE]:
    """Margin as a part of the moment found; where the bearings' own rating is entered, that is what counts."""
    return Finding(most_bearing_moment - bearing_moment_ratio if bearing_rating is None else True)


@rule(
    severity="caution",
    danger="wheel off",
    notices="in a corner the wheel bearings see more than they are rated for",
    says="Fully loaded in a corner, this wheel bends its bearings like {bearing_load} would on the old wheel; they "
    "are rated for {bearing_rating}.",
    clear_says="Fully loaded in a corner, this wheel bends its bearings like {bearing_load} would on the old wheel, "
    "within their rating of {bearing_rating}.",
    cure="They run hot and wear early, and a seized bearing takes the wheel off. An offset that brings the tire's "
    "center plane closer to the middle of the bearings, a smaller tire, or less load on this axle. If not, ask the "
    "axle maker, and check play and heat after the first drive and at every service.",
    ground=practice("a bearing is rated with the wheel it came with; a longer arm and a taller tire bend it more"),
    holds={"bearing_load": "2,000 lb", "bearing_rating": "2,000 lb"},
    fails={"bearing_load": "2,001 lb", "bearing_rating": "2,000 lb"},
    beyond="over by",
    only_with=("bearing_rating",),
    bounds="the wheel bearings' rating",
    follows=("bearings_overloaded",),
    as_found=True,
)
def bearings_past_rating(bearing_load: Weight, bearing_rating: Weight) -> WeightChange:
    """Margin in N of one side."""
    return bearing_rating - bearing_load
