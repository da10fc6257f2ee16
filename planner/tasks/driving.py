"""Driving, in steps from walking pace up, and checking again afterwards: nuts, oil, marks, inspection, papers."""

from planner.quantities.kinds import SPEED, TEXT
from planner.sources.citing import practice
from planner.sources.un import R39
from planner.tasks.fitting import at_torque
from planner.tasks.kind import Bound, Record, StandingTask, TaskInterval
from planner.tasks.ordering import REGEARED

SETTLES = practice("new wheels, paint and seats settle in the first miles; from memory")
BAND = R39.recalled("5.3")

TASKS = (
    StandingTask(
        id="road.yard",
        phase="road test",
        title="Walking pace in a yard: brakes first, both locks, forward and back",
        how="First the brake, within a truck's length. Then circles both ways at full lock, over a plank with one "
        "wheel, in reverse. Windows down: listen.",
        hours=1,
        after=("check.sign",),
        caution="Empty, level, fenced; belt on; nobody ahead of, behind or beside it. One person drives, one watches "
        "from a distance and can call a halt.",
    ),
    StandingTask(
        id="road.low_speed",
        phase="road test",
        title="Low-speed test on an empty, level road; feel for heat; look it over",
        how="To 25 mph, five miles out and back. Straight stops, hands light: does it pull, shimmy, wander, rub? Then "
        "the wheel nuts once around at their torque, hoses, leaks, and the back of the hand near every hub, drum and "
        "axle housing: one hotter than its fellow is a brake that drags or a bearing set too tight.",
        hours=1.5,
        after=("road.yard",),
        caution="Only where the code lets it be driven: otherwise a yard or a trailer. Pull, shimmy, a low pedal or a "
        "bearing too hot to touch ends it. Drums burn skin, and water on a hot drum cracks it.",
        records=Record("what was felt, heard and seen; the hottest hub", TEXT),
        for_rules=("steering.bearing_moment_grown", "steering.bearings_past_rating"),
    ),
    StandingTask(
        id="road.bed_brakes",
        phase="road test",
        title="Bed the brakes: moderate stops, with time to cool between",
        how="A dozen stops from 30 mph to a walk, half a mile between, as the lining's maker says. No hard stop and "
        "no holding on the pedal while they are hot. Adjust once more when cold.",
        hours=1.5,
        after=("road.low_speed",),
        caution="New linings brake little at first. Empty road, long distances, nobody behind.",
        for_rules=("brakes.stop_energy_gained",),
    ),
    StandingTask(
        id="road.speedometer",
        phase="road test",
        title="Read the speedometer at a true cruise speed",
        how="Measured miles and a watch, or a satellite receiver, on the level, by a passenger. It may read high "
        "within the band, and never low.",
        hours=0.5,
        after=("road.qualified",),
        caution="The passenger reads and writes; the driver drives.",
        records=Record(
            "what it shows at the true cruise speed",
            SPEED,
            least=Bound("cruise_speed", BAND),
            most=Bound("cruise_speed", BAND, times=1.1, more="speedometer_high_allowance"),
        ),
        for_rules=("speedometer.reads_low", "speedometer.reads_high", "speedometer.off_at_highway_speed"),
    ),
    StandingTask(
        id="road.qualified",
        phase="road test",
        title="Road test by a qualified person, empty and loaded",
        how="Stops from speed, one-sided braking at low speed, lane change, grade up and down, parking brake on the "
        "grade. Their findings in writing; what they want done is done before traffic.",
        hours=2,
        after=("road.bed_brakes",),
        caution="Whoever never drove it is told first: it is taller, it stops later, it tips sooner.",
        records=Record("who tested it, and what they said", TEXT),
        hold=True,
        for_rules=(
            "brakes.braking_force_lost",
            "brakes.stop_energy_gained",
            "steering.scrub_radius_changed",
            "steering.scrub_radius_changed_sign",
            "stance.stability_fallen",
            "gearing.grade_out_of_reach",
        ),
    ),
    StandingTask(
        id="again.torque_50",
        phase="check again",
        title="Torque the wheel nuts again after the first 50 miles",
        how="Cold wheels, star, at the torque, to the click. A nut that moved more than a little: wheel off, look at "
        "seat, stud and face, and begin the count again.",
        hours=1,
        after=("road.qualified", "again.inner_nuts"),
        caution="New wheels settle: this is when nuts work loose. A nut that is loose twice has a reason: do not "
        "drive until you have found it.",
        records=at_torque("torque that every nut clicked at, 50 miles"),
        every=TaskInterval("50 mi", 1, SETTLES, once=True),
        torque="nut_torque",
        for_rules=("wheel.studs_slack",),
        per="axle",
    ),
    StandingTask(
        id="again.marks",
        phase="check again",
        title="Look for rub marks, leaks, loose U-bolts and tire wear",
        how="Chalk on the tight spots before a drive over rough ground, then look. U-bolts at their torque again, toe "
        "by the tread's feel, seals and gear oil.",
        hours=1.5,
        after=("again.torque_50",),
        caution="Axle on stands, wheels chocked, for whatever is reached from below.",
        records=Record("what was found", TEXT),
    ),
    StandingTask(
        id="again.gear_oil",
        phase="check again",
        title="Change the gear oil after the new gears' first 500 miles",
        how="Short trips and light loads until then, as the set's maker says. Drain warm, look at what is on the "
        "magnet: paste is usual, chips are not.",
        hours=1.5,
        after=("again.marks", "fit.gears"),
        caution="Warm oil, not hot. Truck level, on stands or over a pit, wheels chocked.",
        applies=(REGEARED,),
        per="axle",
    ),
    StandingTask(
        id="again.torque_500",
        phase="check again",
        title="Torque the wheel nuts again after 500 miles",
        how="As after 50. From then on at every oil change, and 50 miles after any wheel has been off.",
        hours=1,
        after=("again.marks",),
        caution="As after 50: a nut that is still moving has a reason.",
        records=at_torque("torque that every nut clicked at, 500 miles"),
        every=TaskInterval("500 mi", 3, SETTLES, once=True),
        torque="nut_torque",
        for_rules=("wheel.studs_slack",),
        per="axle",
    ),
    StandingTask(
        id="again.inspection",
        phase="check again",
        title="Have the truck inspected and its papers changed as the code asks",
        how="Take the build record along: figures, grounds, the wheel maker's confirmation, torque readings. Tire "
        "size, height or ratings on the papers where they belong there.",
        hours=2,
        after=("road.qualified", "road.speedometer"),
        records=Record("inspected by, and their number", TEXT),
        hold=True,
        for_rules=("wheel.rated_below_axle",),
    ),
    StandingTask(
        id="again.insurer",
        phase="check again",
        title="Tell the insurer what was built; put the build record in the truck",
        how="Photographs, inspection sheet, build record; keep their answer. Until they have answered it may not be "
        "covered. A copy of the record, torques and part numbers stays in the truck for whoever owns it next.",
        hours=1,
        after=("again.inspection", "again.torque_500", "again.gear_oil"),
    ),
)
