"""Every node by name: facts, assumed values, figures and rules, and how a parameter's name finds what it reads."""

from collections.abc import Iterable, Iterator, Mapping
from functools import cache
from importlib import import_module
from pathlib import Path
from typing import Any, NamedTuple

from planner.quantities.kinds import Kind
from planner.quantities.text import in_words
from planner.worksheet.declare import Assumed, Figure, Input, Rule

Scope = frozenset[str]


class WiringFault(TypeError):
    """Declarations that do not fit together: our own mistake, raised at the wiring check."""


class Fact(NamedTuple):
    """An entry that a person may make; `scopes` are the sets of axes over which it can be entered."""

    name: str
    kind: Kind
    means: str
    how: str
    example: str
    scopes: tuple[Scope, ...]
    keys: tuple[str, ...]


class Edge(NamedTuple):
    """What a parameter reads: a node, a member that pins an axis, and whether all of the innermost axis is gathered."""

    node: str
    pin: tuple[str, str] | None = None
    each: bool = False


class Catalog(NamedTuple):
    """All declarations, and `prefixes` such as `found_`, each pinning an axis to a member (or to this place: None)."""

    facts: Mapping[str, Fact]
    assumed: Mapping[str, Assumed]
    figures: Mapping[str, Figure]
    rules: Mapping[str, Rule]
    prefixes: Mapping[str, tuple[str, str] | None]
    also: Mapping[str, str] = {}
    parts: Mapping[str, tuple[str, str]] = {}

    def knows(self, name: str) -> bool:
        return name in self.facts or name in self.figures or name in self.assumed or name in self.parts

    def edge(self, reads: str) -> Edge:
        """The node that a parameter reads; raises WiringFault where there is none."""
        found = self._edge(reads)
        if found is None:
            raise WiringFault(f"nothing is called {reads!r}")
        return found

    def _edge(self, reads: str) -> Edge | None:
        if self.knows(reads):
            return Edge(reads)
        if reads in self.also:
            return Edge(self.also[reads])
        if reads.startswith("each_"):
            inner = self._edge(reads[5:])
            return inner and inner._replace(each=True)
        for prefix, pin in self.prefixes.items():
            if reads.startswith(prefix):
                inner = self._edge(reads[len(prefix) :])
                return inner and (inner._replace(pin=pin) if pin else inner)
        return None

    def kind(self, node: str) -> Kind | None:
        """The kind of a node's value; None for results of several parts and for rules that answer yes or no."""
        if node in self.figures:
            return self.figures[node].kind
        if node in self.facts:
            return self.facts[node].kind
        if node in self.assumed:
            return self.assumed[node].kind
        if node in self.parts:
            owner, part = self.parts[node]
            return self.figures[owner].parts[part]
        return self.rules[node].kind if node in self.rules else None

    def means(self, node: str) -> str:
        """What a node is, in words."""
        if node in self.facts:
            return self.facts[node].means
        if node in self.figures:
            return self.figures[node].means
        if node in self.assumed:
            return self.assumed[node].means
        if node in self.parts:
            owner, part = self.parts[node]
            return f"{part.replace('_', ' ')} of the {self.figures[owner].means}"
        return self.rules[node].notices if node in self.rules else in_words(node)

    def picks(self, node: str) -> tuple[str, ...]:
        """The parts of a node's value that are picked from a list; "" for the value itself."""
        if node in self.parts:
            owner, part = self.parts[node]
            return ("",) if part in self.figures[owner].picks else ()
        return self.figures[node].picks if node in self.figures else ()

    def named(self, name: str) -> str | None:
        """The node behind a name as a person may type it: `wheel.offset`, `offset`, or another name of it."""
        if self.knows(name) or name in self.rules:
            return name
        groups: tuple[Mapping[str, Figure | Assumed | Rule], ...] = (self.figures, self.assumed, self.rules)
        for group in groups:
            for node, declared in group.items():
                if declared.name == name:
                    return node
        return self.also.get(name)

    def rule_named(self, name: str) -> Rule | None:
        """The rule that people know by this name; None where there is none."""
        return next((one for one in self.rules.values() if one.name == name), None)

    def called(self, node: str) -> str:
        """The name of a figure or a rule for people; the node itself for anything else."""
        declared = self.figures.get(node) or self.rules.get(node)
        return declared.name if declared is not None else node

    def users(self) -> Iterator[tuple[str, Figure | Rule]]:
        """Everything that reads other nodes, by its own node."""
        yield from self.figures.items()
        yield from self.rules.items()


def make(
    facts: Iterable[Fact],
    declared: Iterable[Any],
    prefixes: Mapping[str, tuple[str, str] | None],
    names: Mapping[str, str] | None = None,
) -> Catalog:
    """Put declarations together; `names` are those by which people know some facts.

    Raises WiringFault where two claim a name or one reads what is not there.
    """
    by_name = {fact.name: fact for fact in facts}
    assumed: dict[str, Assumed] = {}
    figures: dict[str, Figure] = {}
    rules: dict[str, Rule] = {}
    also: dict[str, str] = dict(names or {})
    parts: dict[str, tuple[str, str]] = {}
    for one in declared:
        room: dict[str, Any] = assumed if isinstance(one, Assumed) else rules if isinstance(one, Rule) else figures
        if one.node in assumed or one.node in figures or one.node in rules:
            raise WiringFault(f"two declarations are called {one.node!r}")
        room[one.node] = one
        if isinstance(one, Figure):
            also.update(dict.fromkeys(one.also, one.node))
            parts.update({node: (one.node, part) for node, part in one.publishes.items()})
    catalog = Catalog(by_name, assumed, figures, rules, prefixes, also, parts)
    for _, user in catalog.users():
        for taken in user.inputs:
            _check(catalog, user.name, taken)
    return catalog


def _check(catalog: Catalog, user: str, taken: Input) -> None:
    if taken.reads is None:
        return
    try:
        edge = catalog.edge(taken.reads)
    except WiringFault as fault:
        raise WiringFault(f"{user} reads {taken.reads!r}: {fault}") from None
    there = catalog.kind(edge.node)
    if there is None or edge.each or {there.form, taken.kind.form} <= {"ratio", "count"}:
        return  # numbers without a unit serve for each other
    if (there.name, there.form) != (taken.kind.name, taken.kind.form):
        raise WiringFault(f"{user} wants {taken.name} as a {taken.kind.name}; {edge.node} is a {there.name}")


@cache
def declared_in(room: str) -> tuple[Any, ...]:
    """Everything declared in the modules of a room such as `planner.trade`, found by looking at its folder."""
    origin = import_module(room).__file__
    folder = Path(origin or "").parent
    found: list[Any] = []
    for path in sorted(folder.rglob("*.py")):
        if path.name == "__init__.py" or b"planner.worksheet.declare" not in path.read_bytes():
            continue  # importing a module that declares nothing would only cost time
        module = import_module(".".join((room, *path.relative_to(folder).with_suffix("").parts)))
        for name, value in vars(module).items():
            if isinstance(value, Assumed):
                found.append(value._replace(node=name, name=f"{module.__name__.split('.')[2]}.{name}"))
            elif getattr(value, "__module__", None) == module.__name__ and hasattr(value, "declared"):
                found.append(value.declared)
    return tuple(found)
