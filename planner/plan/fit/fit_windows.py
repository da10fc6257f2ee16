"""The window of backspaces at one end of a fitment: what the sweep and the rules leave, and how it is told."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from planner.plan.fit.backspace_limits import BackspaceLimit, rule_spot
from planner.plan.fit.fit_question import BothSides, FitAsked, FitLimits, across
from planner.plan.fit.swept_wheel import PLANES, keys_behind
from planner.plan.truck.pairs import has_pairs
from planner.plan.truck.project import BETWEEN, INBOARD, OUTBOARD
from planner.plan.truck.sweep_results import NODES, Result, band
from planner.quantities.kinds import DISTANCE
from planner.quantities.show import show
from planner.trade.fit.window import Interval, Placing, Window, backspace_window, choose

RIM = "the rim's own width"
DISH = "the depth of a disc's dish"  # of wheels of which some are made to run in pairs

WINDOW_STEP = 1e-4  # m; finer than any wheel is made

FIGHT_STEP = 2e-3  # m; by how much two limits miss each other is not cut from metal

# Rules that look at where the truck ends outboard, and the one that does so only where it is what ends the window.
FENDER_RULES = ("poke_not_as_wanted", "poke_past_greatest", "poke_past_local_code")
WIDTH_RULE = "wider_than_legal"

SPACING = "dual_spacing"  # what a rule reads that keeps the tires of a pair apart

NOT_MEASURED = {
    INBOARD: "nothing inboard of the tire is measured",
    OUTBOARD: "nothing outboard of the tire is measured",
    BETWEEN: "nothing says how close together the two tires may be",
}


class BothWindows(NamedTuple):
    """The stretches of backspace at the worst of all tolerances, and at the kindest."""

    worst: Window
    kindest: Window


def windows(
    asked: FitAsked, wanted: BothSides, must: BothSides, own: tuple[BackspaceLimit, ...], found: FitLimits
) -> None:
    """The window that keeps every limit, and the one that only keeps those behind which a stop stands."""
    counted = [limit for limit in own if not limit.taken_on]
    hard = [limit for limit in counted if limit.rule.severity == "stop"]
    placed = asked.placed()
    if not placed:
        return windows_wait(asked, keys_behind(asked.opened, map(asked.at, PLANES.values())), found)
    whole = _both(asked, placed, wanted, counted)
    _tell(asked, whole, own, "window", found)
    # Only where nothing is left does it matter which limits a person could give up.
    same = whole.worst.intervals or (len(hard) == len(counted) and must is wanted)
    _tell(asked, whole if same else _both(asked, placed, must, hard), own, "hard_window", found)
    if same:
        for node in ("hard_window_low", "hard_window_high"):
            found.results.pop(asked.at(node), None)


def windows_wait(asked: FitAsked, keys: tuple[str, ...], found: FitLimits) -> None:
    """Neither window is known before these are entered."""
    names = [f"{name}_{end}" for name in ("window", "hard_window") for end in ("width", "low", "high", "choice")]
    found.needs.update((asked.at(name), keys) for name in names if name in NODES)


def _both(asked: FitAsked, placed: Sequence[Placing], sides: BothSides, limits: list[BackspaceLimit]) -> BothWindows:
    hurting, kind = [limit.worst for limit in limits], [limit.kindest for limit in limits]
    eased = [one._replace(aside=-one.aside) for one in placed]
    hurts, eases = (
        backspace_window(side.paths, side.anywhere, *asked.looked_at, bounds, WINDOW_STEP, FIGHT_STEP, stand)
        for side, bounds, stand in zip(sides, (hurting, kind), (placed, eased), strict=True)
    )
    return BothWindows(hurts, eases)


def _tell(asked: FitAsked, both: BothWindows, own: tuple[BackspaceLimit, ...], name: str, found: FitLimits) -> None:
    """One window filed, or what it waits for: an obstacle that is entered halfway, or a side where none is measured."""
    at, results, near = asked.at, found.results, asked.as_found if asked.chosen is None else asked.chosen
    best, kindest = (_nearest(one, near) for one in (both.worst, both.kindest))
    every = [at(f"{name}_{node}") for node in ("width", "low", "high", "choice") if f"{name}_{node}" in NODES]
    found.ends[every[0]] = _ends(asked, both.worst, best)
    if asked.half and kindest is not None:
        found.needs.update(dict.fromkeys(every, asked.half))
        results[at("window_ends")] = "an obstacle is only half entered"
    elif best is None:
        results.update((at(f"{name}_{node}"), value) for node, value in _no_window(asked, both, kindest))
    else:
        missing = _unmeasured(asked, own, best)
        side_needs = tuple(f"obstacles.{asked.axle}.{side}" for side in missing)
        found.needs.update(dict.fromkeys(every, side_needs) if missing else {})
        for node, value in _window(asked, best, kindest or best, missing):
            if f"{name}_{node}" in NODES:
                results[at(f"{name}_{node}")] = value


def _nearest(window: Window, near: float | None) -> Interval | None:
    """The stretch nearest to a backspace, or the widest."""
    if near is None:
        return max(window.intervals, key=lambda one: one.high - one.low, default=None)
    return min(window.intervals, key=lambda one: max(one.low - near, near - one.high, 0.0), default=None)


def _ultimate(asked: FitAsked) -> str:
    """What ends the backspaces where no limit does."""
    return DISH if has_pairs(asked.opened, asked.fitment) else RIM


def _ends(asked: FitAsked, window: Window, best: Interval | None) -> tuple[str, ...]:
    """What binds a stretch at either end, or the limits that leave none."""
    if best is not None:
        return best.low_binds or _ultimate(asked), best.high_binds or _ultimate(asked)
    return (window.fight.first, window.fight.second or "") if window.fight is not None else ()


def _unmeasured(asked: FitAsked, own: tuple[BackspaceLimit, ...], best: Interval) -> tuple[str, ...]:
    """The sides of the tire on which nothing says how far it may stand out: what nobody measured is not clear.

    Outboard a limit on what stands out past the fender says so too, and the legal width where that is what binds.
    Between the tires of a pair what keeps them apart says so.
    """
    inmost, outmost = asked.middles()
    sides = [y for one in asked.ones for y in across(one.wanted)]
    rules = {limit.rule.node: limit.rule.bounds for limit in own}
    outboard = any(y > outmost for y in sides) or any(node in rules for node in FENDER_RULES)
    further_out = best.high_binds if asked.pair else best.low_binds
    outboard = outboard or (WIDTH_RULE in rules and further_out == rules[WIDTH_RULE])
    inboard = any(y < inmost for y in sides)
    between = not asked.pair or any(_keeps_apart(asked, node) for node in rules)
    sided = ((INBOARD, inboard), (OUTBOARD, outboard), (BETWEEN, between))
    return tuple(side for side, known in sided if not known)


def _keeps_apart(asked: FitAsked, rule: str) -> bool:
    """Whether a rule asks how far a pair's tires stand apart."""
    inputs = asked.opened.sheet.inputs(rule_spot(asked.opened, rule, asked.fitment, asked.axle))
    return any(spot.node == SPACING for spot in inputs)


def _window(
    asked: FitAsked, best: Interval, kindest: Interval, missing: tuple[str, ...]
) -> Iterator[tuple[str, Result]]:
    """A stretch of backspaces, each end at its worst with the kindest as its other end, where its side is known."""
    low, high = best.low_binds or _ultimate(asked), best.high_binds or _ultimate(asked)
    # More backspace takes a lone tire inboard; of a pair, whose outer wheel is turned around, it takes the two apart.
    below, above = ((BETWEEN,), (INBOARD, OUTBOARD)) if asked.pair else ((OUTBOARD,), (INBOARD,))
    known_low, known_high = (not set(sides) & set(missing) for sides in (below, above))
    told = [f"{low} sets the low end"] if known_low else [NOT_MEASURED[side] for side in below if side in missing]
    told += [f"{high} sets the high end"] if known_high else [NOT_MEASURED[side] for side in above if side in missing]
    yield "ends", ", ".join(told)
    if known_low:
        yield "low", band(best.low, kindest.low, best.low)
        yield "low_binds", low
    if known_high:
        yield "high", band(best.high, best.high, kindest.high)
        yield "high_binds", high
    if missing:
        return
    width = best.high - best.low
    yield "width", band(width, width, kindest.high - kindest.low)
    yield "words", f"{low} sets the low end, {high} the high end"
    step = asked.opened.sheet.value(asked.opened.spot("backspace_step"))
    choice = choose(Window((best,), None), step, asked.as_found, asked.makers_tolerance)
    if choice is not None:
        yield "choice", choice.backspace


def _no_window(asked: FitAsked, both: BothWindows, kindest: Interval | None) -> Iterator[tuple[str, Result]]:
    """Which two limits leave no backspace, by how much, and what is left of it at the kindest."""
    fight, eased = both.worst.fight, both.kindest.fight
    if fight is None:
        return
    low, high = asked.looked_at
    short = -(fight.by if fight.by is not None else high - low)
    kind = kindest.high - kindest.low if kindest else -eased.by if eased is not None and eased.by is not None else short
    yield "width", band(short, short, kind)
    if fight.second is None or fight.by is None:
        yield "words", f"no backspace keeps {fight.first}"
    else:
        by = show(fight.by, DISTANCE, asked.opened.style)
        yield "words", f"{fight.first} and {fight.second} miss each other by {by}"
