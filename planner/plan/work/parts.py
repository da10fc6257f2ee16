"""The parts that tasks need: which of the project's parts each name means, and whether they are there."""

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from planner.plan.truck.project import OpenProject
from planner.project.models.work import Part
from planner.tasks.kind import StandingTask

THERE = frozenset({"arrived", "fitted"})
BOUGHT = THERE | {"ordered"}

DAY = 86400.0  # s


class NeededPart(NamedTuple):
    """A part that a task needs, by its id in the project."""

    id: str
    part: Part

    @property
    def there(self) -> bool:
        return self.part.state in THERE

    @property
    def ordered(self) -> bool:
        return self.part.state in BOUGHT


def part_name(part: Part, at: int) -> str:
    """What a part is called: its id, or its place in the file where it has none."""
    return part.id or f"parts[{at}]"


def planned_parts(opened: OpenProject) -> list[NeededPart]:
    """The parts of what is planned: all but those that are for other fitments alone."""
    fitments = opened.project.fitments
    needs = []
    for at, part in enumerate(opened.project.parts):
        served = [name for name in part.used_for if name in fitments]
        if not served or len(served) < len(part.used_for) or set(served) & set(opened.planned):
            needs.append(NeededPart(part_name(part, at), part))
    return needs


def matching_parts(parts: Iterable[NeededPart], names: Sequence[str]) -> list[NeededPart]:
    """The parts that go by these names: `nuts` is also `nuts_left`."""
    return [need for need in parts if any(need.id == name or need.id.startswith(f"{name}_") for name in names)]


def needed_parts(parts: Sequence[NeededPart], id_: str, task: StandingTask | None) -> tuple[NeededPart, ...]:
    """The parts that a task needs: by its own names for them, or because the part says that it is for this task."""
    own = matching_parts(parts, task.parts) if task else []
    for need in parts:
        if need not in own and (id_ in need.part.used_for or (task is not None and task.id in need.part.used_for)):
            own.append(need)
    return tuple(own)


def lead_days(opened: OpenProject, part: Part) -> float | None:
    """Days from order to arrival: the part's own, or else the longest of the planned fitments that it is for."""
    if part.lead_time is not None:
        return float(part.lead_time.value) / DAY
    fitments = opened.project.fitments
    served = [fitments[name] for name in part.used_for if name in opened.planned and name in fitments]
    times = [float(one.lead_time.value) / DAY for one in served if one.lead_time is not None]
    return max(times, default=None)
