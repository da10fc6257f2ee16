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
YEARLY = practice("once a year, or every 12,000 miles; the axle maker's own figure comes first; from memory")

TASKS = (
    StandingTask(
        id="use.nuts",
        phase="check again",
        title="Retorque the lug nuts, as long as the truck runs",
        how="Wheels cold, star pattern, full torque, to the click. After any wheel has been off, retorque after 50 "
        "miles, whatever this list says. On pairs the inner nuts first, one stud at a time.",
        hours=1,
        after=("again.torque_500",),
        caution="A nut that moves again and again has a reason: a worn seat, a stretched stud, a cracked wheel. "
        "Don't drive until you've found it.",
        records=at_torque("torque every nut clicked at"),
        torque="nut_torque",
        per="axle",
        every=OIL_CHANGE,
    ),
    StandingTask(
        id="use.tires",
        phase="check again",
        title="Tires: tread, wear, sidewalls, pressure when cold",
        how="Cold, at the pressures of the card, the spare too. Tread in the main grooves at three places; feathered "
        "edges say toe, one shoulder camber, cups a bearing or balance. Cuts, bulges and stones on both sidewalls.",
        hours=0.5,
        after=("road.qualified",),
        caution="A tire that ran low isn't blown up again where it stands: off, and looked at from inside by a tire "
        "shop. A bulge or a cord that shows: not a mile more.",
        records=Record("least tread left, at the worst place", DISTANCE, least=Bound("2/32 in", WORN_OUT)),
        per="axle",
        every=MONTHLY,
    ),
    StandingTask(
        id="use.bearings",
        phase="check again",
        title="Wheel bearings: play, noise, grease; set them again",
        how="Wheel up, rock it top and bottom, spin it and listen. Dial gauge on the hub, push and pull; set it where "
        "it is out. Grease that is gray, watery or past the seal: out, clean, look, pack.",
        hours=2,
        after=("road.qualified",),
        caution="Axle on stands, the other wheels chocked. Too tight runs hot and seizes, too loose ends in a wheel "
        "that comes off: whoever never set one has it shown to them.",
        records=Record(
            "end play of the hub", DISTANCE, least=Bound("0.001 in", END_PLAY), most=Bound("0.005 in", END_PLAY)
        ),
        per="axle",
        every=TaskInterval("12,000 mi", 12, YEARLY, first="500 mi"),
    ),
    StandingTask(
        id="use.wheels",
        phase="check again",
        title="Wheels off: cracks at welds, holes and seats; studs; rust streaks",
        how="Clean and dry, both sides, with a lamp and a wire brush: the weld of disc and rim, between the holes, "
        "around the seats, the valve hole. Rust that runs from a nut says that it was loose. Then torque, and again "
        "after 50 miles.",
        hours=2,
        after=("road.qualified",),
        caution="A cracked wheel is scrap: never welded. A multi-piece rim has its air out, core removed, before a nut "
        "is touched. Axle on stands.",
        records=Record("what was found at welds, holes and seats, by wheel", TEXT),
        per="axle",
        every=TaskInterval("12,000 mi", 12, YEARLY),
    ),
    StandingTask(
        id="use.spacers",
        phase="check again",
        title="Spacers and adapters: wheels off, both rows of nuts at full torque",
        how="The row that holds the spacer to the hub first, then the wheel's. Look for fretting, cracks between the "
        "holes, studs that turned, faces that no longer lie flat.",
        hours=2,
        after=("road.qualified",),
        caution="The inner row cannot be seen with the wheel on, and a wheel comes off with its spacer. Axle on "
        "stands; then again after 50 miles.",
        records=Record("torque of both rows, and what was found", TEXT),
        every=TaskInterval("3,000 mi", 6, practice("at every oil change, wheel off; from memory"), first="50 mi"),
        for_changes=("spacer or adapter",),
    ),
    StandingTask(
        id="use.lift",
        phase="check again",
        title="Lift: spring bolts at their torque, blocks, shackles, shafts, hoses",
        how="The weight on its wheels. U-bolts in a cross at their torque, blocks and pins seated, shackles upright, "
        "driveshaft joints without play, brake hoses slack at full droop, caster and toe as they were set.",
        hours=1.5,
        after=("road.qualified",),
        caution="U-bolts that are loose let the axle steer the truck. Wheels chocked; stands before anybody is under.",
        records=Record("torque, and what was found", TEXT),
        every=TaskInterval(
            "6,000 mi", 12, practice("new springs and blocks settle first; from memory"), first="500 mi"
        ),
        for_changes=("lift",),
    ),
    StandingTask(
        id="use.brakes",
        phase="check again",
        title="Brakes: linings, drums, hoses, adjustment, fluid",
        how="Drum off. Lining at its thinnest, drum for cracks and blue spots, cylinders and seals dry, hoses without "
        "cracks and away from the tire. Adjust, then a stop on an empty road: straight, pedal high.",
        hours=2,
        after=("road.qualified",),
        caution="Lining dust may hold asbestos: wiped wet, never blown. Axle on stands. If you aren't sure of a brake, "
        "have a licensed shop do it.",
        records=Record("thinnest lining, and what was found", TEXT),
        per="axle",
        every=TaskInterval("12,000 mi", 12, YEARLY),
    ),
    StandingTask(
        id="use.steering",
        phase="check again",
        title="Steering: joints, kingpins, stops, box; lock to lock",
        how="Somebody turns the wheel a little to and fro: look at every joint. Kingpins by a bar under the tire. "
        "Stops tight and alike left and right, marks of rubber on anything say that they moved.",
        hours=1,
        after=("road.qualified",),
        caution="Play in the steering is work for a licensed shop before the next drive. Wheels chocked; axle on "
        "stands for the kingpins.",
        records=Record("play found, and where", TEXT),
        every=TaskInterval("12,000 mi", 12, YEARLY),
    ),
)
