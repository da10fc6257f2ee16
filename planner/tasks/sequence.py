"""The standing sequence as a whole: every task there is, found by looking, and laid out over a truck's axles."""

from collections.abc import Callable, Iterable, Sequence
from functools import cache
from importlib import import_module
from pathlib import Path
from typing import NamedTuple

from planner.tasks.kind import PHASES, StandingTask

ValueOf = Callable[[str], object]  # a node's value at the task's place: None while it is not known
Wanted = Callable[[StandingTask, str], bool]


class Placed(NamedTuple):
    """A task where it is done: `axle` is empty for the whole truck; `id` is what its records are kept under."""

    task: StandingTask
    axle: str
    id: str
    after: tuple[str, ...]


@cache
def standing() -> tuple[StandingTask, ...]:
    """Every task declared in this room (the `TASKS` of its modules), by phase, then as written."""
    here = Path(__file__).parent
    found: list[StandingTask] = []
    for path in sorted(here.glob("*.py")):
        if path.stem != "__init__":
            found.extend(getattr(import_module(f"planner.tasks.{path.stem}"), "TASKS", ()))
    return tuple(sorted(found, key=lambda task: PHASES.index(task.phase)))


def id_at(task: StandingTask, axle: str) -> str:
    """The id of a task at an axle, or of one for the whole truck where `axle` is empty."""
    return f"{task.id}.{axle}" if axle else task.id


def applies(task: StandingTask, value_of: ValueOf) -> bool:
    """Whether all of a task's conditions hold; `value_of` gives a node's bare value at the task's place, or None."""
    for only in task.applies:
        value, other = value_of(only.reads), value_of(only.other) if only.other else None
        if value is None or (only.other and other is None):
            holds = only.unknown
        elif only.other:
            holds = _differ(value, other)
        else:
            holds = _written(value) in only.values
        if not holds:
            return False
    return True


def _written(value: object) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return str(value).strip().lower()


def _differ(one: object, other: object) -> bool:
    if isinstance(one, (int, float)) and isinstance(other, (int, float)):
        return abs(one - other) > 1e-9 * max(abs(one), abs(other))
    return _written(one) != _written(other)


def placed(
    tasks: Sequence[StandingTask],
    axles: Iterable[str] = ("front", "rear"),
    steered: Iterable[str] = ("front",),
    wanted: Wanted = lambda task, axle: True,
) -> tuple[Placed, ...]:
    """Each task at each place where it is `wanted`, with the ids that it waits on.

    A task at an axle waits on another one's place at the same axle, and a task for the whole truck on all of them.
    What waits on a task that is not wanted waits on whatever that one waited on, so nothing comes loose.
    """
    places = {
        task.id: {"truck": ("",), "axle": tuple(axles), "steered axle": tuple(steered)}[task.per] for task in tasks
    }
    by_id = {task.id: task for task in tasks}
    settled: dict[tuple[str, str], tuple[str, ...]] = {}

    def stands_for(task: StandingTask, axle: str) -> tuple[str, ...]:
        """The task itself, or what it waits on where it is left out."""
        key = (task.id, axle)
        if key not in settled:
            settled[key] = (id_at(task, axle),) if wanted(task, axle) else waits(task, axle)
        return settled[key]

    def waits(task: StandingTask, axle: str) -> tuple[str, ...]:
        found: list[str] = []
        for earlier in task.after:
            there = places[earlier]
            # Steering has no place at an axle that does not steer: the work there waits for the end that has it.
            for place in (axle,) if axle in there else there:
                found.extend(stands_for(by_id[earlier], place))
        return tuple(dict.fromkeys(found))

    return tuple(
        Placed(task, axle, id_at(task, axle), waits(task, axle))
        for task in tasks
        for axle in places[task.id]
        if wanted(task, axle)
    )


@cache
def asked_for(fact: str, found: bool) -> tuple[StandingTask, ...]:
    """The tasks that settle a fact, for the truck as `found` or for a candidate, the particular ones first."""
    names = (f"{'found' if found else 'planned'}_{fact}", fact)
    return tuple(task for name in names for task in standing() if name in task.asks)


def asked_by(rule: str) -> tuple[StandingTask, ...]:
    """The tasks that a rule's flag asks for; with none of them the flag's own cure is the task."""
    return tuple(task for task in standing() if rule in task.for_rules)
