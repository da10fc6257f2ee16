"""The entries of a project as the fields of a form: label, meaning, example, choices, all read off the models."""

from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from functools import lru_cache
from typing import Any, Literal, NamedTuple, get_args, get_origin

from planner.plan.truck.catalog import catalog
from planner.plan.truck.keys import BadValue, FoundKey, Wants, below, find_key, value_as_data
from planner.plan.truck.project import OpenProject
from planner.project.changes import DELETE
from planner.project.facts import inner_model
from planner.project.faults import as_key
from planner.project.models.entry import FactNote, Reads, Table, Usual, entries
from planner.project.models.project import Project
from planner.project.models.ranges import WishedRange
from planner.project.usual_tolerances import usual_words, with_usual
from planner.quantities.grammar import read_value
from planner.quantities.kinds import POSITION, Kind
from planner.quantities.quantity import Quantity
from planner.quantities.show import Style, assumed_margin, show, show_other
from planner.quantities.text import clean
from planner.quantities.unreadable import Unreadable
from planner.quantities.usual_unit import unit_written, with_usual_unit
from planner.worksheet.declare import Assumed

YES_NO = ("yes", "no")


class Field(NamedTuple):
    """One entry that can be made: where, what it is, how to get it, how it may be written, and what is written."""

    key: str
    table: str
    label: str
    means: str
    how: str
    example: str
    wants: Wants
    written: str
    choices: tuple[str, ...] = ()
    assumed: str = ""  # what stands while nothing is written
    margin: str = ""  # the tolerance that is assumed of what is written: `(± 1/8 in assumed)`

    @property
    def takes_tolerance(self) -> bool:
        return self.wants.kind is not None and self.wants.kind.form in ("quantity", "ratio")

    @property
    def takes_words(self) -> bool:
        """Whether letters are what it is written with: a text, a choice, a list of names; a number begins otherwise."""
        kind = self.wants.kind or element_kind(self.wants)
        if kind is not None:
            return kind.form in ("text", "yes or no")
        return self.wants.type not in (int, float, Decimal, date, WishedRange)


class Understood(NamedTuple):
    """What was understood of a text, or what is wrong with it; both empty for nothing written.

    `beside` is a value in the other system of units, without its tolerance.
    """

    reads: str = ""
    fault: str = ""
    beside: str = ""


def fields(opened: OpenProject, *roots: str) -> list[Field]:
    """Every entry that there can be under these keys, in the order of the file."""
    return [_field(opened, one) for root in roots for one in below(opened.opened, root)]


def field(opened: OpenProject, written_key: str) -> Field:
    """The field at a key; raises `Unknown`."""
    return _field(opened, find_key(opened.opened, written_key))


def _field(opened: OpenProject, found: FoundKey) -> Field:
    key, wants, value = found
    own = opened.truck_key_of(as_key(key))  # what a change sets is told as the entry itself
    note = note_at(key if own is None else own)
    table, _, last = as_key(key).rpartition(".") if isinstance(key[-1], str) else (as_key(key), "", str(key[-1]))
    change = _change(key)
    if change is not None:
        node, wants = change
        return Field(
            as_key(key), table, node.means if key[-1] == "value" else "because", node.means, "", node.text,
            wants if key[-1] == "value" else Wants(str), written(value), (), node.text if key[-1] == "value" else "",
        )  # fmt: skip
    label = last.strip('"').replace("_", " ") if own is None else opened.spoken(as_key(own))
    usual, example = _in_own_units(wants, note.example, opened.style)
    how = "; ".join(told for told in (note.how, usual_words(usual) if usual else "") if told)
    return Field(
        as_key(key), table, label, note.means, how, example, wants, written(value), _choices(wants),
        margin=_margin(wants, value, opened.style) if opened.opened.assumes else "",
    )  # fmt: skip


def _in_own_units(wants: Wants, example: str, style: Style) -> tuple[Usual | None, str]:
    """The usual tolerance and the example of an entry as somebody writes them who thinks in these units."""
    usual, kind = wants.usual, wants.kind
    if style.system != "metric" or kind is None or kind.form != "quantity":
        return usual, example
    from planner.project.starting import metric, metric_margin  # which few of those who type need

    if usual is not None and not usual.tolerance.endswith("%"):
        usual = usual._replace(tolerance=metric_margin(usual.tolerance, kind))
    return usual, metric(example, kind) if example else example


def _margin(wants: Wants, value: object, style: Style) -> str:
    """The tolerance that is assumed of what is written; empty where the person gave one, or it is exact."""
    values = value if isinstance(value, list) else [value]
    kind = wants.kind or element_kind(wants)
    if wants.usual is None or kind is None:
        return ""
    margins = [assumed_margin(as_counted(one, kind, wants.usual), kind, style) for one in values]
    return f"({next(filter(None, margins))} assumed)" if any(margins) else ""


def as_counted(data: object, kind: Kind, usual: Usual | None) -> Quantity | None:
    """A value of the file as it counts; None where it is none of this kind."""
    try:
        value = read_value(data, kind)
    except Unreadable:
        return None
    value = with_usual(value, usual, kind) if usual is not None else value
    return value if isinstance(value, Quantity) else None


def written(value: object) -> str:
    """An entry as a person would type it; empty where there is none."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return YES_NO[not value]
    if isinstance(value, list):
        inner = [written(one) for one in value]
        return "; ".join(inner) if any(isinstance(one, list) for one in value) else ", ".join(inner)
    if isinstance(value, dict):
        return f"{{ {', '.join(f'{as_key((str(name),))} = {written(one)}' for name, one in value.items())} }}"
    return str(value)


@lru_cache(maxsize=4096)  # a list of entries reads most of what it read before
def understood(wants: Wants, text: str, style: Style) -> Understood:
    """A text as it would be read: `5 1/2 in = 139.7 mm`, or what is wrong with it and what is accepted."""
    if not text.strip():
        return Understood()
    try:
        data = value_as_data(text, wants, None)
    except BadValue as trouble:
        return Understood(fault=str(trouble))
    if data is DELETE or wants.kind is None:
        return _in_words(wants, data, style)
    return _read(with_unit(data, wants, style), wants.kind, style, wants.usual)


def with_unit(data: Any, wants: Wants, style: Style) -> Any:
    """What was typed, each bare number of it in the unit that the entry is usually written in."""
    kind = wants.kind or element_kind(wants)
    if kind is None or kind.form not in ("quantity", "ratio"):
        return data
    if isinstance(data, list):
        return [with_unit(one, wants, style) for one in data]
    example = wants.example.strip('[]" ').partition('"')[0]
    if style.system == "metric" and example:
        from planner.project.starting import metric  # which few of those who type need

        example = metric(example, kind)
    return with_usual_unit(data, kind, unit_written(example)) if isinstance(data, str) else data


def _read(data: Any, kind: Kind, style: Style, usual: Usual | None) -> Understood:
    try:
        value = read_value(data, kind)
    except Unreadable as trouble:
        return Understood(fault=f"it {trouble.problem}; accepted: {trouble.accepted}")
    value = with_usual(value, usual, kind if kind.form == "quantity" else POSITION) if usual is not None else value
    beside = show_other(value, kind, style) if isinstance(value, Quantity) else ""
    return Understood(both(value, kind, style), beside=beside)


def both(value: Any, kind: Kind, style: Style) -> str:
    """A value in both systems, so that what was meant can be told from what was typed.

    >>> from planner.quantities.kinds import LENGTH
    >>> both(Quantity(0.1397), LENGTH, Style())
    '5 1/2 in = 139.7 mm'
    """
    if not isinstance(value, Quantity) or kind.form != "quantity":
        return clean(show(value, kind, style))
    sides = [show(value, kind, one, beside=False) for one in (style, style.other)]
    return clean(" = ".join(dict.fromkeys(sides)))


def _in_words(wants: Wants, data: Any, style: Style) -> Understood:
    """What is no number for a formula: a choice, a date, a list."""
    accepted = _choices(wants)
    if accepted and not (data in (True, False) and accepted == YES_NO) and data not in accepted:
        return Understood(fault=f"accepted: {', '.join(accepted)}")
    points = element_kind(wants)
    if points is not None and isinstance(data, list):
        sides = [_read(one, points, style, wants.usual) for one in with_unit(data, wants, style)]
        fault = next((one.fault for one in sides if one.fault), "")
        wanted = len(get_args(wants.type)) if get_origin(wants.type) is tuple else len(data)
        if len(data) != wanted:
            fault = f"accepted: {wanted} values with commas between, such as 2 in, -7 in, 6 in"
        return Understood("" if fault else "; ".join(one.reads for one in sides), fault)
    return Understood(reads=clean(written(data)))


def element_kind(wants: Wants) -> Kind | None:
    """The kind of each value in a list of them, such as a point's three."""
    for part in get_args(wants.type):
        for extra in getattr(part, "__metadata__", ()):
            if isinstance(extra, Reads):
                return extra.kind
    return None


def _choices(wants: Wants) -> tuple[str, ...]:
    if wants.type is bool or (wants.kind is not None and wants.kind.form == "yes or no"):
        return YES_NO
    for part in (wants.type, *get_args(wants.type)):
        if get_origin(part) is Literal:
            return tuple(str(one) for one in get_args(part))
    return ()


def note_at(key: tuple[str | int, ...]) -> FactNote:
    """What the models say of the entry at a key."""
    model: type[Table] | None = Project
    note = FactNote("", "", "", "")
    for name in key:
        if model is None or not isinstance(name, str) or name not in entries(model):
            continue
        info = entries(model)[name]
        told = next((extra for extra in info.metadata if isinstance(extra, FactNote)), None)
        note = told or FactNote("", (info.description or "").rstrip("."), "", "")
        model = inner_model(info.annotation)
    return note


def wants_at(found: FoundKey) -> Wants:
    """What an entry wants, that of a limit or an assumed value included."""
    change = _change(found.key)
    return change[1] if change is not None and found.key[-1] == "value" else found.wants


def _change(key: tuple[str | int, ...]) -> tuple[Assumed, Wants] | None:
    """The limit or assumed value that a key sets, and what it wants."""
    if len(key) != 3 or key[0] not in ("limits", "assumptions"):
        return None
    one = catalog().assumed.get(str(key[1]))
    return None if one is None else (one, Wants(object, one.kind, example=one.text))


def tables(shown: list[Field]) -> Iterator[tuple[str, list[Field]]]:
    """The fields by the table of the file in which they stand, in order."""
    by_table: dict[str, list[Field]] = {}
    for one in shown:
        by_table.setdefault(one.table, []).append(one)
    yield from by_table.items()
