"""What the wheel and tire mean for the brakes: room for the drum, and how hard it must work."""

from typing import Annotated

from planner.quantities.kinds import POSITION, Change, Distance, Position, Ratio, RimCode, Text
from planner.sources.citing import COMMON_PRACTICE, practice
from planner.sources.reasoning import GEOMETRY
from planner.worksheet.declare import Finding, limit, rule
from planner.worksheet.turning import greatest, where

least_brake_gap = limit(
    Distance,
    "3 mm",
    means="least gap between any part of the brake and the wheel",
    ground=practice("3 mm and up: heat, stones and balance weights need room"),
)
least_braking_kept = limit(
    Ratio,
    "0.90",
    means="least braking force kept at the road, against what was found",
    ground=practice("you feel a tenth less"),
)
most_pedal_effort = limit(
    Ratio,
    "1.10",
    means="most pedal effort for the same stop, against what was found",
    ground=practice("you feel a tenth more"),
)
most_stop_energy = limit(
    Ratio,
    "1.10",
    means="most energy per stop, against what was found",
    ground=practice("a tenth more heat fades drums sooner"),
)
least_hose_slack = limit(
    Distance,
    "1/2 in",
    means="least slack of a brake hose with the axle hanging and the wheels at full lock",
    ground=practice("a hose that is pulled straight chafes and tears at its fittings"),
)

_ROAD_TEST = (
    "Have a qualified person inspect the brakes and road-test the truck before it sees traffic: low speed first, on "
    "an empty, level road. Bigger brakes or a power booster are a job for a licensed shop, both axles at once."
)


@rule(
    severity="stop",
    danger="steering or brakes",
    notices="the barrel is too close to the brake",
    says="There is {radial_clearance} between the brake and the barrel[, measured at the mock-up {mock_up_gap}]; you "
    "need at least {least_brake_gap}.",
    clear_says="There is {radial_clearance} between the brake and the barrel[, measured at the mock-up {mock_up_gap}], "
    "and {least_brake_gap} is enough.",
    cure="A larger rim diameter, a shallower drop center on the brake side, or a thinner barrel[: at least {to_clear} "
    "more room]. Check with clay on the drum before you put weight on the wheel.",
    ground=COMMON_PRACTICE,
    holds={"radial_clearance": "3.1 mm", "least_brake_gap": "3 mm"},
    fails={"radial_clearance": "2.9 mm", "least_brake_gap": "3 mm"},
    as_found=True,
)
def barrel_near_brake(
    radial_clearance: Position, least_brake_gap: Distance, mock_up_gap: Position | None = None
) -> Position:
    """Margin in m: how much more room there is than wanted."""
    return _room(radial_clearance, mock_up_gap) - least_brake_gap


def _room(predicted: float, measured: float | None) -> float:
    """The room at one part of the brake: no less than the least that was measured to any of it."""
    return predicted if measured is None else greatest(predicted, measured)


@rule(
    severity="stop",
    danger="steering or brakes",
    notices="the disc is too close to the brake's face",
    says="There is {face_clearance} between the brake's face and the wheel's disc[, measured at the mock-up "
    "{mock_up_gap}]; you need at least {least_brake_gap}.",
    clear_says="There is {face_clearance} between the brake's face and the wheel's disc[, measured at the mock-up "
    "{mock_up_gap}], and {least_brake_gap} is enough.",
    cure="Don't grind the brake and don't use loose spacers. Get a disc dished farther out where the brake is[, by at "
    "least {to_clear}]. Check with clay on the drum's face before you put weight on the wheel.",
    ground=COMMON_PRACTICE,
    holds={"face_clearance": "3.1 mm", "least_brake_gap": "3 mm"},
    fails={"face_clearance": "2.9 mm", "least_brake_gap": "3 mm"},
    as_found=True,
)
def disc_near_brake(
    face_clearance: Position, least_brake_gap: Distance, mock_up_gap: Position | None = None
) -> Position:
    """Margin in m: how much more room there is than wanted."""
    return _room(face_clearance, mock_up_gap) - least_brake_gap


@rule(
    severity="stop",
    danger="burst",
    notices="the valve gets too close to the brake as the wheel turns",
    says="The valve is on the brake side, and over a full turn it leaves [{valve_clearance} ]to the brake; you need "
    "at least {least_brake_gap}.",
    clear_says="{sound}.",
    cure="Don't drive it: a valve that hits the drum or caliper tears off, and the tire goes flat at once. Have the "
    "hole made on the outboard side, or have the tire shop put in a shorter or bent valve. Turn the wheel a full turn "
    "by hand with clay on drum and caliper before you put weight on it.",
    ground=COMMON_PRACTICE,
    holds={"valve_side": "inboard", "valve_clearance": "3 mm", "least_brake_gap": "3 mm"},
    fails={"valve_side": "inboard", "valve_clearance": "2.9 mm", "least_brake_gap": "3 mm"},
)
def valve_near_brake(
    valve_side: Text,
    least_brake_gap: Distance,
    valve_clearance: Position | None = None,
    mock_up_gap: Position | None = None,
) -> Annotated[Finding | None, POSITION]:
    """Margin in m; holds outright where the disc is between valve and brake."""
    if valve_side == "outboard":
        return Finding(True, {"sound": "The valve is on the outboard side, with the disc between it and the brake"})
    if valve_clearance is None:
        return None
    return Finding(
        _room(valve_clearance, mock_up_gap) - least_brake_gap,
        {"sound": "The valve clears the brake through the whole turn"},
    )


@rule(
    severity="caution",
    danger="steering or brakes",
    notices="the rim is too small for the brake",
    says="Going by the drop center and barrel, the smallest rim code that clears the brake is {smallest_rim_code}; "
    "this one is {rim_diameter_code}.",
    clear_says="{clear}.",
    cure="Go to the larger code, or have the wheel maker put the drop center away from the brake and tell you the "
    "inside radius there. A measured barrel beats this estimate.",
    ground=GEOMETRY,
    holds={
        "rim_diameter_code": "16",
        "least_brake_gap": "3 mm",
        "smallest_rim_code": "16",
        "radial_clearance": "3.1 mm",
    },
    fails={
        "rim_diameter_code": "15",
        "least_brake_gap": "3 mm",
        "smallest_rim_code": "16",
        "radial_clearance": "2.9 mm",
    },
)
def rim_smaller_than_brake_asks(
    rim_diameter_code: RimCode,
    radial_clearance: Position,
    least_brake_gap: Distance,
    smallest_rim_code: RimCode | None = None,
) -> Annotated[Finding, POSITION]:
    """Margin in m of radius; where the barrel itself was measured, no well and no steel are asked for."""
    if smallest_rim_code is None:
        return Finding(
            True, {"clear": "You measured the barrel itself, so no rim code is estimated from its drop center"}
        )
    margin = radial_clearance - least_brake_gap
    clear = "The rim is large enough for the brake"
    return Finding(where(rim_diameter_code - smallest_rim_code, greatest(margin, 0.0), margin), {"clear": clear})


@rule(
    severity="caution",
    danger="steering or brakes",
    notices="braking force lost: it takes more pedal to stop",
    says="On the new tires the same pedal effort holds with {retarding_force_ratio} of the force found; you "
    "need at least {least_braking_kept}. The same stop takes {pedal_effort_ratio} times the pedal effort; the limit is "
    "{most_pedal_effort}.",
    clear_says="On the new tires the same pedal effort holds with {retarding_force_ratio} of the force found, no less "
    "than the {least_braking_kept} that you need, and the same stop takes {pedal_effort_ratio} times the pedal effort, "
    "within the limit of {most_pedal_effort}.",
    cure=_ROAD_TEST,
    ground=COMMON_PRACTICE,
    holds={
        "retarding_force_ratio": "0.9092",
        "least_braking_kept": "0.90",
        "pedal_effort_ratio": "1.0999",
        "most_pedal_effort": "1.10",
    },
    fails={
        "retarding_force_ratio": "0.9090",
        "least_braking_kept": "0.90",
        "pedal_effort_ratio": "1.1001",
        "most_pedal_effort": "1.10",
    },
)
def braking_force_lost(
    retarding_force_ratio: Ratio, least_braking_kept: Ratio, pedal_effort_ratio: Ratio, most_pedal_effort: Ratio
) -> Change:
    """Margin as a part of the force found, to the nearer of both limits: effort is the force's reciprocal."""
    return retarding_force_ratio - greatest(least_braking_kept, 1 / most_pedal_effort)


@rule(
    severity="caution",
    danger="steering or brakes",
    notices="each stop makes more heat",
    says="A stop from the same speed makes {stop_energy_ratio} times the heat found; the limit is {most_stop_energy}.",
    clear_says="A stop from the same speed makes {stop_energy_ratio} times the heat found, within the limit "
    "of {most_stop_energy}.",
    cure="Lighter wheels and tires, a lower top speed, a lower gear on grades. " + _ROAD_TEST,
    ground=COMMON_PRACTICE,
    holds={"stop_energy_ratio": "1.099", "most_stop_energy": "1.10"},
    fails={"stop_energy_ratio": "1.101", "most_stop_energy": "1.10"},
    beyond="over by",
)
def stop_energy_gained(stop_energy_ratio: Ratio, most_stop_energy: Ratio) -> Change:
    """Margin as a part of the energy found."""
    return most_stop_energy - stop_energy_ratio


@rule(
    severity="stop",
    danger="steering or brakes",
    notices="a brake hose is too short for the axle's travel",
    says="With the axle hanging and the wheels at full lock the brake hose has {brake_hose_slack} of slack; you need "
    "at least {least_hose_slack}.",
    clear_says="With the axle hanging and the wheels at full lock the brake hose has {brake_hose_slack} of slack, no "
    "less than the {least_hose_slack} you need.",
    cure="Don't let the axle hang on it: a torn hose takes out the brakes of that circuit. Have a licensed shop put "
    "in a longer hose[, by at least {to_clear}], or move its bracket; then check full droop at both locks again, on "
    "stands.",
    ground=COMMON_PRACTICE,
    holds={"brake_hose_slack": "0.51 in", "least_hose_slack": "1/2 in"},
    fails={"brake_hose_slack": "0.49 in", "least_hose_slack": "1/2 in"},
    only_with=("brake_hose_slack",),
    as_found=True,
)
def brake_hose_short(brake_hose_slack: Position, least_hose_slack: Distance) -> Position:
    """Margin in m."""
    return brake_hose_slack - least_hose_slack
