"""What can go wrong with what a person asked for, as words; anything else is a fault of our own."""

from planner.plan.changing import Refused
from planner.plan.recording import Refused as NotRecorded
from planner.plan.unschedulable import Unschedulable
from planner.project.faults import Faulty, as_line
from planner.project.saving import NotSaved
from planner.sheets.kind import CannotPrint


def in_words(error: Exception) -> str | None:
    """One text for what went wrong, a line a fault; None for what must not have happened."""
    if isinstance(error, Faulty):
        lines = [as_line(error.path, fault._replace(line=None)).partition(": ")[2] for fault in error.faults[:4]]
        more = len(error.faults) - len(lines)
        return "; ".join([*lines, *([f"and {more} more"] if more else [])])
    if isinstance(error, (Refused, NotRecorded, NotSaved, Unschedulable, CannotPrint)):
        return str(error)
    return None
