"""What no change may bring in, by whatever way it comes: a signature over a stop, a part that a stop makes wrong."""

from collections import Counter
from collections.abc import Iterable, Iterator

from planner.plan.answers.flagging import flags
from planner.plan.truck.project import OpenProject
from planner.plan.truck.recording import RefusedChange
from planner.plan.work.dependencies import FOR_STAGES
from planner.plan.work.hold_points import guarding_task, ordered_wrong, why_not_sign
from planner.plan.work.parts import BOUGHT, planned_parts
from planner.plan.work.schedule_error import ScheduleError
from planner.plan.work.task_list import work
from planner.project.models.work import Part, Task
from planner.quantities.text import clean, normal_name


def refuse_over_stops(before: OpenProject, after: OpenProject) -> None:
    """Raises `RefusedChange` where a hold point is signed, or a part ordered, over a stop; what stood so before stays.

    Nor is one signed while a decision behind it needs another look, or without a word of who looked.
    """
    was = dict(_signed(before))
    signed = {id_: record for id_, record in _signed(after) if id_ not in was}
    new = Counter(_ordered(after)) - Counter(_ordered(before))
    bought = [need for need in planned_parts(after) if need.ordered and _known_by(need.part) in new]
    if not signed and not bought:
        return
    found = flags(after)
    for need in bought:
        if wrong := ordered_wrong(need, found):
            raise RefusedChange(wrong)
    if not signed:
        return
    try:
        items = work(after, found).items
    except ScheduleError as stuck:
        raise RefusedChange(str(stuck)) from None
    for id_, record in signed.items():
        if id_ in items and (stopped := why_not_sign(items[id_], items)):
            raise RefusedChange(stopped)
        if not record.because:
            raise RefusedChange(f"{clean(id_)} is a hold point: whoever looked has to sign it", "signature")


def _signed(opened: OpenProject) -> Iterable[tuple[str, Task]]:
    """The records that sign a hold point, by id."""
    for record in opened.project.tasks:
        id_ = normal_name(record.id or "")
        if guarding_task(record) is not None or (record.state == "done" and id_.startswith(FOR_STAGES)):
            yield id_, record


def _ordered(opened: OpenProject) -> Iterator[str]:
    """What the parts that are ordered are known by."""
    return (_known_by(part) for part in opened.project.parts if part.state in BOUGHT)


def _known_by(part: Part) -> str:
    """Its id, or what it is called: its place in the file is another once one before it is taken out."""
    return normal_name(part.id or part.title or part.kind or "")
