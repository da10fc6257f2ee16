"""The backspaces that keep every limit at once, what binds at each end, and the same drawn over diameter × backspace.

Backspace and offset differ by half the rim's overall width: offset = backspace − rim width / 2.

How an obstacle's own set of backspaces is found. The tires at all backspaces from one to another together fill the
section drawn apart by the stretch between the two; what all of them share is the section drawn together by as much
(while the crown is flat). So one question to the former proves the whole stretch clear, and one to the latter proves
all of it blocked. What is neither is halved, down to `step`; a last stretch in doubt is blocked.

Of two tires side by side each has its own way with the backspace: the outer wheel is turned around, so more of it takes
the outer tire outboard as far as it takes the inner one inboard. What is asked of either is asked of a single tire, at
the backspace at which that would stand there (`Placing`), and a backspace keeps an obstacle where both do.
"""

from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache
from math import ceil, floor, inf, isfinite
from typing import NamedTuple

from planner.trade.fit.limits import Limit
from planner.trade.fit.motion import Motion, SweptObstacle, refuse
from planner.trade.fit.section import TireSection
from planner.trade.fit.sweep import YES_OR_NO, keeps, near_cells
from planner.trade.fit.trace import Cell, Trace, trace

STEP = 1e-5  # m; how closely the ends of a window are found
QUARTER_INCH = 0.00635  # m; the step in which wheel makers offer backspace

Stretch = tuple[float, float]
Stretches = tuple[Stretch, ...]
Allowed = tuple[str, Stretches]  # a limit's name, and the backspaces that keep it


class Placing(NamedTuple):
    """How one tire goes with the backspace: it stands where a lone one would at start + way × backspace.

    It may stand `aside` by so much to either side of there; less than nothing: it may be put aside by as much to keep
    clear. `way` is 1, or −1 for the outer tire of a pair.
    """

    start: float = 0.0
    way: float = 1.0
    aside: float = 0.0

    def alone(self, backspace: float) -> float:
        """The backspace at which a lone tire would stand there."""
        return self.start + self.way * backspace


ALONE = (Placing(),)


class Interval(NamedTuple):
    """Backspaces from `low` to `high`, with the limit that binds at each end; None where the search itself ended."""

    low: float
    high: float
    low_binds: str | None = None
    high_binds: str | None = None


class Fight(NamedTuple):
    """Why there is no backspace: `first` and `second` miss each other by `by`.

    Where no backspace at all meets `first`, there is no `second` and no amount.
    """

    first: str
    second: str | None
    by: float | None


class Window(NamedTuple):
    """The backspaces that keep every limit, lowest first, and where there are none, which limits fight."""

    intervals: tuple[Interval, ...]
    fight: Fight | None


class Choice(NamedTuple):
    """A backspace that the wheel maker offers, inside `interval`, and what is left to either end."""

    backspace: float
    interval: Interval
    to_low: float
    to_high: float


class WindowMap(NamedTuple):
    """`broken[row][column]` names the limit that is broken at diameters[row] and backspaces[column], or is None.

    Of several it is the one that breaks first as the tire grows, the limits on backspace itself before all obstacles.
    """

    diameters: tuple[float, ...]
    backspaces: tuple[float, ...]
    broken: tuple[tuple[str | None, ...], ...]


def at_backspace(section: TireSection, backspace: float, wider: float = 0.0) -> TireSection:
    """The same tire at another backspace, its halves `wider` apart, or together where that is below nothing."""
    return replace(section, offset=backspace - section.rim_width / 2.0, stretch=section.stretch + wider)


def clear_backspaces(
    path: Trace, section: TireSection, low: float, high: float, step: float = STEP, budget: int = YES_OR_NO
) -> Stretches:
    """The stretches of backspace from `low` to `high` at which one obstacle keeps its clearance.

    Their ends to `step`, as far as the budget of each question lasts: what it leaves open is blocked.
    """
    return _clear(path.motion, path.obstacle, path.kind, section, low, high, step, budget)


@lru_cache(maxsize=256)
def _clear(
    motion: Motion,
    obstacle: SweptObstacle,
    kind: bool,
    section: TireSection,
    low: float,
    high: float,
    step: float,
    budget: int,
) -> Stretches:
    """The same, kept for a window under other limits, which asks it again."""
    path, keep = trace(motion, obstacle, kind), obstacle.keep
    found: list[Stretch] = []
    waiting: list[tuple[float, float, Sequence[Cell]]] = [(low, high, path.region.roots)]
    while waiting:
        start, stop, cells = waiting.pop()
        middle, length = (start + stop) / 2.0, stop - start
        near = near_cells(path, at_backspace(section, middle, length), keep, cells, budget)
        if not near or (kind and length <= step):
            if found and found[-1][1] == start:
                start = found.pop()[0]
            found.append((start, stop))
            continue
        if length <= step:
            continue
        narrow = at_backspace(section, middle, -length) if section.flat > length else None
        if narrow is not None and near_cells(path, narrow, keep, near, budget):
            continue
        waiting += [(middle, stop, near), (start, middle, near)]
    return tuple(found)


def backspace_window(
    paths: Sequence[Trace],
    section: TireSection,
    low: float,
    high: float,
    limits: Sequence[Limit] = (),
    step: float = STEP,
    fight_step: float | None = None,
    tires: Sequence[Placing] = ALONE,
) -> Window:
    """The backspaces from `low` to `high` that keep every obstacle's clearance and every limit on the backspace.

    With several `tires` of the section, each keeps them. Each obstacle is only asked about what the ones before it
    left. Where nothing is left, those that fight are found to `fight_step`: by how much two limits miss each other
    need not be known so closely.
    """
    _check(section, low, high)
    if not step > 0.0:
        raise refuse("step", step, "more than nothing, in m")
    left: tuple[Interval, ...] = (Interval(low, high),)
    fixed = [(limit.name, _stretch(limit, low, high)) for limit in limits]
    for name, stretches in fixed:
        left = _met(left, name, stretches)
    for path in paths:
        asked = [_clear_of_all(path, section, (one.low, one.high), step, tires) for one in left]
        left = _met(left, path.obstacle.name, [stretch for stretches in asked for stretch in stretches])
    if left:
        return Window(left, None)
    fight, at = _fight(paths, section, (low, high), fixed, fight_step or step, tires)
    return Window((), fight) if fight is not None else Window((Interval(at, at),), None)  # too narrow for the step


def _clear_of_all(
    path: Trace, section: TireSection, asked: Stretch, step: float, tires: Sequence[Placing]
) -> Stretches:
    """The backspaces at which every tire keeps clear, the later ones only asked about what the others left."""
    left: Stretches = (asked,)
    for tire in tires:
        left = tuple(one for stretch in left for one in _clear_aside(path, section, stretch, step, tire))
    return left


def _clear_aside(path: Trace, section: TireSection, asked: Stretch, step: float, tire: Placing) -> Stretches:
    """The backspaces at which a tire keeps clear wherever it stands within `aside`, or may be put to keep clear."""
    (low, high), aside = sorted(map(tire.alone, asked)), tire.aside
    first, last = low - abs(aside), high + abs(aside)
    moved: list[Stretch] = []
    for start, stop in clear_backspaces(path, section, first, last, step):
        # An end of what was asked stays the very same number: no limit is named that does not move it.
        start = low if start == first else max(start + aside, low)
        stop = high if stop == last else min(stop - aside, high)
        if moved and start <= moved[-1][1]:
            moved[-1] = moved[-1][0], stop
        elif start <= stop:
            moved.append((start, stop))
    ends = {low: asked[0], high: asked[1]} if tire.way > 0.0 else {low: asked[1], high: asked[0]}
    turned = (sorted(ends.get(end, tire.way * (end - tire.start)) for end in stretch) for stretch in moved)
    return tuple(sorted((start, stop) for start, stop in turned))


def _fight(
    paths: Sequence[Trace],
    section: TireSection,
    all_of_it: Stretch,
    fixed: Sequence[Allowed],
    step: float,
    tires: Sequence[Placing],
) -> tuple[Fight | None, float]:
    """Which two limits leave nothing between them, and the backspace that is least wrong; None where all keep it.

    An obstacle that keeps its clearance at the backspace that is least wrong by the others changes nothing there, and
    makes no other backspace less wrong: it need not be asked where it does.
    """
    asked: dict[int, Stretches] = {}
    while True:
        swept = [(paths[index].obstacle.name, asked[index]) for index in sorted(asked)]
        limits = [(name, stretches) for name, stretches in (*fixed, *swept) if stretches != (all_of_it,)]
        fight, at = _least_wrong(limits, sum(all_of_it) / 2.0)
        there = [at_backspace(section, tire.alone(at), 2.0 * max(tire.aside, 0.0)) for tire in tires]
        unasked = (index for index in range(len(paths)) if index not in asked)
        found = next((index for index in unasked if not _all_keep(paths[index], there)), None)
        if found is None or (fight is not None and fight.second is None):
            return fight, at
        asked[found] = _clear_of_all(paths[found], section, all_of_it, step, tires)


def _all_keep(path: Trace, sections: Sequence[TireSection]) -> bool:
    """Whether the obstacle keeps its clearance to every one of the tires."""
    return all(keeps(path, section, path.obstacle.keep) for section in sections)


def _stretch(limit: Limit, low: float, high: float) -> Stretches:
    start, stop = max(low, limit.low), min(high, limit.high)
    return ((start, stop),) if start <= stop else ()


def _met(left: Sequence[Interval], name: str, stretches: Sequence[Stretch]) -> tuple[Interval, ...]:
    """What one more limit leaves of the intervals, with its name at the ends that it moves."""
    return tuple(
        Interval(
            max(interval.low, start),
            min(interval.high, stop),
            name if start > interval.low else interval.low_binds,
            name if stop < interval.high else interval.high_binds,
        )
        for interval in left
        for start, stop in stretches
        if max(interval.low, start) <= min(interval.high, stop)
    )


def _least_wrong(allowed: Sequence[Allowed], otherwise: float) -> tuple[Fight | None, float]:
    """The two limits that pull apart at the backspace that is least wrong, and that backspace; None where none do."""
    for name, stretches in allowed:
        if not stretches:
            return Fight(name, None, None), otherwise
    ends = sorted({end for _, stretches in allowed for stretch in stretches for end in stretch})
    least, found, at = inf, None, otherwise
    # The least wrong backspace is on an end, or half way between the ends of two limits that pull apart.
    for trial in sorted({(a + b) / 2.0 for a in ends for b in ends}):
        up, down = (0.0, ""), (0.0, "")
        for name, stretches in allowed:
            pull = min((_pull(trial, stretch) for stretch in stretches), key=abs)
            up, down = max(up, (pull, name)), max(down, (-pull, name))
        if max(up[0], down[0]) < least and bool(up[0]) == bool(down[0]):
            least, at = max(up[0], down[0]), trial
            found = Fight(down[1], up[1], up[0] + down[0]) if up[0] else None
    return found, at


def _pull(backspace: float, stretch: Stretch) -> float:
    """How far, and which way, the backspace would have to move to be in the stretch."""
    return max(0.0, stretch[0] - backspace) + min(0.0, stretch[1] - backspace)


def choose(
    window: Window, step: float = QUARTER_INCH, wanted: float | None = None, within: float = 0.0
) -> Choice | None:
    """The maker's step inside the window that is nearest to `wanted`, or else has the most left to its nearer end.

    `within` is how well the maker holds it: so much is left to either end at the least.

    >>> choice = choose(Window((Interval(0.100, 0.120),), None))
    >>> round(choice.backspace / 0.0254, 2), round(choice.to_low, 4), round(choice.to_high, 4)
    (4.25, 0.0079, 0.0121)
    """
    if not (isfinite(step) and step > 0.0):
        raise refuse("step", step, "more than nothing, in m")
    offered = [
        Choice(count * step, interval, count * step - interval.low, interval.high - count * step)
        for interval in window.intervals
        for count in range(ceil(interval.low / step) - 1, floor(interval.high / step) + 2)
        if interval.low + within <= count * step <= interval.high - within
    ]
    if wanted is not None:
        return min(offered, key=lambda choice: abs(choice.backspace - wanted), default=None)
    return max(offered, key=lambda choice: min(choice.to_low, choice.to_high), default=None)


def evenly(low: float, high: float, count: int) -> tuple[float, ...]:
    """`count` values from low to high."""
    return tuple(low + (high - low) * index / (count - 1) for index in range(count)) if count > 1 else (low,)


def window_map(
    paths: Sequence[Trace],
    section: TireSection,
    diameters: Sequence[float],
    backspaces: Sequence[float],
    limits: Sequence[Limit] = (),
    tires: Sequence[Placing] = ALONE,
) -> WindowMap:
    """Which limit each pair of diameter and backspace breaks, each pair held against the whole sweep."""
    if not diameters or not backspaces or list(diameters) != sorted(diameters):
        raise refuse("diameters, backspaces", (diameters, backspaces), "at least one of each, diameters smallest first")
    _check(section, min(backspaces), max(backspaces))
    columns: list[tuple[str | None, ...]] = []
    # A larger tire is never clearer, so a column is clear up to some diameter. The last column's is a good first guess.
    order, guess = list(paths), len(diameters) - 1
    for backspace in backspaces:
        own = next((limit.name for limit in limits if not limit.low <= backspace <= limit.high), None)
        if own is not None:
            columns.append((own,) * len(diameters))
            continue
        there = [at_backspace(section, tire.alone(backspace), 2.0 * tire.aside) for tire in tires]
        most = len(diameters) - 1
        binds: str | None = None
        for path in tuple(order):
            found = _most_clear(path, there, diameters, most, guess)
            if found < most:
                most, binds = found, path.obstacle.name
                # What binds here most likely binds next door: asked first, it leaves least to ask of the others.
                order.remove(path)
                order.insert(0, path)
        guess = most
        columns.append(tuple(None if row <= most else binds for row in range(len(diameters))))
    rows = tuple(tuple(column[row] for column in columns) for row in range(len(diameters)))
    return WindowMap(tuple(diameters), tuple(backspaces), rows)


def _most_clear(path: Trace, sections: Sequence[TireSection], diameters: Sequence[float], most: int, guess: int) -> int:
    """The last of the diameters up to `most` at which the obstacle keeps its clearance; −1 for none."""

    def clear(row: int) -> bool:
        return row < 0 or _all_keep(path, [replace(section, diameter=diameters[row]) for section in sections])

    if clear(most):
        return most
    bad, stride = most, 1
    trial = min(guess + 1, most - 1)
    while not clear(trial):
        bad, stride = trial, stride * 2
        trial = max(-1, trial - stride)
    good = trial
    while bad - good > 1:
        middle = (good + bad) // 2 if bad - good > 4 else good + 1
        if clear(middle):
            good = middle
        else:
            bad = middle
    return good


def _check(section: TireSection, low: float, high: float) -> None:
    if not section.rim_width > 0.0:
        raise refuse("rim_width", section.rim_width, "the rim's overall width, without which backspace has no meaning")
    if not (isfinite(low) and isfinite(high) and low <= high):
        raise refuse("low, high", (low, high), "two backspaces in order, in m")
