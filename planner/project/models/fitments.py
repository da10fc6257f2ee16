"""Fitments: one set of tires, wheels and gearing; `found` is the truck as it came, every other one a candidate."""

from typing import Literal

from pydantic import Field

from planner.project.models.entry import (
    ACount,
    ADistance,
    ADuration,
    ALength,
    AMass,
    AMoney,
    AnAngle,
    APosition,
    APressure,
    ARatio,
    ARimCode,
    AText,
    AWeight,
    AYesNo,
    Table,
    fact,
    words,
)


class Tire(Table):
    """A tire: what its sidewall says, what its maker's table says, and what was measured on it."""

    designation: AText = fact("size as molded on the sidewall", example="37x12.50R17LT")
    construction: Literal["radial", "bias"] | None = fact(
        "construction, where the size does not tell", example="radial"
    )
    overall_diameter: ALength = fact("measured or maker's overall diameter", example="36.8 in ± 0.2 in")
    section_width: ALength = fact(
        "measured or maker's section width, on the rim it will be on", example="12.5 in ± 0.2 in"
    )
    tread_width: ALength = fact("tread width", example="10 in ± 1/4 in")
    loaded_radius: ALength = fact(
        "measured from axle's center to ground, under load", name="measured_loaded_radius", example="17.2 in ± 1/8 in"
    )
    rolling_circumference: ALength = fact(
        "way that the tire rolls in one turn, loaded",
        example="113 1/4 in ± 1/4 in",
        how="Chalk tread and floor, roll the loaded truck one full turn at its pressures, measure between the marks",
    )
    load_index: ACount = fact("load index, single fitment", example="121")
    load_capacity: AMass = fact("greatest load molded on the sidewall, single", example="3,195 lb")
    load_index_dual: ACount = fact("load index of two tires side by side, behind the stroke", example="116")
    load_capacity_dual: AMass = fact(
        "greatest load molded on the sidewall, dual", name="dual_load_capacity", example="2,755 lb"
    )
    rated_pressure: APressure = fact("pressure molded beside that load", example="50 psi")
    least_pressure: APressure = fact("the maker's least pressure", name="least_pressure", example="25 psi")
    speed_symbol: AText = fact("speed symbol", example="Q")
    passenger: AYesNo = fact("whether it is a passenger car tire", example="no")
    tube: Literal["tube", "tubeless"] | None = fact("whether it wants a tube", name="tire_tube", example="tubeless")
    date_code: AText = fact("last four digits of the date code: week and year", example="2625")
    narrowest_rim: ALength = fact("the maker's narrowest approved rim", example="8 1/2 in")
    widest_rim: ALength = fact("the maker's widest approved rim", example="11 in")
    mass: AMass = fact("weight of one tire", name="tire_mass", example="72 lb")


class Wheel(Table):
    """A wheel: as measured, or as it is to be made."""

    description: AText = words("what it is", example="made to order, 17x9, full-face disc")
    rim_diameter: ARimCode = fact("rim diameter code", name="rim_diameter_code", example="17")
    rim_width: ALength = fact("between the bead seats", example="9 in")
    flange_thickness: ADistance = fact("thickness of each rim flange, outside the bead seat", example="1/2 in")
    backspace: APosition = fact("mounting face to the rim's inboard edge", example="5 1/2 in")
    offset: APosition = fact(
        "mounting face outboard of the rim's center plane, where the maker states it", example="12.7 mm"
    )
    bore: ALength = fact("center bore", name="wheel_bore", example="5.76 in ± 0.005 in")
    stud_count: ACount = fact("stud holes", name="wheel_stud_count", example="6")
    stud_circle: ALength = fact("stud circle of the wheel", name="wheel_stud_circle", example="8 3/4 in")
    seat: Literal["cone", "ball", "flat"] | None = fact("seat shape in the wheel", name="wheel_seat", example="cone")
    seat_angle: AnAngle = fact("included angle of a cone seat", name="wheel_seat_angle", example="60 deg")
    seat_height: ADistance = fact(
        "how far the seat keeps the nut's first thread off the disc's outer face",
        example="1/4 in",
        how="Where the nut sinks into the disc, enter 0",
    )
    disc_thickness: ALength = fact("thickness of the disc at the studs", example="3/8 in")
    disc_inner_face: APosition = fact(
        "how far the disc's inner face beside the brake stands outboard of the mounting face", example="1/2 in"
    )
    well_depth: ALength = fact("bead seat down to the drop well's floor", example="1 in")
    barrel_thickness: ALength = fact("thickness of the barrel", name="thickness", example="1/4 in")
    barrel_radius: ALength = fact(
        "measured inside radius of the barrel where the brake stands", example="7 3/8 in ± 1/16 in"
    )
    load_rating: AWeight = fact("load that the wheel is rated for", name="wheel_load_rating", example="3,500 lb")
    mass: AMass = fact("weight of one wheel", name="wheel_mass", example="48 lb")
    pieces: Literal["one", "multi"] | None = fact("one-piece or multi-piece rim", name="rim_pieces", example="one")
    tubeless: AYesNo = fact("whether the rim is made for tubeless tires", name="rim_tubeless", example="yes")


class Spare(Table):
    """The spare."""

    designation: AText = fact("its size", name="spare_designation", example="37x12.50R17LT")
    overall_diameter: ALength = fact("its overall diameter", name="spare_diameter", example="36.8 in ± 0.2 in")
    stud_circle: ALength = fact("its wheel's stud circle", name="spare_stud_circle", example="8 3/4 in")


class End(Table):
    """What differs at one axle."""

    axle_ratio: ARatio = fact("axle ratio in this fitment, where the gears change", example="4.88")
    tire: Tire = Field(default=Tire.model_construct(), description="Tire at this axle.")
    wheel: Wheel = Field(default=Wheel.model_construct(), description="Wheel at this axle.")


class Fitment(End):
    """A set of tires, wheels and gearing. What stands at `front` or `rear` comes before what stands for both."""

    description: AText = words("what it is in a line", example="37 in radials on 17x9 wheels made to order")
    front: End = Field(default=End.model_construct(), description="What differs at the front axle.")
    rear: End = Field(default=End.model_construct(), description="What differs at the rear axle.")
    spare: Spare = Field(default=Spare.model_construct(), description="The spare.")
    price: AMoney = words("what the set costs, in your currency", example="2400")
    lead_time: ADuration = words("from order to arrival", example="8 weeks")
