"""Records that want another look, since what they rested on moved: decisions, ticks, sheets, mock-up readings."""

from collections.abc import Iterable, Iterator
from typing import Literal, NamedTuple

from planner.plan.answers.basis_words import BasisChange, changes_told
from planner.plan.truck.project import OpenProject
from planner.plan.work.record_changes import record_changes
from planner.project.models.work import Decision, RestedOn
from planner.quantities.text import clean

Record = Literal["decision", "acceptance", "task", "sheet", "reading"]


class StaleRecord(NamedTuple):
    """A record to look at again: what kind, the how-manieth of its kind in the file, its name, what moved under it."""

    record: Record
    at: int
    name: str
    moved: tuple[BasisChange, ...]

    @property
    def key(self) -> str:
        """Its key in the file, such as `tasks[3]`."""
        return f"{self.record}s[{self.at}]"


def stale_records(opened: OpenProject) -> list[StaleRecord]:
    """Every record of which something that it rested on is no longer so, in the order of the file."""
    found = (StaleRecord(record, at, name, record_changes(opened, one)) for record, at, name, one in _records(opened))
    return [one for one in found if one.moved]


class SameNews(NamedTuple):
    """Records of one kind under which the same has moved, and that in a few sentences."""

    records: tuple[StaleRecord, ...]
    told: tuple[str, ...]

    @property
    def title(self) -> str:
        """`task: decide.tires`, or all of them by name."""
        kind = self.records[0].record
        return f"{kind}{'s' * (len(self.records) > 1)}: {', '.join(one.name for one in self.records)}"


def told_together(found: Iterable[StaleRecord]) -> list[SameNews]:
    """The records with what moved under them, each news once: a choice that is another asks many tasks again."""
    alike: dict[tuple[str, tuple[str, ...]], list[StaleRecord]] = {}
    for one in found:
        alike.setdefault((one.record, tuple(changes_told(one.moved))), []).append(one)
    return [SameNews(tuple(records), told) for (_, told), records in alike.items()]


def decisions(opened: OpenProject) -> list[tuple[Decision, tuple[BasisChange, ...]]]:
    """Each decision with what has moved under it since, nothing where it stands."""
    return [(one, record_changes(opened, one)) for one in opened.project.decisions]


def newly_stale(before: list[StaleRecord], after: list[StaleRecord]) -> list[StaleRecord]:
    """Those of which more has moved after than before."""
    known = {(one.record, one.name): one for one in before}
    return [one for one in after if _news(known.get((one.record, one.name)), one)]


def _news(old: StaleRecord | None, new: StaleRecord) -> bool:
    return old is None or bool({(one.name, one.now) for one in new.moved} - {(one.name, one.now) for one in old.moved})


def _records(opened: OpenProject) -> Iterator[tuple[Record, int, str, RestedOn]]:
    project = opened.project
    for at, decision in enumerate(project.decisions):
        yield "decision", at, clean(decision.question or f"number {at + 1}"), decision
    for at, acceptance in enumerate(project.acceptances):
        name = f"{acceptance.flag}, {acceptance.at}" if acceptance.at else str(acceptance.flag)
        yield "acceptance", at, clean(name), acceptance
    for at, task in enumerate(project.tasks):
        if task.state in ("done", "look again"):
            yield "task", at, clean(task.title or task.id or f"number {at + 1}"), task
    for at, sheet in enumerate(project.sheets):
        kind = f" ({sheet.kind})" if sheet.kind else ""
        yield "sheet", at, f"number {sheet.number}{kind}", sheet
    for at, reading in enumerate(project.readings):
        if reading.fitment is not None:
            side = f", {reading.side}" if reading.side else ""
            yield "reading", at, clean(f"mock-up of {reading.fitment} at {reading.of}{side}"), reading
