"""Readings from a table held against what the project has, and the changes that write down what is new in them."""

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any, Literal, NamedTuple

from planner.plan.change.imported_rows import SAID, ImportedRow, ImportedTable, imported_rows
from planner.plan.change.with_readings import as_reading
from planner.plan.truck.project import OpenProject
from planner.plan.truck.reading_words import value_words
from planner.project.faults import Fault, Faulty, as_key
from planner.project.lines import Key
from planner.project.models.measurements import Reading
from planner.project.models.project import Project
from planner.project.reading import raise_faults
from planner.project.truck_keys import truck_key, value_at
from planner.project.which_counts import MEASURED, combined, differ, readings_without_value
from planner.quantities.quantity import Quantity
from planner.quantities.text import clean, same_name

Outcome = Literal["new", "agrees", "contradicts", "completed", "same", "twice"]
MADE: tuple[Outcome, ...] = ("new", "agrees", "contradicts", "completed")


class HeldRow(NamedTuple):
    """A row with what it is to the project: `against` is the reading that it was held against, as it is written."""

    row: ImportedRow
    outcome: Outcome
    against: str = ""


class HeldTable(NamedTuple):
    """All rows, what is written of them, and by its key in the changes the line of the row behind it."""

    rows: tuple[HeldRow, ...]
    changes: dict[Key, object]
    lines: Mapping[Key, int]
    blank: int

    @property
    def typed(self) -> tuple[str, ...]:
        """What is said of tolerances and units that nobody gave, of the rows that are written."""
        return tuple(said for one in self.rows if one.outcome in MADE for said in one.row.typed)


class _Known(NamedTuple):
    """What there is of an entry: its value with no reading behind it, a reading of the file, or a row above.

    `at` is the reading's place in the file, also of one that says who measured it and not what was read.
    """

    value: Any
    side: str | None
    said: Mapping[str, Any]
    text: str
    at: int | None = None
    line: int | None = None


def held_table(opened: OpenProject, path: Path, raw: bytes) -> HeldTable:
    """The readings of a table against the project; raises `Faulty` with every bad row, or with the project's faults."""
    raise_faults(opened.opened)
    table = imported_rows(opened.opened, opened.style, path, raw)
    faults = list(table.faults)
    held: list[HeldRow] = []
    by_key: dict[Key, list[HeldRow]] = {}
    known: dict[Key, list[_Known]] = {}
    claimed: set[tuple[Key, int]] = set()
    kept: dict[int, _Known] = {}
    bare = dict(readings_without_value(opened.project))
    for row in table.rows:
        there = known.setdefault(row.key, list(_known(opened, row.key, bare)))
        one, same = _held(row, there, claimed)
        if one.outcome == "contradicts" and _cannot_be_two(row, there):
            told = f"{row.called}: the project has '{clean(one.against)}', and a count can't be both"
            accepted = f"the same, or set it: planner change FILE {as_key(row.key)}=…"
            faults.append(Fault(told, line=row.line, read=str(row.data), accepted=accepted))
        if same is not None:
            kept[row.line] = same
        elif one.outcome != "twice":
            text = value_words(row.value)
            there.append(_Known(row.value, row.side, row.said, f"{text} on line {row.line}", line=row.line))
            claimed.add((row.key, len(there) - 1))
        held.append(one)
        by_key.setdefault(row.key, []).append(one)
    if faults:
        raise Faulty(path, tuple(sorted(faults, key=lambda fault: fault.line or 0)))
    changes, lines = _changes(opened, table, by_key, kept)
    return HeldTable(tuple(held), changes, lines, table.blank)


def _known(opened: OpenProject, key: Key, bare: Mapping[Key, Reading]) -> Iterator[_Known]:
    counted = opened.opened.counted.get(key)
    if counted is not None:
        for one in counted.readings:
            yield _Known(one.value, one.reading.side, _said(one.reading), value_words(one.value), one.at)
        return
    value = value_at(opened.project, key)
    if value is not None:
        who = bare.get(key)
        at = next((at for at, one in enumerate(opened.project.readings) if one is who), None)
        yield _Known(value, None, _said(who) if who is not None else {}, value_words(value), at)


def _said(reading: Reading) -> dict[str, Any]:
    return {name: value for name in SAID if (value := getattr(reading, name)) is not None}


def _held(row: ImportedRow, there: Sequence[_Known], claimed: set[tuple[Key, int]]) -> tuple[HeldRow, _Known | None]:
    """What a row is to what there is, and which of that it is itself."""
    fits = [(_alike(row, one), at) for at, one in enumerate(there) if _is_same(row, one)]
    free = [(alike, -at) for alike, at in fits if (row.key, at) not in claimed]
    if free:
        at = -max(free)[1]
        claimed.add((row.key, at))
        same = there[at]
        more = any(name not in same.said for name in row.said)
        return HeldRow(row, "completed" if more else "same", same.text), same
    again = next((there[at] for _, at in fits if row.said.keys() <= there[at].said.keys()), None)
    if again is not None:
        return HeldRow(row, "twice", again.text if again.line is None else f"line {again.line}"), None
    if not there:
        return HeldRow(row, "new"), None
    near = [one for one in there if row.side == one.side or None in (row.side, one.side)]
    apart = next((one for one in near if differ(row.value, one.value)), None)
    if apart is not None:
        return HeldRow(row, "contradicts", apart.text), None
    return HeldRow(row, "agrees" if near else "new", near[0].text if near else ""), None


def _is_same(row: ImportedRow, one: _Known) -> bool:
    """Whether a row is that reading: the same value on the same side, and nothing that both say differs."""
    if row.side != one.side or not (row.value == one.value or (not row.stated and _same_middle(row.value, one.value))):
        return False
    return all(_same_said(row.said[name], one.said[name]) for name in SAID if name in row.said and name in one.said)


def _same_middle(value: Any, other: Any) -> bool:
    """Whether two values are alike but for their tolerances."""
    if isinstance(value, Quantity) and isinstance(other, Quantity):
        return value.value == other.value
    if isinstance(value, tuple) and isinstance(other, tuple) and len(value) == len(other):
        return all(map(_same_middle, value, other))
    return bool(value == other)


def _alike(row: ImportedRow, one: _Known) -> int:
    """How many of who, when, how and with what are said alike, or by neither."""
    pairs = ((row.said.get(name), one.said.get(name)) for name in SAID)
    return sum(
        mine is None and its is None or mine is not None and its is not None and _same_said(mine, its)
        for mine, its in pairs
    )


def _same_said(one: Any, other: Any) -> bool:
    return (
        same_name(clean(one), clean(other)) if isinstance(one, str) and isinstance(other, str) else bool(one == other)
    )


def _cannot_be_two(row: ImportedRow, there: Sequence[_Known]) -> bool:
    """Whether readings that differ cannot be taken together: what is counted or named, and not measured."""
    return combined([row.value, *(one.value for one in there)], "worse") is None


def _changes(
    opened: OpenProject, table: ImportedTable, by_key: Mapping[Key, Sequence[HeldRow]], kept: Mapping[int, _Known]
) -> tuple[dict[Key, object], dict[Key, int]]:
    """What is written: an entry that is new, and a reading for each row that says more than the entry has."""
    changes: dict[Key, object] = {at: dict(begins) for at, begins in table.begun.items()}
    lines: dict[Key, int] = {}
    readings = opened.opened.data.get("readings", [])
    new: list[dict[str, object]] = []

    def add(row: ImportedRow) -> None:
        lines["readings", len(readings) + len(new)] = row.line
        side = {"side": row.side} if row.side else {}
        new.append({"of": _of(table.opened.project, row.key), "value": row.data, **side, **row.said})

    for key, each in by_key.items():
        made = [one.row for one in each if one.outcome in ("new", "agrees", "contradicts")]
        bare = key not in opened.opened.counted
        if len(made) == 1 and each[0].outcome == "new" and len(each) == 1 and made[0].side is None:
            _enter(changes, key, made[0])
            lines[key] = made[0].line
            made = made if made[0].said else []
        elif made and bare and made[0].standing is not None:
            for at, reading in as_reading(key, made[0].standing, readings, len(new)).items():
                if len(at) == 2:
                    new.append({**reading, "of": _of(table.opened.project, key)})  # type: ignore[dict-item]
                else:
                    changes[at] = reading
        for row in made:
            add(row)
        for one in each:
            same = kept.get(one.row.line)
            if one.outcome == "completed" and same is not None:
                if same.at is None:
                    add(one.row._replace(data=one.row.standing))
                else:
                    more = {name: value for name, value in one.row.said.items() if name not in same.said}
                    changes |= {("readings", same.at, name): value for name, value in more.items()}
    changes |= {("readings", len(readings) + at): one for at, one in enumerate(new)}
    return changes, lines


def _enter(changes: dict[Key, object], key: Key, row: ImportedRow) -> None:
    """The entry itself, in the obstacle that begins with it where there is one."""
    begun = changes.get(key[:2])
    if isinstance(begun, dict):
        begun[str(key[2])] = row.data
    else:
        changes[key] = row.data


def _of(project: Project, key: Key) -> str:
    """The key by which a reading says what it is of: an obstacle by its name, since its number shifts."""
    if key[0] == "obstacles" and isinstance(key[1], int):
        named = as_key((key[0], project.obstacles[key[1]].name or "", *key[2:]))
        meant = truck_key(project, named, MEASURED)
        if meant is not None and meant.key == key:
            return named
    return as_key(key)
