"""Two wheels side by side: measured and let down before a nut is touched, matched, and the inner one held first."""

from planner.quantities.kinds import DISTANCE, TORQUE
from planner.sources.us_federal import ARMY_TIRE_CARE, RIM_SERVICING
from planner.tasks.fitting import WRENCH
from planner.tasks.kind import Bound, Only, Record, StandingTask
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
    )


TASKS = (
    StandingTask(
        id="safe.pair_air",
        phase="make safe",
        title="Let both tires of each pair down before its nuts are loosened",
        how="Once it is weighed and stands where it will be worked on. The inner one too: core out, wait until "
        "nothing comes, a wire through the stem, then a gauge on each. Do it from the tread's side, an arm's length "
        "away.",
        hours=1,
        after=(
            "safe.stands",
            "measure.weigh",
            "measure.stance",
            "measure.found_tires",
            "measure.lift_test",
            "measure.pair",
        ),
        caution="The outer wheel's nuts may be all that holds a cracked inner rim together: loosened under air it "
        "comes off at you. Nobody in line with either wheel. Which nuts hold which wheel is found out before a wrench "
        "goes on.",
        records=Record(
            "greatest gauge pressure left in any of them",
            GAUGE,
            most=Bound("0 psi", RIM_SERVICING.recalled("(f): both tires of a dual pair fully deflated first")),
        ),
        for_rules=("wheel.multi_piece_rims",),
        applies=(FOUND_IN_PAIRS,),
        per="axle",
    ),
    StandingTask(
        id="measure.pair",
        phase="measure",
        title="Measure the pair standing: spacing, gap at the road, diameters",
        how="Loaded, at pressure, on level ground. From one tire's sidewall to the same sidewall of the other at hub "
        "height; between the sidewalls at the road, with a stick; a tape around each tread. Say which face the offset "
        "was taken to, what holds the inner wheel, and whether a gauge reaches the inner valve.",
        hours=1,
        after=("safe.chock",),
        caution="Hands and stick between the tires only with the truck chocked and nobody in the cab. Kick no tire to "
        "see whether it holds air.",
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
        how="The tire maker's least spacing for this rim; then offset, the face that it is taken to, and the disc's "
        "thickness, which place both wheels. Say what holds the inner wheel and with what torque, and how the inner "
        "valve is reached: a long stem through a hand hole, held so that it cannot chafe.",
        hours=1.5,
        after=("decide.wheel",),
        caution="Two tires that touch under load burn, and the inner one is seen by nobody. The face taken wrongly is "
        "two thicknesses of the disc: it is written on the order, and the maker signs it.",
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
        how="All at one pressure, cold, not loaded. The two nearest to each other make a pair, the larger of them "
        "outside; the difference over 3.14 is that of their diameters. Number them with chalk.",
        hours=0.5,
        after=("fit.tires",),
        caution="The larger tire of a pair carries more than its half, heats and can burn: a pair out of the table's "
        "limit is not driven, empty or loaded.",
        records=Record(
            "largest difference in diameter within a pair",
            DISTANCE,
            most=Bound("most_pair_difference", ARMY_TIRE_CARE.read("Table 2-1, p. 2-8")),
        ),
        asks=("planned_pair_difference",),
        for_rules=("wheel.pair_unmatched",),
        applies=(IN_PAIRS,),
        per="axle",
    ),
    StandingTask(
        id="fit.inner_wheels",
        phase="fit",
        title="Fit the inner wheels: inner nuts to their torque, before the outer",
        how="Bare, clean, dry faces. Inner nuts by hand, in a star, in three stages, to their own torque; on long "
        "studs both wheels go on together. Hang the inner valve's stem in the hand hole, gauge it, then the outer "
        "wheel with its hole over it, and its nuts.",
        hours=2,
        after=("fit.match", "fit.bearings", "fit.studs", "fit.gears", "fit.brakes"),
        caution="An inner nut that was forgotten cannot be seen behind the outer wheel, and both come off. Count them "
        "aloud. Outer nuts never pull an inner wheel home. Two people or a dolly for each wheel.",
        records=at_inner_torque("torque that every inner nut clicked at"),
        torque="inner_nut_torque",
        parts=("wheels", "tires", "nuts", "studs"),
        asks=("planned_inner_valve_reached",),
        for_rules=("wheel.inner_valve_out_of_reach", "wheel.inner_nuts_past_proof"),
        applies=(IN_PAIRS, INNER_NUTS),
        per="axle",
    ),
    StandingTask(
        id="again.inner_nuts",
        phase="check again",
        title="Torque the inner nuts again after 50 and after 500 miles",
        how="One stud after the other: outer nut off, inner nut to its torque, outer nut back to its own. Both tires "
        "gauged while you are there, cold, and alike.",
        hours=1.5,
        after=("road.qualified",),
        caution="An outer nut that is tight says nothing of the inner one. Never more than one outer nut off while "
        "the truck stands on its wheels.",
        records=at_inner_torque("torque that every inner nut clicked at, 50 miles"),
        torque="inner_nut_torque",
        applies=(IN_PAIRS, INNER_NUTS),
        per="axle",
    ),
)
