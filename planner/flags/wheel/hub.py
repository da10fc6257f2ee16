"""Whether the wheel goes on this hub: pilot and bore, stud circle and count."""

from typing import Annotated

from planner.quantities.kinds import POSITION, Count, Distance, Length, Position, Text
from planner.sources.citing import COMMON_PRACTICE, practice
from planner.sources.reasoning import GEOMETRY, LEAST_SQUARES
from planner.worksheet.declare import Finding, limit, rule
from planner.worksheet.turning import magnitude

most_register_gap = limit(
    Distance,
    "0.3 mm",
    means="most gap on the diameter between pilot and bore if the pilot centers the wheel",
    ground=practice("a tenth or two of a millimeter; half of the gap is runout"),
)
most_stud_reading_spread = limit(
    Distance,
    "1/16 in",
    means="how far two readings of one bolt circle may differ on the diameter",
    ground=practice("circles in use are farther apart than that"),
)
most_stud_circle_difference = limit(
    Distance,
    "1/64 in",
    means="how far the wheel's bolt circle may differ from the hub's",
    ground=practice("more bends the studs as the seats pull in"),
)
standard_circle_band = limit(
    Distance,
    "1/32 in",
    means="how close a reading must come to a common bolt circle to count as that one",
    ground=practice("what a tape can tell"),
)


@rule(
    severity="stop",
    danger="wheel off",
    notices="the wheel's bore is smaller than the hub's pilot",
    says="The bore is {wheel_bore}, the pilot {hub_pilot}: the wheel has to go over the pilot.",
    clear_says="The bore is {wheel_bore}, the pilot {hub_pilot}: the wheel goes over it.",
    cure="Never pull a wheel onto a pilot with its nuts. Have the wheel maker, or a machine shop that stands behind "
    "its work, open up the bore, or order another wheel.",
    ground=GEOMETRY,
    holds={"register_gap": "0.05 mm", "wheel_bore": "108.05 mm", "hub_pilot": "108 mm"},
    fails={"register_gap": "-0.05 mm", "wheel_bore": "107.95 mm", "hub_pilot": "108 mm"},
)
def bore_smaller_than_pilot(register_gap: Position, wheel_bore: Length, hub_pilot: Length) -> Position:
    """Margin in m on the diameter."""
    return register_gap


@rule(
    severity="stop",
    danger="wheel off",
    notices="nothing centers the wheel: bore loose on the pilot, seats that do not center",
    says="The bore is {register_gap} wider than the pilot; up to {most_register_gap} centers the wheel, and nothing "
    "else does: the seats are {wheel_seat}.",
    clear_says="The wheel is centered by {centered_by}.",
    cure="Order the bore to fit the pilot, or wheels and nuts with cone or ball seats made for each other. A ring "
    "between pilot and bore centers the wheel, but don't let it carry load unless its maker says so.",
    ground=COMMON_PRACTICE,
    holds={"register_gap": "0.29 mm", "wheel_seat": "flat", "most_register_gap": "0.3 mm"},
    fails={"register_gap": "0.31 mm", "wheel_seat": "flat", "most_register_gap": "0.3 mm"},
    beyond="over by",
)
def bore_loose_on_pilot(
    register_gap: Position, wheel_seat: Text, most_register_gap: Distance, centring: Text | None = None
) -> Annotated[Finding, POSITION]:
    """Margin in m on the diameter; holds anyway where cone or ball seats center and the hub is not made to."""
    if wheel_seat in ("cone", "ball") and centring != "hub":
        return Finding(True, {"centered_by": f"its {wheel_seat} seats"})
    return Finding(most_register_gap - register_gap, {"centered_by": "the hub's pilot"})


@rule(
    severity="stop",
    danger="wheel off",
    notices="wheel and hub have different numbers of studs",
    says="The wheel has {wheel_stud_count} stud holes, the hub {stud_count} studs.",
    cure="Never run a wheel on some of its studs. Correct the wrong count, or order wheels for this hub.",
    ground=GEOMETRY,
    holds={"wheel_stud_count": "6", "stud_count": "6"},
    fails={"wheel_stud_count": "5", "stud_count": "6"},
    clear_says="The wheel has as many holes as the hub has studs, {stud_count}.",
)
def stud_count_differs(wheel_stud_count: Count, stud_count: Count) -> bool:
    """Whether the counts are equal."""
    return wheel_stud_count == stud_count


@rule(
    severity="stop",
    danger="wheel off",
    notices="wheel and hub have different bolt circles",
    says="The wheel's bolt circle is {wheel_stud_circle}, the hub's {stud_circle}; they may differ by "
    "{most_stud_circle_difference}.",
    clear_says="The wheel's bolt circle is {wheel_stud_circle}, the hub's {stud_circle}: within the "
    "{most_stud_circle_difference} by which they may differ.",
    cure="Never pull a wheel onto the wrong bolt circle: studs bend, seats crack, nuts come loose. Before you order, "
    "measure the hub again over the longest chord with a caliper, and give the wheel maker that reading.",
    ground=COMMON_PRACTICE,
    holds={"wheel_stud_circle": "5 1/2 in", "stud_circle": "139.4 mm", "most_stud_circle_difference": "1/64 in"},
    fails={"wheel_stud_circle": "5 1/2 in", "stud_circle": "139.2 mm", "most_stud_circle_difference": "1/64 in"},
    beyond="over by",
)
def stud_circle_differs(
    wheel_stud_circle: Length, stud_circle: Length, most_stud_circle_difference: Distance
) -> Position:
    """Margin in m on the diameter."""
    return most_stud_circle_difference - magnitude(wheel_stud_circle - stud_circle)


@rule(
    severity="stop",
    danger="wheel off",
    notices="the bolt circle readings don't agree on any one circle",
    says="The bolt circle readings differ by {stud_circle_disagreement} on the diameter; the limit is "
    "{most_stud_reading_spread}.",
    clear_says="The bolt circle readings differ by {stud_circle_disagreement} on the diameter, within the limit of "
    "{most_stud_reading_spread}.",
    cure="Don't order a wheel until two ways of measuring agree. Count the spaces between the studs again, measure "
    "from every stud to the next and one long chord with a caliper, and look for a bent stud or swapped hubs.",
    ground=LEAST_SQUARES,
    holds={"stud_circle_disagreement": "0.062 in", "most_stud_reading_spread": "1/16 in"},
    fails={"stud_circle_disagreement": "0.063 in", "most_stud_reading_spread": "1/16 in"},
    beyond="over by",
    bars=("stated_stud_circle", "stud_points", "adjacent_spacing", "skip_spacing", "outer_edge_spacing"),
)
def stud_readings_disagree(stud_circle_disagreement: Distance, most_stud_reading_spread: Distance) -> Position:
    """Margin in m on the diameter."""
    return most_stud_reading_spread - stud_circle_disagreement


@rule(
    severity="note",
    notices="the bolt circle isn't a common size",
    says="The bolt circle reads {stud_circle}; the nearest common size is {standard_stud_circle}.",
    clear_says="The bolt circle reads {stud_circle}, which is {standard_stud_circle}, a common size.",
    cure="That can be right: old and heavy hubs have their own circles, and a wheel maker can drill to them. Measure "
    "it twice, two ways, before you order.",
    if_close="A longer chord beats a finer tape: measure over the outer edges of two studs far apart, with a caliper, "
    "and enter how many spaces are between them. Don't enter the nearest common size as if you'd measured it.",
    ground=COMMON_PRACTICE,
    holds={
        "stud_circle": "139.0 mm",
        "standard_stud_circle": "5 1/2 in",
        "stud_circle_off_standard": "0.7 mm",
        "standard_circle_band": "1/32 in",
    },
    fails={
        "stud_circle": "138.8 mm",
        "standard_stud_circle": "5 1/2 in",
        "stud_circle_off_standard": "0.9 mm",
        "standard_circle_band": "1/32 in",
    },
    beyond="over by",
)
def stud_circle_unusual(
    stud_circle: Length,
    standard_stud_circle: Length,
    stud_circle_off_standard: Distance,
    standard_circle_band: Distance,
) -> Position:
    """Margin in m on the diameter."""
    return standard_circle_band - stud_circle_off_standard
