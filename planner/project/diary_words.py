"""What a diary says, in words: the same for the command that prints it and for the screens."""

import json
from typing import Any

from planner.project.diary_entries import DiaryEntry, KeyChange
from planner.project.faults import LONGEST_SAID, plain
from planner.project.obstacle_names import OBSTACLES, told_key

STANDS = {
    "no diary": "There is no diary yet: it begins with the first change that the planner makes.",
    "hand edit": "The file was edited since the last entry; catch-up writes that down, as does the next change.",
    "not done": "The last entry was not carried out in the file; catch-up writes that down, as does the next change.",
}


def entry_lines(entry: DiaryEntry) -> list[str]:
    """The entry, harmless for a terminal: a line that says what it is, and one for each key that moved.

    A tick names its task, and an undo, a redo, a restore or a "not done" the entry that it speaks of.
    """
    task, other = entry.details.get("task"), entry.details.get("entry")
    kind = plain(entry.kind) + (f" {plain(task)}" if isinstance(task, str) else "")
    of = f", entry {other}" if isinstance(other, int) else ""
    because = f": {plain(entry.because, LONGEST_SAID)}" if entry.because else ""
    lines = [f"{entry.number}  {plain(entry.at)}  {kind}{of}{because}"]
    lines += [f"  {move(one, entry.details.get(OBSTACLES))}" for one in entry.moved]
    if entry.left_out:
        lines.append(f"  and {entry.left_out} more")
    return lines


def move(one: KeyChange, names: object = None) -> str:
    """A key with what it was and what it is: `vehicle.wheelbase: 112 in → 111 in`; `names` are those of obstacles."""
    return f"{told_key(one.key, names)}: {value(one.was)} → {value(one.now)}"


def value(given: Any) -> str:
    """A value of the file on one harmless line; `nothing` where there is none."""
    if given is None:
        return "nothing"
    return plain(given if isinstance(given, str) else json.dumps(given, ensure_ascii=False, default=str))
