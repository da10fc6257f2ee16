"""Faults of an entry and its readings: one that its reading contradicts, and readings that cannot both be right."""

from collections.abc import Callable, Collection, Iterator, Mapping
from itertools import combinations
from typing import Any

from planner.project.faults import Fault, as_key, plain
from planner.project.lines import Key
from planner.project.models.project import Project
from planner.project.not_known import touching
from planner.project.record_checks import reading_key
from planner.project.truck_keys import value_at
from planner.project.which_counts import CountedEntry, TakenReading, differ
from planner.quantities.grammar import as_text
from planner.quantities.quantity import Quantity

_SAME = 1e-9  # relative; less than this is float arithmetic


def contradictions(
    project: Project, counted: Mapping[Key, CountedEntry], line: Callable[[Key], int | None]
) -> Iterator[Fault]:
    """Every entry, as it is written, that its readings say otherwise, with where each stands."""
    for key, one in counted.items():
        unlike = _unlike(one)
        if unlike is not None:
            first, second = unlike
            told = f"it isn't what {_named(first, line)} of the same entry"
            accepted = f"one of the two, by its number in which_counts, 1 to {len(one.readings)}"
            against: tuple[Key, ...] = (("readings", first.at, "value"), key)
            yield Fault(told, ("readings", second.at, "value"), None, _text(second), accepted, against)
            continue
        written = value_at(project, key)
        if written is None or any(_same(written, value) for value in _allowed(one)):
            continue
        reading = _against(one, written)
        is_ = as_text(written) if not hasattr(written, "text") else written.text
        result = _result_text(one, reading)
        accepted = f"{result}, or leave the entry out"
        against = tuple(("readings", each.at, "value") for each in one.readings)
        yield Fault(f"it isn't what {_named(reading, line)}", key, None, plain(is_), accepted, against)


def resting_on(project: Project, not_known: Collection[Key]) -> Iterator[Key]:
    """The entries of which a reading, or which one counts, is not known: what is left of their readings is no more."""
    if not not_known:
        return
    for number, reading in enumerate(project.readings):
        lost = (touching(not_known, ("readings", number, part)) for part in ("value", "side", "fitment"))
        key = reading_key(project, reading.of) if any(lost) else None
        if key is not None:
            yield key
    for lost_key in not_known:
        if lost_key[0] == "which_counts" and len(lost_key) > 1:
            key = reading_key(project, str(lost_key[1]))
            if key is not None:
                yield key


def _unlike(one: CountedEntry) -> tuple[TakenReading, TakenReading] | None:
    """Two readings of what is counted or named, and not measured, that differ with nobody saying which counts."""
    if one.value is not None or one.unknown_sides:
        return None
    pairs = combinations(one.readings, 2)
    return next(((first, other) for first, other in pairs if differ(first.value, other.value)), None)


def _allowed(one: CountedEntry) -> Iterator[Any]:
    """What may be written: what the entry is by its readings or, while nobody says which counts, any of them."""
    if one.value is not None:
        yield one.value
    if one.which is None or one.value is None:
        yield from (each.value for each in one.readings)


def _same(written: Any, value: Any) -> bool:
    """Whether an entry says what its reading does; one that states no tolerance leaves that to the reading."""
    if isinstance(written, Quantity) and isinstance(value, Quantity):
        near = _SAME * max(1e-3, abs(value.value))
        stated = not written.stated or value.assumed or abs(written.tolerance - value.tolerance) <= near
        return stated and abs(written.value - value.value) <= near
    if isinstance(written, tuple) and isinstance(value, tuple) and len(written) == len(value):
        return all(_same(mine, its) for mine, its in zip(written, value, strict=True))
    return bool(written == value)


def _against(one: CountedEntry, written: Any) -> TakenReading:
    """The reading that tells it best: the one that counts, or the first that says otherwise."""
    chosen = (each for each in one.readings if each.number == one.which)
    return next(chosen, None) or next(each for each in one.readings if not _same(written, each.value))


def _result_text(one: CountedEntry, reading: TakenReading) -> str:
    value = reading.value if one.value is None else one.value
    several = value if isinstance(value, tuple) else (value,)
    return "; ".join(plain(getattr(each, "text", "") or str(each)) for each in several)


def _named(one: TakenReading, line: Callable[[Key], int | None]) -> str:
    key: Key = ("readings", one.at, "value")
    on = line(key)
    return f"{as_key(key)}{'' if on is None else f' on line {on}'} says, '{_text(one)}'"


def _text(one: TakenReading) -> str:
    return plain(as_text(one.reading.value))
