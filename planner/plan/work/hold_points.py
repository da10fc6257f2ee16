"""What stands against a hold point and against an order: stops that are raised, or too close to call.

No reason helps against them. A stop holds back the parts that it would make wrong, never those that cure it.
"""

from collections.abc import Iterable, Mapping, Sequence

from planner.plan.answers.flagging import STANDING, Flag, of_plan
from planner.plan.truck.project import OpenProject
from planner.plan.truck.recording import RefusedChange
from planner.plan.work.dependencies import standing_task_of
from planner.plan.work.item import Item
from planner.plan.work.parts import BOUGHT, NeededPart, matching_parts, part_name, planned_parts
from planner.project.models.work import Task
from planner.quantities.text import clean, normal_name
from planner.tasks.kind import StandingTask

# What a stop of these rules would make wrong, by what its part is called or is: all else is no worse for it.
MADE_WRONG = {
    "wheels": ("fit.", "wheel.", "brakes.", "tire.", "steering.", "loads."),
    "tires": ("fit.", "tire.", "stance.", "brakes.", "wheel.rim_", "wheel.bead_", "wheel.spacing_", "wheel.sidewalls_"),
    "gears": ("gearing.",),
}


def open_stops(found: Iterable[Flag], rules: Sequence[str]) -> tuple[Flag, ...]:
    """The stops of rules whose names begin so that are raised or too close to call."""
    return tuple(
        flag
        for flag in found
        if flag.rule.severity == "stop"
        and not of_plan(flag.rule)
        and flag.rule.name.startswith(tuple(rules))
        and flag.verdict.answer in STANDING
    )


def stops_against(found: Iterable[Flag], task: StandingTask | None) -> tuple[Flag, ...]:
    """The stops that stand against signing a hold point."""
    return open_stops(found, task.guards) if task is not None and task.guards else ()


def stops_in_words(stops: Sequence[Flag], at: str = "") -> str:
    """`rear: the barrel comes too near the brake (too close to call); ...`, without the place that is `at` hand."""
    said = (
        (f"{flag.where}: " if flag.where not in ("", at) else "")
        + flag.rule.notices
        + (f" ({flag.verdict.answer})" if flag.verdict.answer != "raised" else "")
        for flag in stops
    )
    return "; ".join(dict.fromkeys(said))


def why_not_sign(one: Item, items: Mapping[str, Item]) -> str:
    """What stands against signing a hold point, whatever reason is given; empty where nothing does."""
    if one.stops:
        return f"{clean(one.id)} cannot be signed while a stop stands: {stops_in_words(one.stops)}"
    again = _decisions_again(one, items) if one.task is not None and one.task.guards else []
    want = "wants" if len(again) == 1 else "want"
    return f"{clean(one.id)} cannot be signed while {', '.join(again)} {want} another look" if again else ""


def _decisions_again(one: Item, items: Mapping[str, Item]) -> list[str]:
    """The decisions somewhere before a task that are to be looked at again."""
    ahead, seen = [*one.after], dict[str, None]()
    while ahead:
        id_ = ahead.pop()
        if id_ not in seen:
            seen[id_] = None
            ahead.extend(items[id_].after)
    return [clean(id_) for id_ in items if id_ in seen and _again(items[id_])]


def _again(one: Item) -> bool:
    return one.state == "look again" and one.phase == "decide" and not one.hold


def can_be_wrong(need: NeededPart) -> list[str]:
    """What a part is of all that a stop can make wrong: wheels, tires, gears."""
    return [name for name in MADE_WRONG if matching_parts([need], (name,))]


def made_wrong_by(need: NeededPart, found: Iterable[Flag]) -> tuple[Flag, ...]:
    """The open stops by which a part would be ordered wrong."""
    rules = tuple(rule for name in can_be_wrong(need) for rule in MADE_WRONG[name])
    return open_stops(found, rules) if rules else ()


def refuse_over_stops(before: OpenProject, after: OpenProject, found: Sequence[Flag]) -> None:
    """Raises `RefusedChange` where a change signs a hold point, or orders a part, over a stop; `found` are after it."""
    was = dict(_signed(before))
    for id_, task in _signed(after):
        stops = stops_against(found, task)
        if stops and id_ not in was:
            raise RefusedChange(f"{clean(id_)} cannot be signed while a stop stands: {stops_in_words(stops)}")
    ordered = {part_name(part, at) for at, part in enumerate(before.project.parts) if part.state in BOUGHT}
    for need in planned_parts(after):
        stops = made_wrong_by(need, found) if need.part.state in BOUGHT and need.id not in ordered else ()
        if stops:
            raise RefusedChange(f"{clean(need.id)} would be ordered wrong while a stop stands: {stops_in_words(stops)}")


def _signed(opened: OpenProject) -> Iterable[tuple[str, StandingTask]]:
    """The hold points that are signed, by id."""
    for record in opened.project.tasks:
        task = guarding_task(record)
        if task is not None:
            yield normal_name(record.id or ""), task


def guarding_task(record: Task) -> StandingTask | None:
    """The hold point that a record signed, where it guards anything."""
    placed = standing_task_of(normal_name(record.id or "")) if record.state == "done" else None
    return placed[0] if placed is not None and placed[0].guards else None
