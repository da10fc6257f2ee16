"""Files that the program makes for people, and may replace: what stands under a name is judged by what was opened.

A link is never followed: whoever made the folder could have it point anywhere.
"""

import errno
import os
import stat
from pathlib import Path
from typing import NamedTuple

from planner.project.saving import put_new


class StandingFile(NamedTuple):
    """What stands under a name: its status when it was read, and its bytes, cut one behind the most that are read."""

    status: os.stat_result
    raw: bytes


class OddFile(Exception):
    """Under the name stands what is no ordinary file: `what` is it, such as a folder."""

    def __init__(self, what: str) -> None:
        super().__init__(what)
        self.what = what


def standing_file(path: Path, largest: int) -> StandingFile | None:
    """What stands under this name, None where nothing does; raises `OddFile` or `OSError`, and never waits."""
    try:
        _refuse_odd_file(os.lstat(path))
        # Between the look above and the opening something else may have come in its place: never wait, look again.
        flags = os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_NOCTTY", 0)
        handle = os.open(path, flags | getattr(os, "O_BINARY", 0))
    except FileNotFoundError:
        return None
    with os.fdopen(handle, "rb") as file:
        status = os.fstat(handle)
        _refuse_odd_file(status)
        return StandingFile(status, file.read(largest + 1))


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


def _refuse_odd_file(status: os.stat_result) -> None:
    if stat.S_ISLNK(status.st_mode):
        raise OddFile("a link")
    if stat.S_ISDIR(status.st_mode):
        raise OddFile("a folder")
    if not stat.S_ISREG(status.st_mode):
        raise OddFile("a pipe, a socket or a device")
