"""A number that was typed without its unit: read in the unit that its entry is usually written in."""

import re

from planner.quantities.amounts import PLUS_MINUS, last_unit
from planner.quantities.grammar import read_value
from planner.quantities.kinds import Kind
from planner.quantities.unreadable import Unreadable

_NUMBER = re.compile(r"[-+−]?[\d.,/\s½⅓⅔¼¾⅛⅜⅝⅞-]+")


def unit_written(text: str) -> str:
    """The unit behind the number of a value, as it is written.

    >>> unit_written("29 ft·lb ± 1 ft·lb"), unit_written("2 ft 3 in"), unit_written("40 %")
    ('ft·lb', 'in', '%')
    """
    value = PLUS_MINUS.split(text)[0].strip()
    number = _NUMBER.match(value)
    unit = value[number.end() :].strip() if number else ""
    return last_unit(value) if any(map(str.isdigit, unit)) else unit


def with_usual_unit(text: str, kind: Kind, unit: str) -> str:
    """The text with the unit behind each bare number, where it can be read with it and not without.

    A ratio can be read without; where it is written in percent, a number above 1 is one of percent.

    >>> from planner.quantities.kinds import LENGTH
    >>> with_usual_unit("4 ± 1/16", LENGTH, "in"), with_usual_unit("4 mm", LENGTH, "in")
    ('4 in ± 1/16 in', '4 mm')
    """
    halves = [half.strip() for half in PLUS_MINUS.split(text)]
    bare = [bool(_NUMBER.fullmatch(half)) and any(map(str.isdigit, half)) for half in halves]
    percent = kind.form == "ratio" and unit == "%"
    if not unit or not bare[0] or not (percent or kind.form == "quantity"):
        return text
    if _reads(text, kind) and not (percent and float(read_value(text, kind).value) > 1):  # type: ignore[union-attr]
        return text
    said = " ± ".join(f"{half} {unit}" if alone else half for half, alone in zip(halves, bare, strict=True))
    return said if _reads(said, kind) else text


def _reads(text: str, kind: Kind) -> bool:
    try:
        read_value(text, kind)
    except Unreadable:
        return False
    return True
