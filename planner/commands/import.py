"""`planner import FILE readings.csv`: readings from a table, checked against what's there; `--apply` writes them."""

from argparse import Namespace
from pathlib import Path
from typing import Any

from planner.commands.change import made_number, touched
from planner.commands.page import as_json, columns, ink, paragraph
from planner.commands.recorded import carried_out, on_newest, refuse_moved
from planner.commands.table import FINE, RAISED, project_parser
from planner.plan.answers.open_project import open_project
from planner.plan.change.changing import TriedChange, make, try_with_readings
from planner.plan.change.importing import HeldRow, HeldTable, Outcome, held_table
from planner.plan.change.refused_over_stops import refuse_over_stops
from planner.plan.truck.project import OpenProject
from planner.plan.truck.reading_words import value_words
from planner.plan.truck.recording import RefusedChange
from planner.plan.truck.wording import count
from planner.project.diary import Committed
from planner.project.faults import Fault, Faulty, as_key, plain, why
from planner.project.lines import Key
from planner.project.source import read_bytes
from planner.quantities.text import clean

EXAMPLE = """examples:
  planner import truck.toml readings.csv
  planner import truck.toml readings.csv --apply --because "second evening"

The top row has any of these headings: entry (or name), key, value, side, by, on,
how, tool. An entry goes by the name that the screens show, or by its key; an obstacle
by 'front spring pack's position' or, a new one, 'obstacle: front spring pack'. A
value is written as anywhere: 5 1/2 in, 24 in ± 1/8 in. A row without a value is left
out. Commas, semicolons or tabs separate the cells; UTF-8, or UTF-16 with its mark.

  entry,value,side,by,on
  rear brake radius,7 1/8 in ± 1/16 in,,owner,2026-11-20

A value that differs is written next to the one there as a second reading, never over
it: all count until you say which. To set an entry, use planner change. If any row
is wrong nothing is written, and each bad row is listed.

exit code: 0 no flag comes up, 1 one does, 2 a file or the command is wrong"""

HEADINGS: dict[Outcome, str] = {
    "contradicts": "Contradicts what is there: both are kept, and both count until you say which",
    "agrees": "Read again, and agrees",
    "new": "New",
    "completed": "There already: now with who, when or how",
    "twice": "In the table twice, taken once; if it was read twice, say who or how",
    "same": "Already there",
}
FEW = 12  # rows that are the same, of which the first are listed without --all
WIDE = 38


def run(arguments: list[str]) -> int:
    parser = project_parser("planner import", __doc__, EXAMPLE)
    parser.add_argument("table", type=Path, metavar="READINGS", help="the table of readings, a CSV file")
    parser.add_argument("--because", default="", metavar="WHY", help="the reason, kept in the diary")
    parser.add_argument("--apply", action="store_true", help="write them down, in the file and in its diary")
    parser.add_argument("--all", action="store_true", help="list every row, and what changes within its tolerance")
    parser.add_argument("--json", action="store_true", help="print one JSON object")
    asked = parser.parse_args(arguments)
    return carried_out("planner import", lambda: _answer(asked))


def _answer(asked: Namespace) -> int:
    if asked.file.suffix.lower() == ".csv":
        raise RefusedChange("the project comes first: planner import truck.toml readings.csv")
    opened = open_project(asked.file)
    raw = _read(asked.table)
    seen: list[object] = []

    def tried(now: OpenProject) -> tuple[HeldTable, TriedChange | None, Committed | None]:
        held = held_table(now, asked.table, raw)
        if not held.changes:
            return held, None, None
        trial = _tried(now, held, asked.table)
        if not asked.apply:
            refuse_over_stops(trial.before, trial.after)
            return held, trial, None
        refuse_moved(seen, [one[1:] for one in held.rows], f"an entry of {plain(asked.table.name)}")
        return held, trial, make(trial, asked.because or f"from {plain(asked.table.name)}")

    held, trial, done = on_newest(opened, tried) if asked.apply else tried(opened)
    number = (
        made_number(done, trial.comments_lost, "planner import") if done is not None and trial is not None else None
    )
    if asked.json:
        print(as_json(_data(held, trial, number)))
    else:
        print("\n".join(_page(opened, asked, held, trial, number)))
    return RAISED if trial is not None and trial.effects.up else FINE


def _read(path: Path) -> bytes:
    try:
        return read_bytes(path)
    except OSError as error:
        raise Faulty(path, (Fault(f"cannot be read: {why(error)}"),)) from None


def _tried(opened: OpenProject, held: HeldTable, table: Path) -> TriedChange:
    """What comes of the readings; what is wrong with them together is told by their lines in the table."""
    try:
        return try_with_readings(opened, held.changes)._replace(typed=held.typed)
    except Faulty as faulty:
        told = [(fault, _line(fault, held)) for fault in faulty.faults]
        own = tuple(fault._replace(line=line) for fault, line in told if line is not None)
        if not own:
            raise
        raise Faulty(table, own) from None


def _line(fault: Fault, held: HeldTable) -> int | None:
    """The line of the row behind a fault in the project as it would be."""
    every: list[Key] = [fault.key, *fault.against]
    return next((line for key in every for own, line in held.lines.items() if key[: len(own)] == own), None)


def _page(
    opened: OpenProject, asked: Namespace, held: HeldTable, trial: TriedChange | None, number: int | None
) -> list[str]:
    truck = clean(opened.project.vehicle.name or "A truck without a name")
    stands = "nothing new" if trial is None else "made" if number is not None else "tried, not made"
    blank = f"; {count(held.blank, 'row has', 'rows have')} no value" if held.blank else ""
    lines = [ink(f"{truck}: {stands}", "strong"), ""]
    lines += [*paragraph(f"{clean(str(asked.table))}: {count(len(held.rows), 'reading')}{blank}"), ""]
    for outcome, heading in HEADINGS.items():
        lines += _listed(heading, [one for one in held.rows if one.outcome == outcome], asked.all)
    if trial is None:
        none = not held.rows
        return [*lines, "There's nothing in it." if none else "Nothing is written: the file already says all of it."]
    return lines[:-1] + touched(trial, number, everything=asked.all)


def _listed(heading: str, rows: list[HeldRow], everything: bool) -> list[str]:
    if not rows:
        return []
    short = rows[0].outcome == "same" and not everything and len(rows) > FEW
    lines = [ink(line, "strong") for line in paragraph(f"{heading} ({len(rows)})")]
    lines += columns([_told(one) for one in ([] if short else rows)], most=WIDE)
    return [*lines, *(["  --all lists them"] if short else []), ""]


def _told(one: HeldRow) -> tuple[str, str]:
    row = one.row
    who = ", ".join(clean(str(said)) for said in row.said.values())
    told = value_words(row.value) + (f", {row.side}" if row.side else "") + (f" ({who})" if who else "")
    there = f"; there: {clean(one.against)}" if one.outcome in ("contradicts", "agrees") else ""
    return clean(row.called), f"{told}{there}" + (f"; {one.against}" if one.outcome == "twice" else "")


def _data(held: HeldTable, trial: TriedChange | None, number: int | None) -> dict[str, Any]:
    from planner.commands.change_data import as_data

    rows = [
        {
            "line": one.row.line,
            "entry": one.row.called,
            "key": as_key(one.row.key),
            "value": value_words(one.row.value),
            "side": one.row.side,
            "outcome": one.outcome,
            "against": one.against or None,
        }
        for one in held.rows
    ]
    told = {"made": False, "diary": None} if trial is None else as_data(trial, number)
    return {"readings": rows, "without_value": held.blank, **told}
