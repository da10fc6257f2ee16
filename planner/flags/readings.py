"""What the readings of one entry say of each other: their inputs are made from the readings in the project file."""

from planner.quantities.kinds import Text
from planner.sources.citing import practice
from planner.worksheet.declare import rule


@rule(
    severity="caution",
    notices="two readings of one thing are farther apart than their tolerances",
    says="{read_entry}: {readings_apart}. The planner uses {taken_reading}.",
    clear_says="{read_entry}: its readings agree within their tolerances, or you chose one.",
    cure="Measure it again, another way or by somebody else, and find out which was wrong. Then say which reading "
    "counts, by its number, or say for each how far off it may be. Until then the tolerance covers all "
    "of them.",
    ground=practice("two careful readings agree within their tolerances, or one of them is wrong"),
    holds={"read_entry": "front hub face to fender edge", "readings_apart": "", "taken_reading": "6 1/2 in ± 1/8 in"},
    fails={
        "read_entry": "front hub face to fender edge",
        "readings_apart": "reading 1 says 6 1/2 in ± 1/8 in, reading 2 says 6 1/4 in ± 1/8 in",
        "taken_reading": "6 3/8 in ± 1/4 in",
    },
    only_with=("read_entry",),
)
def readings_apart_by_more_than_stated(read_entry: Text, readings_apart: Text = "", taken_reading: Text = "") -> bool:
    """Whether any two readings of one side lie within the larger tolerance of the two."""
    return bool(read_entry) and not readings_apart
