"""Measuring the truck as a whole: its plates, weights, stance, gearing and speedometer drive, as found."""

from planner.quantities.kinds import POSITION, RATIO, WEIGHT
from planner.sources.citing import practice
from planner.tasks.kind import Bound, Only, Record, StandingTask

SIDES_AGREE = practice("if the two sides differ by more, have the frame and axles looked at first")

TASKS = (
    StandingTask(
        id="measure.plates",
        phase="measure",
        title="Copy the plates: ratings, weight, engine, transmission, transfer case",
        how="Data plates, tags on transmission, transfer case and axles, and the owner's or shop manual. Take a "
        "picture of each. If a plate doesn't say, leave it blank: never enter a guess as a rating.",
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
        title="Weigh the truck axle by axle, with everything aboard it will carry",
        how="Use a truck scale: tank full, driver in, tools and spare aboard. Then again with the heaviest load it "
        "will carry, or work that out. Front axle alone, rear axle alone, both; the two have to add up. Keep the "
        "ticket.",
        hours=3,
        after=("safe.look_over",),
        caution="If the truck isn't roadworthy, take it to the scale on a trailer.",
        records=Record(
            "scale reading of this axle",
            WEIGHT,
            most=Bound("axle_rating", practice("an axle carries no more than its plate says")),
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
        how="Front axle on a platform scale, springs blocked so they can't move, tires pumped hard, tank full. Read "
        "it level, raise the rear axle two feet with a rated lift at the axle, read it again, measure the lift. Do it "
        "three times.",
        hours=4,
        after=("measure.weigh",),
        caution="The truck wants to roll off the lift: front wheels chocked both ways on the scale, steering "
        "straight, nobody in, under or in front of it. If you don't have a lift for this, let a shop with scales do "
        "it.",
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
        how="On the tires it came with, at their pressures. Plumb lines from hubs, bumpers and the lowest points to "
        "the floor, then a tape. Wheelbase on both sides with the wheels straight: write down left minus right.",
        hours=2,
        after=("safe.chock",),
        records=Record(
            "wheelbase, left minus right",
            POSITION,
            least=Bound("-1/4 in", SIDES_AGREE),
            most=Bound("1/4 in", SIDES_AGREE),
        ),
        asks=(
            "wheelbase",
            "found_overall_height",
            "overall_height_position",
            "front_overhang",
            "rear_overhang",
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
        title="Read the old tires' sidewalls and date codes; measure them standing",
        how="Size, construction, load, pressure, date code, tube or not. At pressure and under load: axle center to "
        "the ground, and how far it rolls in one turn. Diameter: tape around the tread, divided by 3.1416.",
        hours=1.5,
        caution="Stand out of a multi-piece rim's line of fire while there's air in it, and don't add any. Roll the "
        "truck by hand, on level ground, nobody in front of it, chocks ready.",
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
        title="Measure an old wheel: width, backspace, bore, seats, weight",
        how="The spare will do if it's the same. Straightedge across the rim for the backspace, caliper for the bore "
        "and stud holes, a scale for wheel and tire together. Look for cracks, welds and redrilled holes.",
        hours=1,
        after=("safe.air_out", "safe.stands", "safe.thread_hand"),
        caution="Never use a welded, cracked or redrilled wheel again, not even to move the truck. Don't take a "
        "multi-piece one apart.",
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
        title="Turn it to prove the axle ratio; count teeth; ask which sets exist",
        how="Mark the driveshaft and a wheel. With both wheels up, turn both together ten times and count the shaft's "
        "turns; with one up and the other held, count the shaft's turns twice. Count teeth through the filler hole. "
        "Ask a gear shop which sets are made for this carrier.",
        hours=2,
        after=("safe.stands", "safe.air_out"),
        caution="Turn it by hand only, never with the engine. Keep fingers out of the filler hole while anything "
        "turns. Axle on stands, other wheels chocked, out of gear.",
        records=Record(
            "turns of the driveshaft for one turn of both wheels",
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
        how="Pull the driven gear and count its teeth and the drive gear's, or look up the sender's pulses. The small "
        "print on the dial often gives cable turns per mile. Read idle on a tachometer, warm.",
        hours=1.5,
        after=("safe.chock",),
        caution="Exhaust kills indoors: open the doors before you let it idle. Wheels chocked.",
        for_rules=("speedometer.found_reading_off",),
        asks=("drive_teeth", "driven_teeth", "cable_turns_per_mile", "pulses_per_revolution", "idle_speed"),
    ),
)
