"""One command over a hostile file, in this process, and everything about the outcome that may not be."""

import contextlib
import io
import json
import os
import re
import signal
import time
import traceback
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

from planner.commands.table import main
from planner.quantities.text import clean

LONGEST = 2.0  # seconds of processor time: waiting for a busy machine is no hang
TWICE, ABREAST = 2, 4  # a change works the truck out twice, comparing it once for each candidate
STUCK = 60  # seconds by the clock: waiting for anything else is


class TooLong(BaseException):
    """Raised by the alarm; no `except Exception` may take it for a fault of its own."""


class Verdict(NamedTuple):
    """What the command gave, how long it took, and what is wrong with that."""

    code: int | None
    seconds: float
    out: str
    err: str
    wrong: tuple[str, ...]


def judged(path: Path, arguments: list[str], longest: float = LONGEST) -> Verdict:
    """Runs the command on a file in a folder of its own; nothing there may change."""
    longest *= {"change": TWICE, "compare": ABREAST}.get(arguments[0], 1)
    before = standing(path.parent)
    out, err = io.StringIO(), io.StringIO()
    wrong: list[str] = []
    code: int | None = None
    began = time.process_time()
    try:
        with _alarm(longest), contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
            code = main(arguments)
    except SystemExit as left:
        code = int(left.code or 0)
    except TooLong:
        wrong.append(f"took longer than {longest} s")
    except BaseException:
        wrong.append(traceback.format_exc())
    seconds = time.process_time() - began
    if standing(path.parent) != before:
        wrong.append(f"changed the folder: {sorted(before)} to {sorted(standing(path.parent))}")
    wrong += _about_output(arguments, code, out.getvalue(), err.getvalue(), path)
    return Verdict(code, seconds, out.getvalue(), err.getvalue(), tuple(wrong))


@contextlib.contextmanager
def _alarm(longest: float) -> Iterator[None]:
    def ring(*given: object) -> None:
        raise TooLong

    old = {name: signal.signal(name, ring) for name in (signal.SIGPROF, signal.SIGALRM)}
    signal.setitimer(signal.ITIMER_PROF, longest)
    signal.alarm(STUCK)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)
        signal.alarm(0)
        for name, handler in old.items():
            signal.signal(name, handler)


def standing(folder: Path) -> dict[str, tuple[int, bytes]]:
    """Everything in a folder: kind and bytes."""
    found = {}
    for entry in os.scandir(folder):
        status = entry.stat(follow_symlinks=False)
        raw = Path(entry.path).read_bytes() if entry.is_file(follow_symlinks=False) else b""
        found[entry.name] = (status.st_mode, raw)
    return found


def _no_number(name: str) -> float:
    raise ValueError(f"{name} is no number of JSON's")


# What is wrong with the file as a whole has no line.
WHOLE = re.compile(
    r": (the file is (too large|saved as UTF-16)|this is a (folder|pipe)|cannot be read|there is no such"
    r"|format: the file doesn't say)"
)


def _faults_first(arguments: list[str], out: str) -> bool:
    """Whether a report begins with the faults."""
    if "--json" in arguments:
        return bool(json.loads(out)["faults"])
    return re.match(r"\d+ FAULTS? IN THE FILE\n|.{,400}\*\*\* NOT FOR ORDER \*\*\*", out, re.DOTALL) is not None


def _about_output(arguments: list[str], code: int | None, out: str, err: str, path: Path) -> Iterator[str]:
    if code not in (0, 1, 2, None):
        yield f"left with {code}"
    for name, text in (("output", out), ("errors", err)):
        for row in text.splitlines():
            if clean(row) != row:
                yield f"{name} could drive a terminal: {row[:200]!r}"
                break
    if code == 2 and not err:
        yield "says nothing of what is wrong"
    if code == 2 and out and not _faults_first(arguments, out):
        yield f"reports on a file with faults as if there were none: {out[:200]!r}"
    if "--json" in arguments and code in (0, 1):
        try:
            json.loads(out, parse_constant=_no_number)
        except ValueError as broken:
            yield f"no JSON: {broken}"
    for row in err.splitlines() if code == 2 else ():
        told = row.partition(str(path))[2]
        if row.startswith("planner ") and not told and arguments[0] != "check":
            continue  # of the command's own words, which the file left without a meaning
        if not told:
            yield f"names no file: {row[:200]!r}"
        elif not re.match(r":[0-9]+: ", told) and not WHOLE.match(told):
            yield f"names no place: {row[:200]!r}"
