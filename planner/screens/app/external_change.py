"""The file changed by another program while it is open here: noticed, shown, and left to the person to settle."""

import asyncio
import os

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.widgets import Static
from textual.worker import Worker

from planner.plan.external_change import ChangedFile, look_for_external_change, put_back
from planner.plan.state import State, read
from planner.plan.truck.entry_names import lasting_name
from planner.project.diary_words import move
from planner.screens.dialogs.dialog import Dialog
from planner.screens.dialogs.long_text import harmless
from planner.screens.state_app import StateApp
from planner.screens.widgets.columns import ListRow
from planner.screens.widgets.row_list import RowList

EVERY = 1.0  # seconds
TAKE, BACK, LATER = "take", "back", "later"
BECAUSE = "changed by another program while it was open"
GONE = "The file is gone, or out of reach"
UNREADABLE = "The file was changed by another program, and cannot be read as it is now"
CHANGED = "The file was changed by another program"


class ChangeWatch:
    """Looks every second whether the file is still the one that was read; the disk is asked for its bytes only then."""

    def __init__(self, planner: StateApp) -> None:
        self._planner = planner
        self._seen: object = None
        self._told: str | None = None  # the digest that the person was told of
        self._shown: ExternalChange | None = None
        self._timer = planner.set_interval(EVERY, self._look)

    def end(self) -> None:
        """The project is closed: nobody looks any more."""
        self._timer.stop()
        self._planner.workers.cancel_group(self._planner, "outside")

    def _look(self) -> None:
        state = self._planner.state
        if state is None or self._planner.job_lock.locked():  # what is being saved here is no news
            return
        seen = (_mark(state), state.source.digest)
        if seen != self._seen:
            # The method, not what it gives: where another look comes first, nothing was begun that nobody ends.
            self._look_now: Worker[None] = self._planner.run_worker(self._look_closely, exclusive=True, group="outside")

    async def _look_closely(self) -> None:
        planner = self._planner
        async with planner.job_lock:
            state = planner.state
            assert state is not None
            self._seen = (_mark(state), state.source.digest)
            found = await asyncio.to_thread(look_for_external_change, state.source)
        if self._shown is not None and (found is None or found.digest != self._told):
            if planner.screen is self._shown:
                self._shown.dismiss(None)  # what it says is no longer so
            self._shown = None
        if found is None:
            self._told = None
        elif found.digest != self._told:
            self._told, self._shown = found.digest, ExternalChange(found)
            planner.push_screen(self._shown, self._settle)

    def _settle(self, choice: str | None) -> None:
        planner = self._planner
        if choice is not None:
            self._shown = None
        if choice == TAKE:
            planner.start_job("reading the file", lambda state: read(state.source.path, state.day))
        elif choice == BACK:
            planner.start_job("putting back what was here", lambda state: put_back(state, BECAUSE))
        elif choice == LATER:
            planner.say("You can't save here until you settle that; ^r takes the file as it is now.")


class ExternalChange(Dialog[str | None]):
    """Shows what differs, or what is wrong with the file; gives what the person chose."""

    AUTO_FOCUS = "RowList"

    def __init__(self, found: ChangedFile) -> None:
        title = CHANGED if found.readable else UNREADABLE if found.digest else GONE
        super().__init__(title, "Enter chooses  Escape looks later; what you see stays", tall=True)
        self._found = found

    def body(self) -> ComposeResult:
        found = self._found
        lines = [*found.troubles, *found.faults, *(move(one, None, lasting_name) for one in found.moved)] or [
            "No value is different: only comments or spaces."
        ]
        with VerticalScroll(id="text"):
            yield Static(harmless("\n".join(lines)), id="external-change", markup=False)
        yield RowList(id="rows")

    def on_mount(self) -> None:
        rows = [ListRow("put back what was here; the diary keeps both", about=BACK), ListRow("look later", about=LATER)]
        if self._found.readable:
            rows.insert(bool(self._found.faults), ListRow("take the file as it is now", about=TAKE))
        self.query_one(RowList).fill_whole(rows)

    def on_row_list_chosen(self, event: RowList.Chosen) -> None:
        self.dismiss(event.row.about)

    def action_leave(self) -> None:
        self.dismiss(LATER)


def _mark(state: State) -> object:
    """What the system says of the file without reading it."""
    try:
        status = os.stat(state.source.path)
    except (OSError, ValueError):
        return None
    return status.st_mtime_ns, status.st_size, status.st_ino
