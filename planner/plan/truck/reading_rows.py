"""What was measured as rows, for people to take away as a table: a row a reading, each by its name and its key."""

from collections.abc import Iterator
from datetime import date
from typing import NamedTuple

from planner.plan.truck.entry_names import name_of, said
from planner.plan.truck.forms import written
from planner.plan.truck.keys import FoundKey, below, entries_by_name
from planner.plan.truck.project import OpenProject
from planner.plan.truck.reading_words import is_measured
from planner.project.faults import as_key
from planner.project.lines import Key
from planner.project.models.measurements import Reading
from planner.project.which_counts import MEASURED, readings_without_value


class ReadingRow(NamedTuple):
    """One reading as it is written: `entry` is what people call what it is of, its key where it has no name."""

    entry: str
    key: str
    value: str
    side: str = ""
    by: str = ""
    on: date | None = None
    how: str = ""
    tool: str = ""


def reading_rows(opened: OpenProject) -> Iterator[ReadingRow]:
    """Every reading of an entry, and every entry that is measured and has none; those of mock-ups are no entry's."""
    named, bare = entries_by_name(opened.opened), dict(readings_without_value(opened.project))
    for root in MEASURED:
        for found in below(opened.opened, root):
            called = name_of(found.key, opened.opened.data)
            own = named.get(said(called)) if called else None
            entry = called if own is not None and own.key == found.key else as_key(found.key)
            yield from _rows(opened, found, entry, bare)


def _rows(opened: OpenProject, found: FoundKey, entry: str, bare: dict[Key, Reading]) -> Iterator[ReadingRow]:
    key, counted = as_key(found.key), opened.opened.counted.get(found.key)
    if counted is not None:
        for one in counted.readings:
            yield _row(entry, key, written(one.reading.value), one.reading)
    elif found.value is not None and is_measured(key, found.wants.kind if found.key[0] != "obstacles" else None):
        yield _row(entry, key, written(found.value), bare.get(found.key, Reading.model_construct()))


def _row(entry: str, key: str, value: str, taken: Reading) -> ReadingRow:
    return ReadingRow(entry, key, value, taken.side or "", taken.by or "", taken.on, taken.how or "", taken.tool or "")
