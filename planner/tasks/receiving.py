"""Receiving: what came is held against the order and the truck before anything is mounted on it."""

from planner.quantities.kinds import DISTANCE, LENGTH, POSITION, TEXT
from planner.sources.citing import Source, practice
from planner.sources.reasoning import GEOMETRY
from planner.tasks.kind import Bound, Record, StandingTask

# Published for truck rims of 12 to 16 in; larger ones are let have more there (2.5 mm and up): the strict end.
RUNOUT = Source(
    "Rules for the use of vehicle tires (Russian Federation)", "Runout of rims", "Ministry of Transport"
).read("Annex 17, Table 1: truck rims of 12 to 16 in, radial and axial 1.2 mm")
MOST_RUNOUT = "1.2 mm"  # past this a wheel goes back
ON_THE_CIRCLE = practice("past this the nuts pull the wheel over its studs")

TASKS = (
    StandingTask(
        id="receive.count",
        phase="receive",
        title="Count and read what came: stamps and dates on every wheel and tire",
        short="Count and read what came",
        how="Check against the order and its drawing: rim code, width, load, pressure, maker, size, construction, "
        "speed symbol. Enter date code and load as molded, the spare's too. Check each tire's molded rim code against "
        "the wheel's stamped one, one by one. Don't paint, drill or mount anything until it has passed: shops rarely "
        "take mounted wheels back.",
        tools="the order and its drawing, light, notepad",
        hours=1.5,
        after=("order.wheels",),
        caution="Never mount a tire on a rim of another size: half an inch off has killed people airing up.",
        records=Record("oldest date code", TEXT, short="oldest code"),
        parts=("wheels", "tires", "nuts"),
        for_rules=(
            "tire.rim_diameters_differ",
            "tire.too_old",
            "tire.tube_and_rim_mismatched",
            "wheel.nut_thread_differs",
            "wheel.rim_contour_differs",
            "wheel.bead_seats_slope_otherwise",
        ),
    ),
    StandingTask(
        id="receive.bore",
        phase="receive",
        title="Measure the bore of every wheel against the pilot",
        short="Measure every bore on the pilot",
        how="Inside caliper, three ways, the smallest counts. Then try the wheel on the hub by hand.",
        tools="inside caliper, micrometer",
        hours=0.5,
        after=("receive.count",),
        caution="Never pull a wheel onto a pilot with the lug nuts. If the bore is smaller than the pilot, send the "
        "wheel back, or to a machine shop that stands behind its work.",
        records=Record("smallest bore", LENGTH, least=Bound("hub_pilot", GEOMETRY), short="smallest"),
        parts=("wheels",),
        for_rules=("wheel.bore_smaller_than_pilot", "wheel.bore_loose_on_pilot"),
        per="axle",
    ),
    StandingTask(
        id="receive.circle",
        phase="receive",
        title="Check the bolt circle of every wheel against the hub",
        short="Check every bolt circle on the hub",
        how="Caliper over the outer edges of two holes and over the inner edges; the average is the chord. Divide it "
        "by its factor. Holes are larger than studs: the circle is what counts, not that it slips on.",
        tools="caliper that spans two holes",
        hours=0.5,
        after=("receive.count",),
        caution="If you have to coax a wheel over its studs, send it back. Redrilled or slotted holes are scrap.",
        records=Record(
            "bolt circle, the wheel that's off the most",
            LENGTH,
            least=Bound("stud_circle", ON_THE_CIRCLE, less="most_stud_circle_difference"),
            most=Bound("stud_circle", ON_THE_CIRCLE, more="most_stud_circle_difference"),
            short="worst wheel",
        ),
        parts=("wheels",),
        for_rules=("wheel.stud_circle_differs", "wheel.stud_count_differs"),
        per="axle",
    ),
    StandingTask(
        id="receive.backspace",
        phase="receive",
        title="Measure the backspace of every wheel",
        short="Measure every backspace",
        how="Face down on a flat bench, straightedge across the inboard rim edge, depth down to the mounting face, in "
        "four places. Enter each wheel that came by its mark, with its bore: the parts page checks it against "
        "the order and says which axle it would fit. Then enter the one that's off the most as the wheel's backspace.",
        tools="flat bench, straightedge, depth gauge, paint marker",
        hours=0.5,
        after=("receive.count",),
        records=Record(
            "backspace, the wheel that's off the most",
            POSITION,
            least=Bound("planned_backspace", practice("what wheel makers hold to"), less="1/16 in", nominal=True),
            most=Bound("planned_backspace", practice("what wheel makers hold to"), more="1/16 in", nominal=True),
            short="worst wheel",
        ),
        parts=("wheels",),
        per="axle",
    ),
    StandingTask(
        id="receive.runout",
        phase="receive",
        title="Measure radial and lateral runout at both bead seats, before tires",
        short="Measure runout before tires go on",
        how="Bolt it to a hub that runs true (check the hub first), dial indicator on the bead seat, then on the "
        "inside of the flange, one slow turn each: full swing of the needle; the worst wheel and the worse way count. "
        "Past the limit, send it back. Mark the high spot: the tire's light spot goes there.",
        tools="hub that runs true, nuts, dial indicator with its base, chalk",
        hours=2,
        after=("receive.bore", "receive.circle"),
        caution="Turn it by hand, axle on stands.",
        records=Record(
            "most runout, full swing, worst wheel", DISTANCE, most=Bound(MOST_RUNOUT, RUNOUT), short="worst wheel"
        ),
        parts=("wheels",),
    ),
    StandingTask(
        id="receive.welds_seats",
        phase="receive",
        title="Look over welds, seats and the mounting face; check a seat with bluing",
        short="Look over welds, seats, faces",
        how="Welds full, even, no pits or undercut, as far as the drawing says. Put bluing on a nut and turn it in by "
        "hand: it has to touch all around its seat. Mounting face flat, no paint runs.",
        tools="bluing, a new nut, straightedge, light",
        hours=1,
        after=("receive.count",),
        caution="Don't weld, heat or straighten a weld-up wheel: only the maker repairs one. If you doubt its welds, "
        "send it back; don't try it out.",
        records=Record("wheels sent back, and why", TEXT, short="sent back"),
        parts=("wheels", "nuts"),
        for_rules=("wheel.seat_shape_differs", "wheel.seat_angle_differs", "wheel.ball_radius_differs"),
    ),
)
