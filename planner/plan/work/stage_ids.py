"""The stages of the build by the ids of their hold points, and which of them are signed."""

from planner.plan.answers.stages import is_over
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


def signed_stage_is_over(opened: OpenProject, id_: str) -> bool:
    """Whether a record is the signature of a stage that the truck has gone past: nothing moves under it any more."""
    id_ = normal_name(id_)
    stage = stage_ids(opened).get(id_) if id_.startswith(FOR_STAGES) else None
    return stage is not None and is_over(opened, stage)
