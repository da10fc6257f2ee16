"""At which line of a TOML text each key, table and list element stands, found by one pass over its tokens.

tomlkit's own positions do not serve: it has none for a text that does not parse, brings the elements of a list of
tables together where another table stands between them, so that the lines below are others, and takes seven times as
long, which a `check` of a file with keys of a person's own would feel.
"""

import json
import re
import tomllib
from collections.abc import Generator, Iterator, Mapping
from functools import lru_cache
from typing import NamedTuple

Key = tuple[str | int, ...]

# Every quantifier over what is inside a piece is possessive and every closing quote optional, so that no text, however
# broken, makes the search go back: the time is linear in the length.
_NAME = r'''
  (?: """ (?: [^"\\]++ | \\[\s\S] | "(?!"") )*+ "{0,5}
  | \'\'\' (?: [^']++ | '(?!\'\') )*+ '{0,5}
  | " (?: [^"\\\n]++ | \\[^\n] )*+ "?
  | ' [^'\n]*+ '?
  | [^\s\ufeff"'\#\[\]{}=,.]++ )
'''
_NAMES = re.compile(_NAME, re.VERBOSE)
_BARE = re.compile(r"[A-Za-z0-9_-]+")
_TOKEN = re.compile(
    rf"""
    (?P<value> {_NAME} (?: [ \t]*+ \. [ \t]*+ {_NAME} )*+ ) (?P<entry> [ \t]*+ = )?+
    | (?P<comment> \#[^\n]*+ )
    | (?P<mark> [\[\]{{}},] )
    | (?P<blank> [\s\ufeff]++ )
    | (?P<stray> [=.] )
    """,
    re.VERBOSE,
)


class Token(NamedTuple):
    """A piece of the text: `kind` is entry (names and their =), value, mark, comment, blank or stray; `line` from 1.

    The names in a heading are a value too, and so is each half of a date and time with a blank between.
    """

    kind: str
    text: str
    line: int


class Sighting(NamedTuple):
    """A key met in the text: `defined` if its value or heading is here, not only its name; `heading` if it is one.

    Its last name is the one numbered `name` in the piece of the text numbered `piece`, both from 0; -1 for an element.
    """

    key: Key
    line: int
    defined: bool
    heading: bool = False
    piece: int = -1
    name: int = -1


@lru_cache(maxsize=2)
def key_lines(text: str) -> dict[Key, int]:
    """The line, from 1, of every key, table and list element of a valid TOML text.

    A table that has no header of its own stands where it is first named, a list of tables where its first element is.

    >>> key_lines("[axles.front]\\nstuds = [1, 2]\\n")[("axles", "front", "studs", 1)]
    2
    """
    lines: dict[Key, int] = {}
    for seen in sightings(text):
        if seen.defined or seen.key not in lines:
            lines[seen.key] = seen.line
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
    newest: dict[Key, int] = {}  # each list of tables, and the index of its last element so far
    around: list[tuple[Key, int | None]] = []  # each list (with the index at hand) or table in braces (None) around
    key: Key = ()
    awaited = False  # whether the next piece is, or begins, the value of `key` or of an element
    brackets = 0  # of a heading

    for number, (kind, piece, line) in enumerate(tokens(text)):
        holder, index = around[-1] if around else (header, None)
        if kind == "entry":
            names = names_in(piece)
            for count in range(1, len(names)):
                yield Sighting((*holder, *names[:count]), line, False, False, number, count - 1)
            key = (*holder, *names)
            yield Sighting(key, line, True, False, number, len(names) - 1)
            awaited = True
        elif piece == ",":
            if index is not None:
                around[-1] = (holder, index + 1)
            awaited = index is not None
        elif piece in ("]", "}"):
            del around[-1:]
            awaited = False
        elif kind not in ("value", "mark"):
            continue
        elif awaited:
            if index is not None:
                key = (*holder, index)
                yield Sighting(key, line, True)
            if kind == "mark":
                around.append((key, 0 if piece == "[" else None))
            awaited = piece == "["
        elif piece == "[":
            brackets += 1
        elif brackets and kind == "value":
            header = yield from _opened(names_in(piece), line, brackets > 1, newest, number)
            brackets = 0


def tokens(text: str) -> Iterator[Token]:
    """The text cut into pieces that, joined, give it back; a byte order mark counts as a blank."""
    line = 1
    for match in _TOKEN.finditer(text):
        piece = match.group()
        yield Token(match.lastgroup or "", piece, line)
        line += piece.count("\n")


def names_in(piece: str) -> list[str]:
    """The names of an entry or heading, as the parser reads them."""
    return [_read(name) for name in _NAMES.findall(piece)]


def with_name(piece: str, number: int, name: str) -> str:
    """The piece with another name in the place of one of its names, counted from 0; blanks and all else stay."""
    found = [*_NAMES.finditer(piece)][number]
    shown = name if _BARE.fullmatch(name) else json.dumps(name, ensure_ascii=False)
    return piece[: found.start()] + shown + piece[found.end() :]


def _opened(
    names: list[str], line: int, double: bool, newest: dict[Key, int], piece: int
) -> Generator[Sighting, None, Key]:
    path: Key = ()
    for count, name in enumerate(names, 1):
        path = (*path, name)
        yield Sighting(path, line, False, False, piece, count - 1)
        if double and count == len(names):
            newest[path] = newest.get(path, -1) + 1
        if path in newest:
            path = (*path, newest[path])
    yield Sighting(path, line, True, True)
    return path


def _read(name: str) -> str:
    if name.startswith('"') and "\\" in name:
        try:
            return next(iter(tomllib.loads(f"{name} = 0")))
        except tomllib.TOMLDecodeError:
            return name
    return name[1:-1] if name[0] in "\"'" else name
