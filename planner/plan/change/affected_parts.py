"""Parts that were bought and that a change puts in question, each with the reason."""

from collections.abc import Collection, Iterable, Iterator, Mapping
from typing import NamedTuple

from planner.plan.answers.basis import basis_changes, changes_in_words
from planner.plan.change.flag_changes import FlagChange
from planner.plan.revisit.stale_records import StaleRecord
from planner.plan.revisit.tick_basis import tick_basis
from planner.plan.truck.project import OpenProject
from planner.plan.work.money import SPENT
from planner.plan.work.parts import matching_parts, part_name, planned_parts
from planner.plan.work.task_list import Work
from planner.project.diary_entries import KeyChange
from planner.project.models.work import Part
from planner.quantities.text import clean

ORDERED = "plan.ordered_part_rests_on_changed"

CHANGED = "it was ordered by values that have changed"

FEW = 3  # so many of them are named

_WORDS_ONLY = ("description", "price", "lead_time")  # of a fitment: no part is wrong for another price

_REMARKS = ("note", "title", "phase", "on", "because", "takes", "after", "recorded", "rested_on")  # of a task


class AffectedPart(NamedTuple):
    """A part that was ordered, or is here already, and why it may no longer be the right one."""

    id: str
    title: str
    state: str
    why: tuple[str, ...]


def affected_parts(
    before: OpenProject,
    after: OpenProject,
    moved: Iterable[KeyChange],
    flags: Iterable[FlagChange],
    again: Iterable[StaleRecord],
    listed: Work | None = None,
) -> list[AffectedPart]:
    """The parts bought for a fitment or a task that the change reaches, or by values that it moves.

    `listed` is the work as it stood before, by which it is told what an order rests on that nobody ticked.
    """
    reasons: dict[str, list[str]] = {}
    for key, _, now in moved:
        match key:
            case ("fitments", str(name), *below) if not (below and below[0] in _WORDS_ONLY):
                reasons.setdefault(name, []).append(".".join(map(str, below)) or "all of it")
            case ("tasks", int(), "state") if now != "dropped":
                continue  # work that goes on needs its parts as before
            case ("tasks", int(at), *below) if not (below and below[0] in _REMARKS):
                for opened in (before, after):
                    tasks = opened.project.tasks
                    reasons.setdefault(str(tasks[at].id) if at < len(tasks) else "", []).append("its task")
    why = {name: [f"{clean(name)} changes: {', '.join(dict.fromkeys(what))}"] for name, what in reasons.items()}
    left = frozenset(before.planned) - frozenset(after.planned)
    for record in again:
        if record.record == "task":
            task = after.project.tasks[record.at]
            why.setdefault(str(task.id), []).append(f"{record.name} wants another look")
    ordered = dict(_by_hand(before, after, listed)) if listed else {}
    for flag in flags:
        if flag.how == "up" and flag.now is not None and flag.rule.name == ORDERED:
            ordered[flag.now.where] = CHANGED
        if flag.how == "up" and flag.rule.severity == "stop" and flag.now is not None:
            for name in {place[0] for place in flag.now.places if place[0]}:
                why.setdefault(name, []).append(f"{flag.rule.name} stops {clean(name)}")
    asked = [_part(part, part_name(part, at), after, why, left, ordered) for at, part in enumerate(after.project.parts)]
    return [one for one in asked if one is not None]


def _by_hand(before: OpenProject, after: OpenProject, listed: Work) -> Iterator[tuple[str, str]]:
    """Parts that were written down as ordered without the task's tick, with what of their order's grounds moves.

    The grounds are what the tick would have kept, with the values before the change.
    """
    then = {need.id for need in planned_parts(before) if need.part.state in SPENT}
    bought = [need for need in planned_parts(after) if need.part.state in SPENT and need.id in then]
    for item in listed.items.values() if bought else ():
        if item.task is None or (item.record is not None and before.rested_on(item.record)):
            continue
        mine = matching_parts(bought, item.task.orders)
        gone = basis_changes(after, tick_basis(before, listed.items, item)) if mine else ()
        told = changes_in_words(gone[:FEW])
        more = f", and {len(gone) - FEW} more" if len(gone) > FEW else ""
        yield from ((clean(need.id), f"{CHANGED}: {told}{more}") for need in mine if gone)


def _part(
    part: Part,
    name: str,
    after: OpenProject,
    why: Mapping[str, list[str]],
    left: Collection[str],
    ordered: Mapping[str, str],
) -> AffectedPart | None:
    """`why` are reasons by what the part is used for, `left` the fitments that are no longer planned."""
    if part.state not in SPENT:
        return None
    # One that is bought for what is planned now as well stays right when the other is no longer planned.
    serves = any(use in after.planned for use in part.used_for)
    found = [f"{clean(use)} is no longer planned" for use in part.used_for if use in left and not serves]
    found += [reason for use in part.used_for for reason in why.get(use, ())]
    found += [ordered[clean(name)]] if clean(name) in ordered else []
    if not found:
        return None
    return AffectedPart(clean(name), clean(part.title or name), part.state, tuple(dict.fromkeys(found)))
