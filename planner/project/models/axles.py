"""The axles: ratings, hub, studs, kingpins, brakes, travel, and the fenders over them."""

from typing import Literal

from pydantic import Field

from planner.project.models.entry import (
    ACount,
    ADistance,
    ALength,
    AnAngle,
    APosition,
    ARatio,
    AText,
    ATorque,
    AWeight,
    AYesNo,
    SomeRatios,
    Table,
    fact,
    words,
)
from planner.project.models.studs import Hub, Nuts, Studs
from planner.project.models.tools import ANGLE, PLUMB, RULE, SCALE, TAPE, TAPE_CLOSE


class Kingpin(Table):
    """The steering axis at one end of an axle that steers."""

    inset: APosition = fact(
        "how far inboard of the mounting face the kingpin is at hub height",
        name="kingpin_inset",
        example="4 1/4 in ± 1/8 in",
        usual=TAPE,
    )
    inclination: AnAngle = fact("lean inboard at the top", example="8 deg ± 0.5 deg", usual=ANGLE)
    caster: AnAngle = fact("lean to the rear at the top", example="3 deg ± 0.5 deg", usual=ANGLE)
    track: ALength = fact(
        "between the two kingpins at hub height", name="kingpin_track", example="49 1/2 in ± 1/4 in", usual=TAPE
    )


class Steering(Table):
    """The steering stops as they are."""

    stop_angle: AnAngle = fact("how far the inner wheel turns to its stop now", example="29 deg ± 1 deg", usual=ANGLE)
    stop_angle_out: AnAngle = fact(
        "how far the outer wheel turns at the same time", example="24.5 deg ± 1 deg", usual=ANGLE
    )
    stop_arm: ALength = fact("from the kingpin center line to the stop screw", example="5 1/2 in ± 1/8 in", usual=TAPE)
    drag_link_angle: AnAngle = fact(
        "how far the drag link is off level along its length, at ride height and straight ahead",
        example="4 deg ± 1 deg",
        since=2,
        usual=ANGLE,
    )


class Travel(Table):
    """How far the axle's end moves against the body."""

    bump: ADistance = fact(
        "up from ride height to the bump stop", name="bump_travel", example="3 in ± 1/4 in", usual=TAPE
    )
    droop: ADistance = fact(
        "down from ride height until the spring or shock stops it",
        name="droop_travel",
        example="3 1/2 in ± 1/4 in",
        usual=TAPE,
    )
    stops_apart: ALength = fact(
        "between the centers of the two bump stops, across the truck",
        example="32 in ± 1/2 in",
        since=2,
        usual=TAPE,
    )
    droop_apart: ALength = fact(
        "across the truck, between the two points that limit droop: shocks, straps or springs",
        example="36 in ± 1/2 in",
        since=2,
        usual=TAPE,
    )
    most_cross_travel: ADistance = fact(
        "the most one wheel can be above the other, if you measured it",
        example="9 in ± 1/2 in",
        how="Lift one wheel until the other is about to leave the ground; measure both up to the fender",
        since=2,
        usual=PLUMB,
    )
    side_shift: ADistance = fact(
        "how far the axle moves sideways when one wheel goes all the way up and the other all the way down",
        example="1/2 in ± 1/8 in",
        since=2,
        usual=TAPE_CLOSE,
    )
    bump_gives: ADistance = fact("how far a rubber bump stop squashes", example="3/4 in ± 1/4 in", since=2, usual=TAPE)


class Brake(Table):
    """The part of the brake inside the wheel."""

    radius: ALength = fact(
        "largest radius of the drum, backing plate or caliper inside the wheel",
        name="brake_radius",
        example="6 1/2 in ± 1/16 in",
        usual=TAPE_CLOSE,
    )
    face: APosition = fact(
        "how far the drum or caliper sticks out past the mounting face",
        name="brake_face",
        example="1/4 in ± 1/32 in",
        how="Negative if it stays inboard of it",
        usual=RULE,
    )
    hose_slack: APosition = fact(
        "slack in the brake hose with the axle hanging and the wheels at full lock",
        name="brake_hose_slack",
        example="1 1/2 in ± 1/4 in",
        how="The tightest hose, on stands under the frame; negative if it's too short",
        since=2,
        usual=TAPE,
    )
    torque_gain: ARatio = fact(
        "brake torque for the same pedal effort, compared with the old brakes: 1 if they're the same",
        name="brake_torque_gain",
        example="1.15",
        how="From the maker of the parts, or worked out from radius and area of both",
        since=2,
    )


class Spacer(Table):
    """What's between hub and wheel that wasn't there when the axle was measured: a spacer or an adapter."""

    thickness: ADistance = fact(
        "how far out it moves the wheel's mounting face",
        name="spacer_thickness",
        example="1 1/4 in ± 1/64 in",
        since=2,
        usual=RULE,
    )
    own_studs: AYesNo = words(
        "if the wheel hangs on the adapter's own studs, and not on the hub's studs sticking through it",
        example="yes",
        since=2,
        read_by="rules for spacers",
    )
    studs_engaged: ADistance = fact(
        "engagement of the nuts that hold it to the hub",
        name="spacer_engagement",
        example="11/16 in ± 1/32 in",
        since=2,
        usual=RULE,
    )
    hub_studs_proud: APosition = fact(
        "how far the hub's studs and nuts stick out of its outer face, minus the pockets in the back of the wheel",
        example="-1/8 in ± 1/32 in",
        how="Negative if they all stay behind the face",
        since=2,
        usual=RULE,
    )


class Fender(Table):
    """The fender opening over the wheel, at ride height, measured from the hub."""

    axle_to_fender: ALength = fact(
        "axle center to the tightest point of the opening",
        example="24 in ± 1/8 in",
        usual=TAPE,
    )
    face_to_edge: APosition = fact(
        "from the mounting face out to the fender edge",
        name="face_to_fender_edge",
        example="6 1/2 in ± 1/8 in",
        how="Hang a plumb line from the lip; negative if the lip is inboard",
        usual=TAPE,
    )
    clearance: ADistance = fact("least clearance you want around the tire", name="wanted_clearance", example="2 in")
    wanted_poke: APosition = fact("where you want the sidewall: how far outside the fender edge", example="-1/2 in")
    greatest_poke: APosition = fact("the most poke you'd accept", example="0 in")
    ahead: ALength = fact(
        "axle center straight ahead to the edge of the opening",
        name="opening_ahead",
        example="22 in ± 1/4 in",
        how="Along a level at hub height, sitting at ride height",
        since=2,
        usual=TAPE,
    )
    up_ahead: ALength = fact(
        "axle center to the edge of the opening, halfway between ahead and up",
        name="opening_up_ahead",
        example="24 in ± 1/4 in",
        since=2,
        usual=TAPE,
    )
    top: ALength = fact(
        "axle center straight up to the edge of the opening",
        name="opening_top",
        example="24 1/2 in ± 1/4 in",
        since=2,
        usual=TAPE,
    )
    up_behind: ALength = fact(
        "axle center to the edge of the opening, halfway between behind and up",
        name="opening_up_behind",
        example="24 in ± 1/4 in",
        since=2,
        usual=TAPE,
    )
    behind: ALength = fact(
        "axle center straight back to the edge of the opening",
        name="opening_behind",
        example="23 in ± 1/4 in",
        since=2,
        usual=TAPE,
    )


class Axle(Table):
    """One axle."""

    description: AText = words("what it is", example="solid front axle, closed knuckles")
    steered: bool | None = words(
        "if this axle steers; left out, the front one does and the rear one doesn't", example="true"
    )
    suspension: Literal["solid", "independent"] | None = words(
        "if the two wheels are on one solid axle", example="solid", since=2, read_by="the sweep"
    )
    driven: AYesNo = fact("if the engine drives this axle", example="yes", since=2)
    differential: Literal["open", "limited slip", "locking", "spool"] | None = fact(
        "what the differential is", example="open", since=2
    )
    load: AWeight = fact(
        "load on this axle as weighed, ready for use",
        name="axle_load",
        example="2,700 lb ± 20 lb",
        how="Weigh the truck axle by axle with everything on it that will be there",
        usual=SCALE,
    )
    laden_load: AWeight = fact(
        "the most this axle will ever carry, new wheels and tires included",
        example="3,300 lb",
        how="Weigh it loaded, or add up what will be on it; left out, the axle's rating is used",
        since=2,
    )
    rating: AWeight = fact("the axle's own rating", name="axle_rating", example="3,500 lb")
    tires: ACount = fact("tires on this axle", example="2")
    face_to_face: ALength = fact("between the mounting faces of the two hubs", example="58 in ± 1/8 in", usual=TAPE)
    ratio: ARatio = fact("axle ratio as found, any hub reduction included", name="axle_ratio", example="4.89")
    ring_teeth: ACount = fact("teeth on the ring gear", example="44")
    pinion_teeth: ACount = fact("teeth on the pinion", example="9")
    hub_ratio: ARatio = fact(
        "hub reduction at the wheel, 1 if there is none",
        example="1",
        how="Turn the axle shaft and count its turns for one turn of the wheel; used if ring and pinion give the ratio",
    )
    gear_sets: SomeRatios = fact("ratios you can get for this axle", example='["4.10", "4.56", "4.89", "5.38"]')
    shaft_rating: ATorque = fact(
        "torque a shaft or joint is rated for", name="axle_shaft_rating", example="2,800 ft·lb"
    )
    driveshaft_angle: AnAngle = fact(
        "the larger of the angles in the two joints of this axle's driveshaft, at ride height",
        example="3 deg ± 1/2 deg",
        since=2,
        usual=ANGLE,
    )
    lift: ADistance = fact(
        "how much higher the body sits over this axle than when it was measured",
        example="2 in ± 1/8 in",
        since=2,
        usual=TAPE,
    )
    bearing_setback: APosition = fact(
        "from the mounting face inboard to the middle between the wheel bearings",
        example="2 1/2 in ± 1/8 in",
        usual=TAPE,
    )
    bearing_rating: AWeight = fact(
        "load the wheel bearings of one side are rated for, over their middle",
        example="4,200 lb",
        since=2,
    )
    camber: AnAngle = fact(
        "lean of the wheel at rest; plus if the top leans out",
        example="1 deg ± 1/2 deg",
        since=2,
        usual=ANGLE,
    )
    toe: APosition = fact(
        "how much closer together the two tires are in front than behind, at rest",
        example="1/8 in ± 1/16 in",
        how="Between chalk lines on the two treads at hub height; negative for toe-out",
        since=2,
        usual=TAPE_CLOSE,
    )
    ride_height: ADistance = fact(
        "axle center up to the frame above it, sitting level",
        example="14 in ± 1/8 in",
        how="To the same edge of the frame at both axles",
        since=2,
        usual=TAPE,
    )
    hub: Hub = Field(default=Hub.model_construct(), description="Where the wheel sits.")
    studs: Studs = Field(default=Studs.model_construct(), description="Bolt circle and studs.")
    nuts: Nuts = words("nuts", default=Nuts.model_construct(), since=2)
    spacer: Spacer = words("spacer", default=Spacer.model_construct(), since=2)
    kingpin: Kingpin = Field(
        default=Kingpin.model_construct(), description="Steering axis; leave out on an axle that does not steer."
    )
    steering: Steering = Field(
        default=Steering.model_construct(), description="Steering stops; leave out on an axle that does not steer."
    )
    travel: Travel = Field(default=Travel.model_construct(), description="Suspension travel.")
    brake: Brake = Field(default=Brake.model_construct(), description="The part of the brake inside the wheel.")
    fender: Fender = Field(default=Fender.model_construct(), description="The fender opening.")
