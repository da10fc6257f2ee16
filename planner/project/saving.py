"""Putting a project's text on the disk: whole or not at all, and never over what another program wrote meanwhile."""

import os
import re
import secrets
import stat
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path

from planner.project.diary_reading import diary_path
from planner.project.faults import Faulty, as_line, why
from planner.project.project_path import ENDING, beside
from planner.project.source import ProjectText, digest_of, parse, read_bytes
from planner.quantities.text import clean

_LEFT = re.compile(r"[0-9a-f]{12}\.new")
PATIENCE = 2.0  # seconds to wait for another program that is saving the same file


class _Reserved(threading.local):
    """The files that this thread holds the lock of."""

    def __init__(self) -> None:
        self.files: set[Path] = set()


_HERE = _Reserved()


class NotSaved(Exception):
    """The file on the disk is as it was; the message is one plain line."""

    def __init__(self, path: Path, reason: str) -> None:
        super().__init__(f"{clean(str(path))}: not saved: {reason}")
        self.path, self.reason = path, reason


class Busy(NotSaved):
    """Another program is saving the same file."""


class ChangedOutside(NotSaved):
    """The file is no longer what was read."""


class CannotSave(NotSaved):
    """The system refuses, or the text would not be read back."""


@dataclass(frozen=True, slots=True)
class Written:
    """A save that is done: the file as it now reads, and where the old one is `kept`, if it was to be.

    `durable` is false when the system would not confirm that the folder is on the disk: the file is whole, but after a
    power cut it may be the old one.
    """

    source: ProjectText
    kept: Path | None = None
    durable: bool = True


def write(path: Path, text: str, *, expected_digest: str | None, keep_old: str | None = None) -> Written:
    """Puts the text in place of the file in one go, and only if the file is still what was read; raises `NotSaved`.

    `expected_digest` is that of the file as read, or None for a file that must not be there yet. With `keep_old`, such
    as `.v1.bak`, the old bytes stay beside it under that suffix, numbered where another file has the name. A link is
    followed and its target replaced.

    Programs on the same file wait for each other by a lock file beside it, `.<name>.lock`. It is empty and stays there,
    since deleting it would let two programs in; the lock itself is the system's and ends with the program, however that
    ends, so a lock file found there never blocks anything and may be deleted while nothing is being saved.
    """
    source = read_back(path, text)
    if expected_digest is None and os.path.islink(path):  # whoever made the folder could have it point anywhere
        raise CannotSave(path, "there is a link by that name; give the new file a name of its own")
    twin = source.path.with_name(source.path.name.removesuffix(ENDING))
    if expected_digest is None and twin != source.path and twin.is_file() and diary_path(twin).exists():
        raise CannotSave(path, f"there is a project {clean(twin.name)} already, with the same diary")
    with held(path) as target:
        kept = replace_file(path, target, text.encode("utf-8"), expected_digest, keep_old)
        return Written(source, kept, synced(target.parent))


def read_back(path: Path, text: str) -> ProjectText:
    """A text as it will be read again: nothing is written that could not be; raises `CannotSave`."""
    try:
        return parse(Path(os.path.realpath(path)), text.encode("utf-8"))
    except UnicodeEncodeError:
        raise CannotSave(path, "a text holds half a character (a lone surrogate)") from None
    except Faulty as faulty:
        raise CannotSave(path, f"it could not be read again: {str(faulty).splitlines()[0]}") from None
    except ValueError:  # a NUL in the name
        raise CannotSave(path, "that won't work as a file name") from None


@contextmanager
def held(path: Path) -> Iterator[Path]:
    """The lock on a project's file, held; gives the file itself where `path` is a link.

    Whatever fails within is told as a `NotSaved`.
    """
    try:
        with told_as_not_saved(path), reserved(path) as target:
            yield target
    except OSError as error:
        raise CannotSave(path, why(error)) from None


@contextmanager
def told_as_not_saved(path: Path) -> Iterator[None]:
    """What is wrong with the file, or with another such as its diary, keeps it from being saved.

    The first fault is told in a line; another file's by that file's name and line.
    """
    try:
        yield
    except Faulty as faulty:
        fault = faulty.faults[0]
        own = os.path.realpath(faulty.path) == os.path.realpath(path)
        raise CannotSave(path, fault.message if own else as_line(Path(faulty.path.name), fault)) from None


@contextmanager
def reserved(path: Path) -> Iterator[Path]:
    """As `held`, for a whole piece of work: reading the newest file, working a change out on it, and saving that.

    Saving within waits for no lock again. What fails within is left as it is.
    """
    import filelock

    try:
        target = Path(os.path.realpath(path))
    except ValueError:  # a NUL in it
        raise CannotSave(path, "that won't work as a file name") from None
    if target in _HERE.files:
        yield target
        return
    if not os.path.isdir(target.parent):  # the lock would make it
        raise CannotSave(path, "there is no such folder")
    place = beside(target, "lock")
    try:
        mode = _lock_ready(path, place, target)
        lock = filelock.FileLock(place, timeout=PATIENCE, poll_interval=0.02, mode=mode)
        lock.acquire()
    except filelock.Timeout:
        raise Busy(path, "another program is saving it; try again") from None
    except OSError as error:
        raise CannotSave(path, why(error)) from None
    except NotImplementedError:
        raise CannotSave(path, "files cannot be locked in this folder") from None
    _HERE.files.add(target)
    try:
        yield target
    finally:
        _HERE.files.discard(target)
        with suppress(OSError):
            lock.release()


def _lock_ready(path: Path, lock: Path, target: Path) -> int:
    """Makes the lock where there is none, gives it the project's owner, and returns the mode that it has.

    Left as a first run by another user made it, it would lock the owner out for good. Raises `CannotSave` where
    something else has its name: in a folder that somebody sent that could be a link to anywhere.
    """
    there = True
    try:
        _refuse_no_lock(path, lock, os.lstat(lock))
    except FileNotFoundError:
        there = False
    like = os.stat(target) if target.exists() else None
    flags = os.O_RDWR | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0)
    try:
        handle = os.open(lock, flags | getattr(os, "O_NOCTTY", 0), 0o644)
    except PermissionError as error:
        if not there:
            raise
        said = f"{why(error)} for its lock {clean(lock.name)}, which another user may have made"
        raise CannotSave(path, f"{said}; delete that when no program is saving") from None
    try:
        status = os.fstat(handle)
        _refuse_no_lock(path, lock, status)
        if like is not None and status.st_nlink == 1:
            # Whoever may write the project may lock it; its owner too while it is marked read-only.
            made_alike(handle, like, stat.S_IMODE(like.st_mode) & 0o666 | 0o600)
        return stat.S_IMODE(os.fstat(handle).st_mode)
    finally:
        os.close(handle)


def _refuse_no_lock(path: Path, lock: Path, status: os.stat_result) -> None:
    if stat.S_ISLNK(status.st_mode):
        odd = "a link"
    elif not stat.S_ISREG(status.st_mode):
        odd = "not a file but a folder, a pipe or a device"
    elif status.st_nlink > 1 and status.st_size:
        odd = "a second name for another file"
    else:
        return
    raise CannotSave(path, f"its lock {clean(lock.name)} is {odd}; remove that and try again")


def replace_file(path: Path, target: Path, raw: bytes, expected: str | None, keep_old: str | None) -> Path | None:
    """Put the bytes in place of the file in one go, while the lock is held; gives where the old ones are kept."""
    old = unchanged(path, target, expected)
    status = None if old is None else os.stat(target)
    if status is not None and not os.access(target, os.W_OK):
        raise CannotSave(path, "the file is marked read-only")
    clear_left(target)
    fresh = fresh_name(target)
    put_file(fresh, raw, status)
    try:
        kept = None if old is None or keep_old is None else keep_beside(target, old, keep_old, status)
        unchanged(path, target, expected)  # as late as can be: an editor takes no lock
        if old is None:
            put_new(fresh, target)
        else:
            _replace(fresh, target, raw)
    except BaseException:
        with suppress(OSError):
            os.unlink(fresh)
        raise
    return kept


def _replace(fresh: Path, target: Path, raw: bytes) -> None:
    """A network disk may do it, lose the answer, be asked again, and say that it failed: what stands there tells."""
    try:
        os.replace(fresh, target)
    except OSError:
        with suppress(OSError, Faulty):
            if read_bytes(target) == raw:
                return
        raise


def fresh_name(target: Path) -> Path:
    """A name beside the file for its new bytes until they take its place."""
    return target.with_name(f".{target.name}.{secrets.token_hex(6)}.new")


def clear_left(target: Path, age: float = 0.0) -> None:
    """Takes away what a killed program left under such a name; with `age`, only what is so many seconds old."""
    with suppress(OSError):
        for name in os.listdir(target.parent):
            if name.startswith(f".{target.name}.") and _LEFT.fullmatch(name, len(target.name) + 2):
                left = target.with_name(name)
                if not age or os.stat(left).st_mtime < time.time() - age:
                    os.unlink(left)


def unchanged(path: Path, target: Path, expected: str | None) -> bytes | None:
    """The bytes of the file if it is still what was read; raises `ChangedOutside`."""
    try:
        raw = read_bytes(target)
    except FileNotFoundError:
        if expected is None:
            return None
        raise ChangedOutside(path, "the file has gone since it was read") from None
    except Faulty:  # a folder, a pipe, or grown too large: not what was read
        raise ChangedOutside(path, "something else is there now") from None
    if expected is None:
        raise ChangedOutside(path, "there is already a file by that name")
    if digest_of(raw) != expected:
        raise ChangedOutside(path, "it was changed by another program since it was read")
    return raw


def keep_beside(target: Path, old: bytes, suffix: str, status: os.stat_result | None) -> Path:
    """Keep old bytes beside the file under a suffix, numbered where another file has the name."""
    number = 1
    while True:
        place = target.with_name(target.name + suffix + ("" if number == 1 else f".{number}"))
        try:
            put_file(place, old, status)
            return place
        except FileExistsError:
            with suppress(OSError, Faulty):
                if read_bytes(place) == old:
                    return place
            number += 1


def put_file(path: Path, raw: bytes, like: os.stat_result | None) -> None:
    """A new file, on the disk when this returns, with the permissions and owner of another as far as we may."""
    flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0)
    handle = os.open(path, flags, 0o666 if like is None else 0o600)
    try:
        try:
            if like is not None:
                made_alike(handle, like, stat.S_IMODE(like.st_mode))
            rest = memoryview(raw)
            while rest:
                rest = rest[os.write(handle, rest) :]
            os.fsync(handle)
        finally:
            os.close(handle)
    except BaseException:
        with suppress(OSError):
            os.unlink(path)
        raise


def made_alike(handle: int, like: os.stat_result, mode: int) -> None:
    """Gives an open file the owner and group of another, and these permissions, as far as we may."""
    if not hasattr(os, "fchown"):
        return
    for owner in (like.st_uid, -1):  # who may not give it away may still share it with the group
        with suppress(PermissionError):
            os.fchown(handle, owner, like.st_gid)
            break
    with suppress(PermissionError):  # some disks know no permissions
        os.fchmod(handle, mode)


def put_new(fresh: Path, target: Path) -> None:
    """The finished bytes take a name that nothing has, no link either; raises `FileExistsError` where it is taken."""
    try:
        os.link(fresh, target)
    except FileExistsError:
        if not os.path.samestat(os.lstat(fresh), os.lstat(target)):  # a network disk may lose the answer and ask again
            raise
    except (OSError, AttributeError):  # some disks give a file one name only: it is taken, and then replaced
        os.close(os.open(target, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600))
        os.replace(fresh, target)
        return
    with suppress(OSError):
        os.unlink(fresh)


def synced(path: Path) -> bool:
    """Whether a file, or a folder's own entry, is on the disk now."""
    if os.name == "nt":  # no such thing there, and none needed
        return True
    try:
        handle = os.open(path, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
    except OSError:
        return False
    return True
