"""The project's state in the program, and the one door through which it changes."""

import asyncio
from collections.abc import Callable
from typing import TYPE_CHECKING

from textual import work
from textual.app import App

if TYPE_CHECKING:
    from planner.plan.state import State
    from planner.quantities.show import Style


class Doored(App[None]):
    """A program with a state: jobs that make the next one go through the door, one at a time, in a thread."""

    def __init__(self) -> None:
        super().__init__()
        self.state: State | None = None
        self.fitment = ""  # the one that is in view
        self.busy = ""
        self.door = asyncio.Lock()  # one job at a time

    async def through(
        self, what: str, job: "Callable[[State], State]", then: "Callable[[], None] | None" = None
    ) -> str:
        """Has a job make the next state out of this one, in a thread; gives what went wrong, empty for nothing.

        Who asked may be gone meanwhile, a newer key having come: the job is done and its state is taken all the same.
        What is done `then` is painted with the new state, at once.
        """
        return await asyncio.shield(asyncio.create_task(self._through(what, job, then)))

    async def _through(self, what: str, job: "Callable[[State], State]", then: "Callable[[], None] | None") -> str:
        from planner.screens.troubles import in_words

        async with self.door:
            if self.state is None:
                return "there is no project yet"
            self.show_busy(what)
            try:
                state = await asyncio.to_thread(job, self.state)
            except Exception as error:
                return in_words(error)
            finally:
                self.show_busy("")
            self.take(state)
            if then is not None:
                then()
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
