"""A tire as the file has it."""

from typing import Literal

from planner.project.models.entry import (
    ACount,
    ADistance,
    ALength,
    AMass,
    APressure,
    AShare,
    AText,
    AYesNo,
    Table,
    fact,
    words,
)
from planner.project.models.tools import SMALL_SCALE, TAPE

# How far a new tire may be off: from memory of the standards, which let a size be off by the latter, growth included.
TALL = TAPE.or_made("0.5 %", "2 %")
WIDE = TAPE.or_made("2 %", "4 %")


class Tire(Table):
    """A tire: what its sidewall says, what its maker's table says, and what was measured on it."""

    designation: AText = fact("size as molded on the sidewall", example="37x12.50R17LT")
    construction: Literal["radial", "bias"] | None = fact("construction, if the size doesn't say", example="radial")
    overall_diameter: ALength = fact(
        "overall diameter, measured or from the maker", example="36.8 in ± 0.2 in", usual=TALL
    )
    section_width: ALength = fact(
        "section width, measured or from the maker, on the rim it will be on", example="12.5 in ± 0.2 in", usual=WIDE
    )
    tread_width: ALength = fact("tread width", example="10 in ± 1/4 in", usual=TAPE.on_found)
    loaded_radius: ALength = fact(
        "axle center to the ground, under load, measured",
        name="measured_loaded_radius",
        example="17.2 in ± 1/8 in",
        usual=TAPE,
    )
    rolling_circumference: ALength = fact(
        "how far the tire rolls in one turn, loaded",
        example="113 1/4 in ± 1/4 in",
        how="Chalk tread and floor, roll the loaded truck one full turn at its pressures, measure between the marks",
        usual=TAPE,
    )
    load_index: ACount = fact("load index, single fitment", example="121")
    load_capacity: AMass = fact("maximum load molded on the sidewall, single", example="3,195 lb")
    load_index_dual: ACount = fact("load index of two tires side by side, after the slash", example="116")
    load_capacity_dual: AMass = fact(
        "maximum load molded on the sidewall, dual", name="dual_load_capacity", example="2,755 lb"
    )
    rated_pressure: APressure = fact("pressure molded next to that load", example="50 psi")
    least_pressure: APressure = fact("the maker's minimum pressure", example="25 psi")
    speed_symbol: AText = fact("speed symbol", example="Q")
    passenger: AYesNo = fact("if it's a passenger car tire", example="no")
    tube: Literal["tube", "tubeless"] | None = fact("if it needs a tube", name="tire_tube", example="tubeless")
    date_code: AText = fact("last four digits of the date code: week and year", example="2625")
    narrowest_rim: ALength = fact("the maker's narrowest approved rim", example="8 1/2 in")
    widest_rim: ALength = fact("the maker's widest approved rim", example="11 in")
    mass: AMass = fact("weight of one tire", name="tire_mass", example="72 lb", usual=SMALL_SCALE.on_found)
    size_from: Literal["measured", "maker", "designation"] | None = words(
        "where its sizes come from: measured on this wheel at pressure, the maker's table, or only the designation",
        example="maker",
        since=2,
        read_by="how good its sizes are without a ±",
    )
    growth: AShare = fact("how much its diameter grows in service, according to the maker", example="2 %", since=2)
    crown_drop: ADistance = fact(
        "how much lower the tread is at its shoulder than in the middle",
        example="3/8 in ± 1/8 in",
        since=2,
        usual=TAPE.on_found,
    )
    contour: AText = fact("rim contour the maker lists, or several", name="tire_contour", example="J, JJ", since=2)
    tube_size: AText = fact("sizes marked on the tube", example="7.00/7.50-16", since=2)
    tube_radial: AYesNo = fact("if the tube is marked for radial tires", example="yes", since=2)
    flap: AText = fact("size marked on the flap, or none", name="flap_mark", example="16x6.00", since=2)
    least_dual_spacing: ALength = fact(
        "the maker's minimum dual spacing, center to center", example="10 1/2 in", since=2
    )
