"""A project with its mock-up readings held against what is predicted, and what they put in doubt."""

from collections.abc import Mapping

from planner.plan.answers.mock_up_basis import moved_under
from planner.plan.fit.brake_gaps import held_brake_gaps
from planner.plan.fit.mock_ups import held_mock_ups
from planner.plan.truck.held_mock_up import Moved
from planner.plan.truck.project import OpenProject, PlannedObstacle
from planner.project.models.measurements import Reading


def mocked_up(planned: OpenProject) -> OpenProject:
    """The project with its mock-up readings; an obstacle that one contradicts is known for no candidate."""

    def stale(reading: Reading) -> Moved:
        return moved_under(planned, reading)

    held, gaps = held_mock_ups(planned, stale), held_brake_gaps(planned, stale)
    lost = {one.label: f"readings[{one.taken.at}].value" for one in held if one.answer == "differs"}

    def doubted(obstacles: Mapping[str, PlannedObstacle]) -> dict[str, PlannedObstacle]:
        return {
            label: one._replace(fault=lost[label]) if label in lost and not one.fault else one
            for label, one in obstacles.items()
        }

    against: dict[str, tuple[str, ...]] = {key: (planned.obstacles[label].key_of("at"),) for label, key in lost.items()}
    against |= {f"readings[{one.taken.at}].value": one.rests_on[:1] for one in gaps if one.answer == "differs"}
    return planned._replace(
        mock_ups=(*held, *gaps),
        at_odds={**planned.at_odds, **against},
        obstacles=doubted(planned.obstacles),
        moved_obstacles={name: doubted(several) for name, several in planned.moved_obstacles.items()},
    )
