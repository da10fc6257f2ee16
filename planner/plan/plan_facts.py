"""The facts that the plan's own rules read: made by the program from the records, and entered nowhere."""

from planner.quantities.kinds import MULTIPLE, TEXT, Kind
from planner.worksheet.catalog import Fact

BY_THE_RECORDS = "the records"
_FACTS: dict[str, tuple[Kind, str, str]] = {
    "decision": (TEXT, "the question that a decision settled", "which backspace?"),
    "finished_task": (TEXT, "a task that was ticked", "decide.wheel"),
    "ordered_part": (TEXT, "a part that was ordered", "wheels"),
    "printed_sheet": (TEXT, "a sheet that was printed", "sheet 3 (order)"),
    "moved_since": (TEXT, "what a record rested on that has moved since", "use.top_speed was 55 mph, now 60 mph"),
    "wanted_part": (TEXT, "a part that is not ordered", "wheels"),
    "order_by": (TEXT, "the last day to order it by the schedule", "2026-08-14"),
    "waiting_task": (TEXT, "a task that could be done but for its parts", "fit.bearings.front"),
    "plan_cost": (MULTIPLE, "what the parts come to", "6200"),
    "plan_budget": (MULTIPLE, "what they may cost", "6500"),
}


def facts() -> list[Fact]:
    """Each as an entry that the program makes, one set for every record."""
    return [
        Fact(name, kind, means, "", example, (frozenset(),), (BY_THE_RECORDS,))
        for name, (kind, means, example) in _FACTS.items()
    ]
