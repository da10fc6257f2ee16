"""A visit to the screens without a terminal: keys in, the screen as text out; the date is always the same day."""

import asyncio
import shutil
from collections.abc import Coroutine
from contextlib import asynccontextmanager
from datetime import date
from pathlib import Path

from textual.screen import ModalScreen
from textual.widgets import Input

from planner.screens.app.app import Planner

PROJECTS = Path(__file__).parents[1] / "projects"
TODAY = date(2026, 11, 25)
NARROW, WIDE = (80, 24), (120, 40)
NAMES = {
    " ": "space",
    ".": "full_stop",
    "/": "slash",
    "-": "minus",
    "?": "question_mark",
    ",": "comma",
    '"': "quotation_mark",
}
PATIENCE = 20.0  # seconds


def copied(folder: Path, name: str = "county-road-4x4") -> Path:
    """An example with its diary, in a folder of the test's own."""
    for path in PROJECTS.glob(f"{name}.*"):
        shutil.copy(path, folder / path.name)
    return folder / f"{name}.toml"


class Visit:
    """One sitting: `press` and `type` wait until the program has nothing left to do."""

    def __init__(self, app, pilot):
        self.app, self.pilot = app, pilot
        self.said = []  # what the program told in passing
        notify = app.notify
        app.notify = lambda message, **how: (self.said.append(message), notify(message, **how))

    async def settle(self):
        """Until the project is read and nothing is being worked out."""
        quiet = 0
        for _ in range(int(PATIENCE / 0.02)):
            await self.pilot.pause(0.02)
            running = [one.group for one in self.app.workers if one.is_running]
            asking = isinstance(self.app.screen, ModalScreen) and set(running) == {"talk"}  # it waits for the person
            pending = any(one.pending for one in self.app.screen.query("Editor"))
            quiet = quiet + 1 if (asking or not running) and not self.app.busy and not pending else 0
            if quiet > 3:  # an answer that was given, and what is laid out and drawn only then, come a moment later
                return
        raise AssertionError("the program does not come to rest")

    async def press(self, *keys):
        for key in keys:
            await self.pilot.press(key)
        await self.settle()

    async def type(self, text):
        """Types a text into the field at hand, in place of what stands there."""
        field = self.app.focused
        assert isinstance(field, Input), f"{field} takes no text"
        field.value = ""
        for mark in text:
            if mark.isascii():
                await self.pilot.press(NAMES.get(mark, mark))
            else:  # the pilot cannot press it
                field.insert_text_at_cursor(mark)
        await self.settle()

    async def go(self, name):
        self.app.go(name)
        await self.settle()

    @property
    def screen(self):
        """What is in sight, line by line."""
        strips = self.app.screen._compositor.render_strips()
        return "\n".join("".join(segment.text for segment in strip).rstrip() for strip in strips)

    @property
    def rows(self):
        """The rows of the list in sight."""
        return self.app.screen.query_one("#rows").rows

    def point_at(self, name):
        """The cursor on the first row whose name, key or mark has this in it."""
        row_list = self.app.screen.query_one("#rows")
        at = next(
            at
            for at, row in enumerate(row_list.rows)
            if not row.heading and any(name in words for words in (row.name, row.key, row.mark))
        )
        row_list.highlighted = at
        row_list.focus()
        return row_list.rows[at]


@asynccontextmanager
async def visit(path, size=NARROW, today=TODAY):
    """The program open on a project, at rest."""
    app = Planner(path, today)
    async with app.run_test(size=size) as pilot:
        made = Visit(app, pilot)
        for _ in range(int(PATIENCE / 0.02)):
            await pilot.pause(0.02)
            if (
                path is None
                or app.state is not None
                or any(type(one).__name__ == "ReadingScreen" and one.told for one in app.screen_stack)
            ):
                break
        await made.settle()
        yield made


def sit(visiting: Coroutine):
    """Runs one visit to its end."""
    return asyncio.run(visiting)
