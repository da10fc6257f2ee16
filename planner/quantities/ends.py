"""What a value is at both ends of its tolerance."""

from typing import Any

from planner.quantities.quantity import Band, Quantity


def ends(value: Any) -> tuple[Any, Any] | None:
    """The bare value at its low and its high end; None where it carries no tolerance.

    A list of points moves away from and toward its middle by each point's tolerance: of all the ways in which
    the readings may be off together, the one that changes a circle through them most.

    >>> ends(Quantity(2.0, 0.5))
    (1.5, 2.5)
    """
    if isinstance(value, Quantity):
        return (value.low, value.high) if value.tolerance else None
    if isinstance(value, Band):
        return (value.low, value.high) if value.low < value.high else None
    if isinstance(value, tuple) and value and isinstance(value[0], tuple):
        measured = any(axis.tolerance for point in value for axis in point)
        return (_scaled(value, -1), _scaled(value, 1)) if measured else None
    return None


def _scaled(points: tuple[tuple[Quantity, Quantity], ...], way: int) -> tuple[tuple[float, float], ...]:
    middle_x = sum(x.value for x, _ in points) / len(points)
    middle_y = sum(y.value for _, y in points) / len(points)
    moved = []
    for x, y in points:
        away_x, away_y = x.value - middle_x, y.value - middle_y
        length = (away_x**2 + away_y**2) ** 0.5
        reach = way * max(x.tolerance, y.tolerance)
        share = reach / length if length else 0.0
        moved.append((x.value + away_x * share, y.value + away_y * share))
    return tuple(moved)
