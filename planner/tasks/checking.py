"""Checking, before the truck moves under its own power: steering, hoses, runout, width, drive, and a signature."""

from planner.quantities.kinds import CHANGE, DISTANCE, LENGTH, POSITION, TEXT
from planner.sources.citing import practice
from planner.sources.us_federal import LEGAL_WIDTH, VEHICLE_IN_USE
from planner.tasks.kind import EVERY_STOP, EVERY_WHEEL, Bound, Only, Record, StandingTask

TASKS = (
    StandingTask(
        id="check.steer",
        phase="check",
        title="Cycle and steer before driving: lock to lock, ride, bump and droop",
        short="Steer lock to lock before driving",
        how="Springs in, all bolts torqued, the truck's own weight on them. Lock to lock on the ground, then with "
        "each front wheel up a ramp, then hanging. A work light and a second pair of eyes at every tight spot.",
        hours=2,
        after=("adjust.toe", "adjust.stops"),
        caution="What touches here grabs at speed. Nobody in line with the wheel on the ramp; chocks ready behind.",
        records=Record("what came close, and how close", TEXT, short="came close"),
    ),
    StandingTask(
        id="check.hoses",
        phase="check",
        title="Hoses and lines at full lock and full droop: no pull, no rub, no kink",
        short="Hoses: no pull, no rub, no kink",
        how="Brake hoses, lines, wires, vents, at both locks, hanging and on the bump stop. A finger's width from the "
        "tire and anything hot, and still some slack where they stretch the most.",
        hours=1,
        after=("fit.brakes", "adjust.stops"),
        caution="A brake hose that pulls tight or touches the tire once will fail once. Axle on stands while you "
        "reach in.",
        for_rules=("brakes.braking_force_lost",),
        per="axle",
        each_wheel=True,
    ),
    StandingTask(
        id="check.runout",
        phase="check",
        title="Runout of the mounted wheels on the truck, at the rim's bead",
        short="Measure runout on the truck",
        how="Dial indicator on the rim beside the tire, one turn by hand, sideways and up and down. The worst counts. "
        "If it ran true on the bench and doesn't now, look for dirt on the face and retorque it in a star.",
        hours=1,
        after=("fit.wheels",),
        caution="Turn it by hand, on stands, never with the engine.",
        records=Record(
            "worst runout, full swing",
            DISTANCE,
            most=Bound("1/8 in", VEHICLE_IN_USE.read("Subpart A, wheel assemblies: lateral and radial, total")),
            short="worst",
        ),
        per="axle",
        each_wheel=True,
    ),
    StandingTask(
        id="check.width",
        phase="check",
        title="Measure the width over the tires and check it against the law",
        short="Measure width over the tires",
        how="Plumb lines from the outermost rubber, both sides, at the bulge. Both axles.",
        hours=0.5,
        after=("adjust.pressures",),
        records=Record(
            "width over the tires",
            LENGTH,
            most=Bound("legal_width", LEGAL_WIDTH.recalled("or as entered")),
            short="width",
        ),
        for_rules=("fit.wider_than_legal",),
        per="axle",
    ),
    StandingTask(
        id="check.poke",
        phase="check",
        title="Measure how far the tire stands outside the fender edge",
        short="Measure tire past the fender edge",
        how="Plumb line from the lip, at the bulge and at the tread, both sides; outside the lip is plus.",
        hours=0.5,
        after=("adjust.pressures",),
        records=Record(
            "sidewall outside the fender edge, the worse side",
            POSITION,
            most=Bound("legal_poke", practice("local code, as entered")),
            short="worse side",
        ),
        for_rules=("fit.poke_past_local_code", "fit.poke_past_greatest", "fit.poke_not_as_wanted"),
        per="axle",
    ),
    StandingTask(
        id="check.four_wheel",
        phase="check",
        title="Roll out front and rear tires: do both axles travel alike?",
        short="Roll both axles: travel alike?",
        how="Loaded, at pressure, on a hard floor: mark, roll ten turns straight ahead, tape it. Divide the front's "
        "distance by its ratio and the rear's by its own; write down by how much the front runs ahead.",
        hours=1,
        after=("adjust.pressures", "fit.gears"),
        caution="Axles that don't travel the same wind up the driveline on a hard road: it jumps, won't steer and "
        "breaks.",
        records=Record(
            "front ahead of rear",
            CHANGE,
            least=Bound("0", practice("as the limit"), less="greatest_axle_mismatch"),
            most=Bound("greatest_axle_mismatch", practice("as the limit")),
            short="front ahead",
        ),
        for_rules=("gearing.driveline_winds_up", "gearing.axles_travel_apart"),
        applies=(Only("part_time_four_wheel_drive", ("yes",)),),
    ),
    StandingTask(
        id="check.sign",
        phase="check",
        title="Walk around with the list, then sign: OK to move under its own power",
        short="Walk around it, sign: OK to move",
        how="Every nut paint-marked, every pin in, pedal high and hard, nothing leaks, lights work, no tools left on "
        "the axle. A second person signs too.",
        hours=1,
        after=(
            "check.steer",
            "check.hoses",
            "check.runout",
            "check.width",
            "check.poke",
            "check.four_wheel",
            "adjust.bleed",
            "adjust.lamps",
            "adjust.pressure_card",
            "adjust.speedometer",
            "fit.spare",
            "fit.old_rims",
            "fit.flares",
        ),
        caution="Don't sign if you're tired or in a hurry. If in doubt, look again; don't drive it.",
        hold=True,
        closes=True,
        guards=(*EVERY_STOP, *EVERY_WHEEL),
    ),
)
