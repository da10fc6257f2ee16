"""One task of the list, as it stands."""

from typing import Literal, NamedTuple

from planner.plan.answers.basis_words import BasisChange
from planner.plan.answers.flagging import Flag
from planner.plan.work.parts import NeededPart
from planner.project.models.work import Task
from planner.tasks.kind import StandingTask

State = Literal["ready", "waiting", "done", "look again", "dropped"]


class Item(NamedTuple):
    """One task of the list, as it stands. `at` is the place of its record in the file, if it has one.

    `waits` are the tasks that it waits on, `holds` the unsigned hold points further back, `lacks` the parts that are
    not there; `why` is the reason to look again, in words, and `moved` what of it moved under its tick. `stops` are
    those that stand against a hold point which guards them, `not_known` those that nobody can judge yet.
    """

    id: str
    title: str
    phase: str
    origin: Literal["standing", "flag", "change", "own"]
    how: str = ""
    caution: str = ""
    hours: float | None = None
    after: tuple[str, ...] = ()
    axle: str = ""
    hold: bool = False
    task: StandingTask | None = None
    flag: Flag | None = None
    change: int | None = None  # the place in the file of the change to the truck that it makes
    record: Task | None = None
    at: int | None = None
    parts: tuple[NeededPart, ...] = ()
    state: State = "ready"
    waits: tuple[str, ...] = ()
    holds: tuple[str, ...] = ()
    why: str = ""
    moved: tuple[BasisChange, ...] = ()
    stops: tuple[Flag, ...] = ()
    not_known: tuple[Flag, ...] = ()

    @property
    def lacks(self) -> tuple[NeededPart, ...]:
        return tuple(need for need in self.parts if not need.there)

    @property
    def closed(self) -> bool:
        """Whether nothing waits for it any more."""
        return self.state in ("done", "dropped")
