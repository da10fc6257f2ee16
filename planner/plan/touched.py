"""Parts that were bought and that a change puts in question, each with the reason."""

from collections.abc import Iterable, Mapping
from typing import NamedTuple

from planner.plan.again import Again
from planner.plan.answering import FlagMoved
from planner.plan.money import SPENT
from planner.plan.needs import named
from planner.plan.opening import OpenProject
from planner.project.diary_entries import Moved
from planner.project.models.work import Part
from planner.quantities.text import clean

ORDERED = "plan.ordered_part_rests_on_changed"
NO_LONGER = "is no longer planned"
_WORDS_ONLY = ("description", "price", "lead_time")  # of a fitment: no part is wrong for another price
_REMARKS = ("note", "title", "phase", "on", "because", "takes", "after", "recorded", "rested_on")  # of a task


class InQuestion(NamedTuple):
    """A part that was ordered, or is here already, and why it may no longer be the right one."""

    id: str
    title: str
    state: str
    why: tuple[str, ...]


def in_question(
    before: OpenProject,
    after: OpenProject,
    moved: Iterable[Moved],
    flags: Iterable[FlagMoved],
    again: Iterable[Again],
) -> list[InQuestion]:
    """The parts bought for a fitment or a task that the change reaches."""
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
    for name in before.planned:
        if name not in after.planned:
            why.setdefault(name, []).append(f"{clean(name)} {NO_LONGER}")
    for record in again:
        if record.record == "task":
            task = after.project.tasks[int(record.key[6:-1])]
            why.setdefault(str(task.id), []).append(f"{record.name} wants another look")
    ordered: dict[str, str] = {}
    for flag in flags:
        if flag.how == "up" and flag.now is not None and flag.rule.name == ORDERED:
            ordered[flag.now.where] = "it was ordered by values that have changed"
        if flag.how == "up" and flag.rule.severity == "stop" and flag.now is not None:
            for name in {place[0] for place in flag.now.places if place[0]}:
                why.setdefault(name, []).append(f"{flag.rule.name} stops {clean(name)}")
    asked = [_part(part, named(part, at), after, why, ordered) for at, part in enumerate(after.project.parts)]
    return [one for one in asked if one is not None]


def _part(
    part: Part, name: str, after: OpenProject, why: Mapping[str, list[str]], ordered: Mapping[str, str]
) -> InQuestion | None:
    if part.state not in SPENT:
        return None
    # One that is bought for what is planned now as well stays right when the other is no longer planned.
    serves = any(use in after.planned for use in part.used_for)
    found = [
        reason for use in part.used_for for reason in why.get(use, ()) if not (serves and reason.endswith(NO_LONGER))
    ]
    found += [ordered[clean(name)]] if clean(name) in ordered else []
    if not found:
        return None
    return InQuestion(clean(name), clean(part.title or name), part.state, tuple(dict.fromkeys(found)))
