"""Where an entry's value is from, in words: who read it, when, how and with what, and which reading counts."""

from collections.abc import Iterator
from typing import Any

from planner.plan.truck.project import OpenProject
from planner.project.faults import as_key
from planner.project.models.measurements import Reading
from planner.project.truck_keys import TRUCK
from planner.project.which_counts import CountedEntry, TakenReading, readings_without_value
from planner.project.written_keys import split_key
from planner.quantities.kinds import Kind
from planner.quantities.quantity import Quantity
from planner.quantities.text import clean

NO_READING = "no reading behind it"
_WISHED = ("clearance", "wanted_poke", "greatest_poke", "gear_sets")  # decided, and never measured
_WORDS = ("text", "yes or no")  # forms of a value that are read and not measured


def provenance(opened: OpenProject, key: str) -> str:
    """Where the value of an entry is from, in one phrase; empty for what nobody measures, such as a wish.

    `2 readings, the middle counts`, `measured by owner, 2026-11-14, board on the drum`.
    """
    counted = _counted(opened, key)
    if counted is None:
        told = [by for one in _without_value(opened, key) if (by := taken_by(one))]
        if told:
            return f"measured by {'; '.join(told)}; the reading itself wasn't kept"
        return NO_READING if is_measured(key, opened.kind_of(key)) else ""
    if len(counted.readings) == 1 and not counted.sides:
        return f"measured by {taken_by(counted.readings[0].reading) or 'somebody not named'}"
    number = len(counted.readings)
    return f"{number} reading{'s' if number > 1 else ''}, {_which(counted)}"


def reading_lines(opened: OpenProject, key: str) -> list[str]:
    """Every reading of an entry on a line of its own, then which counts, where there are several."""
    counted = _counted(opened, key)
    if counted is None:
        return [f"measured by {by}, value not kept" for one in _without_value(opened, key) if (by := taken_by(one))]
    lines = [_line(counted, one) for one in counted.readings]
    if len(counted.readings) > 1 or counted.sides:
        lines.append(f"{_which(counted)}: {taken_text(counted)}")
    return lines


def apart_text(counted: CountedEntry) -> str:
    """The two readings that are further apart than they state, both as they were written; empty where none are."""
    return " and ".join(f"reading {one.number} says {value_words(one.value)}" for one in counted.apart or ())


def taken_text(counted: CountedEntry) -> str:
    """What the entry is by its readings: for each side where they stand apart."""
    if counted.sides:
        said = [f"{side} {value_words(value)}" for side, value in counted.sides.items()]
        return ", ".join([*said, *(f"{side} not known" for side in counted.unknown_sides)])
    return value_words(counted.value)


def taken_at(opened: OpenProject, key: str) -> str:
    """What an entry is by its readings; empty where it has none."""
    counted = _counted(opened, key)
    return "" if counted is None else taken_text(counted)


def without_reading(opened: OpenProject) -> list[str]:
    """The entries of the truck that no reading is behind, by their keys."""
    every = [as_key(own) for own in opened.keys.values() if own not in opened.opened.counted]
    return [key for key in every if provenance(opened, key) == NO_READING]


def value_words(value: Any) -> str:
    """A value as it is written in the file."""
    if isinstance(value, tuple):
        return ", ".join(value_words(one) for one in value)
    return clean(value.text if isinstance(value, Quantity) and value.text else str(value))


def taken_by(reading: Reading) -> str:
    """Who took a reading, when, how and with what, as far as it is said."""
    parts = (reading.by, reading.on, reading.how, reading.tool)
    return ", ".join(clean(str(part)) for part in parts if part)


def read_entries(opened: OpenProject) -> Iterator[tuple[str, CountedEntry]]:
    """Every entry that has readings with a value, by its key as people write it."""
    for key, one in opened.opened.counted.items():
        yield as_key(key), one


def entry_data(key: str, counted: CountedEntry) -> dict[str, Any]:
    """An entry's readings as plain data."""
    return {
        "entry": key,
        "which_counts": counted.which or "all",
        "taken": taken_text(counted),
        "not_known": list(counted.unknown_sides),
        "apart": apart_text(counted) or None,
        "readings": [
            {
                "number": one.number,
                "value": value_words(one.value),
                "side": one.reading.side,
                "by": one.reading.by,
                "on": one.reading.on.isoformat() if one.reading.on else None,
                "how": one.reading.how,
                "tool": one.reading.tool,
            }
            for one in counted.readings
        ],
    }


def _counted(opened: OpenProject, key: str) -> CountedEntry | None:
    names = split_key(key)
    return None if names is None else opened.opened.counted.get(names)


def _without_value(opened: OpenProject, key: str) -> list[Reading]:
    names = split_key(key)
    return [one for own, one in readings_without_value(opened.project) if own == names]


def is_measured(key: str, kind: Kind | None) -> bool:
    """Whether an entry is one of the truck as found that is read off it: no wish, no word, no choice."""
    of_the_truck = key.split(".")[0].partition("[")[0] in TRUCK or key.startswith("fitments.found.")
    last = key.rpartition(".")[2]
    if not of_the_truck or last in _WISHED:
        return False
    return (key.startswith("obstacles") and last in ("at", "to")) if kind is None else kind.form not in _WORDS


def _which(counted: CountedEntry) -> str:
    if isinstance(counted.which, int):
        return f"reading {counted.which} counts"
    if counted.which is not None:
        return f"the {counted.which} counts"
    return "all of them count" if len(counted.readings) > 1 else "it counts for its side"


def _line(counted: CountedEntry, one: TakenReading) -> str:
    side = f", {one.reading.side}" if one.reading.side else ""
    taken = taken_by(one.reading)
    by = f", {'by ' if one.reading.by else ''}{taken}" if taken else ""
    counts = " (counts)" if counted.which == one.number and len(counted.readings) > 1 else ""
    return f"reading {one.number}{counts}: {value_words(one.value)}{side}{by}"
