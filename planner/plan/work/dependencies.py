"""Ids of the task list, and what waits on what: ids resolved, hold points in front of all that lies behind them."""

from collections.abc import Iterable, Iterator, Mapping
from functools import cache

from planner.plan.answers.stages import is_over
from planner.plan.truck.project import OpenProject
from planner.plan.work.item import Item
from planner.plan.work.schedule_error import NoSuchJob
from planner.project.staged_truck import StagedTruck, stages
from planner.quantities.text import clean, normal_name
from planner.tasks.kind import PHASES, StandingTask
from planner.tasks.sequence import id_at, standing

FOR_FLAGS = "flag."

FOR_CHANGES = "change."

FOR_STAGES = "stage."

OWN = "own."

READY_TO_ROLL = "check.sign"  # waits on the changes to the truck

SIGN_OFF = "decide.sign"  # waits on what flags ask for: every stop cleared, every caution settled


def standing_task_of(id_: str) -> tuple[StandingTask, str] | None:
    """The standing task, and the axle, that an id belongs to, whether it applies or not."""
    return _standing_ids().get(id_)


@cache
def _standing_ids() -> dict[str, tuple[StandingTask, str]]:
    return {
        id_at(task, axle): (task, axle)
        for task in standing()
        for axle in (("",) if task.per == "truck" else ("front", "rear"))
    }


def own_id(title: str, taken: Iterable[str], before: str = OWN) -> str:
    """An id for a task of the person's own, made of its title: `own.paint_the_wheels`."""
    words = "".join(mark if mark.isascii() and mark.isalnum() else " " for mark in title.lower()).split()
    stem = before + ("_".join(words)[:40].rstrip("_") or "task")
    names = set(taken)
    return next(name for name in (stem, *(f"{stem}_{n}" for n in range(2, len(names) + 3))) if name not in names)


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


_EARLY = ("make safe", "measure")  # whose hold points guard no plan


def with_dependencies(items: "Mapping[str, Item]") -> "dict[str, Item]":
    """The list with every wait an id that is in it; what a person's task of a phase must come behind is added."""
    ahead: dict[str, list[str]] = {}
    for one in items.values():
        for name in one.before:
            for later in (name, f"{name}.front", f"{name}.rear"):
                ahead.setdefault(later, []).append(one.id)
    first = {id_: one._replace(after=(*_resolved(one, items), *ahead.get(id_, ()))) for id_, one in items.items()}
    behind = holds_before(first)
    common: dict[str, set[str]] = {}
    for one in first.values():
        if one.origin == "standing":
            common[one.phase] = common.get(one.phase, behind[one.id]) & behind[one.id]
    plan = [(PHASES.index(one.phase), one.id) for one in first.values() if one.hold and one.phase not in _EARLY]
    for phase, holds in common.items():
        holds.update(hold for at, hold in plan if at < PHASES.index(phase))
    asked = tuple(one.id for one in first.values() if one.flag and one.flag.rule.severity != "note")
    rolls = PHASES.index(first[READY_TO_ROLL].phase) if READY_TO_ROLL in first else 0
    changes = tuple(one.id for one in first.values() if one.origin == "change" and PHASES.index(one.phase) <= rolls)
    for id_, one in first.items():
        more: Iterable[str] = ()
        if one.origin != "standing":
            more = sorted(common.get(one.phase, set()) - behind[id_])
        elif id_ == SIGN_OFF:
            more = asked
        elif id_ == READY_TO_ROLL:
            more = changes
        first[id_] = one._replace(after=tuple(dict.fromkeys((*one.after, *more))))
    return _closed_by_holds(first)


def _closed_by_holds(items: "dict[str, Item]") -> "dict[str, Item]":
    """What a person, or a change, adds to a phase is done before the hold point that closes it, or the next that does.

    But what itself comes behind that hold point.
    """
    closing = [one for one in items.values() if one.task is not None and one.task.closes]
    added: dict[str, list[str]] = {}
    for one in items.values():
        if one.origin in ("own", "change") and one.phase in PHASES:
            at = PHASES.index(one.phase)
            hold = next((each.id for each in closing if PHASES.index(each.phase) >= at), None)
            if hold is not None:
                added.setdefault(hold, []).append(one.id)
    for hold, several in added.items():
        behind = holds_before(items)
        more = [id_ for id_ in several if hold not in behind[id_]]
        items[hold] = items[hold]._replace(after=tuple(dict.fromkeys((*items[hold].after, *more))))
    return items


def in_order(items: "Mapping[str, Item]") -> "dict[str, Item]":
    """Each task behind all of its phase that it waits on, so that a list is gone through from the top; else as it was.

    What is done at both ends stays together.
    """
    both = {id_: one.task.id if one.task is not None else id_ for id_, one in items.items()}
    groups: dict[str, list[str]] = {}
    for id_, name in both.items():
        groups.setdefault(name, []).append(id_)
    ahead = {name: [both[earlier] for id_ in ids for earlier in items[id_].after] for name, ids in groups.items()}
    order: list[str] = []
    for phase in dict.fromkeys(one.phase for one in items.values()):
        seen = set[str]()
        for first in [name for name, ids in groups.items() if items[ids[0]].phase == phase]:
            waiting = [(first, False)]
            while waiting:
                name, ready = waiting.pop()
                if ready and items[groups[name][0]].phase == phase:
                    order += groups[name]
                elif not ready and name not in seen:
                    seen.add(name)
                    waiting += [(name, True), *((one, False) for one in reversed(ahead[name]))]
    return {id_: items[id_] for id_ in order}


def _resolved(one: "Item", items: "Mapping[str, Item]") -> Iterator[str]:
    """A wait on a task at both axles is a wait on each; one on a task that does not apply is none."""
    for name in one.after:
        if name in items:
            yield name
            continue
        ends = [end for axle in ("front", "rear") if (end := f"{name}.{axle}") in items]
        known = (
            ends
            or name.startswith((FOR_FLAGS, FOR_CHANGES, FOR_STAGES))
            or standing_task_of(name)
            or standing_task_of(f"{name}.front")
        )
        if not known:
            raise NoSuchJob(clean(one.id), clean(name))
        yield from ends


def all_before(id_: str, items: "Mapping[str, Item]") -> set[str]:
    """All that a task waits on, and what that waits on; what is not in the list waits on nothing."""
    found = set[str]()
    ahead = [id_]
    while ahead:
        one = items.get(ahead.pop())
        more = set(one.after) - found if one is not None else set[str]()
        found |= more
        ahead.extend(more)
    return found


def holds_before(items: "Mapping[str, Item]") -> dict[str, set[str]]:
    """For each task the hold points somewhere before it, signed or not."""
    followers: dict[str, list[str]] = {id_: [] for id_ in items}
    for id_, one in items.items():
        for earlier in one.after:
            followers[earlier].append(id_)
    behind: dict[str, set[str]] = {id_: set() for id_ in items}
    for hold in (one.id for one in items.values() if one.hold):
        ahead = [*followers[hold]]
        while ahead:
            id_ = ahead.pop()
            if hold not in behind[id_]:
                behind[id_].add(hold)
                ahead.extend(followers[id_])
    return behind


def open_before(one: "Item", items: "Mapping[str, Item]") -> Iterator[str]:
    """The tasks that it waits on; for one that was dropped, those that this one waited on."""
    ahead, seen = list(reversed(one.after)), set[str]()
    while ahead:
        id_ = ahead.pop()
        if id_ in seen:
            continue
        seen.add(id_)
        if items[id_].state == "dropped":
            ahead.extend(reversed(items[id_].after))
        elif not items[id_].closed:
            yield id_
