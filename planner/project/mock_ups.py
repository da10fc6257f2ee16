"""Mock-up readings: the least room that was measured between a candidate's wheel and an obstacle, on one side."""

from collections.abc import Iterator
from typing import NamedTuple

from planner.project.facts import obstacle_labels
from planner.project.faults import Fault, plain
from planner.project.lines import Key
from planner.project.models.measurements import Reading
from planner.project.models.project import Project
from planner.project.models.tools import TAPE_CLOSE
from planner.project.usual_tolerances import with_usual
from planner.project.written_keys import split_key
from planner.quantities.grammar import as_text, read_value
from planner.quantities.kinds import DISTANCE
from planner.quantities.quantity import Quantity
from planner.quantities.text import normal_name
from planner.quantities.unreadable import Unreadable


class MockUp(NamedTuple):
    """One reading: its place in the file, the obstacle's number, and the room that was read."""

    at: int
    reading: Reading
    obstacle: int
    room: Quantity


def mock_ups(project: Project, assumes: bool) -> Iterator[MockUp]:
    """Every mock-up reading with a value of an obstacle that there is; what is wrong is told elsewhere.

    With `assumes`, one without a ± is as good as a tape on a short distance.
    """
    for at, reading in enumerate(project.readings):
        obstacle = None if reading.fitment is None else obstacle_meant(project, reading.of or "")
        room = None if obstacle is None else _room(reading)
        if obstacle is not None and room is not None:
            yield MockUp(at, reading, obstacle, with_usual(room, TAPE_CLOSE, DISTANCE) if assumes else room)


class BrakeGap(NamedTuple):
    """The least gap of wheel and brake over a whole turn, on one side: its place in the file, and what was read."""

    at: int
    reading: Reading
    axle: str
    room: Quantity


def brake_gaps(project: Project, assumes: bool) -> Iterator[BrakeGap]:
    """Every mock-up reading of a gap to a brake; `assumes` as for an obstacle."""
    for at, reading in enumerate(project.readings):
        axle = "" if reading.fitment is None else brake_meant(reading.of or "")
        room = _room(reading) if axle else None
        if room is not None:
            yield BrakeGap(at, reading, axle, with_usual(room, TAPE_CLOSE, DISTANCE) if assumes else room)


def brake_meant(written: str) -> str:
    """The axle whose brake `front brake` or its key names, such as `axles.front.brake`; empty where neither does."""
    key, name = split_key(written), normal_name(written)
    named = (axle for axle in ("front", "rear") if key == ("axles", axle, "brake") or name == f"{axle} brake")
    return next(named, "")


def obstacle_meant(project: Project, written: str) -> int | None:
    """The number of the obstacle that is called so, by its name or its key; None where none is, or several are."""
    key = split_key(written)
    called = written
    if key is not None and len(key) == 2 and key[0] == "obstacles":
        if isinstance(key[1], int):
            return key[1] if key[1] < len(project.obstacles) else None
        called = key[1]
    own = [one.name or "" for one in project.obstacles]
    for names in (obstacle_labels(project), own):
        meant = [number for number, name in enumerate(names) if normal_name(name) == normal_name(called)]
        if len(meant) == 1:
            return meant[0]
    return None


def mock_up_faults(project: Project, number: int) -> Iterator[Fault]:
    """What is wrong with a mock-up reading that has a value: one that nobody can hold against anything is none."""
    reading, at = project.readings[number], ("readings", number)
    if reading.value is None:
        return
    meant = obstacle_meant(project, reading.of or "")
    if meant is None and not brake_meant(reading.of or ""):
        known = " or ".join(plain(label) for label in obstacle_labels(project)[:_NAMED])
        accepted = f"front brake, or an obstacle by its name: {known or 'there is none yet'}"
        yield Fault(
            "a mock-up reading is the room at an obstacle or a brake", (*at, "of"), None, reading.of or "", accepted
        )
    elif meant is not None and reading.side and project.obstacles[meant].side not in (reading.side, "both"):
        accepted = f"{project.obstacles[meant].side}, where the obstacle is"
        yield Fault("", (*at, "side"), None, reading.side, accepted)
    try:
        read_value(as_text(reading.value), DISTANCE)
    except Unreadable as wrong:
        key: Key = (*at, "value")
        yield Fault(f"it {wrong.problem}", key, None, wrong.read, wrong.accepted)


_NAMED = 6


def _room(reading: Reading) -> Quantity | None:
    try:
        room = read_value(as_text(reading.value), DISTANCE)
    except Unreadable:
        return None
    return room if isinstance(room, Quantity) else None
