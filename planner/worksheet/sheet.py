"""The worksheet: every figure of a project worked out once, and only what an edit reaches worked out again."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from operator import itemgetter
from typing import Any

from planner.quantities.ends import ends as ends_of
from planner.quantities.grammar import bare, read_value
from planner.worksheet.catalog import Catalog
from planner.worksheet.declare import Impossible
from planner.worksheet.layout import Layout, Step, lay_out, order
from planner.worksheet.outcome import Failed, Outcome, Spot, Waiting
from planner.worksheet.spread import Ends, between, ends_through, known, value_at


@dataclass(frozen=True, slots=True)
class Moved:
    """One value before and after; None where there was or is none."""

    spot: Spot
    before: Any
    after: Any


@dataclass(frozen=True, slots=True)
class Change:
    """What an edit did: what moved, and what was worked out again and settled where it was."""

    moved: tuple[Moved, ...]
    settled: tuple[Spot, ...]


class Worksheet:
    """Entries in, outcomes out. `axes` gives the members of each axis in order; `entries` what the person wrote."""

    def __init__(self, catalog: Catalog, axes: Mapping[str, tuple[str, ...]], entries: Mapping[Spot, Any]) -> None:
        self.catalog = catalog
        self.layout: Layout = lay_out(catalog, axes)
        self._given: dict[Spot, Any] = dict(entries)
        size = len(self.layout.steps)
        self._values: list[Any] = [None] * size
        self._entry: list[Any] = [None] * size
        self._trouble: list[Waiting | Failed | None] = [None] * size
        self._ends: dict[int, Ends] = {}
        self._defaults = {node: read_value(one.text, one.kind) for node, one in catalog.assumed.items()}
        self._take_entries(range(size))
        self.work_out()

    # asking

    def __contains__(self, spot: Spot) -> bool:
        return spot in self.layout.index

    def spots(self, node: str) -> list[Spot]:
        """Every place at which a node stands."""
        return [spot for spot in self.layout.index if spot.node == node]

    def outcome(self, spot: Spot) -> Outcome:
        """The value at a spot with its spread, or why there is none."""
        at = self.layout.index[spot]
        trouble = self._trouble[at]
        if trouble is not None:
            return trouble
        return known(self._values[at], self.ends(at), lambda shares: self._settled(at, shares), self._source)

    def value(self, spot: Spot) -> Any:
        """The value alone, in SI; None where there is none."""
        at = self.layout.index[spot]
        return None if self._trouble[at] is not None else self._values[at]

    def entered(self, spot: Spot) -> Spot | None:
        """Where the entry that this spot takes was made; None where it is worked out, assumed or missing."""
        return next((place for place in self.layout.entry_spots(spot) if place in self._given), None)

    def given(self, spot: Spot) -> Any:
        """The entry made at exactly this spot, with its tolerance; None where there is none."""
        return self._given.get(spot)

    def _source(self, root: int) -> Spot:
        """Where the entry or assumed value behind a root stands."""
        spot = self.layout.steps[root].spot
        return self.entered(spot) or spot

    def step(self, spot: Spot) -> Step:
        return self.layout.steps[self.layout.index[spot]]

    def inputs(self, spot: Spot) -> list[Spot]:
        """What a spot reads, in its formula's order; nothing where it was entered."""
        if self.entered(spot):
            return []
        return [self.layout.steps[slot].spot for slot in self.step(spot).slots if slot >= 0]

    def readers(self, spot: Spot) -> list[Spot]:
        """What reads a spot directly."""
        return [self.layout.steps[at].spot for at in self.layout.readers[self.layout.index[spot]]]

    # working out

    def work_out(self) -> None:
        """Everything, from the entries: the order is settled here, once for a given set of entries."""
        self._order, circles = order(self.layout, self._is_entered)
        self._rank = {at: rank for rank, at in enumerate(self._order)}
        self._circles = circles
        self._ends.clear()
        for at in self._order:
            self._run(at)
        self._program = self._compile(at for at in self._order if self._trouble[at] is None)

    def rework(self) -> None:
        """Every figure again with the entries as they stand: the fast path, for values that moved but did not come or go."""
        values, troubled = self._values, False
        self._ends.clear()
        for at, call, slots, get in self._program:
            try:
                if troubled and any(self._trouble[slot] is not None for slot in slots):
                    self._run(at)
                elif len(slots) == 1:
                    values[at] = call(values[slots[0]])
                else:
                    values[at] = call(*get(values))
            except (Impossible, ArithmeticError, ValueError):
                self._run(at)
                troubled = True
        if troubled:
            self._program = self._compile(at for at in self._order if self._trouble[at] is None)

    def change(self, edits: Mapping[Spot, Any]) -> Change:
        """Make entries, or take them away with None, and work out again what they reach."""
        came_or_went = False
        touched: set[int] = set()
        for spot, entry in edits.items():
            came_or_went |= (entry is None) == (spot in self._given)
            if entry is None:
                self._given.pop(spot, None)
            else:
                self._given[spot] = entry
            touched.update(at for at in self._serves(spot))
        before = [(at, self._entry[at]) for at in touched]
        self._take_entries(touched)
        changed = [at for at, old in before if old != self._entry[at] or type(old) is not type(self._entry[at])]
        if came_or_went:
            circles_before = self._circles
            self._order, self._circles = order(self.layout, self._is_entered)
            self._rank = {at: rank for rank, at in enumerate(self._order)}
            changed += circles_before.keys() ^ self._circles.keys()  # a circle that opened or closed
        return self._settle(changed, replan=came_or_went)

    def _settle(self, changed: Sequence[int], replan: bool) -> Change:
        reach = self._reach(changed)
        for at in reach:
            self._ends.pop(at, None)
        moved: list[Moved] = []
        settled: list[Spot] = []
        dirty = set(changed)
        troubles_moved = False
        for at in sorted(reach, key=self._rank.__getitem__):
            if at not in dirty:
                continue
            value, trouble = self._values[at], self._trouble[at]
            self._run(at)
            if self._values[at] == value and self._trouble[at] == trouble:
                settled.append(self.layout.steps[at].spot)
                continue
            moved.append(Moved(self.layout.steps[at].spot, value, self._values[at]))
            troubles_moved |= (trouble is None) != (self._trouble[at] is None)
            dirty.update(self.layout.readers[at])
        if replan or troubles_moved:
            self._program = self._compile(at for at in self._order if self._trouble[at] is None)
        return Change(tuple(moved), tuple(settled))

    def _reach(self, changed: Iterable[int]) -> set[int]:
        reach: set[int] = set()
        ahead = list(changed)
        while ahead:
            at = ahead.pop()
            if at not in reach:
                reach.add(at)
                ahead.extend(self.layout.readers[at])
        return reach

    def _serves(self, spot: Spot) -> Iterable[int]:
        """The steps that may take an entry made at `spot`."""
        for place in self.spots(spot.node):
            if spot in self.layout.entry_spots(place):
                yield self.layout.index[place]

    def _take_entries(self, steps: Iterable[int]) -> None:
        for at in steps:
            spot = self.layout.steps[at].spot
            if spot.node in self.catalog.facts or spot.node in self.catalog.assumed:
                place = next((place for place in self.layout.entry_spots(spot) if place in self._given), None)
                self._entry[at] = self._given[place] if place else None

    def _is_entered(self, at: int) -> bool:
        return self._entry[at] is not None

    def _run(self, at: int) -> None:
        self._values[at], self._trouble[at] = self._work_out_one(at)

    def _work_out_one(self, at: int) -> tuple[Any, Waiting | Failed | None]:
        step = self.layout.steps[at]
        if self._entry[at] is not None:
            return bare(self._entry[at]), None
        if step.call is None:
            default = self._defaults.get(step.spot.node)
            wanted = Spot(step.spot.node.removeprefix("each_"), step.spot.place)  # all of an axis without members
            return (None, Waiting((wanted,))) if default is None else (bare(default), None)
        if at in self._circles:
            either = tuple(self.layout.steps[other].spot for other in self._circles[at])
            return None, Waiting((), tuple(sorted(either)))
        trouble = self._blocked(step)
        if isinstance(trouble, Waiting) and len(trouble.needs) > 1 and step.spot.node in self.catalog.facts:
            trouble = Waiting((step.spot,))  # entering it is nearer than all that its formula asks
        if trouble is not None:
            return None, trouble
        try:
            value = step.call(*self._arguments(step))
        except Impossible as impossible:
            return None, Failed(str(impossible), impossible.key, step.spot)
        except (ArithmeticError, ValueError) as fault:
            return None, Failed(f"{step.spot.node} cannot be worked out from these values ({fault})", spot=step.spot)
        return (value, None) if value is not None else (None, self._undecided(step))

    def _undecided(self, step: Step) -> Waiting:
        """A formula that had enough to run and not enough to answer: any of what it left out would do."""
        troubles = [self._trouble[slot] for slot in step.slots if slot >= 0]
        either = {need: None for trouble in troubles if isinstance(trouble, Waiting) for need in trouble.needs}
        return Waiting((), tuple(either)) if either else Waiting((step.spot,))

    def _blocked(self, step: Step) -> Waiting | Failed | None:
        needs: dict[Spot, None] = {}
        either: dict[Spot, None] = {}
        for slot, required in zip(step.slots, step.required, strict=True):
            trouble = self._trouble[slot] if slot >= 0 else Waiting((step.spot,))
            if isinstance(trouble, Failed):
                return trouble
            if required and isinstance(trouble, Waiting):
                needs.update(dict.fromkeys(trouble.needs))
                either.update(dict.fromkeys(trouble.either))
        return Waiting(tuple(needs), tuple(either)) if needs or either else None

    def _arguments(self, step: Step) -> list[Any]:
        return [
            self._values[slot] if slot >= 0 and self._trouble[slot] is None else default
            for slot, default in zip(step.slots, step.defaults, strict=True)
        ]

    def _compile(self, steps: Iterable[int]) -> list[tuple[int, Any, tuple[int, ...], Any]]:
        """Steps that can be run straight through: all inputs known. Those with a default in use are run the long way."""
        program = []
        for at in steps:
            step = self.layout.steps[at]
            if self._entry[at] is None and step.call is not None:
                call, slots = step.call, step.slots
                if any(slot < 0 or self._trouble[slot] is not None for slot in slots):
                    call, slots = _with_defaults(step, self._trouble)
                program.append((at, call, slots, itemgetter(*slots) if slots else None))
        return [one for one in program if one[2]]

    # tolerance

    def ends(self, at: int) -> Ends:
        """For each entry with a tolerance behind a step: the step's value at both ends of it."""
        if at in self._ends:
            return self._ends[at]
        step = self.layout.steps[at]
        source = (
            self._entry[at]
            if self._entry[at] is not None
            else self._defaults.get(step.spot.node)
            if step.call is None
            else None
        )
        found: Ends = {}
        if source is not None:
            pair = ends_of(source)
            found = {self._root(at): pair} if pair else {}
        elif step.call is not None and self._trouble[at] is None:
            call, slots = step.call, step.slots
            if any(slot < 0 or self._trouble[slot] is not None for slot in slots):
                call, slots = _with_defaults(step, self._trouble)
            found = ends_through(call, slots, self._values, self._values[at], self.ends)
        self._ends[at] = found
        return found

    def _root(self, at: int) -> int:
        """One entry may serve several places (one tire for both axles): its first place stands for it."""
        place = self.entered(self.layout.steps[at].spot)
        if place is None or place in self.layout.index:
            return self.layout.index[place] if place else at
        return min(self._serves(place))

    def _settled(self, at: int, shares: Mapping[int, float]) -> Any:
        """The value of a step with some entries part of the way from their low to their high end."""
        memo: dict[int, Any] = {}

        def value(slot: int) -> Any:
            if slot not in memo:
                memo[slot] = worked(slot) if any(root in shares for root in self.ends(slot)) else self._values[slot]
            return memo[slot]

        def worked(slot: int) -> Any:
            step = self.layout.steps[slot]
            if self._entry[slot] is not None or step.call is None:
                ((root, pair),) = self.ends(slot).items()
                return between(pair, shares[root])
            arguments = [
                value(up) if up >= 0 and self._trouble[up] is None else default
                for up, default in zip(step.slots, step.defaults, strict=True)
            ]
            return value_at(step.call, arguments)

        return value(at)


def _with_defaults(step: Step, trouble: Sequence[Any]) -> tuple[Any, tuple[int, ...]]:
    """The step's call with its missing optional inputs filled in, and the slots that are left."""
    filled = {
        n: d for n, (s, d) in enumerate(zip(step.slots, step.defaults, strict=True)) if s < 0 or trouble[s] is not None
    }
    call, size = step.call, len(step.slots)
    assert call is not None

    def filled_call(*known: Any) -> Any:
        rest = iter(known)
        return call(*(filled[n] if n in filled else next(rest) for n in range(size)))

    return filled_call, tuple(slot for n, slot in enumerate(step.slots) if n not in filled)
