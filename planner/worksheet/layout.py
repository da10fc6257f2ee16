"""The worksheet's plan: which nodes stand at which places, what each reads, and in which order they are worked out."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import product, repeat
from operator import attrgetter
from typing import Any

from planner.worksheet.catalog import Catalog, Edge, Fact, Scope
from planner.worksheet.outcome import Place, Spot

Lender = Callable[[Place], Place | None]


@dataclass(slots=True)
class LayoutStep:
    """One node at one place: `call` on the values at `slots`, or an entry or assumed value where `call` is None.

    `required` are the slots that must be known; the others fall back to `defaults`.
    """

    spot: Spot
    call: Callable[..., Any] | None
    slots: tuple[int, ...] = ()
    required: tuple[bool, ...] = ()
    defaults: tuple[Any, ...] = ()


@dataclass(slots=True)
class Layout:
    """All steps, found by spot; `readers` of a step are those that read it.

    `lender` gives, for a place of a member that is made up of others, the place of which it has its entries.
    """

    catalog: Catalog
    axes: Mapping[str, tuple[str, ...]]
    lender: Lender | None = None
    steps: list[LayoutStep] = field(default_factory=list)
    index: dict[Spot, int] = field(default_factory=dict)
    readers: list[list[int]] = field(default_factory=list)
    scopes: dict[str, Scope] = field(default_factory=dict)
    by_node: dict[str, list[int]] = field(default_factory=dict)
    edges: dict[str, list[Edge | None]] = field(default_factory=dict)
    taken_by: dict[str, dict[Spot, list[int]]] = field(default_factory=dict)
    seen: dict[tuple[Place, Scope, tuple[str, str] | None], Place] = field(default_factory=dict)  # few, asked for often
    ways: dict[Spot, tuple[Spot, ...]] = field(default_factory=dict)  # where entries may stand: every sheet asks
    turns: dict[int, set[int]] = field(default_factory=dict)  # by step, the slots along which something behind it turns
    sights: dict[tuple[Scope, Scope, tuple[str, str] | None], list[int]] = field(default_factory=dict)

    def serves(self, spot: Spot) -> list[int]:
        """The steps that may take an entry made at `spot`."""
        if spot.node not in self.taken_by:
            found: dict[Spot, list[int]] = {}
            for at in self.by_node.get(spot.node, ()):
                for place in self.entry_spots(self.steps[at].spot):
                    found.setdefault(place, []).append(at)
            self.taken_by[spot.node] = found  # whole, since another thread's sheet may share this layout
        return self.taken_by[spot.node].get(spot, [])

    def reach(self, changed: Iterable[int]) -> set[int]:
        """Everything that reads these steps, near or far, and the steps themselves."""
        reach: set[int] = set()
        ahead = list(changed)
        while ahead:
            at = ahead.pop()
            if at not in reach:
                reach.add(at)
                ahead.extend(self.readers[at])
        return reach

    def place(self, place: Place, scope: Scope, pin: tuple[str, str] | None = None) -> Place:
        """`place` as a node of this scope sees it, with an axis pinned to a member."""
        asked = (place, scope, pin)
        if asked not in self.seen:
            self.seen[asked] = self._see(place, scope, pin)
        return self.seen[asked]

    def _see(self, place: Place, scope: Scope, pin: tuple[str, str] | None) -> Place:
        seen = [member if axis in scope else "" for axis, member in zip(self.axes, place, strict=True)]
        if pin and pin[0] in scope:
            seen[_at(self.axes, pin[0])] = pin[1]
        return tuple(seen)

    def entry_spots(self, spot: Spot) -> tuple[Spot, ...]:
        """Where an entry for this spot may stand, the most particular place first.

        What is assumed stands everywhere, so another value for it comes behind whatever was measured at one place.
        """
        if spot not in self.ways:
            self.ways[spot] = tuple(self._entry_spots(spot))
        return self.ways[spot]

    def _entry_spots(self, spot: Spot) -> Iterator[Spot]:
        fact = self.catalog.facts.get(spot.node)
        if fact is None:
            yield spot
            if spot.node in self.catalog.assumed and any(spot.place):
                yield Spot(spot.node, self.place(spot.place, frozenset()))
            return
        lent = self.lent(spot.place)
        for scope in self.ranked(fact):
            yield Spot(spot.node, self.place(spot.place, scope))
            if lent != spot.place:
                yield Spot(spot.node, self.place(lent, scope))
        if spot.node in self.catalog.assumed and frozenset() not in fact.scopes:
            yield Spot(spot.node, self.place(spot.place, frozenset()))

    def lent(self, place: Place) -> Place:
        """The place whose entries count at one: its own, but of a member that is made up of others."""
        return (self.lender(place) if self.lender is not None else None) or place

    def ranked(self, fact: Fact) -> list[Scope]:
        """The scopes of a fact, the most particular first; of two as particular, the one with the earlier axis."""
        if len(fact.scopes) == 1:
            return list(fact.scopes)
        first = {axis: at for at, axis in enumerate(self.axes)}
        return sorted(fact.scopes, key=lambda scope: (-len(scope), min((first[axis] for axis in scope), default=99)))


def lay_out(catalog: Catalog, axes: Mapping[str, tuple[str, ...]], lender: Lender | None = None) -> Layout:
    """Every node at every place of its scope, with what it reads."""
    layout = Layout(catalog, axes, lender)
    layout.edges = {
        node: [None if taken.reads is None else catalog.edge(taken.reads) for taken in user.inputs]
        for node, user in catalog.users()
    }
    layout.scopes = _scopes(layout)
    nodes = [
        *catalog.facts,
        *(n for n in (*catalog.assumed, *catalog.figures, *catalog.parts) if n not in catalog.facts),
    ]
    for node in (*nodes, *catalog.rules):
        for place in _places(axes, layout.scopes[node]):
            _add(layout, LayoutStep(Spot(node, place), None))
    for node in (*nodes, *catalog.rules):
        _connect(layout, node)
    layout.readers = [[] for _ in layout.steps]
    for at, step in enumerate(layout.steps):
        for slot in set(step.slots):
            if slot >= 0:
                layout.readers[slot].append(at)
    for node, figure in catalog.figures.items():
        places = [place for place, taken in enumerate(figure.inputs) if taken.name in figure.turns]
        for at in layout.by_node.get(node, ()) if places else ():
            turning = {layout.steps[at].slots[place] for place in places} - {-1}
            for behind in layout.reach((at,)):
                layout.turns.setdefault(behind, set()).update(turning)
    return layout


def order(layout: Layout, entered: Callable[[int], bool]) -> tuple[list[int], dict[int, tuple[int, ...]]]:
    """The order in which to work steps out, and the steps that wait for themselves, each with its whole circle.

    Two formulas may give each other (backspace and offset): an entry on either opens the circle, so the order
    depends on what is entered.
    """
    done: list[int] = []
    state = bytearray(len(layout.steps))  # 0 not seen, 1 on the path, 2 done
    circles: dict[int, tuple[int, ...]] = {}
    path: list[int] = []

    def visit(at: int) -> None:
        state[at] = 1
        path.append(at)
        if not entered(at):
            for slot in layout.steps[at].slots:
                if slot >= 0 and state[slot] == 0:
                    visit(slot)
                elif slot >= 0 and state[slot] == 1:
                    circle = tuple(path[path.index(slot) :])
                    for member in circle:
                        circles.setdefault(member, circle)
        path.pop()
        state[at] = 2
        done.append(at)

    for at in range(len(layout.steps)):
        if state[at] == 0:
            visit(at)
    return done, circles


def _places(axes: Mapping[str, tuple[str, ...]], scope: Scope) -> Iterator[Place]:
    return product(*(members if axis in scope else ("",) for axis, members in axes.items()))


def _add(layout: Layout, step: LayoutStep) -> int:
    layout.index[step.spot] = len(layout.steps)
    layout.by_node.setdefault(step.spot.node, []).append(len(layout.steps))
    layout.steps.append(step)
    return len(layout.steps) - 1


def _connect(layout: Layout, node: str) -> None:
    """What a node reads at each of its places."""
    catalog = layout.catalog
    call: Callable[..., Any]
    edges: Sequence[Edge | None]
    required: tuple[bool, ...]
    defaults: tuple[Any, ...]
    if node in catalog.parts:
        owner, part = catalog.parts[node]
        call, edges, required, defaults = attrgetter(part), (Edge(owner),), (True,), (None,)
    else:
        user = catalog.figures.get(node) or catalog.rules.get(node)
        if user is None:
            return
        call, edges = user.call, layout.edges[node]
        required = tuple(not taken.optional for taken in user.inputs)
        defaults = tuple(taken.default for taken in user.inputs)
    steps = [layout.steps[at] for at in layout.by_node.get(node, ())]  # none where an axis has no members
    if not steps:
        return
    columns = [_column(layout, edge, node, steps) for edge in edges]
    rows = zip(*columns, strict=True) if columns else repeat((), len(steps))
    for step, slots in zip(steps, rows, strict=True):
        step.call, step.slots, step.required, step.defaults = call, slots, required, defaults


def _column(layout: Layout, edge: Edge | None, node: str, steps: Sequence[LayoutStep]) -> Sequence[int]:
    """The steps that an input reads at each place of a node; -1 for one that only the bench gives."""
    if edge is None:
        return [-1] * len(steps)
    if edge.each:
        return [_gathered(layout, edge, step.spot.place) for step in steps]
    read = layout.by_node[edge.node]
    return [read[at] for at in _seen_from(layout, layout.scopes[node], layout.scopes[edge.node], edge.pin)]


def _seen_from(layout: Layout, here: Scope, there: Scope, pin: tuple[str, str] | None) -> Sequence[int]:
    """For each place of one scope, which of another's it sees; few pairs of scopes serve all nodes."""
    asked = (here, there, pin)
    if asked not in layout.sights:
        count = {place: at for at, place in enumerate(_places(layout.axes, there))}
        layout.sights[asked] = [count[layout.place(place, there, pin)] for place in _places(layout.axes, here)]
    return layout.sights[asked]


def _gathered(layout: Layout, edge: Edge, place: Place) -> int:
    """A step of its own for "all of the innermost axis", shared by everybody who asks for the same."""
    scope = layout.scopes[edge.node]
    inner = _innermost(layout.axes, scope)
    if inner is None:
        return -1
    here = layout.place(place, scope - {inner}, edge.pin)
    spot = Spot(f"each_{edge.node}", here)
    if spot in layout.index:
        return layout.index[spot]
    members = tuple(
        layout.index[
            Spot(
                edge.node,
                layout.place(here, scope, None)[: _at(layout.axes, inner)]
                + (member,)
                + here[_at(layout.axes, inner) + 1 :],
            )
        ]
        for member in layout.axes[inner]
    )
    step = LayoutStep(
        spot, (lambda *values: values) if members else None, members, (True,) * len(members), (None,) * len(members)
    )
    return _add(layout, step)


def _at(axes: Mapping[str, Any], axis: str) -> int:
    return list(axes).index(axis)


def _innermost(axes: Mapping[str, Any], scope: Scope) -> str | None:
    return next((axis for axis in reversed(list(axes)) if axis in scope), None)


def _scopes(layout: Layout) -> dict[str, Scope]:
    """The axes that each node varies over: its entries' and its inputs', less what is pinned or gathered."""
    catalog, axes = layout.catalog, layout.axes
    scopes: dict[str, Scope] = {name: frozenset().union(*fact.scopes) for name, fact in catalog.facts.items()}
    reads: dict[str, Sequence[Edge]] = {part: (Edge(owner),) for part, (owner, _) in catalog.parts.items()}
    reads |= {node: [edge for edge in edges if edge is not None] for node, edges in layout.edges.items()}
    for node, one in catalog.assumed.items():
        scopes.setdefault(node, scopes.get(one.of, frozenset()))
    for node in reads:
        scopes.setdefault(node, frozenset())
    moved = True
    while moved:  # scopes only grow, so this ends
        moved = False
        for node, edges in reads.items():
            scope = scopes[node].union(*(_seen(axes, edge, scopes[edge.node]) for edge in edges))
            if scope != scopes[node]:
                scopes[node], moved = scope, True
    return scopes


def _seen(axes: Mapping[str, Any], edge: Edge, scope: Scope) -> Scope:
    if edge.pin:
        scope = scope - {edge.pin[0]}
    if edge.each:
        scope = scope - {_innermost(axes, scope) or ""}
    return scope
