"""What a tick writes beside its record: the entry that its value is a reading of, and what the tick rests on then."""

import datetime
from collections.abc import Mapping

from planner.plan.answers.open_project import work_out
from planner.plan.change.changing import Setting, amended, settings_as_changes
from planner.plan.revisit.tick_basis import tick_basis
from planner.plan.truck.project import OpenProject
from planner.plan.truck.recording import RefusedChange
from planner.plan.work.filled_entries import filled_entry, which_counts_text
from planner.plan.work.item import Item
from planner.plan.work.task_list import Work, work
from planner.project.faults import as_key
from planner.project.lines import Key
from planner.project.reading import understand
from planner.quantities.text import clean


def basis_with(opened: OpenProject, listed: Work, one: Item, filling: Mapping[Key, object]) -> dict[str, str]:
    """What a tick rests on, with the value that it writes into an entry already there."""
    if filling:
        source, _ = amended(opened.opened.source, dict(filling))
        opened = work_out(understand(source), listed.today)
        listed = work(opened)
    return tick_basis(opened, listed.items, listed.items.get(one.id, one))


def entry_filled_by(opened: OpenProject, one: Item, recorded: str, counts: str, on: datetime.date) -> dict[Key, object]:
    """The changes that write a task's value into the entry that it is a reading of, with the reading."""
    filled = filled_entry(opened, one, recorded)
    if filled is None or (filled.stands and filled.agrees) or (filled.differs and counts == "entry"):
        return {}
    if filled.differs and counts != "this":
        raise RefusedChange(f"{clean(one.id)}: {which_counts_text(filled, recorded)}", "which counts")
    changes = settings_as_changes(opened.opened, [Setting(filled.key, recorded)], style=opened.style).changes
    at = len(opened.project.readings)
    reading = {"of": filled.key, "value": recorded, "on": on, "how": one.title}
    changes[("readings", at)] = reading
    own = next((each for key, each in opened.opened.counted.items() if as_key(key) == filled.key), None)
    if own is not None:  # of several readings the person says that this one counts
        changes[("which_counts", filled.key)] = len(own.readings) + 1
    return changes
