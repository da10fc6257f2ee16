"""Changing one entry: what is typed is kept, tried while the keys rest, and accepted or left."""

import asyncio
from collections.abc import Callable
from pathlib import Path

from textual import events, work
from textual.binding import Binding

from planner.plan.change.changing import Setting, TriedChange
from planner.plan.state import Prepared, State, accept, prepare
from planner.plan.truck.forms import Field, understood
from planner.plan.truck.progress import NoLongerWanted, watched
from planner.project.drafts import keep, kept, let_go, settle
from planner.quantities.text import clean
from planner.screens.error_text import TROUBLES, error_text
from planner.screens.state_app import StateApp, planner_of
from planner.screens.widgets.box import TextBox
from planner.screens.widgets.change_preview import preview_lines
from planner.screens.widgets.entry_form import EntryForm

PAUSE = 0.25  # seconds without a key before what it touches is worked out
DROPPED = "dropped"


class Editor(EntryForm):
    """Enter accepts, Escape leaves the entry as it was; what is typed and not accepted is kept for the next start."""

    BINDINGS = [
        Binding("enter", "accept", "accept", priority=True),
        Binding("escape", "leave", "leave as it was", priority=True),
        Binding("f6", "touched", "everything it touches", priority=True),
    ]

    def __init__(
        self,
        closed: Callable[[bool], None],
        foresee: Callable[[State], object],
        show_touched: Callable[[TriedChange], None],
    ) -> None:
        super().__init__()
        self._show_touched = show_touched  # called with what was tried, when somebody wants to see all that it touches
        self._foresee = foresee  # called in the thread, with the state that there will be once it is accepted
        self._when_closed = closed  # called when it is done, with whether the entry was changed
        self.display = False
        self.field: Field | None = None
        self._began = ""  # what stood in the boxes before a key was pressed
        self.pending = False  # whether something typed is still to be tried
        self._prepared: tuple[tuple[str, str], Prepared] | None = None

    @property
    def planner(self) -> StateApp:
        return planner_of(self)

    @property
    def is_open(self) -> bool:
        return self.display

    def _hide_words(self) -> None:
        """What is said below the list stands in the editor while it is open."""
        stacked = self.screen.has_class("-wide")
        for one in self.screen.query("#side-panel, #work.-bare #side"):
            below = one.id == "side-panel" or stacked  # by hand: a class of the screen would style all of it anew
            one.styles.display = "none" if self.is_open and below else None

    def edit(self, field: Field, typed: str | None = None, because: str = "") -> None:
        """Opens on an entry; `typed` stands in it in place of what is written, or else what was typed and not left."""
        left = self.field
        if left is not None and left.key != field.key and self.text != self._began:
            self.planner.say(f"{left.key}: what you typed is kept; choose it again to go on")
        before = next((one for one in kept(self._project) if one.key == field.key), None) if typed is None else None
        if before is not None:
            typed, because = before.text, before.because
        self.field, self._prepared = field, None
        self.show_entry(field, field.written if typed is None else typed, because)
        self._began = self.text if typed is None else field.written
        self.show_preview([])
        self.display = True
        self._hide_words()
        box = self.query_one("#value", TextBox)
        box.select_on_focus = typed is None  # what was begun is gone on with, what stood there is written over
        box.focus()
        box.cursor_position = len(box.value)
        self._typed()

    def _typed(self) -> None:
        """Another text stands in a box."""
        if self.field is not None and self.is_open:
            self.show_understood(self.field, self.planner.style)
            self._keep()
            if self._prepared is None or self._prepared[0] != self._wanted:
                self._prepared = None
                self.show_preview(self.answer, again=True)
                self.workers.cancel_group(self, "try")
                self.pending = True
                self._pause_timer.reset()
                self._pause_timer.resume()

    @property
    def _project(self) -> Path:
        assert self.planner.state is not None
        return self.planner.state.source.path

    def _keep(self) -> None:
        """Keeps what is typed for the next start, in case this one ends without a word."""
        assert self.field is not None
        text, because = self.text, self.reason
        if text == self._began and not because:
            let_go(self._project, self.field.key)
            return
        trouble = keep(self._project, self.field.key, text, because)
        if trouble and self.planner.keeps_typed:
            self.planner.say(f"If the program ends, what you type before Enter is lost here: {trouble}.", bad=True)
        self.planner.keeps_typed = not trouble

    def on_mount(self) -> None:
        self._pause_timer = self.set_interval(PAUSE, self.try_it, pause=True)
        for box in self.query(TextBox):
            self.watch(box, "value", self._typed, init=False)  # at once, so that one paint has what was typed and read

    @work(exclusive=True, group="try")
    async def try_it(self) -> None:
        """Works out what it would touch, now that the keys rest; a newer text drops it."""
        self.stop_waiting()
        if self.field is not None:
            await asyncio.to_thread(settle, self._project)
            await self._prepare()

    def stop_waiting(self) -> None:
        self.pending = False
        self._pause_timer.pause()

    @property
    def _wanted(self) -> tuple[str, str]:
        """What is to be tried: the text, and with a limit its reason, which is written beside it."""
        limit = self.field is not None and self.field.key.startswith("limits.")
        return self.text, self.reason if limit else ""

    async def _prepare(self) -> str:
        """Tries what is written; gives what is wrong with it, empty for nothing."""
        wanted = text, because = self._wanted
        field, state = self.field, self.planner.state
        assert field is not None and state is not None
        fault = understood(field.wants, text, self.planner.style).fault
        if text == field.written or fault:  # a fault stands under the field already
            self.show_preview([])
            return fault
        self.planner.show_busy("seeing what it touches")
        settings = [Setting(field.key, text)]
        try:
            with watched(self._progress) as watch:
                prepared = await asyncio.to_thread(watch.run, self._try, state, settings, because)
        except NoLongerWanted:
            return DROPPED
        except TROUBLES as error:
            told = error_text(error)
            self.show_preview([clean(told)])
            return told
        finally:
            self.planner.show_busy("")
        self._prepared = (wanted, prepared)
        self.show_preview(preview_lines(prepared.tried))
        return ""

    def _try(self, state: State, settings: list[Setting], because: str) -> Prepared:
        import filelock  # noqa: F401  (what saving needs, while nobody waits for a key)

        prepared = prepare(state, settings, because)
        self._foresee(prepared.then)
        return prepared

    def _progress(self, done: int, whole: int) -> None:
        """Told in the thread how far the sweep is."""
        self.app.call_from_thread(self._progressed, f"swept {done} of {whole}")

    def _progressed(self, what: str) -> None:
        if self.planner.busy:  # else the work was dropped while this was on its way
            self.planner.show_busy(what)

    @work(exclusive=True, group="try")
    async def action_accept(self) -> None:
        """Makes the change; what stands against it is said, and the field stays open."""
        self.stop_waiting()
        field, text = self.field, self.text
        if field is None:
            return
        if text == field.written:
            self.close(moved=False)
            return
        if (self._prepared is None or self._prepared[0] != self._wanted) and await self._prepare():
            return
        assert self._prepared is not None
        because, prepared = self.reason, self._prepared[1]
        trouble = await self.planner.run_job(
            "saving", lambda _: accept(prepared, because), lambda: self.close(moved=True)
        )
        if trouble:
            self.show_preview([clean(trouble)])

    def on_click(self, event: events.Click) -> None:
        if self.query_one("#change-preview").region.contains_point(event.screen_offset):
            self.action_touched()

    def action_touched(self) -> None:
        if self._prepared is not None:
            self._show_touched(self._prepared[1].tried)
        elif self.pending or self.planner.busy:
            self.planner.say("What it touches is still being worked out.")

    def action_leave(self) -> None:
        self.close(moved=False)

    def close(self, moved: bool) -> None:
        self.stop_waiting()
        self.workers.cancel_group(self, "try")
        if self.field is not None:
            let_go(self._project, self.field.key)
        self.field = self._prepared = None
        self.display = False
        self._hide_words()
        self._when_closed(moved)
