"""Which of an entry's readings counts, and the value that the entry has by them.

A reading's tolerance is what it surely holds to. Taken together, readings promise as much as is true whichever of them
is right:

- the worse, and all of them where nobody says which counts: from the lowest end of any reading to the highest;
- the middle: the mean. Where no two are further apart than one of them states, it holds to the largest of the stated
  tolerances: if every reading holds, the truth is within the mean of the tolerances. It is not divided by the root of
  the number of readings, as scatter may be (NIST TN 1297 and the GUM, from memory): who reads one tape twice makes the
  same error twice. Where two are further apart, it reaches the far end of each;
- one by its number: that one, as it stands.

As soon as one reading says its side, left and right are known by the readings of that side alone. What does not say its
side could be of either: it counts for a side that was read, and makes none known.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import combinations
from typing import Any, NamedTuple, get_args

from pydantic import ValidationError

from planner.project.lines import Key
from planner.project.models.entry import Reads, entries
from planner.project.models.fitments import Fitment
from planner.project.models.measurements import Reading
from planner.project.models.project import Project
from planner.project.sides import SIDES, has_sides
from planner.project.truck_keys import TRUCK, TruckKey, read_entry, truck_key, with_value_at
from planner.quantities.kinds import Kind
from planner.quantities.quantity import Quantity
from planner.quantities.show import Style, default_unit, write
from planner.quantities.spellings import factor, unit_of

MEASURED = (*TRUCK, "fitments")  # of what there can be a reading


class TakenReading(NamedTuple):
    """One reading of an entry: its place in the file, its number among the entry's own, and what it reads."""

    at: int
    number: int
    reading: Reading
    value: Any


class CountedEntry(NamedTuple):
    """An entry that was read: its readings, which of them counts, and its value by them.

    `value` is None where a side is not known, or where readings that cannot be combined differ. `sides` are the values
    of left and right, as far as they are known, where any reading says its side.
    """

    key: Key
    readings: tuple[TakenReading, ...]
    which: str | int | None
    value: Any
    sides: Mapping[str, Any]

    @property
    def unknown_sides(self) -> tuple[str, ...]:
        """The sides that nobody read, where another was."""
        return tuple(side for side in SIDES if side not in self.sides) if self.sides else ()

    @property
    def apart(self) -> tuple[TakenReading, TakenReading] | None:
        """Two readings of one side that are further apart than either states; None where there are none."""
        for one, other in combinations(self.readings, 2):
            same_side = one.reading.side == other.reading.side or None in (one.reading.side, other.reading.side)
            if same_side and differ(one.value, other.value):
                return one, other
        return None


def count_readings(project: Project, assumes: bool = False) -> dict[Key, CountedEntry]:
    """Every entry that has readings with a value, by its key. What is no entry or cannot be read is told elsewhere.

    With `assumes`, a reading without a ± takes the usual tolerance of its entry.
    """
    taken: dict[Key, list[TakenReading]] = {}
    kinds: dict[Key, Kind | None] = {}
    for at, reading in enumerate(project.readings):
        if reading.value is None or reading.fitment is not None or not reading.of:
            continue
        entry = truck_key(project, reading.of, MEASURED)
        value = None if entry is None else read_as_entry(entry, reading.value, assumes)
        if entry is not None and value is not None:
            kinds[entry.key] = _kind(entry)
            own = taken.setdefault(entry.key, [])
            own.append(TakenReading(at, len(own) + 1, reading, value))
    chosen = {
        entry.key: which for written, which in project.which_counts.items() if (entry := _entry(project, written))
    }
    style = Style(project.vehicle.units)
    return {key: _counted(kinds[key], own, chosen.get(key), key, style) for key, own in taken.items()}


def with_readings(project: Project, counted: Mapping[Key, CountedEntry]) -> Project:
    """The project with each entry that was read as its readings make it."""
    return with_values(project, {key: one.value for key, one in counted.items()})


def with_values(project: Project, values: Mapping[Key, Any]) -> Project:
    """The project with these entries in place of its own; of a fitment that there is none of, none."""
    for key, value in values.items():
        if key[:2] == ("fitments", "found") and "found" not in project.fitments:
            project = with_value_at(project, key[:2], Fitment.model_construct())
        if key[0] != "fitments" or key[1] in project.fitments:
            project = with_value_at(project, key, value)
    return project


def combined(values: Sequence[Any], which: str) -> Any:
    """Several readings as one: the middle or the worse; None where they differ and cannot be combined.

    >>> combined([Quantity(10.0, 1.0), Quantity(12.0, 2.0)], "worse")
    Quantity(value=11.5, tolerance=2.5, text='', stated=True)
    >>> combined([Quantity(10.0, 1.0), Quantity(12.0, 2.0)], "middle")
    Quantity(value=11.0, tolerance=2.0, text='', stated=True)
    """
    first = values[0]
    if all(one == first for one in values):
        return first
    if all(isinstance(one, Quantity) for one in values):
        return _middle(values) if which == "middle" else _span(values)
    if all(isinstance(one, tuple) and len(one) == len(first) for one in values):
        parts = [combined(several, which) for several in zip(*values, strict=True)]
        return None if None in parts else tuple(parts)
    return None


def differ(one: Any, other: Any) -> bool:
    """Whether two readings are further apart than either states."""
    if isinstance(one, Quantity) and isinstance(other, Quantity):
        return abs(one.value - other.value) > max(one.tolerance, other.tolerance) * (1 + _ROUNDING)
    if isinstance(one, tuple) and isinstance(other, tuple) and len(one) == len(other):
        return any(differ(mine, its) for mine, its in zip(one, other, strict=True))
    return bool(one != other)


_DIGITS = 12  # behind the point, in SI: less is what float arithmetic leaves over
_PLACES = 9  # and in the unit that it is written in
_ROUNDING = 1e-9  # relative; less than this is float arithmetic


def _entry(project: Project, written: str) -> TruckKey | None:
    return truck_key(project, written, MEASURED)


def read_as_entry(entry: TruckKey, value: object, assumes: bool) -> Any:
    """What was read, as that entry; None where it cannot be. With `assumes`, the usual tolerance where none is said."""
    try:
        return read_entry(entry, value, assumes)
    except ValidationError:
        return None


def _kind(entry: TruckKey) -> Kind | None:
    """The kind of the entry's value, or of each value in it where it is a point."""
    info = entries(entry.holder)[entry.within[0]]
    parts = [info, *(inner for part in get_args(info.annotation) for inner in (part, *get_args(part)))]
    found = (extra for part in parts for extra in getattr(part, "metadata", getattr(part, "__metadata__", ())))
    return next((extra.kind for extra in found if isinstance(extra, Reads)), None)


def _written(value: Any, kind: Kind | None, style: Style) -> Any:
    """A value that nobody wrote so, with a text that reads back as the same but for what float arithmetic leaves."""
    if isinstance(value, tuple):
        return tuple(_written(one, kind, style) for one in value)
    if not isinstance(value, Quantity) or value.text or kind is None:
        return value
    try:
        unit = default_unit(kind, style)
        spelled = unit_of(unit, kind)
        of_si = factor(spelled, kind) if spelled else Fraction(1)
        near = Quantity(_near(value.value, of_si), _near(value.tolerance, of_si))
        return replace(value, text=write(near, kind, unit or None))
    except ValueError:  # nothing on a truck
        return value


def _near(amount: float, of_si: Fraction) -> float:
    """The amount without what float arithmetic left over: a round one of the unit, if it is one, or else of SI."""
    plain = float(round(Fraction(amount) / of_si, _PLACES) * of_si)
    return plain if abs(plain - amount) < 10.0**-_DIGITS else round(amount, _DIGITS)


def _counted(
    kind: Kind | None, taken: Sequence[TakenReading], which: str | int | None, key: Key, style: Style
) -> CountedEntry:
    sided = has_sides(key) and any(one.reading.side for one in taken)
    if not sided:
        return CountedEntry(key, tuple(taken), which, _written(_value(taken, taken, which), kind, style), {})
    sides: dict[str, Any] = {}
    for side in SIDES:
        own = [one for one in taken if one.reading.side == side]
        value = _value(own, [one for one in taken if one.reading.side in (side, None)], which) if own else None
        if value is not None:
            sides[side] = _written(value, kind, style)
    whole = combined(list(sides.values()), "worse") if len(sides) == len(SIDES) else None
    return CountedEntry(key, tuple(taken), which, _written(whole, kind, style), sides)


def _value(own: Sequence[TakenReading], all_: Sequence[TakenReading], which: str | int | None) -> Any:
    """The value by one of one's own readings, or by all that may be of the same."""
    chosen = next((one.value for one in own if one.number == which), None)
    return (
        chosen
        if chosen is not None
        else combined([one.value for one in all_], "middle" if which == "middle" else "worse")
    )


def _middle(values: Sequence[Quantity]) -> Quantity:
    mean = sum(one.value for one in values) / len(values)
    if any(differ(one, other) for one, other in combinations(values, 2)):
        return Quantity(mean, max(abs(one.value - mean) + one.tolerance for one in values))
    return Quantity(mean, max(one.tolerance for one in values))


def _span(values: Sequence[Quantity]) -> Quantity:
    low, high = min(one.low for one in values), max(one.high for one in values)
    middle = (low + high) / 2
    return Quantity(middle, max(middle - low, high - middle))


def readings_without_value(project: Project) -> Iterator[tuple[Key, Reading]]:
    """Readings as format 1 had them, that say who measured an entry and not what was read."""
    for reading in project.readings:
        entry = _entry(project, reading.of) if reading.value is None and reading.of else None
        if entry is not None and reading.fitment is None:
            yield entry.key, reading
