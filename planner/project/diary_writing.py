"""Adding entries to a diary and replacing the project's text, both or neither, whatever fails and wherever.

Under the lock of the project's file the entries are added to the diary, and are on the disk before the project's new
text is put in place, which the system does in one go. An entry names the project's digest before and after, so whoever
comes next can tell what happened, wherever the program or the power stopped:

- the project has the digest after: both are done;
- the project has the digest before: the entry was written and the project was not. It stays in the diary, and the next
  entry says that it was not done. That the old file was put back by hand looks the same, and comes to the same;
- the diary ends in half a line: the project was not touched yet. The half line is moved to `truck.diary.torn-…`;
- the project has another digest: it was changed by hand since, and the next entry says what moved.

The other order would leave a changed project of which nobody knows why. Where the program lives to see that the project
cannot be written, it takes the entries back: they were the last, and the lock was held all the while.
"""

import datetime
import os
from collections.abc import Mapping, Sequence
from contextlib import suppress
from pathlib import Path
from typing import NamedTuple

from planner.project.diary_entries import WHOLE_EVERY, DiaryEntry, KeyChange, line_for, pack
from planner.project.diary_reading import LARGEST_DIARY, Diary
from planner.project.faults import Faulty, why
from planner.project.saving import CannotSave, keep_beside, put_file, replace_file, synced
from planner.project.source import ProjectText, digest_of, read_bytes


class Draft(NamedTuple):
    """What an entry is to say, before it has its number, its time and its place in the chain.

    `old` is the text before, or None where it is not known and the new one is kept whole.
    """

    kind: str
    because: str
    moved: tuple[KeyChange, ...]
    details: Mapping[str, object]
    before: str
    after: str
    old: str | None
    new: str


def put_together(
    path: Path, target: Path, stood: str | None, new: ProjectText, end: Diary, lines: bytes, keep_old: str | None
) -> tuple[Path | None, bool]:
    """Adds the lines at the diary's `end` and puts the new text in place of what stood there, with the lock held.

    `stood` is the digest of that, None where nothing may.

    Gives where the old file is kept and whether the folder is known to be on the disk, as `Written` has them.
    """
    try:
        try:
            _add(path, end, lines, target)
        except OSError as error:
            raise CannotSave(path, f"its diary cannot be written: {why(error)}") from None
        kept = None
        if new.digest != stood:
            kept = replace_file(path, target, new.text.encode("utf-8"), stood, keep_old)
    except BaseException:
        _take_back(end, lines, target, stood, new)
        raise
    return kept, synced(target.parent)


def lines_for(
    path: Path, end: Diary, drafts: Sequence[Draft], at: datetime.datetime | None
) -> tuple[bytes, tuple[DiaryEntry, ...]]:
    """The lines that go at the diary's end, and the entries as they will be read; raises `CannotSave`."""
    moment = (at or datetime.datetime.now(datetime.UTC)).astimezone(datetime.UTC)
    when = moment.isoformat(timespec="seconds").replace("+00:00", "Z")
    last = end.entries[-1] if end.entries else None
    number, previous, since = end.following, last.sum if last else "", last.since if last else 0
    rows = [b"\n"] if end.unended else []
    entries: list[DiaryEntry] = []
    for kind, because, moved, details, before, after, old, new in drafts:
        since += 1
        packed = None
        if before != after:
            packed = pack(old.encode("utf-8") if old is not None and since < WHOLE_EVERY else None, new.encode("utf-8"))
            since = since if packed.keep else 0
        try:
            row, entry = line_for(number, when, kind, because, moved, details, before, after, packed, since, previous)
        except (ValueError, TypeError) as wrong:
            raise CannotSave(path, f"its diary wouldn't take the entry: {wrong}") from None
        rows.append(row)
        entries.append(entry)
        number, previous = number + 1, entry.sum
    lines = b"".join(rows)
    if end.size + len(lines) > LARGEST_DIARY:
        raise CannotSave(path, "its diary is full; move it somewhere else and a new one is started")
    return lines, tuple(entries)


def set_aside(path: Path, end: Diary, like: Path) -> Path | None:
    """Moves half a line at the diary's end into a file of its own; stopped halfway and done again, nothing is lost."""
    _refuse_link(path, end)
    if not end.torn:
        return None
    with open(end.path, "rb") as file:
        file.seek(end.size)
        half = file.read()
    place = keep_beside(end.path.with_suffix(""), half, f".torn-{digest_of(half)[:12]}", os.stat(like))
    _cut(end)
    return place


def _refuse_link(path: Path, end: Diary) -> None:
    if os.path.islink(end.path):  # whoever made the project could have it point anywhere
        raise CannotSave(path, "its diary is a link; a diary has to be next to its project")


def _add(path: Path, end: Diary, lines: bytes, target: Path) -> None:
    flags = os.O_WRONLY | os.O_APPEND | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_BINARY", 0)
    try:
        handle = os.open(end.path, flags)
    except FileNotFoundError:
        if end.size:
            raise
        put_file(end.path, lines, os.stat(target))
        synced(end.path.parent)
        return
    try:
        if os.fstat(handle).st_size != end.size:
            raise CannotSave(path, "its diary was changed by another program just now; try again")
        rest = memoryview(lines)
        while rest:
            rest = rest[os.write(handle, rest) :]
        os.fsync(handle)
    finally:
        os.close(handle)


def _take_back(end: Diary, lines: bytes, target: Path, stood: str | None, new: ProjectText) -> None:
    """Undoes `_add`, as far as it came, unless the new text stands in place after all; never takes what is not ours."""
    with suppress(OSError, Faulty):
        if new.digest != stood and digest_of(read_bytes(target)) == new.digest:
            return
    with suppress(OSError), open(end.path, "rb") as file:
        file.seek(end.size)
        if not lines.startswith(file.read(len(lines) + 1)):
            return
        if end.size:
            _cut(end)
        else:
            os.unlink(end.path)


def _cut(end: Diary) -> None:
    handle = os.open(end.path, os.O_WRONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_BINARY", 0))
    try:
        os.ftruncate(handle, end.size)
        os.fsync(handle)
    finally:
        os.close(handle)
