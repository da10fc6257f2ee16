"""The vehicle as a whole: what it is, its sizes and weights, what it is for, and what the law where it runs asks."""

from datetime import date
from typing import Annotated, Literal

from pydantic import Field

from planner.project.models.entry import (
    ADistance,
    ALength,
    AnAngle,
    APosition,
    AShare,
    ASpeed,
    AText,
    ATurningSpeed,
    AWeight,
    AYesNo,
    Reads,
    Table,
    fact,
    words,
)
from planner.project.models.tools import LIFT_TEST, PLUMB, SCALE, TAPE
from planner.quantities import kinds


class Ends(Table):
    """The low points in front, in back and between the axles, as found and sitting level, for the ramp angles."""

    point_ahead: ALength = fact(
        "how far the lowest front point is ahead of the front axle center",
        name="front_point_ahead",
        example="26 in ± 1/2 in",
        usual=PLUMB,
    )
    point_ahead_height: ALength = fact(
        "height of that front point above level ground, on the tires as found",
        name="front_point_found_height",
        example="20 in ± 1/2 in",
        usual=PLUMB,
    )
    point_behind: ALength = fact(
        "how far the lowest rear point is behind the rear axle center",
        name="rear_point_ahead",
        example="40 in ± 1/2 in",
        usual=PLUMB,
    )
    point_behind_height: ALength = fact(
        "height of that rear point above level ground, on the tires as found",
        name="rear_point_found_height",
        example="22 in ± 1/2 in",
        usual=PLUMB,
    )
    lowest_between: ALength = fact(
        "height of the lowest point between the axles, on the tires as found",
        name="found_belly_height",
        example="16 in ± 1/2 in",
        usual=PLUMB,
    )
    lowest_between_position: ADistance = fact(
        "how far that point is behind the front axle center",
        name="belly_position",
        example="55 in ± 1 in",
        usual=PLUMB,
    )
    front_overhang: ADistance = fact(
        "how far the truck reaches ahead of the front axle center", example="34 in ± 1/2 in", since=2, usual=PLUMB
    )
    rear_overhang: ADistance = fact(
        "how far the truck reaches behind the rear axle center", example="46 in ± 1/2 in", since=2, usual=PLUMB
    )


class LiftTest(Table):
    """The axle-lift weighing that finds how high the center of gravity is."""

    weight: AWeight = fact("weight of the whole truck as tested", example="5,400 lb ± 20 lb", usual=SCALE)
    level_front_load: AWeight = fact(
        "front axle's scale reading with the truck level", example="2,700 lb ± 10 lb", usual=SCALE
    )
    raised_front_load: AWeight = fact(
        "front axle's scale reading with the rear axle raised",
        example="2,890 lb ± 10 lb",
        how="Chock the front wheels both ways; lift at the axle with a rated lift; nobody under it",
        usual=SCALE,
    )
    lifted_by: ALength = fact("how far the rear axle was raised", name="raise", example="24 in ± 1/4 in", usual=TAPE)
    loaded_radius: ALength = fact(
        "loaded radius of the tires in the test",
        name="lift_test_loaded_radius",
        example="15 1/4 in ± 1/8 in",
        usual=TAPE,
    )


class Vehicle(Table):
    """What the truck is, and its sizes and weights as found."""

    name: AText = words("what you call it", example="County road truck")
    description: AText = words(
        "what it is and where it comes from", example="1950s 4×4 with solid axles front and rear"
    )
    year: Annotated[int | None, Field(ge=1880, le=2200)] = words("model year, if known", example="1953")
    units: Literal["inch", "metric"] = words("the units you think in", default="inch", example="inch")
    fractions: Annotated[bool, Reads(kinds.YES_NO)] = words(
        "inches to the nearest sixteenth", default=True, example="true"
    )
    wheelbase: ALength = fact(
        "front axle center to rear axle center",
        example="126 in ± 1/4 in",
        how="Steer straight ahead and measure both sides; they should agree",
        usual=PLUMB,
    )
    odometer: ALength = words(
        "what the odometer shows", example="12,345 mi", since=2, read_by="what comes again by distance"
    )
    odometer_on: date | None = words("when it was read", since=2, read_by="what comes again by distance")
    gross_weight: AWeight = fact("gross weight the truck is rated or registered for", example="8,700 lb")
    cg_height: ALength = fact(
        "height of the center of gravity above ground, as found",
        name="found_cg_height",
        example="32 in ± 1 in",
        how="From a lift test; leave blank if nobody measured it",
        usual=LIFT_TEST,
    )
    overall_height: ALength = fact(
        "height of the highest fixed point above ground, as found",
        name="found_overall_height",
        example="78 in ± 1/2 in",
        usual=PLUMB,
    )
    overall_height_position: APosition = fact(
        "how far that highest point is behind the front axle center", example="70 in ± 2 in", since=2, usual=PLUMB
    )
    body_width: ALength = fact("width of the body at its widest, mirrors aside", example="76 in ± 1/4 in", usual=PLUMB)
    lamp_height: ALength = fact(
        "height of the headlight center above ground, as found",
        name="found_lamp_height",
        example="38 in ± 1/4 in",
        usual=TAPE,
    )
    ends: Ends = Field(default=Ends.model_construct(), description="Low points for the ramp angles.")
    lift_test: LiftTest = Field(default=LiftTest.model_construct(), description="Axle-lift weighing.")


class Use(Table):
    """What you'll use the truck for when it's done."""

    top_speed: ASpeed = fact("the fastest you plan to drive", example="65 mph")
    cruise_speed: ASpeed = fact("the road speed it should hold all day", example="55 mph")
    lowest_cruise_engine_speed: ATurningSpeed = fact(
        "the slowest the engine should turn at cruise", example="1,600 rpm"
    )
    highest_cruise_engine_speed: ATurningSpeed = fact(
        "the fastest the engine should turn at cruise", example="2,800 rpm"
    )
    wanted_crawl_speed: ASpeed = fact("the slowest speed you want in low gear at idle", example="1.5 mph")
    locked_on_hard_road: AYesNo = fact("if four-wheel drive is ever locked on a hard, dry road", example="no", since=2)
    wanted_grade: AShare = fact("the steepest grade it should climb in low", example="40 %")
    door_height: ALength = fact("height of the lowest door or trailer it has to fit under", example="84 in")
    wanted_approach_angle: AnAngle = fact("the least approach angle you want", example="30 deg")
    wanted_departure_angle: AnAngle = fact("the least departure angle you want", example="25 deg")
    wanted_breakover_angle: AnAngle = fact("the least breakover angle you want", example="20 deg")


class Legal(Table):
    """What the law says where the truck is registered: enter your own; each default names its source."""

    place: AText = words("where the truck is registered", example="the county where it is titled")
    overall_width: ALength = fact("most overall width allowed", name="legal_width", example="102 in")
    greatest_lift: ADistance = fact(
        "how far the body may be lifted, by local code", name="legal_lift", example="4 in", since=2
    )
    lamp_lowest: ALength = fact("lowest headlight center allowed", example="22 in")
    lamp_highest: ALength = fact("highest headlight center allowed", example="54 in")
    greatest_poke: APosition = fact(
        "how far a tire may stick out past the fender, by local code", name="legal_poke", example="0 in"
    )
