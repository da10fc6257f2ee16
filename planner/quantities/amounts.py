"""Reading one quantity or ratio as people write it, `5 1/2 in` or `24 in ± 1/8`, exactly and without trusting it.

No text is evaluated: a whitelist of characters, two patterns that cannot backtrack, a table of spellings and exact
fractions, rounded once to a float at the end. Anything else is `Unreadable`, at once, however long or odd it is.
"""

import re
from fractions import Fraction
from functools import lru_cache
from math import degrees

from planner.quantities.kinds import Kind
from planner.quantities.numerals import VULGAR, number
from planner.quantities.quantity import Quantity
from planner.quantities.spellings import LADDERS, Unit, accepted, factor, unit_of, units_spelled
from planner.quantities.unreadable import Accepted, Unreadable

LONGEST = 64
READ_LATELY = 4096  # texts: a truck is read anew at each edit, and most of it says what it said before
# Beyond these, in SI, nothing on a truck can be: and what lies between can be written back to the last bit.
GREATEST = 1e30
LEAST = 1e-30

_TYPOGRAPHY = str.maketrans({
    "−": "-", "\u00a0": " ", "\u2007": " ", "\u2009": " ", "\u202f": " ",
    "′": "'", "’": "'", "‘": "'", "″": '"', "”": '"', "“": '"', "º": "°",
    "⋅": "·", "∙": "·", "*": "·", "⁄": "/",
})  # fmt: skip
_WHITELIST = re.compile(rf"[0-9A-Za-z ,./'\"°·²^%±+:{''.join(VULGAR)}-]*")
_SQUARED = re.compile(r"(?<=[mnt])(?:\^2|2(?=$|[ /±+]))")  # cm2, in^2; never the 2 of 1e2 or of 2ft2in
_SPACES = re.compile(" +")
PLUS_MINUS = re.compile(r"±|\+/-|\+-")
_UNIT = re.compile(r" ?(['\"°%]|(?:1 ?/ ?|/ ?)?[A-Za-z]+²?(?:(?:\.? ?[·/-] ?|\. ?| )[A-Za-z]+²?)*(?:\.(?![0-9]))?)")
_LAST_UNIT = re.compile(r"([A-Za-z.°'\"′″’”]+) *$")
_COLON = re.compile(r" ?: ?")

RATIO_ACCEPTED = Accepted("write a number without a unit", "4.10, 41:10 or 5 %")

NONE = Fraction(0)
EXACT = "exact"
_EXACT = re.compile(r"(?:^|(?<=.) +|(?<=[\d'\"°%]))exact$", re.IGNORECASE)

Part = tuple[Fraction, str]  # a number, and the unit behind it as written, "" where there is none


@lru_cache(maxsize=READ_LATELY)
def read(text: str, kind: Kind) -> Quantity:
    """The quantity of this kind that `text` says, in the kind's SI unit; raises `Unreadable` where it says none.

    A tolerance stands behind `±`, `+/-` or `+-`: in the same unit, in its own, or in percent of the value.
    Whichever of the two has no unit takes the other's; `exact` behind the value says that there is none.
    Pounds and kilograms of a weight go by standard gravity.

    >>> from planner.quantities.kinds import LENGTH
    >>> read("5 1/2 in", LENGTH).value, read("24 in ± 1/8", LENGTH).tolerance
    (0.1397, 0.003175)
    """
    if kind.form == "ratio":
        return read_ratio(text, kind)
    wanted = accepted(kind)
    value_text, tolerance_text = _halves(text, wanted)
    parts = _parts(value_text, text, f"is not {kind_in_words(kind.name)}", wanted)
    if tolerance_text is None or tolerance_text == EXACT:
        return _quantity(_total(parts, text, kind), NONE, text, kind, wanted, tolerance_text is not None)
    margin = _parts(tolerance_text, text, "has a tolerance the planner can't read", wanted)
    if len(margin) == 1 and margin[0][1] == "%":
        value = _total(parts, text, kind)
        return _quantity(value, abs(value) * margin[0][0] / 100, text, kind, wanted)
    if len(margin) == 1 and not margin[0][1]:
        margin = [(margin[0][0], parts[-1][1])]
    elif len(parts) == 1 and not parts[0][1] and len(margin) == 1:
        parts = [(parts[0][0], margin[0][1])]
    return _quantity(_total(parts, text, kind), _total(margin, text, kind), text, kind, wanted)


@lru_cache(maxsize=READ_LATELY)
def read_ratio(text: str, kind: Kind) -> Quantity:
    """The bare number that `text` says, with a tolerance if it has one: `4.10`, `41:10`, `5 %`, `0.2 ± 30 %`.

    A tolerance in percent is a part of the value, but of a value itself in percent it is so many percent more or less.

    >>> from planner.quantities.kinds import RATIO
    >>> read_ratio("41:10", RATIO).value, read_ratio("5 % ± 1 %", RATIO).tolerance
    (4.1, 0.01)
    """
    value_text, tolerance_text = _halves(text, RATIO_ACCEPTED)
    value, percent = _ratio(value_text, text, kind)
    if tolerance_text is None or tolerance_text == EXACT:
        return _quantity(value, NONE, text, kind, RATIO_ACCEPTED, tolerance_text is not None)
    margin, margin_percent = _ratio(tolerance_text, text, kind)
    if percent and not margin_percent:
        margin = margin / 100
    elif margin_percent and not percent:
        margin = margin * abs(value)
    return _quantity(value, margin, text, kind, RATIO_ACCEPTED)


def plain(text: str, wanted: str) -> str:
    """`text` with typographic marks made plain and spaces closed up, once its length and characters are found good."""
    if len(text) > LONGEST:
        raise Unreadable(text, f"is longer than {LONGEST} characters", wanted)
    marks = text.translate(_TYPOGRAPHY)
    if not _WHITELIST.fullmatch(marks):
        raise Unreadable(text, "has a character that doesn't belong in a number or unit", wanted)
    marks = _SPACES.sub(" ", marks).strip()
    if not marks:
        raise Unreadable(text, "says nothing", wanted)
    return marks.replace("''", '"')


def last_unit(text: str) -> str:
    """The last unit that a text names, as it is written; "" where it names none.

    >>> last_unit('5 ft 6 1/2 in'), last_unit("24.5 in "), last_unit("1/8")
    ('in', 'in', '')
    """
    unit = _LAST_UNIT.search(text)
    return unit[1] if unit else ""


def kind_in_words(name: str) -> str:
    """The name of a kind with its article: a length, an angle."""
    return f"{'an' if name[0] in 'aeiou' else 'a'} {name}"


def _halves(text: str, wanted: str) -> tuple[str, str | None]:
    """The value and the tolerance, each still a text; the tolerance of what is said to be exact is `EXACT`."""
    halves = [half.strip() for half in PLUS_MINUS.split(_SQUARED.sub("²", plain(text, wanted)))]
    if len(halves) > 2:
        raise Unreadable(text, "has more than one tolerance", wanted)
    if len(halves) == 2 and not halves[1]:
        raise Unreadable(text, "has a ± and no tolerance after it", wanted)
    if len(halves) == 2 and not halves[0]:
        raise Unreadable(text, "has a tolerance and no value before it", wanted)
    exact = _EXACT.search(halves[-1])
    if exact is None:
        return halves[0], halves[1] if len(halves) == 2 else None
    if len(halves) == 2 and exact.start():
        raise Unreadable(text, "has a tolerance and says it's exact", wanted)
    return halves[0][: exact.start()] if len(halves) == 1 else halves[0], EXACT


def _parts(text: str, whole: str, problem: str, wanted: str) -> list[Part]:
    """Numbers and their units in order, the sign on all of them: `-2 ft 3 in` is less than nothing as a whole."""
    found: list[Part] = []
    sign, at = _sign(text)
    while at < len(text) or not found:
        try:
            amount, at = number(text, at)
        except ValueError as fault:
            raise Unreadable(whole, problem, wanted) from fault
        unit = _UNIT.match(text, at)
        if unit is None and (found or at < len(text)):
            raise Unreadable(whole, problem, wanted)
        name = unit[1] if unit else ""
        found.append((amount if sign > 0 else -amount, name))
        at = unit.end() if unit else at
        # Feet and inches are drawn as 5'-6 1/2": only there is a hyphen between two parts no minus.
        if text.startswith(" ", at) or (name == "'" and text.startswith("-", at)):
            at += 1
        if text.startswith(".", at):  # "2 ft.3 in" is 2.3 in or 2 ft .3 in, and nobody can tell
            raise Unreadable(whole, problem, wanted)
    return found


def _sign(text: str) -> tuple[int, int]:
    """The sign in front, and where the number behind it begins."""
    if not text.startswith(("+", "-")):
        return 1, 0
    return -1 if text[0] == "-" else 1, 2 if text.startswith(" ", 1) else 1


def _total(parts: list[Part], whole: str, kind: Kind) -> Fraction:
    """The sum of the parts in SI; several parts must step down a ladder, each less than one of the unit before."""
    wanted = accepted(kind)
    units = [_unit(name, whole, kind, wanted) for _, name in parts]
    if len(parts) == 1:
        return parts[0][0] * factor(units[0], kind)
    for (amount, _), (_, _), above, below in zip(parts[1:], parts, units, units[1:], strict=False):
        if not any(_steps_down(ladder, above.name, below.name) for ladder in LADDERS):
            raise Unreadable(whole, f"has {below.shown} after {above.shown}", wanted)
        if abs(amount) * below.factor >= above.factor:
            raise Unreadable(whole, f"has enough {below.shown} for another {above.shown}", wanted)
    if any(amount.denominator != 1 for amount, _ in parts[:-1]):
        raise Unreadable(whole, "has a broken number before its last unit", wanted)
    return sum((amount * factor(unit, kind) for (amount, _), unit in zip(parts, units, strict=True)), NONE)


def _steps_down(ladder: tuple[str, ...], above: str, below: str) -> bool:
    return above in ladder and below in ladder and ladder.index(above) < ladder.index(below)


def _unit(name: str, whole: str, kind: Kind, wanted: str) -> Unit:
    if not name:
        raise Unreadable(whole, "has no unit", wanted)
    unit = unit_of(name, kind)
    if unit is None:
        others = units_spelled(name)
        if not others:
            raise Unreadable(whole, f"is not {kind_in_words(kind.name)}", wanted)
        read_as = kind_in_words(others[0].kinds[0])
        raise Unreadable(whole, f"is {read_as}; this needs {kind_in_words(kind.name)}", wanted)
    return unit


def _ratio(text: str, whole: str, kind: Kind) -> tuple[Fraction, bool]:
    """A number, or two with a colon, and whether a percent sign is behind it."""
    sign, at = _sign(text)
    body = text.removesuffix("%").rstrip()
    problem = f"is not {kind_in_words(kind.name)}"
    try:
        value, end = number(body, at)
        colon = _COLON.match(body, end)
        if colon:
            under, end = number(body, colon.end())
            value = value / under
    except (ValueError, ZeroDivisionError) as fault:
        raise Unreadable(whole, problem, RATIO_ACCEPTED) from fault
    if end != len(body):
        others = units_spelled(body[end:])
        if others:
            problem = f"is {kind_in_words(others[0].kinds[0])}; this needs {kind_in_words(kind.name)}"
        raise Unreadable(whole, problem, RATIO_ACCEPTED)
    percent = body != text
    return sign * (value / 100 if percent else value), percent


def _quantity(
    value: Fraction, tolerance: Fraction, text: str, kind: Kind, wanted: str, stated: bool = True
) -> Quantity:
    """The two, rounded once, where both are possible."""
    if tolerance < 0:
        raise Unreadable(text, "is impossible: its tolerance has to be at least 0", wanted)
    exact, margin = float(value), float(tolerance)
    for size in (abs(exact), margin):
        if size and not LEAST <= size <= GREATEST:
            raise Unreadable(text, "is impossible: nothing on a truck is that much", wanted)
    if kind.above and margin and margin >= exact - kind.least:
        raise Unreadable(
            text, "has a tolerance as wide as itself", "measure it closely enough that the ± is less than the value"
        )
    fault = fault_in_words(exact, kind)
    if fault:
        raise Unreadable(text, f"is impossible, {fault}", wanted)
    return Quantity(exact, margin, text, stated)


def fault_in_words(value: float, kind: Kind) -> str | None:
    """What is impossible about `value`, with the bounds of an angle in degrees; None where it is possible."""
    fault = kind.fault(value)
    if fault and kind.si == "rad":
        return f"it has to be from {degrees(kind.least):g} to {degrees(kind.most):g} deg"
    return fault
