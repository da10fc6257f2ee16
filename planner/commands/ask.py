"""`planner ask FILE`: asks you one question at a time, what decides most first; stop any time, and go on later."""

import sys
from pathlib import Path

from planner.commands.page import ink, paragraph
from planner.commands.recorded import carried_out
from planner.commands.table import FINE, WRONG, Parser, wrong
from planner.plan.answers.open_project import open_sound
from planner.plan.asking.evening import evening_page
from planner.plan.asking.interview import Interview, begin, hear, leave
from planner.plan.asking.question_words import answer_words, hangs_words, way_words
from planner.plan.asking.questions import STANDS
from planner.plan.truck.project import OpenProject
from planner.project.project_path import new_file
from planner.project.saving import NotSaved, write
from planner.project.starting import starting_text
from planner.quantities.text import clean
from planner.screens.widgets.canvas.draw import draw
from planner.sheets.tape_places import picture_at

EXAMPLE = """examples:
  planner ask truck.toml                    starts the project if there is none
  planner ask truck.toml --at "wheel off"   only what you can answer there
  planner ask truck.toml --page             what is known so far, what to measure next
  printf '7.50-17\\nmulti\\n' | planner ask truck.toml

Answer with a value: 3 1/2, or 3 1/2 ± 1/16, or with a tool behind it: 3 1/2 tape,
rule, caliper or guess. Or say skip, back, not there, later, tool, way (another way
to take it), at PLACE, or ? for more; the first letter is enough."""
TALL, WIDE = 9, 60  # of a picture
STOPPED = 130


def run(arguments: list[str]) -> int:
    parser = Parser("planner ask", __doc__, EXAMPLE)
    parser.add_argument("file", type=Path, metavar="FILE", help="the project file; started if there is none")
    parser.add_argument("--at", default="", metavar="PLACE", help=f"where you stand: {', '.join(STANDS)}, anywhere")
    parser.add_argument("--units", choices=("inch", "metric"), default="inch", help="of a new project")
    parser.add_argument("--page", action="store_true", help="ask nothing; print the evening's page")
    asked = parser.parse_args(arguments)
    return carried_out("planner ask", lambda: _asked(asked.file, asked.at, asked.units, asked.page))


def _asked(file: Path, at: str, units: str, page_alone: bool) -> int:
    interview = begin(_project(file, units, may_begin=not page_alone))
    code = FINE
    if at:
        heard = hear(interview, f"at {at}")
        if heard.refused:
            wrong(f"planner ask: --at {clean(at)}: {heard.lines[0]}")
            return WRONG
        interview = heard.then
    if not page_alone:
        talk = Talk(interview)
        try:
            talk.go_on()
        except KeyboardInterrupt:
            print()
            code = STOPPED
        interview, code = talk.interview, WRONG if talk.unsaved else code
        leave(interview)
    print("\n".join(page(interview)))
    return code


def _project(file: Path, units: str, may_begin: bool) -> OpenProject:
    """The project, begun under its file's name where there is none."""
    fresh = new_file(file)
    if may_begin and not file.exists() and not fresh.exists():
        write(fresh, starting_text(clean(fresh.stem), units), expected_digest=None)
        print(f"{clean(str(fresh))} is started, in {'inches' if units == 'inch' else 'metric units'}.")
    return open_sound(file)


class Talk:
    """The conversation in a terminal or over a pipe; `interview` is what came of it so far, whatever ends it."""

    def __init__(self, interview: Interview) -> None:
        self.interview, self.unsaved = interview, False
        if hasattr(sys.stdin, "reconfigure"):
            sys.stdin.reconfigure(errors="backslashreplace")  # what is no text is told to be no answer

    def go_on(self) -> None:
        """Question after question, until nothing is left, or whoever answers has had enough."""
        told = True
        while True:
            if self.interview.asked is None:
                stands = self.interview.stands
                print(f"\nNothing more to ask {stands}.\n" if stands else "\nNothing more to ask.\n")
                if not stands:
                    return
                self.interview = hear(self.interview, "at anywhere").then
                continue
            if told:
                print("\n".join(question_page(self.interview)))
            print("> ", end="", flush=True)
            line = sys.stdin.readline() if sys.stdin is not None else ""
            if not line:  # the end of what is typed
                print()
                return
            if sys.stdin is not None and not sys.stdin.isatty():
                print(clean(line.rstrip("\n")))
            try:
                heard = hear(self.interview, line.rstrip("\n"))
            except NotSaved as failed:  # the question stands again: the disk may have room by then
                wrong(f"planner ask: {failed}")
                told, self.unsaved = False, True
                continue
            told = not heard.refused and heard.then.asked != self.interview.asked
            self.interview = heard.then
            for said in heard.lines:
                print("\n".join(paragraph(clean(said), 2)))
            if heard.done:
                return


def question_page(interview: Interview) -> list[str]:
    """The present question, as a page."""
    asked = interview.asked
    assert asked is not None
    question = asked.question
    lines = ["", ink(f"{question.stand.upper():<40}{interview.progress:>40}", "faint")]
    lines += [ink(line, "strong") for line in paragraph(clean(question.asks))]
    lines += paragraph(clean(question.how), 2) if question.how else []
    scene = picture_at(interview.ways[interview.way].keys)
    if scene is not None:
        lines += [f"    {line}".rstrip() for line in draw(scene, WIDE, TALL).lines if line.strip()]
    for mark, name in way_words(interview):
        lines += paragraph(name, 2, mark)
    for told in (*answer_words(interview), hangs_words(interview)):
        lines += paragraph(told, 2) if told else []
    return lines


def page(interview: Interview) -> list[str]:
    """The page at the evening's end."""
    lines = [""]
    for heading, rows in evening_page(interview.state, interview.answered, interview.put_off):
        lines.append(ink(heading, "strong"))
        lines += [line for row in rows for line in paragraph(clean(row), 2)]
        lines.append("")
    return [*lines, "Local codes and licensed practice come first."]
