"""How tolerances reach a figure: each entry moved to both ends of its tolerance in turn, then all at their worst."""

from collections.abc import Callable, Collection, Mapping, Sequence
from math import inf, sqrt
from typing import Any, NamedTuple

from planner.worksheet.declare import Impossible
from planner.worksheet.outcome import Known, Share, Spot, number

Ends = Mapping[int, tuple[Any, Any]]  # root entry -> the value here with that entry at its low and at its high end
Settle = Callable[[dict[int, float]], Any]  # the value with entries part of the way from their low to their high end
GOLDEN = (sqrt(5) - 1) / 2  # each closing in keeps one of its two looks for the next
DUST = 1e-13  # relative: an effect below this is what float arithmetic leaves over
BROKEN = object()  # a formula that failed at an end of a tolerance: the bound there is not known


def ends_through(
    call: Callable[..., Any], slots: Sequence[int], values: Sequence[Any], here: Any, ends: Callable[[int], Ends]
) -> dict[int, tuple[Any, Any]]:
    """The value of `call` with each root entry at its ends; roots that leave it at `here` on both sides are dropped."""
    inputs = [ends(slot) for slot in slots]
    # In the order of the formula: one of the layout's would give another sum, by a bit, where more stands in it.
    roots = dict.fromkeys(root for known in inputs for root in known)
    if not roots:
        return {}
    nominal = [values[slot] for slot in slots]
    found: dict[int, tuple[Any, Any]] = {}
    for root in roots:
        low, high = nominal.copy(), nominal.copy()
        for place, known in enumerate(inputs):
            if root in known:
                low[place], high[place] = known[root]
        pair = value_at(call, low), value_at(call, high)
        if pair[0] != here or pair[1] != here:
            found[root] = pair
    return found


def value_at(call: Callable[..., Any], arguments: list[Any]) -> Any:
    if BROKEN in arguments:  # it equals nothing but itself
        return BROKEN
    try:
        value = call(*arguments)
    except (Impossible, ArithmeticError, ValueError, TypeError):  # beyond what the formula was made for
        return BROKEN
    return BROKEN if isinstance(value, complex) else value


def known(value: Any, ends: Ends, settle: Settle, source: Callable[[int], Spot], picks: Collection[str] = ()) -> Known:
    """A value with its worst case, its likely spread and its shares.

    The worst case is the larger of two: the sum of every entry's own effect, and the value with all entries where
    they hurt most (`settle` gives it). The first misses how entries work together, the second how a figure turns
    back within one tolerance; the wider of them stands. What is picked from a list (`picks`, as a figure declares
    them) has no spread, only other picks, between which its bounds jump.
    """
    middle = number(value)
    if middle is None:
        return Known(value, parts=_parts(value, ends, settle, source, picks))
    if picks:
        others = {end for pair in ends.values() for end in pair if end is not BROKEN and end != value}
        reach = (middle, *others)
        return Known(value, min(reach), max(reach), instead=tuple(sorted(others)))
    effects = {root: _effect(root, pair, middle, settle) for root, pair in ends.items()}
    effects = {root: effect for root, effect in effects.items() if effect.half > DUST * max(1.0, abs(middle))}
    if not effects:
        return Known(value, middle, middle)
    low = middle - sum(effect.down for effect in effects.values())
    high = middle + sum(effect.up for effect in effects.values())
    if len(effects) > 1 and high < inf:
        low = min(low, _number_at(settle, {root: effect.at_down for root, effect in effects.items()}, -inf))
        high = max(high, _number_at(settle, {root: effect.at_up for root, effect in effects.items()}, inf))
    square = sum(effect.half**2 for effect in effects.values())
    shares = sorted(
        (
            Share(source(root), effect.half, effect.half**2 / square if square < inf else 0.0)
            for root, effect in effects.items()
        ),
        key=lambda share: -share.half,
    )
    return Known(value, low, high, sqrt(square), tuple(shares))


class Effect(NamedTuple):
    """What one entry's tolerance does: how far down and up it takes a value, and where in the tolerance it does so."""

    down: float
    up: float
    at_down: float
    at_up: float

    @property
    def half(self) -> float:
        return max(self.down, self.up)


def _effect(root: int, pair: tuple[Any, Any], middle: float, settle: Settle) -> Effect:
    at_ends = [None if end is BROKEN else number(end) for end in pair]
    if at_ends[0] is None or at_ends[1] is None:
        return Effect(inf, inf, 0.0, 1.0)  # it fails at an end: no bound is known
    seen = {0.0: at_ends[0], 0.5: middle, 1.0: at_ends[1]}
    if (at_ends[0] - middle) * (at_ends[1] - middle) > 0:  # both ends on one side: it turns back between them
        seen |= _turn(root, settle, lowest=at_ends[0] > middle)
    at_down, at_up = min(seen, key=seen.__getitem__), max(seen, key=seen.__getitem__)
    return Effect(max(0.0, middle - seen[at_down]), max(0.0, seen[at_up] - middle), at_down, at_up)


def _turn(root: int, settle: Settle, lowest: bool) -> dict[float, float]:
    """The least (or greatest) value within one entry's tolerance and where it is, by closing in from both ends."""
    sign, low, high = (1.0 if lowest else -1.0), 0.0, 1.0
    seen: dict[float, float] = {}

    def at(share: float) -> float:
        if share not in seen:
            seen[share] = _number_at(settle, {root: share}, sign * inf)
        return sign * seen[share]

    left, right = 1 - GOLDEN, GOLDEN
    while high - low > 1e-4:
        if at(left) < at(right):
            high, right = right, left
            left = low + high - right
        else:
            low, left = left, right
            right = low + high - left
    return seen


def _number_at(settle: Settle, shares: dict[int, float], broken: float) -> float:
    value = settle(shares)
    there = None if value is BROKEN else number(value)
    return broken if there is None else there


def between(pair: tuple[Any, Any], share: float) -> Any:
    """A value part of the way from one end to the other; of texts and lists one end or the other."""
    low, high = pair
    if isinstance(low, float) and isinstance(high, float):
        return low if share == 0 else high if share == 1 else low + (high - low) * share
    return low if share < 0.5 else high


def _parts(
    value: Any, ends: Ends, settle: Settle, source: Callable[[int], Spot], picks: Collection[str]
) -> dict[str, Known]:
    parts = {}
    for name in getattr(value, "_fields", ()):
        part = getattr(value, name)
        if number(part) is None:
            continue
        own = {root: tuple(_part(end, name) for end in pair) for root, pair in ends.items()}
        moved = {root: (pair[0], pair[1]) for root, pair in own.items() if pair[0] != part or pair[1] != part}
        picked = ("",) if name in picks else ()
        parts[name] = known(part, moved, lambda shares, name=name: _part(settle(shares), name), source, picked)  # type: ignore[misc]
    return parts


def _part(value: Any, name: str) -> Any:
    return BROKEN if value is BROKEN else getattr(value, name)
