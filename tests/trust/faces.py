"""Every face that shows what stands in a project: one function each, from the project's path to all that is shown.

A face that is new needs one line in `FACES`, and a place on the screens none.
"""

import csv
import json
from collections.abc import Callable, Iterator
from contextlib import redirect_stderr, redirect_stdout
from io import StringIO
from pathlib import Path
from typing import Any

from screens_visit import sit, visit
from sheets.pdf_runs import pages

from planner.commands.table import main
from planner.project.csv_tables import as_it_was
from planner.screens.places.table import NAMES

Face = Callable[[Path], str]


def said(*words: str) -> str:
    """All that a command prints, on standard output and on standard error."""
    out = StringIO()
    with redirect_stdout(out), redirect_stderr(out):
        try:
            code = main([*words])
        except SystemExit as left:
            code = int(left.code or 0)
    assert code in (0, 1, 2), (words, code, out.getvalue())
    return out.getvalue()


def command(name: str, *more: str) -> Face:
    return lambda path: said(name, str(path), *(word.replace("{odd}", ODD_ARGUMENT) for word in more))


def as_data(name: str, *more: str) -> Face:
    """The texts of the JSON that a command prints; the JSON itself must be such that a terminal can show it."""

    def shown(path: Path) -> str:
        text = said(name, str(path), *more, "--json")
        assert all(row.isprintable() for row in text.splitlines())
        begin = min(
            (at for at in (text.find("{\n"), text.find("[\n"), text.find("[]"), text.find("{}")) if at >= 0), default=-1
        )
        return text if begin < 0 else text[:begin] + "\n".join(strings(json.loads(text[begin:])))

    return shown


def strings(data: Any) -> Iterator[str]:
    """Every text in the data, keys too."""
    if isinstance(data, str):
        yield data
    elif isinstance(data, dict):
        for name, inner in data.items():
            yield from (name, *strings(inner))
    elif isinstance(data, list):
        for inner in data:
            yield from strings(inner)


def in_tables(path: Path) -> str:
    """The cells of what is exported, as they were before they were made harmless."""
    folder = path.with_name("tables")
    words = said("export", str(path), "-o", str(folder))
    for file in sorted(folder.iterdir()):
        text = file.read_text(encoding="utf-8-sig")
        words += "\n".join(map(as_it_was, (cell for row in csv.reader(StringIO(text)) for cell in row)))
        file.unlink()
    folder.rmdir()
    return words


def on_paper(kind: str) -> Face:
    def shown(path: Path) -> str:
        sheet = path.with_name(f"{kind}.pdf")
        before = path.read_bytes()
        words = said("print", str(path), kind, "-o", str(sheet))
        path.write_bytes(before)
        if sheet.exists():
            words += "".join(pages(sheet.read_bytes()))
        return words

    return shown


def on_screen(*places: str) -> Face:
    def shown(path: Path) -> str:
        async def story() -> str:
            texts = []
            async with visit(path, (160, 100)) as here:
                for name in places:
                    await here.go(name)
                    texts.append(here.screen)
            return "\n".join(texts)

        return sit(story())

    return shown


ODD_ARGUMENT = "=Q999q[red]x\x1b[2J\u202e"
# Where texts stand beside each other in columns, and break within them: none can be followed to its end.
IN_COLUMNS = {
    "compare",
    "candidates on screen",
    "record on paper",  # a name in the first column wraps beside what it waits for
    *(f"{kind} as text" for kind in ("measuring", "order", "wall", "checklist", "record", "slip")),
}
CUT = "on screens"  # columns as wide as they are: what does not go in is not drawn
DATA = "as data"  # texts read back from JSON, which has escapes of its own
SHEETS = ("measuring", "order", "wall", "checklist", "record", "slip")
FACES: dict[str, Face] = {
    "check": command("check", "--full", "--figures", "--clear", "--waiting"),
    "check in short": command("check"),
    "check as data": as_data("check"),
    "why": command("why", "tire.overall_diameter"),
    "why of an obstacle": command("why", "fit.clearance"),
    "why as data": as_data("why", "gearing.overall_ratio"),
    "change": command("change", "vehicle.wheelbase=99 in", "--all"),
    "change to an odd text": command("change", "vehicle.name={odd}"),
    "change as data": as_data("change", "vehicle.wheelbase=99 in"),
    "compare": command("compare", "--all"),
    "compare as data": as_data("compare", "--all"),
    "task": command("task", "--all", "--parts"),
    "task in short": command("task"),
    "task next": command("task", "next"),
    "task as data": as_data("task", "--all"),
    "diary": command("diary", "--all"),
    "diary as data": as_data("diary", "--all"),
    "export": in_tables,
    "diary between": command("diary", "compare", "1", "2"),
    **{f"{kind} as text": command("print", kind, "--text") for kind in SHEETS},
    **{f"{kind} on paper": on_paper(kind) for kind in SHEETS},
    "places on screens": on_screen(*(name for name in NAMES if name != "candidates")),
    "candidates on screen": on_screen("candidates"),
}
