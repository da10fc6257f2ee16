"""What has moved under a record since it was made; where nobody can say it, the record is to be looked at once."""

from planner.plan.answers.basis import UNKNOWN_BASIS, BasisChange, basis_changes
from planner.plan.answers.mock_up_basis import mock_up_changes
from planner.plan.truck.project import OpenProject
from planner.plan.work.dependencies import FOR_CHANGES, FOR_FLAGS, standing_task_of
from planner.project.models.measurements import Reading
from planner.project.models.work import PrintedSheet, RestedOn, Task
from planner.quantities.text import normal_name


def record_changes(opened: OpenProject, record: RestedOn) -> tuple[BasisChange, ...]:
    """What moved; of a record without its diary, or written by hand, the one thing that is not known."""
    if isinstance(record, Reading):
        return mock_up_changes(opened, record) if record.fitment and record.value is not None else ()
    rested_on = opened.rested_on(record)
    if rested_on is not None:
        return basis_changes(opened, rested_on)
    marked = isinstance(record, Task) and record.state == "look again"  # it is looked at in any case
    return (UNKNOWN_BASIS,) if not marked and (record.rests or rests_on_something(record)) else ()


def rests_on_something(record: RestedOn) -> bool:
    """Whether a record of its kind can rest on anything; a person's own task and a change slip do not."""
    if isinstance(record, Task):
        id_ = normal_name(record.id or "")
        task = standing_task_of(id_)
        return id_.startswith((FOR_FLAGS, FOR_CHANGES)) or (task is not None and task[0].rests_on_something)
    return not (isinstance(record, PrintedSheet) and record.kind == "slip")
