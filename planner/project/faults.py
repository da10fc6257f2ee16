"""What is wrong in what a person wrote, as data with a place, and how one such fault reads on one line."""

import errno
import re
from pathlib import Path
from typing import NamedTuple

from planner.quantities.text import clean, cut

_BARE_KEY = re.compile(r"[A-Za-z0-9_-]+")
_LONGEST_SHOWN = 80  # characters of what was read, and of one name in a key
_LONGEST_KEY = 320  # of a whole key: six names that are cut have fewer
LONGEST_SAID = 2000  # of a sentence; all the limits that there are, listed, are some 1,500

_REASONS = {
    errno.EACCES: "you don't have permission",
    errno.EPERM: "you don't have permission",
    errno.ENOENT: "there is no such file or folder",
    errno.EEXIST: "another file took that name",
    errno.ENOTDIR: "part of the path is not a folder",
    errno.EISDIR: "it is a folder",
    errno.ELOOP: "its links go around in a circle",
    errno.ENAMETOOLONG: "the name is too long",
    errno.ENOSPC: "the disk is full",
    errno.EDQUOT: "your share of the disk is full",
    errno.EROFS: "the disk is read-only",
    errno.EIO: "the disk failed",
}


class Fault(NamedTuple):
    """One thing wrong: where (`key`, `line` from 1), what was `read`, what is `accepted`, as far as is known.

    `against` are the other entries that are in question with it, such as the one that it contradicts.
    """

    message: str
    key: tuple[str | int, ...] = ()
    line: int | None = None
    read: str = ""
    accepted: str = ""
    against: tuple[tuple[str | int, ...], ...] = ()


class Faulty(Exception):
    """A file that cannot be used as it stands, with every fault that was found in it."""

    def __init__(self, path: Path, faults: tuple[Fault, ...]) -> None:
        super().__init__(path, faults)
        self.path = path
        self.faults = faults

    def __str__(self) -> str:
        return "\n".join(as_line(self.path, fault) for fault in self.faults)


class NothingToRead(Faulty):
    """A file of which nothing can be read: it is gone, or no TOML, or of a format that is not known."""


class StillFaulty(Faulty):
    """What was to be written leaves faults in a file that has faults; these are the ones that would be left."""


def as_line(path: Path, fault: Fault) -> str:
    """The fault on one plain line, with nothing in it that could drive a terminal.

    `truck.toml:12: axles.front.rating: read '12 parsecs'; accepted: a weight such as 4,500 lb`
    """
    place = clean(str(path))
    if fault.line is not None:
        place += f":{fault.line}"
    return ": ".join(piece for piece in (place, without_path(fault)) if piece)


def without_path(fault: Fault) -> str:
    """The fault on one plain line, for where its file is known: the key, what is wrong, and what is accepted."""
    said = [plain(fault.message, LONGEST_SAID)] if fault.message else []
    if fault.read:
        said.append(f"read '{plain(fault.read)}'")
    if fault.accepted:
        said.append(f"accepted: {plain(fault.accepted, LONGEST_SAID)}")
    return ": ".join(piece for piece in (as_key(fault.key), "; ".join(said)) if piece)


def as_key(key: tuple[str | int, ...]) -> str:
    """The key as TOML would write it, with places in a list counted from 0: `parts[2]."odd name".price`.

    A name that is too long to be read is cut, and so is a key of too many names.
    """
    shown = ""
    for name in key:
        if isinstance(name, int):
            shown += f"[{name}]"
            continue
        name = cut(name, _LONGEST_SHOWN)
        if not _BARE_KEY.fullmatch(name):
            name = '"' + clean(name.replace("\\", "\\\\").replace('"', '\\"')) + '"'
        shown += f".{name}" if shown else name
    if len(shown) <= _LONGEST_KEY:
        return shown
    return f"{shown[: _LONGEST_KEY - _LONGEST_SHOWN]}…{shown[-_LONGEST_SHOWN:]}"


def plain(text: str, longest: int = _LONGEST_SHOWN) -> str:
    """A person's text made harmless, on one line, cut where it is longer than `longest` characters."""
    if len(text) > longest:
        text = text[:longest] + "…"
    return clean(" ".join(text.split()))


def why(error: OSError) -> str:
    """Why the system refused, in plain words."""
    if error.errno in _REASONS:
        return _REASONS[error.errno]
    return (error.strerror or type(error).__name__).lower()
