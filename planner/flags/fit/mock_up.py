"""What was measured at a mock-up, with the candidate's wheel on, against what the sweep says of the same place."""

from planner.quantities.kinds import Position, Text
from planner.sources.reasoning import GEOMETRY
from planner.worksheet.declare import rule


@rule(
    severity="stop",
    danger="steering or brakes",
    notices="what was measured at the mock-up is not what the sweep says",
    says="{mock_up_words}. No truck within the tolerances entered has both, so one of them is wrong, and nothing at "
    "that place is known.",
    clear_says="{mock_up_words}. The two agree.",
    cure="Fit no wheel and roll nothing by either of the two. On stands, with hands out while anything moves, measure "
    "there once more, and look first at what the sweep's value rests on most[: {mock_up_doubts}]. Then the backspace "
    "as the wheel was built, the tire's size at its pressure, where the obstacle really stands, and how far the wheel "
    "turned and came up: short of a stop, past the planned one, or with a spring pack that sat otherwise. Correct "
    "the entry, or the reading, that was wrong.",
    ground=GEOMETRY,
    holds={"mock_up_margin": "0.1 mm", "mock_up_words": "spring: left: measured 20 mm, predicted 25 mm"},
    fails={"mock_up_margin": "-0.1 mm", "mock_up_words": "spring: left: measured 20 mm, predicted 35 mm"},
)
def mock_up_differs(mock_up_margin: Position, mock_up_words: Text, mock_up_doubts: Text | None = None) -> Position:
    """Margin in m: how far what was measured lies within what can be there."""
    return mock_up_margin
