"""What can go wrong with what a person asked for, as words; anything else is a fault of our own."""

from planner.plan.truck.recording import RefusedChange
from planner.plan.work.schedule_error import ScheduleError
from planner.project.diary import NothingThere
from planner.project.faults import Faulty, StillFaulty, without_path
from planner.project.saving import NotSaved
from planner.sheets.kind import CannotPrint

STILL = "nothing is saved: the file has faults, and would still have these"
TROUBLES = (Faulty, ScheduleError, RefusedChange, NotSaved, CannotPrint)


def error_text(error: Exception) -> str:
    """One text for one of the `TROUBLES`, a line a fault."""
    if isinstance(error, Faulty):
        lines = [without_path(fault) for fault in error.faults[:4]]
        more = len(error.faults) - len(lines)
        text = "; ".join([*lines, *([f"and {more} more"] if more else [])])
        return f"{STILL}: {text}" if isinstance(error, StillFaulty) else text
    if isinstance(error, ScheduleError):
        return f"the tasks can't be put in order like that: {error}"
    if isinstance(error, NothingThere):  # nothing was to be saved
        return error.reason
    return str(error)


def bug_text(error: BaseException) -> str:
    """What is said of what must not have happened."""
    return f"a bug in the planner ({type(error).__name__}: {error}); set PLANNER_TRACEBACK=1 to see where"
