"""The examples of the whole form in a person's file: where one stands, the entry that it is of is written in its place.

A commented line that is not the form's own is the person's, and stays: the entry comes below it.
"""

import tomllib
from collections.abc import Callable, Mapping
from functools import cache
from typing import Any

from planner.project.changes import DELETE
from planner.project.lines import Key, tokens


@cache
def form_lines() -> frozenset[str]:
    """Every line of the form that is an example or the heading of one."""
    from planner.project.starting import starting_text  # the models, which only a save into a form needs

    texts = (starting_text("", units, every) for units in ("inch", "metric") for every in (True, False))
    return frozenset(line for text in texts for line in text.splitlines() if line[:1] == "#" and line[:2] != "# ")


def in_its_place(body: str, name: str, line: str) -> str | None:
    """The entries below a heading with one more where its commented example stands; None where there is none."""
    rows = body.splitlines(keepends=True)
    for kind, _, number in tokens(body):
        row = rows[number - 1]
        if kind == "comment" and row.lstrip().startswith("#") and _example_of(row.lstrip()[1:]) == name:
            ours = row.strip() in form_lines()
            about = row.rstrip("\n").rpartition("  # ")[2] if ours and "  # " in row else ""
            written = f"{line.rstrip():<44}  # {about}\n" if about else line
            placed = "".join([*rows[: number - 1], *([written] if ours else [row, line]), *rows[number:]])
            if name in _read(placed):  # and not within a list over several lines
                return placed
    return None


def _example_of(row: str) -> str:
    """The key that a line without its # would give; empty where it would be no entry."""
    if row[:1].isspace() or "=" not in row:
        return ""
    found = _read(row)
    return next(iter(found)) if len(found) == 1 else ""


def _read(text: str) -> dict[str, Any]:
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        return {}


def with_headings(text: str, data: dict[str, Any], changes: Mapping[Key, object], spelled: Callable[[Key], str]) -> str:
    """The text with the form's own headings of tables that these changes begin; `spelled` writes a key with dots."""
    for key, value in changes.items():
        table = key if isinstance(value, Mapping) else key[:-1]
        listed = bool(table) and table[-1] == 0
        path = table[:-1] if listed else table
        if value is DELETE or not path or not all(isinstance(name, str) for name in path) or _there(data, path):
            continue
        heading = f"[[{spelled(path)}]]" if listed else f"[{spelled(path)}]"
        rows = text.split("\n")
        if f"#{heading}" in rows and f"#{heading}" in form_lines():
            rows[rows.index(f"#{heading}")] = heading
            text = "\n".join(rows)
    return text


def _there(data: Any, path: Key) -> bool:
    for name in path:
        if not isinstance(data, dict) or name not in data:
            return False
        data = data[name]
    return bool(data) or data == {}
