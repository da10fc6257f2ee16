"""Mock-up readings written down: each keeps what it was taken by, and is looked at again when that moved."""

from collections.abc import Collection, Iterable, Iterator, Mapping
from typing import Any

from planner.plan.answers.mock_up_basis import mock_up_basis
from planner.plan.truck.project import OpenProject
from planner.plan.truck.recording import Recording, RefusedChange
from planner.project.changes import DELETE
from planner.project.diary_entries import KeyChange
from planner.project.lines import Key
from planner.quantities.text import clean

_KEPT = ("rests", "rested_on")
_SAYS = ("of", "value", "fitment", "side", "reached", "turned", "came_up")  # a new one of these is a reading taken now


def bases_of_new(after: OpenProject, changed: Collection[Key]) -> dict[Key, object]:
    """What is to be kept beside the mock-up readings that a change writes: what they were taken by, as it is now."""
    numbers = {key[1] for key in changed if key[0] == "readings" and len(key) > 1 and (len(key) < 3 or key[2] in _SAYS)}
    kept: dict[Key, object] = {}
    for at, reading in enumerate(after.project.readings):
        if at in numbers and reading.fitment is not None and reading.value is not None:
            kept |= _resting(after, at)
    return kept


def without_bases(moved: Iterable[KeyChange]) -> Iterator[KeyChange]:
    """What a person set, without what is kept beside it until the save puts it away."""
    for one in moved:
        if one.key[0] != "readings" or one.key[-1] not in _KEPT:
            yield one._replace(now=_bare(one.now)) if one.key[0] == "readings" else one


def _bare(value: Any) -> Any:
    if isinstance(value, list):
        return [_bare(one) for one in value]
    return {name: one for name, one in value.items() if name not in _KEPT} if isinstance(value, dict) else value


def reading_stands(opened: OpenProject, at: int, because: str) -> Recording:
    """A mock-up reading that was looked at: it is of the wheel and the truck as they are entered now."""
    reading = opened.project.readings[at]
    if reading.fitment is None or reading.value is None:
        raise RefusedChange(f"readings[{at}] isn't from a mock-up: it rests on nothing")
    if not because:
        raise RefusedChange(f"readings[{at}]: give a reason why it still counts", "reason")
    says = f"the mock-up reading of {clean(reading.of or '')} stands"
    return Recording(dict(_resting(opened, at)), "reading", says, because)


def _resting(opened: OpenProject, at: int) -> Mapping[Key, object]:
    reading = opened.project.readings[at]
    kept: dict[Key, object] = {("readings", at, "rested_on"): mock_up_basis(opened, reading)}
    return kept | ({("readings", at, "rests"): DELETE} if reading.rests is not None else {})
