"""What was measured at a mock-up, with the candidate's wheel on, against what the sweep says of the same place."""

from planner.quantities.kinds import Distance, Position, Text
from planner.sources.reasoning import GEOMETRY
from planner.worksheet.declare import rule


@rule(
    severity="stop",
    danger="steering or brakes",
    notices="the mock-up and the sweep don't agree",
    says="At the mock-up, {mock_up_words}. Both can't be true of one truck, whatever the tolerances: an entry or the "
    "reading is wrong, and the room there is not known.",
    clear_says="At the mock-up, {mock_up_words}. The two agree.",
    cure="Don't fit the wheels and don't roll the truck on either number. On stands, hands out while anything moves, "
    "measure there again. Check first what the sweep rests on most[: {mock_up_doubts}]. Then check the backspace as "
    "the wheel was built, the tire's size at its pressure, where the obstacle and the spring pack sit, and how far the "
    "wheel turned and came up: short of a stop, or past the planned one. Correct the entry or the reading that was "
    "wrong.",
    ground=GEOMETRY,
    holds={"mock_up_margin": "0.1 mm", "mock_up_words": "spring: left: measured 20 mm, predicted 25 mm"},
    fails={"mock_up_margin": "-0.1 mm", "mock_up_words": "spring: left: measured 20 mm, predicted 35 mm"},
    only_with=("mock_up_margin",),
)
def mock_up_differs(mock_up_margin: Position, mock_up_words: Text, mock_up_doubts: Text | None = None) -> Position:
    """Margin in m: how far what was measured lies within what can be there."""
    return mock_up_margin


@rule(
    severity="stop",
    danger="steering or brakes",
    notices="the gap measured at the brake isn't what the readings leave there",
    says="At the mock-up, {mock_up_gap_words}. Both can't be true of one truck, whatever the tolerances: an entry or "
    "the reading is wrong, and the room at the brake is not known.",
    clear_says="At the mock-up, {mock_up_gap_words}. The two agree.",
    cure="Don't put weight on the wheel. Turn it by hand with clay on the brake and measure again. Check first what "
    "the prediction rests on most[: {mock_up_gap_doubts}]. Then check the wheel as it was built, and if it sat flat "
    "on the hub with all nuts snug. Correct the entry or the reading that was wrong.",
    ground=GEOMETRY,
    holds={"mock_up_gap_margin": "0.1 mm", "mock_up_gap_words": "front brake: left: measured 4 mm, predicted 5 mm"},
    fails={"mock_up_gap_margin": "-0.1 mm", "mock_up_gap_words": "front brake: left: measured 4 mm, predicted 9 mm"},
    only_with=("mock_up_gap_margin",),
)
def brake_gap_differs(
    mock_up_gap_margin: Position, mock_up_gap_words: Text, mock_up_gap_doubts: Text | None = None
) -> Position:
    """Margin in m: how far what was measured lies within what can be there."""
    return mock_up_gap_margin


@rule(
    severity="stop",
    danger="steering or brakes",
    notices="the wheel was measured too close to the brake",
    says="The gap measured at the brake is {mock_up_gap_least}; you need at least {least_brake_gap}.",
    clear_says="The gap measured at the brake is {mock_up_gap_least}, and {least_brake_gap} is enough.",
    cure="Don't grind the brake and don't use loose spacers. Another wheel, with a larger rim or its drop center and "
    "disc farther from the brake[, by at least {to_clear}].",
    ground=GEOMETRY,
    holds={"mock_up_gap_least": "3.1 mm", "least_brake_gap": "3 mm"},
    fails={"mock_up_gap_least": "2.9 mm", "least_brake_gap": "3 mm"},
    only_with=("mock_up_gap_least",),
)
def measured_near_brake(mock_up_gap_least: Position, least_brake_gap: Distance) -> Position:
    """Margin in m: how much more room was measured than is wanted."""
    return mock_up_gap_least - least_brake_gap
