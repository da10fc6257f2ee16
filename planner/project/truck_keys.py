"""The keys of the truck itself, which a change sets and a reading is of: where one leads, and what it may hold.

Also what stands at any key of the models, and the models with something else there.
"""

from collections.abc import Iterator
from typing import Any, NamedTuple, get_origin

from pydantic import ValidationError

from planner.project.facts import inner_model, obstacle_labels
from planner.project.lines import Key
from planner.project.models.entry import Table, entries
from planner.project.models.project import Project
from planner.project.usual_tolerances import kind_of_field, usual_of, with_usual
from planner.project.written_keys import split_key

TRUCK = ("vehicle", "axles", "drivetrain", "obstacles")


class TruckKey(NamedTuple):
    """One entry of the truck: its key in the file, and the model of the table that holds it."""

    key: Key
    holder: type[Table]
    within: tuple[str, ...]  # from that table to the entry: one name, or two in a table of names


def truck_key(project: Project, written: str, tables: tuple[str, ...] = TRUCK) -> TruckKey | None:
    """The single entry that a written key names, or None; an obstacle goes by its number or its name.

    `obstacles[0].at`, `obstacles.0.at` and `obstacles.spring pack.at` are one.
    """
    names = split_key(written)
    if names is None or names[0] not in tables:
        return None
    model: type[Table] = Project
    key: Key = ()
    while names:
        name, names = names[0], names[1:]
        info = entries(model).get(name) if isinstance(name, str) else None
        if info is None or not isinstance(name, str):
            return None
        inner, of = inner_model(info.annotation), get_origin(info.annotation)
        key = (*key, name)
        if of is list and inner is not None:
            numbered = _numbered(project, names)
            if numbered is None:
                return None
            number, names = numbered
            key, model = (*key, number), inner
        elif of is dict and inner is None:
            member = names[0] if len(names) == 1 else None
            return TruckKey((*key, member), model, (name, member)) if isinstance(member, str) else None
        elif of is dict and inner is not None:
            if not names or not isinstance(names[0], str):
                return None
            key, names, model = (*key, names[0]), names[1:], inner
        elif inner is not None:
            model = inner
        else:
            return None if names else TruckKey(key, model, (name,))
    return None


def _numbered(project: Project, names: Key) -> tuple[int, Key] | None:
    """Which obstacle the next names mean, by number or by a name that may have dots in it, and what is left."""
    if not names:
        return None
    first = names[0]
    number = first if isinstance(first, int) else int(first) if first.isdecimal() and len(first) < 7 else None
    if number is not None:
        return (number, names[1:]) if number < len(project.obstacles) else None
    labels = obstacle_labels(project)
    for end in range(len(names) - 1, 0, -1):
        called = ".".join(str(name) for name in names[:end])
        for number, (one, label) in enumerate(zip(project.obstacles, labels, strict=True)):
            if called in (one.name, label):
                return number, names[end:]
    return None


def faults_in(entry: TruckKey, value: object) -> Iterator[Any]:
    """What pydantic finds wrong with a value as that entry, read with the entry's own kind."""
    try:
        read_entry(entry, value, assumes=False)
    except ValidationError as wrong:
        yield from wrong.errors(include_url=False)


def read_entry(entry: TruckKey, value: object, assumes: bool) -> Any:
    """A value as the entry's own table reads it; with `assumes`, the usual tolerance where none is said.

    Raises `ValidationError` where it cannot be.
    """
    data: Any = value
    for name in reversed(entry.within):
        data = {name: data}
    read = value_at(entry.holder.model_validate(data), entry.within)
    info = entries(entry.holder)[entry.within[0]]
    usual = usual_of(info) if assumes else None
    return read if usual is None else with_usual(read, usual, kind_of_field(info))


def value_at(here: Any, key: Key) -> Any:
    """What stands at a key of the models, None where nothing does; a name that a table never has is our own mistake."""
    for name in key:
        if isinstance(here, Table):
            here = getattr(here, str(name))
        elif isinstance(here, dict):
            here = here.get(name)
        elif isinstance(here, (list, tuple)) and isinstance(name, int):
            here = here[name] if name < len(here) else None
        else:
            return None
    return here


def with_value_at(here: Any, key: Key, value: object) -> Any:
    """A table, or a list or a table of names in one, with another value at a key."""
    if not key:
        return value
    name, *rest = key
    inner = with_value_at(value_at(here, (name,)), tuple(rest), value)
    if isinstance(here, Table):
        return here.model_copy(update={str(name): inner})
    if isinstance(here, list):
        return [inner if at == name else one for at, one in enumerate(here)]
    return {**(here or {}), name: inner}
