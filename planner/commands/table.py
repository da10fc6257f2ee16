"""The commands: their names, what each is for, and how one is called; each is imported only when it runs."""

import argparse
import os
import sys
from functools import partial
from importlib import import_module
from pathlib import Path
from typing import Any, NoReturn, TextIO

from planner.project.faults import Faulty, NothingToRead, StillFaulty, as_line
from planner.quantities.text import clean, cut

COMMANDS = {
    "open": "look, change, tick and print on the screen; planner FILE does it too",
    "ask": "be asked, a question at a time, what decides most first",
    "new": "begin a project: write a starting file with what everybody fills in",
    "check": "read a project, work everything out, and say what it means",
    "figure": "work out one figure from values you give",
    "why": "show what a figure rests on, down to the entries",
    "change": "show what a change touches before it is made, and make it",
    "propose": "try every tire, rim and gear set you can get; list the best",
    "compare": "put candidates side by side: what differs, flags, cost and time",
    "takes": "what it would take to run a tire size or a candidate, stop by stop",
    "task": "list the work, tick it, add your own; parts and money",
    "accept": "accept a caution with a reason, or take that back",
    "again": "what to look at again since something changed",
    "diary": "see what changed and why; undo, redo, bring back an earlier state",
    "print": "print a sheet: measuring, order, wall, checklist, record, slip, look",
    "export": "write figures, flags, tasks, parts, readings for a spreadsheet",
    "import": "read readings from a CSV: first what would come of them",
    "schema": "print or write the JSON Schema of the project file, for editors",
}
HIDDEN = {"--print-completion": "completion", "keys": "keys"}  # for a shell more than for a person

WIDTH = 80  # of the help, as of all pages
LONGEST_WORD, LONGEST_LINE = 120, 1000  # of what is wrong with the arguments, which are told as they were typed
FINE, RAISED, WRONG, OUR_FAULT = 0, 1, 2, 70


class Parser(argparse.ArgumentParser):
    """An argument parser that says what is wrong in one plain line; its help has the lines as they were written."""

    def __init__(self, prog: str, about: str | None = None, example: str | None = None, **options: Any) -> None:
        # Without a width it would ask the terminal for one, and import shutil for that at each start.
        lines = partial(argparse.RawDescriptionHelpFormatter, width=WIDTH)
        super().__init__(prog, description=about, epilog=example, formatter_class=lines, **options)

    def parse_known_args(self, args: Any = None, namespace: Any = None) -> Any:
        return self._all_text(*super().parse_known_args(args, namespace))

    def parse_known_intermixed_args(self, args: Any = None, namespace: Any = None) -> Any:
        return self._all_text(*super().parse_known_intermixed_args(args, namespace))

    def _all_text(self, asked: argparse.Namespace, rest: list[str]) -> tuple[argparse.Namespace, list[str]]:
        """What was asked, refused where bytes that are no text stand in it; only a file may have them in its name."""
        for given in vars(asked).values():
            for text in given if isinstance(given, list) else [given]:
                if isinstance(text, str) and _is_bytes(text):
                    self.error(f"'{cut(text, 40)}' has bytes that aren't text; write it as UTF-8")
        return asked, rest

    def error(self, message: str) -> NoReturn:
        words = " ".join(cut(word, LONGEST_WORD) for word in message.split(" "))
        wrong(f"{self.prog}: {cut(words, LONGEST_LINE)}; see {self.prog} --help")
        sys.exit(WRONG)

    def _print_message(self, message: str, file: Any = None) -> None:
        (file or sys.stderr).write(message)  # argparse keeps it to itself where that fails


def project_parser(prog: str, about: str | None, example: str) -> Parser:
    """The parser of a command that is about a project: the project's file comes first."""
    parser = Parser(prog, about, example)
    parser.add_argument("file", type=Path, metavar="FILE", help="the project file")
    return parser


def _is_bytes(text: str) -> bool:
    """Whether Python stood half a character in for each byte of an argument that it could not read."""
    return any("\ud800" <= mark <= "\udfff" for mark in text)


def wrong(line: str) -> None:
    """One line on standard error, harmless whatever stands in it."""
    try:
        print(clean(line), file=sys.stderr, flush=True)
    except OSError:  # nobody can be told: the exit code still says it
        _let_go(sys.stderr)


def faults_told(faulty: Faulty) -> int:
    """Each fault in a line of its own, and the exit code."""
    if isinstance(faulty, StillFaulty):
        wrong("nothing is written: the file has faults, and would still have these; one step has to fix them all:")
    for fault in faulty.faults:
        wrong(as_line(faulty.path, fault))
    if isinstance(faulty, NothingToRead):
        from planner.project.way_back import way_back

        for line in way_back(faulty.path):
            wrong(f"{faulty.path}: {line}")
    return WRONG


def main(arguments: list[str]) -> int:
    """Run one command and give its exit code: 0, 1 where something is raised, 2 where file or command is wrong."""
    # Closed by whoever called us: the exit code is all they want.
    sys.stdout = sys.stdout or open(os.devnull, "w")  # noqa: SIM115
    sys.stderr = sys.stderr or open(os.devnull, "w")  # noqa: SIM115
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="backslashreplace")  # a terminal that cannot show ½ must not stop us
    try:
        try:
            return _run(arguments)
        finally:  # help leaves by an exit of its own, and its last words can fail like any
            sys.stdout.flush()
    except BrokenPipeError:
        _let_go(sys.stdout)
        return FINE
    except KeyboardInterrupt:
        wrong("stopped")
        return 130
    except Exception as fault:
        if isinstance(fault, OSError) and fault.filename is None:  # files have names: it is what was to be printed
            from planner.project.faults import why

            _let_go(sys.stdout)
            wrong(f"planner: can't write the output: {why(fault)}")
            return WRONG
        if os.environ.get("PLANNER_TRACEBACK"):
            raise
        wrong(f"planner: a bug in the planner ({type(fault).__name__}: {fault}); set PLANNER_TRACEBACK=1 to see where")
        return OUR_FAULT


def _run(arguments: list[str]) -> int:
    if not arguments and sys.stdin.isatty() and sys.stdout.isatty():
        arguments = ["open"]
    if not arguments or arguments[0] in ("-h", "--help", "help"):
        print(_help())
        return FINE
    if arguments[0] not in COMMANDS and (arguments[0].endswith(".toml") or _is_project(arguments[0])):
        arguments = ["open", *arguments]
    if arguments[0] in ("--version", "version"):
        from importlib.metadata import version  # only who asks waits for it

        print(f"planner {version('truck-wheel-planner')}")
        return FINE
    name = arguments[0]
    if name not in COMMANDS and name not in HIDDEN:
        from difflib import get_close_matches  # only a slip of the pen needs it

        near = get_close_matches(name, COMMANDS, n=1)
        hint = f"did you mean {near[0]}?" if near else "planner check FILE reads a project"
        wrong(f"planner: '{name[:60]}' is not a command; {hint} (planner --help lists them)")
        return WRONG
    return int(import_module(f"planner.commands.{HIDDEN.get(name, name)}").run(arguments[1:]))


def _is_project(name: str) -> bool:
    """Whether a project of this name is there, its ending left out."""
    return "\0" not in name and os.path.isfile(f"{name}.toml")


def _let_go(stream: TextIO) -> None:
    """Leaves an output alone that fails, so that closing it says nothing more."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())


def _help() -> str:
    width = max(map(len, COMMANDS))
    lines = [f"  {name:<{width}}  {what}" for name, what in COMMANDS.items()]
    return "\n".join(
        [
            "planner: tires, wheels and gearing for the axles you keep",
            "",
            "usage: planner COMMAND ...   or   planner FILE   or, in a terminal,   planner",
            "",
            *lines,
            "",
            "planner COMMAND --help shows each with an example.",
            "planner --print-completion bash (or zsh) prints tab completion for your shell;",
            "planner --version says which planner it is.",
            "",
            "It helps you plan; it doesn't clear a truck for the road. Local codes and",
            "licensed practice come first.",
        ]
    )
