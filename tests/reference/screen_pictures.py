"""The pictures of screens in docs/pictures/; in tests/ `python -m reference.screen_pictures` makes them.

The program is driven without a terminal, on a copy of the county truck on a day that stands here; what it shows is
drawn by the typesetter that the sheets are printed with, in its own fonts, so that it comes out the same everywhere.
"""

import asyncio
import os
import re
import sys
import tempfile
from datetime import date
from pathlib import Path
from typing import NamedTuple
from unittest import mock

import typst
from screens_visit import copied, visit
from textual.widgets import Input

from planner.commands.table import main

FOLDER = Path(__file__).parents[2] / "docs" / "pictures"
ON = date(2026, 11, 25)
SIZE = (100, 28)  # columns and rows
ACROSS = 800  # px
JULY = 1  # the diary's entry at which the guide begins


class Shot(NamedTuple):
    """A place, the row under the cursor there, what is typed over its value, and keys."""

    place: str
    row: str = ""
    types: str = ""
    keys: tuple[str, ...] = ()


SCREENS = {
    "screen-stands.png": Shot("overview", "the barrel is too close"),
    "screen-measurements.png": Shot("measurements", "adjacent spacing"),
    "screen-window.png": Shot("fit", keys=("f6",) * 4),
    "screen-change.png": Shot("wheel", "backspace", types="4 3/4 in"),
    "screen-tasks.png": Shot("tasks", "Let all the air out"),
}


async def screen(project: Path, shot: Shot) -> str:
    """What the screen shows, as Textual draws it in SVG."""
    async with visit(project, SIZE, ON) as sitting:
        await sitting.go(shot.place)
        if shot.row:
            sitting.point_at(shot.row)
            await sitting.settle()
        if shot.types:
            await sitting.press("enter")
            for field in sitting.app.screen.query(Input):
                field.cursor_blink = False
            await sitting.type(shot.types)
        if shot.keys:
            await sitting.press(*shot.keys)
        return sitting.app.export_screenshot(title="planner")


def png(svg: str) -> bytes:
    """The picture in the typesetter's own fixed-width font; the window's buttons are left out."""
    svg = re.sub(r"@font-face\s*\{.*?\}|<circle[^>]*/>", "", svg, flags=re.DOTALL)
    svg = re.sub(r"Fira Code, monospace|arial", "DejaVu Sans Mono", svg)
    svg = svg.replace("<text ", '<text xml:space="preserve" ')
    with tempfile.TemporaryDirectory() as folder:
        Path(folder, "screen.svg").write_text(svg, encoding="utf-8")
        page = Path(folder, "page.typ")
        page.write_text(
            f'#set page(width: auto, height: auto, margin: 0pt)\n#image("screen.svg", width: {ACROSS}pt)', "utf-8"
        )
        return typst.compile(page, format="png", ppi=72, ignore_system_fonts=True)


def picture(name: str) -> bytes:
    """One picture by its file's name."""
    with tempfile.TemporaryDirectory() as folder, mock.patch.dict(os.environ, {"XDG_STATE_HOME": folder}):
        project = copied(Path(folder))
        assert main(["diary", str(project), "bring-back", str(JULY), "--because", "as in the guide"]) == 0
        return png(asyncio.run(screen(project, SCREENS[name])))


if __name__ == "__main__":
    for name in sys.argv[1:] or SCREENS:
        raw = picture(name)
        (FOLDER / name).write_bytes(raw)
        print(f"{FOLDER / name}: {len(raw)} bytes", file=sys.stderr)
