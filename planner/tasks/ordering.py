"""Ordering: the drawing confirmed in writing, then wheels, tires, fasteners, gears and the small parts."""

from planner.quantities.kinds import TEXT
from planner.tasks.kind import Only, Record, StandingTask

REGEARED = Only("planned_axle_ratio", other="found_axle_ratio", unknown=False)

TASKS = (
    StandingTask(
        id="order.drawing",
        phase="order",
        title="Have the wheel maker confirm the drawing in writing",
        how="Bolt circle, stud count, bore, seats, rim, backspace, disc thickness, room for the brake, load rating, "
        "runout, and the tolerance of each. Before you send it, measure what it rests on twice, another way or by "
        "another person, until both agree: bolt circle, pilot, the nearest obstacle at each end. No signed copy from "
        "the maker, no order.",
        hours=1,
        after=("decide.sign",),
        caution="Home-welded wheels come apart: no center welded into an old rim, no weld-up wheels from a home shop, "
        "no spacer in place of offset. Have wheels made by a wheel maker who rates them and stands behind them.",
        records=Record("who confirmed it, and when", TEXT),
        hold=True,
        guards=("fit.", "wheel.", "brakes.", "tire."),
        twice=True,
        for_rules=("wheel.stud_circle_differs", "wheel.stud_circle_unusual", "wheel.rated_below_load"),
    ),
    StandingTask(
        id="order.wheels",
        phase="order",
        title="Order wheels, tires, nuts and studs, and the spare's",
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
        how="Everything you found you need, and whatever you can't buy on a Saturday. Brake hoses long enough for "
        "full droop at full lock.",
        hours=1.5,
        after=("decide.brakes", "decide.gears", "measure.play"),
        orders=("hoses", "linings", "bearings", "seals", "stop_screws", "speedometer_gear"),
        for_rules=("speedometer.driven_gear_leaves_error", "steering.bearing_moment_grown"),
    ),
)
