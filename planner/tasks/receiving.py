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
ON_THE_CIRCLE = practice("beyond this the nuts pull the wheel over its studs")

TASKS = (
    StandingTask(
        id="receive.count",
        phase="receive",
        title="Count and read what came: every wheel's and tire's stamps and dates",
        how="Against the order and its drawing: rim code, width, load, pressure, maker, size, construction, speed "
        "symbol. Enter date code and load as molded, the spare's too. Hold the tire's molded rim code against the "
        "wheel's stamped one, one by one. "
        "Nothing is painted, drilled or mounted until it has passed: mounted wheels are rarely taken back.",
        hours=1.5,
        after=("order.wheels",),
        caution="A tire is never mounted on a rim of another code: half an inch apart has killed people at inflation.",
        records=Record("oldest date code", TEXT),
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
        how="Inside caliper, three ways, the smallest counts. Then offer the wheel up to the hub by hand.",
        hours=0.5,
        after=("receive.count",),
        caution="A bore below the pilot goes back, or to a machine shop that will answer for it. Wheel nuts never "
        "pull a wheel onto a pilot.",
        records=Record("smallest bore", LENGTH, least=Bound("hub_pilot", GEOMETRY)),
        parts=("wheels",),
        for_rules=("wheel.bore_smaller_than_pilot", "wheel.bore_loose_on_pilot"),
        per="axle",
    ),
    StandingTask(
        id="receive.circle",
        phase="receive",
        title="Measure the stud circle of every wheel against the hub",
        how="Caliper over the outer edges of two holes and over the inner ones, the mean is the chord; divide by its "
        "factor. Holes are larger than studs: the circle is what matters, not that it slips on.",
        hours=0.5,
        after=("receive.count",),
        caution="A wheel that has to be coaxed over its studs goes back. Drilled over or slotted holes are scrap.",
        records=Record(
            "stud circle, the wheel furthest off",
            LENGTH,
            least=Bound("stud_circle", ON_THE_CIRCLE, less="most_stud_circle_difference"),
            most=Bound("stud_circle", ON_THE_CIRCLE, more="most_stud_circle_difference"),
        ),
        parts=("wheels",),
        for_rules=("wheel.stud_circle_differs", "wheel.stud_count_differs"),
        per="axle",
    ),
    StandingTask(
        id="receive.backspace",
        phase="receive",
        title="Measure the backspace of every wheel",
        how="Face down on a flat bench, straight edge across the inboard rim edge, depth down to the mounting face, "
        "in four places. Write each wheel down by its mark, with its bore ([[wheels]]): the parts page holds it to the "
        "order and says at which end it would do. Then enter the one furthest off as the wheel's backspace.",
        hours=0.5,
        after=("receive.count",),
        records=Record(
            "backspace, the wheel furthest off",
            POSITION,
            least=Bound("planned_backspace", practice("what wheel makers hold"), less="1/16 in", nominal=True),
            most=Bound("planned_backspace", practice("what wheel makers hold"), more="1/16 in", nominal=True),
        ),
        parts=("wheels",),
        per="axle",
    ),
    StandingTask(
        id="receive.runout",
        phase="receive",
        title="Measure radial and lateral runout at both bead seats, before tires",
        how="Bolted to a hub that runs true, dial gauge on the bead seat, then on the flange's inner side, one slow "
        "turn each: full swing of the needle, the worst wheel and the worse way count. Past the limit it goes back; "
        "the hub itself is checked first. Mark the high spot: the tire's light spot goes there.",
        hours=2,
        after=("receive.bore", "receive.circle"),
        caution="Turned by hand, axle on stands.",
        records=Record("greatest runout, full swing, worst wheel", DISTANCE, most=Bound(MOST_RUNOUT, RUNOUT)),
        parts=("wheels",),
    ),
    StandingTask(
        id="receive.welds_seats",
        phase="receive",
        title="Look over welds, seats and the mounting face; blue a seat",
        how="Welds full, even, without pits or undercut, all the way that the drawing says. Blue on a nut, turned in "
        "by hand: it must touch all around its seat. Mounting face flat, without paint runs.",
        hours=1,
        after=("receive.count",),
        caution="Nobody but the maker repairs a weld-up wheel: no welding, heating or straightening here. A wheel "
        "whose welds you doubt is sent back, not tried out.",
        records=Record("wheels sent back, and why", TEXT),
        parts=("wheels", "nuts"),
        for_rules=("wheel.seat_shape_differs", "wheel.seat_angle_differs", "wheel.ball_radius_differs"),
    ),
)
