"""What may be written down with a tick: the range by the worksheet, and how a recorded value stands to it."""

from collections.abc import Callable
from typing import Literal, NamedTuple

from planner.quantities.grammar import read_value
from planner.quantities.kinds import Kind
from planner.quantities.quantity import Quantity
from planner.tasks.kind import Bound, Record

Ends = tuple[float, float]
EndsOf = Callable[[str], Ends | None]  # the worst case of a node at the task's place, low and high: None if not known
Standing = Literal["within", "outside", "too close to call", "not known"]

DUST = 1e-12  # what float arithmetic leaves of a limit that is met exactly, in any SI unit


class Range(NamedTuple):
    """Where the two ends of the acceptable range lie, each between its own low and high; None where there is no end.

    `missing` names what must be known first.
    """

    least: Ends | None = None
    most: Ends | None = None
    missing: tuple[str, ...] = ()

    @property
    def sure(self) -> tuple[float | None, float | None]:
        """The part that is acceptable whatever the tolerances: what a sheet prints, rounded inward and never out."""
        return (self.least[1] if self.least else None, self.most[0] if self.most else None)


def acceptable(record: Record, ends_of: EndsOf) -> Range:
    """The range of a record, its bounds' own tolerances counted."""
    missing: list[str] = []
    least, most = (_ends(bound, record.kind, ends_of, missing) for bound in (record.least, record.most))
    return Range(least, most, tuple(dict.fromkeys(missing)))


def stands(value: Quantity | float, range_: Range) -> Standing:
    """How a recorded value stands to its range, both of their tolerances counted: exactly at an end is within.

    What is not known lets nothing pass, but does not hide that the end which is known was missed.
    """
    low, high = (value.low, value.high) if isinstance(value, Quantity) else (value, value)
    if _past(low, high, range_, 0, 1):
        return "outside"
    if range_.missing:
        return "not known"
    return "too close to call" if _past(high, low, range_, 1, 0) else "within"


def _past(for_most: float, for_least: float, range_: Range, least_end: int, most_end: int) -> bool:
    under = range_.least is not None and for_least < range_.least[least_end] - DUST
    over = range_.most is not None and for_most > range_.most[most_end] + DUST
    return under or over


def _ends(bound: Bound | None, kind: Kind, ends_of: EndsOf, missing: list[str]) -> Ends | None:
    if bound is None:
        return None
    parts = [_part(part, kind, ends_of, missing) for part in (bound.of, bound.more, bound.less)]
    if any(part is None for part in parts):
        return None
    of, more, less = (part or (0.0, 0.0) for part in parts)
    if bound.nominal:
        of = (of[0] + of[1]) / 2, (of[0] + of[1]) / 2
    return bound.times * of[0] + more[0] - less[1], bound.times * of[1] + more[1] - less[0]


def _part(text: str, kind: Kind, ends_of: EndsOf, missing: list[str]) -> Ends | None:
    if not text:
        return 0.0, 0.0
    if text.isidentifier():
        ends = ends_of(text)
        if ends is None:
            missing.append(text)
        return ends
    value = read_value(text, kind)
    if isinstance(value, Quantity):
        return value.low, value.high
    if isinstance(value, (int, float)):
        return float(value), float(value)
    raise TypeError(f"{text!r} is no end of a range")
