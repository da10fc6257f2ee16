"""The changes to the truck in words: what each candidate reads instead of what was found, and where a value is from."""

from collections import Counter
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from planner.plan.truck.project import OpenProject
from planner.plan.truck.wording import count
from planner.project.change_checks import change_title
from planner.project.change_questions import open_questions, set_by
from planner.project.changes import held_at
from planner.project.faults import as_key
from planner.project.lines import Key
from planner.project.planned_truck import SetEntry, set_words
from planner.quantities.text import clean

NOT_ENTERED = "not entered"


class ChangedEntry(NamedTuple):
    """One entry of the truck that a change sets: its key as people read it, both values as written, and by what.

    `set_at` is the key of the planned value in the file, `written` the entry's own as the change has it.
    """

    key: str
    found: str
    planned: str
    by: str
    set_at: str
    written: str


def changed_entries(opened: OpenProject, fitment: str) -> list[ChangedEntry]:
    """All that is set for a candidate otherwise than it was found, in the order of the changes."""
    return [_changed(opened, *pair) for pair in opened.set_over(fitment).items() if not pair[1].moved]


def more_of_changes(opened: OpenProject, fitment: str) -> Iterator[str]:
    """What moves along with what is set, and what each change leaves open, in a line each."""
    along = Counter(entry.number for entry in opened.set_over(fitment).values() if entry.moved)
    for number, many in along.items():
        moved = count(many, "entry moves", "entries move")
        yield f"the change '{title_of(opened, number)}': {moved} with it, as worked out"
    yield from _measured_too_soon(opened, opened.changes_of(fitment))
    for number in opened.changes_of(fitment):
        asked = asked_by_change(opened, number, fitment)
        if asked:
            says = "nothing that rests on these is known"
            yield f"the change '{title_of(opened, number)}' leaves open {'; '.join(map(opened.spoken, asked))}: {says}"


def open_changes(opened: OpenProject, fitment: str) -> Iterator[str]:
    """How much each change leaves open, in one short line."""
    yield from _measured_too_soon(opened, opened.changes_of(fitment))
    for number in opened.changes_of(fitment):
        many = len(asked_by_change(opened, number, fitment))
        if many:
            asked = count(many, "entry", "entries")
            them = "it" if many == 1 else "them"
            yield f"the change '{title_of(opened, number)}' leaves {asked} open: what rests on {them} is not known"


def _measured_too_soon(opened: OpenProject, numbers: Iterable[int]) -> Iterator[str]:
    """What was measured of a change that is not done counts for nothing: that is said."""
    for number in numbers:
        change = opened.project.changes[number]
        if change.measured and change.state != "done":
            yield f"the change '{title_of(opened, number)}' was measured, and that counts once its state is done"


def asked_by_change(opened: OpenProject, number: int, fitment: str = "") -> dict[str, str]:
    """The entries that a change leaves open, by their own keys, each as it is to be written under the change."""
    trucks = [truck for name, truck in opened.trucks.items() if fitment in ("", name)]
    asked = [one for truck in trucks for one in truck.open if one.change == number]
    change = opened.project.changes[number]
    if not asked and change.state == "considered":  # told before it is decided, though nothing waits for it yet
        asked = open_questions(opened.project, number, set_by(opened.project, change))
    return {one.entry: one.written for one in asked}


def _changed(opened: OpenProject, key: Key, entry: SetEntry) -> ChangedEntry:
    by = set_words(opened.project, entry)
    spoken, set_at = opened.typed(as_key(key)), as_key(entry.key)
    return ChangedEntry(
        spoken, written_at(opened, key), written_at(opened, entry.key), by, set_at, str(entry.key[3])
    )  # fmt: skip


def written_at(opened: OpenProject, key: Key) -> str:
    """What is written at a key of the file; a list with commas."""
    data = held_at(opened.opened.data, key)
    if data is None:
        return NOT_ENTERED
    return clean(", ".join(map(str, data)) if isinstance(data, list) else str(data))


def origin(opened: OpenProject, key: str) -> str:
    """Where a value was had from: an entry by its key, or the change that sets it."""
    pair = opened.set_entry(key)
    return f"entered: {clean(key)}" if pair is None else f"by {set_words(opened.project, pair[1])}: {key}"


def found_beside(opened: OpenProject, key: str) -> str:
    """What was found, for a value that a change sets; empty for any other."""
    pair = opened.set_entry(key)
    return "" if pair is None else f"; found: {written_at(opened, pair[0])}"


def read_otherwise(opened: OpenProject, keys: Iterable[Key]) -> Iterator[str]:
    """For each of these entries that a planned candidate does not read as found, what it reads instead."""
    for key in keys:
        for fitment in opened.planned:
            for own, entry in opened.set_over(fitment).items():
                if key[: len(own)] == own and not entry.moved:
                    said = f"{written_at(opened, entry.key)} by {set_words(opened.project, entry)}"
                    yield f"{opened.spoken(as_key(own))} says how the truck was found: {clean(fitment)} reads {said}"


def planned_changes(opened: OpenProject) -> list[int]:
    """The places in the file of the changes that go with what is planned, tried ones included."""
    return sorted({number for fitment in opened.planned for number in opened.changes_of(fitment)})


def entries_of(opened: OpenProject, number: int) -> list[ChangedEntry]:
    """What one of them sets, for all that it goes with of what is planned."""
    over = [pair for fitment in opened.planned for pair in opened.set_over(fitment).items()]
    own = {key: entry for key, entry in over if entry.number == number and not entry.moved}
    return [_changed(opened, *pair) for pair in own.items()]


def title_of(opened: OpenProject, number: int) -> str:
    return change_title(number, opened.project.changes[number])
