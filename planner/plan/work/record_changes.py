"""What has moved under a record since it was made; where nobody can say it, the record is to be looked at once."""

from collections.abc import Mapping

from planner.plan.answers.basis import answer_changes, basis_changes, basis_now, other_chosen, rules_in
from planner.plan.answers.basis_words import UNKNOWN_BASIS, BasisChange
from planner.plan.answers.mock_up_basis import mock_up_changes
from planner.plan.truck.project import OpenProject
from planner.plan.work.decisions import WHICH
from planner.plan.work.dependencies import FOR_CHANGES, FOR_FLAGS, FOR_STAGES, signed_stage_is_over, standing_task_of
from planner.plan.work.order_basis import OF_PART, ordered_as, rests_by, work_changes
from planner.plan.work.parts import NeededPart
from planner.project.models.measurements import Reading
from planner.project.models.work import Acceptance, Decision, Part, PrintedSheet, RestedOn, Task
from planner.quantities.text import normal_name, same_name

NOT_CHOSEN = "none"


def record_changes(opened: OpenProject, record: RestedOn, part: NeededPart | None = None) -> tuple[BasisChange, ...]:
    """What moved; of a record without its diary, or written by hand, the one thing that is not known.

    With a `part`, what moved of that by which it alone was ordered.
    """
    if isinstance(record, Task) and signed_stage_is_over(opened, record.id or ""):
        return ()
    if isinstance(record, Reading):
        return mock_up_changes(opened, record) if record.fitment and record.value is not None else ()
    rested_on = opened.rested_on(record)
    if rested_on is not None:
        return _moved(opened, record, rested_on, part)
    marked = isinstance(record, Task) and record.state == "look again"  # it is looked at in any case
    return (UNKNOWN_BASIS,) if not marked and (record.rests or rests_on_something(record)) else ()


def _moved(
    opened: OpenProject, record: RestedOn, rested_on: Mapping[str, str], part: NeededPart | None
) -> tuple[BasisChange, ...]:
    if isinstance(record, Acceptance):
        answers = rules_in(opened, rested_on)
        if answers and not any(now.startswith("raised") for now in basis_now(opened, answers).values()):
            return ()  # what it took on is not there at present
        return answer_changes(opened, rested_on)
    if isinstance(record, Part):
        return work_changes(opened, rested_on)
    if isinstance(record, Decision):
        return (*_chosen_otherwise(opened, record), *basis_changes(opened, rested_on))
    id_ = normal_name(record.id or "") if isinstance(record, Task) else ""
    if id_.startswith(FOR_FLAGS):
        return answer_changes(opened, rested_on)
    task = standing_task_of(id_)
    if task is not None and task[0].orders:
        by = rests_by(opened, task[0].orders if part is None else ordered_as(part))
        if part is not None:
            by |= {OF_PART + part.id}
        others = OF_PART if part is None else ()
        rested_on = {name: then for name, then in rested_on.items() if name in by or name.startswith(others)}
    return work_changes(opened, rested_on)


def _chosen_otherwise(opened: OpenProject, one: Decision) -> tuple[BasisChange, ...]:
    """That another candidate is planned than the one that was decided on."""
    planned = opened.project.plan.chosen or NOT_CHOSEN
    if one.question != WHICH or not one.chosen or same_name(one.chosen, planned):
        return ()
    return (other_chosen(one.chosen, planned),)


def rests_on_something(record: RestedOn) -> bool:
    """Whether a record of its kind can rest on anything; a person's own task and a change slip do not."""
    if isinstance(record, Task):
        id_ = normal_name(record.id or "")
        task = standing_task_of(id_)
        return id_.startswith((FOR_FLAGS, FOR_CHANGES, FOR_STAGES)) or (task is not None and task[0].rests_on_something)
    return not (isinstance(record, PrintedSheet) and record.kind == "slip")
