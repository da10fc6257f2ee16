"""The worksheet's values as they stand, step by step, and how one step is worked out from the others."""

from collections.abc import Callable, Mapping, Set
from dataclasses import dataclass
from operator import itemgetter
from typing import Any

from planner.quantities.ends import ends as ends_of
from planner.quantities.grammar import bare, read_value
from planner.worksheet.declare import Impossible
from planner.worksheet.layout import Layout, LayoutStep, order
from planner.worksheet.outcome import Barred, Failed, Spot, Waiting
from planner.worksheet.spread import Ends, between, ends_through, value_at
from planner.worksheet.turning import Turned, carried, moved

Call = tuple[Callable[..., Any], tuple[int, ...], Callable[[Any], Any]]  # what to call, its slots, and their getter
UNLAID: Call = (tuple, (), tuple)  # stands where nobody asked yet


@dataclass(slots=True)
class Cells:
    """For each step its entry or assumed value with tolerance, its value, and what stands in the way of one.

    `calls` has, for a step that has a value, its call on known slots only (see `laid`); `order` and `rank` say when its
    turn is; `circles` names the steps that wait for themselves; `ends` remembers what tolerances do to a step, and
    `carrying` by which call.
    """

    layout: Layout
    given: list[Any]
    entered: list[bool]
    values: list[Any]
    troubles: list[Waiting | Failed | None]
    calls: list[Call | None]
    order: list[int]
    rank: list[int]
    circles: Mapping[int, tuple[int, ...]]
    ends: dict[int, Ends]
    carrying: dict[int, Callable[..., Any]]
    settled: tuple[Ends, Mapping[int, float], dict[int, Any]] = ({}, {}, {})  # what was settled last, and by what


def blank(layout: Layout) -> Cells:
    """Cells with the assumed values in and nothing entered."""
    assumed = {node: read_value(one.text, one.kind) for node, one in layout.catalog.assumed.items()}
    size = len(layout.steps)
    given = [assumed.get(step.spot.node) if step.call is None else None for step in layout.steps]
    return Cells(layout, given, [False] * size, [None] * size, [None] * size, [None] * size, [], [0] * size, {}, {}, {})


def enter(cells: Cells, at: int, entry: Any) -> None:
    """Put an entry at a step, or take it away with None, so that what is assumed there stands again."""
    step = cells.layout.steps[at]
    if entry is None and step.call is None and step.spot.node in cells.layout.catalog.assumed:
        one = cells.layout.catalog.assumed[step.spot.node]
        cells.given[at], cells.entered[at] = read_value(one.text, one.kind), False
    else:
        cells.given[at], cells.entered[at] = entry, entry is not None


def settle_order(cells: Cells) -> None:
    """Find the order for what is entered now."""
    cells.order, cells.circles = order(cells.layout, cells.entered.__getitem__)
    for rank, at in enumerate(cells.order):
        cells.rank[at] = rank


def run(cells: Cells, at: int) -> None:
    """Work out one step from what it reads; how it was done is laid down when it is first done again."""
    cells.values[at], cells.troubles[at] = _worked(cells, at)
    cells.calls[at] = UNLAID


def laid(cells: Cells, at: int) -> Call | None:
    """How a step is worked out straight through; None for an entry, and where there is no value."""
    call = cells.calls[at]
    if call is UNLAID:
        call, step = None, cells.layout.steps[at]
        if cells.given[at] is None and step.call is not None and cells.troubles[at] is None:
            straight_call, slots = straight(cells, step)
            if slots:
                call = straight_call, slots, itemgetter(*slots)
        cells.calls[at] = call
    return call


def rerun(cells: Cells, at: int) -> None:
    """Work out one step again, whose inputs moved but neither came nor went."""
    known = laid(cells, at)
    if known is None:
        return run(cells, at)
    call, slots, get = known
    try:
        value = call(cells.values[slots[0]]) if len(slots) == 1 else call(*get(cells.values))
    except (Impossible, ArithmeticError, ValueError):
        return run(cells, at)
    if value is None:
        return run(cells, at)
    cells.values[at] = value
    return None


def _worked(cells: Cells, at: int) -> tuple[Any, Waiting | Failed | None]:
    step = cells.layout.steps[at]
    given = cells.given[at]
    if isinstance(given, Barred):
        return None, Waiting((given.spot,), (), (given.spot,))
    if given is not None:
        return bare(given), None
    if step.call is None:
        # All of an axis without members waits for the first member.
        return None, Waiting((Spot(step.spot.node.removeprefix("each_"), step.spot.place),))
    if at in cells.circles:
        return None, Waiting((), tuple(sorted(cells.layout.steps[other].spot for other in cells.circles[at])))
    troubles = cells.troubles
    trouble = None
    for slot in step.slots:
        if slot < 0 or troubles[slot] is not None:
            trouble = _blocked(cells, step)
            break
    if isinstance(trouble, Waiting) and len(trouble.needs) > 1 and step.spot.node in cells.layout.catalog.facts:
        return None, Waiting((step.spot,), (), trouble.barred)  # entering it is nearer than all that its formula asks
    if trouble is not None:
        return None, trouble
    try:
        value = _call(cells, step)(*arguments(cells, step))
    except Impossible as impossible:
        return None, Failed(str(impossible), impossible.key, step.spot, impossible)
    except (ArithmeticError, ValueError) as fault:
        return None, Failed(f"{step.spot.node} cannot be worked out from these values ({fault})", spot=step.spot)
    return (value, None) if value is not None else (None, _undecided(cells, step))


def _blocked(cells: Cells, step: LayoutStep) -> Waiting | Failed | None:
    """What keeps a step from running: a failure behind it, or everything that its required inputs wait for.

    An input that may be left out may not be where its entry is barred: its default would take the entry's place.
    """
    needs: dict[Spot, None] = {}
    either: dict[Spot, None] = {}
    barred: dict[Spot, None] = {}
    for slot, required in zip(step.slots, step.required, strict=True):
        trouble = cells.troubles[slot] if slot >= 0 else Waiting((step.spot,))
        if trouble is None:
            continue
        if isinstance(trouble, Failed):
            return trouble
        if required:
            needs.update(dict.fromkeys(trouble.needs))
            either.update(dict.fromkeys(trouble.either))
        if trouble.barred:
            needs.update(dict.fromkeys(trouble.barred))
            barred.update(dict.fromkeys(trouble.barred))
    return Waiting(tuple(needs), tuple(either), tuple(barred)) if needs or either else None


def _undecided(cells: Cells, step: LayoutStep) -> Waiting:
    """A formula that had enough to run and not enough to answer: any of what it left out would do."""
    troubles = [cells.troubles[slot] for slot in step.slots if slot >= 0]
    waits = (trouble for trouble in troubles if isinstance(trouble, Waiting))
    either = {need: None for trouble in waits for need in (*trouble.needs, *trouble.either)}
    return Waiting((), tuple(either)) if either else Waiting((step.spot,))


def arguments(cells: Cells, step: LayoutStep) -> list[Any]:
    """What a step is called with: missing optional inputs have their defaults."""
    return [
        cells.values[slot] if slot >= 0 and cells.troubles[slot] is None else default
        for slot, default in zip(step.slots, step.defaults, strict=True)
    ]


def _call(cells: Cells, step: LayoutStep) -> Callable[..., Any]:
    """What works a step out: its formula, carried over each piece of what it reads that turns."""
    assert step.call is not None
    turns = any(type(cells.values[slot]) is Turned for slot in step.slots if slot >= 0)
    return carried(step.call) if turns else step.call


def straight(cells: Cells, step: LayoutStep) -> tuple[Callable[..., Any], tuple[int, ...]]:
    """A step's call on known slots only."""
    call = _call(cells, step)
    filled = {
        place: default
        for place, (slot, default) in enumerate(zip(step.slots, step.defaults, strict=True))
        if slot < 0 or cells.troubles[slot] is not None
    }
    if not filled:
        return call, step.slots
    size = len(step.slots)

    def filled_call(*known: Any) -> Any:
        rest = iter(known)
        return call(*(filled[place] if place in filled else next(rest) for place in range(size)))

    return filled_call, tuple(slot for place, slot in enumerate(step.slots) if place not in filled)


def ends(cells: Cells, at: int, root: Callable[[int], int]) -> Ends:
    """For each entry with a tolerance behind a step: the step's value at both ends of it.

    `root` names the step that stands for an entry which serves several places.
    """
    if at in cells.ends:
        return cells.ends[at]
    step, found = cells.layout.steps[at], dict[int, tuple[Any, Any]]()
    if cells.given[at] is not None:
        pair = ends_of(cells.given[at])
        found = {root(at): pair} if pair else {}
    elif step.call is not None and cells.troubles[at] is None:
        cells.carrying[at] = _call(cells, step)
        call, slots = straight(cells, step)
        found = ends_through(call, slots, cells.values, cells.values[at], lambda slot: ends(cells, slot, root))
    cells.ends[at] = found
    return found


def settled(cells: Cells, at: int, shares: Mapping[int, float]) -> Any:
    """The value of a step, whose ends are known, with some entries part of the way from their low to their high end.

    Asked again with a few of them elsewhere, it works out anew only what these reach.
    """
    known, then, memo = cells.settled
    if known is cells.ends[at] and then.keys() == shares.keys():
        anew = {root for root, share in shares.items() if then[root] != share}
    else:
        anew, memo = set(shares), {}
    fresh: dict[int, Any] = {}
    value = _settled(cells, at, shares, fresh, anew, memo)
    cells.settled = cells.ends[at], shares, {**memo, **fresh}
    return value


def _settled(
    cells: Cells, at: int, shares: Mapping[int, float], fresh: dict[int, Any], anew: Set[int], memo: dict[int, Any]
) -> Any:
    """No closures that call each other: each would be garbage that only a collector frees, a thousand at an edit."""
    if at in fresh:
        return fresh[at]
    known, step = cells.ends[at], cells.layout.steps[at]
    if anew.isdisjoint(known):
        return memo.get(at, cells.values[at]) if memo else cells.values[at]
    if cells.given[at] is not None or step.call is None:
        ((root, pair),) = known.items()
        value = between(pair, shares[root])
    else:
        troubles = cells.troubles
        value = value_at(
            cells.carrying[at],
            [
                _settled(cells, up, shares, fresh, anew, memo) if up >= 0 and troubles[up] is None else default
                for up, default in zip(step.slots, step.defaults, strict=True)
            ],
        )
    fresh[at] = value
    return value


def differ(one: Any, other: Any) -> bool:
    """Whether two values of a step differ, their kinds included: 1 is not True."""
    return one is not other and (type(one) is not type(other) or moved(one, other))
