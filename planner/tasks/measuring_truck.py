"""Measuring the truck as a whole: its plates, weights, stance, gearing and speedometer drive, as found."""

from planner.quantities.kinds import POSITION, RATIO, WEIGHT
from planner.sources.citing import practice
from planner.tasks.kind import Bound, Only, Record, StandingTask

SIDES_AGREE = practice("a frame and axles whose sides differ by more want looking at first")

TASKS = (
    StandingTask(
        id="measure.plates",
        phase="measure",
        title="Copy the plates: ratings, gross weight, engine, gearbox, transfer case",
        how="Data plates, tags on gearbox, transfer case and axles, and the maker's book. Photograph each. What a "
        "plate does not say is left blank in the project: no guess goes in as a rating.",
        hours=2,
        asks=(
            "gross_weight",
            "axle_rating",
            "axle_shaft_rating",
            "driven",
            "bearing_rating",
            "gearbox_ratio",
            "transfer_ratio",
            "engine_torque",
            "highest_engine_speed",
            "part_time_four_wheel_drive",
            "stated_stud_circle",
        ),
    ),
    StandingTask(
        id="measure.weigh",
        phase="measure",
        title="Weigh the truck axle by axle, with everything on it that will be there",
        how="A truck scale: tank full, driver in, tools and spare aboard, then once more with the heaviest load that "
        "it will carry, or reckon that. Front axle alone, rear axle alone, both; the two must add up. Keep the ticket.",
        hours=3,
        after=("safe.look_over",),
        caution="If the truck is not fit for the road take it to the scale on a trailer.",
        records=Record(
            "scale reading of this axle",
            WEIGHT,
            most=Bound("axle_rating", practice("an axle carries at the most what its plate says")),
            fills="axle_load",
        ),
        asks=("axle_load", "laden_load", "tires"),
        for_rules=(
            "loads.axle_overloaded",
            "loads.truck_overloaded",
            "loads.bearings_overloaded",
            "tire.carries_less_than_load",
            "tire.carries_less_than_rating",
        ),
        per="axle",
    ),
    StandingTask(
        id="measure.lift_test",
        phase="measure",
        title="Find the center of gravity by weighing with the rear axle raised",
        how="Front axle on a platform scale, springs blocked so that they cannot move, tires hard, tank full. Read it "
        "level, raise the rear axle two feet with a rated lift at the axle, read again, measure the lift. Three times.",
        hours=4,
        after=("measure.weigh",),
        caution="The truck wants to roll down off the lift: front wheels chocked both ways on the scale, steering "
        "straight, nobody in, under or before it. If you have not the lift for it let a shop with scales do it.",
        asks=(
            "weight",
            "level_front_load",
            "raised_front_load",
            "raise",
            "lift_test_loaded_radius",
            "found_cg_height",
        ),
        for_rules=("stance.cg_not_measured", "stance.stability_fallen", "stance.tips_before_it_slides"),
    ),
    StandingTask(
        id="measure.stance",
        phase="measure",
        title="Measure wheelbase, heights, width and the low points, standing level",
        how="On its found tires at their pressures. Plumb lines from hubs, bumpers and the lowest points to the "
        "floor, then a tape. Wheelbase on both sides with the wheels straight: write down left less right.",
        hours=2,
        after=("safe.chock",),
        records=Record(
            "wheelbase, left less right",
            POSITION,
            least=Bound("-1/4 in", SIDES_AGREE),
            most=Bound("1/4 in", SIDES_AGREE),
        ),
        asks=(
            "wheelbase",
            "found_overall_height",
            "body_width",
            "found_lamp_height",
            "front_point_ahead",
            "front_point_found_height",
            "rear_point_ahead",
            "rear_point_found_height",
            "found_belly_height",
            "belly_position",
        ),
        for_rules=(
            "stance.approach_angle_lost",
            "stance.departure_angle_lost",
            "stance.breakover_angle_lost",
            "stance.approach_below_wanted",
            "stance.departure_below_wanted",
            "stance.breakover_below_wanted",
        ),
    ),
    StandingTask(
        id="measure.found_tires",
        phase="measure",
        title="Read the found tires' sidewalls and date codes; measure them standing",
        how="Size, construction, load, pressure, date code, tube or not. At pressure and under load: axle's center to "
        "the ground, and the way that it rolls in one turn. Diameter by a tape around the tread over 3.1416.",
        hours=1.5,
        caution="Stay out of the line of a multi-piece rim while there is air in it, and add none. Roll the truck "
        "by hand, on level ground, nobody in front of it, chocks ready.",
        asks=(
            "found_designation",
            "found_construction",
            "found_overall_diameter",
            "found_section_width",
            "found_tread_width",
            "found_measured_loaded_radius",
            "found_rolling_circumference",
            "found_load_index",
            "found_load_capacity",
            "found_rated_pressure",
            "found_tire_tube",
            "found_date_code",
            "found_tire_mass",
            "found_spare_designation",
            "found_spare_diameter",
            "found_spare_stud_circle",
        ),
        for_rules=(
            "tire.too_old",
            "tire.found_tires_too_old",
            "loads.found_tires_overloaded",
            "tire.radials_in_front_of_bias",
            "tire.radial_and_bias_on_one_truck",
            "fit.spare_differs_in_size",
        ),
    ),
    StandingTask(
        id="measure.found_wheels",
        phase="measure",
        title="Measure a found wheel: width, backspace, bore, seats, weight",
        how="The spare will do if it is the same. Straight edge across the rim for the backspace, caliper for bore "
        "and stud holes, a scale for the weight of wheel and tire. Look for cracks, welds and drilled-over holes.",
        hours=1,
        after=("safe.air_out", "safe.stands", "safe.thread_hand"),
        caution="A wheel that was welded, cracked or drilled anew is not used again, not even to move the truck. A "
        "multi-piece one stays in one piece.",
        asks=(
            "found_rim_diameter_code",
            "found_rim_width",
            "found_flange_thickness",
            "found_backspace",
            "found_offset",
            "found_wheel_bore",
            "found_wheel_stud_count",
            "found_wheel_stud_circle",
            "found_wheel_seat",
            "found_wheel_seat_angle",
            "found_seat_height",
            "found_disc_thickness",
            "found_disc_inner_face",
            "found_well_depth",
            "found_thickness",
            "found_barrel_radius",
            "found_wheel_load_rating",
            "found_greatest_pressure",
            "found_wheel_mass",
        ),
        for_rules=(
            "loads.found_wheels_overloaded",
            "wheel.unsprung_mass_grown",
        ),
    ),
    StandingTask(
        id="measure.axle_ratio",
        phase="measure",
        title="Prove the axle ratio by turning; count teeth; ask which sets exist",
        how="Mark the drive shaft and a wheel. With both wheels up turn both together ten times and count the shaft; "
        "with one up and the other held, twice the shaft's turns. Teeth through the filler hole. Ask a gear shop which "
        "sets exist for this carrier.",
        hours=2,
        after=("safe.stands", "safe.air_out"),
        caution="Axle on stands, other wheels chocked, out of gear, turned by hand only: never by the engine. Fingers "
        "stay out of the filler hole while anything turns.",
        records=Record(
            "turns of the drive shaft for one turn of both wheels",
            RATIO,
            least=Bound("found_axle_ratio", practice("ten turns tell a gear set from its neighbor"), times=0.99),
            most=Bound("found_axle_ratio", practice("ten turns tell a gear set from its neighbor"), times=1.01),
        ),
        asks=("axle_ratio", "found_axle_ratio", "ring_teeth", "pinion_teeth", "hub_ratio", "gear_sets", "differential"),
        for_rules=("gearing.ratio_differs_from_teeth", "gearing.no_gear_set_restores"),
        applies=(Only("driven", ("yes",)),),
        per="axle",
    ),
    StandingTask(
        id="measure.speedometer_drive",
        phase="measure",
        title="Count the speedometer's gears, cable turns, and idle speed",
        how="Pull the driven gear and count it and its driver, or read the pulses of the sender. The dial's small "
        "print often gives cable turns to the mile. Idle by a tachometer, warm.",
        hours=1.5,
        after=("safe.chock",),
        caution="Idle with doors open and wheels chocked: exhaust gas kills indoors.",
        for_rules=("speedometer.found_reading_off",),
        asks=("drive_teeth", "driven_teeth", "cable_turns_per_mile", "pulses_per_revolution", "idle_speed"),
    ),
)
