"""Working out again: everything with the entries as they stand, or only what changed entries reach."""

from collections.abc import Iterable
from heapq import heapify, heappop, heappush
from typing import Any, NamedTuple

from planner.worksheet.cells import UNLAID, Cells, differ, laid, rerun, run
from planner.worksheet.declare import Impossible
from planner.worksheet.outcome import Spot


class MovedValue(NamedTuple):
    """One value before and after; None where there was or is none."""

    spot: Spot
    before: Any
    after: Any


class Recalculation(NamedTuple):
    """What an edit did: what moved, and what was worked out again and settled where it was."""

    moved: tuple[MovedValue, ...]
    settled: tuple[Spot, ...]


def work_out(cells: Cells) -> None:
    """Everything from nothing, in its order."""
    for at in cells.order:
        run(cells, at)


def rework(cells: Cells) -> None:
    """Everything again, while no entry comes or goes: the calls that were laid down, straight through."""
    values, calls, troubled = cells.values, cells.calls, False
    for at in cells.order:
        known = calls[at]
        if known is UNLAID:
            known = laid(cells, at)
        if known is None and not troubled:
            continue
        if known is None or troubled:
            run(cells, at)
            continue
        call, slots, get = known
        try:
            value = call(values[slots[0]]) if len(slots) == 1 else call(*get(values))
        except (Impossible, ArithmeticError, ValueError):
            value = None
        if value is None:
            run(cells, at)
            troubled = True
        else:
            values[at] = value


def propagate(cells: Cells, changed: Iterable[int]) -> Recalculation:
    """Work out again what the changed steps reach, in its order, stopping where a result comes out equal."""
    steps, readers = cells.layout.steps, cells.layout.readers
    moved: list[MovedValue] = []
    settled: list[Spot] = []
    fresh = set(changed)  # steps whose inputs came or went, or whose entry did: these are laid down anew
    queued = set(fresh)
    ahead = [(cells.rank[at], at) for at in queued]
    heapify(ahead)
    while ahead:
        _, at = heappop(ahead)
        value, trouble = cells.values[at], cells.troubles[at]
        (run if at in fresh else rerun)(cells, at)
        if cells.troubles[at] is trouble and not differ(value, cells.values[at]):
            settled.append(steps[at].spot)
            continue
        if trouble is not None and cells.troubles[at] == trouble:
            settled.append(steps[at].spot)
            continue
        moved.append(MovedValue(steps[at].spot, value, cells.values[at]))
        came_or_went = trouble is not None or cells.troubles[at] is not None
        for reader in readers[at]:
            if came_or_went:
                fresh.add(reader)
            if reader not in queued:
                queued.add(reader)
                heappush(ahead, (cells.rank[reader], reader))
    return Recalculation(tuple(moved), tuple(settled))
