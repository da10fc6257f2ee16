"""`planner print FILE SHEET`: a numbered sheet for the garage, as PDF or as plain text."""

import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path
from threading import Event, Thread
from time import monotonic

from planner.commands import faults_first
from planner.commands.recorded import on_newest
from planner.commands.table import FINE, WRONG, faults_told, project_parser, wrong
from planner.plan.answers.open_project import open_project
from planner.plan.truck.project import OpenProject
from planner.plan.work.schedule_error import ScheduleError, as_fault
from planner.project.faults import Faulty, as_line
from planner.project.saving import NotSaved
from planner.quantities.text import clean
from planner.sheets.blocks import Sheet, not_printed
from planner.sheets.kind import Asked, CannotPrint, NothingMoved, SheetKind, kind_named, kinds, names
from planner.sheets.printing import default_path, made, moment, next_number, put, usual_paper
from planner.tasks.kind import PHASES

EXAMPLE = """example:
  planner print truck.toml measuring --next
  planner print truck.toml wall --from "6 ft" --paper a3
  planner print truck.toml checklist --paper letter --phase fit --open
  planner print truck.toml order -o order-to-the-shop.pdf
  planner print truck.toml slip --since 3
  planner print truck.toml checklist --text | less

A sheet takes the next number and is entered in the project and its diary. With
--text alone it is only shown: it has no number, and nothing is written down.
It's the same while the project has faults, with NOT FOR ORDER on it."""

FEW = 5  # photos that are told of
PATIENCE = 1.0  # seconds before it is said what takes the time


def run(arguments: list[str]) -> int:
    asked = _parser(arguments).parse_args(arguments)
    kind = kind_named(asked.sheet)
    wanted = Asked(asked.phase or "", asked.open, asked.all, asked.since, asked.read_from or "", asked.next)
    try:
        at = moment()
        on = at.date() if at else date.today()
        with _progress(f"printing the {kind.title.lower()}"):
            opened = open_project(asked.file, on)
            faults_first.tell_faults(opened)
            for notice in opened.opened.notices:
                wrong(as_line(opened.opened.source.path, notice))
            if asked.text and asked.output is None:
                from planner.sheets.text import text

                sheet = made(opened, kind, wanted, on)
                _tell_photos(sheet)
                shown = text(sheet)
            else:
                shown = on_newest(opened, lambda now: _put(now, asked, kind, wanted, on), on)
        sys.stdout.write(shown)
    except Faulty as faulty:
        return faults_told(faulty)
    except ScheduleError as stuck:
        wrong(as_line(asked.file, as_fault(opened, stuck)))
        return WRONG
    except NothingMoved as nothing:
        print(f"{str(nothing)[0].upper()}{str(nothing)[1:]}.")
    except CannotPrint as trouble:
        wrong(f"planner print: {trouble}{': --text' if trouble.as_text else ''}")
        return WRONG
    except NotSaved as trouble:
        wrong(f"planner print: {trouble}")
        return WRONG
    return faults_first.exit_code(opened, FINE)


def _put(opened: OpenProject, asked: Namespace, kind: SheetKind, wanted: Asked, on: date) -> str:
    """A numbered sheet in its file, and what there is to say of it."""
    sheet = made(opened, kind, wanted, on, next_number(opened))
    pages: dict[str, int] = {}
    if asked.text:
        from planner.sheets.text import text

        raw, ending = text(sheet).encode("utf-8"), ".txt"
    else:
        from planner.sheets.paper import pdf, step_pages  # its typesetter is large, and text needs none of it

        paper = asked.paper or usual_paper(opened.style)
        raw, ending = pdf(sheet, paper, moment()), ".pdf"
        pages = step_pages(sheet, paper)
    path = asked.output or default_path(opened, kind, sheet.number, ending)
    put(opened, sheet, raw, path, pages)
    _tell_photos(sheet)
    shown = f"{sheet.named}: {clean(str(path))}\n"
    if sheet.banner:
        shown += f"{sheet.banner}: {len(sheet.reasons)} reason{'s' * (len(sheet.reasons) > 1)} on it\n"
    return shown


def _tell_photos(sheet: Sheet) -> None:
    lost = not_printed(sheet)
    for said in lost[:FEW]:
        wrong(f"planner print: {said}")
    if len(lost) > FEW:
        wrong(f"planner print: and {len(lost) - FEW} more, as the sheet says")


def _parser(arguments: list[str]) -> ArgumentParser:
    helps = {"-h", "--help"} & set(arguments)  # all kinds are opened only to be told of
    there = names()
    listed = "\n".join(f"  {kind.name:<10} {kind.what}" for kind in kinds().values()) if helps else ""
    parser = project_parser("planner print", f"{__doc__}\n\nsheets:\n{listed}", EXAMPLE)
    parser.add_argument("sheet", metavar="SHEET", choices=there, help="which sheet: " + ", ".join(there))
    parser.add_argument("-o", "--output", type=Path, metavar="OUT", help="where to; left out, next to the project")
    parser.add_argument(
        "--paper",
        choices=("a4", "letter", "a3", "tabloid"),
        help="the paper in the printer, the two large ones for the wall; left out: letter in inches, a4 in metric",
    )
    parser.add_argument("--text", action="store_true", help="plain text in 80 columns, to the terminal or to OUT")
    parser.add_argument(
        "--phase", metavar="PHASE", help="wall, checklist: one phase only, such as " + ", ".join(PHASES[:3])
    )
    parser.add_argument("--open", action="store_true", help="wall, checklist: only what isn't done")
    parser.add_argument(
        "--from", dest="read_from", metavar="DISTANCE", help="wall: read from there; usual: 4 ft or 1.2 m"
    )
    measured = parser.add_mutually_exclusive_group()
    measured.add_argument("--next", action="store_true", help="measuring sheet: one page for the next evening")
    measured.add_argument("--all", action="store_true", help="measuring sheet: everything, known or not")
    parser.add_argument("--since", type=int, metavar="N", help="slip: since sheet number N; left out, the last one")
    return parser


@contextmanager
def _progress(what: str) -> Iterator[None]:
    """Says on standard error what takes the time once it takes more than a second, and goes on saying how long."""
    done = Event()

    def tell() -> None:
        began = monotonic()
        wait = PATIENCE
        while not done.wait(wait):
            print(f"{what}: {monotonic() - began:.0f} s", file=sys.stderr, flush=True)
            wait *= 2  # in a pipe too, so not every second

    teller = Thread(target=tell, daemon=True)
    teller.start()
    try:
        yield
    finally:
        done.set()
        teller.join()
