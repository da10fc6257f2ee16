"""The program on the screen: it holds the project's state, and the one door through which that changes."""

import asyncio
import datetime
from collections.abc import Callable, Iterable
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING

from textual import work
from textual.app import App, SystemCommand
from textual.binding import Binding
from textual.screen import Screen

from planner.screens.looks import THEMES
from planner.screens.opening import Opening
from planner.screens.places.table import NAMES
from planner.screens.room import mind_room

if TYPE_CHECKING:
    from planner.plan.state import State
    from planner.quantities.show import Style
    from planner.screens.outside import Outlook
    from planner.screens.place import Place


class Planner(App[None]):
    """State down, messages up: places show `state`; to change it they hand a job to `through`."""

    TITLE = "planner"
    CSS_PATH = Path(__file__).with_name("looks.tcss")
    ENABLE_COMMAND_PALETTE = True
    BINDINGS = [Binding("ctrl+q", "quit", "quit", show=False, priority=True)]

    def __init__(self, path: Path | None = None, today: datetime.date | None = None) -> None:
        super().__init__()
        self.path, self.today = path, today
        self.state: State | None = None
        self.fitment = ""
        self.busy = ""
        self.keeps_typed = True  # until it turns out that nothing can be kept beside the project
        self.door = asyncio.Lock()  # one job at a time
        self.outlook: Outlook | None = None
        for theme in THEMES:
            self.register_theme(theme)
        self.theme = THEMES[0].name

    def on_mount(self) -> None:
        if self.path is None:
            from planner.screens.start import Start

            self.push_screen(Start())
        else:
            self.push_screen(Opening(self.path))

    def on_resize(self) -> None:
        self.call_after_refresh(mind_room, self)

    # going about

    def open(self, path: Path) -> None:
        """Another project, in place of the menu that is in sight."""
        self.path = path
        self.switch_screen(Opening(path))

    def begin_with(self, state: "State") -> None:
        """The project that was read, and whatever was typed in it and not accepted when the program last ended."""
        from planner.screens.outside import Outlook
        from planner.screens.recovered import offer

        self.take(state)
        self.go("stands")
        offer(self)
        if self.outlook is None:
            self.outlook = Outlook(self)

    def place(self, name: str) -> "Place":
        """The screen of a place, made when it is first gone to."""
        if not self.is_screen_installed(name):
            module = import_module(f"planner.screens.places.{name}")
            made = next(one for one in vars(module).values() if getattr(one, "PLACE", "") == name)
            self.install_screen(made(), name)
        shown: Place = self.get_screen(name)  # type: ignore[assignment]
        return shown

    def go(self, name: str) -> "Place":
        """To a place; whatever lies over it is closed."""
        shown = self.place(name)
        while len(self.screen_stack) > 2:
            self.pop_screen()
        if self.screen is not shown:
            self.switch_screen(shown)
        self.call_after_refresh(mind_room, self)
        return shown

    def go_to_entry(self, key: str) -> None:
        """To the place of an entry, with the cursor on it."""
        for name in NAMES:
            shown = self.place(name)
            if shown.has(key):
                self.go(name)
                self.call_after_refresh(shown.show_entry, key)
                return
        self.say(f"{key} stands in no form: it is kept in the file.")

    # the door

    async def through(self, what: str, job: "Callable[[State], State]") -> str:
        """Has a job make the next state out of this one, in a thread; gives what went wrong, empty for nothing.

        Who asked may be gone meanwhile, a newer key having come: the job is done and its state is taken all the same.
        """
        return await asyncio.shield(asyncio.create_task(self._through(what, job)))

    async def _through(self, what: str, job: "Callable[[State], State]") -> str:
        from planner.screens.troubles import in_words

        async with self.door:
            if self.state is None:
                return "there is no project yet"
            self.show_busy(what)
            try:
                state = await asyncio.to_thread(job, self.state)
            except Exception as error:
                told = in_words(error)
                if told is None:
                    raise
                return told
            finally:
                self.show_busy("")
            self.take(state)
            return ""

    def take(self, state: "State") -> None:
        """Another state, for every place that is in sight."""
        self.state = state
        if self.fitment not in state.opened.project.fitments:
            self.fitment = state.opened.planned[0]
        self._tell_places()

    def show_busy(self, what: str) -> None:
        """What is being worked out; empty for nothing. The last answer stays in sight meanwhile."""
        self.busy = what
        self._tell_places()

    def _tell_places(self) -> None:
        for screen in self.screen_stack:
            if hasattr(screen, "take") and screen.is_mounted:
                screen.take()

    @work(group="asked")
    async def do(self, what: str, job: "Callable[[State], State]") -> None:
        """A job that nobody waits for; what went wrong is told."""
        trouble = await self.through(what, job)
        if trouble:
            self.say(trouble, bad=True)

    @property
    def style(self) -> "Style":
        """The units that the person thinks in."""
        assert self.state is not None
        return self.state.opened.style

    def say(self, text: str, bad: bool = False) -> None:
        """One line for the person, harmless whatever stands in it."""
        from planner.quantities.text import clean

        self.notify(clean(text), severity="error" if bad else "information", markup=False, timeout=8 if bad else 4)

    def get_system_commands(self, screen: Screen[object]) -> Iterable[SystemCommand]:
        from planner.screens.palette import commands

        yield from commands(self, screen)
        yield SystemCommand("quit", "Leave the program; everything accepted is saved", self.action_quit)
