"""`planner task FILE`: the task list, what can be done now, ticking with the value you measured, tasks of your own."""

from argparse import SUPPRESS, ArgumentParser, Namespace
from collections.abc import Callable
from typing import Any

from planner.commands import faults_first
from planner.commands.page import as_json, ink
from planner.commands.recorded import carried_out, written_down
from planner.commands.table import FINE, WRONG, project_parser, wrong
from planner.commands.task_data import item_data, list_data, money_data
from planner.commands.task_page import head, listing, next_page, parts_page, short_page, whole
from planner.plan.answers.flagging import flags
from planner.plan.answers.open_project import open_project
from planner.plan.change.photo_recordings import photograph_task, with_photos
from planner.plan.change.task_recordings import add_task, drop_task, find_task, reopen_task, tick_task
from planner.plan.change.ticking_again import enter_odometer
from planner.plan.truck.project import OpenProject
from planner.plan.truck.recording import Recording
from planner.plan.work.item import Item
from planner.plan.work.money import money
from planner.plan.work.received_wheels import Piece, received_wheels
from planner.plan.work.schedule_error import ScheduleError, as_fault
from planner.plan.work.task_list import Work, next_up, work
from planner.plan.work.task_words import FIRST, LEGEND
from planner.project.faults import as_line
from planner.tasks.kind import PHASES

EXAMPLE = """example:
  planner task truck.toml                         what can be done now, and then
  planner task truck.toml --all                   the whole list, by phase
  planner task truck.toml show measure.hub.front   everything about one task
  planner task truck.toml tick measure.weigh.front "3,080 lb"
  planner task truck.toml tick safe.local_code --because "read it, R. on 5 May"
  planner task truck.toml reopen measure.weigh.front --because "scale was off"
  planner task truck.toml add "paint the wheels" --phase fit --hours 3
  planner task truck.toml add "grease the shafts" --every "2,000 mi" --months 3
  planner task truck.toml photo fit.wheels.front "nuts.jpg: each nut marked"
  planner task truck.toml odometer "12,345 mi"    what it shows today: what is due by distance
  planner task truck.toml parts                   parts, money, order-by dates

A value outside the acceptable range is only taken with --anyway and a reason.
exit code: 0 done, 2 the file or the command is wrong, and nothing is written"""


def run(arguments: list[str]) -> int:
    asked = _parser().parse_args(arguments)
    return carried_out("planner task", lambda: _answer(asked))


def _answer(asked: Namespace) -> int:
    opened = open_project(asked.file)
    try:
        return _done(opened, work(opened), asked)
    except ScheduleError as stuck:
        wrong(as_line(asked.file, as_fault(opened, stuck)))
    return WRONG


def _parser() -> ArgumentParser:
    parser = project_parser("planner task", __doc__, EXAMPLE)
    parser.add_argument("--open", action="store_true", help="leave out what is done or dropped")
    parser.add_argument("--all", action="store_true", help="every task, what is dropped and what is kept for later too")
    parser.add_argument("--phase", choices=PHASES, metavar="PHASE", help=f"only one of: {', '.join(PHASES)}")
    parser.add_argument("--parts", action="store_true", help="list parts and money under the tasks")
    parser.add_argument("--json", action="store_true", help="print one JSON object")
    actions = parser.add_subparsers(dest="action", metavar="ACTION", prog="planner task FILE")
    for name, words in (("next", "what can be done now, hold points first"), ("parts", "parts, money, order-by dates")):
        actions.add_parser(name, help=words).add_argument("--json", action="store_true", default=SUPPRESS)
    one = actions.add_parser("show", help="everything about one task")
    one.add_argument("id", metavar="ID")
    one.add_argument("--json", action="store_true", default=SUPPRESS)
    done = actions.add_parser("tick", help="tick a task as done, with the value it records")
    done.add_argument("id", metavar="ID")
    done.add_argument("value", nargs="?", metavar="VALUE", help="the value recorded, as for any entry of its kind")
    done.add_argument("--because", default="", help="why, or the signature at a hold point")
    done.add_argument("--note", default="", help="a note to keep with it")
    done.add_argument("--counts", choices=("this", "entry"), default="", help="which of two readings counts")
    done.add_argument("--anyway", action="store_true", help="out of range or before its time; needs --because")
    done.add_argument("--odometer", default="", metavar="READING", help="what the odometer shows, such as 12,345 mi")
    done.add_argument("--by", default="", metavar="NAME", help="who did it, or signed")
    done.add_argument("--photo", action="append", default=[], metavar="FILE", help="a picture of it, as for photo")
    taken = actions.add_parser("photo", help="photos of a task, for the build record")
    taken.add_argument("id", metavar="ID")
    taken.add_argument("photos", nargs="+", metavar="FILE", help='beside the project; "hub.jpg: what it shows"')
    read = actions.add_parser("odometer", help="what the odometer shows today, for what is due by distance")
    read.add_argument("reading", metavar="READING", help="such as 12,345 mi; a bare number is in your own units")
    for name, words in (("reopen", "reopen a task; its value and note stay"), ("drop", "drop a task you won't do")):
        action = actions.add_parser(name, help=words)
        action.add_argument("id", metavar="ID")
        action.add_argument("--because", default="", help="why")
    new = actions.add_parser("add", help="a task of your own")
    new.add_argument("title", metavar="TITLE")
    new.add_argument("--phase", default="", help=f"one of: {', '.join(PHASES)}")
    new.add_argument("--after", action="append", default=[], metavar="ID", help="a task that has to be done first")
    new.add_argument("--hours", type=float, help="working hours")
    new.add_argument("--every", default="", metavar="DISTANCE", help="repeat it after this distance, such as 3,000 mi")
    new.add_argument("--months", type=int, help="repeat it after this many months")
    new.add_argument("--id", default="", help="its permanent name; made from the title if left out")
    new.add_argument("--note", default="", help="a note to keep with it")
    return parser


def _done(opened: OpenProject, listed: Work, asked: Namespace) -> int:
    record = RECORDS.get(asked.action)
    if record is not None:
        return written_down(opened, lambda now: record(now, listed if now is opened else work(now), asked))
    faults_first.tell_faults(opened)
    if asked.json:
        print(as_json(faults_first.with_faults(opened, _data(opened, listed, asked))))
    else:
        print("\n".join([*faults_first.head(opened), *_page(opened, listed, asked)]))
    return faults_first.exit_code(opened, FINE)


def _tick(opened: OpenProject, listed: Work, asked: Namespace) -> Recording:
    ticked = tick_task(
        opened, listed, asked.id, asked.value, because=asked.because, note=asked.note, anyway=asked.anyway,
        counts=asked.counts, odometer=asked.odometer, by=asked.by,
    )  # fmt: skip
    return with_photos(opened, find_task(listed, asked.id), ticked, asked.photo)


def _add(opened: OpenProject, listed: Work, asked: Namespace) -> Recording:
    return add_task(
        opened, listed, asked.title, phase=asked.phase, after=asked.after, hours=asked.hours, id_=asked.id,
        note=asked.note, every=asked.every, months=asked.months,
    )  # fmt: skip


RECORDS: dict[str, Callable[[OpenProject, Work, Namespace], Recording]] = {
    "tick": _tick,
    "reopen": lambda opened, listed, asked: reopen_task(opened, listed, asked.id, asked.because),
    "drop": lambda opened, listed, asked: drop_task(opened, listed, asked.id, asked.because),
    "add": _add,
    "photo": lambda opened, listed, asked: photograph_task(opened, listed, asked.id, asked.photos),
    "odometer": lambda opened, listed, asked: enter_odometer(opened, asked.reading, listed.today),
}


def _chosen(listed: Work, asked: Namespace) -> list[Item]:
    return [
        one
        for one in listed.items.values()
        if (asked.all or one.state != "dropped")
        and not (asked.open and one.closed)
        and (asked.phase is None or one.phase == asked.phase)
    ]


def _page(opened: OpenProject, listed: Work, asked: Namespace) -> list[str]:
    match asked.action:
        case "show":
            return whole(opened, listed, find_task(listed, asked.id))
        case "next":
            return [*head(opened, listed), *next_page(opened, listed)]
        case "parts":
            return parts_page(money(opened, listed), _came(opened))
    if not (asked.all or asked.open or asked.phase or asked.parts):
        return [*head(opened, listed), *short_page(opened, listed)]
    found = listing(opened, listed, _chosen(listed, asked), kept=asked.all)
    lines = [*head(opened, listed), ink(LEGEND, "faint"), "", *(found or ["No tasks match.", ""])]
    lines += [*parts_page(money(opened, listed), _came(opened)), ""] if asked.parts else []
    return [*lines, FIRST]


def _came(opened: OpenProject) -> tuple[Piece, ...]:
    """The wheels that came; most projects have none yet, and nothing is judged for them."""
    return received_wheels(opened, flags(opened)) if opened.project.wheels else ()


def _data(opened: OpenProject, listed: Work, asked: Namespace) -> Any:
    match asked.action:
        case "show":
            return item_data(opened, listed, find_task(listed, asked.id))
        case "next":
            return [item_data(opened, listed, one) for one in next_up(listed)]
        case "parts":
            return money_data(money(opened, listed), _came(opened))
    return list_data(opened, listed, _chosen(listed, asked), money(opened, listed))
