"""Rows of a table of readings, understood: of which entry, what was read, by whom; each bad row told by its line."""

import re
from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import Any, NamedTuple, get_args, get_origin

from planner.plan.change.new_by_name import by_name
from planner.plan.change.typed_tolerances import typed_over
from planner.plan.truck.entry_names import name_of, said
from planner.plan.truck.forms import element_kind, note_at
from planner.plan.truck.keys import BadValue, FoundKey, UnknownKey, entries_by_name, find_key, key_at, value_as_data
from planner.plan.truck.recording import RefusedChange
from planner.project.changes import DELETE, changed
from planner.project.csv_tables import CsvRow, read_csv
from planner.project.faults import Fault, as_key, plain
from planner.project.lines import Key
from planner.project.migrating import amend_or_rewrite
from planner.project.model_faults import model_fault
from planner.project.reading import Opened, understand
from planner.project.sides import SIDES, has_sides
from planner.project.source import parse
from planner.project.starting import example_at
from planner.project.truck_keys import TruckKey, faults_in, truck_key
from planner.project.which_counts import MEASURED, read_as_entry
from planner.quantities.show import Style
from planner.quantities.unreadable import Accepted

HEADS = {name: name for name in ("entry", "name", "key", "value", "side", "by", "on", "how", "tool")} | {
    "name": "entry"
}
REQUIRED = (("value",), ("entry", "key"))
SAID = ("by", "on", "how", "tool")  # who took a reading, when, how and with what
_HINTED = 12  # unknown names for which the nearest are looked up: it takes a while for each
_ACCEPTED = "a single entry of the truck or of a fitment, such as rear brake radius or axles.front.face_to_face"

# Where semicolons part the cells a comma is mostly the decimal mark, and 7,125 in may be seven or seven thousand.
_THOUSANDS_OR_DECIMALS = re.compile(r"(?<![\d.,])(\d{1,3}),(\d{3})(?![\d.,])")


class ImportedRow(NamedTuple):
    """One row as it was understood: `data` is what goes into the file, `value` what it reads there."""

    line: int
    called: str
    key: Key
    standing: Any
    data: Any
    value: Any
    stated: bool
    side: str | None
    said: Mapping[str, Any]
    typed: tuple[str, ...] = ()


class ImportedTable(NamedTuple):
    """All rows that read something, the obstacles that they begin, how many rows have no value, and all bad ones."""

    rows: tuple[ImportedRow, ...]
    begun: Mapping[Key, Mapping[str, str]]
    opened: Opened  # with those obstacles in it
    blank: int
    faults: tuple[Fault, ...]


def imported_rows(opened: Opened, style: Style, path: Path, raw: bytes) -> ImportedTable:
    """The rows of a table, and what is wrong with each bad one, with an example of its entry; raises `Faulty` where it
    is no such table.
    """
    table = read_csv(path, raw, HEADS, REQUIRED)
    faults = [row.fault for row in table if row.fault is not None]
    sound = [row for row in table if row.fault is None and row.cells.get("value")]
    begun = _begun(opened, sound)
    if begun:
        text, _ = amend_or_rewrite(opened.source.text, dict(begun))
        opened = understand(parse(opened.source.path, text.encode("utf-8")))
    reader = _RowReader(opened, style)
    found: list[ImportedRow] = []
    for row in sound:
        try:
            found.append(reader.read(row))
        except BadRow as bad:
            faults.append(bad.fault._replace(line=row.line))
    blank = sum(row.fault is None and not row.cells.get("value") for row in table)
    return ImportedTable(tuple(found), begun, opened, blank, tuple(faults))


class BadRow(ValueError):
    """A row of which nothing can be made."""

    def __init__(self, fault: Fault) -> None:
        super().__init__(fault.message)
        self.fault = fault


def _begun(opened: Opened, rows: Sequence[CsvRow]) -> dict[Key, Mapping[str, str]]:
    """The obstacles that rows begin: `obstacle: rear spring pack`, which there is none of yet."""
    begun: dict[Key, Mapping[str, str]] = {}
    data = opened.data
    for row in rows:
        written = row.cells.get("key") or row.cells.get("entry", "")
        if written.partition(":")[0].strip().casefold() != "obstacle":
            continue
        try:
            named = by_name(data, written)
        except RefusedChange:  # told where the row is read
            continue
        if named.begins:
            at: Key = ("obstacles", len(data.get("obstacles", ())))
            begun[at] = named.begins
            data = changed(data, {at: dict(named.begins)})
    return begun


class _RowReader:
    """Reads rows one after the other, with what they share looked up once."""

    def __init__(self, opened: Opened, style: Style) -> None:
        self.opened, self.style = opened, style
        self.named = entries_by_name(opened)
        self.unknown = 0

    def read(self, row: CsvRow) -> ImportedRow:
        """The row as it is understood; raises `BadRow`."""
        found, entry = self._entry(row)
        called = name_of(found.key, self.opened.data) or as_key(found.key)
        side, said_ = self._side(row, found, called), dict(self._said(row, called))
        data, typed = self._data(row.cells["value"], found, entry, called)
        meant = _THOUSANDS_OR_DECIMALS.search(row.cells["value"]) if row.apart == ";" else None
        if meant is not None and row.cells["value"] != found.value:
            accepted = f"{meant[1]}.{meant[2]} or {meant[1]}{meant[2]}, whichever it was"
            raise BadRow(Fault(f"{called}: thousands or decimals", read=meant[0], accepted=accepted))
        value = read_as_entry(entry, data, self.opened.assumes)
        stated = all(getattr(one, "stated", True) for one in (value if isinstance(value, tuple) else (value,)))
        return ImportedRow(row.line, called, found.key, found.value, data, value, stated, side, said_, typed)

    def _entry(self, row: CsvRow) -> tuple[FoundKey, TruckKey]:
        key, called = row.cells.get("key", ""), row.cells.get("entry", "")
        if not key and not called:
            raise BadRow(Fault("it doesn't say what was read", accepted=_ACCEPTED))
        found = self._found(key or called)
        if key and called and said(called) != said(name_of(found.key, self.opened.data)):
            other = self._found(called)
            if other.key != found.key:
                told = f"the key and the name mean two entries: {as_key(found.key)} and {as_key(other.key)}"
                raise BadRow(Fault(told, accepted="one of the two, or both of one entry"))
        written = as_key(found.key)
        entry = truck_key(self.opened.project, written, MEASURED)
        if entry is None:
            raise BadRow(Fault("this entry can't be measured", read=written, accepted=_ACCEPTED))
        kind = found.wants.kind or element_kind(found.wants)
        if kind is None or (kind.form == "text" and note_at(found.key).name == ""):  # a name, and what is chosen
            raise BadRow(Fault(f"{written} isn't measured", accepted=f"set it: planner change FILE {written}=…"))
        if found.key[0] == "fitments" and found.key[1] not in ("found", *self.opened.project.fitments):
            known = " or ".join(map(plain, dict.fromkeys(("found", *self.opened.project.fitments))))
            raise BadRow(Fault("there's no such set of tires and wheels", read=str(found.key[1]), accepted=known))
        return found, entry

    def _found(self, text: str) -> FoundKey:
        try:
            written = by_name(self.opened.data, text).key
            found = key_at(self.opened, written) or self.named.get(said(written))
            if found is None and self.unknown < _HINTED:
                self.unknown += 1
                found = find_key(self.opened, written)
        except (RefusedChange, UnknownKey) as unknown:
            raise BadRow(Fault(str(unknown))) from None
        if found is None:
            raise BadRow(Fault(f"{plain(text)}: there's no such key"))
        return found

    def _data(self, text: str, found: FoundKey, entry: TruckKey, called: str) -> tuple[Any, tuple[str, ...]]:
        """The value as it goes into the file; raises `BadRow` with an example of that very entry."""
        try:
            data = value_as_data(text, found.wants, found.value)
            if data is DELETE:
                raise BadValue("read nothing")
            typed = typed_over(found, data, self.style)
        except (BadValue, RefusedChange) as misgiven:
            told = str(misgiven).removeprefix(f"{as_key(found.key)}: ")
            raise BadRow(Fault(f"{called}: {told}")) from None
        several = get_args(found.wants.type) if get_origin(found.wants.type) is tuple else ()
        if several and isinstance(typed.data, list) and len(typed.data) != len(several):
            accepted = self._example(found, f"{len(several)} with commas between")
            raise BadRow(Fault(f"{called}: {len(typed.data)} values", read=text, accepted=accepted))
        error = next(faults_in(entry, typed.data), None)
        if error is not None:
            fault = model_fault(error)
            accepted = self._example(found, fault.accepted)
            raise BadRow(fault._replace(key=(), message=f"{called}: {fault.message}", accepted=accepted))
        return typed.data, tuple(f"{called}: {one}" for one in typed.says)

    def _example(self, found: FoundKey, accepted: str) -> str:
        """What is accepted there, with an example of that very entry in the person's own units."""
        example = example_at(found.key, self.style.system)
        told = ", ".join(map(str, example)) if isinstance(example, list) else str(example)
        if not told:
            return accepted
        if isinstance(accepted, Accepted):
            return accepted.with_example(told)
        return f"{accepted}, such as {told}" if accepted else f"such as {told}"

    def _side(self, row: CsvRow, found: FoundKey, called: str) -> str | None:
        side = row.cells.get("side", "").casefold()
        if not side:
            return None
        if side not in SIDES:
            raise BadRow(Fault(f"{called}: side", read=side, accepted=f"{' or '.join(SIDES)}, or nothing"))
        if not has_sides(found.key):
            accepted = "no side: an obstacle says its own" if found.key[0] == "obstacles" else "no side"
            raise BadRow(Fault(f"{called} has no sides", read=side, accepted=accepted))
        return side

    def _said(self, row: CsvRow, called: str) -> Iterator[tuple[str, Any]]:
        for name in SAID:
            text = row.cells.get(name, "")
            if text:
                yield name, _day(text, called) if name == "on" else text


def _day(text: str, called: str) -> date:
    """A date, also as a spreadsheet rewrites it, where no other can be meant: 11/25/2026, 25.11.2026."""
    apart = next((mark for mark in "-/." if text.count(mark) == 2), "-")
    numbers = [int(one) if one.isdecimal() and len(one) < 5 else 0 for one in text.split(apart)]
    if len(numbers) != 3:
        numbers = [0, 0, 0]
    first, second, last = numbers
    orders = [(first, second, last)] if first > 31 else [(last, second, first)]
    if apart == "/" and first <= 31:
        orders.append((last, first, second))
    days: set[date] = set()
    for year, month, day in orders:
        if year > 999:
            try:
                days.add(date(year, month, day))
            except ValueError:
                continue
    if len(days) != 1:
        told = " or ".join(day.isoformat() for day in sorted(days))
        accepted = f"{told}, whichever it was" if told else "a date such as 2026-11-25"
        raise BadRow(Fault(f"{called}: on", read=text, accepted=accepted))
    return days.pop()
