"""Parts that were bought and that a change puts in question, each with the reason."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from typing import NamedTuple

from planner.plan.answers.basis_words import changes_in_words
from planner.plan.change.flag_changes import FlagChange
from planner.plan.revisit.stale_records import StaleRecord
from planner.plan.truck.project import OpenProject
from planner.plan.work.money import SPENT
from planner.plan.work.order_basis import order_basis, ordered_as, work_changes
from planner.plan.work.parts import NeededPart, part_name, planned_parts
from planner.project.diary_entries import KeyChange
from planner.quantities.text import clean

CHANGED = "it was ordered by values that have changed"

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
) -> list[AffectedPart]:
    """The parts bought for a task that the change reaches, by values that it moves, or to be made wrong by a stop.

    Of what is known to be ordered it is known by which values; anything else is in question with the fitment that it
    is for.
    """
    fitments: dict[str, list[str]] = {}
    why: dict[str, list[str]] = {}
    for key, _, now in moved:
        match key:
            case ("fitments", str(name), *below) if not (below and below[0] in _WORDS_ONLY):
                fitments.setdefault(name, []).append(".".join(map(str, below)) or "details")
            case ("tasks", int(), "state") if now != "dropped":
                continue  # work that goes on needs its parts as before
            case ("tasks", int(at), *below) if not (below and below[0] in _REMARKS):
                for opened in (before, after):
                    tasks = opened.project.tasks
                    id_ = str(tasks[at].id) if at < len(tasks) else ""
                    why[id_] = [f"{clean(id_)} changes: its task"]
    of_fitments = {
        name: [f"{clean(name)} changes: {', '.join(dict.fromkeys(what))}"] for name, what in fitments.items()
    }
    for record in again:
        if record.record == "task":
            task = after.project.tasks[record.at]
            why.setdefault(str(task.id), []).append(f"look at {record.name} again")
    for flag in flags:
        if flag.how == "up" and flag.rule.severity == "stop" and flag.now is not None:
            for name in {place[0] for place in flag.now.places if place[0]}:
                of_fitments.setdefault(name, []).append(f"{flag.rule.name} stops {clean(name)}")
    left = frozenset(before.planned) - frozenset(after.planned)
    asked = []
    for at, part in enumerate(after.project.parts):
        need = NeededPart(part_name(part, at), part)
        known = ordered_as(need)
        reasons = why if known else {**of_fitments, **why}
        asked.append(_part(need, after, reasons, left, _moved_under(before, after, need, known)))
    return [one for one in asked if one is not None]


def _moved_under(before: OpenProject, after: OpenProject, need: NeededPart, known: Sequence[str]) -> str:
    """What of the grounds of a part's order a change moves, in words; they are what its tick would keep."""
    there = {one.id: one.part.state for one in planned_parts(before)}
    if not known or there.get(need.id) not in SPENT:
        return ""
    gone = work_changes(after, order_basis(before, known, [need]))
    return f"{CHANGED}: {changes_in_words(gone)}" if gone else ""


def _part(
    need: NeededPart, after: OpenProject, why: Mapping[str, list[str]], left: Collection[str], moved: str
) -> AffectedPart | None:
    """`why` are reasons by what the part is used for, `left` the fitments that are no longer planned."""
    part, name = need.part, need.id
    if part.state not in SPENT:
        return None
    # One that is bought for what is planned now as well stays right when the other is no longer planned.
    serves = any(use in after.planned for use in part.used_for)
    found = [f"{clean(use)} is no longer planned" for use in part.used_for if use in left and not serves]
    found += [reason for use in part.used_for for reason in why.get(use, ())]
    found += [moved] if moved and not found else []
    if not found:
        return None
    return AffectedPart(clean(name), clean(part.title or name), part.state, tuple(dict.fromkeys(found)))
