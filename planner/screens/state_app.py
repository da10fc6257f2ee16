"""The app as its screens know it: the project's state, the jobs that change it, and going from place to place."""

import asyncio
from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING

from textual import work
from textual.app import App
from textual.dom import DOMNode
from textual.message import Message
from textual.screen import Screen

from planner.quantities.text import clean

if TYPE_CHECKING:
    from planner.plan.state import State
    from planner.quantities.show import Style


class StateScreen(Screen[None]):
    """A screen that shows the state, and that the app leads to: a place of the program."""

    class CloseWanted(Message):
        """The person wants to go back to the start menu."""

    @property
    def planner(self) -> "StateApp":
        return planner_of(self)

    def take_state(self) -> None:
        """Shows the app's state, where another one was shown, and what is being worked out."""

    def arrive(self) -> None:
        """Somebody has come here: what has the keys is what they came for."""

    async def leaving(self) -> None:
        """The project is about to be closed, or the program to end: what is not in the file yet is put there."""

    def has(self, key: str) -> bool:
        """Whether an entry stands at this place."""
        return False

    def show_entry(self, key: str) -> bool:
        """The cursor on an entry's row; whether this place has it."""
        return False

    def show_about(self, about: object) -> None:
        """The cursor on the row of a flag, a task or the like, once the place is in sight."""

    def show_first(self, kind: str) -> None:
        """The cursor on the first row of a kind."""


class StateApp(App[None]):
    """State down, messages up: places show `state`; to change it they hand a job to `run_job`.

    `places` make the screen of each place, by its name and in the order of the build.
    """

    def __init__(self, places: Mapping[str, Callable[[], StateScreen]]) -> None:
        super().__init__()
        self.state: State | None = None
        self.fitment = ""  # the one that is in view
        self.busy = ""
        self.job_lock = asyncio.Lock()  # one job at a time
        self.keeps_typed = True  # until it turns out that nothing can be kept beside the project
        self.places = places

    # the state, and the jobs that make another one

    async def run_job(
        self, what: str, job: "Callable[[State], State]", then: "Callable[[], None] | None" = None
    ) -> str:
        """Has a job make the next state out of this one, in a thread; gives what went wrong, empty for nothing.

        Who asked may be gone meanwhile, a newer key having come: the job is done and its state is taken all the same.
        What is done `then` is painted with the new state, at once. A fault of our own in a job ends the program.
        """
        task = asyncio.create_task(self._run_job(what, job, then))
        try:
            return await asyncio.shield(task)
        except asyncio.CancelledError:  # nobody waits for it any more: what it raises is ours to tell
            task.add_done_callback(lambda done: done.cancelled() or self.call_later(done.result))
            raise

    async def _run_job(self, what: str, job: "Callable[[State], State]", then: "Callable[[], None] | None") -> str:
        from planner.screens.error_text import TROUBLES, error_text

        async with self.job_lock:
            if self.state is None:
                return "there's no project yet"
            self.show_busy(what)
            try:
                state = await asyncio.to_thread(job, self.state)
            except TROUBLES as error:
                return error_text(error)
            finally:
                self.show_busy("")
            self.take_state(state)
            if then is not None:
                then()
            return ""

    @work(group="asked")
    async def start_job(self, what: str, job: "Callable[[State], State]") -> None:
        """A job that nobody waits for; what went wrong is told."""
        trouble = await self.run_job(what, job)
        if trouble:
            self.say(trouble, bad=True)

    def take_state(self, state: "State") -> None:
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
        if not self.is_running:  # it is being left: the places are half taken down
            return
        for screen in self.screen_stack:
            if isinstance(screen, StateScreen) and screen.is_mounted:
                screen.take_state()

    @property
    def style(self) -> "Style":
        """The units that the person thinks in."""
        assert self.state is not None
        return self.state.opened.style

    def say(self, text: str, bad: bool = False) -> None:
        """One line for the person, harmless whatever stands in it."""
        self.notify(clean(text), severity="error" if bad else "information", markup=False, timeout=8 if bad else 4)

    async def leave_places(self) -> None:
        """Lets every place put into the file what is not there yet."""
        for name in self.places if self.state is not None else ():
            if self.is_screen_installed(name):
                place = self.get_screen(name)
                assert isinstance(place, StateScreen)
                await place.leaving()

    # going about

    def place(self, name: str) -> StateScreen:
        """The screen of a place, made when it is first gone to."""
        if not self.is_screen_installed(name):
            self.install_screen(self.places[name](), name)
        shown = self.get_screen(name)
        assert isinstance(shown, StateScreen)
        return shown

    def go(self, name: str) -> StateScreen:
        """To a place; whatever lies over it is closed."""
        shown = self.place(name)
        while len(self.screen_stack) > 2:
            self.pop_screen()
        if self.screen is not shown:
            self.switch_screen(shown)
        shown.arrive()
        return shown

    def go_to_entry(self, key: str) -> None:
        """To the place of an entry, with the cursor on it."""
        for name in self.places:
            shown = self.place(name)
            if shown.has(key):
                self.go(name)
                self.call_after_refresh(shown.show_entry, key)
                return
        self.say(f"{key} isn't in any form: it's kept in the file.")


def planner_of(node: DOMNode) -> StateApp:
    """The app that a screen or a widget is in."""
    app = node.app
    assert isinstance(app, StateApp)
    return app
