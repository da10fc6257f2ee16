"""Names that a person gives and refers to: two that look alike are a fault, one written otherwise is the one there."""

from collections.abc import Iterator
from typing import Any

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
        yield from _alike([((*table, name), name) for name in _table(source.data, table)], source)
    for name, own in LISTS.items():
        rows = enumerate(_rows(source.data, name))
        yield from _alike([((name, at, own), row[own]) for at, row in rows if isinstance(row.get(own), str)], source)


def _alike(named: list[tuple[Key, str]], source: ProjectText) -> Iterator[Fault]:
    first: dict[str, Key] = {}
    for key, name in named:
        other = first.setdefault(normal_name(name), key)
        if other != key:
            said = f"this name is given twice, and first on line {line_of(source.lines, other)}"
            yield Fault(
                said, key, None, name, "a name of its own, in more than spaces and how its letters are composed"
            )


def with_names_found(data: dict[str, Any]) -> dict[str, Any]:
    """The data with each name as it is spelled where it is given; an id of a task or a part in its plain form."""
    fitments = list(_table(data, ("fitments",)))
    found = dict(data)
    plan = data.get("plan")
    if isinstance(plan, dict) and isinstance(plan.get("chosen"), str):
        found["plan"] = plan | {"chosen": name_among(fitments, plan["chosen"]) or plan["chosen"]}
    for name, own in LISTS.items():
        if isinstance(data.get(name), list):
            found[name] = [_found(row, own, REFERENCES[name], fitments) for row in data[name]]
    return found


def _found(row: Any, own: str, others: str, fitments: list[str]) -> Any:
    if not isinstance(row, dict):
        return row
    found = dict(row)
    if isinstance(row.get(own), str):
        found[own] = normal_name(row[own])
    if isinstance(row.get(others), list):
        found[others] = [
            (name_among(fitments, one) or normal_name(one)) if isinstance(one, str) else one for one in row[others]
        ]
    return found


def _table(data: Any, key: Key) -> dict[str, Any]:
    for name in key:
        data = data.get(name) if isinstance(data, dict) else None
    return data if isinstance(data, dict) else {}


def _rows(data: dict[str, Any], name: str) -> list[dict[str, Any]]:
    listed = data.get(name)
    return [row if isinstance(row, dict) else {} for row in listed] if isinstance(listed, list) else []
