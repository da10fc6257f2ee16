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
        label,
        TORQUE,
        least=Bound("nut_torque", WRENCH, times=0.96),
        most=Bound("nut_torque", WRENCH, times=1.04),
        short="clicked at",
    )


TASKS = (
    StandingTask(
        id="fit.bearings",
        phase="fit",
        title="Clean, inspect, pack and set the wheel bearings; new seals",
        short="Pack and set the wheel bearings",
        how="Races and rollers bright and even; if not, replace both. Tighten while you turn the hub, back off, set, "
        "lock. Dial indicator on the hub, push and pull.",
        tools="bearing grease, packer, seal driver, spindle nut socket, dial indicator, stands",
        hours=4,
        after=("safe.local_code", "measure.hub", "order.small"),
        caution="Never spin a dry bearing with compressed air: it flies apart. Axle on stands.",
        records=Record(
            "end play of the hub",
            DISTANCE,
            least=Bound("0.001 in", END_PLAY),
            most=Bound("0.005 in", END_PLAY),
            short="end play",
        ),
        parts=("bearings", "seals"),
        for_rules=("steering.bearing_moment_grown",),
        per="axle",
        each_wheel=True,
    ),
    StandingTask(
        id="fit.studs",
        phase="fit",
        title="Replace the studs you marked, and the ones next to them",
        short="Replace marked studs and neighbors",
        how="Press them in square; don't pull them in with a lug nut against the wheel. The serrations have to bite: "
        "a stud that spins has ruined its hole. Check that each side has the right hand of thread.",
        tools="press, stud support, thread gauge, safety glasses",
        hours=2,
        after=("measure.hub", "order.wheels"),
        caution="Studs break and fly: use a press, a guard and safety glasses. Don't heat a hub, and don't weld a "
        "stud in.",
        records=Record("studs replaced, by number", TEXT, short="replaced"),
        parts=("studs",),
        for_rules=("wheel.thread_engagement_short", "wheel.studs_past_proof"),
        per="axle",
        each_wheel=True,
    ),
    StandingTask(
        id="fit.gears",
        phase="fit",
        title="Have the ring and pinion set up by somebody who does it for a living",
        short="Have the ring and pinion set up",
        how="Pinion depth, bearing preload, backlash in four places, contact pattern on both sides of the teeth, all "
        "written down. New ring gear bolts, at the gear maker's torque. Fresh gear oil of the right grade.",
        hours=10,
        after=("safe.stands", "order.gears"),
        caution="Gears set up wrong lock the axle at speed: this isn't the place to learn. They're heavy and sharp; "
        "two people lift a carrier.",
        records=Record(
            "backlash, least of four places",
            DISTANCE,
            least=Bound("0.006 in", GEAR_TAG),
            most=Bound("0.010 in", GEAR_TAG),
            short="backlash",
        ),
        parts=("gears",),
        for_rules=("gearing.effective_ratio_moved", "gearing.axles_travel_apart"),
        applies=(REGEARED,),
        per="axle",
    ),
    StandingTask(
        id="fit.brakes",
        phase="fit",
        title="Do the brake work you were told to: linings, drums, cylinders, hoses",
        short="Do the brake work that was asked",
        how="Do what the qualified person asked for, both sides of an axle the same. Drums inside the size cast on "
        "them. Hoses long enough for full lock at full droop, no twist. Licensed shop where the code says so.",
        hours=8,
        after=("decide.brakes", "order.small"),
        caution="Brakes that aren't right kill: if you've never done these, stand by and hand the tools. Wet the "
        "dust, axle on stands, keep brake fluid off skin and paint.",
        records=Record("who did it, and what was replaced", TEXT, short="who, what"),
        parts=("hoses", "linings"),
        for_rules=("brakes.braking_force_lost", "brakes.stop_energy_gained"),
    ),
    StandingTask(
        id="fit.tires",
        phase="fit",
        title="Have the tire shop mount and balance the rest, and the spare",
        short="Tire shop mounts all the others",
        how="A shop with a cage, as for the first two. Light spot of the tire to the marked high spot of the rim. Ask "
        "them to keep the weights clear of the brake.",
        hours=2,
        after=("mock_up.sign",),
        caution="Don't mount these at home. Nobody in line with the rim while a bead seats; never more pressure than "
        "the sidewall or the wheel is marked for, whichever is less.",
        parts=("wheels", "tires", "valves"),
    ),
    StandingTask(
        id="fit.wheels",
        phase="fit",
        title="Put the wheels on: nuts by hand, then in a star, in three stages",
        short="Wheels on: by hand, star, 3 stages",
        how="Bare, clean, dry faces and threads, no paint on the seats, no oil. Run the nuts on by hand, snug them in "
        "a star with the wheel hanging free, lower the truck, then a third, two thirds, full torque, in a star each "
        "time. Use a torque wrench, not an impact gun.",
        tools="torque wrench, sockets, wire brush, jack, stands, paint marker",
        hours=2,
        after=("fit.tires", "fit.bearings", "fit.studs", "fit.gears", "fit.brakes", "fit.inner_wheels"),
        caution="Your life hangs on these nuts. Left-hand threads tighten the other way; keep front and rear nuts "
        "apart. Never use a nut that seats on its edge, never leave a nut off, never use a cheater pipe in place of a "
        "torque wrench.",
        records=at_torque("torque every nut clicked at"),
        torque="nut_torque",
        parts=("wheels", "tires", "nuts", "studs"),
        for_rules=(
            "wheel.studs_slack",
            "wheel.studs_past_proof",
            "wheel.left_hand_threads",
            "wheel.threads_nearly_interchange",
        ),
        per="axle",
        each_wheel=True,
    ),
    StandingTask(
        id="fit.old_rims",
        phase="fit",
        title="Take the old rims, tires on and cores out, to a shop with a cage",
        short="Old rims to a shop with a cage",
        how="First ask if the shop is trained and equipped for multi-piece rims. Leave the cores out and the stems "
        "wired open. Have cracked, bent or rusted pieces cut up so nobody uses them again.",
        tools="dolly, straps, a helper",
        hours=2,
        after=("fit.wheels",),
        caution="Don't take multi-piece rims apart anywhere else. Two people or a dolly to load them.",
        for_rules=("wheel.multi_piece_rims",),
        applies=(MULTI_PIECE,),
    ),
    StandingTask(
        id="fit.spare",
        phase="fit",
        title="Mount the spare; carry a jack, a stand and a wrench that fit",
        short="Mount the spare; pack jack, wrench",
        how="Try the spare on each axle once. Carry a jack tall enough for the taller tire, a board for under it, "
        "chocks, and a wrench that fits the new nuts, left-hand and right-hand.",
        tools="torque wrench, the jack and the wrench that go along",
        hours=1.5,
        after=("fit.wheels",),
        caution="A spare that falls off kills whoever is behind you: check that its carrier and nut hold the new "
        "weight.",
        parts=("wheels", "tires"),
        for_rules=("fit.spare_differs_in_size", "fit.spare_misses_studs", "tire.spare_mixes_radial_and_bias"),
    ),
    StandingTask(
        id="fit.flares",
        phase="fit",
        title="Cover the tread: flares, and mud flaps where the code asks for them",
        short="Cover the tread with flares",
        how="As wide as the code says, on solid metal, clear of the tire through all the travel you mocked up.",
        tools="drill, files, clamps, touch-up paint, safety glasses",
        hours=5,
        after=("fit.wheels", "mock_up.cycle"),
        caution="Look for lines and the tank behind a panel before you cut, and don't cut one that carries load.",
        for_rules=("fit.poke_past_local_code", "fit.poke_past_greatest"),
        if_raised=True,
        per="axle",
    ),
)
