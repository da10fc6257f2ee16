"""Two wheels side by side: measured and let down before a nut is touched, matched, and the inner one held first."""

from planner.quantities.kinds import DISTANCE, TORQUE
from planner.sources.citing import practice
from planner.sources.us_federal import ARMY_TIRE_CARE, RIM_SERVICING
from planner.tasks.fitting import WRENCH
from planner.tasks.kind import Bound, Only, Record, StandingTask, TaskInterval
from planner.tasks.making_safe import GAUGE

FOUND_IN_PAIRS = Only("found_tires", ("4",), unknown=False)
IN_PAIRS = Only("tires", ("4",), unknown=False)
INNER_NUTS = Only("pair_held_by", ("inner nuts",))


def at_inner_torque(label: str) -> Record:
    """An inner nut's torque written down, within what a wrench is held to."""
    return Record(
        label,
        TORQUE,
        least=Bound("inner_nut_torque", WRENCH, times=0.96),
        most=Bound("inner_nut_torque", WRENCH, times=1.04),
        short="clicked at",
    )


TASKS = (
    StandingTask(
        id="safe.pair_air",
        phase="make safe",
        title="Let the air out of both duals before you loosen their nuts",
        short="Let the air out of both duals",
        how="Do this once it's weighed and parked where you'll work on it. The inner tire too: core out, wait until "
        "nothing comes, a wire through the stem, then a gauge on each. Work from the tread side, at arm's length.",
        tools="valve core tool, wire, pressure gauge, safety glasses",
        hours=1,
        after=(
            "safe.stands",
            "measure.weigh",
            "measure.stance",
            "measure.found_tires",
            "measure.lift_test",
            "measure.pair",
        ),
        caution="The outer nuts may be all that holds a cracked inner rim together: loosen them under air and it "
        "comes off at you. Nobody in line with either wheel. Find out which nuts hold which wheel before you put a "
        "wrench on.",
        records=Record(
            "highest gauge pressure left in any of them",
            GAUGE,
            most=Bound("0 psi", RIM_SERVICING.recalled("(f): both tires of a dual pair fully deflated first")),
            short="pressure left",
        ),
        for_rules=("wheel.multi_piece_rims",),
        applies=(FOUND_IN_PAIRS,),
        per="axle",
        each_wheel=True,
    ),
    StandingTask(
        id="measure.pair",
        phase="measure",
        title="Measure the pair standing: spacing, gap at the road, diameters",
        short="Measure the duals, standing",
        how="Loaded, at pressure, on level ground. From one tire's sidewall to the same sidewall of the other at hub "
        "height; between the sidewalls at the road, with a stick; a tape around each tread. Say which face the offset "
        "was measured to, what holds the inner wheel, and whether a gauge reaches the inner valve.",
        tools="tape, stick, pressure gauge, chalk",
        hours=1,
        after=("safe.chock",),
        caution="Don't put a hand or a stick between the tires unless the truck is chocked and nobody is in the cab. "
        "Use a gauge: kicking a tire won't tell you if it's low.",
        asks=(
            "found_measured_dual_spacing",
            "found_measured_sidewall_gap",
            "found_pair_difference",
            "found_inner_valve_reached",
            "found_pair_held_by",
            "found_offset_face",
        ),
        for_rules=("wheel.spacing_and_offset",),
        applies=(FOUND_IN_PAIRS,),
        per="axle",
    ),
    StandingTask(
        id="decide.pair",
        phase="decide",
        title="Decide the pair: spacing by the tire's table, face, inner nuts, valves",
        short="Decide the pair: spacing, nuts",
        how="Start with the tire maker's minimum spacing for this rim. Then offset, the face it's measured to, and "
        "the disc thickness, which place both wheels. Say what holds the inner wheel and at what torque, and how you "
        "reach the inner valve: a long stem through a hand hole, held so it can't chafe.",
        hours=1.5,
        after=("decide.wheel",),
        caution="Two tires that touch under load burn, and nobody sees the inner one. Measure from the wrong face and "
        "you're off by two disc thicknesses: write the face on the order and have the maker sign it.",
        asks=(
            "planned_offset_face",
            "planned_pair_held_by",
            "inner_nut_torque",
            "planned_least_dual_spacing",
            "planned_measured_dual_spacing",
            "planned_measured_sidewall_gap",
        ),
        for_rules=(
            "wheel.spacing_below_makers",
            "wheel.spacing_below_usual",
            "wheel.sidewalls_too_near",
            "wheel.spare_for_each_axle",
        ),
        applies=(IN_PAIRS,),
        per="axle",
    ),
    StandingTask(
        id="fit.match",
        phase="fit",
        title="Match the tires of each pair by a tape around the tread",
        short="Match the duals with a tape",
        how="All at the same pressure, cold, no load. The two closest in size make a pair, the larger one outside; "
        "divide the difference by 3.14 to get the difference in diameter. Number them with chalk.",
        tools="tape, pressure gauge, chalk",
        hours=0.5,
        after=("fit.tires",),
        caution="The larger tire of a pair carries more than half, heats up and can burn. Don't drive on a pair "
        "that's past the table's limit, empty or loaded.",
        records=Record(
            "largest difference in diameter within a pair",
            DISTANCE,
            most=Bound("most_pair_difference", ARMY_TIRE_CARE.read("Table 2-1, p. 2-8")),
            short="difference",
        ),
        asks=("planned_pair_difference",),
        for_rules=("wheel.pair_unmatched",),
        applies=(IN_PAIRS,),
        per="axle",
    ),
    StandingTask(
        id="fit.inner_wheels",
        phase="fit",
        title="Put the inner wheels on: inner nuts to their torque, before the outer",
        short="Inner wheels on; inner nuts tight",
        how="Bare, clean, dry faces. Inner nuts by hand, in a star, in three stages, to their own torque; on long "
        "studs both wheels go on together. Run the inner valve's stem through the hand hole and put a gauge on it. "
        "Then the outer wheel with its hand hole over the stem, and its nuts.",
        tools="torque wrench, inner nut socket, wire brush, pressure gauge, stands",
        hours=2,
        after=("fit.match", "fit.bearings", "fit.studs", "fit.gears", "fit.brakes"),
        caution="You can't see a forgotten inner nut behind the outer wheel, and both wheels come off. Count the nuts "
        "out loud. Never use outer nuts to pull an inner wheel on. Two people or a dolly for each wheel.",
        records=at_inner_torque("torque every inner nut clicked at"),
        torque="inner_nut_torque",
        parts=("wheels", "tires", "nuts", "studs"),
        asks=("planned_inner_valve_reached",),
        for_rules=("wheel.inner_valve_out_of_reach", "wheel.inner_nuts_past_proof"),
        applies=(IN_PAIRS, INNER_NUTS),
        per="axle",
        each_wheel=True,
    ),
    StandingTask(
        id="again.inner_nuts",
        phase="check again",
        title="Retorque the inner nuts after 50 and after 500 miles (80 and 800 km)",
        short="Inner nuts at 50 and 500 miles",
        how="One stud at a time: outer nut off, inner nut to its torque, outer nut back to its own. Gauge both tires "
        "while you're there, cold, and set them the same.",
        tools="torque wrench, inner and outer sockets, pressure gauge",
        hours=1.5,
        after=("road.qualified",),
        caution="A tight outer nut tells you nothing about the inner one. Never have more than one outer nut off "
        "while the truck is on its wheels.",
        records=at_inner_torque("torque every inner nut clicked at, 50 miles (80 km)"),
        torque="inner_nut_torque",
        applies=(IN_PAIRS, INNER_NUTS),
        per="axle",
        each_wheel=True,
        every=TaskInterval("50 mi", 1, practice("new wheels settle in the first miles; from memory"), once=True),
    ),
)
