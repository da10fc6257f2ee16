"""The tolerance of a value that is typed over another: the larger one is kept, and none is lost or narrowed in silence.

The one place for this: the command line and the screens come here, and so does what a tick writes to an entry.
"""

from collections.abc import Iterator, Sequence
from typing import Any, NamedTuple

from planner.plan.truck.forms import as_counted, element_kind, note_at, wants_at, with_unit
from planner.plan.truck.keys import FoundKey, UnknownKey, Wants, find_key
from planner.plan.truck.recording import RefusedChange
from planner.project.diary_entries import KeyChange
from planner.project.faults import as_key, plain
from planner.project.lines import Key
from planner.project.reading import Opened
from planner.quantities.amounts import PLUS_MINUS, last_unit
from planner.quantities.grammar import read_value
from planner.quantities.kinds import Kind
from planner.quantities.quantity import Quantity
from planner.quantities.show import Style, margin_shown, write
from planner.quantities.unreadable import Unreadable

MATTERS = 1e-9  # relative; less than this is float arithmetic


class TypedTolerance(NamedTuple):
    """A value as it goes into the file, and what is said of the tolerance that it has there."""

    data: Any
    says: tuple[str, ...] = ()


class Narrowed(NamedTuple):
    """An entry whose tolerance became less: as people read both, and the entry's data with the value alone changed."""

    key: Key
    was: str
    now: str
    kept: Any

    @property
    def says(self) -> str:
        return f"{as_key(self.key)}: the {self.was} is gone: now it counts as {self.now}"


def typed_over(found: FoundKey, data: Any, style: Style) -> TypedTolerance:
    """The typed data, with the tolerance that it keeps; raises `RefusedChange` for a ± that cannot be.

    A value without a ± keeps the larger of what was written there and the usual one of its field; one without a unit is
    in the usual one, and that is said.
    """
    wants = wants_at(found)
    kind = wants.kind or element_kind(wants)
    if kind is None or kind.form not in ("quantity", "ratio"):
        return TypedTolerance(data)
    typed, data = data, with_unit(data, wants, style)
    one, other = (", ".join(map(str, each)) if isinstance(each, list) else str(each) for each in (typed, data))
    units = (f"{plain(one)} is read as {plain(other)}",) if one != other else ()
    told = _with_tolerance(found, data, wants, kind, style)
    return told._replace(says=(*units, *told.says))


def _with_tolerance(found: FoundKey, data: Any, wants: Wants, kind: Kind, style: Style) -> TypedTolerance:
    if isinstance(data, list):
        old = found.value if isinstance(found.value, list) and len(found.value) == len(data) else [None] * len(data)
        each = [
            _typed(FoundKey((*found.key, at), wants, was), one, kind, style)
            for at, (one, was) in enumerate(zip(data, old, strict=True))
        ]
        return TypedTolerance(
            [one.data for one in each], tuple(dict.fromkeys(said for one in each for said in one.says))
        )
    return _typed(found, data, kind, style)


def _typed(found: FoundKey, data: Any, kind: Kind, style: Style) -> TypedTolerance:
    usual = found.wants.usual
    value = as_counted(data, kind, usual)
    if value is None:
        _refuse_tolerance(found, data, kind)
        return TypedTolerance(data)
    if value.stated:
        return TypedTolerance(data)
    old = as_counted(found.value, kind, usual)
    if old is not None and old.stated and old.tolerance:
        margin = _margin_written(str(found.value))
        kept = as_counted(f"{data} ± {margin}", kind, usual)
        if kept is None:
            told = f"{plain(str(data))} with the ± {margin} that was there is impossible"
            raise RefusedChange(f"{as_key(found.key)}: {told}; give its own, {_example(found.key)}")
        if kept.tolerance >= value.tolerance:
            return TypedTolerance(f"{data} ± {margin}", (f"kept ± {margin} from before; give ± to change it",))
        was = margin_shown(old, kind, style)
        told = f"{margin_shown(value, kind, style)} is assumed, the usual one, more than the {was} from before"
        return TypedTolerance(data, (f"{told}; give ± to change it",))
    if value.tolerance:
        return TypedTolerance(
            data, (f"no ± given: {margin_shown(value, kind, style)} is assumed; give ± to change it",)
        )
    return TypedTolerance(data)


def narrowed(before: Opened, after: Opened, moved: Sequence[KeyChange], style: Style) -> Iterator[Narrowed]:
    """The entries among those that moved whose tolerance is less than it was, or gone."""
    for key, was, now in moved:
        try:
            found = find_key(after, as_key(key))
        except UnknownKey:  # of a table that is taken away
            continue
        wants = wants_at(found)
        kind = wants.kind or element_kind(wants)
        if kind is None or was is None or now is None or kind.form not in ("quantity", "ratio"):
            continue
        one = _narrowed(_each(was, kind, wants, before), _each(now, kind, wants, after), kind)
        if one is not None:
            (old, new), kept = one
            left = margin_shown(new, kind, style) if new.tolerance else "exact"
            yield Narrowed(key, margin_shown(old, kind, style), left, kept if isinstance(now, list) else kept[0])


def _each(data: Any, kind: Kind, wants: Wants, opened: Opened) -> list[Quantity | None]:
    """The value, or those of a list, as they count in that file."""
    usual = wants.usual if opened.assumes else None
    return [as_counted(one, kind, usual) for one in (data if isinstance(data, list) else [data])]


def _narrowed(
    was: list[Quantity | None], now: list[Quantity | None], kind: Kind
) -> tuple[tuple[Quantity, Quantity], list[str]] | None:
    """The pair that lost most, and every value now as it is written with what it had; None where none lost anything."""
    pairs = [(one, two) for one, two in zip(was, now, strict=False) if one is not None and two is not None]
    if len(was) != len(now) or len(pairs) != len(now):
        return None
    least = max(pairs, key=lambda pair: pair[0].tolerance - pair[1].tolerance)
    if least[0].tolerance - least[1].tolerance <= MATTERS * least[0].tolerance:
        return None
    return least, [write(Quantity(new.value, max(old.tolerance, new.tolerance)), kind) for old, new in pairs]


def _refuse_tolerance(found: FoundKey, data: Any, kind: Kind) -> None:
    """Says what is wrong with a ± in the words of this very field; any other fault is told where the file is read."""
    if not isinstance(data, str) or not PLUS_MINUS.search(data):
        return
    try:
        read_value(data, kind)
    except Unreadable as trouble:
        told = f"read '{trouble.read}', which {trouble.problem}"
        raise RefusedChange(f"{as_key(found.key)}: {told}; write it {_example(found.key)}") from None


def _example(key: Key) -> str:
    """`such as 24 in ± 1/8 in`: how this field is written."""
    example = note_at(key).example
    first = example.strip("[]").split(",")[0].strip().strip('"') if example.startswith("[") else example
    return f"such as {first}" if first else "in the unit of the value"


def _margin_written(text: str) -> str:
    """The tolerance in a text as it was written, with the value's unit where it had none of its own."""
    value, margin = (half.strip() for half in PLUS_MINUS.split(text))
    return margin if last_unit(margin) or margin.endswith("%") else f"{margin} {last_unit(value)}".strip()
