"""The names of obstacles of which something moved: kept with an entry of the diary, since a place in a list shifts."""

from collections.abc import Iterable, Mapping
from typing import Any

from planner.project.changes import rows_at
from planner.project.diary_entries import KeyChange
from planner.project.faults import as_key
from planner.project.lines import Key
from planner.quantities.text import normal_name

OBSTACLES = "obstacles"


def obstacle_names(moved: Iterable[KeyChange], old: Any, new: Any) -> dict[str, str]:
    """By its number in the list, the name of each obstacle that moved, where it can be no other's before or after."""
    numbers = {one.key[1] for one in moved if one.key[0] == OBSTACLES and len(one.key) > 1}
    lists = [_names(old), _names(new)]
    found: dict[str, str] = {}
    for number in sorted(one for one in numbers if isinstance(one, int)):
        there = [names for names in lists if number < len(names)]
        called = {names[number] for names in there}
        name = next(iter(called)) if len(called) == 1 else ""
        if name and all(names.count(name) == 1 for names in there):
            found[str(number)] = name
    return found


def told_key(key: Key, names: object) -> str:
    """A key with the obstacle's name in the place of its number, where that is known: `obstacles."spring pack".at`."""
    name = names.get(str(key[1])) if isinstance(names, Mapping) and len(key) > 1 and key[0] == OBSTACLES else None
    return as_key((OBSTACLES, name, *key[2:])) if isinstance(name, str) else as_key(key)


def _names(data: Any) -> list[str]:
    names = [row.get("name") for row in rows_at(data, (OBSTACLES,))]
    return [normal_name(name) if isinstance(name, str) else "" for name in names]
