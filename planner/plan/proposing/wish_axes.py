"""The wishes as numbers: how far a candidate misses each, by which of them one is compared, and who is beaten so."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from math import inf
from typing import NamedTuple, TypeVar

from planner.plan.truck.project import OpenProject
from planner.project.models.ranges import WishedRange
from planner.quantities.kinds import Kind
from planner.quantities.text import in_words
from planner.worksheet.outcome import Known

T = TypeVar("T")
Axes = tuple[float, ...]  # of each thing compared, the less the better

COMPARED = 3  # wishes, the first in order
NEAR = 0.05  # of an end: what misses a wished diameter or section by more is not looked at
CRUISE = "cruise_engine_speed"  # a wish that stands in [use]
OF_TIRE = ("diameter", "section_width")
NODES = {"diameter": "overall_diameter"} | {
    name: name for name in ("section_width", "poke", "fender_fill", "rake", CRUISE)
}  # by name of a wish


class RangeWish(NamedTuple):
    """A wish for a figure from `low` to `high`, in SI; for as much as clears where `largest`."""

    name: str
    low: float = -inf
    high: float = inf
    largest: bool = False

    @property
    def node(self) -> str:
        return NODES[self.name]

    @property
    def called(self) -> str:
        return in_words(self.name)

    def misses(self, value: float) -> float:
        """How far a value is outside of the range; of as much as clears, less than nothing: the larger the better."""
        return -value if self.largest else max(self.low - value, value - self.high, 0.0)

    def near(self, value: float) -> bool:
        """Whether it is within the range, or a size next to it."""
        return self.largest or self.low * (1.0 - NEAR) <= value <= self.high * (1.0 + NEAR)


class Wished(NamedTuple):
    """Every wish; `compared` are those by which candidates are compared, the first in order first.

    `invented` where nobody wished anything: then as large a tire as clears is looked for.
    """

    ranges: tuple[RangeWish, ...]
    compared: tuple[RangeWish, ...]
    invented: bool = False


def wished(opened: OpenProject) -> Wished:
    """What the person wants, in their order, then in that of the file."""
    found = {one.name: one for one in _ranges(opened)}
    order = [name for name in opened.project.wishes.order if name in found]
    ranges = tuple(found[name] for name in dict.fromkeys((*order, *found)))
    if not any(one.name != CRUISE for one in ranges):
        ranges = (RangeWish("diameter", largest=True), *ranges)
        return Wished(ranges, ranges[:COMPARED], True)
    return Wished(ranges, ranges[:COMPARED])


def _ranges(opened: OpenProject) -> Iterator[RangeWish]:
    wishes = opened.project.wishes
    for name in NODES:
        one = getattr(wishes, name, None)
        if isinstance(one, WishedRange) and NODES[name] in opened.sheet.catalog.figures:
            low, high = (-inf if one.low is None else one.low.value), (inf if one.high is None else one.high.value)
            yield RangeWish(name, low, high, one.low is None and one.high is None)
    use = opened.project.use
    least, most = use.lowest_cruise_engine_speed, use.highest_cruise_engine_speed
    if least is not None or most is not None:
        yield RangeWish(CRUISE, -inf if least is None else least.value, inf if most is None else most.value)


def value_of(opened: OpenProject, wish: RangeWish, fitment: str) -> float | None:
    """What a fitment has of what is wished: of both ends that which misses it most; None where it is not known."""
    spots = [spot for spot in opened.sheet.spots(wish.node) if spot.place[0] in ("", fitment)]
    outcomes = [opened.sheet.outcome(spot) for spot in spots]
    known = [float(one.value) for one in outcomes if isinstance(one, Known)]
    return max(known, key=wish.misses, default=None)


def kind_of(opened: OpenProject, wish: RangeWish) -> Kind:
    """The kind of what is wished."""
    kind = opened.sheet.catalog.kind(wish.node)
    assert kind is not None
    return kind


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
