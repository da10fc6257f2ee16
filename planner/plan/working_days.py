"""Working hours and calendar days: the week's hours spread evenly over its seven days."""

from datetime import date, timedelta
from math import ceil, floor

DUST = 1e-9  # of an hour or a day: what float sums leave over
FARTHEST = 36_500  # days: a schedule that runs longer than a century has no dates worth giving


def hours_to(start: date, day: date, rate: float) -> float:
    """Working hours from the start to the beginning of a day; less than nothing for a day before it."""
    return (day - start).days * rate


def day_after(start: date, days: int) -> date | None:
    try:
        return start + timedelta(days) if abs(days) <= FARTHEST else None
    except OverflowError:
        return None


def first_day(start: date, hours: float, rate: float) -> date | None:
    """The day on which work at this hour begins."""
    return day_after(start, floor(hours / rate + DUST))


def last_day(start: date, hours: float, rate: float, begun: float = 0.0) -> date | None:
    """The day on which the last of these hours is worked, not before the one on which it was begun."""
    return day_after(start, max(ceil(hours / rate - DUST) - 1, floor(begun / rate + DUST)))


def arrival(start: date, hours: float, rate: float) -> date | None:
    """The first day that a delivery is there for the whole of."""
    return day_after(start, ceil(hours / rate - DUST))
