"""Decisions, acceptances, ticked tasks and printed sheets that want another look, since what they rested on moved."""

from collections.abc import Iterator
from typing import Literal, NamedTuple

from planner.plan.opening import OpenProject
from planner.plan.revisiting import Movement, moved
from planner.project.models.work import Decision, RestedOn
from planner.quantities.text import clean

Record = Literal["decision", "acceptance", "task", "sheet"]


class Again(NamedTuple):
    """A record to look at again: what kind, its key in the file, what it is called, and what moved under it."""

    record: Record
    key: str
    name: str
    moved: tuple[Movement, ...]


def look_again(opened: OpenProject) -> list[Again]:
    """Every record of which something that it rested on is no longer so, in the order of the file."""
    found = (Again(record, key, name, moved(opened, one.rested_on)) for record, key, name, one in _records(opened))
    return [one for one in found if one.moved]


def decisions(opened: OpenProject) -> list[tuple[Decision, tuple[Movement, ...]]]:
    """Each decision with what has moved under it since, nothing where it stands."""
    return [(one, moved(opened, one.rested_on)) for one in opened.project.decisions]


def newly(before: list[Again], after: list[Again]) -> list[Again]:
    """Those of which more has moved after than before."""
    known = {(one.record, one.name): one for one in before}
    return [one for one in after if _news(known.get((one.record, one.name)), one)]


def _news(old: Again | None, new: Again) -> bool:
    return old is None or bool({(one.name, one.now) for one in new.moved} - {(one.name, one.now) for one in old.moved})


def _records(opened: OpenProject) -> Iterator[tuple[Record, str, str, RestedOn]]:
    project = opened.project
    for at, decision in enumerate(project.decisions):
        yield "decision", f"decisions[{at}]", clean(decision.question or f"number {at + 1}"), decision
    for at, acceptance in enumerate(project.acceptances):
        name = f"{acceptance.flag}, {acceptance.at}" if acceptance.at else str(acceptance.flag)
        yield "acceptance", f"acceptances[{at}]", clean(name), acceptance
    for at, task in enumerate(project.tasks):
        if task.state in ("done", "look again"):
            yield "task", f"tasks[{at}]", clean(task.title or task.id or f"number {at + 1}"), task
    for at, sheet in enumerate(project.sheets):
        kind = f" ({sheet.kind})" if sheet.kind else ""
        yield "sheet", f"sheets[{at}]", f"number {sheet.number}{kind}", sheet
