"""What a diary says, in words: the same for the command that prints it and for the screens."""

import json
from collections.abc import Callable, Iterator, Mapping
from datetime import date, time
from pathlib import Path
from typing import Any

from planner.project.diary_entries import DiaryEntry, KeyChange
from planner.project.faults import LONGEST_SAID, plain
from planner.project.lines import Key
from planner.project.models.project import FORMAT
from planner.project.obstacle_names import OBSTACLES, told_key
from planner.project.versions import FORMAT_MOVED, old_kept

ASSUMED = "assumed tolerances"  # what an entry's details call the values that took one, and what moved by it

STANDS = {
    "no diary": "There is no diary yet: it starts with the first change the planner makes.",
    "hand edit": "The file was edited since the last entry; catch-up writes that down, and so does the next change.",
    "not done": "The last entry never made it into the file; catch-up writes that down, and so does the next change.",
}


def entry_lines(entry: DiaryEntry, called: Callable[[Key], str] | None = None) -> list[str]:
    """The entry, harmless for a terminal: a line that says what it is, and one for each key that moved.

    A tick names its task, and an undo, a redo, a restore or a "not done" the entry that it speaks of. `called` gives
    what people call the entry at a key, or nothing; where it has no name its key stands.
    """
    task, other = entry.details.get("task"), entry.details.get("entry")
    kind = plain(entry.kind) + (f" {plain(task)}" if isinstance(task, str) else "")
    of = f", entry {other}" if isinstance(other, int) else ""
    because = f": {plain(entry.because, LONGEST_SAID)}" if entry.because else ""
    lines = [f"{entry.number}  {plain(entry.at)}  {kind}{of}{because}"]
    lines += [f"  {move(one, entry.details.get(OBSTACLES), called)}" for one in entry.moved]
    lines += [f"  {plain(said, LONGEST_SAID)}" for said in besides(entry)]
    if entry.left_out:
        lines.append(f"  and {entry.left_out} more")
    return lines


def besides(entry: DiaryEntry) -> list[str]:
    """What an entry says besides the keys that moved: another format, tolerances that are less or assumed."""
    return [*_format_words(entry.details.get(FORMAT_MOVED)), *_tolerance_words(entry.details)]


def kept_words(kept: Path, format_moved: bool, comments_lost: bool) -> str:
    """Why the old file was kept beside the new one, and where."""
    told = f"the file is in format {FORMAT} from now on" if format_moved else "the text had to be rewritten"
    lost = ", without its comments" if comments_lost or not format_moved else ""
    return f"{told}{lost}; the old one is kept as {plain(str(kept), LONGEST_SAID)}"


def _format_words(moved: object) -> Iterator[str]:
    """What is said of an entry that took the file to another format."""
    was, now = (moved.get("was"), moved.get("now")) if isinstance(moved, Mapping) else (None, None)
    if isinstance(was, int) and isinstance(now, int):
        kept = f"; the file as it was is kept beside it, under a name that ends in {old_kept(was)}" if was < now else ""
        yield f"the file was brought {'back ' if now < was else ''}from format {was} to format {now}{kept}"


def _tolerance_words(details: Mapping[str, Any]) -> Iterator[str]:
    """What is said of tolerances that became less, and of those that were assumed from then on."""
    narrowed, assumed = details.get("narrowed"), details.get(ASSUMED)
    yield from (one for one in (narrowed if isinstance(narrowed, list) else ()) if isinstance(one, str))
    if not isinstance(assumed, Mapping):
        return
    lists = (assumed.get(name) for name in ("values", "flags", "figures"))
    values, flags, figures = ([str(one) for one in given] if isinstance(given, list) else [] for given in lists)
    yield f"typed without ±, so from then on the usual one is assumed: {', '.join(values)}"
    if flags:
        yield f"flags it changed: {', '.join(flags)}"
    yield from (f"not known as closely: {one}" for one in figures)


def move(one: KeyChange, names: object = None, called: Callable[[Key], str] | None = None) -> str:
    """A key with what it was and what it is: `vehicle.wheelbase: 112 in → 111 in`; `names` are those of obstacles."""
    name = called(one.key) if called is not None else ""
    return f"{name or told_key(one.key, names)}: {value(one.was)} → {value(one.now)}"


def value(given: Any) -> str:
    """A value of the file on one harmless line, as people write it; `nothing` where there is none.

    >>> value({"name": "larger drums", "on": date(2026, 12, 5), "sets": {"a": "6 in", "b": 1}, "with": ["tall"]})
    'name larger drums, on 2026-12-05, sets (a 6 in, b 1), with (tall)'
    """
    return "nothing" if given is None else plain(_told(given))


def _told(given: Any) -> str:
    """A list or a table without the marks of the file; what stands in another is in parentheses."""
    if isinstance(given, dict):
        return ", ".join(f"{str(name).replace('_', ' ')} {_inner(one)}" for name, one in given.items()) or "empty"
    if isinstance(given, list):
        return ", ".join(map(_inner, given)) or "empty"
    return str(given) if isinstance(given, (str, date, time)) else json.dumps(given, default=str)


def _inner(given: Any) -> str:
    return f"({_told(given)})" if isinstance(given, (dict, list)) else _told(given)
