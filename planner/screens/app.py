"""The program on the screen: what it opens with, and going from place to place."""

import datetime
import gc
import os
import sys
import traceback
from collections.abc import Iterable
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING

from rich.text import Text
from textual.app import SystemCommand
from textual.binding import Binding
from textual.screen import Screen

from planner.quantities.text import clean
from planner.screens.door import Doored
from planner.screens.looks import THEMES
from planner.screens.opening import Opening
from planner.screens.places.table import NAMES
from planner.screens.room import mind_room

OUR_FAULT = 70

if TYPE_CHECKING:
    from planner.plan.state import State
    from planner.screens.outside import Outlook
    from planner.screens.place import Place


class Planner(Doored):
    """State down, messages up: places show `state`; to change it they hand a job to `through`."""

    TITLE = "planner"
    CSS_PATH = Path(__file__).with_name("looks.tcss")
    ENABLE_COMMAND_PALETTE = True
    BINDINGS = [Binding("ctrl+q", "quit", "quit", show=False, priority=True)]

    def __init__(self, path: Path | None = None, today: datetime.date | None = None) -> None:
        super().__init__()
        self.path, self.today = path, today
        self.keeps_typed = True  # until it turns out that nothing can be kept beside the project
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

    def _fatal_error(self) -> None:
        """Ends in one plain line, where the library would print every variable there is, for minutes.

        The one private name of Textual's that is used; `pyproject.toml` bounds its version for it.
        """
        from planner.screens.troubles import own_fault

        error = sys.exception() or RuntimeError("it did not say what")
        if os.environ.get("PLANNER_TRACEBACK"):
            told = "".join(traceback.format_exception(error))
        else:
            told = (
                f"planner: {clean(own_fault(error))}. What was accepted is saved; what was typed is offered next time."
            )
        self.exit(return_code=OUR_FAULT)
        self.panic(Text(told))

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
        if not self.is_headless:  # the process is a person's, and has one program
            gc.freeze()  # all of it stays: to look through it for garbage would stop the keys for a tenth of a second
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

    def get_system_commands(self, screen: Screen[object]) -> Iterable[SystemCommand]:
        from planner.screens.palette import commands

        yield from commands(self, screen)
        yield SystemCommand("quit", "Leave the program; everything accepted is saved", self.action_quit)
