"""Mending a file that is faulty: a change that takes away all that is wrong with it, tried and then made."""

from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import NamedTuple

from planner.plan.changing import Setting, amended, asked_for
from planner.plan.opening import OpenProject, work_out
from planner.project.amending import OLD_KEPT
from planner.project.diary import Committed, commit
from planner.project.diary_entries import Moved, moves
from planner.project.faults import Fault, Faulty, as_key
from planner.project.lines import line_of
from planner.project.models.project import Project
from planner.project.reading import Opened, understand
from planner.project.source import Source, load


class StillFaulty(Faulty):
    """A change that leaves faults in a faulty file; these are the ones that would be left."""


class Mended(NamedTuple):
    """A mending that was not made yet: what it sets, the faults that it takes away, and the project after it.

    There is no project before it to hold the new one against: nothing can be worked out from a faulty file.
    """

    moved: tuple[Moved, ...]
    faults: tuple[Fault, ...]
    before: Source
    after: OpenProject
    begun: tuple[str, ...] = ()
    comments_lost: bool = False


def try_mending(path: Path, settings: Sequence[Setting], faults: Sequence[Fault], because: str = "") -> Mended:
    """What comes of setting these keys in a file with these faults.

    Raises `RefusedChange` as a change does, `StillFaulty` with what would be left, `Faulty` where the text is no TOML.
    """
    source = load(path)
    changes, begun = asked_for(Opened(Project.model_construct(), source, ()), settings, because)
    new, lost = amended(source, changes)
    try:
        after = work_out(understand(new), date.today())
    except Faulty as faulty:  # told with the lines of the file as it stands
        left = tuple(fault._replace(line=line_of(source.lines, fault.key)) for fault in faulty.faults)
        raise StillFaulty(path, left) from None
    return Mended(tuple(moves((), source.data, new.data)), tuple(faults), source, after, begun, lost)


def mend(trial: Mended, because: str) -> Committed:
    """Makes the mending that was tried: file and diary together, or neither; raises `NotSaved`."""
    details = {"mended": [as_key(fault.key) for fault in trial.faults]}
    text = trial.after.opened.source.text
    kept = OLD_KEPT if trial.comments_lost else None
    return commit(trial.before, text, kind="change", because=because, details=details, keep_old=kept)
