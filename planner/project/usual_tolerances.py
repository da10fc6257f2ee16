"""What a measured entry is good to where no tolerance was given: the usual one of its field, marked as assumed."""

from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from typing import Any

from planner.project.lines import Key
from planner.project.models.entry import Reads, Table, Usual
from planner.project.models.project import Project
from planner.project.models.tires import Tire
from planner.quantities.amounts import read
from planner.quantities.kinds import POSITION, SHARE, Kind
from planner.quantities.quantity import Quantity

ASSUMED_SINCE = 2  # the format from which on a measured value without a ± is not exact
FOUND = ("fitments", "found")


def with_usual_tolerances(project: Project) -> Project:
    """The project with the usual tolerance on each measured entry that has none of its own.

    A wheel or tire that is not on the truck is what its maker states or what is ordered, so it is exact as well,
    but for what can only be measured.
    """
    found = _table(project, ())
    assert isinstance(found, Project)
    return found


def usual_of(info: Any) -> Usual | None:
    """What a declared field's entry is good to where nobody says; None where it is exact then."""
    return next((extra for extra in info.metadata if isinstance(extra, Usual)), None)


def kind_of_field(info: Any) -> Kind:
    """The kind of a declared field's value; a place's coordinates are positions."""
    kind = next((extra.kind for extra in info.metadata if isinstance(extra, Reads)), POSITION)
    return kind if kind.form == "quantity" else POSITION


@cache
def usual_amount(usual: Usual, kind: Kind) -> float:
    """The usual tolerance in the SI unit of the kind; one in % is of a value of one."""
    return read(usual.tolerance, SHARE if usual.tolerance.endswith("%") else replace(kind, above=False)).value


def _table(table: Table, key: Key) -> Table:
    fields = type(table).model_fields
    changed: dict[str, Any] = {}
    for name, info in fields.items():
        value = getattr(table, name)
        if value is None or value is info.default:
            continue
        here = (*key, info.alias or name)
        usual = usual_of(info)
        if usual is None:
            new = _inner(value, here)
        else:
            own = usual_at(usual, key, table.size_from if isinstance(table, Tire) else None)
            new = value if own is None else with_usual(value, own, kind_of_field(info))
        if new is not value:
            changed[name] = new
    return table.model_copy(update=changed) if changed else table


def _inner(value: Any, key: Key) -> Any:
    """A table, or those in a list or by name, with what is in them; the value itself where nothing is."""
    if isinstance(value, Table):
        return _table(value, key)
    if isinstance(value, dict):
        named = {name: _inner(one, (*key, name)) for name, one in value.items()}
        return named if any(named[name] is not one for name, one in value.items()) else value
    if isinstance(value, list):
        listed = [_inner(one, (*key, at)) for at, one in enumerate(value)]
        return listed if any(new is not one for new, one in zip(listed, value, strict=True)) else value
    return value


def usual_at(usual: Usual, table: Key, size_from: object = None) -> Usual | None:
    """What is usual of an entry of the table at this key: measured, of a tire as it says itself, else on the truck.

    None where it is exact. A candidate's tire that does not say is as its maker's table has it.
    """
    measured = size_from == "measured" if size_from is not None else table[:2] == FOUND
    if measured or not usual.found_only:
        return usual
    if size_from == "designation" and usual.by_size:
        return Usual(usual.by_size, "the size on the sidewall")
    return Usual(usual.by_maker, "a tire maker's table") if usual.by_maker else None


def usual_words(usual: Usual) -> str:
    """What is said where the entry is made."""
    return f"without a ± it counts as ± {usual.tolerance}: that's how well {usual.tool} reads (common practice)"


def with_usual(value: Any, usual: Usual, kind: Kind) -> Any:
    """The value, or each of a place's or of several, with the usual tolerance where it has none of its own."""
    if isinstance(value, tuple):
        inner = tuple(with_usual(one, usual, kind) for one in value)
        return inner if any(new is not one for new, one in zip(inner, value, strict=True)) else value
    if not isinstance(value, Quantity) or value.stated:
        return value
    amount = usual_amount(usual, kind)
    if usual.tolerance.endswith("%"):
        amount *= abs(value.value)
    if kind.above and amount >= value.value - kind.least:  # nothing can be less than nothing: half of a small thing
        amount = (value.value - kind.least) / 2
    return replace(value, tolerance=amount)


def assumed_keys(value: Any, key: Key = ()) -> Iterator[Key]:
    """The entries of a project, or of what is in it, whose tolerance is assumed, by their keys, in the file's order."""
    if isinstance(value, Table):
        for name, info in type(value).model_fields.items():
            inner, here = getattr(value, name), (*key, info.alias or name)
            if usual_of(info) is None:
                yield from assumed_keys(inner, here)
            elif is_assumed(inner):
                yield here
    elif isinstance(value, dict):
        for name, one in value.items():
            yield from assumed_keys(one, (*key, name))
    elif isinstance(value, list):
        for at, one in enumerate(value):
            yield from assumed_keys(one, (*key, at))


def is_assumed(value: Any) -> bool:
    """Whether a value, or one of a place's or of several, has a tolerance that nobody gave."""
    return any(map(is_assumed, value)) if isinstance(value, tuple) else isinstance(value, Quantity) and value.assumed
