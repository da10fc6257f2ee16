"""Which of several candidates no other beats: better in one thing, and nowhere worse."""

from collections.abc import Callable, Sequence
from typing import TypeVar

T = TypeVar("T")
Axes = tuple[float, ...]  # of each thing compared, the less the better


def beats(one: Axes, other: Axes) -> bool:
    """Whether one is nowhere worse, and better somewhere.

    >>> beats((1.0, 2.0), (1.0, 3.0)), beats((1.0, 3.0), (2.0, 2.0)), beats((1.0,), (1.0,))
    (True, False, False)
    """
    return one != other and all(a <= b for a, b in zip(one, other, strict=True))


def unbeaten(candidates: Sequence[T], axes: Callable[[T], Axes]) -> list[T]:
    """Those that no other beats, in their order; of several that are equal in all that is compared the first alone.

    >>> unbeaten([(2.0, 1.0), (1.0, 2.0), (2.0, 2.0), (1.0, 2.0)], lambda one: one)
    [(2.0, 1.0), (1.0, 2.0)]
    """
    first: dict[Axes, T] = {}
    for one in candidates:
        first.setdefault(axes(one), one)
    front: list[Axes] = []
    for mine in sorted(first):  # who beats another comes before it
        if not any(beats(other, mine) for other in front):
            front.append(mine)
    kept = set(front)
    return [one for mine, one in first.items() if mine in kept]
