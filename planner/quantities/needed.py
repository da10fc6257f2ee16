"""A tolerance that is needed, as people read it: how closely something has to be measured to settle a question."""

from math import isfinite

from planner.quantities.fineness import BESIDE, System, rung_for
from planner.quantities.kinds import Kind
from planner.quantities.numerals import two_figures
from planner.quantities.show import NO_NUMBER, Style
from planner.quantities.spellings import factor, unit_of


def needed_tolerance(amount: float, kind: Kind, style: Style) -> str:
    """`amount`, in SI, to two figures whatever its size and never rounded up, since a wider one would settle nothing.

    >>> from planner.quantities.kinds import LENGTH, RATIO
    >>> needed_tolerance(0.00002, LENGTH, Style()), needed_tolerance(0.00357, RATIO, Style())
    ('± 0.00078 in (0.02 mm)', '± 0.0035')
    """
    if not isfinite(amount):
        return NO_NUMBER
    if kind.form == "ratio" and (kind.name == "share" or kind.least < 0):
        return f"± {two_figures(100 * amount, 'down') or 0} %"
    if kind.form != "quantity":
        return f"± {two_figures(amount, 'down') or 0}"
    other: System = "metric" if style.system == "inch" else "inch"
    beside = f" ({_in(amount, kind, other)})" if kind.name in BESIDE else ""
    return f"± {_in(amount, kind, style.system)}{beside}"


def _in(amount: float, kind: Kind, system: System) -> str:
    rung = rung_for(kind.name, system, amount)
    unit = unit_of(rung.unit, kind) if rung else None
    of_si, shown = (float(factor(unit, kind)), rung.unit) if rung and unit else (1.0, kind.si)
    return f"{two_figures(amount / of_si, 'down') or 0}{'' if shown == '°' else ' '}{shown}"
