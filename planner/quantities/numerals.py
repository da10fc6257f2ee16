"""Numbers as people write them, read exactly: fractions, mixed numbers, thousands groups, decimal point or comma."""

import re
from fractions import Fraction
from math import ceil, floor, log10
from typing import Literal

VULGAR = {
    "½": Fraction(1, 2), "⅓": Fraction(1, 3), "⅔": Fraction(2, 3), "¼": Fraction(1, 4), "¾": Fraction(3, 4),
    "⅕": Fraction(1, 5), "⅖": Fraction(2, 5), "⅗": Fraction(3, 5), "⅘": Fraction(4, 5), "⅙": Fraction(1, 6),
    "⅚": Fraction(5, 6), "⅛": Fraction(1, 8), "⅜": Fraction(3, 8), "⅝": Fraction(5, 8), "⅞": Fraction(7, 8),
}  # fmt: skip

# A group after a space has exactly three digits and is not the top of a fraction: 5 125/1000 is a mixed number.
# Every repetition begins with its own separator, so that no text can make the match go back over itself.
_NUMBER = re.compile(
    r"(?P<figure>[1-9][0-9]{0,2}(?: [0-9]{3}(?![0-9]| ?/ ?[0-9]))+(?:[.,][0-9]+)?"
    r"|[0-9]+(?:,[0-9]+)*(?:\.[0-9]+)?"
    r"|\.[0-9]+)?"
    r"(?P<exponent>[eE][+-]?[0-9]{1,2}(?![0-9]))?"
    rf"(?:[ -]?(?P<vulgar>[{''.join(VULGAR)}])"
    r"|[ -](?P<top>[0-9]+) ?/ ?(?P<bottom>[0-9]+)"
    r"| ?/ ?(?P<under>[0-9]+))?"
)
_THOUSANDS = re.compile(r"[1-9][0-9]{0,2}(?:,[0-9]{3})+(?:\.[0-9]+)?")


def number(text: str, start: int = 0) -> tuple[Fraction, int]:
    """The unsigned number that begins at `start`, exactly, and where it ends; raises ValueError where there is none.

    A comma parts thousands where it can, and is a decimal comma only where it cannot be anything else.

    >>> number("5 1/2 in"), number("1,250 lb"), number("1,5 mm")
    ((Fraction(11, 2), 5), (Fraction(1250, 1), 5), (Fraction(3, 2), 3))
    """
    match = _NUMBER.match(text, start)
    if match is None or match.end() == start:
        raise ValueError("no number")
    figure, exponent, vulgar, top, bottom, under = match.groups()
    if figure is None:
        if exponent or vulgar is None or not text.startswith(vulgar, start):
            raise ValueError("no number")
        return VULGAR[vulgar], match.end()
    if exponent and not figure.replace(".", "", 1).isdigit():
        raise ValueError("a power of ten with a grouped number")
    value = Fraction(f"{_pointed(figure)}{exponent}") if exponent else _decimal(_pointed(figure))
    if vulgar is None and top is None and under is None:
        return value, match.end()
    if exponent or "." in figure or value.denominator != 1:
        raise ValueError("a fraction on a number that is not whole")
    if under is not None:
        return _over(value.numerator, int(under)), match.end()
    part = VULGAR[vulgar] if vulgar else _over(int(top), int(bottom))
    if part >= 1:
        raise ValueError("a mixed number with a fraction of one or more")
    return value + part, match.end()


def _pointed(figure: str) -> str:
    """`figure` with its groups closed up and a point for its decimals, as Fraction reads it."""
    if " " in figure:
        return figure.replace(" ", "").replace(",", ".")
    if "," not in figure:
        return figure
    if _THOUSANDS.fullmatch(figure):
        return figure.replace(",", "")
    if figure.count(",") == 1 and "." not in figure:
        return figure.replace(",", ".")
    raise ValueError("commas that mark neither thousands nor decimals")


def _decimal(figure: str) -> Fraction:
    """Digits with a point or none, much faster than Fraction reads a text."""
    whole, _, rest = figure.partition(".")
    return Fraction(int(whole + rest), 10 ** len(rest)) if rest else Fraction(int(whole))


def _over(top: int, bottom: int) -> Fraction:
    if bottom == 0:
        raise ValueError("a fraction over zero")
    return Fraction(top, bottom)


def decimal(value: Fraction, figures: int) -> str:
    """`value` to that many significant figures, as short as it goes, with a power of ten only far from one.

    >>> decimal(Fraction(11, 2), 17), decimal(Fraction(1, 3), 5), decimal(Fraction(1, 10**9), 3)
    ('5.5', '0.33333', '1e-9')
    """
    if value == 0:
        return "0"
    size = abs(value)
    power = len(str(size.numerator)) - len(str(size.denominator))
    if size < Fraction(10) ** power:  # the first guess is right or one too high
        power -= 1
    digits = str(round(size * Fraction(10) ** (figures - 1 - power)))
    if len(digits) > figures:  # 9.99 rounded up to 10.0
        power += 1
    digits = digits.rstrip("0")
    sign = "-" if value < 0 else ""
    if -5 <= power < 0:
        return f"{sign}0.{'0' * (-power - 1)}{digits}"
    if 0 <= power < 16:
        digits = digits.ljust(power + 1, "0")
        tail = digits[power + 1 :]
        return f"{sign}{digits[: power + 1]}{'.' + tail if tail else ''}"
    return f"{sign}{digits[0]}{'.' + digits[1:] if digits[1:] else ''}e{power}"


def two_figures(amount: float, side: Literal["up", "down"] = "up") -> str:
    """`amount` to two figures, rounded to that side once what float arithmetic leaves over is off; "" for nothing.

    >>> two_figures(0.0787), two_figures(0.0787, "down"), two_figures(3.2, "down")
    ('0.079', '0.078', '3.2')
    """
    if not amount:
        return ""
    exact = Fraction(f"{amount:.11e}")
    step = Fraction(10) ** (floor(log10(amount)) - 1)
    return decimal((ceil if side == "up" else floor)(exact / step) * step, 3)
