"""Kinds of value, and where an input of a formula comes from in a project, in words and links."""

from collections.abc import Iterable
from math import inf

from planner.plan.truck.sweep_results import BY_THE_SWEEP, NODES
from planner.plan.truck.wording import calendar_words
from planner.quantities.kinds import Kind
from planner.quantities.show import Style, show
from planner.reference.markdown import anchor, code, link
from planner.worksheet.catalog import Catalog, Edge
from planner.worksheet.declare import Assumed, Figure, Input, Rule

FIGURES, FLAGS, FILE = "figures.md", "flags.md", "project-file.md"
_PLACES = {"found": "as found", "front": "of the front axle", "rear": "of the rear axle"}
_LISTS = {"points": "list of points", "ratios": "list of ratios", "point": "point"}


def kind_words(kind: Kind) -> str:
    """What a value of a kind is, and its sign where that is free.

    >>> from planner.quantities.kinds import LENGTH, POSITION, SHARE
    >>> kind_words(LENGTH), kind_words(POSITION), kind_words(SHARE)
    ('length', 'length, either sign', 'share, such as 5 %')
    """
    if kind.form in _LISTS:
        return _LISTS[kind.form]
    if kind.name == "share":
        return "share, such as 5 %"
    signed = kind.name != "angle" and kind.form in ("quantity", "ratio") and kind.least < 0
    return f"{kind.name}, either sign" if signed else kind.name


def result_words(kind: Kind) -> str:
    """A kind with the SI unit that `--json` gives it in.

    >>> from planner.quantities.kinds import LENGTH
    >>> result_words(LENGTH)
    'length, m'
    """
    return f"{kind_words(kind)}, {kind.si}" if kind.si else kind_words(kind)


def comes_from(catalog: Catalog, taken: Input) -> str:
    """What an input reads in a project: an entry, another figure, or a value that stands until one is entered."""
    if taken.reads is None:
        return "given by hand only"
    edge = catalog.edge(taken.reads)
    return f"{'every ' if edge.each else ''}{_node(catalog, edge.node)}{_place(taken.reads, edge)}"


def _node(catalog: Catalog, node: str) -> str:
    if node in NODES:
        return link(f"{BY_THE_SWEEP}'s {code(node)}", BY_THE_SWEEP, FIGURES)
    fact, figure = catalog.facts.get(node), catalog.figures.get(node)
    if figure is None and node in catalog.parts:
        figure = catalog.figures[catalog.parts[node][0]]
    worked_out = link(figure.name, figure.name, FIGURES) if figure else ""
    if fact is None:
        return worked_out or _standing(catalog.assumed[node])
    entry = entry_link(fact.keys[0])
    if worked_out:
        return f"{entry}, else {worked_out}"
    return f"{entry}, else {_standing(catalog.assumed[node])}" if node in catalog.assumed else entry


def _standing(one: Assumed) -> str:
    return link(one.node, one.name, FLAGS if one.limit else FIGURES)


def _place(reads: str, edge: Edge) -> str:
    if edge.pin:
        return f" {_PLACES[edge.pin[1]]}"
    return " as planned" if reads.startswith("planned_") else ""


def entry_link(key: str) -> str:
    """A key of the project file, leading to the table that it stands in; front stands for both axles.

    >>> entry_link("axles.front.hub.pilot")
    '[`axles.front.hub.pilot`](project-file.md#axlesfronthub)'
    """
    table, _, last = key.rpartition(".")
    if last.startswith("<"):
        table = table.rpartition(".")[0]
    if table == "fitments":  # a fitment itself: its entries stand under one heading, whatever it is called
        table = "fitments.<fitment>"
    return f"[{code(key)}]({FILE}#{anchor(table)})" if table else code(key)


def without(catalog: Catalog, taken: Input) -> str:
    """What holds where nobody gives an input: needed, left out, or the value that stands."""
    standing = catalog.assumed.get(taken.reads or taken.name)
    if standing is not None:
        return standing.text
    if not taken.optional:
        return "needed"
    return "may be left out" if taken.default is None else str(taken.default)


def margin(value: float, kind: Kind, style: Style, beyond: str) -> str:
    """By how much a limit holds or fails, without a sign.

    >>> from planner.quantities.kinds import POSITION
    >>> margin(-0.0127, POSITION, Style(), "short by")
    'short by 1/2 in (12.7 mm)'
    """
    if abs(value) == inf:
        return "no bound"
    text = calendar_words(kind, value) or show(abs(value), kind.unsigned(), style)
    return f"{text} to spare" if value >= 0 else f"{beyond} {text}"


def read_by(catalog: Catalog, node: str, ones: Iterable[Figure] | Iterable[Rule]) -> list[str]:
    """A link to each of these figures or rules that reads the node."""
    return [
        link(one.name, one.name)
        for one in ones
        if any(taken.reads and catalog.edge(taken.reads).node == node for taken in one.inputs)
    ]
