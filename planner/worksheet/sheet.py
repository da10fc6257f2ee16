"""The worksheet: every figure of a project worked out once, and only what an edit reaches worked out again."""

from collections.abc import Iterable, Mapping
from typing import Any, NamedTuple

from planner.worksheet.catalog import Catalog
from planner.worksheet.cells import arguments, blank, compiled, differ, ends, enter, run, settle_order, settled
from planner.worksheet.declare import Impossible
from planner.worksheet.layout import Layout, Step, lay_out
from planner.worksheet.outcome import Outcome, Spot
from planner.worksheet.spread import Ends, known, value_at


class Moved(NamedTuple):
    """One value before and after; None where there was or is none."""

    spot: Spot
    before: Any
    after: Any


class Change(NamedTuple):
    """What an edit did: what moved, and what was worked out again and settled where it was."""

    moved: tuple[Moved, ...]
    settled: tuple[Spot, ...]


class Worksheet:
    """Entries in, outcomes out. `axes` gives the members of each axis in order; `entries` what the person wrote."""

    def __init__(self, catalog: Catalog, axes: Mapping[str, tuple[str, ...]], entries: Mapping[Spot, Any]) -> None:
        self.catalog = catalog
        self.layout: Layout = lay_out(catalog, axes)
        self._entries: dict[Spot, Any] = dict(entries)
        self._cells = blank(self.layout)
        self._outcomes: dict[int, Outcome] = {}
        self._take_entries(range(len(self.layout.steps)))
        self.work_out()

    # asking

    def __contains__(self, spot: Spot) -> bool:
        return spot in self.layout.index

    def spots(self, node: str) -> list[Spot]:
        """Every place at which a node stands."""
        return [self.layout.steps[at].spot for at in self.layout.by_node.get(node, ())]

    def outcome(self, spot: Spot) -> Outcome:
        """The value at a spot with its spread, or why there is none."""
        at = self.layout.index[spot]
        if at not in self._outcomes:
            self._outcomes[at] = self._cells.troubles[at] or known(
                self._cells.values[at],
                self._ends(at),
                lambda shares: settled(self._cells, at, shares, self._ends),
                self._source,
            )
        return self._outcomes[at]

    def value(self, spot: Spot) -> Any:
        """The value alone, in SI; None where there is none."""
        at = self.layout.index[spot]
        return None if self._cells.troubles[at] is not None else self._cells.values[at]

    def given(self, spot: Spot) -> Any:
        """The entry made at exactly this spot, with its tolerance; None where there is none."""
        return self._entries.get(spot)

    def entered(self, spot: Spot) -> Spot | None:
        """Where the entry that this spot takes was made; None where it is worked out, assumed or missing."""
        return next((place for place in self.layout.entry_spots(spot) if place in self._entries), None)

    def step(self, spot: Spot) -> Step:
        return self.layout.steps[self.layout.index[spot]]

    def inputs(self, spot: Spot) -> list[Spot]:
        """What a spot reads, in its formula's order; nothing where it was entered."""
        if self.entered(spot):
            return []
        return [self.layout.steps[slot].spot for slot in self.step(spot).slots if slot >= 0]

    def used(self, spot: Spot) -> list[Spot]:
        """The inputs that made the value: an optional one without which it comes out the same is left out."""
        step = self.step(spot)
        if self.entered(spot) or step.call is None or self.value(spot) is None:
            return self.inputs(spot)
        given = arguments(self._cells, step)
        kept = []
        for at, (slot, required) in enumerate(zip(step.slots, step.required, strict=True)):
            without = [*given[:at], step.defaults[at], *given[at + 1 :]]
            idle = not required and value_at(step.call, without) == self.value(spot)
            if slot >= 0 and not idle:
                kept.append(self.layout.steps[slot].spot)
        return kept

    def readers(self, spot: Spot) -> list[Spot]:
        """What reads a spot directly."""
        return [self.layout.steps[at].spot for at in self.layout.readers[self.layout.index[spot]]]

    # working out

    def work_out(self) -> None:
        """Everything, from the entries: the order is settled here, once for a given set of entries."""
        self._reorder()
        self._forget()
        for at in self._cells.order:
            run(self._cells, at)
        self._program = compiled(self._cells, self._cells.order)

    def rework(self) -> None:
        """Every figure again with the entries as they stand: the fast path, while none comes or goes."""
        values, troubled = self._cells.values, False
        self._forget()
        for at, call, slots, get in self._program:
            try:
                if troubled and any(self._cells.troubles[slot] is not None for slot in slots):
                    run(self._cells, at)
                elif len(slots) == 1:
                    values[at] = call(values[slots[0]])
                else:
                    values[at] = call(*get(values))
            except (Impossible, ArithmeticError, ValueError):
                run(self._cells, at)
                troubled = True
        if troubled:
            self._program = compiled(self._cells, self._cells.order)

    def change(self, edits: Mapping[Spot, Any]) -> Change:
        """Make entries, or take them away with None, and work out again what they reach."""
        came_or_went = False
        touched: set[int] = set()
        for spot, entry in edits.items():
            came_or_went |= (entry is None) == (spot in self._entries)
            if entry is None:
                self._entries.pop(spot, None)
            else:
                self._entries[spot] = entry
            touched.update(self._serves(spot))
        before = {at: self._cells.given[at] for at in touched}
        self._take_entries(touched)
        changed = [at for at, old in before.items() if differ((old,), (self._cells.given[at],))]
        if came_or_went:
            circles = self._cells.circles
            self._reorder()
            changed += circles.keys() ^ self._cells.circles.keys()  # a circle that opened or closed
        return self._settle(changed, replan=came_or_went)

    def _settle(self, changed: list[int], replan: bool) -> Change:
        """Work out again what the changed steps reach, stopping where a result comes out equal."""
        cells, reach = self._cells, self.layout.reach(changed)
        for at in reach:
            cells.ends.pop(at, None)
            self._outcomes.pop(at, None)
        moved: list[Moved] = []
        quiet: list[Spot] = []
        dirty = set(changed)
        for at in sorted(reach, key=self._rank.__getitem__):
            if at not in dirty:
                continue
            value, trouble = cells.values[at], cells.troubles[at]
            run(cells, at)
            if not differ((value, trouble), (cells.values[at], cells.troubles[at])):
                quiet.append(self.layout.steps[at].spot)
                continue
            moved.append(Moved(self.layout.steps[at].spot, value, cells.values[at]))
            replan |= (trouble is None) != (cells.troubles[at] is None)
            dirty.update(self.layout.readers[at])
        if replan:
            self._program = compiled(cells, cells.order)
        return Change(tuple(moved), tuple(quiet))

    def _forget(self) -> None:
        self._cells.ends.clear()
        self._outcomes.clear()

    def _reorder(self) -> None:
        settle_order(self._cells)
        self._rank = {at: rank for rank, at in enumerate(self._cells.order)}

    def _take_entries(self, steps: Iterable[int]) -> None:
        for at in steps:
            spot = self.layout.steps[at].spot
            if spot.node in self.catalog.facts or spot.node in self.catalog.assumed:
                place = self.entered(spot)
                enter(self._cells, at, self._entries[place] if place else None)

    def _serves(self, spot: Spot) -> Iterable[int]:
        """The steps that may take an entry made at `spot`."""
        for at in self.layout.by_node.get(spot.node, ()):
            if spot in self.layout.entry_spots(self.layout.steps[at].spot):
                yield at

    # tolerance

    def _ends(self, at: int) -> Ends:
        return ends(self._cells, at, self._root)

    def _root(self, at: int) -> int:
        """One entry may serve several places (one tire for both axles): its first place stands for it."""
        place = self.entered(self.layout.steps[at].spot)
        return at if place is None else min(self._serves(place))

    def _source(self, root: int) -> Spot:
        """Where the entry or assumed value behind a root stands."""
        spot = self.layout.steps[root].spot
        return self.entered(spot) or spot
