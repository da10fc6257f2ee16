"""A visit to the screens without a terminal: keys in, the screen as text out; the date is always the same day."""

import asyncio
import shutil
import time
from collections.abc import Coroutine
from contextlib import asynccontextmanager
from datetime import date
from pathlib import Path
from unittest import mock

from textual import events
from textual._compositor import Compositor
from textual.screen import ModalScreen
from textual.widgets import Input

from planner.screens.app import external_change
from planner.screens.app.app import Planner
from planner.screens.app.reading_screen import ReadingScreen
from planner.screens.widgets import editor

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
MARKS = {name: mark for mark, name in NAMES.items()}
A_MOMENT = 0.005  # seconds, in which a thread gets on
LONGER = 1.25  # times, each wait for it than the one before: whoever looks takes its turn
LONGEST = 0.04  # seconds
LOOKS = 0.1  # seconds between looks at the file
PATIENCE = 60.0  # seconds; a machine under load proves nothing
QUIET = 4  # rounds through all queues: what an answer leads to is laid out and drawn some rounds after it


def copied(folder: Path, name: str = "county-road-4x4") -> Path:
    """An example with its diary, in a folder of the test's own."""
    for path in PROJECTS.glob(f"{name}.*"):
        shutil.copy(path, folder / path.name)
    return folder / f"{name}.toml"


paint = Compositor.render_update


def at_rest(compositor, full=False, **how):
    """In place of each frame that the clock asks for: all that changed is painted at once when the program rests."""
    return paint(compositor, full, **how) if full else None


class Visit:
    """One sitting: `press` and `type` wait until the program has nothing left to do."""

    def __init__(self, app, pilot):
        self.app, self.pilot = app, pilot
        self.said = []  # what the program told in passing
        notify = app.notify
        app.notify = lambda message, **how: (self.said.append(message), notify(message, **how))

    async def settle(self, tried=True):
        """Until the project is read and nothing is being worked out: rounds through the queues, without a clock.

        `tried` waits also for what the editor works out only when the keys rest.
        """
        until, quiet, moment = time.monotonic() + PATIENCE, 0, A_MOMENT
        while quiet < QUIET:
            while not self._at_rest(tried):
                if time.monotonic() > until:
                    raise AssertionError("the program does not come to rest")
                quiet = 0
                if self._messages:
                    await asyncio.sleep(0)
                    continue
                await asyncio.sleep(moment)
                moment = min(LONGEST, moment * LONGER)
            await self.pilot.pause(0)
            quiet += 1
        paint(self.app.screen._compositor, screen_stack=self.app._background_screens)

    def _at_rest(self, tried):
        """Whether no thread is at work, nothing waits to be tried, and no widget has a message left to read."""
        app = self.app
        running = {one.group for one in app.workers if one.is_running}
        asking = isinstance(app.screen, ModalScreen) and running == {"talk"}  # it waits for the person
        if (running and not asking) or app.busy or app.job_lock.locked():
            return False
        if isinstance(app.screen, ReadingScreen) and not app.screen.told:
            return False
        if tried and any(one.pending for one in app.screen.query("Editor")):
            return False
        return not self._messages

    @property
    def _messages(self):
        widgets = (self.app, *self.app.screen.walk_children(with_self=True))
        return any(one.message_queue_size for one in widgets)

    def post(self, *keys):
        """Keys as the terminal hands them over, one behind the other; nobody waits."""
        for key in keys:
            mark = MARKS.get(key, key)
            self.app.post_message(events.Key(NAMES.get(key, key), mark if len(mark) == 1 else None))

    async def press(self, *keys):
        """Each key is done with before the next: it may lead to another screen, which the next is meant for."""
        for key in keys:
            self.post(key)
            await self.settle(tried=False)
        await self.settle()

    async def type(self, text):
        """Types a text into the field at hand, in place of what stands there."""
        field = self.app.focused
        assert isinstance(field, Input), f"{field} takes no text"
        field.value = ""
        self.post(*text)
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
async def visit(path, size=NARROW, today=TODAY, frame=at_rest, rest=A_MOMENT):
    """The program open on a project, at rest; nothing glides, the keys rest soon, and the file is looked at often.

    `rest`: seconds without a key, after which the editor works out what it was given.
    """
    app = Planner(path, today)
    app.animation_level = "none"
    with (
        mock.patch.object(editor, "PAUSE", rest),
        mock.patch.object(external_change, "EVERY", LOOKS),
        mock.patch.object(Compositor, "render_update", frame),
    ):
        async with app.run_test(size=size) as pilot:
            made = Visit(app, pilot)
            await made.settle()
            yield made


def sit(visiting: Coroutine):
    """Runs one visit to its end."""
    return asyncio.run(visiting)
