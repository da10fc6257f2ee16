"""A person's text made harmless for a terminal, a screen or a printed sheet, cut to a width; names that look alike."""

import re
from collections.abc import Iterable
from typing import TypeVar
from unicodedata import category, normalize

Name = TypeVar("Name")
Value = TypeVar("Value")

# Controls, format marks (bidi, zero width, soft hyphen, tags), surrogates, private use, what Unicode has not given
# a meaning yet, and the line and paragraph separators. Each can move the cursor, hide, or turn the text around it.
_UNSAFE = frozenset({"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"})

# What takes no room and is no format mark by Unicode: joiners, fillers and variation selectors.
_UNSEEN = re.compile("[\u034f\u115f\u1160\u17b4\u17b5\u180b-\u180f\u3164\ufe00-\ufe0f\uffa0\U000e0100-\U000e01ef]")


def clean(text: str) -> str:
    r"""`text` on one line, with every character that could drive a terminal or hide replaced by a visible escape.

    Cleaning twice changes nothing more. A text of several lines is split by the caller first.

    >>> clean("red \x1b[31m text")
    'red \\x1b[31m text'
    >>> clean("½ in ± ⅛")
    '½ in ± ⅛'
    """
    if text.isprintable():  # the common case, and fast
        return text
    return "".join(_escape(mark) if category(mark) in _UNSAFE else mark for mark in text)


def _escape(mark: str) -> str:
    code = ord(mark)
    if code <= 0xFF:
        return f"\\x{code:02x}"
    return f"\\u{code:04x}" if code <= 0xFFFF else f"\\U{code:08x}"


def cut(text: str, width: int) -> str:
    """`text` in at most `width` characters, an ellipsis standing for what was cut off.

    >>> cut("five and a half inches", 9)
    'five and…'
    """
    if len(text) <= width:
        return text
    return text[: width - 1].rstrip() + "…" if width > 0 else ""


def in_words(name: str) -> str:
    """The name of a figure or a key as it is said: a key keeps its spelling for good, what people say may differ.

    >>> in_words("wheel_stud_circle")
    'wheel bolt circle'
    """
    return name.replace("_", " ").replace("stud circle", "bolt circle").replace("centring", "centering")


def normal_name(text: str) -> str:
    r"""A name as it is held against others: letters composed, single spaces and none at the ends, nothing unseen.

    Two names that only a computer can tell apart are one name. Capitals can be told apart, and so `R` and `r` are two.

    >>> normal_name(" Ko\u0308ln\u00a0 tall\u200b") == "K\u00f6ln tall"
    True
    """
    if not text.isascii():
        text = normalize("NFC", "".join(mark for mark in _UNSEEN.sub("", text) if category(mark) != "Cf"))
    return " ".join(text.split())


def same_name(one: str, other: str) -> bool:
    """Whether two texts are one name."""
    return one == other or normal_name(one) == normal_name(other)


def name_among(names: Iterable[str], written: str) -> str | None:
    """The name that is meant, spelled as it is there; None where there is none."""
    there = list(names)
    if written in there:
        return written
    wanted = normal_name(written)
    return next((name for name in there if normal_name(name) == wanted), None) if wanted else None


def grouped(pairs: Iterable[tuple[Name, Value]]) -> dict[Name, list[Value]]:
    """All that goes under one name together, each name where it came first.

    >>> grouped([("front", "hub"), ("rear", "hub"), ("front", "tire")])
    {'front': ['hub', 'tire'], 'rear': ['hub']}
    """
    found: dict[Name, list[Value]] = {}
    for name, value in pairs:
        found.setdefault(name, []).append(value)
    return found
