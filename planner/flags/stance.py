"""What the new height and width mean: tipping, lamps, doors, and the ramps that the truck meets."""

from planner.quantities.kinds import Angle, Change, Distance, Length, Position, Ratio
from planner.sources.citing import COMMON_PRACTICE, practice
from planner.sources.reasoning import ENTERED, GEOMETRY, STATICS
from planner.sources.us_federal import LAMPS, ROLLOVER
from planner.worksheet.declare import limit, rule
from planner.worksheet.turning import least

least_stability_kept = limit(
    Ratio,
    "0.97",
    means="least stability factor, against what was found",
    ground=practice("trucks tip at not much more than 1 g: a few hundredths count"),
)
lamp_lowest = limit(
    Length, "22 in", means="lowest headlight center allowed", ground=LAMPS.recalled("Table I; enter your own place's")
)
lamp_highest = limit(
    Length, "54 in", means="highest headlight center allowed", ground=LAMPS.recalled("Table I; enter your own place's")
)
least_door_gap = limit(
    Distance,
    "1 in",
    means="smallest gap over the highest point under a door",
    ground=practice("a truck bounces, and doors hang unevenly"),
)
most_ramp_angle_lost = limit(
    Angle,
    "1 deg",
    means="how much of a ramp angle found may be lost",
    ground=practice("what a tape on the low points can tell"),
)

_RAMP_CURE = "A taller tire at that end, or move, trim or guard what hangs low: bumper, hitch, exhaust, steps."
_CREST_CURE = "Taller tires, or move, trim or guard what hangs low between the axles: exhaust, tanks, steps."


@rule(
    severity="caution",
    danger="control",
    notices="stability against tipping has fallen",
    says="The stability factor (half the track over the height of the center of gravity) goes from "
    "{found_stability_factor} to {planned_stability_factor}; you need at least {least_stability_kept} times the "
    "found one.",
    clear_says="The stability factor (half the track over the height of the center of gravity) goes from "
    "{found_stability_factor} to {planned_stability_factor}: no less than {least_stability_kept} times the found one "
    "is kept.",
    cure="A wider track inside the fenders and the law, a shorter tire, load carried lower. If not, drive for it: "
    "slower in curves, straight up and down hills, everybody belted; tell whoever drives it.",
    ground=ROLLOVER.read(),
    holds={"found_stability_factor": "1.10", "planned_stability_factor": "1.068", "least_stability_kept": "0.97"},
    fails={"found_stability_factor": "1.10", "planned_stability_factor": "1.066", "least_stability_kept": "0.97"},
    bounds="stability against tipping",
)
def stability_fallen(
    found_stability_factor: Ratio, planned_stability_factor: Ratio, least_stability_kept: Ratio
) -> Change:
    """Margin as a part of the factor found."""
    return planned_stability_factor / found_stability_factor - least_stability_kept


@rule(
    severity="caution",
    danger="control",
    notices="the truck tips before it slides",
    says="As weighed it tips at {tipping_force} times its weight to the side, or standing still on a side slope of "
    "{side_slope} or less; on a dry road its tires hold {tire_grip}.",
    clear_says="As weighed it tips at {tipping_force} times its weight to the side; on a dry road its tires hold "
    "{tire_grip}, so it slides first. On soft ground, over a curb or with a high load it may still tip.",
    cure="Take a curve too fast, or swerve, and it's on its side with everything loose on top of you. A wider track "
    "inside the fenders and the law, a shorter tire, load carried lower. Until then slow down before every curve, "
    "don't swerve, go straight up and down hills, everybody belted; tell whoever drives it.",
    if_close="Drive it as one that tips first: take a curve too fast, or swerve, and it's on its side with everything "
    "loose on top of you. Slow down before every curve, don't swerve, go straight up and down hills, everybody "
    "belted; tell whoever drives it. A lift test done three times, and higher, tells you more.",
    ground=STATICS,
    holds={"tipping_force": "0.801", "tire_grip": "0.8", "side_slope": "42 deg"},
    fails={"tipping_force": "0.799", "tire_grip": "0.8", "side_slope": "41 deg"},
    as_found=True,
)
def tips_before_it_slides(tipping_force: Ratio, tire_grip: Ratio, side_slope: Angle) -> Change:
    """Margin as a part of the truck's weight."""
    return tipping_force - tire_grip


@rule(
    severity="caution",
    danger="control",
    notices="nobody has measured the center of gravity",
    says="The height of the center of gravity isn't known, so nothing here says how close the truck is to tipping.",
    cure="Weigh it with the rear axle lifted: a rated lift at the axle, front wheels chocked both ways, nobody under "
    "it, springs blocked; or have a shop with scales do it. Until then drive it as if it tips easier than before.",
    ground=ROLLOVER.read(),
    holds={"found_cg_height": "32 in"},
    fails={},
    clear_says="The center of gravity is {found_cg_height} above the ground on the truck as found.",
)
def cg_not_measured(found_cg_height: Length | None = None) -> bool:
    """Whether there is a height, entered or from a lift test."""
    return found_cg_height is not None


@rule(
    severity="stop",
    danger="law",
    notices="the headlights are below or above the legal limits",
    says="The headlight center is at {lamp_height}; {lamp_lowest} to {lamp_highest} is allowed.",
    clear_says="The headlight center is at {lamp_height}, within the {lamp_lowest} to {lamp_highest} that is allowed.",
    cure="Move the headlights to a height that's legal where the truck is registered, enter those limits, and have "
    "them aimed again.",
    ground=LAMPS.recalled("Table I"),
    holds={"lamp_height": "53.99 in", "lamp_lowest": "22 in", "lamp_highest": "54 in"},
    fails={"lamp_height": "54.01 in", "lamp_lowest": "22 in", "lamp_highest": "54 in"},
    beyond="outside by",
    as_found=True,
)
def lamps_out_of_band(lamp_height: Length, lamp_lowest: Length, lamp_highest: Length) -> Position:
    """Margin in m to the nearer end of the band."""
    return least(lamp_height - lamp_lowest, lamp_highest - lamp_height)


@rule(
    severity="stop",
    danger="law",
    notices="the body is lifted more than allowed",
    says="The body is lifted by {lift}; {legal_lift} is allowed.",
    clear_says="The body is lifted by {lift}, no more than the {legal_lift} that is allowed.",
    cure="Lift it less[, by at least {to_clear}], or ask the office that registers the truck what it takes.",
    ground=ENTERED,
    holds={"lift": "3.99 in", "legal_lift": "4 in"},
    fails={"lift": "4.01 in", "legal_lift": "4 in"},
    only_with=("lift", "legal_lift"),
    beyond="over by",
)
def lifted_past_local_code(lift: Distance, legal_lift: Distance) -> Position:
    """Margin in m at this axle."""
    return legal_lift - lift


@rule(
    severity="caution",
    notices="the truck is too tall for your lowest door",
    says="The highest point is at {overall_height}, the door at {door_height}; you need at least {least_door_gap} "
    "between them.",
    clear_says="The highest point is at {overall_height} and the door at {door_height}: the {least_door_gap} you need "
    "between them is there.",
    cure="Lower the highest point[ by at least {to_clear}] or take it off, or park it somewhere else; put the height "
    "on the dash.",
    ground=GEOMETRY,
    holds={"overall_height": "82.99 in", "door_height": "84 in", "least_door_gap": "1 in"},
    fails={"overall_height": "83.01 in", "door_height": "84 in", "least_door_gap": "1 in"},
    only_with=("door_height",),
    as_found=True,
)
def taller_than_the_door(overall_height: Length, door_height: Length, least_door_gap: Distance) -> Position:
    """Margin in m."""
    return door_height - overall_height - least_door_gap


@rule(
    severity="caution",
    notices="the approach angle is less than you want",
    says="The approach angle is {approach_angle}; you want {wanted_approach_angle}.",
    clear_says="The approach angle is {approach_angle}, no less than the {wanted_approach_angle} you want.",
    cure=_RAMP_CURE,
    ground=ENTERED,
    holds={"approach_angle": "30.1 deg", "wanted_approach_angle": "30 deg"},
    fails={"approach_angle": "29.9 deg", "wanted_approach_angle": "30 deg"},
    only_with=("wanted_approach_angle",),
    as_found=True,
)
def approach_below_wanted(approach_angle: Angle, wanted_approach_angle: Angle) -> Angle:
    """Margin in rad."""
    return approach_angle - wanted_approach_angle


@rule(
    severity="caution",
    notices="the departure angle is less than you want",
    says="The departure angle is {departure_angle}; you want {wanted_departure_angle}.",
    clear_says="The departure angle is {departure_angle}, no less than the {wanted_departure_angle} you want.",
    cure=_RAMP_CURE,
    ground=ENTERED,
    holds={"departure_angle": "25.1 deg", "wanted_departure_angle": "25 deg"},
    fails={"departure_angle": "24.9 deg", "wanted_departure_angle": "25 deg"},
    only_with=("wanted_departure_angle",),
    as_found=True,
)
def departure_below_wanted(departure_angle: Angle, wanted_departure_angle: Angle) -> Angle:
    """Margin in rad."""
    return departure_angle - wanted_departure_angle


@rule(
    severity="caution",
    notices="the breakover angle is less than you want",
    says="The breakover angle is {breakover_angle}; you want {wanted_breakover_angle}.",
    clear_says="The breakover angle is {breakover_angle}, no less than the {wanted_breakover_angle} you want.",
    cure=_CREST_CURE,
    ground=ENTERED,
    holds={"breakover_angle": "20.1 deg", "wanted_breakover_angle": "20 deg"},
    fails={"breakover_angle": "19.9 deg", "wanted_breakover_angle": "20 deg"},
    only_with=("wanted_breakover_angle",),
    as_found=True,
)
def breakover_below_wanted(breakover_angle: Angle, wanted_breakover_angle: Angle) -> Angle:
    """Margin in rad."""
    return breakover_angle - wanted_breakover_angle


@rule(
    severity="note",
    notices="approach angle lost",
    says="The approach angle goes from {found_approach_angle} to {planned_approach_angle}; the limit "
    "is a loss of {most_ramp_angle_lost}.",
    clear_says="The approach angle goes from {found_approach_angle} to {planned_approach_angle}: no more than "
    "{most_ramp_angle_lost} is lost.",
    cure=_RAMP_CURE,
    ground=COMMON_PRACTICE,
    holds={"found_approach_angle": "30 deg", "planned_approach_angle": "29.1 deg", "most_ramp_angle_lost": "1 deg"},
    fails={"found_approach_angle": "30 deg", "planned_approach_angle": "28.9 deg", "most_ramp_angle_lost": "1 deg"},
    beyond="over by",
    follows=("approach_below_wanted",),
)
def approach_angle_lost(
    found_approach_angle: Angle, planned_approach_angle: Angle, most_ramp_angle_lost: Angle
) -> Angle:
    """Margin in rad."""
    return planned_approach_angle - found_approach_angle + most_ramp_angle_lost


@rule(
    severity="note",
    notices="departure angle lost",
    says="The departure angle goes from {found_departure_angle} to {planned_departure_angle}; the limit "
    "is a loss of {most_ramp_angle_lost}.",
    clear_says="The departure angle goes from {found_departure_angle} to {planned_departure_angle}: no more than "
    "{most_ramp_angle_lost} is lost.",
    cure=_RAMP_CURE,
    ground=COMMON_PRACTICE,
    holds={"found_departure_angle": "25 deg", "planned_departure_angle": "24.1 deg", "most_ramp_angle_lost": "1 deg"},
    fails={"found_departure_angle": "25 deg", "planned_departure_angle": "23.9 deg", "most_ramp_angle_lost": "1 deg"},
    beyond="over by",
    follows=("departure_below_wanted",),
)
def departure_angle_lost(
    found_departure_angle: Angle, planned_departure_angle: Angle, most_ramp_angle_lost: Angle
) -> Angle:
    """Margin in rad."""
    return planned_departure_angle - found_departure_angle + most_ramp_angle_lost


@rule(
    severity="note",
    notices="breakover angle lost",
    says="The breakover angle goes from {found_breakover_angle} to {planned_breakover_angle}; the limit "
    "is a loss of {most_ramp_angle_lost}.",
    clear_says="The breakover angle goes from {found_breakover_angle} to {planned_breakover_angle}: no more than "
    "{most_ramp_angle_lost} is lost.",
    cure=_CREST_CURE,
    ground=COMMON_PRACTICE,
    holds={"found_breakover_angle": "22 deg", "planned_breakover_angle": "21.1 deg", "most_ramp_angle_lost": "1 deg"},
    fails={"found_breakover_angle": "22 deg", "planned_breakover_angle": "20.9 deg", "most_ramp_angle_lost": "1 deg"},
    beyond="over by",
    follows=("breakover_below_wanted",),
)
def breakover_angle_lost(
    found_breakover_angle: Angle, planned_breakover_angle: Angle, most_ramp_angle_lost: Angle
) -> Angle:
    """Margin in rad."""
    return planned_breakover_angle - found_breakover_angle + most_ramp_angle_lost
