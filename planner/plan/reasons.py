"""Why a value is what it is, as steps to be shown one a line: down to the entries, and who brings the spread."""

from collections.abc import Iterator
from typing import NamedTuple

from planner.plan.figures import value_text
from planner.plan.opening import OpenProject, entry_key
from planner.plan.placing import where
from planner.plan.putting_in import put_in
from planner.plan.spreading import brought
from planner.plan.swept import NODES
from planner.quantities.text import clean
from planner.worksheet.declare import Assumed, Figure, Rule
from planner.worksheet.explain import Reason, explain, formula
from planner.worksheet.outcome import Failed, Known, Spot, Waiting


class Step(NamedTuple):
    """One value on the way down: how it was had, and the key of the entry that makes it, or would."""

    depth: int
    name: str
    value: str
    how: str
    spot: Spot
    key: str = ""


class Brings(NamedTuple):
    """An entry's part of the spread."""

    part: float
    key: str
    written: str


class Why(NamedTuple):
    """Everything that can be told of one value; `sums` are its formula, the values put in, and its ground."""

    title: str
    value: str
    sums: tuple[tuple[str, str], ...]
    steps: tuple[Step, ...]
    brings: tuple[Brings, ...]
    read_by: tuple[tuple[str, Spot], ...]


def why(opened: OpenProject, spot: Spot) -> Why:
    """The reasons for the value at a spot of the worksheet."""
    reason, catalog = explain(opened.sheet, spot), opened.sheet.catalog
    at = where(spot.place)
    title = f"{clean(_name(opened, spot))}{f' ({at})' if at else ''}: {catalog.means(spot.node)}"
    steps = tuple(_steps(opened, reason, 0))
    readers = dict.fromkeys(opened.sheet.readers(spot))
    read_by = {_name(opened, one): one for one in reversed(readers)}
    return Why(
        title, value_text(opened, spot), tuple(_sums(opened, reason)), steps, tuple(_brings(opened, reason)),
        tuple(sorted(read_by.items())),
    )  # fmt: skip


def _name(opened: OpenProject, spot: Spot) -> str:
    catalog = opened.sheet.catalog
    declared = catalog.figures.get(spot.node) or catalog.rules.get(spot.node)
    if spot.node in catalog.rules and declared is not None:
        return f"flag {declared.name}"
    return declared.name if declared is not None else spot.node.replace("_", " ")


def _sums(opened: OpenProject, reason: Reason) -> Iterator[tuple[str, str]]:
    declared = reason.declared
    if isinstance(declared, Figure) and reason.rests_on:
        yield "formula", formula(declared)
        if isinstance(reason.outcome, Known):
            yield "values put in", put_in(opened, reason.spot, declared)
    if isinstance(declared, Rule):
        yield "it notices", declared.notices
    if isinstance(declared, (Figure, Rule, Assumed)):
        yield "ground", str(declared.ground)
    if isinstance(reason.outcome, Failed):
        yield "impossible", clean(reason.outcome.why)


def _steps(opened: OpenProject, reason: Reason, depth: int) -> Iterator[Step]:
    spot = reason.spot
    at = where(spot.place)
    name = f"{spot.node.replace('_', ' ')}{f' ({at})' if at else ''}"
    how, key = _how(opened, reason)
    yield Step(depth, clean(name), value_text(opened, spot), how, spot, key)
    for below in () if reason.again else reason.rests_on:
        yield from _steps(opened, below, depth + 1)


def _how(opened: OpenProject, reason: Reason) -> tuple[str, str]:
    """How a value was had, and the key at which to look or to write."""
    spot = reason.spot
    if reason.again:
        return "worked out above", ""
    if spot.node in NODES:
        return ("swept" if isinstance(reason.outcome, Known) else "the sweep waits"), next(
            iter(opened.keys_needed(spot)), ""
        )
    if reason.entered_at is not None:
        key = opened.key_of(reason.entered_at)
        return f"entered: {clean(key)}", key
    if reason.how == "assumed" and isinstance(reason.declared, Assumed):
        table = "limits" if reason.declared.limit else "assumptions"
        return "assumed", f"{table}.{spot.node}.value"
    if isinstance(reason.outcome, Waiting) and reason.how == "missing":
        return f"enter {clean(entry_key(spot))}", entry_key(spot)
    return "", ""


def _brings(opened: OpenProject, reason: Reason) -> Iterator[Brings]:
    """Who brings the spread, the most first."""
    for one in brought(opened, reason.spot):
        yield Brings(one.part, one.key, one.written)
