"""Reading a project file from the disk: its text, its data and its lines, or every reason why it cannot be read."""

import hashlib
import math
import os
import re
import stat
import tomllib
from collections.abc import Iterator
from itertools import count
from pathlib import Path
from typing import Any, NamedTuple

from planner.project.faults import Fault, Faulty, NothingToRead, why
from planner.project.lines import Key, key_lines, line_of, names_in, sightings, tokens
from planner.project.project_path import project_file

LARGEST_FILE = 256 * 1024  # bytes
DEEPEST = 40  # names in a key, brackets in brackets; the parser calls itself for each, and takes seconds over long keys
MOST_ENTRIES = 12_000  # values, tables and lists together: a large truck has some 1,500, two thousand tasks 10,000
BYTE_ORDER_MARK = "\ufeff"

_PLACE = re.compile(r" \((?:at line (\d+), column (\d+)|at end of document)\)$")
_DATE = re.compile(r"=\s*\d{4}-\d\d?-\d\d?")
_LONG_NUMBER = re.compile(r"[0-9_]{1000,}")

_TOO_DEEP = "lists and tables are nested too deep"
_FINITE = "a whole number of at most 18 digits, or a decimal number"

# How the parser's messages begin, and what a person is told instead: what is wrong, and what is accepted.
_PLAIN_WORDS = {
    "Expected newline": ("there's something left over after the value", "one entry per line; text goes in quotes"),
    "Expected '=' after a key": ("there's no = after the name", 'an entry such as width = "24 in"'),
    "Expected ']": ("the heading isn't closed", "a heading such as [vehicle] or [[parts]]"),
    "Expected": ("the text isn't closed", "the same quote at the end as at the start"),
    "Invalid initial character": ("there's no name here", "a name of letters, digits, - and _, or a name in quotes"),
    "Invalid statement": ("this isn't an entry, a heading or a comment", 'an entry such as width = "24 in"'),
    "Invalid value": ("this isn't a value", 'text in quotes such as "24 in", a number, true, false, a date or a list'),
    "Invalid date": ("there's no such date", "a date such as 2024-05-31"),
    "Unterminated string": ("the text isn't closed", "the same quote at the end as at the start"),
    "Illegal character '\\n'": ("the text isn't closed", "the same quote at the end as at the start"),
    "Found invalid character '\\n'": ("the text isn't closed", "the same quote at the end as at the start"),
    "Illegal character": ("a character that can't be there", "letters, digits and signs"),
    "Found invalid character": ("a character that can't be there", "letters, digits and signs"),
    "Unescaped '\\'": ("a lone \\ in the text", "\\\\ for a \\, or the text in 'single quotes'"),
    "Invalid hex value": ("a \\u without a character's number after it", "\\\\ for a \\"),
    "Escaped character": ("a \\u with a number that no character has", "\\\\ for a \\"),
    "Unclosed array": ("the list isn't closed, or it's missing a comma", 'a list such as ["a", "b"]'),
    "Unclosed inline table": ("the { isn't closed, or it's missing a comma", "a table such as { a = 1, b = 2 }"),
    "Cannot declare": ("this has been set before", "each name once"),
    "Cannot overwrite": ("this has been set before", "each name once"),
    "Cannot redefine": ("this has been set before", "each name once"),
    "Cannot mutate": ("this adds to something that was complete above", "each table and list in one place"),
    "Duplicate inline": ("this has been set before", "each name once"),
}


class ProjectText(NamedTuple):
    """A file as it was read.

    `path` is the file itself where a link was followed; `text` is decoded and otherwise untouched, byte order mark and
    line ends included; `digest` is the SHA-256 of the bytes, by which a later change on the disk is noticed.
    """

    path: Path
    text: str
    data: dict[str, Any]
    digest: str

    @property
    def lines(self) -> dict[Key, int]:
        """The line of every key; looked up only where something is to be said about one."""
        return key_lines(self.text)


def load(path: Path) -> ProjectText:
    """The file at `path`; raises `NothingToRead` when it cannot be read, whatever stands there."""
    try:
        target = project_file(path)
        return parse(target, read_bytes(target))
    except OSError as error:
        raise NothingToRead(path, (Fault(f"cannot be read: {why(error)}"),)) from None
    except Faulty as faulty:
        raise NothingToRead(path, faulty.faults) from None
    except ValueError:  # a NUL in it
        raise NothingToRead(path, (Fault("that won't work as a file name"),)) from None


def parse(path: Path, raw: bytes) -> ProjectText:
    """The bytes of a file taken as a project text; raises `Faulty`."""
    _refuse_large(path, len(raw))
    text = _decoded(path, raw)
    body = text.removeprefix(BYTE_ORDER_MARK)
    if any(row.count(".") >= DEEPEST for row in body.split("\n")):
        _refuse(path, _nesting_faults(body))
    try:
        data = tomllib.loads(body)
    except tomllib.TOMLDecodeError as error:
        raise Faulty(path, (_syntax_fault(body, str(error)),)) from None
    except RecursionError:
        _refuse(path, _nesting_faults(body))
        raise
    except ValueError:  # int() refuses some thousands of digits
        long = _LONG_NUMBER.search(body)
        line = None if long is None else body.count("\n", 0, long.start()) + 1
        read = "" if long is None else long.group()
        raise Faulty(path, (Fault("the number is too long", line=line, read=read, accepted=_FINITE),)) from None
    _refuse(path, _value_faults(data, text))
    return ProjectText(path, text, data, digest_of(raw))


def read_bytes(path: Path) -> bytes:
    """The bytes of an ordinary file up to `LARGEST_FILE`, without ever waiting; raises `OSError` or `Faulty`."""
    try:
        _refuse_odd_file(path, os.stat(path))
        # Between the look above and the opening something else may have come in its place: never wait, look again.
        flags = os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_NOCTTY", 0) | getattr(os, "O_BINARY", 0)
        handle = os.open(path, flags)
    except ValueError:  # a NUL in the name
        raise Faulty(path, (Fault("that won't work as a file name"),)) from None
    try:
        _refuse_odd_file(path, os.fstat(handle))
        raw = b""
        while len(raw) <= LARGEST_FILE:
            piece = os.read(handle, LARGEST_FILE + 1)
            if not piece:
                break
            raw += piece
    finally:
        os.close(handle)
    _refuse_large(path, len(raw))
    return raw


def digest_of(raw: bytes) -> str:
    """The SHA-256 of the bytes, as 64 hexadecimal digits."""
    return hashlib.sha256(raw).hexdigest()


def _refuse(path: Path, faults: Iterator[Fault]) -> None:
    found = tuple(faults)
    if found:
        raise Faulty(path, found)


def _refuse_large(path: Path, size: int) -> None:
    if size > LARGEST_FILE:
        raise Faulty(path, (Fault("the file is too large", accepted=f"{LARGEST_FILE // 1024} KB at most"),))


def _refuse_odd_file(path: Path, status: os.stat_result) -> None:
    if stat.S_ISDIR(status.st_mode):
        raise Faulty(path, (Fault("this is a folder", accepted="a file"),))
    if not stat.S_ISREG(status.st_mode):
        raise Faulty(path, (Fault("this is a pipe, a socket or a device", accepted="an ordinary file"),))


def _decoded(path: Path, raw: bytes) -> str:
    if raw.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise Faulty(path, (Fault("the file is saved as UTF-16", accepted="text saved as UTF-8"),))
    if b"\0" in raw:
        line = raw.count(b"\n", 0, raw.index(b"\0")) + 1
        raise Faulty(path, (Fault("a NUL byte: this isn't text", line=line, accepted="text saved as UTF-8"),))
    try:
        return raw.decode("utf-8")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        read = raw.splitlines()[line - 1].decode("utf-8", errors="replace").strip()
        fault = Fault("a character that isn't UTF-8", line=line, read=read, accepted="text saved as UTF-8")
        raise Faulty(path, (fault,)) from None


def _nesting_faults(body: str) -> Iterator[Fault]:
    """At most one fault: what makes the parser call itself too often, or would take seconds of its time."""
    brackets = 0
    for kind, piece, line in tokens(body):
        if kind == "mark":
            brackets += (piece in "[{") - (piece in "]}")
        if brackets > DEEPEST:
            yield Fault(_TOO_DEEP, line=line, accepted=f"{DEEPEST} at most, one in another")
            return
        if kind in ("entry", "value") and len(names_in(piece)) > DEEPEST:
            yield Fault("the name has too many parts", line=line, accepted=f"{DEEPEST} at most, with dots between")
            return


def _value_faults(data: dict[str, Any], text: str) -> Iterator[Fault]:
    """What TOML allows and no calculation, and no other program, can hold."""
    waiting: list[tuple[Key, Any]] = [((), data)]
    for number in count():
        if not waiting:
            return
        key, value = waiting.pop()
        if number > MOST_ENTRIES:
            line = line_of(key_lines(text), key)
            yield Fault("the file has too many entries", key, line, accepted=f"{MOST_ENTRIES:,} at most")
            return
        if len(key) > DEEPEST:
            line = line_of(key_lines(text), key)
            yield Fault(_TOO_DEEP, line=line, accepted=f"{DEEPEST} at most, one in another")
            return
        if isinstance(value, dict):
            waiting.extend(((*key, name), inner) for name, inner in reversed(value.items()))
        elif isinstance(value, list):
            waiting.extend(((*key, index), inner) for index, inner in reversed(list(enumerate(value))))
        elif isinstance(value, float) and not math.isfinite(value):
            line = line_of(key_lines(text), key)
            yield Fault("not a number the planner can calculate with", key, line, str(value), _FINITE)
        elif isinstance(value, int) and not -(2**63) <= value < 2**63:
            read = str(value) if value.bit_length() < 10_000 else hex(value)  # str() refuses some thousands of digits
            yield Fault("the number is too large", key, line_of(key_lines(text), key), read, _FINITE)


def _syntax_fault(body: str, told: str) -> Fault:
    place = _PLACE.search(told)
    rows = body.split("\n")
    if place is None or place.group(1) is None:
        return _unfinished(body, rows)
    line = int(place.group(1))
    words, accepted = next(
        (plain for start, plain in _PLAIN_WORDS.items() if told.startswith(start)), ("this isn't TOML", "a TOML file")
    )
    if words == "this has been set before":
        for key, first, second in _twice(body, line):
            words = f"this is set twice, first on line {first}"
            return Fault(words, key, second, rows[second - 1].strip(), accepted)
    if words == "there's something left over after the value" and _DATE.search(
        rows[line - 1][: int(place.group(2)) + 8]
    ):
        words, accepted = _PLAIN_WORDS["Invalid date"]
    return Fault(f"{words}, at column {place.group(2)}", (), line, rows[line - 1].strip(), accepted)


def _unfinished(body: str, rows: list[str]) -> Fault:
    """The parser gave up at the end of the file: what to look at is the quote left open, or the last entry begun."""
    line = 1
    for kind, piece, start in tokens(body):
        if kind not in ("blank", "comment"):
            line = start
        if kind == "value" and piece[0] in "\"'" and (len(piece) < 2 or piece[0] != piece[-1]):
            break
    read = rows[line - 1].strip()
    return Fault("the file ends before this is complete", (), line, read, "every quote, [ and { closed")


def _twice(body: str, until: int) -> Iterator[tuple[Key, int, int]]:
    seen: dict[Key, int] = {}
    for met in sightings(body):
        if met.line > until:
            return
        if met.defined and met.key in seen:
            yield met.key, seen[met.key], met.line
        if met.defined:
            seen[met.key] = met.line
