"""What a drawing reads of the project: values by node, the keys of those that lack, and lengths as it shows them."""

from math import isfinite
from typing import Any

from planner.plan.fit.swept_wheel import keys_behind
from planner.plan.truck.project import OpenProject
from planner.quantities.kinds import ANGLE, POSITION
from planner.quantities.show import Style, show
from planner.quantities.text import clean

_SIXTEENTH = 0.0254 / 16

_HAIR = 1e-6  # of a sixteenth


def known_values(opened: OpenProject, fitment: str, axle: str, *nodes: str) -> list[Any]:
    """The value of each node at one end of one fitment, in SI; None where there is none.

    A number that is one of several is that number alone here: with all its pieces each sum of a drawing would grow.
    """
    found = [opened.sheet.value(opened.spot(node, fitment=fitment, axle=axle)) for node in nodes]
    return [float(value) if isinstance(value, float) else value for value in found]


def missing_entries(opened: OpenProject, fitment: str, axle: str, *nodes: str) -> tuple[str, ...]:
    """The entries for which the nodes without a value wait, by their keys as people read them."""
    spots = (opened.spot(node, fitment=fitment, axle=axle) for node in nodes)
    return tuple(
        map(opened.asked_for, keys_behind(opened, [spot for spot in spots if opened.sheet.value(spot) is None]))
    )


def length(value: float, style: Style, beside: bool = True) -> str:
    """A length in both systems: `5 1/2 in (139.7 mm)`, in decimals where it is no sixteenth of an inch.

    >>> length(0.1397, Style()), length(0.1401, Style()), length(-0.0001, Style("metric"))
    ('5 1/2 in (139.7 mm)', '5.52 in (140.1 mm)', '-0.10 mm (-0.004 in)')
    """
    sixteenths = value / _SIXTEENTH
    whole = isfinite(sixteenths) and abs(sixteenths - round(sixteenths)) <= max(_HAIR, 1e-9 * abs(sixteenths))
    return show(value, POSITION, style if whole else Style(style.system, fractions=False), beside=beside)


def short(value: float, style: Style) -> str:
    """A length in the person's own system alone: `5 1/2 in`."""
    return length(value, style, beside=False)


def angle(value: float) -> str:
    return show(value, ANGLE)


def drawing_of(fitment: str, axle: str) -> str:
    """Which truck end a drawing is of: `tall, front`."""
    return f"{clean(fitment)}, {axle}"
