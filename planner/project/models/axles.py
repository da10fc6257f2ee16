"""The axles that are kept: ratings, hub, studs, kingpins, brakes, travel, and the fenders over them."""

from typing import Literal

from pydantic import Field

from planner.project.models.entry import (
    ACount,
    ADistance,
    ALength,
    AnAngle,
    APosition,
    APressure,
    ARatio,
    AText,
    ATorque,
    AWeight,
    SomePoints,
    SomeRatios,
    Table,
    fact,
    words,
)


class Studs(Table):
    """The stud circle as measured, in whichever ways it was measured, and the studs and nuts themselves."""

    count: ACount = fact("how many studs", name="stud_count", example="6")
    circle: ALength = fact(
        "stud circle diameter, where a drawing or plate states it", name="stated_stud_circle", example="8 3/4 in"
    )
    adjacent_spacing: ALength = fact("center to center of two neighboring studs", example="4.375 in ± 0.010 in")
    skip_spacing: ALength = fact("center to center of two studs further apart", example="7.578 in ± 0.010 in")
    skip: ACount = fact("how many spaces lie between those two studs", example="2")
    outer_edge_spacing: ALength = fact("over the outsides of two studs", example="8.203 in ± 0.010 in")
    outer_edge_skip: ACount = fact("how many spaces lie between those two studs", example="2")
    points: SomePoints = fact(
        "centers of the studs in any square frame",
        name="stud_points",
        example='[["0 in", "4.375 in"], ["3.789 in", "2.188 in"], ["3.789 in", "-2.188 in"]]',
    )
    diameter: ALength = fact("thread's outside diameter", name="stud_diameter", example="5/8 in")
    threads_per_inch: ACount = fact("threads per inch, for inch threads", example="18")
    pitch: ALength = fact("pitch, for metric threads", example="1.5 mm")
    length: ALength = fact(
        "how far the stud stands out of the mounting face", name="stud_length", example="1 7/8 in ± 1/16 in"
    )
    seat: Literal["cone", "ball", "flat"] | None = fact(
        "seat shape of the nuts on hand", name="nut_seat", example="cone"
    )
    seat_angle: AnAngle = fact("included angle of a cone seat", name="nut_seat_angle", example="60 deg")
    hand_left: Literal["left", "right"] | None = fact(
        "thread hand on the truck's left side", name="thread_hand_left", example="right"
    )
    hand_right: Literal["left", "right"] | None = fact(
        "thread hand on the truck's right side", name="thread_hand_right", example="right"
    )
    torque: ATorque = fact("nut torque that you intend, dry and clean", name="nut_torque", example="150 ft·lb")
    proof_stress: APressure = fact("proof strength by the stud's marking, if marked", example="85,000 psi")


class Hub(Table):
    """Where the wheel sits on the axle."""

    pilot: ALength = fact("diameter of the hub's pilot", name="hub_pilot", example="5 3/4 in ± 0.005 in")
    centring: Literal["hub", "studs"] | None = fact("what centers the wheel", example="studs")


class Kingpin(Table):
    """The steering axis of a steered axle's end."""

    inset: APosition = fact(
        "how far inboard of the mounting face the kingpin crosses the hub's height",
        name="kingpin_inset",
        example="4 1/4 in ± 1/8 in",
    )
    inclination: AnAngle = fact("lean inboard at the top", name="inclination", example="8 deg ± 0.5 deg")
    caster: AnAngle = fact("lean rearward at the top", name="caster", example="3 deg ± 0.5 deg")
    track: ALength = fact("between the two kingpins at hub height", name="kingpin_track", example="49 1/2 in ± 1/4 in")


class Steering(Table):
    """The steering stops as they are."""

    stop_angle: AnAngle = fact(
        "how far the inner wheel turns to the present stop", name="stop_angle", example="29 deg ± 1 deg"
    )
    stop_angle_out: AnAngle = fact(
        "how far the outer wheel turns at the same time", name="stop_angle_out", example="24.5 deg ± 1 deg"
    )
    stop_arm: ALength = fact(
        "from the kingpin's center line to the stop screw", name="stop_arm", example="5 1/2 in ± 1/8 in"
    )


class Travel(Table):
    """How far the axle's end moves against the body."""

    bump: ADistance = fact("up from ride height to the bump stop", name="bump_travel", example="3 in ± 1/4 in")
    droop: ADistance = fact(
        "down from ride height until the spring or shock holds it", name="droop_travel", example="3 1/2 in ± 1/4 in"
    )


class Brake(Table):
    """What of the brake stands inside the wheel."""

    radius: ALength = fact(
        "largest radius of drum, backing plate or caliper inside the wheel",
        name="brake_radius",
        example="6 1/2 in ± 1/16 in",
    )
    face: APosition = fact(
        "how far the drum or caliper stands outboard of the mounting face",
        name="brake_face",
        example="1/4 in ± 1/32 in",
        how="Negative when it stays inboard of it",
    )


class Fender(Table):
    """The fender opening over the wheel, at ride height, measured from the hub."""

    axle_to_fender: ALength = fact(
        "axle's center to the tightest point of the opening", name="axle_to_fender", example="24 in ± 1/8 in"
    )
    face_to_edge: APosition = fact(
        "from the mounting face out to the fender's edge",
        name="face_to_fender_edge",
        example="6 1/2 in ± 1/8 in",
        how="Hang a plumb line from the lip; negative when the lip is inboard",
    )
    clearance: ADistance = fact("least clearance wanted around the tire", name="wanted_clearance", example="2 in")
    wanted_poke: APosition = fact(
        "where you want the sidewall, proud of the edge", name="wanted_poke", example="-1/2 in"
    )
    greatest_poke: APosition = fact("the most poke that you would accept", name="greatest_poke", example="0 in")


class Axle(Table):
    """One axle that is kept."""

    description: AText = words("what it is", example="solid front axle, closed knuckles")
    steered: bool | None = words(
        "whether this axle steers; without an entry the front one does and the rear one does not", example="true"
    )
    load: AWeight = fact(
        "load on this axle as weighed, ready for use",
        name="axle_load",
        example="2,700 lb ± 20 lb",
        how="Weigh the truck axle by axle with everything on it that will be there",
    )
    rating: AWeight = fact("the axle's own rating", name="axle_rating", example="3,500 lb")
    tires: ACount = fact("tires on this axle", name="tires", example="2")
    face_to_face: ALength = fact("between the two hubs' mounting faces", name="face_to_face", example="58 in ± 1/8 in")
    ratio: ARatio = fact("axle ratio as found, any hub reduction included", name="axle_ratio", example="4.89")
    ring_teeth: ACount = fact("teeth on the ring gear", example="44")
    pinion_teeth: ACount = fact("teeth on the pinion", example="9")
    hub_ratio: ARatio = fact(
        "hub reduction at the wheel, 1 without",
        example="1",
        how="Turn the half shaft and count its turns for one of the wheel; counts where ring and pinion give the ratio",
    )
    gear_sets: SomeRatios = fact(
        "ratios that can be had for this axle", name="gear_sets", example='["4.10", "4.56", "4.89", "5.38"]'
    )
    shaft_rating: ATorque = fact(
        "torque that a shaft or joint is rated for", name="axle_shaft_rating", example="2,800 ft·lb"
    )
    bearing_setback: APosition = fact(
        "from the mounting face inboard to the middle between the wheel bearings",
        name="bearing_setback",
        example="2 1/2 in ± 1/8 in",
    )
    hub: Hub = Field(default=Hub.model_construct(), description="Where the wheel sits.")
    studs: Studs = Field(default=Studs.model_construct(), description="Stud circle, studs and nuts.")
    kingpin: Kingpin = Field(
        default=Kingpin.model_construct(), description="Steering axis; leave out on an axle that does not steer."
    )
    steering: Steering = Field(
        default=Steering.model_construct(), description="Steering stops; leave out on an axle that does not steer."
    )
    travel: Travel = Field(default=Travel.model_construct(), description="Suspension travel.")
    brake: Brake = Field(default=Brake.model_construct(), description="What of the brake stands inside the wheel.")
    fender: Fender = Field(default=Fender.model_construct(), description="The fender opening.")
