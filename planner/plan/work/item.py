"""One task of the list, as it stands."""

from datetime import date
from typing import Literal, NamedTuple

from planner.plan.answers.basis_words import BasisChange
from planner.plan.answers.flagging import Flag
from planner.plan.answers.stages import JudgedStage
from planner.plan.work.measured_twice import OnceMeasured
from planner.plan.work.parts import NeededPart
from planner.project.models.work import Task
from planner.tasks.kind import EVERY_STOP, StandingTask

State = Literal["ready", "waiting", "done", "look again", "dropped"]


class Due(NamedTuple):
    """When one task is due next. `answer` says how that stands today, `says` in words for people."""

    answer: Literal["not yet", "overdue", "not known"]
    says: str
    day: date | None = None
    at: float | None = None  # m on the odometer
    needs: tuple[str, ...] = ()


class Item(NamedTuple):
    """One task of the list, as it stands. `at` is the place of its record in the file, if it has one.

    `waits` are the tasks that it waits on, `holds` the unsigned hold points further back, `lacks` the parts that are
    not there; `why` is the reason to look again, in words, and `moved` what of it moved under its tick. `stops` are
    those that stand against a hold point which guards them, `not_known` those that nobody can judge yet; `once` is
    what it rests on and was measured only once, `undecided` the questions whose decision is to be looked at first.
    """

    id: str
    title: str
    phase: str
    origin: Literal["standing", "flag", "change", "stage", "own"]
    how: str = ""
    caution: str = ""
    hours: float | None = None
    after: tuple[str, ...] = ()
    axle: str = ""
    hold: bool = False
    task: StandingTask | None = None
    flag: Flag | None = None
    stage: JudgedStage | None = None  # the stage of the build that it stands before
    change: int | None = None  # the place in the file of the change to the truck that it belongs to
    step: str = ""  # what of that change it is; the work itself where it is empty
    before: tuple[str, ...] = ()  # tasks of the standing list that wait on it
    unmeasured: tuple[str, ...] = ()  # entries that the change left to be measured again
    record: Task | None = None
    at: int | None = None
    parts: tuple[NeededPart, ...] = ()
    state: State = "ready"
    waits: tuple[str, ...] = ()
    holds: tuple[str, ...] = ()
    why: str = ""
    moved: tuple[BasisChange, ...] = ()
    due: Due | None = None  # when one that comes again is due next
    stops: tuple[Flag, ...] = ()
    not_known: tuple[Flag, ...] = ()
    once: tuple[OnceMeasured, ...] = ()
    undecided: tuple[str, ...] = ()
    short: str = ""  # as short as it can be said, for the wall

    @property
    def lacks(self) -> tuple[NeededPart, ...]:
        return tuple(need for need in self.parts if not need.there)

    @property
    def guards(self) -> tuple[str, ...]:
        """The rules that it lets no stop of pass, by the beginnings of their names."""
        return EVERY_STOP if self.stage is not None else self.task.guards if self.task is not None else ()

    @property
    def closed(self) -> bool:
        """Whether nothing waits for it any more."""
        return self.state in ("done", "dropped")
