"""Readings of how a tire stands and rolls that its diameter leaves no room for: one of them is wrong."""

from planner.flags.contradicting import contradiction
from planner.quantities.kinds import Change, Length, Ratio, Share
from planner.sources.citing import practice
from planner.worksheet.declare import limit
from planner.worksheet.turning import least

most_squash = limit(
    Share,
    "18 %",
    means="how much of its free radius a tire that is aired up may squash under load",
    ground=practice("published tables have 5 to 9 %; at twice that a tire is overloaded or half flat"),
)
least_roll_out_factor = limit(
    Ratio,
    "2.85",
    means="least times its overall diameter that a tire rolls in one turn",
    ground=practice("tires on record roll 2.96 to 3.1 diameters; a bias tire worn 3 % of a new one's diameter 2.9"),
)
greatest_roll_out_factor = limit(
    Ratio,
    "3.2",
    means="most times its overall diameter that a tire rolls in one turn",
    ground=practice("a free tire rolls 3.1416 diameters and a loaded one less; 2 % for a tire grown past its table"),
)


@contradiction(
    "tire",
    "the tire's loaded radius and its overall diameter",
    says="The loaded radius entered is {measured_loaded_radius}, on a tire {overall_diameter} tall. Under load it's no "
    "more than half of that, and less than half by no more than {most_squash}.",
    clear_says="The loaded radius entered, {measured_loaded_radius}, goes with a tire {overall_diameter} tall.",
    cure="Don't order, load or drive by this until it's right. Air the tire up, load the truck, and measure from the "
    "axle's center straight down to level ground; a tape around the tread, divided by 3.1416, is the diameter. "
    "Correct the entry that's wrong. If the tire really squashes that much, it's overloaded or short of air.",
    ground=practice("a loaded tire stands lower than its free radius, and not much lower"),
    holds={"measured_loaded_radius": "410 mm", "overall_diameter": "1,000 mm", "most_squash": "18 %"},
    fails={"measured_loaded_radius": "409.5 mm", "overall_diameter": "1,000 mm", "most_squash": "18 %"},
    bars=("measured_loaded_radius", "overall_diameter", "designation"),
)
def loaded_radius_and_diameter(measured_loaded_radius: Length, overall_diameter: Length, most_squash: Share) -> Change:
    """Margin as a part of the free radius, either way."""
    squash = 1 - measured_loaded_radius / (overall_diameter / 2)
    return least(squash, most_squash - squash)


@contradiction(
    "tire",
    "the tire's roll-out and its overall diameter",
    says="The tire is entered to roll {rolling_circumference} in one turn, and to be {overall_diameter} tall; a tire "
    "rolls between {least_roll_out_factor} and {greatest_roll_out_factor} times its diameter.",
    clear_says="The roll-out entered, {rolling_circumference} in one turn, goes with a tire {overall_diameter} tall.",
    cure="Don't order or drive by this until it's right. Chalk tread and floor, roll the loaded truck one full turn at "
    "its pressures, and measure between the marks; a tape around the tread, divided by 3.1416, is the diameter. "
    "Correct the entry that's wrong.",
    ground=practice("a loaded tire rolls a little less than the circle of its diameter"),
    holds={
        "rolling_circumference": "3,200 mm",
        "overall_diameter": "1,000 mm",
        "least_roll_out_factor": "2.85",
        "greatest_roll_out_factor": "3.2",
    },
    fails={
        "rolling_circumference": "3,201 mm",
        "overall_diameter": "1,000 mm",
        "least_roll_out_factor": "2.85",
        "greatest_roll_out_factor": "3.2",
    },
    bars=("rolling_circumference", "overall_diameter", "designation"),
)
def roll_out_and_diameter(
    rolling_circumference: Length,
    overall_diameter: Length,
    least_roll_out_factor: Ratio,
    greatest_roll_out_factor: Ratio,
) -> Change:
    """Margin as a part of the diameter, either way."""
    factor = rolling_circumference / overall_diameter
    return least(factor - least_roll_out_factor, greatest_roll_out_factor - factor)
