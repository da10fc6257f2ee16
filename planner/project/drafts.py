"""What was typed and is not accepted yet, kept beside the project, so that no crash takes it.

`truck.toml` has `.truck.toml.typed.json` beside it while something is being typed, and not otherwise. It is written at
every key, so it is not forced to the disk each time: `settle` does that once the keys rest. What stands in it is only
ever shown and put in a field; whatever else somebody wrote there is passed over.
"""

import json
import os
import stat
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, NamedTuple

from planner.project.faults import Faulty, why
from planner.project.project_path import beside
from planner.project.saving import made_alike, synced
from planner.project.source import LARGEST_FILE, read_bytes

MOST = 50  # entries at a time; the oldest goes first
LONGEST = 4000  # characters of one text


class Typed(NamedTuple):
    """A text that was typed for the entry `key`, with its reason, and when (UTC)."""

    key: str
    text: str
    because: str = ""
    at: str = ""


def drafts_path(project: Path) -> Path:
    """Where the project's file of what was typed stands; a link is followed."""
    return beside(Path(os.path.realpath(project)), "typed.json")


def kept(project: Path) -> list[Typed]:
    """What was typed and neither accepted nor left, the oldest first; nothing where the file is not one of ours."""
    try:
        rows = json.loads(read_bytes(drafts_path(project)))["typed"]
        found = [Typed(*map(_text, (row["key"], row["text"], row["because"], row["at"]))) for row in rows]
    except (OSError, Faulty, ValueError, TypeError, KeyError, RecursionError):
        return []
    return [one for one in found[:MOST] if one.key]


def keep(project: Path, key: str, text: str, because: str = "") -> str:
    """Keeps what is typed for one entry in place of what was; gives why it is not kept, empty where it is."""
    at = datetime.now(UTC).isoformat(timespec="seconds").replace("+00:00", "Z")
    others = [one for one in kept(project) if one.key != key]
    return _written(project, [*others, Typed(key, text[:LONGEST], because[:LONGEST], at)][-MOST:])


def let_go(project: Path, key: str) -> None:
    """Nothing is typed for this entry any more: it was accepted, left or thrown away."""
    before = kept(project)
    rest = [one for one in before if one.key != key]
    if len(rest) < len(before):
        if rest:
            _written(project, rest)
        else:
            with suppress(OSError):
                drafts_path(project).unlink()


def settle(project: Path) -> None:
    """Has the system put what was kept on the disk, so that a power cut does not take it either."""
    synced(drafts_path(project))


def _text(value: Any) -> str:
    if not isinstance(value, str) or len(value) > LONGEST:
        raise TypeError
    return value


def _written(project: Path, rows: list[Typed]) -> str:
    path = drafts_path(project)
    fresh = path.with_suffix(".new")
    while len(raw := json.dumps({"typed": [one._asdict() for one in rows]}).encode("ascii")) > LARGEST_FILE:
        rows = rows[1:]
    flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0)
    try:
        fresh.unlink(missing_ok=True)  # left by a program that was killed, or a pipe or a link that somebody sent
        handle = os.open(fresh, flags, 0o600)
        try:
            with suppress(FileNotFoundError):
                like = os.stat(project)
                made_alike(handle, like, stat.S_IMODE(like.st_mode))
            rest = memoryview(raw)
            while rest:
                rest = rest[os.write(handle, rest) :]
        finally:
            os.close(handle)
        os.replace(fresh, path)
    except OSError as error:
        with suppress(OSError):
            fresh.unlink()
        return why(error)
    return ""
