"""A sheet's file on the disk: the mark by which the planner knows its own sheets, and the one thing they may replace.

What stands under a name is judged by the file that was opened, never by the name, and looked at once more just before
the new sheet takes its place. A link is never followed: whoever made the folder could have it point anywhere.
"""

import errno
import os
import stat
from contextlib import suppress
from pathlib import Path

from planner.project.faults import Faulty
from planner.project.saving import put_new
from planner.project.source import LARGEST_FILE, parse
from planner.quantities.text import clean
from planner.sheets.blocks import MARK
from planner.sheets.kind import CannotPrint

LARGEST_SHEET = 32 * 1024**2  # bytes; a large build record has some two million
_IN_TEXT = f"\n{MARK}.\n".encode()
_IN_PDF = f"<pdf:Keywords>{MARK}</pdf:Keywords>".encode()


def is_sheet(raw: bytes) -> bool:
    """Whether these bytes are a sheet that the planner printed: a text by its last line, a PDF by its keywords."""
    return _IN_PDF in raw if raw.startswith(b"%PDF-") else raw.endswith(_IN_TEXT)


def standing_sheet(path: Path) -> os.stat_result | None:
    """The sheet of ours that stands under this name, None where nothing does; raises `CannotPrint` or `OSError`."""
    try:
        _refuse_odd_file(path, os.lstat(path))
        # Between the look above and the opening something else may have come in its place: never wait, look again.
        flags = os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_NOCTTY", 0)
        handle = os.open(path, flags | getattr(os, "O_BINARY", 0))
    except FileNotFoundError:
        return None
    with os.fdopen(handle, "rb") as file:
        status = os.fstat(handle)
        _refuse_odd_file(path, status)
        raw = file.read(LARGEST_SHEET + 1)
    if len(raw) > LARGEST_SHEET or not is_sheet(raw):
        said = f"{_named(path, raw)} is there, and printing only replaces sheets the planner printed"
        raise CannotPrint(f"{clean(str(path))}: not printed: {said}: choose another name, or move that file first")
    return status


def put_in_place(fresh: Path, path: Path, old: os.stat_result | None) -> None:
    """The finished bytes take the name, if there still stands what was judged; raises `OSError`."""
    if old is None:
        put_new(fresh, path)
    elif _same(os.lstat(path), old):
        os.replace(fresh, path)
    else:
        raise FileExistsError(errno.EEXIST, os.strerror(errno.EEXIST))


def _same(now: os.stat_result, then: os.stat_result) -> bool:
    """A link has an inode of its own, and what was written since has another size or time."""
    return (now.st_dev, now.st_ino, now.st_size, now.st_mtime_ns) == (
        then.st_dev, then.st_ino, then.st_size, then.st_mtime_ns
    )  # fmt: skip


def _refuse_odd_file(path: Path, status: os.stat_result) -> None:
    if stat.S_ISREG(status.st_mode):
        return
    cure = "choose another name"
    if stat.S_ISLNK(status.st_mode):
        said, cure = "there's a link there, and printing doesn't follow links", f"{cure}, or remove the link first"
    elif stat.S_ISDIR(status.st_mode):
        said = "that is a folder"
    else:
        said = "that is a pipe, a socket or a device"
    raise CannotPrint(f"{clean(str(path))}: not printed: {said}: {cure}")


def _named(path: Path, raw: bytes) -> str:
    """What a file is that is no sheet of ours, as far as it can be told."""
    if not raw:
        return "an empty file"
    if raw.startswith(b"%PDF-"):
        return "a PDF without the planner's mark"
    if len(raw) <= LARGEST_FILE:
        with suppress(Faulty):
            if "format" in parse(path, raw).data:
                return "a project file"
    return "another file"
