"""The texts of a picture: made one cell a character, folded, set in a legend; and what a drawn picture is made of."""

import re
from collections.abc import Iterable, Iterator
from itertools import groupby
from textwrap import wrap
from typing import NamedTuple
from unicodedata import category, east_asian_width

from planner.quantities.text import clean, cut

_TOGETHER = re.compile(r"(?<=[\d/]) (?=[\d(a-z])(?!\()|(?<=Ø) ")
_LOW, _BROAD = 20, 72  # lines and cells; a picture so low has one line for its legend where that is so broad
_LEAST_MEANING = 10  # cells of a mark with its meaning that is cut
_LONG = 20  # cells; a longer text may be folded, and gets room for that


class Span(NamedTuple):
    """Cells of one line, from `start` up to `stop`, that have a style: a weight, `label`, `faint` or a tone."""

    row: int
    start: int
    stop: int
    style: str


class Drawn(NamedTuple):
    """A picture in lines of text, none longer than the width asked for, and where in them which style is."""

    lines: tuple[str, ...]
    spans: tuple[Span, ...] = ()


def narrow(text: str) -> str:
    """A text harmless and of one cell a character: a wide one, or a bare accent, would shift what stands behind it."""
    if text.isascii():
        return clean(text)
    marks = (mark for mark in clean(text) if not category(mark).startswith("M"))
    return "".join("□" if east_asian_width(mark) in "WF" else mark for mark in marks)


def fold(text: str, width: int) -> list[str]:
    """The text in lines, with numbers kept by their units."""
    whole = _TOGETHER.sub("\N{NO-BREAK SPACE}", text)
    return [line.replace("\N{NO-BREAK SPACE}", " ") for line in wrap(whole, width)]


def reserved(text: str) -> int:
    """The width to reserve for a text."""
    return len(text) if len(text) <= _LONG else max(_LONG, len(text) * 2 // 3)


def legend_lines(entries: Iterable[tuple[str, str]], width: int, height: int) -> Drawn:
    """A legend under a picture of this height: marks with their meanings, as many on a line as go there.

    Where that takes too many lines, the longest meanings are cut, so that every mark still has its own.
    """
    told = [f"{narrow(mark)} {narrow(meaning)}" for mark, meaning in entries]
    most = 1 if height <= _LOW and width >= _BROAD else max(0, height // 4)
    longest = min(width, max(map(len, told), default=0))
    tries = [(3, longest), *((2, size) for size in range(longest, _LEAST_MEANING, -1))]
    lines = next((set_ for gap, size in tries if len(set_ := _set(told, width, gap, size)) <= most), None)
    if lines is None:
        lines = _set(told, width, 2, longest)
        lines = [*lines[: most - 1], cut(f"{lines[most - 1]} …", width)] if most > 0 else []
    return Drawn(tuple(lines))


def _set(told: Iterable[str], width: int, gap: int, size: int) -> list[str]:
    """The entries, each of at most so many cells, with a gap between them."""
    lines: list[str] = []
    for entry in (cut(one, size) for one in told):
        if lines and len(lines[-1]) + gap + len(entry) <= width:
            lines[-1] += " " * gap + entry
        else:
            lines.append(entry)
    return lines


def runs(row: int, styles: Iterable[str]) -> Iterator[Span]:
    start = 0
    for style, cells in groupby(styles):
        stop = start + len(list(cells))
        if style:
            yield Span(row, start, stop, style)
        start = stop
