"""A wheel as the file has it: what a maker needs to build it, and what was measured on one that came."""

from typing import Literal

from planner.project.models.entry import (
    ACount,
    ADistance,
    ALength,
    AMass,
    AnAngle,
    APosition,
    APressure,
    ARimCode,
    AText,
    AWeight,
    AYesNo,
    Table,
    fact,
    words,
)
from planner.project.models.tools import CALIPER, CALIPER_TWICE, RULE, SMALL_SCALE, TAPE_CLOSE


class Wheel(Table):
    """A wheel, as measured or as you want it made."""

    description: AText = words("what it is", example="made to order, 17x9, full-face disc")
    rim_diameter: ARimCode = fact("rim diameter code", name="rim_diameter_code", example="17")
    rim_width: ALength = fact("between the bead seats", example="9 in", usual=TAPE_CLOSE.on_found)
    flange_thickness: ADistance = fact(
        "thickness of each rim flange, outside the bead seat", example="1/2 in", usual=RULE.on_found
    )
    backspace: APosition = fact(
        "mounting face to the rim's inboard edge", example="5 1/2 in", usual=TAPE_CLOSE.on_found
    )
    offset: APosition = fact(
        "mounting face outboard of the rim's center plane, if the maker gives it", example="12.7 mm"
    )
    bore: ALength = fact("center bore", name="wheel_bore", example="5.76 in ± 0.005 in", usual=CALIPER.on_found)
    stud_count: ACount = fact("stud holes", name="wheel_stud_count", example="6")
    stud_circle: ALength = fact(
        "bolt circle of the wheel", name="wheel_stud_circle", example="8 3/4 in", usual=CALIPER_TWICE.on_found
    )
    seat: Literal["cone", "ball", "flat"] | None = fact("seat shape in the wheel", name="wheel_seat", example="cone")
    seat_angle: AnAngle = fact("included angle of a cone seat", name="wheel_seat_angle", example="60 deg")
    seat_height: ADistance = fact(
        "how far the seat holds the nut's first thread off the disc's outer face",
        example="1/4 in",
        how="If the nut sinks into the disc, enter 0",
        usual=RULE.on_found,
    )
    disc_thickness: ALength = fact("thickness of the disc at the studs", example="3/8 in", usual=RULE.on_found)
    disc_inner_face: APosition = fact(
        "how far the disc's inner face at the brake is outboard of the mounting face",
        example="1/2 in",
        usual=RULE.on_found,
    )
    well_depth: ALength = fact("bead seat down to the bottom of the drop center", example="1 in", usual=RULE.on_found)
    barrel_thickness: ALength = fact("thickness of the barrel", name="thickness", example="1/4 in", usual=RULE.on_found)
    barrel_radius: ALength = fact(
        "measured inside radius of the barrel at the brake", example="7 3/8 in ± 1/16 in", usual=TAPE_CLOSE
    )
    load_rating: AWeight = fact("load the wheel is rated for", name="wheel_load_rating", example="3,500 lb")
    mass: AMass = fact("weight of one wheel", name="wheel_mass", example="48 lb", usual=SMALL_SCALE.on_found)
    pieces: Literal["one", "multi"] | None = fact("one-piece or multi-piece rim", name="rim_pieces", example="one")
    tubeless: AYesNo = fact("if the rim is made for tubeless tires", name="rim_tubeless", example="yes")
    greatest_pressure: APressure = fact("most tire pressure the wheel is rated for", example="80 psi", since=2)
    radial_allowed: AYesNo = fact("if the rim's maker allows radial tires on it", example="yes", since=2)
    offset_face: Literal["hub", "disc"] | None = fact(
        "on a pair, the face offset and backspace are measured to: the one on the hub, or the one between the discs",
        example="hub",
        since=2,
    )
    contour: AText = fact("rim contour", name="rim_contour", example="J", since=2)
    flange_height: ALength = fact(
        "height of the rim flange over the bead seat", example="0.69 in", since=2, usual=RULE.on_found
    )
    well_width: ALength = words("width of the drop center", example="1 3/4 in", since=2, usual=RULE.on_found)
    well_position: ADistance = words(
        "middle of the drop center from the rim's outboard edge", example="3 in", since=2, usual=RULE.on_found
    )
    bead_seat_angle: AnAngle = fact("slope of the bead seats", example="5 deg", since=2)
    humps: Literal["none", "outboard", "both"] | None = words(
        "safety humps beside the bead seats", example="both", since=2
    )
    rim_material: AText = words("what the rim is made of", example="steel", since=2)
    disc_material: AText = words("what the disc is made of", example="steel", since=2)
    welds: AText = words("how disc and rim are welded or joined", example="full weld, both sides", since=2)
    vents: AText = words("openings in the disc", example="eight round holes", since=2)
    face_flatness: ADistance = words("how flat the mounting face has to be", example="0.010 in", since=2)
    hole_diameter: ALength = words("diameter of the stud holes", example="0.70 in", since=2, usual=CALIPER.on_found)
    seat_diameter: ALength = words("large diameter of a cone seat", example="1 1/8 in", since=2, usual=CALIPER.on_found)
    seat_ball_radius: ALength = fact("radius of a ball seat", name="wheel_ball_radius", example="14 mm", since=2)
    seat_depth: ADistance = words("depth of the seat", example="1/4 in", since=2, usual=RULE.on_found)
    valve_hole: ALength = words("diameter of the valve hole", example="0.453 in", since=2, usual=CALIPER.on_found)
    valve_radius: ALength = fact(
        "how far the valve hole is from the wheel's center", example="7 1/2 in", since=2, usual=RULE.on_found
    )
    valve_side: Literal["outboard", "inboard"] | None = fact(
        "which side of the disc the valve is on", example="outboard", since=2
    )
    valve_reach: ADistance = fact(
        "how far the valve sticks out of the rim", example="1 1/4 in", since=2, usual=RULE.on_found
    )
    radial_runout: ADistance = words("radial runout allowed, full swing of the needle", example="0.030 in", since=2)
    lateral_runout: ADistance = words("lateral runout allowed, full swing of the needle", example="0.045 in", since=2)
    balance: AText = words("balance you want", example="no more than 2 oz at the rim's edge", since=2)
    standard: AText = words("the standard it's built to", example="the maker's own, load test on paper", since=2)
    finish: AText = words("finish", example="powder coat", since=2)
    marking: AText = words(
        "what each wheel is marked with", example="rating, size, offset, maker, month and year; W1 to W5", since=2
    )
    masked: AText = words("faces that stay bare", example="mounting face, seats", since=2)
