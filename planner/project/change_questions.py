"""What a change to the truck leaves open: entries that its kind may have moved, and that it does not set."""

from collections.abc import Collection, Iterator, Mapping
from typing import NamedTuple

from planner.project.change_kinds import KindOfChange, kind_called
from planner.project.faults import as_key
from planner.project.lines import Key
from planner.project.models.changes import TruckChange
from planner.project.models.project import Project
from planner.project.moved_entries import moved_entries
from planner.project.truck_keys import truck_key, value_at
from planner.project.written_keys import split_key
from planner.quantities.quantity import Quantity

ENDS = ("front", "rear")


class OpenQuestion(NamedTuple):
    """One entry that a change has to say, by its key as it is written there, and the entries not known meanwhile."""

    change: int
    written: str
    lost: tuple[Key, ...]

    @property
    def entry(self) -> str:
        """The entry's own key; of an obstacle its number stands in it."""
        return as_key(self.lost[0]) if self.lost[0][0] == "obstacles" else self.written

    @property
    def key(self) -> Key:
        return ("changes", self.change, "sets", self.written)


def open_questions(project: Project, number: int, answered: Collection[Key]) -> list[OpenQuestion]:
    """What a change leaves open; `answered` are the entries that it, or another that goes with it, sets or measured."""
    change = project.changes[number]
    kind, own = kind_called(change.kind), set_by(project, change)
    found: list[OpenQuestion] = []
    for end in ends_of(project, kind, own):
        amount = _path(kind.amount, end)
        if amount and amount not in answered:
            found.append(OpenQuestion(number, as_key(amount), (amount, *riding(project, kind.rides, end))))
        found += _asked(project, number, kind, end, own, answered)
        for at, one in enumerate(project.obstacles):
            apart = one.axle == end and _moved_apart(kind, one.kind, one.moves_with)
            for name in ("at", "to") if apart else ():
                there = ("obstacles", at, name)
                if value_at(project, there) is not None and there not in answered:
                    found.append(OpenQuestion(number, obstacle_key(project, at, name), (there,)))
    by_key = dict[str, tuple[Key, ...]]()
    for question in found:  # a condition stands for all that hangs on it
        by_key[question.written] = (*by_key.get(question.written, ()), *question.lost)
    return [OpenQuestion(number, written, lost) for written, lost in by_key.items()]


def ends_of(project: Project, kind: KindOfChange, own: Collection[Key]) -> tuple[str, ...]:
    """The ends of the truck that a change is about: those of which it sets something, or all that it may be about."""
    may = [end for end in ENDS if not kind.steered or steers(project, end)]
    of = kind.amount and [end for end in ENDS if _path(kind.amount, end) in own]
    named = of or [
        end
        for end in ENDS
        if any(key[:2] == ("axles", end) or (key[0] == "obstacles" and _axle_of(project, key) == end) for key in own)
    ]
    return tuple(end for end in ENDS if end in (named or may))


def set_by(project: Project, change: TruckChange) -> dict[Key, object]:
    """What a change sets, and once it is done what was measured of it, by the entries' own keys."""
    after = {key: one.value for key, one in change.measured.items()} if change.state == "done" else {}
    keys = ((truck_key(project, written), value) for written, value in (*change.sets.items(), *after.items()))
    return {at.key: value for at, value in keys if at is not None}


def replaced(project: Project, change: TruckChange) -> Iterator[Key]:
    """The entries found that hold no longer, since the change says the same thing another way."""
    kind, own = kind_called(change.kind), set_by(project, change)
    for end in ends_of(project, kind, own):
        for ways in kind.ways:
            paths = [[_path(name, end) for name in way] for way in ways]
            if any(path in own for way in paths for path in way):
                yield from (path for way in paths if not any(one in own for one in way) for path in way)


def touched(project: Project, number: int) -> set[Key]:
    """Every entry that a change sets, moves along, or may have moved."""
    change = project.changes[number]
    kind, own = kind_called(change.kind), set_by(project, change)
    ends = ends_of(project, kind, own) if kind.rides else ()
    asked = open_questions(project, number, own)
    return {
        *own,
        *replaced(project, change),
        *(key for end in ends for key in riding(project, kind.rides, end)),
        *(key for one in asked for key in one.lost),
    }


def moved_by(project: Project, change: TruckChange, entry: Key) -> tuple[Key, ...]:
    """What moves along with an entry of a change: nothing, but with how much it is."""
    kind = kind_called(change.kind)
    ends = [end for end in ENDS if kind.amount and _path(kind.amount, end) == entry]
    return riding(project, kind.rides, ends[0]) if ends else ()


def obstacle_key(project: Project, at: int, entry: str) -> str:
    """How an obstacle's place is written under a change: by its name, where no other has it."""
    name = project.obstacles[at].name
    alone = name and [one.name for one in project.obstacles].count(name) == 1 and "." not in name
    return f"obstacles.{name}.{entry}" if alone else f"obstacles[{at}].{entry}"


def riding(project: Project, rides: str, end: str) -> tuple[Key, ...]:
    """The entries that move with an amount at an end."""
    return tuple(one.key for one in moved_entries(project, rides, {end: Quantity(0.0)}))


def says_no(value: object) -> bool:
    return value is False or (isinstance(value, str) and value.strip().lower() in ("no", "false"))


def steers(project: Project, end: str) -> bool:
    """Whether an axle steers, as the person says, or the front one."""
    said = getattr(project.axles, end).steered
    return end == "front" if said is None else bool(said)


def _asked(
    project: Project, number: int, kind: KindOfChange, end: str, own: Mapping[Key, object], answered: Collection[Key]
) -> Iterator[OpenQuestion]:
    tables = {key[:3] for key in own}
    for one in kind.asks:
        path, others = _path(one.entry, end), tuple(_path(name, end) for name in one.one_of)
        if kind.by_table and tables and path[:3] not in tables and path != ("axles", end, "nuts", "engaged_length"):
            continue
        if (one.steered and not steers(project, end)) or any(key in answered for key in (path, *others)):
            continue
        lost = tuple(key for key in (path, *others) if value_at(project, key) is not None)
        if not (lost or one.always):
            continue
        written = as_key(path)
        if one.condition:
            condition = _path(one.condition, end)
            if says_no(own.get(condition)):
                continue
            written = written if condition in own else as_key(condition)
        yield OpenQuestion(number, written, tuple(dict.fromkeys((path, *lost))))


def _path(entry: str, end: str) -> Key:
    return split_key(entry.replace("{end}", end)) or () if entry else ()


def _axle_of(project: Project, key: Key) -> str | None:
    return project.obstacles[key[1]].axle if isinstance(key[1], int) else None


def _moved_apart(kind: KindOfChange, what: str | None, moves_with: str | None) -> bool:
    """Whether a kind moves an obstacle otherwise than all that rides along with it."""
    if what not in kind.obstacles:
        return False
    return kind.rides != "body" or what == "spring" or moves_with == "body"
