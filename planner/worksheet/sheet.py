"""The worksheet: every figure of a project worked out once, and only what an edit reaches worked out again."""

from collections.abc import Callable, Iterable, Mapping
from typing import Any

from planner.worksheet.cells import arguments, blank, differ, ends, enter, settle_order, settled
from planner.worksheet.layout import Layout, LayoutStep
from planner.worksheet.outcome import ABSENT, Barred, Failed, Outcome, Spot, Waiting
from planner.worksheet.propagate import Recalculation, propagate, rework, work_out
from planner.worksheet.spread import known, value_at
from planner.worksheet.what_if import WhatIf

Tell = Callable[["Worksheet", Spot], tuple[str, str]]  # what a value is called where it was entered, and the text there


class Worksheet:
    """Entries in, outcomes out. `layout` is what stands where, several sheets may share it; `entries` as written.

    `tell`, where it is set, words a spot for people, so that a failure names the entries behind it.
    """

    def __init__(self, layout: Layout, entries: Mapping[Spot, Any]) -> None:
        self.catalog = layout.catalog
        self.layout = layout
        self.tell: Tell | None = None
        self._entries: dict[Spot, Any] = dict(entries)
        self._cells = blank(self.layout)
        self._outcomes: dict[int, Outcome] = {}
        self._take_entries({at for spot in self._entries for at in self.layout.serves(spot)})
        settle_order(self._cells)
        work_out(self._cells)

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
            self._outcomes[at] = self._told(self._cells.troubles[at]) or known(
                self._cells.values[at],
                ends(self._cells, at, self._root),
                lambda shares: settled(self._cells, at, shares),
                self._source,
                self.catalog.picks(spot.node),
                {root for slot in self.layout.turns.get(at, ()) for root in self._cells.ends.get(slot, ())},
            )
        return self._outcomes[at]

    def _told(self, trouble: Waiting | Failed | None) -> Waiting | Failed | None:
        """A failure in the words of the person whose entries they are."""
        if self.tell is None or not isinstance(trouble, Failed) or trouble.cause is None or trouble.spot is None:
            return trouble
        declared = self.catalog.figures.get(trouble.spot.node) or self.catalog.rules[trouble.spot.node]
        pairs = zip(declared.inputs, self.reads(trouble.spot), strict=True)
        read = {one.name: spot for one, spot in pairs if spot is not None}
        tell = self.tell
        return trouble._replace(why=trouble.cause.told(lambda name: tell(self, read[name]) if name in read else None))

    def value(self, spot: Spot) -> Any:
        """The value alone, in SI; None where there is none."""
        at = self.layout.index[spot]
        return None if self._cells.troubles[at] is not None else self._cells.values[at]

    def given(self, spot: Spot) -> Any:
        """The entry made at exactly this spot, with its tolerance; None where there is none, or it is barred."""
        entry = self._entries.get(spot)
        return None if entry is ABSENT or isinstance(entry, Barred) else entry

    def entered(self, spot: Spot) -> Spot | None:
        """Where the entry that this spot takes was made; None where it is worked out, assumed or missing."""
        for place in self.layout.entry_spots(spot):
            if place in self._entries:
                return None if self._entries[place] is ABSENT else place
        return None

    def step(self, spot: Spot) -> LayoutStep:
        return self.layout.steps[self.layout.index[spot]]

    def reads(self, spot: Spot) -> list[Spot | None]:
        """What each parameter of a spot reads, in its formula's order; None where nothing of it stands anywhere."""
        return [self.layout.steps[slot].spot if slot >= 0 else None for slot in self.step(spot).slots]

    def inputs(self, spot: Spot) -> list[Spot]:
        """What a spot reads, in its formula's order; nothing where it was entered."""
        if self.entered(spot):
            return []
        return [one for one in self.reads(spot) if one is not None]

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

    def rework(self) -> None:
        """Every figure again with the entries as they stand."""
        self._cells.ends.clear()
        self._outcomes.clear()
        rework(self._cells)

    def change(self, edits: Mapping[Spot, Any]) -> Recalculation:
        """Make entries, or take them away with None, and work out again what they reach."""
        came_or_went = False
        touched: set[int] = set()
        for spot, entry in edits.items():
            came_or_went |= (entry is None) == (spot in self._entries)
            if entry is None:
                self._entries.pop(spot, None)
            else:
                self._entries[spot] = entry
            touched.update(self.layout.serves(spot))
        before = {at: self._cells.given[at] for at in touched}
        self._take_entries(touched)
        changed = {at for at, old in before.items() if differ(old, self._cells.given[at])}
        if came_or_went:
            circles = self._cells.circles
            settle_order(self._cells)
            changed |= circles.keys() ^ self._cells.circles.keys()  # a circle that opened or closed
        if self._outcomes or self._cells.ends:
            for at in self.layout.reach(changed):
                self._cells.ends.pop(at, None)
                self._outcomes.pop(at, None)
        return propagate(self._cells, changed)

    def _take_entries(self, steps: Iterable[int]) -> None:
        for at in steps:
            spot = self.layout.steps[at].spot
            if spot.node in self.catalog.facts or spot.node in self.catalog.assumed:
                place = self.entered(spot)
                enter(self._cells, at, self._entries[place] if place else None)

    def what_if(self, entries: Iterable[Spot], without: Iterable[Spot], as_found: tuple[str, str]) -> WhatIf:
        """This worksheet with an entry yet to be tried at some spots, and none at others; itself it stays as it is."""
        at, out = ([self.layout.index[spot] for spot in spots] for spots in (entries, without))
        return WhatIf(self._cells, at, out, as_found, self._root)

    # tolerance

    def _root(self, at: int) -> int:
        """One entry may serve several places (one tire for both axles): its first place stands for it.

        So it is with what is assumed of a thing, by the entry that names the thing, whatever amount is assumed.
        """
        spot = self.layout.steps[at].spot
        one = self.catalog.assumed.get(spot.node)
        if one is not None and one.of:
            named = self.entered(Spot(one.of, spot.place))
            first = at if named is None else min(self.layout.serves(named))
            return at if named is None else self.layout.index[Spot(spot.node, self.layout.steps[first].spot.place)]
        place = self.entered(spot)
        return at if place is None else min(self.layout.serves(place))

    def _source(self, root: int) -> Spot:
        """Where the entry or assumed value behind a root stands."""
        spot = self.layout.steps[root].spot
        return self.entered(spot) or spot
