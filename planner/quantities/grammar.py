"""Reading a value of any form: a quantity, a ratio, a count, a text, yes or no, a point, points or ratios.

What comes back is of one small family, `Value`: every number that can carry a tolerance is a `Quantity` (also a ratio,
and each coordinate of a point); a count is an int, yes or no a bool, and a text a str. `bare` strips a value to what
a formula takes.
"""

import re
from collections.abc import Sequence
from datetime import date, datetime, time
from fractions import Fraction
from typing import TypeAlias

from planner.quantities.amounts import (
    PLUS_MINUS,
    RATIO_ACCEPTED,
    fault_in_words,
    kind_in_words,
    plain,
    read,
    read_ratio,
)
from planner.quantities.kinds import POSITION, Kind
from planner.quantities.numerals import number
from planner.quantities.quantity import Band, Quantity
from planner.quantities.spellings import accepted
from planner.quantities.text import clean
from planner.quantities.unreadable import Accepted, Unreadable

__all__ = ["Bare", "Point", "Unreadable", "Value", "bare", "read", "read_value"]

Point: TypeAlias = tuple[Quantity, Quantity]
Value: TypeAlias = Quantity | int | str | bool | Point | tuple[Point, ...] | tuple[Quantity, ...]
Bare: TypeAlias = float | int | str | bool | tuple[tuple[float, float], ...] | tuple[float, ...]

LONGEST_LIST = 4096
MOST_ENTRIES = 400

_COUNT_ACCEPTED = Accepted("write a whole number", "8")
_YES_NO_ACCEPTED = "write yes or no"
_TEXT_ACCEPTED = f"write text of no more than {LONGEST_LIST} characters, in quotes"
_POINTS_ACCEPTED = Accepted("write pairs of lengths", "0 in, 2.75 in; 2.75 in, 0 in")
_POINT_ACCEPTED = Accepted("write a pair of lengths", "1 1/2 in, 2.75 in")
_RATIOS_ACCEPTED = Accepted("write numbers with commas between", "3.54, 3.73, 4.10")

_IN_WORDS = (
    (int, "a very long number"),
    ((list, tuple), "a list"),
    (dict, "a table"),
    (type(None), "nothing"),
    (datetime, "a date and time"),  # before the date, which it is too
    (date, "a date"),
    (time, "a time of day"),
)
_YES_NO = {"yes": True, "y": True, "true": True, "no": False, "n": False, "false": False}
_BRACKETS = str.maketrans("[]", "()")
_PAIR = re.compile(r"\(([^()]*)\)")
_COMMA_AND_SPACE = re.compile(r",\s+")


def read_value(given: object, kind: Kind) -> Value:
    """The value of this kind that a person gave, as a text or as what TOML made of it; raises `Unreadable`.

    A bare number is good for a ratio or a count only. The coordinates of points are lengths that may be negative,
    and one without a unit takes its partner's.

    >>> from planner.quantities.kinds import COUNT, POINTS, YES_NO
    >>> read_value("8", COUNT), read_value("no", YES_NO), bare(read_value("0, 1 mm; 1 mm, 0", POINTS))
    (8, False, ((0.0, 0.001), (0.001, 0.0)))
    """
    if kind.form == "text":
        return _text(given)
    if kind.form == "yes or no":
        return _yes_no(given)
    if kind.form == "point":
        return _one_point(given)
    if kind.form == "points":
        return _points(given, kind)
    if kind.form == "ratios":
        return _ratios(given, kind)
    if kind.form == "count":
        return _count(given, kind)
    wanted = RATIO_ACCEPTED if kind.form == "ratio" else accepted(kind)
    if isinstance(given, bool) or not isinstance(given, (str, int, float)):
        raise _not(given, kind, wanted)
    if kind.form == "ratio":
        # Through the text, so that a number is held to the same limits however it came; 1e999 is inf by now.
        return read_ratio(as_text(given), kind)
    if kind.bare and _is_number(given):
        given = f"{as_text(given)} {kind.bare}"
    if not isinstance(given, str):
        raise Unreadable(as_text(given), "has no unit", wanted)
    return read(given, kind)


def _is_number(given: str | int | float) -> bool:
    return not isinstance(given, str) or set(given.strip()) <= set("0123456789.,")


def bare(value: Value | Band) -> Bare:
    """What a formula takes: the value without tolerance and text, points and ratios as tuples of floats."""
    if isinstance(value, (Quantity, Band)):
        return value.value
    if isinstance(value, tuple):
        # The two tuples cannot be told apart by type once they are empty, and need not be.
        return tuple(_bare_entry(entry) for entry in value)  # type: ignore[return-value, arg-type]
    return value


def _bare_entry(entry: Quantity | Point) -> float | tuple[float, float]:
    return entry.value if isinstance(entry, Quantity) else (entry[0].value, entry[1].value)


def as_text(given: object) -> str:
    """Anything at all as a text for an error; a number too long to print, or a list, is named and not printed."""
    if isinstance(given, str):
        return given
    if isinstance(given, bool):
        return "yes" if given else "no"
    if isinstance(given, float) or (isinstance(given, int) and given.bit_length() <= 256):
        return str(given)
    return next((name for sort, name in _IN_WORDS if isinstance(given, sort)), "something else")


def _not(given: object, kind: Kind, wanted: str) -> Unreadable:
    return Unreadable(as_text(given), f"is not {kind_in_words(kind.name)}", wanted)


def _count(given: object, kind: Kind) -> int:
    if isinstance(given, bool) or not isinstance(given, (str, int, float)):
        raise _not(given, kind, _COUNT_ACCEPTED)
    written = plain(as_text(given), _COUNT_ACCEPTED)
    negative = written.startswith("-")
    try:
        amount, end = number(written, 1 if written[0] in "+-" else 0)
    except ValueError as fault:
        raise _not(given, kind, _COUNT_ACCEPTED) from fault
    if end != len(written):
        raise _not(given, kind, _COUNT_ACCEPTED)
    if amount.denominator != 1:
        raise Unreadable(written, "isn't a whole number", _COUNT_ACCEPTED)
    if amount > Fraction(10) ** 15:  # a float holds every whole number up to here
        raise Unreadable(written, "is impossible: nothing on a truck is that much", _COUNT_ACCEPTED)
    count = -amount.numerator if negative else amount.numerator
    impossible = fault_in_words(count, kind)
    if impossible:
        raise Unreadable(written, f"is impossible, {impossible}", _COUNT_ACCEPTED)
    return count


def _text(given: object) -> str:
    if not isinstance(given, str):
        raise Unreadable(as_text(given), "is not text", _TEXT_ACCEPTED)
    if len(given) > LONGEST_LIST:
        raise Unreadable(given, f"is longer than {LONGEST_LIST} characters", _TEXT_ACCEPTED)
    return clean(given)


def _yes_no(given: object) -> bool:
    if isinstance(given, bool):
        return given
    if isinstance(given, str) and len(given) <= 64 and given.strip(" ").lower() in _YES_NO:
        return _YES_NO[given.strip(" ").lower()]
    raise Unreadable(as_text(given), "isn't yes or no", _YES_NO_ACCEPTED)


def _points(given: object, kind: Kind) -> tuple[Point, ...]:
    pairs = _pairs_in(given) if isinstance(given, str) else given
    entries = _entries(pairs, kind, _POINTS_ACCEPTED)
    return tuple(_point(pair) for pair in entries)


def _one_point(given: object) -> Point:
    """A pair by itself, or the only one of a list."""
    if isinstance(given, str):
        pairs: Sequence[object] = _pairs_in(given)
    else:
        pairs = [given]
    if len(pairs) != 1:
        raise Unreadable(as_text(given), "is more than one point", _POINT_ACCEPTED)
    return _point(pairs[0])


def _pairs_in(text: str) -> list[list[str]]:
    """The pairs in a text: in brackets of either sort, or with semicolons between."""
    if len(text) > LONGEST_LIST:
        raise Unreadable(text, f"is longer than {LONGEST_LIST} characters", _POINTS_ACCEPTED)
    marks = text.strip(" ").translate(_BRACKETS)
    if marks.startswith("(") and marks[1:].lstrip(" ").startswith("(") and marks.endswith(")"):
        marks = marks[1:-1]
    if "(" not in marks and ")" not in marks:
        return [_halves(pair) for pair in marks.rstrip("; ").split(";")]
    if _PAIR.sub("", marks).strip(" ,;"):
        raise Unreadable(text, "is not a list of points", _POINTS_ACCEPTED)
    return [_halves(pair) for pair in _PAIR.findall(marks)]


def _halves(pair: str) -> list[str]:
    """The two coordinates: at the only comma, or else at the only comma with a space behind it."""
    halves = pair.split(",") if pair.count(",") == 1 else _COMMA_AND_SPACE.split(pair)
    if len(halves) != 2:
        raise Unreadable(pair, "is not a point", _POINTS_ACCEPTED)
    return [_unquoted(half.strip(" ")) for half in halves]


def _unquoted(text: str) -> str:
    quoted = len(text) > 1 and text[0] == text[-1] and text[0] in "\"'"
    return text[1:-1] if quoted else text


def _entries(given: object, kind: Kind, wanted: str) -> Sequence[object]:
    if not isinstance(given, (list, tuple)):
        raise Unreadable(as_text(given), "is not a list", wanted)
    if not given:
        raise Unreadable("a list", "is empty", wanted)
    if len(given) > MOST_ENTRIES:
        raise Unreadable(as_text(given), f"has more than {MOST_ENTRIES} {kind.name}", wanted)
    return given


def _point(pair: object) -> Point:
    if not isinstance(pair, (list, tuple)) or len(pair) != 2:
        raise Unreadable(as_text(pair), "is not a point", _POINTS_ACCEPTED)
    texts = [as_text(half) for half in pair if isinstance(half, (str, int, float)) and not isinstance(half, bool)]
    if len(texts) != 2:
        raise Unreadable(as_text(pair), "is not a point", _POINTS_ACCEPTED)
    x, y = texts
    if _has_no_unit(x) != _has_no_unit(y):
        x, y = (_with_unit_of(y, x), y) if _has_no_unit(x) else (x, _with_unit_of(x, y))
    return _coordinate(x, texts[0]), _coordinate(y, texts[1])


def _coordinate(text: str, written: str) -> Quantity:
    try:
        found = read(text, POSITION)
    except Unreadable as fault:
        raise Unreadable(written, fault.problem, _POINTS_ACCEPTED) from fault
    return Quantity(found.value, found.tolerance, text, found.stated)


_ANY_UNIT = re.compile(r"[A-Za-z'\"′″’”]")
_LAST_UNIT = re.compile(r"([A-Za-z.'\"′″’”]+) *$")


def _has_no_unit(text: str) -> bool:
    return len(text) <= 64 and not _ANY_UNIT.search(text)


def _with_unit_of(partner: str, text: str) -> str:
    """`text` with the last unit that its partner names."""
    unit = _LAST_UNIT.search(PLUS_MINUS.split(partner)[0]) or _LAST_UNIT.search(partner)
    return f"{text} {unit[1]}" if unit else text


def _ratios(given: object, kind: Kind) -> tuple[Quantity, ...]:
    entry_kind = Kind("ratio", "", kind.least, kind.most, kind.above, form="ratio")
    entries = _entries(_split_ratios(given) if isinstance(given, str) else given, kind, _RATIOS_ACCEPTED)
    found = [read_value(entry, entry_kind) for entry in entries]
    return tuple(entry for entry in found if isinstance(entry, Quantity))


def _split_ratios(text: str) -> list[str]:
    if len(text) > LONGEST_LIST:
        raise Unreadable(text, f"is longer than {LONGEST_LIST} characters", _RATIOS_ACCEPTED)
    marks = text.strip(" ")
    if marks.startswith("[") and marks.endswith("]"):
        marks = marks[1:-1]
    if ";" in marks:
        parts = marks.rstrip("; ").split(";")
    else:
        parts = _COMMA_AND_SPACE.split(marks) if _COMMA_AND_SPACE.search(marks) else marks.split(",")
    return [_unquoted(part.strip(" ")) for part in parts]
