"""The program on the screen: what it opens with, what it leads to, and how it ends."""

import datetime
import gc
import os
import sys
import traceback
from collections.abc import Iterable, Sequence
from functools import partial
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING

from rich.text import Text
from textual import events, on
from textual.app import SystemCommand
from textual.binding import Binding
from textual.filter import LineFilter
from textual.screen import ModalScreen, Screen

from planner.project.kept_choices import keep_choice, keep_place, kept_choice, kept_place
from planner.quantities.text import clean
from planner.screens.app.no_color import WithoutColor
from planner.screens.app.reading_screen import ReadingScreen
from planner.screens.app.terminal_size import warn_if_too_small
from planner.screens.app.theme import THEMES
from planner.screens.places.table import NAMES
from planner.screens.state_app import StateApp, StateScreen
from planner.screens.widgets.box import TextBox

OUR_FAULT = 70
COLORS = "colors"

if TYPE_CHECKING:
    from planner.plan.state import State
    from planner.screens.app.external_change import ChangeWatch
    from planner.screens.app.start_screen import StartScreen


class Planner(StateApp):
    """Owns every screen: one that leads to another calls back here, or posts a message."""

    TITLE = "planner"
    CSS_PATH = Path(__file__).with_name("app.tcss")
    ENABLE_COMMAND_PALETTE = True
    BINDINGS = [Binding("ctrl+q", "quit", "quit", show=False, priority=True)]

    def __init__(self, path: Path | None = None, today: datetime.date | None = None) -> None:
        super().__init__({name: partial(make_place, name) for name in NAMES})
        self.path, self.today = path, today
        self.change_watch: ChangeWatch | None = None
        for theme in THEMES:
            self.register_theme(theme)
        names = [theme.name for theme in THEMES]
        self.theme = kept if (kept := kept_choice(COLORS)) in names else names[0]

    def get_line_filters(self) -> Sequence[LineFilter]:
        """The filters of all lines; without color the last one leaves none."""
        return [*super().get_line_filters(), *([WithoutColor()] if self.no_color else [])]

    def on_mount(self) -> None:
        self.push_screen(self._start_screen() if self.path is None else self._reading_screen(self.path))

    def on_resize(self) -> None:
        self.call_after_refresh(warn_if_too_small, self)

    def _fatal_error(self) -> None:
        """Ends in one plain line, where the library would print every variable there is, for minutes.

        The one private name of Textual's that is used; `pyproject.toml` bounds its version for it.
        """
        from planner.screens.error_text import bug_text

        error = sys.exception() or RuntimeError("it didn't say what")
        if os.environ.get("PLANNER_TRACEBACK"):
            told = "".join(traceback.format_exception(error))
        else:
            told = (
                f"planner: {clean(bug_text(error))}. What you accepted is saved; what you were typing is offered next "
                "time."
            )
        self.exit(return_code=OUR_FAULT)
        self.panic(Text(told))

    # the screens that it owns

    def _start_screen(self) -> "StartScreen":
        from planner.screens.app.start_screen import StartScreen

        return StartScreen(self.open)

    def _reading_screen(self, path: Path) -> ReadingScreen:
        return ReadingScreen(
            path,
            self.today,
            read=self.show_project,
            begun=self.open,
            menu=lambda: self.switch_screen(self._start_screen()),
        )

    def open(self, path: Path) -> None:
        """Another project, in place of the menu that is in sight."""
        self.path = path
        self.switch_screen(self._reading_screen(path))

    def show_project(self, state: "State") -> None:
        """The project that was read, and whatever was typed in it and not accepted when the program last ended."""
        from planner.screens.app.external_change import ChangeWatch
        from planner.screens.app.recovery import offer

        self.take_state(state)
        if not self.is_headless:  # the process is a person's, and has one program
            gc.freeze()  # all of it stays: to look through it for garbage would stop the keys for a tenth of a second
        first = "overview" if state.opened.candidates else "ask"  # where nothing is planned there is much to ask
        kept = kept_place(state.source.path)
        self.go(kept if kept in NAMES else first)
        offer(self)
        if self.change_watch is None:
            self.change_watch = ChangeWatch(self)

    async def on_click(self, event: events.Click) -> None:
        """A click beside a dialog leaves it, as Escape does."""
        shown = self.screen
        if (
            isinstance(shown, ModalScreen)
            and event.widget is shown
            and self.get_widget_at(*event.screen_offset)[0] is shown
        ):
            await shown.run_action("leave")

    @on(TextBox.ManyLines)
    def ask_about_lines(self, pasted: TextBox.ManyLines) -> None:
        from planner.screens.app.pasting import ask_about_lines

        ask_about_lines(self, pasted)

    def keep_place(self) -> None:
        """Keeps the place in sight for the next time that this project is opened."""
        places = [one.name for one in self.screen_stack if isinstance(one, StateScreen)]
        if self.state is not None and places:
            keep_place(self.state.source.path, str(places[-1]))

    async def action_quit(self) -> None:
        self.keep_place()
        await self.leave_places()
        await super().action_quit()

    @on(StateScreen.CloseWanted)
    def close_project(self) -> None:
        """Back to the start menu."""
        self.run_worker(self._close_project(), group="closing")

    def use_colors(self, name: str) -> None:
        """One of our themes, from now on and at the next start."""
        self.theme = name
        keep_choice(COLORS, name)

    async def _close_project(self) -> None:
        from planner.screens.app.closing import close_project

        self.keep_place()
        await self.leave_places()
        if await close_project(self, self.change_watch, self._start_screen()):
            self.path = self.change_watch = None

    def go(self, name: str) -> StateScreen:
        shown = super().go(name)
        self.call_after_refresh(warn_if_too_small, self)
        return shown

    def get_system_commands(self, screen: Screen[object]) -> Iterable[SystemCommand]:
        from planner.screens.app.palette import commands

        yield from commands(self, screen)
        for theme in THEMES:
            yield SystemCommand(f"colors: {theme.name}", "Change the colors", partial(self.use_colors, theme.name))
        yield SystemCommand("quit", "Quit; everything you accepted is saved", self.action_quit)


def make_place(name: str) -> StateScreen:
    """The screen of a place, from the module of that name: a place is read when it is first gone to."""
    module = import_module(f"planner.screens.places.{name}")
    made = next(one for one in vars(module).values() if getattr(one, "PLACE", "") == name)()
    assert isinstance(made, StateScreen)
    return made
