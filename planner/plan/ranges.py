"""What a task means at its place: the spots behind its names, whether it applies, and the range of what it records."""

from collections.abc import Iterable

from planner.plan.opening import OpenProject
from planner.project.facts import AXES
from planner.quantities.show import show
from planner.tasks.acceptable import Ends, Range, acceptable
from planner.tasks.kind import Record, StandingTask
from planner.tasks.sequence import applies
from planner.worksheet.outcome import Known, Spot, Waiting

_ENDS = ("front", "rear")


def spots_of(opened: OpenProject, name: str, axle: str = "") -> list[Spot]:
    """Every spot that a name such as `planned_backspace` stands for, at an axle or the whole truck, as planned."""
    edge = opened.sheet.catalog.edge(name)
    wanted: dict[str, tuple[str, ...]] = {"fitment": opened.planned, "axle": (axle,) if axle else _ENDS}
    if edge.pin:
        wanted[edge.pin[0]] = (edge.pin[1],)
    return [
        spot
        for spot in opened.sheet.spots(edge.node)
        if all(
            not member or axis not in wanted or member in wanted[axis]
            for axis, member in zip(AXES, spot.place, strict=True)
        )
    ]


def here(opened: OpenProject, task: StandingTask, axle: str) -> bool:
    """Whether a task applies: for any of the fitments that are planned, and for the whole truck at any axle."""

    def at(fitment: str, end: str) -> bool:
        return applies(task, lambda node: opened.sheet.value(opened.spot(node, fitment=fitment, axle=end)))

    return not task.applies or any(
        at(fitment, end) for fitment in opened.planned for end in ([axle] if axle else _ENDS)
    )


def range_of(opened: OpenProject, record: Record, axle: str) -> Range:
    """What may be recorded; where several places count, what is good at each of them."""

    def ends(node: str) -> Ends | None:
        outcomes = [opened.sheet.outcome(spot) for spot in spots_of(opened, node, axle)]
        known = [one for one in outcomes if isinstance(one, Known)]
        if not outcomes or len(known) < len(outcomes):
            return None
        bounded = [(one.low, one.high) if one.low <= one.high else (one.value, one.value) for one in known]
        return min(low for low, _ in bounded), max(high for _, high in bounded)

    return acceptable(record, ends)


def missing_keys(opened: OpenProject, names: Iterable[str], axle: str) -> tuple[str, ...]:
    """The entries to make before a range is known."""
    keys: dict[str, None] = {}
    for name in names:
        for spot in spots_of(opened, name, axle):
            outcome = opened.sheet.outcome(spot)
            for need in (*outcome.needs, *outcome.either) if isinstance(outcome, Waiting) else ():
                keys.update(dict.fromkeys(map(opened.spoken, opened.keys_needed(need))))
    return tuple(keys) or tuple(names)


def range_text(opened: OpenProject, record: Record, axle: str) -> str:
    """What is acceptable, in the person's units, its ends rounded inward; empty where there is no range."""
    found = range_of(opened, record, axle)
    if found.missing:
        return "not known yet: enter " + ", ".join(missing_keys(opened, found.missing, axle))
    least, most = found.sure
    low = None if least is None else show(least, record.kind.smallest(), opened.style)
    high = None if most is None else show(most, record.kind.greatest(), opened.style)
    if low and high:
        return low if low == high else f"{low} to {high}"
    return f"at least {low}" if low else f"at most {high}" if high else ""
