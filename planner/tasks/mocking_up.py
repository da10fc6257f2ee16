"""Mocking up: bare wheel on bare studs, then a mounted tire through travel and steer, clay at the tight spots."""

from planner.quantities.kinds import ANGLE, DISTANCE, LENGTH, PRESSURE, TEXT
from planner.sources.citing import practice
from planner.sources.standards import INCH_THREADS
from planner.tasks.kind import Bound, Record, StandingTask

TASKS = (
    StandingTask(
        id="mock_up.trial_fit",
        phase="mock up",
        title="Trial fit: bare wheel on bare studs, nuts run down by hand",
        how="No tire. Clean face, pilot and studs. The wheel goes home by hand, flat on its face; each nut runs on by "
        "hand to its seat. Count the turns of thread that it holds, times the pitch.",
        hours=1,
        after=("receive.runout", "receive.backspace", "receive.welds_seats", "measure.hub"),
        caution="Nothing is drawn together with the wheel nuts. Axle on stands; fingers out from behind the disc.",
        records=Record(
            "least thread held by a nut",
            LENGTH,
            least=Bound("stud_diameter", INCH_THREADS.recalled("one diameter in steel; common practice")),
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
        how="Clay over drum ribs, cylinder nuts, caliper and drum face, a valve in its hole, wheel on with all nuts "
        "snug. Turn it twice by hand, take it off, slice the clay where it is thinnest.",
        hours=1,
        after=("mock_up.trial_fit",),
        caution="Grind nothing off the brake or the wheel to gain room.",
        records=Record(
            "least gap to the brake",
            DISTANCE,
            least=Bound("least_brake_gap", practice("brakes grow hot and wheels flex")),
        ),
        for_rules=(
            "brakes.barrel_near_brake",
            "brakes.disc_near_brake",
            "brakes.valve_near_brake",
            "brakes.rim_smaller_than_brake_asks",
        ),
        per="axle",
    ),
    StandingTask(
        id="mock_up.mount_tires",
        phase="mock up",
        title="Have a tire shop mount two tires, or one for each axle that differs",
        how="Shop with a cage, lubricant, valves for the rim, tubes and flaps new where the tire takes them; the rest "
        "stay unmounted and can go back. Light spot to the rim's high spot. Write down the pressure at which the "
        "second bead went home.",
        hours=2,
        after=("mock_up.brake_clay",),
        caution="Seating a bead is when tires kill: restraining cage, clip-on chuck, long hose, nobody in line. Never "
        "fire or starting spray. Rims in pieces only by a shop trained for them. A bead that will not seat is let "
        "down and looked at, not pumped up further.",
        records=Record(
            "pressure at which the last bead seated",
            PRESSURE,
            most=Bound("40 psi", practice("unless the sidewall gives another limit for seating; from memory")),
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
        how="Springs or all leaves but the main out, a jack under the axle. Where that cannot be done, one end at a "
        "time over ramps with ballast. An inch at a time, both ends up, then one up and one down; stop where anything "
        "comes near. Measure the room around the tire at full bump, at the tightest place of the opening.",
        hours=6,
        after=("mock_up.mount_tires", "measure.travel"),
        caution="A spring under load can maim: load off by the frame before a U-bolt, shackle or center bolt is "
        "touched; coil springs only with a rated compressor. Frame on stands, axle chained against rolling. Hands out: "
        "the axle moves suddenly when a bushing lets go.",
        records=Record(
            "least room to the fender at full bump",
            DISTANCE,
            least=Bound("wanted_clearance", practice("the room that you said you want")),
        ),
        for_rules=("fit.tire_large_for_opening",),
        per="axle",
    ),
    StandingTask(
        id="mock_up.full_lock",
        phase="mock up",
        title="Steer lock to lock at ride height, bump and droop",
        how="At each inch of travel steer both ways until something comes within its clearance. Chalk the angle of "
        "the inner wheel there. The least of them is what the stops must hold: short of the present stop, they get "
        "longer.",
        hours=2,
        after=("mock_up.cycle", "measure.kingpin"),
        caution="One person steers, one looks, and the one who looks gives the word. Hands out of the knuckle.",
        records=Record(
            "least angle of the inner wheel that keeps every clearance",
            ANGLE,
        ),
        per="steered axle",
        for_rules=("fit.locks_too_wide", "fit.outer_lock_too_wide"),
    ),
    StandingTask(
        id="mock_up.clay",
        phase="mock up",
        title="Clay or foam at the tight spots, cycled once more, then sliced",
        how="Spring, rod ends, drag link, frame, hoses, steps, fender lips. One full cycle with steering. Slice and "
        "measure each; hold it against the clearance that its obstacle wants, and correct obstacles that were off. "
        "Written as 'spring pack, left, full cycle: 7/8 in', each after a semicolon, it is held against the sweep.",
        hours=2,
        after=("mock_up.full_lock",),
        caution="Same as before: frame on stands, hands out while anything moves.",
        records=Record("least gap, and where", TEXT, gaps=True),
        per="axle",
        for_rules=("fit.tire_too_near", "fit.tire_touches", "fit.mock_up_differs"),
    ),
    StandingTask(
        id="mock_up.sign",
        phase="mock up",
        title="Sign: everything clears, or the plan goes back to decide",
        how="Compare with the swept clearances. Where the truck and the plan differ the truck is right: correct the "
        "measurement, look at what it touches. Only then the rest of the tires are mounted and springs go back.",
        hours=1,
        after=("mock_up.clay",),
        caution="Springs go back with new U-bolts, at their torque; none of the old ones is used again.",
        hold=True,
        guards=("fit.", "wheel.", "brakes.", "tire."),
    ),
)
