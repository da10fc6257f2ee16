"""A candidate together with changes that are only considered, named as a person types it: `tall + 1 in less bump`."""

from collections.abc import Iterator
from typing import NamedTuple

from planner.plan.truck.recording import RefusedChange
from planner.project.change_checks import change_title
from planner.project.faults import LONGEST_SAID, plain
from planner.project.models.project import Project
from planner.project.planned_truck import goes_with
from planner.project.truck_keys import truck_key
from planner.quantities.text import name_among

WITH = "+"


class TriedFitment(NamedTuple):
    """A fitment, and the places in the file of the considered changes that it is tried with."""

    fitment: str
    changes: tuple[int, ...]


def with_changes(project: Project, one: TriedFitment) -> str:
    """What it is called: `tall + longer stop screws`."""
    return f" {WITH} ".join((one.fitment, *(change_title(at, project.changes[at]) for at in one.changes)))


def tries(project: Project, fitment: str) -> Iterator[TriedFitment]:
    """A fitment with each of the considered changes that go with it."""
    for number, change in enumerate(project.changes):
        if change.state == "considered" and goes_with(change, fitment):
            yield TriedFitment(fitment, (number,))


def tried_fitment(project: Project, written: str) -> TriedFitment:
    """What a person means by a name; raises `RefusedChange`. Fitments and changes may have a + in their own names."""
    alone = name_among(project.fitments, written)
    if alone is not None:
        return TriedFitment(alone, ())
    for end, mark in enumerate(written):
        fitment = name_among(project.fitments, written[:end].strip()) if mark == WITH else None
        if fitment is not None:
            return TriedFitment(fitment, tuple(_changes(project, fitment, written[end + 1 :])))
    near = _near(written.partition(WITH)[0].strip(), list(project.fitments))
    raise RefusedChange(f"{plain(written)}: there's no such fitment; accepted: {near}")


def _changes(project: Project, fitment: str, written: str) -> Iterator[int]:
    titles = [change_title(number, change) for number, change in enumerate(project.changes)]
    found: list[int] = []
    rest = written.strip()
    while rest:
        ahead = [at for at, title in enumerate(titles) if rest == title or _begins(rest, title)]
        if not ahead:
            accepted = _near(rest, titles) if titles else "none; the file has no [[changes]] yet"
            raise RefusedChange(f"{plain(rest)}: there's no such change; accepted: {accepted}")
        number = max(ahead, key=lambda at: len(titles[at]))
        found.append(number)
        rest = rest[len(titles[number]) :].strip().removeprefix(WITH).strip()
    if not found:
        raise RefusedChange(f"{plain(fitment)} {WITH}: which change? accepted: {_near('', titles)}")
    _stands(project, fitment, found)
    return iter(found)


def _begins(rest: str, title: str) -> bool:
    return rest.startswith(title) and rest[len(title) :].lstrip().startswith(WITH)


def _stands(project: Project, fitment: str, numbers: list[int]) -> None:
    """Whether these can be tried with it; raises `RefusedChange`."""
    keys: dict[object, int] = {}
    for number in numbers:
        change = project.changes[number]
        title = change_title(number, change)
        if numbers.count(number) > 1:
            raise RefusedChange(f"{title}: given twice")
        if change.state != "considered":
            raise RefusedChange(f"{title} is {change.state}; you can only try a change that is considered")
        if not goes_with(change, fitment):
            whose = "the truck as found" if fitment == "found" else plain(fitment)
            raise RefusedChange(f"{title} doesn't go with {whose}")
        for written in change.sets:
            entry = truck_key(project, written)
            key = entry.key if entry is not None else written
            if key in keys:
                other = change_title(keys[key], project.changes[keys[key]])
                raise RefusedChange(f"{other} and {title} set the same entry, {plain(written)}: try one at a time")
            keys[key] = number


def _near(written: str, names: list[str]) -> str:
    from difflib import get_close_matches  # only a slip of the pen needs it

    return plain(", ".join(get_close_matches(written, names, n=1) or names), LONGEST_SAID)
