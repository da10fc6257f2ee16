"""What a command says of something that it wrote down, and of what it would not: alike whatever was recorded."""

from collections.abc import Callable
from datetime import date
from typing import TypeVar

from planner.commands.page import as_json
from planner.commands.table import FINE, WRONG, faults_told, wrong
from planner.plan.answers.open_project import open_project
from planner.plan.change.task_recordings import make_recording
from planner.plan.change.widening import widening, widening_words
from planner.plan.truck.project import OpenProject
from planner.plan.truck.recording import Recording, RefusedChange, Takes
from planner.project.diary import Committed
from planner.project.diary_words import kept_words
from planner.project.faults import Faulty
from planner.project.saving import ChangedOutside, NotSaved, reserved
from planner.quantities.text import clean

Result = TypeVar("Result")

HOW: dict[Takes, str] = {  # how it is given here, what a refusal says that it takes
    "": "",
    "signature": ': --because "who looked, and that it is right"',
    "reason": ': --because "why"',
    "which counts": ": --counts this, or --counts entry",
    "all the same": ': --anyway --because "why"',
    "list": "; planner task FILE lists them",
}


def refuse_moved(seen: list[object], now: object, called: str) -> None:
    """Refuses a change that is tried again where what it is about is not what it was when it was tried first."""
    if seen and seen[0] != now:
        raise RefusedChange(f"{called}: another program has just changed it; look at it, and try again")
    seen[:] = [now]


def carried_out(command: str, job: Callable[[], int]) -> int:
    """The job's exit code, or what stands against it, in a line."""
    try:
        return job()
    except Faulty as faulty:
        return faults_told(faulty)
    except RefusedChange as refused:
        wrong(f"{command}: {refused}{HOW[refused.takes]}")
    except NotSaved as failed:
        wrong(str(failed))
    return WRONG


def on_newest(opened: OpenProject, make: Callable[[OpenProject], Result], day: date | None = None) -> Result:
    """What `make` gives, which works a change out on the project and saves it, where another program may be quicker.

    Then it is done once more, on what stands there now, and the other waits meanwhile. So both changes are made, or
    the second is refused for what the first made of the project.
    """
    try:
        return make(opened)
    except ChangedOutside:
        path = opened.opened.source.path
        with reserved(path):
            return make(open_project(path, day))


def written_down(opened: OpenProject, record: Callable[[OpenProject], Recording], json: bool = False) -> int:
    """Makes the recording that `record` gives of the project, and says so; raises what `make_recording` raises."""

    def make(now: OpenProject) -> tuple[Recording, Committed]:
        recording = record(now)
        found = widening(now)
        if found and not now.opened.faults:  # over a fault only its cure is made
            for line in widening_words(found):
                wrong(line)
        return recording, make_recording(now, recording, widened=found)

    recording, written = on_newest(opened, make)
    number, says = written.entries[-1].number, clean(recording.says)
    print(as_json({"says": says, "diary": number}) if json else f"{says}  (diary entry {number})")
    if written.written.kept is not None:
        wrong(kept_words(written.written.kept, written.format_moved, comments_lost=False))
    if written.set_aside:
        wrong(f"half an entry at the end of the diary was set aside in {written.set_aside}")
    return FINE
