"""A project with each value somewhere within its tolerance: what is loose in it, and the same project drawn exact."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any, NamedTuple

from planner.plan.truck.catalog import catalog
from planner.project.models.entry import Table, entries
from planner.project.models.work import Override
from planner.project.reading import Opened
from planner.project.truck_keys import truck_key
from planner.project.usual_tolerances import kind_of_field, usual_of, with_usual
from planner.project.which_counts import combined
from planner.quantities.grammar import read_value
from planner.quantities.kinds import POSITION, Kind
from planner.quantities.quantity import Quantity
from planner.quantities.show import write

Name = tuple[Any, ...]  # where a loose value stands: what holds it, and the way from there
Drawn = Mapping[Name, float]
BARELY = 1e-9  # what is more than nothing is so at its least too


class Span(NamedTuple):
    """A value that is anywhere from `low` to `high`; `middle` is what was written."""

    low: float
    middle: float
    high: float


def loose(opened: Opened) -> dict[Name, Span]:
    """Every value of a project that has a tolerance, entered or assumed, by where it stands."""
    return {name: span for name, span in _loose(opened) if span.low < span.high}


def _loose(opened: Opened) -> Iterator[tuple[Name, Span]]:
    sided = {key: one.sides for key, one in opened.counted.items() if one.sides}
    for key, sides in sided.items():
        for side, value in sides.items():
            yield from _in(value, ("side", key, side), POSITION)
    for name, span in _in(opened.project, ("entry",), POSITION):
        if not any(name[1 : 1 + len(key)] == key for key in sided):
            yield name, span
    for written, text, kind, usual in _planned(opened):
        value = read_value(text, kind)
        yield from _in(value if usual is None else with_usual(value, usual, kind), written, kind)
    for node, one in catalog().assumed.items():
        table = opened.project.limits if one.limit else opened.project.assumptions
        text = table[node].value if node in table else one.text
        yield from _in(read_value(text, one.kind), ("assumed", node), one.kind)


def _in(value: Any, name: Name, kind: Kind) -> Iterator[tuple[Name, Span]]:
    if isinstance(value, Table):
        for own, info in type(value).model_fields.items():
            if own not in ("limits", "assumptions", "changes", "readings"):
                yield from _in(getattr(value, own), (*name, own), kind_of_field(info))
    elif isinstance(value, dict):
        for own, one in value.items():
            yield from _in(one, (*name, own), kind)
    elif isinstance(value, (list, tuple)):
        for own, one in enumerate(value):
            yield from _in(one, (*name, own), kind)
    elif isinstance(value, Quantity) and value.tolerance:
        least = kind.least + BARELY if kind.above else kind.least
        yield name, Span(max(value.low, least), value.value, max(min(value.high, kind.most), least))


def _planned(opened: Opened) -> Iterator[tuple[Name, Any, Kind, Any]]:
    """What changes set, and what was measured after them: where it stands, as written, its kind and usual tolerance."""
    for number, change in enumerate(opened.project.changes):
        told = [(("change", number, "sets", key), value) for key, value in change.sets.items()]
        told += [(("change", number, "measured", key), one.value) for key, one in change.measured.items()]
        for name, value in told:
            at = truck_key(opened.project, name[3])
            if at is not None and isinstance(value, str):
                info = entries(at.holder)[at.within[0]]
                usual = usual_of(info) if opened.assumes and name[2] == "measured" else None
                if kind_of_field(info).form in ("quantity", "ratio"):
                    yield name, value, kind_of_field(info), usual


def drawn(opened: Opened, values: Drawn) -> Opened:
    """The project with these values, exact, in place of what was written there."""
    tree: dict[Any, Any] = {}
    for name, value in values.items():
        here = tree
        for own in name[:-1]:
            here = here.setdefault(own, {})
        here[name[-1]] = value
    project = _put(opened.project, tree.get("entry", {}))
    counted = dict(opened.counted)
    for key, sides in tree.get("side", {}).items():
        own = {side: _put(value, sides.get(side, {})) for side, value in counted[key].sides.items()}
        whole = combined(list(own.values()), "worse") if len(own) == 2 else None
        counted[key] = counted[key]._replace(sides=own, value=whole)
        project = _at(project, key, whole)
    overrides: dict[str, dict[str, Override]] = {
        "limits": dict(project.limits),
        "assumptions": dict(project.assumptions),
    }
    for node, value in tree.get("assumed", {}).items():
        one = catalog().assumed[node]
        table = overrides["limits" if one.limit else "assumptions"]
        table[node] = Override(value=exact(value, one.kind), because="drawn")
    changes = list(project.changes)
    for written, _, kind, _ in _planned(opened):
        if written in values:
            _, number, way, key = written
            if way == "sets":
                update: dict[str, Any] = {"sets": {**changes[number].sets, key: exact(values[written], kind)}}
            else:
                one = changes[number].measured[key].model_copy(update={"value": exact(values[written], kind)})
                update = {"measured": {**changes[number].measured, key: one}}
            changes[number] = changes[number].model_copy(update=update)
    project = project.model_copy(update={**overrides, "changes": changes})
    return opened._replace(project=project, counted=counted)


def exact(value: float, kind: Kind) -> str:
    """A value as an entry that says that it is exact."""
    unit = f" {kind.si}" if kind.form == "quantity" else ""
    return f"{write(value, kind)} ± 0{unit}"


def _put(value: Any, tree: Any) -> Any:
    """A part of the models with what the tree says in place of what is there."""
    if not isinstance(tree, dict):
        return replace(value, value=tree, tolerance=0.0, text="", stated=True)
    if not tree:
        return value
    if isinstance(value, Table):
        return value.model_copy(update={name: _put(getattr(value, name), inner) for name, inner in tree.items()})
    if isinstance(value, dict):
        return {name: _put(one, tree.get(name, {})) for name, one in value.items()}
    found = [_put(one, tree.get(at, {})) for at, one in enumerate(value)]
    return found if isinstance(value, list) else tuple(found)


def _at(holder: Any, key: Name, value: Any) -> Any:
    """A copy of the models with a value at a key."""
    if not key:
        return value
    name, rest = key[0], key[1:]
    if isinstance(holder, dict):
        return {**holder, name: _at(holder[name], rest, value)}
    if isinstance(holder, list):
        return [_at(one, rest, value) if at == name else one for at, one in enumerate(holder)]
    return holder.model_copy(update={name: _at(getattr(holder, name), rest, value)})
