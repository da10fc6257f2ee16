"""After the build: what is looked at again and again, by distance and by date, whichever comes first."""

from planner.quantities.kinds import DISTANCE, TEXT
from planner.sources.citing import practice
from planner.tasks.fitting import END_PLAY, at_torque
from planner.tasks.kind import Bound, Record, StandingTask, TaskInterval

WORN_OUT = practice("two thirty-seconds of an inch in the main grooves; law may ask for more, as 4/32 on a steer axle")
OIL_CHANGE = TaskInterval("3,000 mi", 6, practice("at every oil change; from memory"))
MONTHLY = TaskInterval(
    "1,000 mi", 1, practice("tires are looked at every month and before every long drive; from memory")
)
YEARLY = practice(
    "once a year, or every 12,000 miles (20,000 km); the axle maker's own figure comes first; from memory"
)

TASKS = (
    StandingTask(
        id="use.nuts",
        phase="check again",
        title="Retorque the lug nuts, as long as the truck runs",
        short="Retorque the lug nuts",
        how="Wheels cold, star pattern, full torque, to the click. After any wheel has been off, retorque after 50 "
        "miles, whatever this list says. On pairs the inner nuts first, one stud at a time.",
        tools="torque wrench, paint marker",
        hours=1,
        after=("again.torque_500",),
        caution="A nut that keeps moving is moving for a reason: a worn seat, a stretched stud, a cracked wheel. "
        "Don't drive until you've found it.",
        records=at_torque("torque every nut clicked at"),
        torque="nut_torque",
        per="axle",
        each_wheel=True,
        every=OIL_CHANGE,
    ),
    StandingTask(
        id="use.tires",
        phase="check again",
        title="Tires: tread, wear, sidewalls, pressure when cold",
        short="Tires: tread, wear, cold pressure",
        how="Cold, at the pressures on the card, the spare too. Measure tread in the main grooves at three places. "
        "Feathered edges mean toe, one worn shoulder means camber, cupping means a bearing or balance. Look for cuts, "
        "bulges and stones on both sidewalls.",
        tools="pressure gauge, tread depth gauge, light",
        hours=0.5,
        after=("road.qualified",),
        caution="If a tire ran low, don't air it up on the truck: take it off and have a tire shop look inside. If a "
        "bulge or cord shows, don't drive another mile.",
        records=Record(
            "least tread left, at the worst place", DISTANCE, least=Bound("2/32 in", WORN_OUT), short="least tread"
        ),
        per="axle",
        each_wheel=True,
        every=MONTHLY,
    ),
    StandingTask(
        id="use.bearings",
        phase="check again",
        title="Wheel bearings: play, noise, grease; set them again",
        short="Wheel bearings: play and grease",
        how="Wheel up, rock it top and bottom, spin it and listen. Dial indicator on the hub, push and pull; reset it "
        "if it's out. If the grease is gray, watery or past the seal, pull the bearing, clean it, look at it and "
        "repack it.",
        tools="jack, stands, dial indicator, grease",
        hours=2,
        after=("road.qualified",),
        caution="Too tight runs hot and seizes, too loose and the wheel comes off: if you've never set one, have "
        "somebody show you. Axle on stands, the other wheels chocked.",
        records=Record(
            "end play of the hub",
            DISTANCE,
            least=Bound("0.001 in", END_PLAY),
            most=Bound("0.005 in", END_PLAY),
            short="end play",
        ),
        per="axle",
        each_wheel=True,
        every=TaskInterval("12,000 mi", 12, YEARLY, first="500 mi"),
    ),
    StandingTask(
        id="use.wheels",
        phase="check again",
        title="Wheels off: cracks at welds, holes and seats; studs; rust streaks",
        short="Wheels off: look for cracks",
        how="Clean and dry, both sides, with a work light and a wire brush: the weld of disc and rim, between the "
        "holes, around the seats, the valve hole. A rust streak from a nut means it was loose. Then torque, and again "
        "after 50 miles (80 km).",
        tools="jack, stands, wire brush, work light, torque wrench",
        hours=2,
        after=("road.qualified",),
        caution="A cracked wheel is scrap: never weld one. Let the air out of a multi-piece rim, core out, before you "
        "touch a nut. Axle on stands.",
        records=Record("what you found at welds, holes and seats, by wheel", TEXT, short="found"),
        per="axle",
        each_wheel=True,
        every=TaskInterval("12,000 mi", 12, YEARLY),
    ),
    StandingTask(
        id="use.spacers",
        phase="check again",
        title="Spacers and adapters: wheels off, both rows of nuts at full torque",
        short="Spacers: retorque both rows",
        how="The row that holds the spacer to the hub first, then the wheel's. Look for fretting, cracks between the "
        "holes, studs that spun, faces that aren't flat anymore.",
        tools="jack, stands, torque wrench, straightedge, wire brush",
        hours=2,
        after=("road.qualified",),
        caution="You can't see the inner row with the wheel on, and a wheel comes off with its spacer. Axle on "
        "stands; then again after 50 miles (80 km).",
        records=Record("torque of both rows, and what you found", TEXT, short="torque, found"),
        every=TaskInterval("3,000 mi", 6, practice("at every oil change, wheel off; from memory"), first="50 mi"),
        for_changes=("spacer or adapter",),
    ),
    StandingTask(
        id="use.lift",
        phase="check again",
        title="Lift: spring bolts at their torque, blocks, shackles, shafts, hoses",
        short="Lift: torque the spring bolts",
        how="Weight on the wheels. U-bolts crosswise at their torque, blocks and pins seated, shackles upright, no "
        "play in the U-joints, slack in the brake hoses at full droop, caster and toe as set.",
        tools="torque wrench, pry bar, work light",
        hours=1.5,
        after=("road.qualified",),
        caution="Loose U-bolts let the axle steer the truck. Wheels chocked; stands before anybody gets under.",
        records=Record("torque, and what you found", TEXT, short="torque, found"),
        every=TaskInterval(
            "6,000 mi", 12, practice("new springs and blocks settle first; from memory"), first="500 mi"
        ),
        for_changes=("lift",),
    ),
    StandingTask(
        id="use.brakes",
        phase="check again",
        title="Brakes: linings, drums, hoses, adjustment, fluid",
        short="Brakes: linings, hoses, fluid",
        how="Drum off. Lining at its thinnest, drum for cracks and blue spots, cylinders and seals dry, hoses without "
        "cracks and away from the tire. Adjust, then a stop on an empty road: straight, pedal high.",
        tools="jack, stands, caliper, brake spoon, water spray for the dust",
        hours=2,
        after=("road.qualified",),
        caution="Lining dust may have asbestos in it: wipe it wet, never blow it. Axle on stands. If you aren't sure "
        "about a brake, have a licensed shop do it.",
        records=Record("thinnest lining, and what you found", TEXT, short="lining, found"),
        per="axle",
        each_wheel=True,
        every=TaskInterval("12,000 mi", 12, YEARLY),
    ),
    StandingTask(
        id="use.steering",
        phase="check again",
        title="Steering: joints, kingpins, stops, box; lock to lock",
        short="Steering: joints, stops, box",
        how="Have somebody turn the wheel a little back and forth: look at every joint. Check kingpins with a bar "
        "under the tire. Stops tight and the same left and right; rubber marks on anything mean they moved.",
        tools="pry bar, work light, jack, stands, a helper",
        hours=1,
        after=("road.qualified",),
        caution="If there's play in the steering, don't drive it: that's a job for a licensed shop. Wheels chocked; "
        "axle on stands for the kingpins.",
        records=Record("play found, and where", TEXT, short="play, where"),
        every=TaskInterval("12,000 mi", 12, YEARLY),
    ),
)
