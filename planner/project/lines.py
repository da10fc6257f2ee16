"""At which line of a TOML text each key, table and array element stands, found by one pass over its tokens."""

import re
import tomllib
from collections.abc import Generator, Iterator, Mapping
from functools import lru_cache
from typing import NamedTuple

Key = tuple[str | int, ...]

# Every quantifier over a string's inside is possessive and every closing quote optional, so that no text, however
# broken, makes the search go back: the time is linear in the length.
_QUOTED = r'''
    """ (?: [^"\\]++ | \\[\s\S] | "(?!"") )*+ "{0,5}
  | \'\'\' (?: [^']++ | '(?!\'\') )*+ '{0,5}
  | " (?: [^"\\\n]++ | \\[^\n] )*+ "?
  | ' [^'\n]*+ '?
'''
_TOKEN = re.compile(
    rf"""
    (?P<string> {_QUOTED} )
    | (?P<comment> \#[^\n]*+ )
    | (?P<mark> [\[\]{{}}=,.\n] )
    | (?P<blank> [ \t\r]++ )
    | (?P<bare> [^\s"'\#\[\]{{}}=,.]++ | [\s\S] )
    """,
    re.VERBOSE,
)
_MARK = re.compile(rf"(?: {_QUOTED} | \#[^\n]*+ ) | (?P<mark> [\[\]{{}}=,.\n] )", re.VERBOSE)


class Token(NamedTuple):
    """A piece of the text: `kind` is string, comment, mark, blank or bare; `line`, from 1, is where it begins."""

    kind: str
    text: str
    line: int


class Sighting(NamedTuple):
    """A key met in the text: `defined` if its value or heading is here, not only its name; `heading` if it is one."""

    key: Key
    line: int
    defined: bool
    heading: bool = False


@lru_cache(maxsize=2)
def key_lines(text: str) -> dict[Key, int]:
    """The line, from 1, of every key, table and array element of a valid TOML text.

    A table that has no header of its own stands where it is first named, an array of tables where its first element is.

    >>> key_lines("[axles.front]\\nstuds = [1, 2]\\n")[("axles", "front", "studs", 1)]
    2
    """
    lines: dict[Key, int] = {}
    for key, line, defined, _ in sightings(text):
        if defined or key not in lines:
            lines[key] = line
    return lines


def line_of(lines: Mapping[Key, int], key: Key) -> int | None:
    """The line of the key, or else of the nearest table or list around it that has one."""
    while key:
        if key in lines:
            return lines[key]
        key = key[:-1]
    return None


def sightings(text: str) -> Iterator[Sighting]:
    """Every key in the order in which the text names it; after the first TOML error what comes is meaningless."""
    header: Key = ()
    newest: dict[Key, int] = {}  # each array of tables, and the index of its last element so far
    open_values: list[tuple[Key, int | None]] = []  # each array (with its index) or inline table (None) around
    names: list[str] = []
    double = False
    expect = "statement"  # or header, name, value, rest
    value_key: Key = ()

    for kind, piece, line in tokens(text):
        if kind in ("comment", "blank"):
            continue
        if piece == "\n" and kind == "mark":
            if not open_values:
                expect, names = "statement", []
        elif expect == "statement" and piece == "[":
            expect, double = "header", False
        elif expect == "header":
            if kind != "mark":
                names.append(_name(kind, piece))
            elif piece == "[":
                double = True
            elif piece == "]" and names:
                expect = "rest"
                header = yield from _opened(names, line, double, newest)
        elif expect in ("statement", "name"):
            if kind != "mark":
                expect = "name"
                names.append(_name(kind, piece))
            elif piece == "=":
                around = open_values[-1][0] if open_values else header
                for count in range(1, len(names)):
                    yield Sighting((*around, *names[:count]), line, False)
                value_key = (*around, *names)
                yield Sighting(value_key, line, True)
                expect, names = "value", []
            elif piece == "}" and open_values:
                open_values.pop()
                expect = "rest"
        elif expect == "value":
            if piece == "]" and open_values:
                open_values.pop()
                expect = "rest"
                continue
            here = value_key
            if open_values and open_values[-1][1] is not None:
                here = (*open_values[-1][0], open_values[-1][1])
                yield Sighting(here, line, True)
            expect = "rest"
            if piece == "[":
                open_values.append((here, 0))
                expect = "value"
            elif piece == "{":
                open_values.append((here, None))
                expect = "name"
        elif piece == "," and open_values:
            key, index = open_values[-1]
            expect = "name" if index is None else "value"
            if index is not None:
                open_values[-1] = (key, index + 1)
        elif piece in ("]", "}") and open_values:
            open_values.pop()


def marks(text: str) -> Iterator[tuple[str, int]]:
    """The brackets, dots, commas, signs and line ends that are not in a text or a comment, with their lines."""
    line = 1
    counted = 0
    for found in _MARK.finditer(text):
        if found.lastgroup == "mark":
            if found.group() in "[{.":
                line += text.count("\n", counted, found.start())
                counted = found.start()
            yield found.group(), line


def tokens(text: str) -> Iterator[Token]:
    """The text cut into pieces that, joined, give it back; a byte order mark counts as a blank."""
    line = 1
    start = 0
    if text.startswith("\ufeff"):
        yield Token("blank", "\ufeff", 1)
        start = 1
    for match in _TOKEN.finditer(text, start):
        piece = match.group()
        yield Token(match.lastgroup or "", piece, line)
        line += piece.count("\n")


def _opened(names: list[str], line: int, double: bool, newest: dict[Key, int]) -> Generator[Sighting, None, Key]:
    path: Key = ()
    for count, name in enumerate(names, 1):
        path = (*path, name)
        last = count == len(names)
        if last and double:
            yield Sighting(path, line, False)
            newest[path] = newest.get(path, -1) + 1
        else:
            yield Sighting(path, line, last, last)
        if path in newest:
            path = (*path, newest[path])
    if double:
        yield Sighting(path, line, True, True)
    return path


def _name(kind: str, piece: str) -> str:
    if kind != "string":
        return piece
    if piece.startswith('"') and "\\" in piece:
        try:
            return next(iter(tomllib.loads(f"{piece} = 0")))
        except tomllib.TOMLDecodeError:
            return piece
    return piece[1:-1]
