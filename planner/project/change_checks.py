"""Faults of changes to the truck: a key that is none, a value that does not fit it, two changes of one entry."""

from collections.abc import Iterable, Iterator
from itertools import combinations

from planner.project.faults import Fault, as_key, plain
from planner.project.lines import Key
from planner.project.model_faults import model_fault
from planner.project.models.changes import TruckChange
from planner.project.models.project import Project
from planner.project.truck_keys import faults_in, truck_key

PLANNED = ("decided", "done")
_ACCEPTED = 'a single entry of the truck, in quotes, such as "axles.front.steering.stop_angle"'


def change_faults(project: Project) -> Iterator[Fault]:
    """Everything wrong with the changes of a project, each with its place."""
    for number, change in enumerate(project.changes):
        at: Key = ("changes", number)
        yield from _with(project, at, change)
        yield from _set(project, (*at, "sets"), change.sets.items())
        after = {key: one.value for key, one in change.measured.items()}
        yield from _set(project, (*at, "measured"), after.items(), "value")
    yield from _twice(project)


def change_title(number: int, change: TruckChange) -> str:
    """What a change is called: its name, or its place in the list."""
    return plain(change.name) if change.name else f"change {number + 1}"


def _with(project: Project, at: Key, change: TruckChange) -> Iterator[Fault]:
    candidates = [name for name in project.fitments if name != "found"]
    for index, name in enumerate(change.with_fitments):
        if name not in candidates:
            accepted = " or ".join(candidates) or "a candidate; there is none under [fitments] yet"
            yield Fault("", (*at, "with", index), None, name, accepted)


def _set(project: Project, at: Key, values: Iterable[tuple[str, object]], *last: str) -> Iterator[Fault]:
    for written, value in values:
        entry = truck_key(project, written)
        if entry is None:
            yield Fault("a change can't set this entry", (*at, written), None, written, _accepted(written))
        elif value is None:
            yield Fault("this entry is missing", (*at, written, *last))
        else:
            for error in faults_in(entry, value):
                fault = model_fault(error)
                yield fault._replace(key=(*at, written, *last, *fault.key[len(entry.within) :]))


def _accepted(written: str) -> str:
    from difflib import get_close_matches  # only a slip of the pen needs it

    from planner.project.facts import entrances
    from planner.project.truck_keys import TRUCK

    known = [".".join(one.key) for one in entrances() if one.key[0] in TRUCK]
    near = get_close_matches(written, known, n=1, cutoff=0.8)
    return f"{_ACCEPTED}; near it: {near[0]}" if near else _ACCEPTED


def _twice(project: Project) -> Iterator[Fault]:
    """Two changes that are both decided or done, and say different things of one entry with one fitment."""
    standing = [(number, one) for number, one in enumerate(project.changes) if one.state in PLANNED]
    keys = {number: {_path(project, written): written for written in one.sets} for number, one in standing}
    for (first, one), (second, other) in combinations(standing, 2):
        both = set(one.with_fitments) & set(other.with_fitments)
        if one.with_fitments and other.with_fitments and not both:
            continue
        for path, written in keys[second].items():
            if path is not None and path in keys[first]:
                yield Fault(
                    f"both {change_title(first, one)} and {change_title(second, other)} set {as_key(path)}",
                    ("changes", second, "sets", written),
                    None,
                    "",
                    "one of the two decided or done, or each `with` fitments of its own",
                    (("changes", first, "sets", keys[first][path]),),
                )


def _path(project: Project, written: str) -> Key | None:
    entry = truck_key(project, written)
    return entry.key if entry is not None else None
