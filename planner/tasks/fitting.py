"""Fitting: bearings, studs, gears and brakes first, then the wheels, torqued in a star in stages."""

from planner.quantities.kinds import DISTANCE, TEXT, TORQUE
from planner.sources.citing import practice
from planner.tasks.kind import Bound, Record, StandingTask
from planner.tasks.making_safe import MULTI_PIECE
from planner.tasks.ordering import REGEARED

WRENCH = practice("hand torque wrenches are held to four percent")
GEAR_TAG = practice("most sets of this size; the set's own tag comes first; from memory")
END_PLAY = practice("adjustable taper roller bearings; the axle maker's figure comes first; from memory")


def at_torque(label: str) -> Record:
    """A nut torque written down, within what a wrench is held to."""
    return Record(
        label, TORQUE, least=Bound("nut_torque", WRENCH, times=0.96), most=Bound("nut_torque", WRENCH, times=1.04)
    )


TASKS = (
    StandingTask(
        id="fit.bearings",
        phase="fit",
        title="Clean, inspect, pack and set the wheel bearings; new seals",
        how="Race and rollers bright and even, or new as a pair. Preload while turning, back off, set, lock. Dial "
        "gauge on the hub, push and pull.",
        hours=4,
        after=("safe.local_code", "measure.hub", "order.small"),
        caution="Axle on stands. Never spin a dry bearing with compressed air: it flies apart.",
        records=Record(
            "end play of the hub",
            DISTANCE,
            least=Bound("0.001 in", END_PLAY),
            most=Bound("0.005 in", END_PLAY),
        ),
        parts=("bearings", "seals"),
        for_rules=("steering.bearing_moment_grown",),
        per="axle",
    ),
    StandingTask(
        id="fit.studs",
        phase="fit",
        title="Renew the studs that the survey marked, and their neighbors",
        how="Pressed in square, never drawn in by a wheel nut against the wheel. Serrations must bite: a stud that "
        "turns has ruined its hole. Check that each side has its hand.",
        hours=2,
        after=("measure.hub", "order.wheels"),
        caution="Press, guard and glasses: studs break and fly. Do not heat a hub, and weld no stud in.",
        records=Record("studs renewed, by number", TEXT),
        parts=("studs",),
        for_rules=("wheel.thread_engagement_short", "wheel.studs_past_proof"),
        per="axle",
    ),
    StandingTask(
        id="fit.gears",
        phase="fit",
        title="Have ring and pinion set up by someone practiced",
        how="Pinion depth, bearing preload, backlash in four places, contact pattern on both sides of the teeth, all "
        "written down. Ring gear bolts new, at the set maker's torque. Fresh gear oil of the grade it asks for.",
        hours=10,
        after=("safe.stands", "order.gears"),
        caution="Heavy, and sharp; a carrier out of the axle is lifted by two. A set put up wrong locks an axle at "
        "speed: this is not the place to learn it.",
        records=Record(
            "backlash, least of four places",
            DISTANCE,
            least=Bound("0.006 in", GEAR_TAG),
            most=Bound("0.010 in", GEAR_TAG),
        ),
        parts=("gears",),
        for_rules=("gearing.effective_ratio_moved", "gearing.axles_travel_apart"),
        applies=(REGEARED,),
        per="axle",
    ),
    StandingTask(
        id="fit.brakes",
        phase="fit",
        title="Do the brake work that was asked for: linings, drums, cylinders, hoses",
        how="What the qualified person asked for, both sides of an axle alike. Drums within the size cast on them. "
        "Hoses long enough for full lock at full droop, no twist. Licensed shop where the code says so.",
        hours=8,
        after=("decide.brakes", "order.small"),
        caution="Brakes stop the truck or do not: if you have never done these, stand by and hand tools. Dust wet, "
        "stands under the axle, brake fluid off skin and paint.",
        records=Record("who did it, and what was renewed", TEXT),
        parts=("hoses", "linings"),
        for_rules=("brakes.braking_force_lost", "brakes.stop_energy_gained"),
    ),
    StandingTask(
        id="fit.tires",
        phase="fit",
        title="Have the tire shop mount and balance the rest, the spare too",
        how="Shop with a cage, as for the first two. Light spot to the high spot that was marked. Ask for the weights "
        "to stand clear of the brake.",
        hours=2,
        after=("mock_up.sign",),
        caution="Never mounted at home. Nobody in line while a bead is seated; pressure only up to the sidewall's "
        "mark, or the wheel's, if less.",
        parts=("wheels", "tires", "valves"),
    ),
    StandingTask(
        id="fit.wheels",
        phase="fit",
        title="Fit the wheels: nuts by hand, then in a star, in three stages",
        how="Bare, clean, dry faces and threads, no paint on seats, no oil. Nuts by hand, snug in a star with the "
        "wheel hanging free, lower the truck, then a third, two thirds, all of the torque, in a star each time. A "
        "torque wrench, not an impact gun.",
        hours=2,
        after=("fit.tires", "fit.bearings", "fit.studs", "fit.gears", "fit.brakes", "fit.inner_wheels"),
        caution="Wheel nuts hold your life. Left-hand threads tighten the other way; front and rear nuts lie apart. "
        "Never a nut that touches on its "
        "edge, never a wheel on some of its studs, never a longer lever instead of the torque.",
        records=at_torque("torque that every nut clicked at"),
        torque="nut_torque",
        parts=("wheels", "tires", "nuts", "studs"),
        for_rules=(
            "wheel.studs_slack",
            "wheel.studs_past_proof",
            "wheel.left_hand_threads",
            "wheel.threads_nearly_interchange",
        ),
        per="axle",
    ),
    StandingTask(
        id="fit.old_rims",
        phase="fit",
        title="Take the old rims, tires on and cores out, to a shop with a cage",
        how="Ask first that the shop is trained and equipped for multi-piece rims. Cores stay out and the stems wired "
        "open. Cracked, bent or rusted pieces are scrapped and cut, so that nobody uses them.",
        hours=2,
        after=("fit.wheels",),
        caution="Multi-piece rims are taken apart only there. Two people or a dolly to load them.",
        for_rules=("wheel.multi_piece_rims",),
        applies=(MULTI_PIECE,),
    ),
    StandingTask(
        id="fit.spare",
        phase="fit",
        title="Mount the spare; carry a jack, a stand and a wrench that fit",
        how="Try the spare on each axle once. Jack high enough for the taller tire, its foot plate, chocks, and the "
        "wrench for the new nuts, both hands of thread.",
        hours=1.5,
        after=("fit.wheels",),
        caution="A spare that fell off kills who drives behind: its carrier and nut are held to the spare's new "
        "weight.",
        parts=("wheels", "tires"),
        for_rules=("fit.spare_differs_in_size", "fit.spare_misses_studs", "tire.spare_mixes_radial_and_bias"),
    ),
    StandingTask(
        id="fit.flares",
        phase="fit",
        title="Cover the tread: flares, and mud flaps where the code asks for them",
        how="As wide as the code says, on firm metal, clear of the tire through its travel as mocked up.",
        hours=5,
        after=("fit.wheels", "mock_up.cycle"),
        caution="Cut no panel that carries load, and look for lines and tank behind it first.",
        for_rules=("fit.poke_past_local_code", "fit.poke_past_greatest"),
        if_raised=True,
        per="axle",
    ),
)
