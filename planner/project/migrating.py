"""A text of an older format brought to the newest in place: keys move with their comments, all else stays as it is."""

import re
import tomllib
from collections.abc import Mapping

from planner.project.amending import CannotAmend, amend, rewrite
from planner.project.changes import DELETE, changed, same, without_empty
from planner.project.lines import Key, sightings, tokens, with_name
from planner.project.models.project import FORMAT
from planner.project.sections import FileSection, cut, dotted
from planner.project.source import BYTE_ORDER_MARK
from planner.project.versions import STEPS, TABLES_MOVED, brought_up_to_date, version_of

OLD_KEPT = ".bak"  # beside the file, where its comments could not be kept
_EXAMPLE = re.compile(r"\s*#\s*(?P<name>[A-Za-z0-9_-]+)\s*=")


def amend_or_rewrite(text: str, changes: Mapping[Key, object]) -> tuple[str, str | None]:
    """The changed text in the newest format, and under which ending the old file is to be kept where comments are lost.

    All that changes a project's text comes through here, so that no key of a newer format ever stands under an older
    number. What changes nothing leaves an older file as it is. Raises `ValueError` where a change does not fit what
    stands there.
    """
    wanted = version_of({"format": changes.get(("format",))})
    if wanted is not None and wanted < FORMAT:
        raise ValueError(f"format: only {FORMAT} can be written; use undo or bring-back to get an earlier state")
    if wanted is None and _changes_nothing(text, changes):
        return text, None
    text, lost = in_newest_format(text)
    try:
        return amend(text, changes), OLD_KEPT if lost else None
    except CannotAmend:
        return rewrite(text, changes), OLD_KEPT


def _changes_nothing(text: str, changes: Mapping[Key, object]) -> bool:
    data = brought_up_to_date(tomllib.loads(text.removeprefix(BYTE_ORDER_MARK)))
    return isinstance(data, dict) and same(data, changed(data, changes))


def in_newest_format(text: str) -> tuple[str, bool]:
    """The text in the newest format, and whether its comments were lost; what is of no older format stays as it is."""
    mark = BYTE_ORDER_MARK if text.startswith(BYTE_ORDER_MARK) else ""
    data = tomllib.loads(text.removeprefix(mark))
    version = version_of(data)
    wanted = brought_up_to_date(data)
    if version is None or version >= FORMAT or not isinstance(wanted, dict):
        return text, False
    body = text.removeprefix(mark)
    windows = 0 < body.count("\n") == body.count("\r\n")
    body = body.replace("\r\n", "\n") if windows else body
    for old in range(version, FORMAT):
        body = _moved(body, old)
    moved = mark + (body.replace("\n", "\r\n") if windows else body)
    now = tomllib.loads(body)
    changes: dict[Key, object] = {(name,): DELETE for name in now if name not in wanted}
    for name, value in wanted.items():
        if not same(without_empty(now.get(name)), without_empty(value)):
            changes[(name,)] = value
    try:
        return amend(moved, changes), False
    except CannotAmend:
        return rewrite(moved, changes), True


def _moved(body: str, version: int) -> str:
    """The text with as much moved as can be moved with its comments; what is left is for amending to do."""
    try:
        moved = _rows_moved(_renamed(body, dict(STEPS[version](tomllib.loads(body)).moves)), version)
        tomllib.loads(moved)
    except tomllib.TOMLDecodeError:
        return body
    return moved


def _renamed(body: str, moves: Mapping[Key, Key]) -> str:
    """Names that change where they stand: an entry's own, or its table's where both are in one dotted key."""
    pieces = [token.text for token in tokens(body)]
    for seen in sightings(body):
        old, new = seen.key, moves.get(seen.key)
        if new is None or seen.piece < 0:
            continue
        if old[:-1] == new[:-1]:
            pieces[seen.piece] = with_name(pieces[seen.piece], seen.name, str(new[-1]))
        elif old[:-2] == new[:-2] and old[-1] == new[-1] and seen.name > 0:
            pieces[seen.piece] = with_name(pieces[seen.piece], seen.name - 1, str(new[-2]))
    return "".join(pieces)


def _rows_moved(body: str, version: int) -> str:
    """Entries under a heading of their own go, with their comments, under a new heading behind it."""
    if not body.endswith("\n"):
        body += "\n"
    sections = cut(body)
    for old, new, names in TABLES_MOVED[version]:
        held = [section for section in sections if section.path == old]
        if len(held) != 1 or any(section.path == new for section in sections):
            continue
        stay, go = _parted(held[0].body, names)
        if go:
            held[0].body = stay
            heading = held[0].heading
            indent = heading[: len(heading) - len(heading.lstrip())]
            sections.insert(sections.index(held[0]) + 1, FileSection(new, "\n", f"{indent}[{dotted(new)}]\n", go))
    return "".join(section.above + section.heading + section.body for section in sections)


def _parted(body: str, names: tuple[str, ...]) -> tuple[str, str]:
    """The rows that stay and those that go: the entries of these names and examples of them, comments above included.

    An entry over several rows stays.
    """
    rows = body.splitlines(keepends=True)
    starts = {seen.line - 1: seen.key for seen in sightings(body) if seen.defined and seen.piece >= 0}
    inside = _rows_inside(body)
    going: set[int] = set()
    for at, row in enumerate(rows):
        example = _EXAMPLE.match(row)
        called = starts[at][0] if at in starts and len(starts[at]) == 1 else example["name"] if example else None
        if called not in names or at in inside or at + 1 in inside:
            continue
        going.add(at)
        above = at - 1
        while above >= 0 and above not in inside and _is_remark(rows[above]):
            going.add(above)
            above -= 1
    stay = "".join(row for at, row in enumerate(rows) if at not in going)
    return stay, "".join(row for at, row in enumerate(rows) if at in going)


def _is_remark(row: str) -> bool:
    """A row with nothing but a comment that is no example of an entry."""
    return row.lstrip().startswith("#") and _EXAMPLE.match(row) is None


def _rows_inside(body: str) -> set[int]:
    """The rows that begin within a value: in a list over several rows, or in a text in three quotes."""
    inside: set[int] = set()
    deep = 0
    for kind, piece, line in tokens(body):
        if kind == "mark":
            deep += (piece in "[{") - (piece in "]}")
        breaks = piece.count("\n")
        if breaks and (deep or kind not in ("blank", "comment")):
            inside.update(range(line, line + breaks))
    return inside
