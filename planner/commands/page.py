"""Plain pages for a terminal or a pipe: wrapped to 80 columns, colored only where a person looks at a terminal."""

import os
import re
import sys
from collections.abc import Iterable
from math import isfinite
from textwrap import wrap
from typing import Any

from planner.quantities.text import clean

WIDTH = 80
_ENDLESS = re.compile(r"(\S{160})\S+")
_INK = {"stop": "1;31", "caution": "1;33", "note": "1;36", "faint": "2", "strong": "1"}


def ink(text: str, name: str) -> str:
    """The text in a color, on a terminal; as it is in a pipe, or where NO_COLOR or a dumb terminal asks for none."""
    plain = os.environ.get("NO_COLOR") or os.environ.get("TERM") == "dumb" or not sys.stdout.isatty()
    return text if plain else f"\x1b[{_INK[name]}m{text}\x1b[0m"


def as_json(data: Any) -> str:
    """The data as JSON, as a pipe wants it, and harmless where a person looks at it: what could drive a terminal stands
    there by its number, which JSON reads as the same. A number that JSON has no word for is null in it.
    """
    import json

    def dumped(data: Any) -> str:
        return json.dumps(data, indent=2, ensure_ascii=False, allow_nan=False, default=lambda one: one.isoformat())

    try:
        text = dumped(data)
    except ValueError:  # infinite, no number, or too long for Python to write
        text = dumped(_sayable(data))
    return "\n".join(
        row if row.isprintable() else "".join(m if m.isprintable() else json.dumps(_whole(m))[1:-1] for m in row)
        for row in text.split("\n")
    )


def _whole(mark: str) -> str:
    """Half a character stands for a byte in a file's name; by its number alone, strict readers of JSON refuse it."""
    return clean(mark) if "\ud800" <= mark <= "\udfff" else mark


def _sayable(data: Any) -> Any:
    if isinstance(data, dict):
        return {name: _sayable(value) for name, value in data.items()}
    if isinstance(data, (list, tuple)):
        return list(map(_sayable, data))
    endless = isinstance(data, float) and not isfinite(data) or isinstance(data, int) and data.bit_length() > 10_000
    return None if endless else data


def paragraph(text: str, indent: int = 0, first: str = "") -> list[str]:
    """Lines of at most 80 columns; `first` stands before the first one and the others hang below it.

    A word without an end, as a name in a damaged file may be, is cut.
    """
    hang = indent + len(first)
    lines = wrap(_ENDLESS.sub(r"\1…", text), WIDTH - hang, break_long_words=True, break_on_hyphens=False) or [""]
    return [" " * indent + (first if at == 0 else " " * len(first)) + line for at, line in enumerate(lines)]


def columns(rows: Iterable[tuple[str, str]], indent: int = 2, most: int = 44) -> list[str]:
    """Two columns, the left one as wide as it needs up to `most`; what is longer has a line to itself."""
    listed = list(rows)
    wide = min(most, max((len(left) for left, _ in listed), default=0))
    lines: list[str] = []
    for left, right in listed:
        if len(left) > wide:
            lines += [*paragraph(left, indent), *paragraph(right, indent + wide + 2)]
        else:
            lines += paragraph(right, indent, f"{left:<{wide}}  ")
    return [line.rstrip() for line in lines]
