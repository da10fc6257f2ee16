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
    ARatio,
    AText,
    ATorque,
    AYesNo,
    Table,
    fact,
    words,
)
from planner.project.models.tires import Tire
from planner.project.models.tools import CALIPER_TWICE, TAPE, TAPE_CLOSE
from planner.project.models.wheels import Wheel


class Spare(Table):
    """The spare."""

    designation: AText = fact("its size", name="spare_designation", example="37x12.50R17LT")
    overall_diameter: ALength = fact(
        "its overall diameter", name="spare_diameter", example="36.8 in ± 0.2 in", usual=TAPE.on_found
    )
    stud_circle: ALength = fact(
        "its wheel's bolt circle", name="spare_stud_circle", example="8 3/4 in", usual=CALIPER_TWICE.on_found
    )
    pieces: Literal["one", "multi"] | None = fact(
        "one-piece or multi-piece rim", name="spare_pieces", example="one", since=2
    )
    load_capacity: AMass = fact(
        "maximum load molded on its sidewall, single", name="spare_load_capacity", example="3,195 lb", since=2
    )
    load_capacity_dual: AMass = fact(
        "maximum load molded on its sidewall, dual", name="spare_dual_load_capacity", example="2,755 lb", since=2
    )


class Pair(Table):
    """Two wheels side by side at each end of an axle."""

    held_by: Literal["long studs", "inner nuts", "clamps"] | None = fact(
        "what holds the inner wheel", name="pair_held_by", example="inner nuts", since=2
    )
    inner_nut_torque: ATorque = fact(
        "torque of the inner nuts that hold the inner wheel by itself", example="450 ft·lb", since=2
    )
    spacing: ALength = fact(
        "between the two center planes, as measured",
        name="measured_dual_spacing",
        example="11 in ± 1/8 in",
        how="From one tire's outer sidewall to the same sidewall of the other, at hub height",
        since=2,
        usual=TAPE,
    )
    sidewall_gap: ADistance = fact(
        "between the two sidewalls at the road, loaded",
        name="measured_sidewall_gap",
        example="1 1/4 in ± 1/8 in",
        since=2,
        usual=TAPE,
    )
    diameter_difference: ADistance = fact(
        "how much larger one of the two tires is than the other",
        name="pair_difference",
        example="1/8 in ± 1/16 in",
        how="A tape around the middle of each tread, at pressure, no load; divide the difference by 3.14",
        since=2,
        usual=TAPE_CLOSE,
    )
    inner_valve_reached: AYesNo = fact(
        "if you can reach the inner tire's valve",
        example="yes",
        how="With the outer wheel on: can you get a gauge and an air chuck on the inner valve by hand?",
        since=2,
    )


class End(Table):
    """What differs at one axle."""

    axle_ratio: ARatio = fact("axle ratio in this fitment, if the gears change", example="4.88")
    tires: ACount = fact("tires at this axle in this fitment; left out: the axle's own count", example="2", since=2)
    tire: Tire = Field(default=Tire.model_construct(), description="Tire at this axle.")
    wheel: Wheel = Field(default=Wheel.model_construct(), description="Wheel at this axle.")
    pair: Pair = words("two wheels side by side", default=Pair.model_construct(), since=2)


class Fitment(End):
    """A set of tires, wheels and gearing. What's entered at `front` or `rear` wins over what's entered for both."""

    description: AText = words("what it is, in one line", example="37 in radials on 17x9 wheels made to order")
    front: End = Field(default=End.model_construct(), description="What differs at the front axle.")
    rear: End = Field(default=End.model_construct(), description="What differs at the rear axle.")
    spare: Spare = Field(default=Spare.model_construct(), description="The spare.")
    price: AMoney = words("what the set costs, in your currency", example="2400")
    lead_time: ADuration = words("from order to arrival", example="8 weeks")
