"""What a change and the mending of a faulty file say alike: what they set, and how they are made."""

from collections.abc import Iterable, Iterator

from planner.commands.page import paragraph
from planner.plan.change.effect_words import written
from planner.plan.truck.project import OpenProject
from planner.project.diary_entries import KeyChange
from planner.project.faults import as_key


def setting_lines(after: OpenProject, moved: Iterable[KeyChange], begun: Iterable[str]) -> Iterator[str]:
    """Each entry that changes and each table that begins with it; a new table entry by entry."""
    for key, was, now in (each for one in moved for each in _entry_by_entry(one)):
        yield from paragraph(f"{after.spoken(as_key(key))}: {written(was)} → {written(now)}", 2)
    for table in begun:
        yield from paragraph(f"{table} is new: it starts with this", 2)


def _entry_by_entry(one: KeyChange) -> Iterator[KeyChange]:
    if one.was is not None or not isinstance(one.now, dict) or not one.now:
        yield one
        return
    for name, value in one.now.items():
        yield from _entry_by_entry(KeyChange((*one.key, name), None, value))


def ending(number: int | None) -> str:
    """How it is made, or as which entry of the diary it is."""
    if number is None:
        return 'Nothing is written. To make the change, run it again with --because "why" --apply.'
    return f"Done: it's number {number} in the diary."
