"""The stages of the build by the ids of their hold points, and which of them are signed."""

from collections.abc import Iterable, Iterator, Sequence

from planner.plan.answers.flagging import Flag
from planner.plan.answers.stages import JudgedStage, is_over, judged_stages
from planner.plan.truck.project import OpenProject
from planner.plan.work.dependencies import FOR_STAGES, own_id
from planner.project.staged_truck import StagedTruck, stages
from planner.quantities.text import normal_name


def stage_ids(opened: OpenProject) -> dict[str, StagedTruck]:
    """Every stage by the id of its hold point, by its name for good."""
    found: dict[str, StagedTruck] = {}
    for one in stages(opened.project):
        found[own_id(one.name, found, FOR_STAGES)] = one
    return found


def newly_signed_stages(
    opened: OpenProject, before: Iterable[str], found: Sequence[Flag]
) -> Iterator[tuple[str, JudgedStage]]:
    """The stages that are signed and were not before, with what is told of each."""
    signed = {normal_name(record.id or "") for record in opened.project.tasks if record.state == "done"}
    now = sorted(id_ for id_ in signed.difference(before) if id_.startswith(FOR_STAGES))
    if now:
        judged = dict(zip(stage_ids(opened), judged_stages(opened, found), strict=True))
        yield from ((id_, judged[id_]) for id_ in now if id_ in judged)


def signed_stage_is_over(opened: OpenProject, id_: str) -> bool:
    """Whether a record is the signature of a stage that the truck has gone past: nothing moves under it any more."""
    id_ = normal_name(id_)
    stage = stage_ids(opened).get(id_) if id_.startswith(FOR_STAGES) else None
    return stage is not None and is_over(opened, stage)
