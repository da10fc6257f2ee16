"""Making the truck safe to work on: what the law asks, the ground, the stands, the rims and threads, the dust."""

from planner.quantities.kinds import TEXT, WEIGHT, Kind
from planner.sources.citing import practice
from planner.sources.us_federal import RIM_SERVICING
from planner.tasks.kind import Bound, Only, Record, StandingTask

GAUGE = Kind("pressure", "Pa", 0.0)  # a gauge may well stand at nothing
MULTI_PIECE = Only("found_rim_pieces", ("multi",))

TASKS = (
    StandingTask(
        id="safe.local_code",
        phase="make safe",
        title="Read the local code; list what takes a licensed shop",
        short="Read the local code; sign it off",
        how="Local codes and licensed practice come before anything in this list. Ask the office that registers the "
        "truck about tire coverage, overall width, headlight height, lifts, wheels that aren't original, and who may "
        "work on brakes and steering. Tell your insurance what you plan to build. Put the limits into the project.",
        hours=2,
        hold=True,
        asks=("legal_width", "lamp_lowest", "lamp_highest", "legal_poke"),
        for_rules=("fit.poke_past_local_code", "fit.wider_than_legal", "stance.lamps_out_of_band"),
    ),
    StandingTask(
        id="safe.chock",
        phase="make safe",
        title="Park on hard, level ground and chock the wheels both ways",
        short="Level ground; chock it both ways",
        how="Concrete if you have it, steel plates on asphalt. In low gear, parking brake on, and still a chock in "
        "front of and behind each wheel that stays on the ground. Key out, battery disconnected.",
        tools="chocks for every wheel, steel plates, wrench for the battery",
        hours=0.5,
        caution="A parking brake on the driveshaft holds nothing once one rear wheel is in the air. Chocks do.",
    ),
    StandingTask(
        id="safe.stands",
        phase="make safe",
        title="Get out a jack and stands rated for the whole axle",
        short="Get stands rated for the axle",
        how="Lift under the axle, not under the springs or bumper. One stand under each end of the axle on bare, dry "
        "metal, then rock the truck before anybody reaches under. Write down what one stand is rated for.",
        tools="rated jack, two rated stands, chocks",
        hours=1,
        after=("safe.chock",),
        caution="Never get under a truck that's only on a jack: hydraulics sink without warning. No concrete blocks, "
        "no stacked scraps. Each stand has to carry the axle alone: it may while the other side goes up.",
        records=Record(
            "rating of one stand",
            WEIGHT,
            least=Bound("axle_rating", practice("one stand may carry it all while the other side goes up")),
            short="rating",
        ),
        per="axle",
    ),
    StandingTask(
        id="safe.rim_pieces",
        phase="make safe",
        title="Find out if the rims come apart in pieces, and which nuts do it",
        short="Find out if the rims come apart",
        how="Look for a split, a lock ring or a side ring at the rim's edge, and for a second row of nuts that clamps "
        "two halves. Check the spare too. Clean the rim so you can see. Paint the clamping nuts red. If you aren't "
        "sure, treat it as multi-piece.",
        tools="wire brush, work light, red paint",
        hours=1,
        caution="Just look: don't loosen anything, and stand out of the rim's line of fire. Loosen the nuts that "
        "clamp rim halves under air and the rim blows apart.",
        asks=("found_rim_pieces", "found_rim_tubeless", "found_spare_pieces"),
        for_rules=("wheel.multi_piece_rims",),
    ),
    StandingTask(
        id="safe.air_out",
        phase="make safe",
        title="Let all the air out, cores out, before you touch a nut",
        short="All air out, cores out: then nuts",
        how="Do this once the truck is weighed and parked where you'll work on it: it won't roll on these rims again. "
        "For each tire, and both tires of a dual pair: core out, wait until nothing comes, run a wire through the "
        "stem to see that it's open, then put a gauge on it. Only then touch the first lug nut.",
        tools="valve core tool, wire, pressure gauge, safety glasses",
        hours=1,
        after=(
            "safe.rim_pieces",
            "safe.stands",
            "measure.weigh",
            "measure.stance",
            "measure.found_tires",
            "measure.lift_test",
            "safe.pair_air",
        ),
        caution="A multi-piece rim under air can come apart hard enough to kill. Stand to the side, never in its line "
        "of fire, until it's flat. Never take one of these rims apart here, and don't hammer, weld or heat it.",
        records=Record(
            "highest gauge pressure left, cores out",
            GAUGE,
            most=Bound("0 psi", RIM_SERVICING.recalled("(f): fully deflated, core out, before demounting")),
            short="pressure left",
        ),
        hold=True,
        for_rules=("wheel.multi_piece_rims",),
        applies=(MULTI_PIECE,),
    ),
    StandingTask(
        id="safe.thread_hand",
        phase="make safe",
        title="Read the stud ends for left-hand threads; mark hubs and nuts",
        short="Mark left-hand threads",
        how="Wire-brush a stud end on each side: L means left-hand, often on the truck's left. Try a nut by hand. "
        "Mark each hub and each can of nuts, and write the direction on the wall.",
        tools="wire brush, paint marker, cans for the nuts",
        hours=0.5,
        caution="Force them the wrong way and the studs shear, and the wrench comes around at your face.",
        asks=("thread_hand_left", "thread_hand_right"),
        for_rules=("wheel.left_hand_threads",),
        per="axle",
        each_wheel=True,
    ),
    StandingTask(
        id="safe.look_over",
        phase="make safe",
        title="Look over frame, springs, axles and steering for cracks and repairs",
        short="Look over frame, springs, axles",
        how="Clean it, get a bright light, and wire-brush spring hangers, steering box, drag link, tie rod ends, "
        "knuckle caps and axle tubes. Write down every weld that isn't factory, every bent part, every leaking seal.",
        tools="work light, wire brush, water spray for the dust, respirator",
        hours=3,
        after=("safe.stands",),
        caution="If a steering part or spring hanger is cracked, stop here until somebody qualified has looked at it. "
        "Don't get under the truck unless the axle is on stands. Treat brake dust as asbestos: wet it, never blow or "
        "brush it dry.",
        records=Record("what you found", TEXT, short="found"),
        for_rules=("gearing.shaft_torque_grown", "gearing.shaft_torque_past_rating"),
    ),
)
