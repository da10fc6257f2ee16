"""Ordering: the drawing confirmed in writing, then wheels, tires, fasteners, gears and the small parts."""

from collections.abc import Mapping

from planner.quantities.kinds import TEXT
from planner.tasks.kind import Only, Record, StandingTask

STUDS = ("stud_diameter", "threads_per_inch", "pitch")

# What each thing is ordered by, besides the stops that would make it wrong: nothing that a formula reads, where it goes
# by a number off the old one.
ORDERED_BY: Mapping[str, tuple[str, ...]] = {
    "wheels": (
        "planned_rim_diameter_code", "planned_rim_width", "planned_flange_thickness", "planned_backspace",
        "planned_offset", "planned_wheel_bore", "planned_wheel_stud_count", "planned_wheel_stud_circle",
        "planned_wheel_seat", "planned_wheel_seat_angle", "planned_wheel_ball_radius", "planned_seat_height",
        "planned_disc_thickness", "planned_disc_inner_face", "planned_well_depth", "planned_thickness",
        "planned_barrel_radius", "planned_wheel_load_rating", "planned_greatest_pressure", "planned_rim_pieces",
        "planned_rim_tubeless", "planned_radial_allowed", "planned_rim_contour", "planned_bead_seat_angle",
        "planned_valve_side", "planned_valve_radius", "planned_spare_stud_circle",
    ),
    "tires": (
        "planned_designation", "planned_construction", "planned_overall_diameter", "planned_section_width",
        "planned_load_index", "planned_load_capacity", "planned_load_index_dual", "planned_dual_load_capacity",
        "planned_rated_pressure", "planned_speed_symbol", "planned_tire_tube", "planned_tube_size",
        "planned_tube_radial", "planned_flap_mark", "planned_tire_contour", "planned_spare_designation",
    ),
    "valves": ("planned_tire_tube", "planned_valve_side", "planned_valve_radius"),
    "nuts": (
        *STUDS, "nut_thread", "nut_seat", "nut_seat_angle", "nut_ball_radius", "nut_closed", "thread_hand_left",
        "thread_hand_right", "planned_wheel_seat", "planned_wheel_seat_angle", "planned_wheel_ball_radius",
    ),
    "studs": (*STUDS, "stud_length", "planned_disc_thickness"),
    "gears": ("planned_axle_ratio",),
    "hoses": (),
    "linings": (),
    "bearings": (),
    "seals": (),
    "stop_screws": (),
    "speedometer_gear": ("nearest_driven_gear",),
}  # fmt: skip

REGEARED = Only("planned_axle_ratio", other="found_axle_ratio", unknown=False)

TASKS = (
    StandingTask(
        id="order.drawing",
        phase="order",
        title="Have the wheel maker confirm the drawing in writing",
        short="Wheel maker confirms the drawing",
        how="Bolt circle, stud count, bore, seats, rim, backspace, disc thickness, room for the brake, load rating, "
        "runout, and the tolerance of each. Before you send it, measure what it rests on twice, another way or by "
        "another person, until both agree: bolt circle, pilot, the nearest obstacle at each end. No signed copy from "
        "the maker, no order.",
        hours=1,
        after=("decide.sign",),
        caution="Home-welded wheels come apart: no center welded into an old rim, no weld-up wheels from a home shop, "
        "no spacer in place of offset. Have wheels made by a wheel maker who rates them and stands behind them.",
        records=Record("who confirmed it, and when", TEXT, short="who, when"),
        hold=True,
        guards=("fit.", "wheel.", "brakes.", "tire."),
        twice=True,
        for_rules=("wheel.stud_circle_differs", "wheel.stud_circle_unusual", "wheel.rated_below_load"),
    ),
    StandingTask(
        id="order.wheels",
        phase="order",
        title="Order wheels, tires, nuts and studs, and the spare's",
        short="Order wheels, tires, nuts, studs",
        how="Wheels by the confirmed drawing and its number. Tires all the same; say the oldest date code you'll "
        "take. Valves for the rim and its pressure. Nuts by thread, hand, seat and grade, left-hand and right-hand "
        "counted separately, and a few extra; longer studs where thread engagement is short.",
        hours=2,
        after=("order.drawing",),
        orders=("wheels", "tires", "valves", "nuts", "studs"),
        for_rules=(
            "tire.too_old",
            "tire.spare_mixes_radial_and_bias",
            "fit.spare_differs_in_size",
            "wheel.left_hand_threads",
            "wheel.thread_engagement_short",
        ),
    ),
    StandingTask(
        id="order.gears",
        phase="order",
        title="Order gear sets, bearings, shims and seals, the same for both axles",
        short="Order gear sets, both axles alike",
        how="By ratio and by the carrier's part number: one carrier rarely takes every ratio. Line up the person who "
        "will set them up.",
        hours=1,
        after=("decide.sign",),
        orders=("gears",),
        for_rules=("gearing.no_gear_set_restores",),
        applies=(REGEARED,),
        per="axle",
    ),
    StandingTask(
        id="order.small",
        phase="order",
        title="Order hoses, linings, seals, bearings, stop screws, speedometer gear",
        short="Order hoses, linings, seals",
        how="Everything you found you need, and whatever you can't buy on a Saturday. Brake hoses long enough for "
        "full droop at full lock.",
        hours=1.5,
        after=("decide.brakes", "decide.gears", "measure.play"),
        orders=("hoses", "linings", "bearings", "seals", "stop_screws", "speedometer_gear"),
        for_rules=("speedometer.driven_gear_leaves_error", "steering.bearing_moment_grown"),
    ),
)
