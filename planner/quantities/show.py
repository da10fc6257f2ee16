"""Writing values: exactly, so that reading them back loses nothing, and for people, in the units they think in.

`write` is for files, `show` for screens and sheets, `show_in` for a unit asked for by name. What is shown is rounded
to a digit that matters in the trade (fineness.py); a tolerance is always rounded up, since down would be to danger,
and a limit to the side that its kind says is safe.
"""

from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_UP, Decimal
from fractions import Fraction
from math import ceil, floor, isfinite, log10, pi, tan
from typing import NamedTuple

from planner.quantities.amounts import GREATEST, LEAST, LONGEST, kind_in_words
from planner.quantities.fineness import BESIDE, INCH, Rung, System, first_unit, rung_for
from planner.quantities.grammar import LONGEST_LIST, Bare, Value
from planner.quantities.kinds import POSITION, RATIO, Kind
from planner.quantities.numerals import decimal, two_figures
from planner.quantities.quantity import Quantity
from planner.quantities.spellings import ACCEPTED, Unit, factor, unit_of
from planner.quantities.text import clean
from planner.quantities.unreadable import Unreadable


class Style(NamedTuple):
    """How a person wants to see values; fractions are of inches only, and never shown in metric."""

    system: System = "inch"
    fractions: bool = True

    @property
    def other(self) -> "Style":
        """The other system, as it stands beside this one."""
        return Style("metric" if self.system == "inch" else "inch", fractions=False)


# What float arithmetic leaves over is nearer to a sixteenth than this, in inches; what a tape shows is not.
_EXACT = 1e-6
_MOST_PLACES = 9
_ROUNDED = {"": ROUND_HALF_UP, "down": ROUND_FLOOR, "up": ROUND_CEILING}

NO_NUMBER = "not a finite number"
NO_TOLERANCE = "(tolerance not known)"


# Exactly, for files


def write(value: Value | Bare, kind: Kind, unit: str | None = None) -> str:
    """`value` in `unit`, or else in SI, so that `read_value` gives back the same float to the last bit.

    Raises ValueError for what no reading could have given (not finite, or beyond anything on a truck), and
    `Unreadable` where `unit` is no unit of this kind.

    >>> from planner.quantities.kinds import LENGTH
    >>> write(Quantity(0.1397, 0.003175), LENGTH, "in"), write(4.1, RATIO)
    ('5.5 in ± 0.125 in', '4.1')
    """
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, str):
        return value
    if isinstance(value, tuple):
        return _write_list((value,) if kind.form == "point" else value, kind, unit)
    if kind.form == "count":
        return str(value)
    amount, tolerance = _halves(value)
    given = None if kind.form == "ratio" else _unit(unit or kind.si, kind)
    of_si = factor(given, kind) if given else Fraction(1)
    behind = f" {given.shown}" if given else ""
    text = f"{_exactly(amount, of_si)}{behind}"
    if not tolerance:
        return text
    margin = f"{_exactly(tolerance, of_si)}{behind}"
    # Without the first unit, which the second gives, where the two would be too long to read back.
    return f"{text} ± {margin}" if len(text) + 3 + len(margin) <= LONGEST else f"{text.split()[0]} ± {margin}"


def _write_list(values: tuple[object, ...], kind: Kind, unit: str | None) -> str:
    written = []
    for entry in values:
        if isinstance(entry, tuple):
            written.append(", ".join(write(half, POSITION, unit) for half in entry))
        elif isinstance(entry, (Quantity, float, int)):
            written.append(write(entry, RATIO))
    text = "; ".join(written)
    if len(text) > LONGEST_LIST:
        raise ValueError(f"{len(values)} {kind.name} are too long for one text")
    return text


def _exactly(value: float, of_si: Fraction) -> str:
    """The shortest of the decimals with 15 figures or more that, times the factor, is rounded to `value` again."""
    if not isfinite(value) or (value and not LEAST <= abs(value) <= GREATEST):
        raise ValueError(f"{value!r} cannot be written so that it can be read back")
    amount = Fraction(value) / of_si
    texts = (decimal(amount, figures) for figures in range(15, 25))
    return next(text for text in texts if float(Fraction(text) * of_si) == value)


# For people


def show(
    value: Value | Bare,
    kind: Kind,
    style: Style = Style(),  # noqa: B008
    tolerance: float | None = None,
    beside: bool = True,
) -> str:
    """`value`, in SI or as a `Quantity`, as a person reads it, with its tolerance; the other system stands `beside`.

    Of a `Quantity` whose tolerance is assumed, that is said.

    >>> from planner.quantities.kinds import LENGTH
    >>> show(0.1397, LENGTH), show(0.1397, LENGTH, Style("metric")), show(0.1409, LENGTH)
    ('5 1/2 in (139.7 mm)', '139.7 mm (5.50 in)', '5 9/16 in (5.547 in, 140.9 mm)')
    >>> show(0.6096, LENGTH, Style(), 0.003175)
    '24 in ± 1/8 in (609.6 mm ± 3.2 mm)'
    >>> show(0.1397, LENGTH, beside=False)
    '5 1/2 in'
    >>> show(Quantity(0.6096, 0.003175, stated=False), LENGTH, beside=False)
    '24 in ± 1/8 in assumed'
    """
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, str):
        return clean(value)
    if isinstance(value, tuple):
        return ", ".join(_entry(entry, style) for entry in ((value,) if kind.form == "point" else value))
    amount, margin = _halves(value)
    margin = margin if tolerance is None else tolerance
    if not isfinite(amount):
        return NO_NUMBER
    if not isfinite(margin):
        return f"{show(amount, kind, style, 0.0, beside)} {NO_TOLERANCE}"
    if kind.form == "count":
        return f"{amount:.0f}" if amount == int(amount) else f"{amount:.4g}"
    if kind.form == "ratio":
        return _ratio(amount, margin, kind)
    if rung_for(kind.name, style.system, amount) is None:
        return f"{amount:.4g} {kind.si}"
    text, behind, nearest = _side(amount, margin, kind, style)
    own = f"{text}{behind}{_assumed(value, behind)}" if tolerance is None else f"{text}{behind}"
    if not beside:
        return own
    if kind.beside == "grade" and amount >= pi / 2:
        return f"{own} (no slope stops the thrust: tire grip is the limit)"
    if kind.beside == "grade":
        return f"{own} ({_decimals(100 * tan(amount), 1)} %)"
    if kind.name not in BESIDE:
        return own
    other = "".join(_side(amount, margin, kind, style.other)[:2])
    return f"{own} ({_decimals(amount / INCH, 3, safe=kind.safe)} in, {other})" if nearest else f"{own} ({other})"


def as_written(value: Quantity, kind: Kind, style: Style) -> str:
    """What the person wrote, made harmless, and behind it the tolerance that is assumed where they gave none.

    >>> from planner.quantities.kinds import LENGTH
    >>> as_written(Quantity(0.6096, 0.003175, "24 in", stated=False), LENGTH, Style())
    '24 in (± 1/8 in assumed)'
    """
    margin = assumed_margin(value, kind, style)
    return f"{clean(value.text)} ({margin} assumed)" if margin else clean(value.text)


def margin_shown(value: Quantity, kind: Kind, style: Style) -> str:
    """The tolerance alone, as it stands behind the value: `± 1/8 in`."""
    if kind.form == "ratio":
        return f"± {_ratio(value.value, value.tolerance, kind).partition(' ± ')[2]}"
    return _side(value.value, value.tolerance, kind, style)[1].strip()


def assumed_margin(value: object, kind: Kind, style: Style) -> str:
    """The tolerance that is assumed of a value, `± 1/8 in`; empty where it is stated or there is none."""
    assumed = isinstance(value, Quantity) and value.assumed and kind.form == "quantity"
    return _side(*_halves(value), kind, style)[1].strip() if assumed else ""  # type: ignore[arg-type]


def show_plain(value: Value | Bare, kind: Kind, style: Style, tolerance: float | None = None) -> str:
    """`value` for a narrow place: in the person's own system alone, inches as decimals.

    >>> from planner.quantities.kinds import LENGTH
    >>> show_plain(0.1397, LENGTH, Style())
    '5.50 in'
    """
    return show(value, kind, Style(style.system, fractions=False), tolerance, beside=False)


def show_other(value: Quantity, kind: Kind, style: Style) -> str:
    """`value` in the other system, as finely as its tolerance asks and without it; empty where that says no more.

    >>> from planner.quantities.kinds import LENGTH
    >>> show_other(Quantity(0.6096, 0.003175), LENGTH, Style())
    '609.6 mm'
    """
    if kind.form != "quantity" or not isfinite(value.value) or not isfinite(value.tolerance):
        return ""
    own, other = (_side(value.value, value.tolerance, kind, one)[0] for one in (style, style.other))
    return "" if own == other else other


def show_in(value: float, kind: Kind, unit: str, tolerance: float | None = None) -> str:
    """`value` in the unit asked for, to six figures; raises `Unreadable` where that is no unit of this kind.

    >>> from planner.quantities.kinds import LENGTH
    >>> show_in(0.1397, LENGTH, "mm"), show_in(0.05, RATIO, "%")
    ('139.7 mm', '5 %')
    """
    of_si, shown = _asked(unit, kind)
    if not isfinite(value):
        return NO_NUMBER
    text = _joined(decimal(Fraction(value) / of_si, 6), shown)
    if not tolerance:
        return text
    if not isfinite(tolerance):
        return f"{text} {NO_TOLERANCE}"
    return f"{text} ± {_joined(two_figures(float(Fraction(tolerance) / of_si)), shown)}"


def in_unit(value: float, kind: Kind, unit: str) -> float:
    """`value` as a number of the unit asked for; raises `Unreadable` where that is no unit of this kind."""
    of_si, _ = _asked(unit, kind)
    return float(Fraction(value) / of_si) if isfinite(value) else value


def default_unit(kind: Kind, style: Style) -> str:
    """The unit that a value of this kind is asked for in, "" for a kind without units."""
    return first_unit(kind.name, style.system) if kind.form == "quantity" else ""


def _halves(value: Quantity | float) -> tuple[float, float]:
    return (value.value, value.tolerance) if isinstance(value, Quantity) else (value, 0.0)


def _unit(text: str, kind: Kind) -> Unit:
    unit = unit_of(text, kind)
    if unit is None:
        names = ACCEPTED[kind.name][0] if kind.name in ACCEPTED else kind.si or "no unit"
        raise Unreadable(text, f"isn't a unit of {kind_in_words(kind.name)}", f"write {names}")
    return unit


def _asked(text: str, kind: Kind) -> tuple[Fraction, str]:
    """The factor of a unit asked for, and how it is shown behind a number."""
    if kind.form == "ratio" and text.strip() in ("", "%"):
        return Fraction(1, 100) if "%" in text else Fraction(1), text.strip()
    unit = _unit(text, kind)
    return factor(unit, kind), f"per {unit.shown[2:]}" if unit.shown.startswith("1/") else unit.shown


def _entry(entry: object, style: Style) -> str:
    """A point in brackets, in one system, or a ratio."""
    if isinstance(entry, tuple):
        sides = [(half, *_side(*_halves(half), POSITION, style)[:2]) for half in entry]
        return f"({', '.join(f'{text}{margin}{_assumed(half, margin)}' for half, text, margin in sides)})"
    return _ratio(*_halves(entry), RATIO) if isinstance(entry, (Quantity, float, int)) else ""


def _assumed(value: object, margin: str) -> str:
    return " assumed" if margin and isinstance(value, Quantity) and value.assumed else ""


def _side(value: float, tolerance: float, kind: Kind, style: Style) -> tuple[str, str, bool]:
    """Value in one system, its tolerance behind it, and whether that is only the nearest sixteenth of an inch."""
    rung = rung_for(kind.name, style.system, value)
    unit = unit_of(rung.unit, kind) if rung else None
    if rung is None or unit is None:
        return f"{value:.4g} {kind.si}", "", False
    of_si = float(factor(unit, kind))
    amount = value / of_si
    fractions = style.fractions and style.system == "inch" and rung.unit == "in"
    margin = _margin(tolerance / of_si, fractions)
    behind = f" ± {_joined(margin, rung.unit)}" if margin else ""
    sixteenths = _whole(amount * 16, kind.safe) if fractions else 0
    exact = fractions and abs(amount - sixteenths / 16) <= _EXACT
    # Below a sixteenth a fraction says nothing, and beside a tolerance the nearest one would shift both its ends.
    if exact or (fractions and abs(amount) >= 1 / 16 and not margin):
        return _joined(_mixed(Fraction(sixteenths, 16)), rung.unit), behind, not exact
    # A limit that is an angle loses a whole digit on its way to the safe side: it is shown to one more.
    finer = 1 if kind.safe and kind.name == "angle" else 0
    places = max(_places(amount, rung) + finer, _places_in(margin))
    text = _decimals(amount, places, "," if style.system == "inch" else "\u00a0", kind.safe)
    if kind.name == "time" and "." in text:
        text = text.rstrip("0").rstrip(".")
    shown = "day" if rung.unit == "days" and text == "1" else rung.unit
    return _joined(text, shown), behind, False


def _ratio(value: float, tolerance: float, kind: Kind) -> str:
    """Three or four figures; a share is shown in percent, and so is a change, with its sign."""
    if kind.least < 0 or kind.name == "share":
        margin = two_figures(100 * tolerance)
        text = _decimals(100 * value, max(2 if abs(value) < 0.1 else 1, _places_in(margin)), safe=kind.safe)
        sign = "+" if kind.least < 0 < value and text.strip("0.") else ""
        return f"{sign}{text} % ± {margin} %" if margin else f"{sign}{text} %"
    if kind.name == "rim code":
        return f"{value:g}"
    margin = two_figures(tolerance)
    places = max(_figure_places(value, 4), _places_in(margin))
    text = _decimals(value, places, safe=kind.safe)
    # Figures that are nothing are left out, the fourth always: gears are 4.10, not 4.100.
    fewest = max(2, _places_in(margin), places - (3 if margin else 1))
    while _places_in(text) > fewest and text.endswith("0"):
        text = text[:-1]
    return f"{text} ± {margin}" if margin else text


def _joined(number: str, unit: str) -> str:
    return f"{number}{'' if unit in ('°', '') else ' '}{unit}"


def _places(amount: float, rung: Rung) -> int:
    return rung.places if rung.places is not None else _figure_places(amount, rung.figures)


def _places_in(text: str) -> int:
    return len(text.partition(".")[2])


def _figure_places(amount: float, figures: int) -> int:
    """How many decimals give that many significant figures."""
    return min(max(figures - 1 - floor(log10(abs(amount))), 0), _MOST_PLACES) if amount else 0


def _whole(amount: float, safe: str) -> int:
    """The nearest whole number, or the one on the safe side, what float arithmetic leaves over taken off."""
    if safe:
        return floor(amount + 16 * _EXACT) if safe == "down" else ceil(amount - 16 * _EXACT)
    return round(amount)


def _decimals(amount: float, places: int, group: str = ",", safe: str = "") -> str:
    """`amount` to so many decimals, in groups of three from ten thousand on; nothing is never minus nothing.

    A half goes up, as people round, once what float arithmetic leaves over is taken off: 57.15 mm is 57.2 mm. With
    `safe` all goes down, or all up.
    """
    if not amount:
        return "0"
    number: Decimal | float = amount
    if abs(amount) < 1e12:  # beyond, a float has no decimals that count
        number = Decimal(f"{amount:.{12 if safe else 14}g}").quantize(Decimal(1).scaleb(-places), _ROUNDED[safe])
    text = f"{number:,.{places}f}" if abs(amount) >= 10_000 else f"{number:.{places}f}"
    if not text.strip("-0."):
        text = text.lstrip("-")
    return text.replace(",", group)


def _margin(amount: float, fractions: bool) -> str:
    """A tolerance rounded up, or as the fraction of an inch that it is, to sixty-fourths; "" for none."""
    sixty_fourths = round(amount * 64)
    if fractions and sixty_fourths and abs(amount - sixty_fourths / 64) <= _EXACT:
        return _mixed(Fraction(sixty_fourths, 64))
    return two_figures(amount)


def _mixed(inches: Fraction) -> str:
    """A whole number and a fraction, as on a tape: 5 1/2, 3/8, -2 1/4."""
    whole, part = divmod(abs(inches), 1)
    text = " ".join([*([str(whole)] if whole or not part else []), *([str(part)] if part else [])])
    return f"-{text}" if inches < 0 else text
