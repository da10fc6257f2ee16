"""Changing a project file: amending its text so that what a person wrote stays, and putting it on the disk whole."""

import copy
import datetime
import os
import secrets
import stat
import tomllib
from collections.abc import Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass
from enum import Enum
from pathlib import Path
from typing import Any, NamedTuple

from planner.project.faults import Faulty, as_key, why
from planner.project.lines import Key, sightings, tokens
from planner.project.source import BYTE_ORDER_MARK, Source, digest_of, parse, read_bytes
from planner.quantities.text import clean

PATIENCE = 2.0  # seconds to wait for another program that is saving the same file


class Delete(Enum):
    """The one value that stands for "take this key away" in a set of changes."""

    DELETE = "delete"


DELETE = Delete.DELETE


class CannotAmend(Exception):
    """The text cannot be changed in place; `rewrite` can, at the price of comments and layout."""


class NotSaved(Exception):
    """The file on the disk is as it was; the message is one plain line."""

    def __init__(self, path: Path, reason: str) -> None:
        super().__init__(f"{clean(str(path))}: not saved: {reason}")
        self.path = path


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
    power cut it may be the old one. `comments_lost` when the text had to be written anew.
    """

    source: Source
    kept: Path | None = None
    durable: bool = True
    comments_lost: bool = False


def save(source: Source, changes: Mapping[Key, object], *, keep_old: str | None = None) -> Written:
    """Makes the changes in the file that was read as `source`; raises `NotSaved` and leaves it alone when it cannot.

    Where the text cannot be amended in place it is written anew, and the old file is kept beside it (`.bak`).
    """
    try:
        text, lost = amend(source.text, changes), False
    except CannotAmend:
        text, lost = rewrite(source.text, changes), True
    suffix = keep_old or (".bak" if lost else None)
    written = write(source.path, text, expected_digest=source.digest, keep_old=suffix)
    return Written(written.source, written.kept, written.durable, lost)


def amend(text: str, changes: Mapping[Key, object]) -> str:
    """The text with the changes made in it, comments, order, layout and all other keys as they were; or `CannotAmend`.

    Changes are made in the order given. Tables and lists on the way are made where they are missing, an index one past
    the end appends, and a list or table given whole is compared with the old one, so that only what differs is touched.
    The comment on the line of a deleted entry, or above a deleted table, stays; one inside a deleted table or list goes
    with it.
    """
    mark = BYTE_ORDER_MARK if text.startswith(BYTE_ORDER_MARK) else ""
    body = text.removeprefix(mark)
    windows = 0 < body.count("\n") == body.count("\r\n")
    if windows:
        body = body.replace("\r\n", "\n")
    data = tomllib.loads(body)
    wanted = changed(data, changes)
    if same(data, wanted):
        return text
    if not body.endswith("\n"):
        body += "\n"
    try:
        amended = _amended(body, data, changes)
        right = same(_without_empty(tomllib.loads(amended)), _without_empty(wanted))
    except Exception as error:  # tomlkit fails with errors of every kind; none of them may stop a save
        raise CannotAmend(f"the text cannot be changed in place: {error!r}") from error
    if not right:
        raise CannotAmend("the text cannot be changed in place")
    return mark + (amended.replace("\n", "\r\n") if windows else amended)


def rewrite(text: str, changes: Mapping[Key, object]) -> str:
    """The changed data written anew: all keys stay, comments, order and layout do not."""
    import tomli_w

    return tomli_w.dumps(changed(tomllib.loads(text.removeprefix(BYTE_ORDER_MARK)), changes))


def changed(data: dict[str, Any], changes: Mapping[Key, object]) -> dict[str, Any]:
    """A copy of the plain data with the changes made; `ValueError` where a key does not fit what stands there."""
    result = copy.deepcopy(data)
    for key, value in changes.items():
        if not key:
            raise ValueError("a change needs a key")
        _put(result, key, value if value is DELETE else _plain_value(value))
    return result


def same(one: object, other: object) -> bool:
    """Whether two values read from TOML are the same, kind included: 1, 1.0 and true differ."""
    if type(one) is not type(other):
        return False
    if isinstance(one, dict) and isinstance(other, dict):
        return one.keys() == other.keys() and all(same(value, other[name]) for name, value in one.items())
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(map(same, one, other))
    return one == other or (one != one and other != other)


def write(path: Path, text: str, *, expected_digest: str | None, keep_old: str | None = None) -> Written:
    """Puts the text in place of the file in one go, and only if the file is still what was read; raises `NotSaved`.

    `expected_digest` is that of the file as read, or None for a file that must not be there yet. With `keep_old`, such
    as `.v1.bak`, the old bytes stay beside it under that suffix, numbered where another file has the name. A link is
    followed and its target replaced.

    Programs on the same file wait for each other by a lock file beside it, `.<name>.lock`. It is empty and stays there,
    since deleting it would let two programs in; the lock itself is the system's and ends with the program, however that
    ends, so a lock file found there never blocks anything and may be deleted while nothing is being saved.
    """
    import filelock

    try:
        target = Path(os.path.realpath(path))
    except ValueError:  # a NUL in it
        raise CannotSave(path, "this is no name for a file") from None
    if not os.path.isdir(target.parent):  # the lock would make it
        raise CannotSave(path, "there is no such folder")
    lock = filelock.FileLock(target.with_name(f".{target.name}.lock"), timeout=PATIENCE, poll_interval=0.02)
    try:
        raw = text.encode("utf-8")
        source = parse(target, raw)  # never write what could not be read again
        lock.acquire()
    except UnicodeEncodeError:
        raise CannotSave(path, "a text holds half a character (a lone surrogate)") from None
    except Faulty as faulty:
        raise CannotSave(path, f"it could not be read again: {str(faulty).splitlines()[0]}") from None
    except filelock.Timeout:
        raise Busy(path, "another program is saving it; try again") from None
    except OSError as error:
        raise CannotSave(path, why(error)) from None
    except NotImplementedError:
        raise CannotSave(path, "files cannot be locked in this folder") from None
    try:
        kept = _replace(path, target, raw, expected_digest, keep_old)
        return Written(source, kept, _folder_synced(target.parent))
    except OSError as error:
        raise CannotSave(path, why(error)) from None
    finally:
        with suppress(OSError):
            lock.release()


def _replace(path: Path, target: Path, raw: bytes, expected: str | None, keep_old: str | None) -> Path | None:
    old = _unchanged(path, target, expected)
    status = None if old is None else os.stat(target)
    if status is not None and not os.access(target, os.W_OK):
        raise CannotSave(path, "the file is marked read-only")
    fresh = target.with_name(f".{target.name}.{secrets.token_hex(6)}.new")
    _put_file(fresh, raw, status)
    try:
        kept = None if old is None or keep_old is None else _kept(target, old, keep_old, status)
        _unchanged(path, target, expected)  # as late as can be: an editor takes no lock
        os.replace(fresh, target)
    except BaseException:
        with suppress(OSError):
            os.unlink(fresh)
        raise
    return kept


def _unchanged(path: Path, target: Path, expected: str | None) -> bytes | None:
    try:
        raw = read_bytes(target)
    except FileNotFoundError:
        if expected is None:
            return None
        raise ChangedOutside(path, "the file is gone since it was read") from None
    except Faulty:  # a folder, a pipe, or grown too large: not what was read
        raise ChangedOutside(path, "something else stands there now") from None
    if expected is None:
        raise ChangedOutside(path, "there is such a file already")
    if digest_of(raw) != expected:
        raise ChangedOutside(path, "it was changed by another program since it was read")
    return raw


def _kept(target: Path, old: bytes, suffix: str, status: os.stat_result | None) -> Path:
    number = 1
    while True:
        place = target.with_name(target.name + suffix + ("" if number == 1 else f".{number}"))
        try:
            _put_file(place, old, status)
            return place
        except FileExistsError:
            with suppress(OSError, Faulty):
                if read_bytes(place) == old:
                    return place
            number += 1


def _put_file(path: Path, raw: bytes, like: os.stat_result | None) -> None:
    """A new file, on the disk when this returns, with the permissions and owner of another as far as we may."""
    flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0)
    handle = os.open(path, flags, 0o666 if like is None else 0o600)
    try:
        try:
            if like is not None and hasattr(os, "fchown"):
                with suppress(PermissionError):
                    os.fchown(handle, like.st_uid, like.st_gid)
                with suppress(PermissionError):  # some disks know no permissions
                    os.fchmod(handle, stat.S_IMODE(like.st_mode))
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


def _folder_synced(folder: Path) -> bool:
    if os.name == "nt":  # no such thing there, and none needed
        return True
    try:
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
    except OSError:
        return False
    return True


def _put(holder: Any, key: Key, value: object) -> None:
    name, rest = key[0], key[1:]
    fits = isinstance(holder, dict) if isinstance(name, str) else isinstance(holder, list) and 0 <= name <= len(holder)
    if not fits:
        raise ValueError(f"{as_key(key)} does not fit what stands there")
    present = name in holder if isinstance(holder, dict) else name < len(holder)  # type: ignore[operator]
    if value is DELETE and not present:
        return
    if rest:
        inner = holder[name] if present else [] if isinstance(rest[0], int) else {}
        _put(inner, rest, value)
        value = inner
    if value is DELETE:
        del holder[name]
    elif present or isinstance(holder, dict):
        holder[name] = value
    else:
        holder.append(value)


def _plain_value(value: object) -> Any:
    """The value in the exact types of TOML, tables within tables last, so that no heading swallows what follows it."""
    if isinstance(value, Mapping):
        plain = {str(name): _plain_value(inner) for name, inner in value.items()}
        return dict(sorted(plain.items(), key=lambda entry: isinstance(entry[1], dict) or _is_tables(entry[1])))
    if isinstance(value, (list, tuple)):
        return [_plain_value(inner) for inner in value]
    if isinstance(value, (bool, datetime.datetime, datetime.date, datetime.time)):
        return value
    for kind in (int, float, str):
        if isinstance(value, kind):
            return kind(value)
    raise TypeError(f"TOML has no {type(value).__name__}")


def _is_tables(value: object) -> bool:
    return isinstance(value, list) and bool(value) and all(isinstance(inner, dict) for inner in value)


def _without_empty(value: Any) -> Any:
    """Without tables that hold nothing: one that had no heading of its own goes when its last entry does."""
    if isinstance(value, dict):
        inner = {name: _without_empty(held) for name, held in value.items()}
        return {name: held for name, held in inner.items() if held != {}}
    return [_without_empty(held) for held in value] if isinstance(value, list) else value


class _Step(NamedTuple):
    """One thing to do to the document; `insert` puts a new element before the one at that index."""

    key: Key
    value: Any
    insert: bool = False


def _steps(key: Key, old: Any, new: Any) -> Iterator[_Step]:
    """What to do, in this order, so that `old` becomes `new` and only what differs is touched."""
    if same(old, new):
        return
    if isinstance(old, dict) and isinstance(new, dict):
        yield from (_Step((*key, name), DELETE) for name in old if name not in new)
        for name, value in new.items():
            yield from _steps((*key, name), old[name], value) if name in old else [_Step((*key, name), value)]
    elif isinstance(old, list) and isinstance(new, list) and old and (not new or _is_tables(old) == _is_tables(new)):
        shorter = min(len(old), len(new))
        start = next((at for at in range(shorter) if not same(old[at], new[at])), shorter)
        end = next((at for at in range(shorter - start) if not same(old[-1 - at], new[-1 - at])), shorter - start)
        middle = shorter - end
        for at in range(start, middle):
            yield from _steps((*key, at), old[at], new[at])
        yield from (_Step((*key, at), DELETE) for at in reversed(range(middle, len(old) - end)))
        yield from (_Step((*key, at), new[at], True) for at in range(middle, len(new) - end))
    else:
        yield _Step(key, new)


def _amended(body: str, data: dict[str, Any], changes: Mapping[Key, object]) -> str:
    sections = _sections(body)
    for key, value in changes.items():
        wanted = changed(data, {key: value})
        for step in _steps((), data, wanted):
            _make(sections, step)
        data = wanted
    return "".join(section.above + section.heading + section.body for section in sections)


@dataclass(slots=True, eq=False)
class _Section:
    """A heading with what stands above it and the entries below it; the first has none, the last is all that is left.

    Only the body goes through tomlkit: over several headings it may change their order, and what stands above a heading
    it counts among the entries of the table before.
    """

    path: Key
    above: str
    heading: str
    body: str


def _sections(text: str) -> list[_Section]:
    rows = [row + "\n" for row in text.split("\n")[:-1]]
    headings = [sighting for sighting in sightings(text) if sighting.heading]
    starts = [sighting.line - 1 for sighting in headings] + [len(rows)]
    sections = [_Section((), "", "", "")]
    above = _settle(sections[0], rows[: starts[0]])
    for sighting, start, end in zip(headings, starts, starts[1:], strict=False):
        section = _Section(sighting.key, above, rows[start], "")
        sections.append(section)
        above = _settle(section, rows[start + 1 : end])
    if above.partition("\n")[0].strip():  # no blank line: it belongs to the last entry
        sections[-1].body += above
        above = ""
    return [*sections, _Section(_END, above, "", "")]


_END: Key = (-1,)  # of no table; what stands at the end of the file, a blank line below the last entry


def _settle(section: _Section, rows: list[str]) -> str:
    """Gives the section its rows, but for the comments and blank lines at the end that belong to the next heading.

    Those begin with the first blank line or, where there is none, right below the last entry. At the top of the file,
    without any entry, they begin below the last blank line.
    """
    last = -1
    for kind, piece, line in tokens("".join(rows)):
        if kind not in ("blank", "comment") and piece != "\n":
            last = line - 1 + piece.count("\n")
    blanks = [at for at in range(last + 1, len(rows)) if not rows[at].strip()]
    if not section.heading and last < 0:
        cut = blanks[-1] + 1 if blanks else len(rows)
    else:
        cut = blanks[0] if blanks else last + 1
    section.body = "".join(rows[:cut])
    return "".join(rows[cut:])


def _make(sections: list[_Section], step: _Step) -> None:
    key, value = step.key, step.value
    holder = key[:-1]
    inside = [section for section in sections if section.path[: len(key)] == key]
    owner = max((s for s in sections if s.path == holder[: len(s.path)]), key=lambda section: len(section.path))
    if isinstance(key[-1], int) and _any_below(sections, holder):
        _make_element(sections, step, inside)
    elif value is DELETE or inside:
        _delete(sections, inside)
        if _find(owner, key) is not None:
            _delete_entry(owner, key)
        if value is not DELETE:
            _make(sections, _Step(key, value))
    elif key[-1] == 0 and isinstance(value, dict) and owner.path == holder[:-1] and _find(owner, holder) == []:
        _delete_entry(owner, holder)
        _insert_after(sections, holder[:-1], _written(key, value, element=True))
    elif _find(owner, key) is not None or (owner.path != holder and _find(owner, holder) is not None):
        _set_entry(owner, step)
    elif len(holder) > len(owner.path) + 1 and _find(owner, holder[:-1]) is not None:
        _make(sections, _Step(holder, {key[-1]: value}))  # the table went before, with its last entry
    elif isinstance(value, dict) or _is_tables(value):
        _insert_after(sections, holder, _written(key, value))
    elif owner.path == holder:
        _append_entry(sections, owner, key[-1], value)
    else:
        # The table is only named on the way to others: it gets its own heading, above the first of them.
        new = _written(holder, {key[-1]: value})
        first = next((at for at, section in enumerate(sections) if section.path[: len(holder)] == holder), None)
        if first is None:
            _insert_after(sections, holder[:-1], new)
        else:
            _insert(sections, first, new)
            _part(sections, first + 1)


def _make_element(sections: list[_Section], step: _Step, inside: list[_Section]) -> None:
    """A step on an element of a list whose elements have headings."""
    *holder, index = step.key
    depth = len(holder)
    if step.value is DELETE:
        _delete(sections, inside)
    moved = -1 if step.value is DELETE else 1
    new = [] if step.value is DELETE else _written(step.key, step.value, element=True)
    before = sections.index(inside[0]) if new and inside else None
    for section in sections:
        at = section.path[depth] if section.path[:depth] == (*holder,) and len(section.path) > depth else None
        if isinstance(at, int) and isinstance(index, int) and at >= index:
            section.path = (*holder, at + moved, *section.path[depth + 1 :])
    if before is not None:
        _insert(sections, before, new)
    elif new:
        _insert_after(sections, (*holder,), new)
    elif not _any_below(sections, (*holder,)):
        _make(sections, _Step((*holder,), []))


def _insert_after(sections: list[_Section], holder: Key, new: list[_Section]) -> None:
    """New sections behind the last one that belongs to the holder, or at the end of the file."""
    places = [at for at, section in enumerate(sections) if section.path[: len(holder)] == holder]
    place = places[-1] + 1 if holder and places else len(sections) - 1
    _insert(sections, place, new)


def _insert(sections: list[_Section], at: int, new: list[_Section]) -> None:
    sections[at:at] = new
    new[0].above = ""
    _part(sections, at)


def _part(sections: list[_Section], at: int) -> None:
    """A blank line above a heading, unless the file begins with it."""
    section = sections[at]
    begins = not any(before.heading or before.body for before in sections[:at])
    if section.path != _END and not begins and not section.above.startswith("\n"):
        section.above = "\n" + section.above


def _delete(sections: list[_Section], gone: list[_Section]) -> None:
    """Takes sections away; a comment above them moves down, a blank line apart from whatever comes next."""
    kept = ""
    left = []
    for before, section in zip([None, *sections], sections, strict=False):
        if section in gone:
            kept += section.above if before not in gone and "#" in section.above else ""
            continue
        if kept:
            section.above = kept + ("" if section.above.startswith("\n") else "\n") + section.above
            kept = ""
        left.append(section)
    sections[:] = left


def _append_entry(sections: list[_Section], owner: _Section, name: str | int, value: Any) -> None:
    indent = owner.heading[: len(owner.heading) - len(owner.heading.lstrip())]
    if owner.body:
        indent = owner.body[: len(owner.body) - len(owner.body.lstrip(" \t"))]
    parted = owner.body.endswith("\n\n") or not (owner.body or owner.heading)
    owner.body += indent + _entry(name, value)
    if parted:
        _part(sections, sections.index(owner) + 1)


def _written(key: Key, value: Any, element: bool = False) -> list[_Section]:
    """A table, a list of tables, or one element of such a list, under headings of its own."""
    if isinstance(value, list):
        return [section for at, table in enumerate(value) for section in _written((*key, at), table, element=True)]
    below = {name: inner for name, inner in value.items() if isinstance(inner, dict) or _is_tables(inner)}
    body = "".join(_entry(name, inner) for name, inner in value.items() if name not in below)
    heading = f"[[{_dotted(key)}]]\n" if element else f"[{_dotted(key)}]\n"
    sections = [_Section(key, "\n", heading, body)]
    for name, inner in below.items():
        sections += _written((*key, name), inner)
    return sections


def _dotted(key: Key) -> str:
    import tomlkit

    return ".".join(tomlkit.key(name).as_string() for name in key if isinstance(name, str))


def _entry(name: str | int, value: Any) -> str:
    return f"{_dotted((str(name),))} = {_item(value).as_string()}\n"


def _item(value: Any) -> Any:
    import tomlkit

    return tomlkit.item(value, _parent=tomlkit.inline_table())


def _any_below(sections: list[_Section], holder: Key) -> bool:
    depth = len(holder)
    return any(s.path[:depth] == holder and len(s.path) > depth and isinstance(s.path[depth], int) for s in sections)


def _find(section: _Section, key: Key) -> Any:
    """What the entries of the section give the key, or None."""
    found: Any = tomllib.loads(section.body)
    for name in key[len(section.path) :]:
        if isinstance(found, list):
            found = dict(enumerate(found))
        if not isinstance(found, dict) or name not in found:
            return None
        found = found[name]
    return found


def _set_entry(section: _Section, step: _Step) -> None:
    import tomlkit

    document = tomlkit.parse(section.body)
    holders = _pieces(document, step.key[len(section.path) : -1])
    name = step.key[-1]
    item = _item(step.value)
    if isinstance(name, str):
        next((holder for holder in holders if name in holder), holders[0])[name] = item
    elif step.insert:
        _end_with_comma(holders[0])
        holders[0].insert(name, item)
    else:
        holders[0][name] = item
    section.body = document.as_string()


def _delete_entry(section: _Section, key: Key) -> None:
    """Takes an entry away; the comment on its line stays, in a line of its own."""
    import tomlkit
    from tomlkit.items import Comment, InlineTable, Table, Trivia

    document = tomlkit.parse(section.body)
    inner = key[len(section.path) :]
    holders = _pieces(document, inner[:-1])
    for depth in range(1, len(inner) - 1):
        # tomlkit leaves a stray comma when dotted names within { } lose an entry: those braces are written anew.
        braces = _pieces(document, inner[:depth])
        if isinstance(braces[0], InlineTable) and isinstance(holders[0], Table):
            outer, below = key[: len(section.path) + depth], inner[depth:]
            _set_entry(section, _Step(outer, _without_empty(changed(_find(section, outer), {below: DELETE}))))
            return
    if len(inner) > 1 and all(isinstance(holder, Table) for holder in holders):
        held = [item for holder in holders for name, item in _entries(holder) if name is not None]
        if len(held) == 1 and (isinstance(held[0], Table) or not held[0].trivia.comment):
            _delete_entry(section, key[:-1])  # a table made by dotted names goes with its last entry
            return
    name = inner[-1]
    for holder in holders:
        if isinstance(name, int):
            del holder[name]
        elif name in holder:
            entries = _entries(holder)
            places = [(at, item) for at, (found, item) in enumerate(entries) if found is not None and found.key == name]
            holder.remove(name)
            for at, item in places:
                if not isinstance(holder, InlineTable) and not isinstance(item, Table) and item.trivia.comment:
                    entries[at] = (None, Comment(Trivia(item.trivia.indent, "", item.trivia.comment, "\n")))
    section.body = document.as_string()


def _pieces(document: Any, key: Key) -> list[Any]:
    """The places where a table or list is written: dotted names may put a table's entries in several."""
    pieces = [document]
    for name in key:
        if isinstance(name, int):
            pieces = [pieces[0][name]]
        else:
            pieces = [
                item for piece in pieces for found, item in _entries(piece) if found is not None and found.key == name
            ]
    return pieces


def _entries(holder: Any) -> Any:
    return holder.body if hasattr(holder, "body") else holder.value.body


def _end_with_comma(array: Any) -> None:
    """tomlkit forgets the comma after the last element where only a comment follows it."""
    from tomlkit.items import Null, Whitespace

    for group in reversed(array._value):
        if group.value is not None and not isinstance(group.value, Null):
            group.comma = group.comma or Whitespace(",")
            return
