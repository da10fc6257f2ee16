"""How tolerances reach a figure: each entry moved to both ends of its tolerance in turn, then all at their worst."""

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from itertools import combinations
from math import inf, isfinite, sqrt
from operator import itemgetter
from typing import Any, NamedTuple

from planner.worksheet.declare import Impossible
from planner.worksheet.outcome import Known, Share, Spot, number
from planner.worksheet.turning import MIRRORED, Turned, moved, number_in

Ends = Mapping[int, tuple[Any, Any]]  # root entry -> the value here with that entry at its low and at its high end
Settle = Callable[[dict[int, float]], Any]  # the value with entries part of the way from their low to their high end
GOLDEN = (sqrt(5) - 1) / 2  # each closing in keeps one of its two looks for the next
CLOSE = 1e-5  # of a tolerance: where a smooth turn is as good as found
DUST = 1e-13  # relative: an effect below this is what float arithmetic leaves over
FAR = 3.0  # times what its entries do one by one, within which a number stays when they work together
PAIRED = 6  # entries that work against each other, up to which each two are tried together
STRAIGHT = 1e-10  # relative: what entries do together is not looked into below this
BROKEN = object()  # a formula that failed at an end of a tolerance: the bound there is not known


def ends_through(
    call: Callable[..., Any], slots: Sequence[int], values: Sequence[Any], here: Any, ends: Callable[[int], Ends]
) -> dict[int, tuple[Any, Any]]:
    """The value of `call` with each root entry at its ends; roots that never move it are dropped."""
    inputs = [ends(slot) for slot in slots]
    # In the order of the formula: one of the layout's would give another sum, by a bit, where more stands in it.
    roots = dict.fromkeys(root for known in inputs for root in known)
    if not roots:
        return {}
    nominal = [values[slot] for slot in slots]
    found: dict[int, tuple[Any, Any]] = {}
    idle: list[int] = []
    for root in roots:
        low, high = nominal.copy(), nominal.copy()
        for place, known in enumerate(inputs):
            if root in known:
                low[place], high[place] = known[root]
        pair = value_at(call, low), value_at(call, high)
        if moved(pair[0], here) or moved(pair[1], here):
            found[root] = pair
        else:
            idle.append(root)
    if idle and found and _awake(call, inputs, nominal, idle, found):
        found |= dict.fromkeys(idle, (here, here))
    return found


def _awake(
    call: Callable[..., Any],
    inputs: Sequence[Ends],
    nominal: Sequence[Any],
    idle: Sequence[int],
    others: Collection[int],
) -> bool:
    """Whether roots that alone do nothing, such as a factor of what is nothing now, do something once others moved."""
    for pattern in ((0, 1), (0, 0, 1, 1)):  # not all the same way: they might cancel
        elsewhere = [
            next((pair[pattern[place % len(pattern)]] for root, pair in known.items() if root in others), value)
            for place, (known, value) in enumerate(zip(inputs, nominal, strict=True))
        ]
        low, high = elsewhere.copy(), elsewhere.copy()
        for place, known in enumerate(inputs):
            for root in idle:
                if root in known:
                    low[place], high[place] = known[root]
        if moved(value_at(call, low), value_at(call, high)):
            return True
    return False


def value_at(call: Callable[..., Any], arguments: list[Any]) -> Any:
    if BROKEN in arguments:  # it equals nothing but itself
        return BROKEN
    try:
        value = call(*arguments)
    except (Impossible, ArithmeticError, ValueError, TypeError):  # beyond what the formula was made for
        return BROKEN
    return BROKEN if isinstance(value, complex) else value


def known(
    value: Any,
    ends: Ends,
    settle: Settle,
    source: Callable[[int], Spot],
    picks: Collection[str] = (),
    turning: Collection[int] = (),
) -> Known:
    """A value with its worst case, its likely spread and its shares; along `turning` entries it turns back smoothly.

    What is picked from a list (`picks`, as a figure declares them) has no spread, only other picks, between which its
    bounds jump.
    """
    middle = number(value)
    if middle is None:
        return Known(value, parts=_parts(value, ends, settle, source, picks, turning))
    if picks:
        others = {end for pair in ends.values() for end in pair if end is not BROKEN and end != value}
        turned = _turned(value)
        if turned is not None:
            others |= {end for end in _over_pieces(turned, ends, settle, turning) if end != value and isfinite(end)}
        reach = (middle, *others)
        return Known(value, min(reach), max(reach), instead=tuple(sorted(others)))
    low, high, effects = _bounds(value, ends, settle, turning)
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


def _bounds(value: Any, ends: Ends, settle: Settle, turning: Collection[int]) -> tuple[float, float, dict[int, Effect]]:
    """The worst case of a number, and the effects of the entries that move it.

    The worst case is the larger of two: the sum of every entry's own effect, and the value with all entries where
    they hurt most (`settle` gives it). The first misses how entries work together, the second how a figure turns
    back within one tolerance; the wider of them stands. Of what a formula says that it turns each piece has its own.
    """
    middle, turned = number(value), _turned(value)
    assert middle is not None
    searched = () if turned is not None else [root for root in ends if root in turning]
    effects = {root: _effect(root, pair, middle, settle if root in searched else None) for root, pair in ends.items()}
    effects = {root: effect for root, effect in effects.items() if effect.half > DUST * max(1.0, abs(middle))}
    if turned is not None:
        low, high = _over_pieces(turned, ends, settle, turning)
        return min(low, middle), max(high, middle), effects
    low = middle - sum(effect.down for effect in effects.values())
    high = middle + sum(effect.up for effect in effects.values())
    if effects and len(ends) > 1 and high < inf:
        idle = [root for root in ends if root not in effects]
        down = {root: effect.at_down for root, effect in effects.items()}
        up = {root: effect.at_up for root, effect in effects.items()}
        low = min(low, _together(down, 1.0, low, effects, idle, settle, searched))
        high = max(high, _together(up, -1.0, high, effects, idle, settle, searched))
    return low, high, effects


def _together(
    shares: dict[int, float],
    sign: float,
    apart: float,
    effects: Mapping[int, Effect],
    idle: Sequence[int],
    settle: Settle,
    turning: Collection[int],
) -> float:
    """The least value with all entries where they hurt most (the greatest where the sign is -1); `apart` is their sum.

    An entry that matters less than what all do together may hurt at its other end there, and so may one that alone
    does nothing; one along which it turns may do so anywhere.
    """

    def at(shares: dict[int, float]) -> float:
        return sign * _number_at(settle, shares, -sign * inf)

    shares = shares | dict.fromkeys(idle, 0.0)
    worst = at(shares)
    together = abs(worst - sign * apart)
    for root in turning:
        found = _searched(lambda share, root=root, others=shares: at(others | {root: share}))  # type: ignore[misc]
        share, value = min(found, key=itemgetter(1))
        if value < worst:
            worst, shares = value, shares | {root: share}
    if not STRAIGHT * max(1.0, abs(worst)) < together < inf:
        return sign * worst
    weak = [root for root, effect in effects.items() if effect.half < together]
    if idle and at(shares | dict.fromkeys(idle, 1.0)) != worst:
        weak += idle
    before = inf
    # Two that each hurt at one end beside the one end of the other, and more at both other ends: both at once.
    turns = [(root,) for root in weak] + (list(combinations(weak, 2)) if len(weak) <= PAIRED else [])
    while worst < before:
        before = worst
        for some in turns:
            other = shares | {root: 1.0 - round(shares[root]) for root in some}
            value = at(other)
            if value < worst:
                worst, shares = value, other
    return sign * worst


def _over_pieces(turned: Turned, ends: Ends, settle: Settle, turning: Collection[int]) -> tuple[float, float]:
    """The bounds of a number that is one of several, by those of each."""
    settle = _remembered(settle)
    every = [
        (at, piece, {root: (_piece(pair[0], at), _piece(pair[1], at)) for root, pair in ends.items()})
        for at, piece in enumerate(turned.pieces)
    ]
    spans = [
        _bounds(piece, own, lambda shares, at=at: _piece(settle(shares), at), turning)[:2]  # type: ignore[misc]
        for at, piece, own in (every if turned.way not in MIRRORED else _near(turned, every))
    ]
    if turned.over is not None:
        low, high = turned.over(*spans[0]) if all(map(isfinite, spans[0])) else (-inf, inf)
        return low + spans[1][0], high + spans[1][1]
    if turned.way == "where":
        switch, *spans = spans
        spans = spans[:1] if switch[0] >= 0 else spans[1:] if switch[1] < 0 else spans
    lows, highs = zip(*spans, strict=True)
    return (
        max(lows) if turned.way == "greatest" else min(lows),
        min(highs) if turned.way == "least" else max(highs),
    )


def _near(turned: Turned, every: Sequence[tuple[int, float, Ends]]) -> Sequence[tuple[int, float, Ends]]:
    """The pieces that can be the least or greatest at all: the others stay behind, were they to move by far more."""
    sign = 1.0 if turned.way == "greatest" else -1.0
    reach = []
    for _, piece, own in every:
        far = 0.0
        for pair in own.values():
            there = map(number, pair)
            far += max(inf if end is None else abs(end - piece) for end in there)
        reach.append((sign * piece - FAR * far, sign * piece + FAR * far))
    surely = max(low for low, _ in reach)
    return [one for one, (_, high) in zip(every, reach, strict=True) if high >= surely]


def _remembered(settle: Settle) -> Settle:
    """Settles the same shares once: the pieces of a number are asked about the same corners."""
    known: dict[frozenset[tuple[int, float]], Any] = {}

    def remembered(shares: dict[int, float]) -> Any:
        key = frozenset(shares.items())
        if key not in known:
            known[key] = settle(shares)
        return known[key]

    return remembered


def _turned(value: Any) -> Turned | None:
    bare = number_in(value)
    return bare if isinstance(bare, Turned) else None


def _piece(value: Any, at: int) -> Any:
    """One of a turned number's pieces; the number itself where it stands alone."""
    turned = _turned(value)
    if turned is None:
        return value
    return turned.pieces[at] if at < len(turned.pieces) else BROKEN


def _effect(root: int, pair: tuple[Any, Any], middle: float, settle: Settle | None) -> Effect:
    """What one entry does; with `settle` it is searched for between its ends too."""
    at_ends = [None if end is BROKEN else number(end) for end in pair]
    if at_ends[0] is None or at_ends[1] is None:
        return Effect(inf, inf, 0.0, 1.0)  # it fails at an end: no bound is known
    seen = {0.0: at_ends[0], 1.0: at_ends[1], 0.5: middle}
    if settle is not None:
        seen |= dict(_searched(lambda share: _number_at(settle, {root: share}, inf)))
        if inf in map(abs, seen.values()):
            return Effect(inf, inf, 0.0, 1.0)  # or between them
    at_down, at_up = min(seen, key=seen.__getitem__), max(seen, key=seen.__getitem__)
    return Effect(max(0.0, middle - seen[at_down]), max(0.0, seen[at_up] - middle), at_down, at_up)


def _searched(at: Callable[[float], float]) -> Iterator[tuple[float, float]]:
    """Shares of a tolerance with the value there: its ends, and where it turns on either side of its middle."""
    for low, high in ((0.0, 0.5), (0.5, 1.0)):
        first, last = at(low), at(high)
        yield from ((low, first), (high, last))
        begins, ends = at(low + CLOSE) - first, last - at(high - CLOSE)
        if begins * ends < 0:
            yield _turn(at, low, high, 1.0 if begins < 0 else -1.0)


def _turn(at: Callable[[float], float], low: float, high: float, sign: float) -> tuple[float, float]:
    """Where a value is least (greatest where the sign is -1), closing in from both ends, and the value there."""
    left, right = high - GOLDEN * (high - low), low + GOLDEN * (high - low)
    at_left, at_right = sign * at(left), sign * at(right)
    while high - low > CLOSE:
        if at_left < at_right:
            high, right, at_right = right, left, at_left
            left = low + high - right
            at_left = sign * at(left)
        else:
            low, left, at_left = left, right, at_right
            right = low + high - left
            at_right = sign * at(right)
    return left, sign * at_left


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
    value: Any,
    ends: Ends,
    settle: Settle,
    source: Callable[[int], Spot],
    picks: Collection[str],
    turning: Collection[int],
) -> dict[str, Known]:
    parts = {}
    for name in getattr(value, "_fields", ()):
        part = getattr(value, name)
        if number(part) is None:
            continue
        own = {root: (_part(low, name), _part(high, name)) for root, (low, high) in ends.items()}
        picked = ("",) if name in picks else ()
        parts[name] = known(part, own, lambda shares, name=name: _part(settle(shares), name), source, picked, turning)  # type: ignore[misc]
    return parts


def _part(value: Any, name: str) -> Any:
    return BROKEN if value is BROKEN else getattr(value, name)
