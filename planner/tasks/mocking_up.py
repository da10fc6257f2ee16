"""Mocking up: bare wheel on bare studs, then a mounted tire through travel and steer, clay at the tight spots."""

from planner.quantities.kinds import ANGLE, DISTANCE, LENGTH, PRESSURE, TEXT
from planner.sources.citing import practice
from planner.sources.standards import INCH_THREADS
from planner.tasks.kind import EVERY_WHEEL, Bound, Record, StandingTask

TASKS = (
    StandingTask(
        id="mock_up.trial_fit",
        phase="mock up",
        title="Trial fit: bare wheel on bare studs, nuts run down by hand",
        short="Try a bare wheel on bare studs",
        how="No tire. Clean face, pilot and studs. The wheel has to go on by hand, flat on its face, and each nut run "
        "down by hand to its seat. Count the turns and multiply by the thread pitch: that's the engagement.",
        tools="a set of the new nuts, straightedge, wire brush, stands",
        hours=1,
        after=("receive.runout", "receive.backspace", "receive.welds_seats", "measure.hub"),
        caution="Keep your fingers out from behind the disc. Don't pull anything together with the lug nuts. Axle on "
        "stands.",
        records=Record(
            "least thread engagement of any nut",
            LENGTH,
            least=Bound("stud_diameter", INCH_THREADS.recalled("one diameter in steel; common practice")),
            short="least thread",
        ),
        parts=("wheels", "nuts"),
        for_rules=(
            "wheel.thread_engagement_short",
            "wheel.counted_thread_short",
            "wheel.closed_nut_bottoms",
            "wheel.stud_circle_differs",
        ),
        per="axle",
    ),
    StandingTask(
        id="mock_up.brake_clay",
        phase="mock up",
        title="Clay on the brake: turn the bare wheel and slice the tightest spot",
        short="Clay on the brake; slice it",
        how="Clay on drum ribs, cylinder nuts, caliper and drum face, a valve in its hole, wheel on with all nuts "
        "snug. Turn it twice by hand, take it off, slice the clay where it's thinnest.",
        tools="clay, knife, caliper, nuts, stands",
        hours=1,
        after=("mock_up.trial_fit",),
        caution="Don't grind anything off the brake or the wheel to make room.",
        records=Record(
            "smallest gap to the brake",
            DISTANCE,
            least=Bound("least_brake_gap", practice("brakes grow hot and wheels flex")),
            gaps=True,
            short="gap",
        ),
        for_rules=(
            "brakes.barrel_near_brake",
            "brakes.disc_near_brake",
            "brakes.valve_near_brake",
            "brakes.rim_smaller_than_brake_asks",
            "fit.measured_near_brake",
            "fit.brake_gap_differs",
        ),
        per="axle",
    ),
    StandingTask(
        id="mock_up.mount_tires",
        phase="mock up",
        title="Have a tire shop mount two tires, or one for each axle that differs",
        short="Tire shop mounts the trial tires",
        how="A shop with a cage, bead lube, valves for the rim, new tubes and flaps if the tire takes them. Leave the "
        "rest unmounted so they can go back. Light spot to the rim's high spot. Write down the pressure at which the "
        "second bead popped on.",
        hours=2,
        after=("mock_up.brake_clay",),
        caution="Seating a bead is when tires kill: cage, clip-on chuck, long hose, nobody in line with the rim. "
        "Never use fire or starting fluid. Multi-piece rims only at a shop trained for them. If a bead won't seat, "
        "let the air out and look; don't pump it up more.",
        records=Record(
            "pressure at which the last bead seated",
            PRESSURE,
            most=Bound("40 psi", practice("unless the sidewall gives another limit for seating; from memory")),
            short="seated at",
        ),
        parts=("tires", "valves"),
        for_rules=(
            "tire.rim_diameters_differ",
            "tire.tube_and_rim_mismatched",
            "wheel.planned_multi_piece_rims",
            "wheel.tube_of_another_size",
            "wheel.tube_not_for_radials",
            "wheel.tube_in_tubeless_tire",
            "wheel.flap_missing_or_another_rims",
        ),
    ),
    StandingTask(
        id="mock_up.cycle",
        phase="mock up",
        title="Springs out or unloaded: cycle the corner, bump to droop and crossed",
        short="Cycle the corner: bump to droop",
        how="Springs out, or all the leaves but the main, and a jack under the axle. If you can't do that, one end at "
        "a time over ramps with ballast. Go an inch at a time, both ends up, then one up and one down; stop where "
        "anything comes close. Measure the room around the tire at full bump, at the tightest place of the opening.",
        tools="floor jack, stands under the frame, tape, chalk; spring clamps",
        hours=6,
        after=("mock_up.mount_tires", "measure.travel"),
        caution="A loaded spring can maim: take the load off at the frame before you touch a U-bolt, shackle or "
        "center bolt; coil springs only with a rated compressor. Frame on stands, axle chained so it can't roll. "
        "Hands out: the axle jumps when a bushing lets go.",
        records=Record(
            "smallest gap to the fender at full bump",
            DISTANCE,
            least=Bound("wanted_clearance", practice("the room you said you want")),
            short="fender gap",
        ),
        for_rules=("fit.tire_large_for_opening",),
        per="axle",
    ),
    StandingTask(
        id="mock_up.full_lock",
        phase="mock up",
        title="Steer lock to lock at ride height, bump and droop",
        short="Steer lock to lock, three heights",
        how="At each inch of travel steer both ways until something comes within its clearance. Chalk the inner "
        "wheel's angle there. The smallest angle is what the stops have to hold: if it's less than the stop gives "
        "now, make the stop longer.",
        tools="floor jack, stands, angle finder, chalk, a helper",
        hours=2,
        after=("mock_up.cycle", "measure.kingpin"),
        caution="Keep hands out of the knuckle. One steers, one looks, and the one who looks calls it.",
        records=Record(
            "inner wheel angle that clears everything, at the worst height",
            ANGLE,
            short="clear angle",
        ),
        per="steered axle",
        for_rules=("fit.locks_too_wide", "fit.outer_lock_too_wide"),
    ),
    StandingTask(
        id="mock_up.clay",
        phase="mock up",
        title="Clay or foam at the tight spots, cycled once more, then sliced",
        short="Clay the tight spots; cycle again",
        how="Spring, rod ends, drag link, frame, hoses, steps, fender lips. One full cycle with steering. Slice and "
        "measure each; check it against the clearance you want there, and correct any obstacle that was off. "
        "Written as 'spring pack, left, full cycle: 7/8 in' (or 22 mm), each after a semicolon, it is checked "
        "against the sweep.",
        tools="clay or foam, knife, caliper, floor jack, stands",
        hours=2,
        after=("mock_up.full_lock",),
        caution="Same as before: hands out while anything moves, frame on stands.",
        records=Record("smallest gap, and where", TEXT, gaps=True, short="gap, where"),
        per="axle",
        for_rules=("fit.tire_too_near", "fit.tire_touches", "fit.mock_up_differs"),
    ),
    StandingTask(
        id="mock_up.sign",
        phase="mock up",
        title="Sign off: everything clears, or the plan goes back to decide",
        short="Everything clears? Sign for it",
        how="Compare with the swept clearances. Where the truck and the plan differ, the truck is right: correct the "
        "measurement and look at what that changes. Don't have the rest of the tires mounted or put the springs back "
        "before that.",
        hours=1,
        after=("mock_up.clay",),
        caution="Put the springs back with new U-bolts, at their torque. Don't reuse the old ones.",
        hold=True,
        closes=True,
        guards=("fit.", "wheel.", "brakes.", "tire.", *EVERY_WHEEL),
    ),
)
