"""The commands of docs/guide.md, run in their order; in tests/ `python -m reference.guide_run` writes what they print.

A text block behind commands quotes what the last of them printed: whole lines, dots for what is left out. Anew, each
piece between dots keeps its first line and its length. What stands behind "> " in it is typed into that command; what
is printed between two answers may be left out without dots.
"""

import io
import os
import re
import shlex
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import chdir, contextmanager, redirect_stderr, redirect_stdout
from datetime import date
from difflib import get_close_matches
from pathlib import Path
from typing import NamedTuple
from unittest import mock

from planner.commands.table import main

ROOT = Path(__file__).parents[2]
GUIDE = ROOT / "docs" / "guide.md"
BLOCK = re.compile(r"```(sh|text)\n(.*?)\n```", re.DOTALL)
COPY = re.compile(r"cp (projects/[\w.*-]+) \.")
DOTS = "..."
TYPED = "> "
REFUSED = 2
NOON = 1_795_608_000  # 25 November 2026, so that dates come out the same


class Day(date):
    """A calendar on which it is always the guide's day."""

    @classmethod
    def today(cls) -> "Day":
        return cls(2026, 11, 25)


class Said(NamedTuple):
    """One command as the guide has it, its exit code and what it printed."""

    line: str
    code: int
    lines: list[str]


@contextmanager
def at_noon(folder: Path) -> Iterator[None]:
    """In that folder, on the guide's day, with a list of recent projects of its own."""
    with (
        tempfile.TemporaryDirectory() as state,
        chdir(folder),
        mock.patch.dict(os.environ, {"SOURCE_DATE_EPOCH": str(NOON), "XDG_STATE_HOME": state}),
        mock.patch("planner.plan.answers.open_project.date", Day),
    ):
        yield


def run(line: str, typed: str = "") -> Said:
    """One line of the guide, in the folder at hand, and what is typed into it."""
    if copied := COPY.fullmatch(line):
        for path in ROOT.glob(copied[1]):
            shutil.copy(path, path.name)
        return Said(line, 0, [])
    program, *arguments = shlex.split(line)
    assert program == "planner", f"the guide has a command that is not ours: {line}"
    out, err = io.StringIO(), io.StringIO()
    with redirect_stdout(out), redirect_stderr(err), mock.patch("sys.stdin", io.StringIO(typed)):
        code = main(arguments)
    printed = err if code == REFUSED else out
    return Said(line, code, [one.rstrip() for one in printed.getvalue().splitlines()])


def told(text: str) -> list[tuple[Said | None, str]]:
    """Each quoted block of a guide with the command that printed it, all run in order in a folder of their own."""
    found: list[tuple[Said | None, str]] = []
    last: Said | None = None
    with tempfile.TemporaryDirectory() as folder, at_noon(Path(folder)):
        blocks = BLOCK.findall(text)
        for (kind, block), (_, behind) in zip(blocks, [*blocks[1:], ("", "")], strict=True):
            if kind == "text":
                found.append((last, block))
                last = None
                continue
            typed = "".join(f"{one[len(TYPED) :]}\n" for one in behind.splitlines() if one.startswith(TYPED))
            for line in re.sub(r"\s*\\\n\s*", " ", block).splitlines():
                assert last is None or last.code in (0, 1), f"{last.line}: refused, and the guide does not say so"
                last = run(line, typed)
    return found


def pieces(block: str) -> list[list[str]]:
    """What a quoted block shows, split where something is left out."""
    parts: list[list[str]] = [[]]
    for line in block.splitlines():
        if line.strip() == DOTS:
            parts.append([])
        elif line.startswith(TYPED):
            parts.append([line])
        else:
            parts[-1].append(line)
    return [_trimmed(part) for part in parts if any(part)]


def _trimmed(lines: list[str]) -> list[str]:
    start, end = 0, len(lines)
    while not lines[start]:
        start += 1
    while not lines[end - 1]:
        end -= 1
    return lines[start:end]


def anew(block: str, printed: list[str]) -> str:
    """The block with what is printed now."""
    lines: list[str] = []
    at = 0
    for piece in pieces(block):
        if piece[0] not in printed[at:]:
            near = get_close_matches(piece[0], printed[at:], n=3, cutoff=0.4)
            raise SystemExit("\n".join([f"no longer printed, mend it by hand: {piece[0]}", *near]))
        start = printed.index(piece[0], at)
        at = start + len(piece)
        left_out = lines and not piece[0].startswith(TYPED)
        lines += [*([DOTS] if left_out else []), *printed[start:at]]
    return "\n".join(lines)


if __name__ == "__main__":
    guide = GUIDE.read_text(encoding="utf-8")
    quoted = iter(told(guide))

    def again(block: re.Match[str]) -> str:
        if block[1] == "sh":
            return block[0]
        said, text = next(quoted)
        return f"```text\n{anew(text, said.lines if said else [])}\n```"

    GUIDE.write_text(BLOCK.sub(again, guide), encoding="utf-8")
