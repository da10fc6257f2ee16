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
        title="Walking speed in a yard: brakes first, both locks, forward and back",
        short="Walking speed in a yard: brakes",
        how="Brake first, within a truck's length. Then circle both ways at full lock, drive one wheel over a plank, "
        "and back up. Windows down: listen.",
        tools="plank, cones, fire extinguisher, chocks, radio or phone",
        hours=1,
        after=("check.sign",),
        caution="Empty, level, fenced yard; belt on; nobody in front of, behind or beside the truck. One drives, one "
        "watches from a distance and can call a stop.",
    ),
    StandingTask(
        id="road.low_speed",
        phase="road test",
        title="Low-speed test on an empty, level road; feel for heat; look it over",
        short="Slow test, level road; feel heat",
        how="Up to 25 mph (40 km/h), five miles (8 km) out and back. Straight stops, light hands: does it "
        "pull, shimmy, wander, rub? "
        "Then torque the lug nuts once around, check hoses, look for leaks, and hold the back of your hand near every "
        "hub, drum and axle housing. One hotter than the other side means a dragging brake or a bearing set too tight.",
        tools="torque wrench, jack, fire extinguisher, phone",
        hours=1.5,
        after=("road.yard",),
        caution="Only where the code lets you drive it; otherwise use a yard or a trailer. Stop if it pulls or "
        "shimmies, if the pedal is low, or if a bearing is too hot to touch. Drums burn skin, and water cracks a hot "
        "drum.",
        records=Record("what you felt, heard and saw; the hottest hub", TEXT, short="felt, heard"),
        for_rules=("steering.bearing_moment_grown", "steering.bearings_past_rating"),
    ),
    StandingTask(
        id="road.bed_brakes",
        phase="road test",
        title="Bed the brakes: moderate stops, with time to cool between",
        short="Bed the brakes; let them cool",
        how="A dozen stops from 30 mph (50 km/h) to a walk, half a mile (800 m) apart, or as the lining maker "
        "says. No hard stops, and "
        "don't hold the pedal down while they're hot. Adjust again when they're cold.",
        tools="brake spoon, jack, chocks",
        hours=1.5,
        after=("road.low_speed",),
        caution="New linings don't stop well at first. Empty road, long distances, nobody behind you.",
        for_rules=("brakes.stop_energy_gained",),
    ),
    StandingTask(
        id="road.speedometer",
        phase="road test",
        title="Read the speedometer at a true cruise speed",
        short="Read speedometer at true cruise",
        how="Measured miles and a watch, or a GPS, on the level, read by a passenger. It may read a little high, "
        "within the band, but never low.",
        tools="GPS or a watch and measured miles or kilometers, a passenger",
        hours=0.5,
        after=("road.qualified",),
        caution="The passenger reads and writes; the driver drives.",
        records=Record(
            "what it reads at the true cruise speed",
            SPEED,
            least=Bound("cruise_speed", BAND),
            most=Bound("cruise_speed", BAND, times=1.1, more="speedometer_high_allowance"),
            short="it reads",
        ),
        for_rules=("speedometer.reads_low", "speedometer.reads_high", "speedometer.off_at_highway_speed"),
    ),
    StandingTask(
        id="road.qualified",
        phase="road test",
        title="Road test by a qualified person, empty and loaded",
        short="Qualified person road-tests, signs",
        how="Stops from speed, one-sided braking at low speed, lane change, grade up and down, parking brake on the "
        "grade. Get what they find in writing, and do what they want done before the truck sees traffic.",
        hours=2,
        after=("road.bed_brakes",),
        caution="Tell anybody who hasn't driven it before they start: it's taller, it takes longer to stop, it tips "
        "sooner.",
        records=Record("who tested it, and what they found", TEXT, short="who, what"),
        hold=True,
        closes=True,
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
        title="Retorque the lug nuts after the first 50 miles (80 km)",
        short="Retorque lug nuts at 50 miles",
        how="Wheels cold, star pattern, full torque, to the click. If a nut moves more than a little, pull the wheel, "
        "look at the seat, stud and face, and start the 50 miles (80 km) over.",
        tools="torque wrench, paint marker, jack, stands",
        hours=1,
        after=("road.qualified", "again.inner_nuts"),
        caution="New wheels settle, and this is when nuts work loose. A nut that's loose twice is loose for a reason: "
        "don't drive until you've found it.",
        records=at_torque("torque every nut clicked at, 50 miles (80 km)"),
        every=TaskInterval("50 mi", 1, SETTLES, once=True),
        torque="nut_torque",
        for_rules=("wheel.studs_slack",),
        per="axle",
        each_wheel=True,
    ),
    StandingTask(
        id="again.marks",
        phase="check again",
        title="Look for rub marks, leaks, loose U-bolts and tire wear",
        short="Look for rub marks, leaks, wear",
        how="Chalk the tight spots, drive over rough ground, then look. Retorque the U-bolts, feel the tread for "
        "feathering, check seals and gear oil.",
        tools="chalk, torque wrench, work light",
        hours=1.5,
        after=("again.torque_50",),
        caution="Axle on stands and wheels chocked for anything you reach from below.",
        records=Record("what you found", TEXT, short="found"),
    ),
    StandingTask(
        id="again.gear_oil",
        phase="check again",
        title="Change the gear oil after the new gears' first 500 miles (800 km)",
        short="Change gear oil at 500 miles",
        how="Short trips and light loads until then, as the gear maker says. Drain it warm and look at the magnet: "
        "paste is normal, chips aren't.",
        tools="drain pan, gear oil, fill pump, plug wrench",
        hours=1.5,
        after=("again.marks", "fit.gears"),
        caution="Warm oil, not hot. Truck level, on stands or over a pit, wheels chocked.",
        applies=(REGEARED,),
        per="axle",
        every=TaskInterval("500 mi", 6, practice("the gear maker's own figure comes first; from memory"), once=True),
    ),
    StandingTask(
        id="again.torque_500",
        phase="check again",
        title="Retorque the lug nuts after 500 miles (800 km)",
        short="Retorque lug nuts at 500 miles",
        how="Same as at 50. From then on at every oil change, and 50 miles (80 km) after any wheel has been off.",
        tools="torque wrench, paint marker",
        hours=1,
        after=("again.marks",),
        caution="A nut that still moves is moving for a reason: don't drive until you've found it.",
        records=at_torque("torque every nut clicked at, 500 miles (800 km)"),
        every=TaskInterval("500 mi", 3, SETTLES, once=True),
        torque="nut_torque",
        for_rules=("wheel.studs_slack",),
        per="axle",
        each_wheel=True,
    ),
    StandingTask(
        id="again.inspection",
        phase="check again",
        title="Have the truck inspected and its papers updated as the code requires",
        short="Get it inspected; update papers",
        how="Bring the build record: numbers, where they come from, the wheel maker's confirmation, torque readings. "
        "Get tire size, height or ratings onto the papers if that's the rule where you live.",
        hours=2,
        after=("road.qualified", "road.speedometer"),
        records=Record("who inspected it, and their number", TEXT, short="who, number"),
        hold=True,
        closes=True,
        for_rules=("wheel.rated_below_axle",),
    ),
    StandingTask(
        id="again.insurer",
        phase="check again",
        title="Tell your insurance what was built; put the build record in the truck",
        short="Tell your insurance what you built",
        how="Send pictures, inspection sheet, build record, and keep their answer. Until they answer, the truck may "
        "not be covered. Keep a copy of the record, torques and part numbers in the truck for the next owner.",
        hours=1,
        after=("again.inspection", "again.torque_500", "again.gear_oil"),
    ),
)
