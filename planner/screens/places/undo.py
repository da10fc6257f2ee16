"""Taking the last change back, and making it again: what moved is said, since it may stand at another place."""

from collections.abc import Callable

from planner.plan.state import State
from planner.plan.truck.entry_names import lasting_name
from planner.project.diary_reading import read_last
from planner.project.diary_words import move
from planner.screens.state_app import StateApp

SHOWN = 2  # keys that are named


async def undo_or_redo(planner: StateApp, what: str, job: Callable[[State], State], done: str) -> None:
    """Runs the job; says `done` and what moved, or what went wrong."""
    said: list[str] = []

    def told(state: State) -> State:
        then = job(state)
        entry = read_last(then.source.path, 1).entries[-1]
        moved = [move(one, None, lasting_name) for one in entry.moved[:SHOWN]]
        more = len(entry.moved) + entry.left_out - len(moved)
        moved += [f"and {more} more"] if more else []
        said.append("; ".join(moved) or "no value: only comments or spaces")
        return then

    trouble = await planner.run_job(what, told)
    planner.say(trouble or f"{done}: {said[0]}", bad=bool(trouble))
