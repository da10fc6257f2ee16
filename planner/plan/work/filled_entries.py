"""A task whose value is the reading of an entry: which entry that is, and whether what stands there agrees."""

from typing import NamedTuple

from planner.plan.truck.catalog import entry_key
from planner.plan.truck.project import OpenProject
from planner.plan.work.item import Item
from planner.project.which_counts import differ
from planner.quantities.grammar import read_value
from planner.quantities.text import clean
from planner.quantities.unreadable import Unreadable


class FilledEntry(NamedTuple):
    """The entry by its key, and what is written there; empty while nothing is."""

    key: str
    stands: str
    agrees: bool

    @property
    def differs(self) -> bool:
        return bool(self.stands) and not self.agrees


def filled_entry(opened: OpenProject, one: Item, text: str) -> FilledEntry | None:
    """The entry that a task's value is a reading of; None where it is of none, or cannot be read."""
    record = one.task.records if one.task else None
    if record is None or not record.fills:
        return None
    try:
        value = read_value(text, record.kind)
    except Unreadable:
        return None
    spot = opened.spot(record.fills, axle=one.axle)
    given = opened.given(spot)
    key = opened.key_of(spot) if given is not None else entry_key(spot)
    return FilledEntry(key, "" if given is None else opened.written_at(key), not differ(given, value))


def which_counts_text(filled: FilledEntry, value: str) -> str:
    """That a reading and the entry differ."""
    return f"it reads {clean(value)}, and {filled.key} is {clean(filled.stands)}"
