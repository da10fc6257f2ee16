"""Names that a person gives and refers to: two that look alike are a fault, one written otherwise is the one there."""

from collections.abc import Iterator
from typing import Any

from planner.project.changes import rows_at, table_at
from planner.project.faults import Fault
from planner.project.lines import Key, line_of
from planner.project.source import ProjectText
from planner.quantities.text import name_among, normal_name

TABLES: tuple[Key, ...] = (("fitments",), ("drivetrain", "gearbox"), ("drivetrain", "transfer"))
LISTS = {"tasks": "id", "parts": "id", "changes": "name"}  # by which name each of a list is called
REFERENCES = {"parts": "used_for", "tasks": "after", "changes": "with"}  # lists of names of others


def alike_faults(source: ProjectText) -> Iterator[Fault]:
    """Every name that looks like one above it, with the lines of both."""
    for table in TABLES:
        yield from _alike([((*table, name), name) for name in table_at(source.data, table)], source)
    for name, own in LISTS.items():
        rows = enumerate(rows_at(source.data, (name,)))
        yield from _alike([((name, at, own), row[own]) for at, row in rows if isinstance(row.get(own), str)], source)


def _alike(named: list[tuple[Key, str]], source: ProjectText) -> Iterator[Fault]:
    first: dict[str, Key] = {}
    for key, name in named:
        other = first.setdefault(normal_name(name), key)
        if other != key:
            said = f"this name is given twice, and first on line {line_of(source.lines, other)}"
            accepted = "a name of its own that differs in more than spaces and how its letters are composed"
            yield Fault(said, key, None, name, accepted, (other,))


def with_names_found(data: dict[str, Any]) -> dict[str, Any]:
    """The data with each name that refers to another spelled as that is where it is given."""
    fitments = list(table_at(data, ("fitments",)))
    tasks = [row["id"] for row in rows_at(data, ("tasks",)) if isinstance(row.get("id"), str)]
    found = dict(data)
    plan = data.get("plan")
    if isinstance(plan, dict):
        found["plan"] = plan = _named(plan, ("chosen",), fitments)
        if isinstance(plan.get("stages"), list):
            changes = [row["name"] for row in rows_at(data, ("changes",)) if isinstance(row.get("name"), str)]
            found["plan"] = plan | {"stages": [_stage(row, fitments, changes) for row in plan["stages"]]}
    for name, others in REFERENCES.items():
        if isinstance(data.get(name), list):
            found[name] = [_found(row, others, [*fitments, *tasks]) for row in data[name]]
    return found


def _stage(row: Any, fitments: list[str], changes: list[str]) -> Any:
    """A stage with its fitments and changes spelled as they are where they are given."""
    if not isinstance(row, dict):
        return row
    row = _named(row, ("front", "rear", "spare"), ["found", *fitments])
    if not isinstance(row.get("changes"), list):
        return row
    named = [name_among(changes, one) or one if isinstance(one, str) else one for one in row["changes"]]
    return row | {"changes": named}


def _named(table: dict[str, Any], keys: tuple[str, ...], there: list[str]) -> dict[str, Any]:
    given = {key: table[key] for key in keys if isinstance(table.get(key), str)}
    return table | {key: name_among(there, one) or one for key, one in given.items()}


def _found(row: Any, others: str, there: list[str]) -> Any:
    if not isinstance(row, dict) or not isinstance(row.get(others), list):
        return row
    return row | {others: [_meant(one, there) if isinstance(one, str) else one for one in row[others]]}


def _meant(written: str, there: list[str]) -> str:
    """A name that nothing here has may be a task's of the standing list, and those are plain letters."""
    plain = normal_name(written)
    return name_among(there, written) or (plain if plain.isascii() else written)
