"""What a tick writes beside its record: the entry that its value is a reading of, and what the tick rests on then."""

import datetime
from collections.abc import Mapping
from typing import NamedTuple

from planner.plan.answers.mock_up_basis import mock_up_basis
from planner.plan.answers.mock_up_words import stands_words
from planner.plan.answers.open_project import work_out
from planner.plan.change.changing import Setting, amended, settings_as_changes
from planner.plan.fit.mock_ups import mock_up_words
from planner.plan.revisit.tick_basis import tick_basis
from planner.plan.truck.project import OpenProject
from planner.plan.truck.recording import RefusedChange
from planner.plan.work.item import Item
from planner.plan.work.task_list import Work, work
from planner.plan.work.task_values import filled_entry, which_counts_text
from planner.plan.work.written_gaps import AS_WRITTEN, written_gaps
from planner.project.faults import as_key
from planner.project.lines import Key
from planner.project.models.measurements import Reading
from planner.project.reading import understand
from planner.quantities.text import clean


class Filled(NamedTuple):
    """What a tick writes beside its record, what it rests on with that in place, and what is told of it."""

    changes: dict[Key, object]
    rests_on: dict[str, str]
    says: str


def filled_by(opened: OpenProject, listed: Work, one: Item, recorded: str, counts: str, on: datetime.date) -> Filled:
    """The entry, or the mock-up readings, that a task's value is written into, and what the tick rests on then."""
    changes = entry_filled_by(opened, one, recorded, counts, on) if recorded else {}
    says = f", and {clean(as_key(next(iter(changes))))} has it" if changes else ""
    gaps = _gaps_filled_by(opened, one, recorded, on)
    if changes or gaps:
        source, _ = amended(opened.opened.source, {**changes, **gaps})
        opened = work_out(understand(source), listed.today)
        listed = work(opened)
    if gaps:
        changes = dict(gaps)
        held = [each for each in opened.mock_ups if ("readings", each.taken.at) in gaps]
        told = (f"; {clean(each.called)}, {mock_up_words(opened, each)}: {stands_words(opened, each)}" for each in held)
        says = "".join(told)
    elif recorded and one.task is not None and one.task.records is not None and one.task.records.gaps:
        says = f"; it names no place, so nothing is checked against the sweep: write {AS_WRITTEN}"
    return Filled(changes, tick_basis(opened, listed.items, listed.items.get(one.id, one)), says)


def _gaps_filled_by(opened: OpenProject, one: Item, recorded: str, on: datetime.date) -> dict[Key, dict[str, object]]:
    """A mock-up reading for each gap that the task records; one of the same place by the same task is taken anew."""
    record = one.task.records if one.task is not None else None
    gaps = written_gaps(opened, one.axle, recorded, record.kind) if record and record.gaps and recorded else []
    if not gaps:
        return {}
    if len(opened.planned) != 1:
        raise RefusedChange(f"{clean(one.id)}: whose wheel was on isn't known until a candidate is chosen")
    changes: dict[Key, dict[str, object]] = {}
    free = len(opened.project.readings)
    for gap in gaps:
        reading = {"of": gap.label, "fitment": opened.planned[0], **gap.entries, "on": on, "how": one.title}
        same = (at for at, each in enumerate(opened.project.readings) if _is_same(each, reading))
        at = next(same, None)
        rested_on = mock_up_basis(opened, Reading.model_construct(of=gap.label, fitment=opened.planned[0]))
        changes[("readings", free if at is None else at)] = {**reading, "rested_on": rested_on}
        free += at is None
    return changes


def _is_same(one: Reading, other: Mapping[str, object]) -> bool:
    return all(getattr(one, name) == other.get(name) for name in ("of", "fitment", "side", "how"))


def entry_filled_by(opened: OpenProject, one: Item, recorded: str, counts: str, on: datetime.date) -> dict[Key, object]:
    """The changes that write a task's value into the entry that it is a reading of, with the reading."""
    filled = filled_entry(opened, one, recorded)
    if filled is None or (filled.stands and filled.agrees) or (filled.differs and counts == "entry"):
        return {}
    if filled.differs and counts != "this":
        raise RefusedChange(f"{clean(one.id)}: {which_counts_text(filled, recorded)}", "which counts")
    changes = settings_as_changes(opened, [Setting(filled.key, recorded)]).changes
    at = len(opened.project.readings)
    reading = {"of": filled.key, "value": recorded, "on": on, "how": one.title}
    changes[("readings", at)] = reading
    own = next((each for key, each in opened.opened.counted.items() if as_key(key) == filled.key), None)
    if own is not None:  # of several readings the person says that this one counts
        changes[("which_counts", filled.key)] = len(own.readings) + 1
    return changes
