"""What of a file with faults is not known: which keys are set aside, so that all that does not rest on them is read."""

from collections.abc import Collection, Iterator
from copy import deepcopy
from typing import Any, get_origin

from planner.project.changes import has, held_at
from planner.project.facts import inner_model
from planner.project.lines import Key
from planner.project.models.entry import Table, entries

WHOLE = frozenset({"acceptances"})  # lists whose tables are not known at all once an entry of theirs is not
EMPTY_FORMS = {"model_type": dict, "dict_type": dict, "list_type": list}  # by pydantic's names for what is no table


def touching(not_known: Collection[Key], key: Key) -> Key | None:
    """A key that is not known and that this one is, lies within, or holds; None where it rests on none of them."""
    return next((one for one in sorted(not_known, key=str) if one[: len(key)] == key[: len(one)]), None)


def set_aside(data: Any, found: Collection[tuple[Key, str]]) -> tuple[Any, set[Key]]:
    """The data without what is at these keys, each with pydantic's name for its fault, and which keys are gone.

    A table or a list that is none is an empty one; a table in a list stays as an empty one, so that the others keep
    their numbers, and only one that cannot be without an entry of its own goes.
    """
    data, gone = deepcopy(data), set[Key]()
    lost: list[Key] = []
    for key, kind in found:
        if key[0] in WHOLE and len(key) > 2:
            key, kind = key[:2], ""
        if kind == "missing" and isinstance(key[-1], str):
            gone.add(key)
            lost.append(key[:-1])
            continue
        empty = EMPTY_FORMS.get(kind)
        while len(key) > 1 and isinstance(key[-1], int) and empty is None and not _is_table(data, key):
            key = key[:-1]  # a list of values is one entry
        gone.add(key)
        holder = held_at(data, key[:-1])
        if empty is not None or isinstance(key[-1], int) or key[:-1] == ("fitments",):
            _put(holder, key[-1], (empty or dict)())
        elif isinstance(holder, dict):
            holder.pop(key[-1], None)
    for key in sorted(set(lost), key=str, reverse=True):
        holder = held_at(data, key[:-1])
        if isinstance(holder, list) and isinstance(key[-1], int) and key[-1] < len(holder):
            del holder[key[-1]]
    return data, gone


def meant(model: type[Table], near: str, value: Any, table: Key) -> Iterator[Key]:
    """The entries that a slip of the pen was to make: `near` is the name meant in `table`, `value` what it holds."""
    key = (*table, near)
    info = entries(model)[near]
    inner = inner_model(info.annotation)
    if inner is None or not isinstance(value, dict) or not value or get_origin(info.annotation) is list:
        yield key
    elif get_origin(info.annotation) is dict:
        for member, one in value.items():
            yield from _within(inner, one, (*key, member))
    else:
        yield from _within(inner, value, key)


def _within(model: type[Table], value: Any, key: Key) -> Iterator[Key]:
    if not isinstance(value, dict) or not value or not value.keys() <= entries(model).keys():
        yield key
        return
    for name, one in value.items():
        yield from meant(model, name, one, key)


def _is_table(data: Any, key: Key) -> bool:
    return isinstance(held_at(data, key), dict)


def _put(holder: Any, name: str | int, value: object) -> None:
    if has(holder, name):
        holder[name] = value
