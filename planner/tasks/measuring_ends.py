"""Measuring each axle end: hub, studs, bearings, kingpin, stops, travel, brake, fender, and what stands around."""

from planner.quantities.kinds import ANGLE, DISTANCE, TEXT
from planner.sources.citing import practice
from planner.sources.us_federal import VEHICLE_IN_USE
from planner.tasks.kind import Bound, Record, StandingTask

TASKS = (
    StandingTask(
        id="measure.studs",
        phase="measure",
        title="Measure the bolt circle two ways, with a caliper",
        short="Measure the bolt circle two ways",
        how="Over the outsides of two studs, and center to center of two next to each other; count the spaces "
        "between. Go all the way around once. Write down how far apart the two results are; a size that's in no list "
        "isn't wrong.",
        tools="caliper that spans two studs, notepad",
        hours=1.5,
        after=("safe.thread_hand", "safe.stands", "safe.air_out"),
        caution="The wheel is off: put the axle on a stand, not on the jack.",
        records=Record(
            "difference between the two ways, on the diameter",
            DISTANCE,
            most=Bound("most_stud_reading_spread", practice("what two careful readings agree to")),
            short="difference",
        ),
        asks=(
            "stud_count",
            "adjacent_spacing",
            "skip_spacing",
            "skip",
            "outer_edge_spacing",
            "outer_edge_skip",
            "stud_points",
        ),
        for_rules=("wheel.stud_readings_disagree", "wheel.stud_circle_unusual", "wheel.stud_count_differs"),
        per="axle",
    ),
    StandingTask(
        id="measure.hub",
        phase="measure",
        title="Check hubs, studs and nuts: pilot, threads, length, seats, damage",
        short="Check hub, studs and nuts",
        how="Down to bare metal first. Measure the pilot four ways; the largest counts. Face to face with "
        "straightedges, in front of and behind the axle, and take the average. On each stud, both sides: thread gauge "
        "(on a nut too), straightedge along it, a new nut run down by hand with its turns counted, length from the "
        "face, marks on its head. Mark every stud that's bent, stretched, worn or rusted.",
        tools="caliper, two straightedges, thread gauge, new nut, paint marker",
        hours=2.5,
        after=("safe.thread_hand", "safe.stands", "safe.air_out"),
        caution="Replace any doubtful stud and the ones next to it: they carried its load. Axle on a stand, not on "
        "the jack.",
        records=Record("studs to replace, by number", TEXT, short="bad studs"),
        asks=(
            "hub_pilot",
            "centring",
            "face_to_face",
            "bearing_setback",
            "stud_diameter",
            "threads_per_inch",
            "pitch",
            "stud_length",
            "proof_stress",
            "right_stud_thread",
            "nut_thread",
            "nut_closed",
            "nut_depth",
            "counted_thread",
            "nut_seat",
            "nut_seat_angle",
            "nut_ball_radius",
        ),
        for_rules=(
            "wheel.bore_smaller_than_pilot",
            "wheel.bore_loose_on_pilot",
            "wheel.thread_engagement_short",
            "wheel.counted_thread_short",
            "wheel.found_closed_nut_bottoms",
            "wheel.nut_thread_differs",
            "wheel.threads_nearly_interchange",
            "wheel.threads_differ_left_and_right",
            "wheel.seat_shape_differs",
            "wheel.seat_angle_differs",
        ),
        per="axle",
        each_wheel=True,
    ),
    StandingTask(
        id="measure.play",
        phase="measure",
        title="Check wheel bearings, kingpins and rod ends for play",
        short="Check bearings, kingpins, rod ends",
        how="Tire on, wheel just off the ground, dial indicator at the tire's edge: rock it top and bottom, then side "
        "to side. Have a helper step on the brake: play that goes away was in the bearing, not the kingpin. The "
        "largest reading counts.",
        tools="jack, stands, pry bar, dial indicator with its base, a helper",
        hours=1,
        after=("safe.stands",),
        caution="If the play is past its limit, fix the steering before the truck moves under its own power.",
        records=Record(
            "largest play at the tire's edge",
            DISTANCE,
            most=Bound("1/4 in", VEHICLE_IN_USE.recalled("wheels of 16 in and under; larger ones are allowed more")),
            short="play",
        ),
        for_rules=("steering.bearing_moment_grown",),
        per="axle",
        each_wheel=True,
    ),
    StandingTask(
        id="measure.kingpin",
        phase="measure",
        title="Measure kingpins, steering angles to both stops, and the stop arm",
        short="Measure kingpins and both stops",
        how="Frame level: angle finder on the kingpin cap, front to back and side to side; inset at hub height from "
        "the mounting face. Then, axle on stands, boards against the drums and chalk lines on the floor: straight, "
        "hard left, hard right, both sides each time. Measure from the stop screw to the kingpin's line.",
        tools="angle finder, square, boards, chalk, tape, stands",
        hours=3.5,
        after=("safe.stands", "measure.play"),
        caution="Keep hands and feet clear of the linkage while a helper steers. On stands while the wheels are off.",
        records=Record("smallest angle of the inner wheel on its stop", ANGLE, short="inner angle"),
        asks=(
            "kingpin_inset",
            "inclination",
            "caster",
            "kingpin_track",
            "stop_angle",
            "stop_angle_out",
            "stop_arm",
        ),
        for_rules=("steering.scrub_radius_changed", "steering.scrub_radius_changed_sign"),
        per="steered axle",
    ),
    StandingTask(
        id="measure.travel",
        phase="measure",
        title="Measure bump and droop travel, and the fender opening at ride height",
        short="Measure bump, droop, fender room",
        how="Ride height first, loaded the way it will be: axle center to the tightest point of the opening, and a "
        "plumb line from the lip for how far out it is. Down: jack the frame until the wheel just leaves the ground. "
        "Up: to the bump stop, and how far the stop squashes. Both sides; the tighter one counts. Across, center to "
        "center: between the bump stops, and between whatever limits droop. Say how much room you want. For the "
        "picture: axle center to the opening in five directions, and to the frame.",
        tools="jack, stands, tape, plumb line",
        hours=2.5,
        after=("safe.stands", "safe.look_over"),
        caution="Keep every part of you out from between axle and frame. Frame on stands before the axle hangs. A "
        "shock that limits droop is under load.",
        asks=(
            "bump_travel",
            "droop_travel",
            "stops_apart",
            "droop_apart",
            "bump_gives",
            "axle_to_fender",
            "face_to_fender_edge",
            "opening_ahead",
            "opening_up_ahead",
            "opening_top",
            "opening_up_behind",
            "opening_behind",
            "ride_height",
            "wanted_clearance",
            "wanted_poke",
            "greatest_poke",
        ),
        for_rules=(
            "fit.tire_large_for_opening",
            "fit.poke_not_as_wanted",
            "fit.poke_past_greatest",
            "fit.roll_not_measured",
            "fit.roll_not_measured_for_wish",
            "fit.tightest_point_contradicted",
            "look.fill_not_as_wished",
            "look.poke_not_as_wished",
        ),
        per="axle",
    ),
    StandingTask(
        id="measure.brake",
        phase="measure",
        title="Measure the brake: largest radius, and how far out its face is",
        short="Measure the brake: radius and face",
        how="Big caliper or a string around the drum ribs, backing plate edge, wheel cylinder nuts, caliper body: the "
        "largest counts. Straightedge on the mounting face for how far the brake sticks out past it.",
        tools="large caliper or string, straightedge, depth gauge",
        hours=1,
        after=("safe.thread_hand", "safe.stands", "safe.air_out"),
        caution="Treat brake dust as asbestos: clean it wet, wear a respirator that fits, no compressed air, no dry "
        "brush. Nobody touches the pedal while a drum is off.",
        asks=("brake_radius", "brake_face"),
        for_rules=("brakes.barrel_near_brake", "brakes.disc_near_brake", "brakes.rim_smaller_than_brake_asks"),
        per="axle",
    ),
    StandingTask(
        id="measure.obstacles",
        phase="measure",
        title="Measure what's around the wheel, from the hub face",
        short="Measure what's around the wheel",
        how="Springs, U-bolts, frame, rod ends, drag link, hoses, shocks, exhaust, fender lips, steps. Measure "
        "forward, out and up from the center of the mounting face, with plumb lines and a square, at ride height. Say "
        "if each moves with the axle, the knuckle or the body.",
        tools="two plumb lines, square, tape, chalk",
        hours=4,
        after=("safe.thread_hand", "safe.stands", "safe.air_out"),
        caution="Hold the axle end at ride height on a stand, not on the jack, the whole time you reach in.",
        per="axle",
        for_rules=("fit.tire_too_near", "fit.tire_touches", "fit.tire_touches_off_road", "fit.tire_near"),
    ),
)
