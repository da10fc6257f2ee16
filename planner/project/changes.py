"""What is to change in a project's data, done to a copy of the data, and cut into the smallest steps that do it."""

import copy
import datetime
from collections.abc import Iterator, Mapping
from enum import Enum
from typing import Any, NamedTuple

from planner.project.faults import as_key
from planner.project.lines import Key


class Delete(Enum):
    """The one value that stands for "take this key away" in a set of changes."""

    DELETE = "delete"


DELETE = Delete.DELETE


def changed(data: dict[str, Any], changes: Mapping[Key, object]) -> dict[str, Any]:
    """A copy of the plain data with the changes made; `ValueError` where a key doesn't fit what's there."""
    result = copy.deepcopy(data)
    for key, value in changes.items():
        if not key:
            raise ValueError("a change needs a key")
        _put(result, key, value if value is DELETE else _plain_value(value))
    return result


def held_at(data: Any, key: Key) -> Any:
    """What stands at a key of the plain data; None where nothing does."""
    for name in key:
        if not has(data, name):
            return None
        data = data[name]
    return data


def table_at(data: Any, key: Key) -> dict[str, Any]:
    """The table that stands at a key of the plain data; an empty one where none does."""
    table = held_at(data, key)
    return table if isinstance(table, dict) else {}


def rows_at(data: Any, key: Key) -> list[dict[str, Any]]:
    """The rows of the list that stands at a key of the plain data, an empty one for what is no table."""
    rows = held_at(data, key)
    return [row if isinstance(row, dict) else {} for row in rows] if isinstance(rows, list) else []


def has(holder: Any, name: str | int) -> bool:
    """Whether a table or a list has something of that name, or at that place."""
    if isinstance(holder, list):
        return isinstance(name, int) and name < len(holder)
    return isinstance(holder, dict) and name in holder


def same(one: object, other: object) -> bool:
    """Whether two values read from TOML are the same, kind included: 1, 1.0 and true differ."""
    if type(one) is not type(other):
        return False
    if isinstance(one, dict) and isinstance(other, dict):
        return one.keys() == other.keys() and all(same(value, other[name]) for name, value in one.items())
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(map(same, one, other))
    return one == other or (one != one and other != other)


class Amendment(NamedTuple):
    """One thing to do to the document; `insert` puts a new element before the one at that index."""

    key: Key
    value: Any
    insert: bool = False


def steps(key: Key, old: Any, new: Any) -> Iterator[Amendment]:
    """What to do, in this order, so that `old` becomes `new` and only what differs is touched."""
    if same(old, new):
        return
    if isinstance(old, dict) and isinstance(new, dict):
        yield from (Amendment((*key, name), DELETE) for name in old if name not in new)
        for name, value in new.items():
            yield from steps((*key, name), old[name], value) if name in old else [Amendment((*key, name), value)]
    elif isinstance(old, list) and isinstance(new, list) and old and (not new or is_tables(old) == is_tables(new)):
        shorter = min(len(old), len(new))
        start = next((at for at in range(shorter) if not same(old[at], new[at])), shorter)
        end = next((at for at in range(shorter - start) if not same(old[-1 - at], new[-1 - at])), shorter - start)
        middle = shorter - end
        for at in range(start, middle):
            yield from steps((*key, at), old[at], new[at])
        yield from (Amendment((*key, at), DELETE) for at in reversed(range(middle, len(old) - end)))
        yield from (Amendment((*key, at), new[at], True) for at in range(middle, len(new) - end))
    else:
        yield Amendment(key, new)


def is_tables(value: object) -> bool:
    return isinstance(value, list) and bool(value) and all(isinstance(inner, dict) for inner in value)


def without_empty(value: Any) -> Any:
    """Without tables that hold nothing: one that had no heading of its own goes when its last entry does."""
    if isinstance(value, dict):
        inner = {name: without_empty(held) for name, held in value.items()}
        return {name: held for name, held in inner.items() if held != {}}
    return [without_empty(held) for held in value] if isinstance(value, list) else value


def _put(holder: Any, key: Key, value: object) -> None:
    name, rest = key[0], key[1:]
    fits = isinstance(holder, dict) if isinstance(name, str) else isinstance(holder, list) and 0 <= name <= len(holder)
    if not fits:
        raise ValueError(f"{as_key(key)} doesn't fit what's there")
    present = name in holder if isinstance(holder, dict) else name < len(holder)  # type: ignore[operator]
    if value is DELETE and not present:
        return
    if rest:
        inner = holder[name] if present else [] if isinstance(rest[0], int) else {}
        _put(inner, rest, value)
        value = inner
    if value is DELETE:
        del holder[name]
    elif present or isinstance(holder, dict):
        holder[name] = value
    else:
        holder.append(value)


def _plain_value(value: object) -> Any:
    """The value in the exact types of TOML, tables within tables last, so that no heading swallows what follows it."""
    if isinstance(value, Mapping):
        plain = {str(name): _plain_value(inner) for name, inner in value.items()}
        return dict(sorted(plain.items(), key=lambda entry: isinstance(entry[1], dict) or is_tables(entry[1])))
    if isinstance(value, (list, tuple)):
        return [_plain_value(inner) for inner in value]
    if isinstance(value, (bool, datetime.datetime, datetime.date, datetime.time)):
        return value
    for kind in (int, float, str):
        if isinstance(value, kind):
            return kind(value)
    raise TypeError(f"TOML has no {type(value).__name__}")
