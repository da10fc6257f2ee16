"""What a diary says, in words: the same for the command that prints it and for the screens."""

import json
from typing import Any

from planner.project.diary_entries import Entry, Moved
from planner.project.diary_reading import told
from planner.project.faults import plain
from planner.project.obstacle_names import told_key

STANDS = {
    "no diary": "There is no diary yet: it begins with the first change that the planner makes.",
    "hand edit": "The file was edited since the last entry; catch-up writes that down, as does the next change.",
    "not done": "The last entry was not carried out in the file; catch-up writes that down, as does the next change.",
}


def entry_lines(entry: Entry) -> list[str]:
    """An entry, its first line saying what it is, and which task was ticked before what that changed in the file."""
    first, *keys = told(entry)
    about = entry.details.get("task")
    if isinstance(about, str):
        kind = plain(entry.kind)
        first = first.replace(f"  {kind}", f"  {kind} {plain(about)}", 1)
    return [first, *keys]


def move(one: Moved, names: object = None) -> str:
    """A key with what it was and what it is: `vehicle.wheelbase: 112 in → 111 in`; `names` are those of obstacles."""
    return f"{told_key(one.key, names)}: {value(one.was)} → {value(one.now)}"


def value(given: Any) -> str:
    """A value of the file on one harmless line; `nothing` where there is none."""
    if given is None:
        return "nothing"
    return plain(given if isinstance(given, str) else json.dumps(given, ensure_ascii=False, default=str))
