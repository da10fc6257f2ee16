"""`planner propose FILE`: tries every tire, rim and gear set you can get; lists what fits and nothing beats."""

import shlex
import sys
from argparse import ArgumentParser, Namespace
from time import monotonic

from planner.commands import propose_page
from planner.commands.page import as_json, paragraph
from planner.commands.propose_data import answer_data, space_data
from planner.commands.table import FINE, RAISED, WRONG, faults_told, project_parser, wrong
from planner.plan.answers.open_project import open_sound
from planner.plan.change.changing import make
from planner.plan.proposing.candidate import try_taking
from planner.plan.proposing.question_checks import refuse_unsound
from planner.plan.proposing.search import MOST, FitSearch, Proposals
from planner.plan.proposing.space import search_space
from planner.plan.truck.progress import RARELY
from planner.plan.truck.project import OpenProject
from planner.plan.truck.recording import RefusedChange
from planner.project.faults import Faulty
from planner.project.saving import NotSaved
from planner.quantities.text import clean

EXAMPLE = """examples:
  planner propose projects/county-road-4x4.toml
  planner propose truck.toml --space      what would be tried, and where it comes from
  planner propose truck.toml --offered    only what you entered under [[offered]]
  planner propose truck.toml --only 17 --only 16   sizes with 17 or 16 in them
  planner propose truck.toml --take 2 --as low --because "most room" --apply

What you want stands under [wishes] in the file, what you can get under [[offered]].
Ctrl-C ends the search with what was found by then.

exit code: 0 something fits, 1 nothing does, 2 the file or the command is wrong"""

A_MINUTE = 60.0
PER_PAIR = 0.06  # of the time that the first candidate takes whole, about what a tire on a rim does


def run(arguments: list[str]) -> int:
    asked = _parser().parse_args(arguments)
    try:
        opened = open_sound(asked.file)
        space = search_space(opened, tuple(asked.only), asked.offered)
        if asked.space:
            print(as_json(space_data(space)) if asked.json else "\n".join(propose_page.space_page(opened, space)))
            return FINE
        for line in space.left_out:
            wrong(f"planner propose: left out: {line}")
        if not 1 <= asked.top <= MOST:
            raise RefusedChange(f"--top {asked.top}: accepted: 1 to {MOST}")
        if not space.tires:
            raise RefusedChange(_nothing(asked))
        return _searched(asked, opened, FitSearch(opened, space))
    except RefusedChange as refused:
        wrong(f"planner propose: {refused}")
        return WRONG
    except Faulty as faulty:
        return faults_told(faulty)
    except NotSaved as trouble:
        wrong(f"planner propose: {trouble}")
        return WRONG


def _searched(asked: Namespace, opened: OpenProject, search: FitSearch) -> int:
    refuse_unsound(search)
    found = _run(search, asked.top)
    if asked.take is not None:
        return _take(asked, opened, search, found)
    if asked.json:
        print(as_json(answer_data(opened, found, search)))
    else:
        print("\n".join(propose_page.page(opened, found, search, asked.full)))
    return FINE if found.proposals else RAISED


def _run(search: FitSearch, top: int) -> Proposals:
    """The search with its progress told where a person looks on; what was found so far where it is broken off."""
    watched, quiet_until, began = sys.stderr.isatty(), 0.0, monotonic()
    about = len(search.pairs) * search.seconds * PER_PAIR
    if about > A_MINUTE:
        wrong(f"{search.whole:,} combinations take about {about / A_MINUTE:.0f} min; Ctrl-C ends it with what is found")
    try:
        for tried in search.run():
            if watched and monotonic() >= quiet_until:
                told = f"{tried:,} of {search.whole:,} tried, {search.still_in:,} still in"
                print(f"\r{told} ({monotonic() - began:.0f} s)  ", end="", file=sys.stderr, flush=True)
                quiet_until = monotonic() + RARELY
    except KeyboardInterrupt:
        if watched:
            print(file=sys.stderr)
    else:
        if watched:
            print(f"\r{' ' * 70}\r", end="", file=sys.stderr, flush=True)
    return search.answer(top)


def _take(asked: Namespace, opened: OpenProject, search: FitSearch, found: Proposals) -> int:
    """One of the list as a candidate of the file: what that touches, and with --apply made."""
    from planner.commands.change import page

    if not asked.name:
        raise RefusedChange("--take needs --as NAME, what the candidate is to be called")
    if not 1 <= asked.take <= len(found.proposals):
        there = f"1 to {len(found.proposals)}" if found.proposals else "nothing: nothing fits"
        raise RefusedChange(f"--take {asked.take}: there is no such number; accepted: {there}")
    if asked.apply and not asked.because:
        raise RefusedChange('say why you take it: --because "most room beside the spring"')
    candidate = found.proposals[asked.take - 1].fitting.candidate
    trial = try_taking(opened, search.space, candidate, asked.name, asked.because)
    number = make(trial, asked.because).entries[-1].number if asked.apply else None
    if asked.json:
        from planner.commands.change_data import as_data

        print(as_json(as_data(trial, number)))
    else:
        print("\n".join(page(trial, number)))
        planned = " ".join(shlex.quote(clean(one)) for one in (*opened.planned, asked.name))
        print("\n".join(paragraph(f"planner compare {clean(str(asked.file))} {planned} puts it beside what you plan.")))
    return FINE


def _nothing(asked: Namespace) -> str:
    if asked.only:
        return f"no tire you can get has {' or '.join(asked.only)} in its size; --space lists them"
    return "no tire is offered: enter one under [[offered]], or leave out --offered to try the table of sizes"


def _parser() -> ArgumentParser:
    parser = project_parser("planner propose", __doc__, EXAMPLE)
    parser.add_argument("--top", type=int, default=MOST, metavar="N", help=f"how many to list, at most {MOST}")
    parser.add_argument("--full", action="store_true", help="show more of each: window, first flag, speedometer gear")
    parser.add_argument("--space", action="store_true", help="list what would be tried, and try nothing")
    parser.add_argument("--offered", action="store_true", help="try only the tires under [[offered]]")
    parser.add_argument("--only", action="append", default=[], metavar="TEXT", help="try only sizes with this in them")
    parser.add_argument("--take", type=int, metavar="N", help="make number N of the list a candidate of the file")
    parser.add_argument("--as", dest="name", default="", metavar="NAME", help="what the candidate is to be called")
    parser.add_argument("--because", default="", metavar="WHY", help="the reason, kept in the diary")
    parser.add_argument("--apply", action="store_true", help="write it, in the file and in its diary")
    parser.add_argument("--json", action="store_true", help="print one JSON object")
    return parser
