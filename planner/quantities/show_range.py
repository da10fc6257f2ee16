"""A range for people: both its ends, finer than a tape's fractions where these would hide most of it."""

from dataclasses import replace
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_UP, Decimal
from math import inf

from planner.quantities.fineness import rung_for
from planner.quantities.grammar import read_value
from planner.quantities.kinds import Kind
from planner.quantities.quantity import Quantity
from planner.quantities.show import Style, in_unit, show

_FINEST = 6  # decimals
_IN_FRACTIONS, _IN_DECIMALS = 0.75, 0.5  # of the range; what is hidden of it is never what is not good
_OFF, _OFF_LENGTH = 1 / 8, 0.0254 / 64  # of an end that stands alone, and in m: what a caliper tells for sure
_ROUNDED = {"": ROUND_HALF_UP, "down": ROUND_FLOOR, "up": ROUND_CEILING}


def show_range(low: float, high: float, kinds: tuple[Kind, Kind], style: Style, beside: bool = True) -> tuple[str, str]:
    """Both ends as people read them, each rounded to its kind's safe side.

    Where that would hide more than a quarter of the range, or show its ends the wrong way round, both stand in
    decimals, as few as show most of it.

    >>> from planner.quantities.kinds import LENGTH
    >>> kinds = LENGTH.smallest(), LENGTH.greatest()
    >>> show_range(0.1936, 0.2032, kinds, Style())[0][:8], show_range(0.19285, 0.1936, kinds, Style())
    ('7 5/8 in', ('7.60 in', '7.62 in'))
    """
    own = show(low, kinds[0], style, beside=beside), show(high, kinds[1], style, beside=beside)
    rung = rung_for(kinds[0].name, style.system, high)
    if kinds[0].form != "quantity" or rung is None or not low < high or _apart(low, high, kinds, style):
        return own
    for places in range(2 if rung.unit == "in" else 1, _FINEST + 1):
        step = Decimal(1).scaleb(-places)
        ends = [
            Decimal(f"{in_unit(end, kind, rung.unit):.12g}").quantize(step, _ROUNDED[kind.safe])
            for end, kind in zip((low, high), kinds, strict=True)
        ]
        whole = in_unit(high, kinds[1], rung.unit) - in_unit(low, kinds[0], rung.unit)
        if float(ends[1] - ends[0]) >= _IN_DECIMALS * whole:
            space = "" if rung.unit == "°" else " "
            return f"{ends[0]}{space}{rung.unit}", f"{ends[1]}{space}{rung.unit}"
    return own


def _apart(low: float, high: float, kinds: tuple[Kind, Kind], style: Style) -> bool:
    """Whether enough is left between the two ends as they would be shown."""
    read = [_read_back(end, kind, style) for end, kind in zip((low, high), kinds, strict=True)]
    left = read[1] - read[0]
    return left >= _IN_FRACTIONS * (high - low) if kinds[0].name == "length" and style.fractions else left > 0


def show_end(value: float, kind: Kind, style: Style, beside: bool = True) -> str:
    """The one end that a range has, in decimals where a tape's fraction would be too strict by an eighth or by a 64th.

    >>> from planner.quantities.kinds import LENGTH
    >>> show_end(0.12 * 0.0254, LENGTH.greatest(), Style(), beside=False)
    '0.120 in'
    """
    off = abs(_read_back(value, kind, style) - value) if kind.form == "quantity" else 0.0
    rough = off > abs(value) * _OFF or (kind.name == "length" and style.fractions and off > _OFF_LENGTH)
    return show(value, kind, style._replace(fractions=False) if rough else style, beside=beside)


def _read_back(value: float, kind: Kind, style: Style) -> float:
    """A value as it is read off what is shown of it."""
    read = read_value(show(value, kind, style, beside=False), replace(kind, least=-inf, most=inf, above=False))
    return float(read.value) if isinstance(read, Quantity) else value
