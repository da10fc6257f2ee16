"""Reading a project's diary in one pass, and any earlier text of the project out of it.

`truck.toml` has its diary beside it, `truck.diary.jsonl`: one entry a line, and only ever added to. Entries stand in
the order in which they were made; their times are for people and decide nothing.
"""

import gc
import os
import re
import stat
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path
from typing import Any, BinaryIO, NamedTuple

from planner.project.diary_entries import LONGEST_LINE, DiaryEntry, KeyChange, NewerEntry, entry_in, key_changes, unpack
from planner.project.faults import Fault, Faulty, why, without_path
from planner.project.project_path import ENDING
from planner.project.source import digest_of, parse
from planner.quantities.text import grouped

LARGEST_DIARY = 512 * 1024 * 1024
_BLOCK = 64 * 1024
_NUMBERED = re.compile(rb'\{"sum":"[^"]*","previous":"[^"]*",(?:"format":\d+,)?"number":(\d{1,15}),')


class Diary(NamedTuple):
    """A diary as read: what is in it and what is wrong with it.

    `torn` counts the bytes of a line that was never finished, after the `size` bytes that are whole; `unended` if the
    last entry is whole but for the line's end; `following` is the number that the next entry takes.
    """

    path: Path
    entries: list[DiaryEntry]
    troubles: list[Fault]
    size: int = 0
    torn: int = 0
    unended: bool = False
    following: int = 1


def diary_path(project: Path) -> Path:
    """Where the diary of the project at that path stands; a link is followed."""
    target = Path(os.path.realpath(project))
    return target.with_name(target.name.removesuffix(ENDING) + ".diary.jsonl")


def read_diary(project: Path) -> Diary:
    """The whole diary of a project, in one pass and without making a text; raises `Faulty` if it cannot be opened.

    What is damaged in it is among its `troubles`; everything else is there.
    """
    return _from_disk(diary_path(project), 0)


def read_last(project: Path, few: int) -> Diary:
    """As `read_diary`, but with the last few entries alone, for whoever only wants to look at them."""
    return _from_disk(diary_path(project), max(1, few))


def read_end(project: Path) -> Diary:
    """As `read_diary`, but with the last entry alone where it is sound: the time does not grow with the diary."""
    end = _from_disk(diary_path(project), 1)
    return read_diary(project) if end.troubles or not end.entries else end


def find(diary: Diary, number: int) -> DiaryEntry:
    """The entry of that number; raises `Faulty` if there is none that can be read."""
    return diary.entries[_place(diary, number)]


def entry_numbered(project: Path, number: int) -> DiaryEntry | None:
    """The entry of that number, found without reading the others; None where none that is sound has it in its place."""
    with suppress(OSError, Faulty, ValueError), os.fdopen(_handle(diary_path(project)), "rb") as file:
        low, high = 0, file.seek(0, os.SEEK_END)  # its line begins at the one, between them, or nowhere
        while low < high:
            middle = (low + high) // 2
            start, row, found = _numbered_from(file, middle, high)
            if found == number:
                return entry_in(row)
            if found is not None and found < number:
                low = start + len(row)
            else:
                high = middle
    return None


def _numbered_from(file: BinaryIO, place: int, end: int) -> tuple[int, bytes, int | None]:
    """The first line with a number that begins there or behind it and before the end: its start, itself, the number."""
    file.seek(max(0, place - 1))
    if place:
        file.readline()
    for row in iter(file.readline, b""):
        start = file.tell() - len(row)
        if start >= end:
            break
        if numbered := _NUMBERED.match(row):
            return start, row, int(numbered[1])
    return end, b"", None


def text_at(diary: Diary, number: int) -> str:
    """The project's text as that entry left it, byte for byte; raises `Faulty` if it can no longer be made."""
    place = _place(diary, number)
    return _text(diary, place, diary.entries[place].after)


def text_with(diary: Diary, digest: str) -> str:
    """The project's text that has this digest; raises `Faulty` if it can no longer be made."""
    place = next((at for at in reversed(range(len(diary.entries))) if diary.entries[at].after == digest), -1)
    return _text(diary, place, digest)


def _text(diary: Diary, place: int, digest: str) -> str:
    return _made(diary.path, _straight(diary, place, digest) or _roundabout(diary, digest))


def compare(diary: Diary, one: int, other: int) -> list[KeyChange]:
    """The keys that differ between the project as two entries left it; raises `Faulty`."""
    return list(key_changes((), data_at(diary, one), data_at(diary, other)))


def data_at(diary: Diary, number: int) -> dict[str, Any]:
    """The project's data as that entry left it; raises `Faulty`, of the diary also where the text is no project."""
    text = text_at(diary, number)
    try:
        return parse(diary.path, text.encode("utf-8")).data
    except Faulty as faulty:
        said = f"what entry {number} left isn't TOML: {without_path(faulty.faults[0])}"
        raise Faulty(diary.path, (Fault(said, line=_line_of(diary.path, number)),)) from None


def _place(diary: Diary, number: int) -> int:
    if 0 < number <= len(diary.entries) and diary.entries[number - 1].number == number:  # nothing is damaged before it
        return number - 1
    for place, entry in enumerate(diary.entries):
        if entry.number == number:
            return place
    raise Faulty(diary.path, (Fault(f"there is no entry {number} that can be read"),))


def _straight(diary: Diary, place: int, wanted: str) -> list[DiaryEntry]:
    """The entries that make the text at that place one after the other, from a whole one on; none if one is missing."""
    steps: list[DiaryEntry] = []
    for at in range(place, -1, -1):
        entry = diary.entries[at]
        if entry.after != wanted:
            return []
        if entry.packed is not None:
            steps.append(entry)
            wanted = entry.before
            if entry.packed.keep is None:
                return steps[::-1]
    return []


def _roundabout(diary: Diary, digest: str) -> list[DiaryEntry]:
    """As few entries as make that text; a damaged one is gone round where its text was also reached otherwise."""
    makers = grouped((entry.after, entry) for entry in diary.entries if entry.packed is not None)
    onward: dict[str, DiaryEntry | None] = {digest: None}  # from a text, the entry that leads on toward the wanted one
    waiting = [digest]
    for wanted in waiting:
        for maker in reversed(makers.get(wanted, ())):
            if maker.packed and maker.packed.keep is None:
                steps = [maker]
                while (following := onward[steps[-1].after]) is not None:
                    steps.append(following)
                return steps
            if maker.before not in onward:
                onward[maker.before] = maker
                waiting.append(maker.before)
    raise Faulty(diary.path, (Fault("this text can't be put together anymore: an entry that leads to it is damaged"),))


def _made(path: Path, steps: list[DiaryEntry]) -> str:
    raw = b""
    for entry in steps:
        try:
            assert entry.packed is not None
            raw = unpack(entry.packed, raw)
            if digest_of(raw) != entry.after:
                raise ValueError("it isn't the text the entry is about")
        except ValueError as wrong:
            raise _unreadable(path, entry, str(wrong)) from None
    try:
        return raw.decode("utf-8")
    except UnicodeDecodeError:
        raise _unreadable(path, steps[-1], "it is not UTF-8") from None


def _unreadable(path: Path, entry: DiaryEntry, why_not: str) -> Faulty:
    said = f"the text in entry {entry.number} cannot be read: {why_not}"
    return Faulty(path, (Fault(said, line=_line_of(path, entry.number)),))


def _line_of(path: Path, number: int) -> int | None:
    """On which line of the diary an entry stands; looked up only where something is wrong with it."""
    with suppress(OSError, Faulty), os.fdopen(_handle(path), "rb") as file:
        for line, row in enumerate(_rows(file), 1):
            with suppress(ValueError):
                if entry_in(row).number == number:
                    return line
    return None


def _from_disk(path: Path, last: int) -> Diary:
    """All of a diary, or so many of its last lines."""
    try:
        handle = _handle(path)
    except FileNotFoundError:
        return Diary(path, [], [])
    except OSError as error:
        raise Faulty(path, (Fault(f"cannot be read: {why(error)}"),)) from None
    collecting = gc.isenabled()
    gc.disable()  # nothing becomes garbage here, and looking for it again and again is what would not be linear
    try:
        with os.fdopen(handle, "rb") as file:
            return _read(path, file, _last_lines(file, last) if last else 0)
    except OSError as error:
        raise Faulty(path, (Fault(f"cannot be read: {why(error)}"),)) from None
    finally:
        if collecting:
            gc.enable()


def _handle(path: Path) -> int:
    """The diary opened to be read, without ever waiting, and only if it is an ordinary file of a bearable size."""
    flags = os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_NOCTTY", 0) | getattr(os, "O_BINARY", 0)
    handle = os.open(path, flags)
    status = os.fstat(handle)
    if not stat.S_ISREG(status.st_mode):
        os.close(handle)
        raise Faulty(path, (Fault("this isn't an ordinary file", accepted="a diary"),))
    if status.st_size > LARGEST_DIARY:
        os.close(handle)
        accepted = f"no more than {LARGEST_DIARY // 1024**2} MB; move it somewhere else and a new one is started"
        raise Faulty(path, (Fault("the diary is too large", accepted=accepted),))
    return handle


def _last_lines(file: BinaryIO, count: int) -> int:
    """Where the last lines begin that have an end, so many of them."""
    size, block = file.seek(0, os.SEEK_END), _BLOCK
    while True:
        start = max(0, size - block)
        file.seek(start)
        piece = file.read(size - start)
        found = piece.rfind(b"\n")
        for _ in range(count):
            found = piece.rfind(b"\n", 0, max(0, found))
        if found >= 0 or start == 0:
            return start + found + 1
        block *= 4


def _read(path: Path, file: BinaryIO, start: int) -> Diary:
    entries: list[DiaryEntry] = []
    troubles: list[Fault] = []
    last: DiaryEntry | None = None
    size, torn, unended, damaged = start, 0, False, 0
    file.seek(start)
    for line, row in enumerate(_rows(file), 1):
        unended = not row.endswith(b"\n")
        if row.isspace() and not unended:  # an editor's; no harm in it
            size += len(row)
            continue
        try:
            entry = entry_in(row)
        except NewerEntry as newer:
            said = f"the diary has an entry from a newer program: {newer}; the diary is left as it is"
            raise Faulty(path, (Fault(said, line=None if start else line, accepted="a newer planner"),)) from None
        except ValueError as wrong:
            if unended:
                torn, unended = len(row), False
                said = "the last line was never finished (a power cut, or a full disk): it is skipped"
                troubles.append(Fault(said, line=line))
                break
            number = 1 + damaged + (last.number if last else 0)
            troubles.append(Fault(f"entry {number} cannot be read, {wrong}; those before and after it are", line=line))
            damaged += 1
        else:
            if not (start and last is None):  # the end alone: what it follows was not read
                troubles += [Fault(said, line=line) for said in _breaks(last, entry, damaged)]
            entries.append(entry)
            last, damaged = entry, 0
        size += len(row)
    following = 1 + damaged + (last.number if last else 0)
    if troubles and start:
        above = _lines_before(file, start)
        troubles = [one._replace(line=above + (one.line or 0)) for one in troubles]
    return Diary(path, entries, troubles, size, torn, unended, following)


def _lines_before(file: BinaryIO, end: int) -> int:
    file.seek(0)
    found = 0
    for at in range(0, end, _BLOCK):
        found += file.read(min(_BLOCK, end - at)).count(b"\n")
    return found


def _rows(file: BinaryIO) -> Iterator[bytes]:
    """Line by line; of one that is longer than any entry the rest is passed over in pieces, and it is no entry."""
    while row := file.readline(LONGEST_LINE):
        if len(row) == LONGEST_LINE and not row.endswith(b"\n"):
            pieces = [row]
            while not pieces[-1].endswith(b"\n") and (piece := file.readline(LONGEST_LINE)):
                pieces.append(piece)
            row = b"".join(pieces)
        yield row


def _breaks(last: DiaryEntry | None, entry: DiaryEntry, damaged: int) -> Iterator[str]:
    """What does not fit between an entry and the last that could be read, `damaged` lines above it."""
    before = last.number if last else 0
    if entry.number <= before:
        yield f"entry {entry.number} comes after entry {before}"
    elif entry.number > before + damaged + 1:
        yield f"entries are missing before entry {entry.number}: the last was {before + damaged}"
    elif not damaged and entry.previous != (last.sum if last else ""):
        yield f"entry {entry.number} wasn't written after the entry before it"
