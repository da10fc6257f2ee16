"""Watching long work from outside: how far it is, and that it is no longer wanted."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar, copy_context
from threading import Event
from time import monotonic
from typing import Any

RARELY = 0.1  # seconds at the least between two tellings: whoever is told has other things to do

Tell = Callable[[int, int], None]  # how many of how many are done


class NoLongerWanted(Exception):
    """Nobody wants the result any more."""


_WATCH: ContextVar["Watch | None"] = ContextVar("watch", default=None)


class Watch:
    """Who waits for one piece of work; `drop` makes it end at its next step."""

    def __init__(self, tell: Tell | None = None) -> None:
        self._tell, self._dropped, self._quiet_until = tell, Event(), 0.0

    def drop(self) -> None:
        self._dropped.set()

    def run(self, work: Callable[..., Any], *given: Any) -> Any:
        """The work, watched, in whichever thread this is called; raises `NoLongerWanted` where it was dropped."""
        context = copy_context()
        context.run(_WATCH.set, self)
        return context.run(work, *given)

    def step(self, done: int, whole: int) -> None:
        if self._dropped.is_set():
            raise NoLongerWanted
        if self._tell is not None and monotonic() >= self._quiet_until:
            self._tell(done, whole)
            self._quiet_until = monotonic() + RARELY


@contextmanager
def watched(tell: Tell | None = None) -> Iterator[Watch]:
    """A watch that is dropped when the block is left, by whatever way."""
    watch = Watch(tell)
    try:
        yield watch
    finally:
        watch.drop()


def step(done: int, whole: int) -> None:
    """Told by long work between two of its steps; without anybody who watches it does nothing."""
    watch = _WATCH.get()
    if watch is not None:
        watch.step(done, whole)
