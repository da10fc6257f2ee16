"""The truck as a fitment finds it: what was found, with the changes that go with it set over it, and what they move."""

from collections.abc import Collection, Iterator, Mapping
from typing import NamedTuple

from planner.project.change_checks import PLANNED, change_title
from planner.project.change_kinds import kind_called
from planner.project.change_questions import OpenQuestion, moved_by, open_questions, replaced, touched
from planner.project.faults import as_key
from planner.project.lines import Key
from planner.project.models.changes import TruckChange
from planner.project.models.project import Project
from planner.project.moved_entries import moved_entries
from planner.project.truck_keys import read_entry, truck_key, value_at, with_value_at
from planner.project.written_keys import split_key


class SetEntry(NamedTuple):
    """One entry that a change sets: the change's place in the file, and the key there that holds the value."""

    number: int
    key: Key
    measured: bool  # whether it was measured after the work
    moved: bool = False  # whether it is worked out: what the key holds moves it along


class PlannedTruck(NamedTuple):
    """The whole project with its truck as one fitment finds it, and, by the entry's own key, what is set over it.

    `changes` are the places in the file of all changes that go with the fitment, whether or not they set anything;
    `barred` has, by the entry's key, where a change says something of it that is not known, or has to say it: nothing
    takes its place. What is `gone` was found, and holds no longer, since a change says the same thing another way.
    """

    project: Project
    set_over: Mapping[Key, SetEntry]
    changes: tuple[int, ...]
    barred: Mapping[Key, Key] = {}
    open: tuple[OpenQuestion, ...] = ()
    gone: frozenset[Key] = frozenset()


def planned_trucks(
    project: Project, not_known: Collection[Key], tried: Mapping[str, tuple[int, ...]], assumes: bool = False
) -> dict[str, PlannedTruck]:
    """By candidate, the truck where it is not as found; `tried` are considered changes, by the candidate that has them.

    A change that is tried is set over those that are decided: it is an answer to the same question. With `assumes`,
    what was measured after the work and has no ± takes the usual tolerance of its entry; what is planned is exact.
    """
    if not project.changes:
        return {}
    found: dict[str, PlannedTruck] = {}
    for fitment in project.fitments:
        numbers = (*_standing(project, fitment), *tried.get(fitment, ())) if fitment != "found" else ()
        barred = dict(_barred(project, not_known, fitment, numbers)) if not_known and fitment != "found" else {}
        if numbers or barred:
            found[fitment] = _truck(project, numbers, barred, assumes)
    return found


def goes_with(change: TruckChange, fitment: str) -> bool:
    """Whether a change goes with a candidate."""
    return fitment != "found" and (not change.with_fitments or fitment in change.with_fitments)


def _standing(project: Project, fitment: str) -> Iterator[int]:
    """The changes that are decided or done, and go with a candidate."""
    for number, change in enumerate(project.changes):
        if change.state in PLANNED and goes_with(change, fitment):
            yield number


def _barred(
    project: Project, not_known: Collection[Key], fitment: str, numbers: tuple[int, ...]
) -> Iterator[tuple[Key, Key]]:
    """What a candidate would be told by a change of which something is not known: its value, or whether it stands."""
    for lost in not_known:
        if lost[:1] != ("changes",) or len(lost) < 3 or not isinstance(lost[1], int):
            continue
        number, entry = lost[1], lost[2]
        change = project.changes[number] if number < len(project.changes) else None
        if change is None:
            continue
        doubtful: tuple[str, ...] = ()
        if entry in ("state", "with", "kind") and (entry == "state" or change.state in PLANNED):
            if entry == "with" or goes_with(change, fitment):
                yield from ((key, lost) for key in touched(project, number))
        else:
            measured = entry == "measured" and change.state == "done"
            named = len(lost) > 3 and (entry == "sets" or measured) and number in numbers
            doubtful = (str(lost[3]),) if named else ()
        for written in doubtful:
            at = truck_key(project, written)
            if at is not None:
                yield from ((key, lost) for key in (at.key, *moved_by(project, change, at.key)))


def _truck(project: Project, numbers: tuple[int, ...], barred: Mapping[Key, Key], assumes: bool) -> PlannedTruck:
    set_over: dict[Key, SetEntry] = {}
    truck = project
    for number in numbers:
        for written, value, entry in _entries(number, project.changes[number]):
            at = truck_key(project, written)
            if at is not None and at.key not in barred:  # else told as a fault where the file is read
                truck = with_value_at(truck, at.key, read_entry(at, value, assumes and entry.measured))
                set_over[at.key] = entry
    answered = {*set_over, *barred}
    asked = [one for number in numbers for one in open_questions(project, number, answered)]
    lost = {key: one.key for one in asked for key in one.lost if key not in answered} | dict(barred)
    truck, moved, more = _along(truck, set_over, lost)
    asked += more
    lost |= {key: one.key for one in more for key in one.lost}
    gone = frozenset(
        key for number in numbers for key in replaced(project, project.changes[number]) if key not in set_over
    )
    for key in gone:
        truck = with_value_at(truck, key, None)
        lost.pop(key, None)
    return PlannedTruck(truck, {**set_over, **moved}, numbers, lost, tuple(asked), gone)


def _along(
    truck: Project, set_over: Mapping[Key, SetEntry], barred: Mapping[Key, Key]
) -> tuple[Project, dict[Key, SetEntry], list[OpenQuestion]]:
    """The truck with all that moves along with what is set, but for what is set or not known itself.

    What nobody can work out has to be entered.
    """
    moved, asked = dict[Key, SetEntry](), list[OpenQuestion]()
    for kind in (kind_called("spacer or adapter"), kind_called("lift")):
        amounts = {}
        for end in ("front", "rear"):
            key = split_key(kind.amount.replace("{end}", end)) or ()
            amount = value_at(truck, key) if key in set_over else None
            if amount is not None:
                amounts[end] = (amount, set_over[key])
        for one in moved_entries(truck, kind.rides, {end: amount for end, (amount, _) in amounts.items()}):
            by = amounts[one.end][1]
            if one.key in set_over or one.key in barred:
                continue
            if one.value is None:
                asked.append(OpenQuestion(by.number, as_key(one.key), (one.key,)))
            else:
                truck = with_value_at(truck, one.key, one.value)
                moved[one.key] = by._replace(moved=True)
    return truck, moved, asked


def _entries(number: int, change: TruckChange) -> Iterator[tuple[str, object, SetEntry]]:
    """Every entry that a change sets: as it was meant to be, then what was measured of it once it was done."""
    for written, value in change.sets.items():
        yield written, value, SetEntry(number, ("changes", number, "sets", written), False)
    for written, one in change.measured.items() if change.state == "done" else ():
        yield written, one.value, SetEntry(number, ("changes", number, "measured", written, "value"), True)


def change_words(project: Project, key: str) -> str:
    """Which change a key of the file is of: `the change 'longer stop screws'`."""
    number = (split_key(key) or ("", 0))[1]
    return f"the change '{change_title(int(number), project.changes[int(number)])}'"


def set_words(project: Project, entry: SetEntry) -> str:
    """Which change sets an entry, and how far it is: `the change 'longer stop screws', decided`."""
    change = project.changes[entry.number]
    stands = {"decided": "decided", "done": "done, measured again" if entry.measured else "done, not measured since"}
    return f"the change '{change_title(entry.number, change)}', {stands.get(change.state, 'tried')}"
