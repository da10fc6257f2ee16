"""What a rule would say with another entry in one place: worked out on a private copy, the worksheet left as it is."""

from collections.abc import Callable, Iterable
from dataclasses import replace

from planner.quantities.quantity import Quantity
from planner.worksheet.cells import UNLAID, Cells, ends, run, settled
from planner.worksheet.layout import LayoutStep
from planner.worksheet.outcome import Outcome, Spot
from planner.worksheet.spread import known


class WhatIf:
    """Cells of its own for what the steps `entries` reach, with no entry at the steps `without`.

    What reads the member `as_found` by name of an axis, as `found_` does, reads there what stands on the worksheet,
    also where that is one of the entries: what was found stays what it was. Made by `Worksheet.what_if`.
    """

    def __init__(
        self,
        cells: Cells,
        entries: Iterable[int],
        without: Iterable[int],
        as_found: tuple[str, str],
        root: Callable[[int], int],
    ) -> None:
        layout = cells.layout
        self._cells = cells
        self._entries, out = tuple(entries), tuple(without)
        self._moved = layout.reach((*self._entries, *out))
        self._own = replace(
            cells,
            layout=replace(layout, steps=layout.steps.copy()),
            given=cells.given.copy(),
            values=cells.values.copy(),
            troubles=cells.troubles.copy(),
            calls=cells.calls.copy(),
            circles={at: circle for at, circle in cells.circles.items() if at not in self._moved},
            ends={},
        )
        self._still: dict[int, int] = {}
        for at in self._moved:
            self._hold(at, as_found)
        self._first = {held: at for at, held in self._still.items()}
        self._root_of = root
        for at in out:
            self._own.given[at] = None
        self._orders: dict[int, tuple[int, ...]] = {}

    def outcome(self, asked: Spot, entry: float) -> Outcome:
        """The value at a spot with its spread, with this entry, exact, in place of those that were made."""
        own, at = self._own, self._own.layout.index[asked]
        if at not in self._orders:
            self._orders[at] = self._order(at)
            read = {slot for step in self._orders[at] for slot in own.layout.steps[step].slots} - self._moved
            for slot in read:
                if 0 <= slot < len(self._cells.values) and self._cells.troubles[slot] is None:
                    ends(self._cells, slot, self._root)  # kept there, since they will be asked for again
            own.ends.update((one, pair) for one, pair in self._cells.ends.items() if one not in self._moved)
        for step in self._entries:
            own.given[step] = Quantity(entry)
        for step in self._orders[at]:
            own.ends.pop(step, None)
            run(own, step)
        return own.troubles[at] or known(
            own.values[at],
            ends(own, at, self._root),
            lambda shares: settled(own, at, shares),
            lambda root: own.layout.steps[root].spot,
            own.layout.catalog.picks(asked.node),
        )

    def _root(self, at: int) -> int:
        """An entry that stays as it was found is one with the entry that it is of."""
        return self._root_of(self._first.get(at, at))

    def _order(self, asked: int) -> tuple[int, ...]:
        """The steps between the entries and what is asked, each after those that it reads."""
        done: list[int] = []
        seen: set[int] = set()
        steps, given, moved = self._own.layout.steps, self._own.given, self._moved

        def visit(at: int) -> None:
            seen.add(at)
            if at not in self._entries and given[at] is None:
                for slot in steps[at].slots:
                    if slot in moved and slot not in seen:
                        visit(slot)
            done.append(at)

        if asked in moved:
            visit(asked)
        return tuple(done)

    def _hold(self, at: int, as_found: tuple[str, str]) -> None:
        """A step that reads by name what was found, made to read a copy of it that stays, where it would move."""
        steps, edges = self._own.layout.steps, self._own.layout.edges
        step = steps[at]
        pinned = [edge is not None and edge.pin == as_found for edge in edges.get(step.spot.node, ())]
        if len(pinned) == len(step.slots) and any(pinned):
            slots = tuple(self._stays(slot) if pin else slot for slot, pin in zip(step.slots, pinned, strict=True))
            steps[at] = replace(step, slots=slots)

    def _stays(self, at: int) -> int:
        """A copy of a step as it stands, and of those that it reads, where the entry would move them."""
        if at not in self._moved:
            return at
        if at not in self._still:
            own, steps = self._own, self._own.layout.steps
            step = steps[at]
            worked_out = own.given[at] is None and own.troubles[at] is None  # what has no value may wait for itself
            slots = tuple(map(self._stays, step.slots)) if worked_out else step.slots
            self._still[at] = len(steps)
            steps.append(LayoutStep(step.spot, step.call, slots, step.required, step.defaults))
            own.given.append(own.given[at])
            own.values.append(own.values[at])
            own.troubles.append(own.troubles[at])
            own.calls.append(UNLAID)
        return self._still[at]
