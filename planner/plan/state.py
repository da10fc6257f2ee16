"""The state of one open project: everything that the screens show, worked out once, and the ways to another state."""

import datetime
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path
from typing import NamedTuple

from planner.plan.answers.flagging import Flag, Tally, flags, tally
from planner.plan.answers.measure_next import WantedEntry, measure_next
from planner.plan.answers.open_project import open_project
from planner.plan.change.changing import Setting, TriedChange, make, try_settings
from planner.plan.change.cure import bring_state_back, make_change_again, take_back_change
from planner.plan.change.task_recordings import make_recording as make_record
from planner.plan.revisit.plan_flags import all_flags
from planner.plan.truck.project import OpenProject
from planner.plan.truck.recording import Recording
from planner.plan.work.item import Item
from planner.plan.work.received_wheels import Piece, received_wheels
from planner.plan.work.task_list import Work, next_up, work_or_why
from planner.project.diary_reading import read_last
from planner.project.faults import Faulty
from planner.project.source import ProjectText


class State(NamedTuple):
    """A project with its flags, the worst first, and its work; `schedule_error` says why the work has no order.

    `came` are the wheels that came, each held against its order; `day` is the day as of which everything is worked out,
    None for the day that it is when it is read. `kept` is how many entries its diary has, 0 where that cannot be read;
    `wanted` are the entries that flags wait for, what decides most first.
    """

    opened: OpenProject
    flags: tuple[Flag, ...]
    tally: Tally
    work: Work | None
    schedule_error: str = ""
    day: datetime.date | None = None
    came: tuple[Piece, ...] = ()
    kept: int = 0
    wanted: tuple[WantedEntry, ...] = ()

    @property
    def source(self) -> ProjectText:
        return self.opened.opened.source

    @property
    def next_task(self) -> Item | None:
        """What can be done now and presses most."""
        return next(iter(next_up(self.work)), None) if self.work else None


class Prepared(NamedTuple):
    """A change that was tried, and the state that it leads to once it is accepted."""

    tried: TriedChange
    then: State


def read(path: Path, today: datetime.date | None = None) -> State:
    """The state of the project at `path`; raises `Faulty`."""
    return state_of(open_project(path, today), today)


def state_of(opened: OpenProject, day: datetime.date | None = None, judged: Sequence[Flag] | None = None) -> State:
    """Flags and work of a project that is open; `judged` are its flags where somebody worked them out before."""
    found = flags(opened) if judged is None else list(judged)
    everything = tuple(all_flags(opened, found))
    listed, schedule_error = work_or_why(opened, found)
    came = received_wheels(opened, found) if opened.project.wheels else ()
    kept, wanted = _kept(opened.opened.source), tuple(measure_next(opened, everything))
    return State(opened, everything, tally(everything), listed, schedule_error, day, came, kept, wanted)


def _kept(source: ProjectText) -> int:
    with suppress(Faulty, OSError, ValueError):
        last = read_last(source.path, 1).entries
        return last[-1].number if last else 0
    return 0


def prepare(state: State, settings: Sequence[Setting], because: str = "") -> Prepared:
    """What comes of setting these keys, with nothing written; raises `RefusedChange` or `Faulty`."""
    tried = try_settings(state.opened, settings, because)
    return Prepared(tried, state_of(tried.after, state.day) if tried.moved else state)


def accept(prepared: Prepared, because: str = "") -> State:
    """The change made, in the file and in its diary; raises `NotSaved`, and nothing is written."""
    if prepared.tried.moved:
        done = make(prepared.tried, because).written.source
        if done.digest != prepared.then.source.digest:  # what records rested on was put away in the diary
            return read(done.path, prepared.then.day)
        return prepared.then._replace(kept=_kept(done))
    return prepared.then


def record(state: State, recording: Recording) -> State:
    """A tick, a new task or the like written down; raises `NotSaved`, `Faulty` or `ScheduleError`."""
    make_record(state.opened, recording)
    return read(state.source.path, state.day)


def take_back(state: State, because: str = "") -> State:
    """The last change taken back; raises `NotSaved` or `Faulty`."""
    take_back_change(state.source, because)
    return read(state.source.path, state.day)


def make_again(state: State, because: str = "") -> State:
    """The change that was taken back last, made again; raises `NotSaved` or `Faulty`."""
    make_change_again(state.source, because)
    return read(state.source.path, state.day)


def return_to(state: State, number: int, because: str = "") -> State:
    """The project as an entry of the diary left it; raises `NotSaved` or `Faulty`."""
    bring_state_back(state.source, number, because)
    return read(state.source.path, state.day)
