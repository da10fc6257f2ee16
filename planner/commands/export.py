"""`planner export FILE`: figures, flags, tasks, parts and readings for a spreadsheet, one CSV file each."""

import os
from argparse import Namespace
from contextlib import suppress
from datetime import date
from pathlib import Path

from planner.commands.export_tables import TABLES, ExportedProject
from planner.commands.table import FINE, WRONG, faults_told, project_parser, wrong
from planner.plan.answers.flagging import flags
from planner.plan.answers.open_project import open_project
from planner.plan.revisit.plan_flags import all_flags
from planner.plan.truck.project import OpenProject
from planner.plan.work.schedule_error import ScheduleError, as_fault
from planner.plan.work.task_list import work
from planner.project.csv_tables import csv_bytes, whose
from planner.project.faults import Faulty, as_line, why
from planner.project.own_files import OddFile, put_in_place, standing_file
from planner.project.reading import raise_faults
from planner.project.saving import clear_left, fresh_name, put_file, synced
from planner.quantities.text import clean
from planner.sheets.kind import CannotPrint
from planner.sheets.printing import moment

LARGEST = 32 * 1024**2  # bytes, of a file that is looked at before it is replaced
EXAMPLE = """example:
  planner export truck.toml               into truck-export/ beside it
  planner export truck.toml -o tables

Writes figures.csv, flags.csv, tasks.csv, parts.csv and readings.csv, as UTF-8. A
column of numbers has its unit in the column 'unit', one for each kind of value and
in your own system; planner check FILE --json has them in SI. Text that a
spreadsheet would take for a formula gets a ' in front. planner import reads
readings.csv back.

It only replaces its own files, and none that you changed since."""


class CannotExport(Exception):
    """Nothing is written; the message is one plain line."""


def run(arguments: list[str]) -> int:
    parser = project_parser("planner export", __doc__, EXAMPLE)
    parser.add_argument("-o", "--output", type=Path, metavar="FOLDER", help="where to; made if it isn't there")
    asked = parser.parse_args(arguments)
    try:
        return _export(asked)
    except Faulty as faulty:
        return faults_told(faulty)
    except (CannotExport, CannotPrint) as trouble:
        wrong(f"planner export: {trouble}")
    return WRONG


def _export(asked: Namespace) -> int:
    at = moment()
    opened = open_project(asked.file, at.date() if at else date.today())
    raise_faults(opened.opened)  # a table of half a truck would look like a whole one
    found = all_flags(opened, flags(opened, worded=True))
    try:
        exported = ExportedProject(opened, found, work(opened, found))
    except ScheduleError as stuck:
        wrong(as_line(asked.file, as_fault(opened, stuck)))
        return WRONG
    tables = {f"{name}.csv": [*table.rows(exported)] for name, table in TABLES.items()}
    raw = {f"{name}.csv": csv_bytes(table.heads, tables[f"{name}.csv"]) for name, table in TABLES.items()}
    folder = asked.output if asked.output is not None else _beside(opened)
    _put(folder, raw, opened.opened.source.path)
    for name, rows in tables.items():
        print(f"{clean(str(folder / name))}: {len(rows)} row{'s' * (len(rows) != 1)}")
    return FINE


def _beside(opened: OpenProject) -> Path:
    project = opened.opened.source.path
    return project.with_name(f"{project.name.removesuffix('.toml')}-export")


def _put(folder: Path, files: dict[str, bytes], project: Path) -> None:
    """All of the files in the folder, each whole; none where one of them may not be replaced."""
    made = False
    try:
        target = Path(os.path.realpath(folder.parent)) / folder.name
        if target.is_symlink():
            raise CannotExport(f"{clean(str(folder))}: there's a link there: name the folder that it leads to")
        if not target.exists():
            target.mkdir()
            made = True
        if not target.is_dir():
            raise CannotExport(f"{clean(str(folder))}: that isn't a folder: choose another name")
        # Whoever may read the project may read what stands beside it.
        _put_all(target, folder, files, os.stat(project) if project.parent == target.parent else None)
    except ValueError:  # a NUL in the name
        raise CannotExport("that won't work as a file name") from None
    except OSError as error:
        raise CannotExport(f"{clean(str(folder))}: can't be written: {why(error)}") from None
    finally:
        if made:
            with suppress(OSError):  # something stands in it
                target.rmdir()


def _put_all(target: Path, folder: Path, files: dict[str, bytes], like: os.stat_result | None) -> None:
    old = {name: _replaceable(target / name, folder / name) for name in files}
    fresh: dict[str, Path] = {}
    try:
        for name, raw in files.items():
            clear_left(target / name, age=60)
            fresh[name] = fresh_name(target / name)
            put_file(fresh[name], raw, old[name] or like)
        for name in files:
            put_in_place(fresh[name], target / name, old[name])
    finally:
        for path in fresh.values():
            with suppress(OSError):
                os.unlink(path)
    synced(target)


def _replaceable(path: Path, named: Path) -> os.stat_result | None:
    """The file of ours that stands there, None where nothing does; raises `CannotExport` for any other."""
    told = clean(str(named))
    try:
        found = standing_file(path, LARGEST)
    except OddFile as odd:
        raise CannotExport(
            f"{told}: that is {odd.what}; nothing is exported: remove it, or use another folder"
        ) from None
    if found is None:
        return None
    is_ = whose(found.raw) if len(found.raw) <= LARGEST else "another"
    if is_ == "another":
        raise CannotExport(f"{told}: another file is there; nothing is exported: move it, or use another folder")
    if is_ == "changed":
        raise CannotExport(
            f"{told}: it was changed since it was exported; nothing is exported: move it, or use another folder"
        )
    return found.status
