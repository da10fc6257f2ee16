"""The first thing in sight: the project is being read, behind a screen that is painted at once."""

import asyncio
import datetime
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING

from textual import work
from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import VerticalScroll
from textual.screen import Screen
from textual.widgets import Static

from planner.quantities.text import clean
from planner.screens.widgets.keys_line import KeysLine

if TYPE_CHECKING:
    from planner.plan.state import State

FAULTY = "Fix it in an editor and press r to read it again; m is the start menu."
WAY_BACK = "Press Enter: the diary brings back the last good state, of {day}. What's there now is kept next to it."
MISSING = "There's no such file yet. Press b to start a project in it, m for the start menu."


class ReadingScreen(Screen[None]):
    """Reads the project in a thread, heavy imports and all; says what is wrong where it cannot be read.

    Calls `read` with its state, `begun` with the path of a project that was begun here, `menu` for the start menu.
    """

    BINDINGS = [
        Binding("r", "again", "read it again"),
        Binding("b", "begin", "start it"),
        Binding("enter", "bring_back", "bring it back"),
        Binding("m,escape", "menu", "start menu"),
        Binding("ctrl+q", "app.quit", "quit"),
    ]

    def __init__(
        self,
        path: Path,
        today: datetime.date | None,
        *,
        read: "Callable[[State], None]",
        begun: Callable[[Path], None],
        menu: Callable[[], object],
    ) -> None:
        super().__init__()
        self._path, self._today = path, today
        self._when_read, self._when_begun, self._to_menu = read, begun, menu
        self.told = False  # whether what is wrong with it is in sight
        self.missing = False
        self.good: tuple[int, str] | None = None  # the entry of the diary that left the last good state, and its day

    def compose(self) -> ComposeResult:
        yield Static("", id="screen-head", markup=False)
        with VerticalScroll(id="reading-body"):
            yield Static("", id="reading-words", markup=False)
        yield KeysLine()

    def on_mount(self) -> None:
        self.query_one("#screen-head", Static).update(f"READING  {clean(self._path.name)}")
        self.call_after_refresh(self.action_again)

    @work(exclusive=True)
    async def action_again(self) -> None:
        state, troubles, self.good = await asyncio.to_thread(_read, self._path, self._today)
        if state is not None:
            self._when_read(state)
            return
        self.told, self.missing = True, not troubles
        head = "THERE IS NO SUCH FILE" if self.missing else "THIS CANNOT BE READ YET"
        self.query_one("#screen-head", Static).update(f"{head}  {clean(self._path.name)}")
        words = [clean(str(self._path)), MISSING] if self.missing else [*troubles, FAULTY]
        words += [WAY_BACK.format(day=self.good[1])] if self.good else []
        self.query_one("#reading-words", Static).update("\n\n".join(words))
        self.refresh_bindings()

    def action_menu(self) -> None:
        self._to_menu()

    @work(exclusive=True, group="bring back")
    async def action_bring_back(self) -> None:
        """The last good state of a file that is gone or cannot be read; then it is read again."""
        assert self.good is not None
        trouble = await asyncio.to_thread(_bring_back, self._path, self.good[0])
        if trouble:
            self.notify(trouble, severity="error", markup=False)
        self.action_again()

    def action_begin(self) -> None:
        from planner.screens.app.new_project import NewProject

        self.app.push_screen(NewProject(self._path), self._begun)

    def _begun(self, path: Path | None) -> None:
        if path is not None:
            self._when_begun(path)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Nothing is offered while it is being read, and nothing is begun over a file that is there."""
        if action == "begin":
            return self.missing and not self.good
        if action == "bring_back":
            return bool(self.told and self.good)
        return self.told if action in ("again", "menu") else True


def _read(path: Path, today: datetime.date | None) -> "tuple[State | None, list[str], tuple[int, str] | None]":
    """The state, or what is wrong with the file, a line each; nothing of both where there is no file.

    With the latter, the entry of its diary that left the last good state, and its day, where there is one.
    """
    from planner.plan.state import read
    from planner.project.diary_reading import read_diary
    from planner.project.faults import Faulty, NothingToRead, as_line
    from planner.project.recent import opened
    from planner.project.way_back import last_good

    try:
        import planner.screens.places.overview  # noqa: F401  (what the first place needs, while nobody waits for a key)

        state = read(path, today)
        opened(state.source.path)
        return state, [], None
    except Faulty as faulty:
        good = None
        with suppress(Faulty, OSError, ValueError):
            entry = last_good(read_diary(path)) if isinstance(faulty, NothingToRead) else None
            good = entry and (entry.number, clean(entry.at[:10]))
        if not _is_there(path):
            return None, [], good
        return None, [as_line(faulty.path, fault) for fault in faulty.faults], good


def _bring_back(path: Path, number: int) -> str:
    """Gives the file the text that an entry of its diary left; what went wrong, empty for nothing."""
    from planner.project.diary import bring_back
    from planner.project.faults import NothingToRead
    from planner.project.saving import NotSaved
    from planner.project.source import load
    from planner.project.way_back import bring_back_unread

    try:
        try:
            bring_back(load(path), number)  # emptied, it is TOML all the same
        except NothingToRead:
            bring_back_unread(path, number)
    except NotSaved as trouble:
        return clean(str(trouble))
    return ""


def _is_there(path: Path) -> bool:
    try:
        return path.exists() or path.is_symlink() or not path.parent.is_dir()
    except (OSError, ValueError):
        return True  # something is, that cannot be looked at
