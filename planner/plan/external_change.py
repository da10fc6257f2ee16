"""What another program did to the file of the project that is open, and putting back what was here."""

from contextlib import suppress
from pathlib import Path
from typing import NamedTuple

from planner.plan.change.cure import refuse_return
from planner.plan.state import State, read
from planner.project.diary import PUT_BACK, commit
from planner.project.diary_entries import KeyChange, key_changes
from planner.project.faults import Faulty, NothingToRead, as_line, why
from planner.project.reading import understand
from planner.project.saving import write
from planner.project.source import ProjectText, digest_of, load, parse, read_bytes
from planner.project.way_back import KEPT


class ChangedFile(NamedTuple):
    """The file as it is now: its digest, empty where it is gone; what differs; and why it cannot be used.

    `faults` are told, and what does not rest on them can be used.
    """

    digest: str
    moved: tuple[KeyChange, ...] = ()
    troubles: tuple[str, ...] = ()
    faults: tuple[str, ...] = ()

    @property
    def readable(self) -> bool:
        return not self.troubles


def look_for_external_change(source: ProjectText) -> ChangedFile | None:
    """How the file differs from what was read of it; None where it does not."""
    try:
        raw = read_bytes(source.path)
    except OSError as error:
        return ChangedFile("", troubles=(why(error),))
    except Faulty as faulty:
        return ChangedFile("", troubles=_lines(faulty))
    digest = digest_of(raw)
    if digest == source.digest:
        return None
    moved: tuple[KeyChange, ...] = ()
    try:
        new = parse(source.path, raw)
        moved = tuple(key_changes((), source.data, new.data))
        faults = understand(new).faults
    except Faulty as faulty:
        return ChangedFile(digest, moved, _lines(faulty))
    return ChangedFile(digest, moved, faults=_lines(Faulty(source.path, faults)))


def put_back(state: State, because: str = "") -> State:
    """The file as it was read here, with an entry in the diary, what was done outside before it; raises `NotSaved`.

    What stood there and is no TOML has no entry: it is kept as a file beside the project. Raises `StillFaulty` where it
    had faults and still would.
    """
    source = state.source
    try:
        now = load(source.path)
        refuse_return(now, source.text)
    except NothingToRead:
        digest = None
        with suppress(OSError):
            digest = digest_of(read_bytes(source.path))
        written = write(source.path, source.text, expected_digest=digest, keep_old=KEPT)
        now = written.source
    commit(now, source.text, kind=PUT_BACK, because=because)
    return read(source.path, state.day)


def _lines(faulty: Faulty) -> tuple[str, ...]:
    return tuple(as_line(Path(faulty.path.name), fault) for fault in faulty.faults)
