"""The truck at a stage of the build: a fitment's wheels in front, another's at the rear, and the changes done by then.

A stage says what is new: what it leaves out is as in the stage above it, in the first one as found.
"""

from collections.abc import Collection, Iterable, Mapping
from typing import NamedTuple

from planner.project.change_checks import change_title
from planner.project.change_questions import touched
from planner.project.lines import Key
from planner.project.mock_ups import obstacle_meant
from planner.project.models.fitments import Fitment
from planner.project.models.measurements import Reading
from planner.project.models.project import Project
from planner.project.planned_truck import PlannedTruck
from planner.quantities.text import normal_name

STAGES = "plan.stages"
FOUND, DONE, COUNTED = "found", "done", ("decided", "done")


class StagedTruck(NamedTuple):
    """One stage: the fitment at each end and of the spare, and the changes by their places in the file.

    `undecided` are those that it counts on and that nobody decided, by their places: what they would set is not known.
    What is done is on the truck, whether or not the stage names it.
    """

    number: int
    name: str
    front: str
    rear: str
    spare: str
    changes: tuple[int, ...]
    undecided: tuple[int, ...]
    driven: bool

    @property
    def key(self) -> str:
        """Its key in the file."""
        return f"{STAGES}[{self.number}]"

    def lender(self, place: tuple[str, ...]) -> tuple[str, ...] | None:
        """Where the entries of the stage's wheels are made: at the fitment that each end has, and the spare's."""
        fitment, axle, *rest = place
        if fitment != self.name:
            return None
        return {"front": self.front, "rear": self.rear}.get(axle, self.spare), axle, *rest


def stages(project: Project) -> list[StagedTruck]:
    """Every stage in order, with what it leaves out."""
    found: list[StagedTruck] = []
    front = rear = spare = FOUND
    names: list[str] = []
    for number, stage in enumerate(project.plan.stages):
        front, rear, spare = stage.front or front, stage.rear or rear, stage.spare or spare
        names += stage.changes
        listed = [at for at, one in enumerate(project.changes) if one.name in names]
        done = {at for at, one in enumerate(project.changes) if one.state == DONE}
        counted = {at for at in listed if project.changes[at].state in COUNTED}
        found.append(
            StagedTruck(
                number,
                _own_name(project, stage.name or f"stage {number + 1}", number, [one.name for one in found]),
                front,
                rear,
                spare,
                tuple(sorted(counted | done)),
                tuple(at for at in listed if at not in counted),
                stage.driven is not False,
            )
        )
    return found


def stage_texts(project: Project) -> dict[str, str]:
    """What counts at each stage, by the key at which it is entered, whether it is or follows from the stage above."""
    found: dict[str, str] = {}
    for one in stages(project):
        titles = [change_title(at, project.changes[at]) for at in (*one.changes, *one.undecided)]
        told = {"front": one.front, "rear": one.rear, "spare": one.spare, "changes": ", ".join(titles) or "none"}
        found |= {f"{one.key}.{name}": text for name, text in told.items()}
    return found


def _own_name(project: Project, name: str, number: int, above: Iterable[str]) -> str:
    taken = {normal_name(one) for one in (*project.fitments, FOUND, *above)}
    while normal_name(name) in taken:
        name = f"stage {number + 1}: {name}"
    return name


def as_one_fitment(project: Project, stage: StagedTruck) -> Project:
    """The project with the stage as a fitment of its own, the chosen one, with which its changes alone go."""
    changes = [
        one.model_copy(update={"with_fitments": [stage.name if at in stage.changes else FOUND]})
        for at, one in enumerate(project.changes)
    ]
    own = Fitment.model_construct(description=f"front {stage.front}, rear {stage.rear}, spare {stage.spare}")
    return project.model_copy(
        update={
            "fitments": {**project.fitments, stage.name: own},
            "changes": changes,
            "readings": [_of_the_stage(project, stage, one) for one in project.readings],
            "plan": project.plan.model_copy(update={"chosen": stage.name, "stages": []}),
        }
    )


def _of_the_stage(project: Project, stage: StagedTruck, reading: Reading) -> Reading:
    """A mock-up reading of the wheel that an end has at the stage, as one of the stage; any other as it is."""
    meant = None if reading.fitment is None else obstacle_meant(project, reading.of or "")
    axle = None if meant is None else project.obstacles[meant].axle
    on = {"front": stage.front, "rear": stage.rear}.get(axle or "")
    return reading if on is None or on != reading.fitment else reading.model_copy(update={"fitment": stage.name})


def without_undecided(
    project: Project, stage: StagedTruck, trucks: Mapping[str, PlannedTruck]
) -> dict[str, PlannedTruck]:
    """The trucks, where at the stage nothing is known of what an undecided change would set or move."""
    barred: dict[Key, Key] = {}
    for at in stage.undecided:
        barred |= dict.fromkeys(touched(project, at), ("changes", at, "state"))
    if not barred:
        return dict(trucks)
    own = trucks.get(stage.name, PlannedTruck(project, {}, stage.changes))
    over = {key: one for key, one in own.set_over.items() if key not in barred}
    return {**trucks, stage.name: own._replace(set_over=over, barred={**own.barred, **barred})}


def stage_fault(stage: StagedTruck, not_known: Collection[Key]) -> Key | None:
    """What was entered of a stage, or of one above it on which it rests, and is not known."""
    own = ("plan", "stages")
    for key in sorted(not_known, key=str):
        if key == own[: len(key)] or (key[:2] == own and isinstance(key[2], int) and key[2] <= stage.number):
            return key
    return None
