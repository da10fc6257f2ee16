"""While a fault stands in a project nothing is written but its cure: what leaves the whole file without one."""

from datetime import date
from functools import partial

from planner.plan.answers.open_project import work_out
from planner.plan.change.refused_over_stops import refuse_over_stops
from planner.plan.truck.project import OpenProject
from planner.project.diary import Committed, bring_back, redo, undo
from planner.project.faults import Fault, Faulty, StillFaulty, without_path
from planner.project.lines import line_of
from planner.project.reading import understand
from planner.project.source import ProjectText, parse


def refuse_half_cure(before: OpenProject, after: OpenProject) -> None:
    """Raises `Faulty` with the faults that there would be; `StillFaulty` where there are some already.

    Those are told with the lines of the file as it stands.
    """
    left = after.opened.faults
    if left and before.opened.faults:
        raise still_faulty(before.opened.source, left)
    if left:
        raise Faulty(after.opened.source.path, left)


def still_faulty(source: ProjectText, left: tuple[Fault, ...]) -> StillFaulty:
    """The faults that would be left, with the lines of the file as it stands."""
    lines = source.lines
    return StillFaulty(source.path, tuple(fault._replace(line=line_of(lines, fault.key)) for fault in left))


def take_back_change(source: ProjectText, because: str = "") -> Committed:
    """As `undo`, but refused where `refuse_return` refuses it; raises `NotSaved` or as that does."""
    return undo(source, because, judge=partial(refuse_return, source))


def make_change_again(source: ProjectText, because: str = "") -> Committed:
    """As `redo`, but refused where `refuse_return` refuses it; raises `NotSaved` or as that does."""
    return redo(source, because, judge=partial(refuse_return, source))


def bring_state_back(source: ProjectText, number: int, because: str = "") -> Committed:
    """As `bring_back`, but refused where `refuse_return` refuses it; raises `NotSaved` or as that does."""
    return bring_back(source, number, because, judge=partial(refuse_return, source))


def refuse_return(source: ProjectText, text: str) -> None:
    """Raises `StillFaulty` where a file has faults, and the text that it is to be given has some too.

    One of which nothing can be read is given to no file: `Faulty`. Nor does what was signed or ordered come back over
    a stop: `RefusedChange`.
    """
    try:
        after = _worked_out(parse(source.path, text.encode("utf-8")))
    except Faulty as faulty:
        said = f"not changed: the planner couldn't read the text that would be left: {without_path(faulty.faults[0])}"
        raise Faulty(source.path, (Fault(said),)) from None
    try:
        before = _worked_out(source)
    except Faulty as faulty:  # of a newer format, say
        if after.opened.faults:
            raise StillFaulty(source.path, faulty.faults) from None
        return
    if after.opened.faults and before.opened.faults:
        raise StillFaulty(source.path, after.opened.faults)
    refuse_over_stops(before, after)


def _worked_out(source: ProjectText) -> OpenProject:
    """A text as a project, with every fault in it, those that only show when it is worked out as well."""
    return work_out(understand(source), date.today())
