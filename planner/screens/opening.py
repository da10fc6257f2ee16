"""The first thing in sight: the project is being read, behind a screen that is painted at once."""

import asyncio
from pathlib import Path
from typing import TYPE_CHECKING, cast

from textual import work
from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import VerticalScroll
from textual.screen import Screen
from textual.widgets import Footer, Static

if TYPE_CHECKING:
    from planner.plan.state import State
    from planner.screens.app import Planner


class Opening(Screen[None]):
    """Reads the project in a thread, heavy imports and all; says what is wrong where it cannot be read."""

    BINDINGS = [Binding("r", "again", "read it again"), Binding("ctrl+q", "app.quit", "quit")]

    def __init__(self, path: Path | None) -> None:
        super().__init__()
        self.path = path
        self.told = False  # whether what is wrong with it is in sight

    def compose(self) -> ComposeResult:
        yield Static("", id="opening-head", markup=False)
        with VerticalScroll(id="opening-body"):
            yield Static("", id="opening-words", markup=False)
        yield Footer(show_command_palette=False)

    def on_mount(self) -> None:
        self.query_one("#opening-head", Static).update(f"READING  {self.path.name if self.path else ''}")
        self.call_after_refresh(self.action_again)

    @work(exclusive=True)
    async def action_again(self) -> None:
        planner = cast("Planner", self.app)
        state, troubles = await asyncio.to_thread(_read, self.path, planner.today)
        if state is None:
            self.told = True
            self.query_one("#opening-head", Static).update("THIS CANNOT BE READ YET")
            self.query_one("#opening-words", Static).update("\n\n".join(troubles))
        else:
            planner.take(state)
            planner.go("stands")


def _read(path: Path | None, today: object) -> "tuple[State | None, list[str]]":
    from planner.plan.state import read
    from planner.project.faults import Faulty, as_line

    try:
        import planner.screens.places.stands  # noqa: F401  (what the first place needs, while nobody waits for a key)

        assert path is not None
        return read(path, today), []  # type: ignore[arg-type]
    except Faulty as faulty:
        return None, [as_line(faulty.path, fault) for fault in faulty.faults]
