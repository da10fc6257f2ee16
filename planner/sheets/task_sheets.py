"""What the sheets of tasks have in common: which tasks, by phase, both ends of one together, what they rest on."""

from collections.abc import Iterable, Iterator

from planner.plan.truck.project import OpenProject
from planner.plan.work.item import Item
from planner.plan.work.task_values import spots_shown
from planner.quantities.text import clean, cut
from planner.sheets.kind import CannotPrint, Subject
from planner.tasks.kind import PHASES
from planner.worksheet.outcome import Spot

OTHERS = "of your own"
MOST_TITLE = 102  # letters on the wall, of a task of one's own: three lines of the usual 34


def wanted_items(subject: Subject) -> list[Item]:
    """The tasks that are asked for; raises `CannotPrint` where there are none."""
    phase, open_only = subject.asked.phase, subject.asked.open_only
    if phase and phase not in (*PHASES, OTHERS):
        raise CannotPrint(f"there's no phase '{clean(phase)}': {', '.join(PHASES)}")
    items = [
        one
        for one in subject.work.items.values()
        if (not phase or (one.phase or OTHERS) == phase) and not (open_only and one.closed)
    ]
    if not items:
        raise CannotPrint("no task is left to print" + (f" in '{phase}'" if phase else ""))
    return items


def by_phase(items: Iterable[Item]) -> Iterator[tuple[str, list[Item]]]:
    for phase in (*PHASES, OTHERS):
        several = [one for one in items if (one.phase or OTHERS) == phase]
        if several:
            yield phase, several


def together(items: Iterable[Item]) -> Iterator[list[Item]]:
    """A task that is done at both axles stands once, with a box for each."""
    several: list[Item] = []
    for one in items:
        if several and not (one.task is not None and one.task is several[-1].task and one.axle):
            yield several
            several = []
        several.append(one)
    if several:
        yield several


def phase_name(phase: str) -> str:
    return phase[0].upper() + phase[1:]


def task_spots(opened: OpenProject, items: Iterable[Item]) -> Iterator[Spot]:
    """The values behind what is printed: ranges and torques."""
    yield from dict.fromkeys(spot for one in items for spot in spots_shown(opened, one))


def wall_title(one: Item) -> str:
    """A task as short as the wall says it, without its end."""
    title = one.short or (f"Fix: {one.title[:1].lower()}{one.title[1:]}" if one.flag else one.title)
    return cut(clean(title[:1].upper() + title[1:]), MOST_TITLE)
