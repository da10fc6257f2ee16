"""What a command says of something that it wrote down, and of what it would not: alike whatever was recorded."""

from collections.abc import Callable

from planner.commands.page import as_json
from planner.commands.table import FINE, WRONG, faults_told, wrong
from planner.plan.change.task_recordings import make_recording
from planner.plan.truck.project import OpenProject
from planner.plan.truck.recording import Recording, RefusedChange, Takes
from planner.project.diary_words import kept_words
from planner.project.faults import Faulty
from planner.project.saving import NotSaved
from planner.quantities.text import clean

HOW: dict[Takes, str] = {  # how it is given here, what a refusal says that it takes
    "": "",
    "signature": ': --because "who looked, and that it is so"',
    "reason": ': --because "why"',
    "all the same": ': --anyway --because "why"',
    "list": "; planner task FILE lists them",
}


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


def written_down(opened: OpenProject, recording: Recording, json: bool = False) -> int:
    """Makes a recording, and says so; raises what `make_recording` raises."""
    written = make_recording(opened, recording)
    number, says = written.entries[-1].number, clean(recording.says)
    print(as_json({"says": says, "diary": number}) if json else f"{says}  (diary entry {number})")
    if written.written.kept is not None:
        wrong(kept_words(written.written.kept, written.format_moved, comments_lost=False))
    if written.set_aside:
        wrong(f"half an entry at the diary's end was set aside in {written.set_aside}")
    return FINE
