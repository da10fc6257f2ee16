"""What stands between hub and wheel: that a spacer is there, what holds it, and whether the wheel lies flat on it."""

from planner.quantities.kinds import Distance, Length, Position, Ratio
from planner.sources.citing import COMMON_PRACTICE
from planner.worksheet.declare import rule


@rule(
    severity="caution",
    danger="wheel off",
    notices="there is a spacer or adapter between hub and wheel",
    says="There is a {spacer_thickness} spacer between the hub and the wheel. It can crack, its nuts work loose where "
    "nobody sees them, and the wheel comes off with it; the wheel bearings carry a longer arm.",
    clear_says="There is nothing between the hub and the wheel.",
    cure="A loose inner row of nuts takes the wheel off: torque both rows, and again after 50 miles (80 km). "
    "Better yet, get "
    "a wheel with the offset you want. If not, use one piece of forged or billet steel or aluminum from a maker who "
    "rates it for this axle's load, centered on the hub, with a lip for the wheel; never two of them, never cast, "
    "never home-made, never loose washers. Ask first if the law allows it.",
    ground=COMMON_PRACTICE,
    holds={"spacer_thickness": "0 in"},
    fails={"spacer_thickness": "1/16 in"},
    only_with=("spacer_thickness",),
)
def spacer_between(spacer_thickness: Distance) -> bool:
    """Whether there is none."""
    return spacer_thickness <= 0


@rule(
    severity="stop",
    danger="wheel off",
    notices="not enough thread engagement on the spacer's own nuts",
    says="The hub's {found_stud_diameter} studs go {spacer_engagement} into the nuts that hold the spacer; you need "
    "at least {least_engagement} times the diameter.",
    clear_says="The hub's {found_stud_diameter} studs go {spacer_engagement} into the nuts that hold the spacer, no "
    "less than the {least_engagement} times the diameter that you need.",
    cure="Don't drive on it: these nuts strip out of sight and the spacer comes off with the wheel. A thinner flange "
    "at these nuts or longer studs[: at least {to_clear} more thread], or no spacer. Count the turns.",
    ground=COMMON_PRACTICE,
    holds={"spacer_engagement": "0.57 in", "found_stud_diameter": "9/16 in", "least_engagement": "1.0"},
    fails={"spacer_engagement": "0.555 in", "found_stud_diameter": "9/16 in", "least_engagement": "1.0"},
    only_with=("spacer_engagement",),
)
def spacer_nuts_short(spacer_engagement: Distance, found_stud_diameter: Length, least_engagement: Ratio) -> Position:
    """Margin in m of thread."""
    return spacer_engagement - least_engagement * found_stud_diameter


@rule(
    severity="stop",
    danger="wheel off",
    notices="the hub's studs hold the wheel off its spacer",
    says="The hub's studs or their nuts stick out {hub_studs_proud} past the spacer's face and the wheel's pockets: "
    "the wheel sits on them, and not on the spacer.",
    clear_says="The hub's studs and their nuts stay behind the spacer's face or in the wheel's pockets: "
    "{hub_studs_proud} past it.",
    cure="Don't tighten a wheel onto them: it feels tight and comes loose. A thicker spacer[, by at least "
    "{to_clear}], a wheel with pockets there, or studs cut to length by whoever made the spacer.",
    ground=COMMON_PRACTICE,
    holds={"hub_studs_proud": "-0.01 in"},
    fails={"hub_studs_proud": "0.01 in"},
    only_with=("hub_studs_proud",),
    beyond="out by",
)
def hub_studs_hold_wheel_off(hub_studs_proud: Position) -> Position:
    """Margin in m."""
    return -hub_studs_proud
