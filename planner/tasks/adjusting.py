"""Adjusting: stops, toe, brakes, speedometer, pressures and lamps, with the truck on its new tires."""

from planner.quantities.kinds import ANGLE, DISTANCE, LENGTH, PRESSURE, TEXT
from planner.sources.citing import practice
from planner.sources.reasoning import GEOMETRY
from planner.sources.us_federal import LAMPS
from planner.tasks.kind import Bound, Record, StandingTask

TOE = practice("solid front axles with some toe-in; the axle maker's figure comes first; from memory")
MOST_PRESSURE = practice("as molded on the sidewall beside the maximum load, or the wheel's, if less")
PRESSURE_FOR_LOAD = practice("enough for the load on the tire, and never below its maker's minimum")

TASKS = (
    StandingTask(
        id="adjust.stops",
        phase="adjust",
        title="Set the steering stops, left and right, and lock them",
        short="Set and lock the steering stops",
        how="Set them to the mock-up angle that kept every clearance, minus a degree for flex. The stop screw has to "
        "hit before the steering box runs out of travel. Lock nuts tight, paint mark across.",
        tools="wrenches, angle finder, paint marker, stands",
        hours=1.5,
        after=("fit.wheels", "mock_up.full_lock"),
        caution="A tire that catches on the spring at full lock takes the steering out of your hands.",
        records=Record(
            "inner wheel's angle on its stop, the larger side",
            ANGLE,
            most=Bound("inner_steer_limit", GEOMETRY),
            short="larger angle",
        ),
        parts=("stop_screws",),
        per="steered axle",
        for_rules=("fit.locks_too_wide", "fit.outer_lock_too_wide"),
    ),
    StandingTask(
        id="adjust.toe",
        phase="adjust",
        title="Set toe-in and check that the steering wheel is straight",
        short="Set toe-in; center the wheel",
        how="Chalk or scribe the tread, roll forward half a turn, measure at hub height in front of and behind the "
        "axle. Clamps tight, enough rod end thread in the sleeve, new cotter pins. Better yet, an alignment shop.",
        tools="chalk or scribe, tape or toe bar, wrenches, new cotter pins",
        hours=1.5,
        after=("adjust.stops",),
        caution="A rod end short on thread or missing its pin means no steering. Have a second person look at each "
        "one.",
        records=Record("toe-in", DISTANCE, least=Bound("0 in", TOE), most=Bound("1/8 in", TOE), short="toe-in"),
        for_rules=("steering.scrub_radius_changed", "steering.scrub_radius_changed_sign"),
        per="steered axle",
    ),
    StandingTask(
        id="adjust.bleed",
        phase="adjust",
        title="Bleed and adjust the brakes until the pedal is high and hard",
        short="Bleed and adjust the brakes",
        how="Farthest wheel first unless the maker says otherwise, fresh fluid of the kind the seals need, adjusters "
        "up to a light drag and back off. Hold the pedal hard for a minute: it must not sink. Parking brake too.",
        tools="fresh fluid, bleed hose and jar, brake spoon, flare wrenches, a helper",
        hours=2,
        after=("fit.brakes", "fit.wheels"),
        caution="Soft or sinking pedal: don't move the truck. Catch the fluid, and keep mineral oil away from it.",
        records=Record("pedal: high and hard, sinking or not", TEXT, short="pedal"),
        parts=("hoses",),
    ),
    StandingTask(
        id="adjust.pressures",
        phase="adjust",
        title="Set the cold tire pressures for the load on each axle",
        short="Set the cold tire pressures",
        how="Cold, in the shade, with a gauge you trust. Same in both tires of an axle.",
        tools="pressure gauge you trust, air",
        hours=0.5,
        after=("fit.wheels", "measure.weigh"),
        caution="Never above what the sidewall says or the rim is good for; never below the maker's minimum.",
        records=Record(
            "cold pressure",
            PRESSURE,
            least=Bound("running_pressure", PRESSURE_FOR_LOAD),
            most=Bound("most_pressure", MOST_PRESSURE),
            short="cold",
        ),
        asks=("planned_measured_loaded_radius",),
        for_rules=(
            "gearing.axles_travel_apart",
            "tire.pressure_held_at_least",
            "wheel.sidewall_pressure_past_wheels",
        ),
        per="axle",
        each_wheel=True,
    ),
    StandingTask(
        id="adjust.pressure_card",
        phase="adjust",
        title="Write the card on the dash: pressures, as weighed and fully loaded",
        short="Write the pressures for the dash",
        how="Cold pressures front and rear, for the truck as weighed and fully loaded; lug nut torque; the new "
        "height; what each axle and the whole truck may carry. On the card and beside each valve.",
        tools="card, waterproof pen",
        hours=0.25,
        after=("adjust.pressures",),
        caution="Air the tires up before you load the truck, not after: a tire that's soft for its load fails hot, at "
        "speed. And never past what the wheel is rated for.",
        records=Record(
            "cold pressure, truck fully loaded",
            PRESSURE,
            least=Bound("laden_pressure", PRESSURE_FOR_LOAD),
            most=Bound("most_pressure", MOST_PRESSURE),
            short="full load",
        ),
        for_rules=("wheel.pressure_past_wheels", "loads.axle_overloaded", "loads.truck_overloaded"),
        per="axle",
    ),
    StandingTask(
        id="adjust.speedometer",
        phase="adjust",
        title="Fit the speedometer's gear, adapter or calibration",
        short="Fit the speedometer gear",
        how="Use the gear that the plan gives, or an adapter if no gear comes close. Better a little high than low. "
        "Until it's done, keep a card with true speeds beside the dial.",
        tools="wrenches, the gear or adapter, seal",
        hours=1.5,
        after=("fit.gears", "order.small", "decide.gears"),
        caution="Get under the truck only if it's on stands or over a pit, wheels chocked; exhaust cold.",
        parts=("speedometer_gear",),
        for_rules=(
            "speedometer.reads_low",
            "speedometer.reads_high",
            "speedometer.off_at_highway_speed",
            "speedometer.driven_gear_leaves_error",
        ),
    ),
    StandingTask(
        id="adjust.lamps",
        phase="adjust",
        title="Measure headlight and overall height; aim the headlights, loaded",
        short="Measure heights; aim headlights",
        how="Level ground, 25 ft (7.6 m) from a wall, pressures right, driver in. First measure from the "
        "ground to the center "
        "of the headlights; if that's outside the limits, move them before you aim them.",
        tools="tape, wall 25 ft (7.6 m) away, masking tape, screwdriver",
        hours=1,
        after=("adjust.pressures",),
        records=Record(
            "headlight center above ground",
            LENGTH,
            least=Bound("lamp_lowest", LAMPS.recalled("or the band entered for the place")),
            most=Bound("lamp_highest", LAMPS.recalled("or the band entered for the place")),
            short="lamp center",
        ),
        for_rules=("stance.lamps_out_of_band", "stance.taller_than_the_door"),
    ),
)
