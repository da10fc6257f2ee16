"""A whole build by commands: the truck's file in a folder, what was said at each step, and what was given beforehand.

What an experienced builder expects of each build stands in plan/expected_builds/, with what is typed and imported.
"""

import io
import json
import re
import tomllib
from contextlib import redirect_stderr, redirect_stdout
from pathlib import Path
from typing import Any, NamedTuple

import pytest
from pypdf import PdfReader

from planner.commands.table import main

INPUTS = Path(__file__).parent / "plan" / "expected_builds"
INCH = re.compile(r"\d in\b|inch|\blb\b|\bpsi\b|\bmph\b")
A4, LETTER = (595.276, 841.89), (612, 792)  # points


def given(name: str) -> str:
    """A file that was written before the first run, as text."""
    return (INPUTS / name).read_text("utf-8")


def page_size(pdf: Path) -> tuple[float, float]:
    """The first page's, in points."""
    size = PdfReader(pdf).pages[0].mediabox
    return float(size.width), float(size.height)


class Ran(NamedTuple):
    code: int
    out: str
    err: str

    @property
    def line(self) -> str:
        return " ".join(self.out.split())


class Checked(NamedTuple):
    """What `check --json` says; `planned` is the candidate whose figures are meant where a place names none."""

    data: dict[str, Any]
    planned: str

    def answer(self, rule: str, where: str = "") -> str:
        found = [one["answer"] for one in self.data["flags"] if one["rule"] == rule and where in (one["where"] or "")]
        assert len(set(found)) == 1, (rule, where, found)
        return str(found[0])

    def figure(self, name: str, **place: str) -> float:
        (value,) = [
            one["value"]
            for one in self.data["figures"]
            if one["figure"] == name
            and place.items() <= one["place"].items()
            and one["place"].get("fitment") in (None, place.get("fitment", self.planned))
        ]
        return float(value)


class Build:
    """The truck in its folder; each step keeps what was said under its name.

    `written` names the files that were given beforehand: metric.md, metric.typed.toml.
    """

    def __init__(self, folder: Path, name: str, written: str, planned: str) -> None:
        self.file, self.written, self.planned = folder / f"{name}.toml", written, planned
        self.given = tomllib.loads(given(f"{written}.typed.toml"))
        self.said, self.checked, self.changed = dict[str, Ran](), dict[str, Checked](), dict[str, dict[str, Any]]()

    def run(self, *words: object, step: str = "", typed: str = "") -> Ran:
        out, err = io.StringIO(), io.StringIO()
        with redirect_stdout(out), redirect_stderr(err), pytest.MonkeyPatch.context() as patch:
            patch.setattr("sys.stdin", io.StringIO(typed))
            try:
                code = main([str(one) for one in words])
            except SystemExit as left:
                code = int(left.code or 0)
        ran = Ran(code, out.getvalue(), err.getvalue())
        assert "a bug in the planner" not in ran.err, ran.err
        self.said[step] = ran
        return ran

    def change(self, step: str, *settings: str, because: str = "") -> None:
        reason = because or f"as {self.written}.md tells"
        ran = self.run("change", self.file, *settings, "--because", reason, "--apply", "--json", step=step)
        assert ran.code in (0, 1), (step, ran.err)
        self.changed[step] = json.loads(ran.out)

    def typed(self, name: str) -> None:
        """A change of those given beforehand: its settings, and why."""
        self.change(name, *self.given[name]["set"], because=self.given[name]["because"])

    def check(self, step: str) -> None:
        self.checked[step] = Checked(json.loads(self.run("check", self.file, "--json").out), self.planned)

    def printed(self, kind: str, *words: str) -> str:
        """A sheet as text, and as a PDF beside it."""
        self.run("print", self.file, kind, *words, "-o", self.file.with_name(f"{kind}.pdf"))
        return self.run("print", self.file, kind, *words, "--text", step=kind).out

    def reading(self, of: str, value: str, by: str) -> tuple[str, str, str]:
        number = self.file.read_text("utf-8").count("[[readings]]")
        return f"readings[{number}].of={of}", f"readings[{number}].value={value}", f"readings[{number}].by={by}"

    def raised(self, step: str) -> set[str]:
        return {one["rule"] for one in self.changed[step]["flags"] if one["how"] == "up"}

    def again(self, step: str) -> set[str]:
        return {one["name"] for one in self.changed[step]["look_again"]}
