"""Keys of the file and values as a person types them: which keys there are, where one leads, what it wants."""

import re
from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from pathlib import Path
from types import NoneType, UnionType
from typing import Annotated, Any, NamedTuple, Union, get_args, get_origin

from planner.plan.truck.catalog import catalog
from planner.plan.truck.entry_names import name_of, said
from planner.project.changes import DELETE, held_at, table_at
from planner.project.faults import Faulty, as_key, plain
from planner.project.lines import Key
from planner.project.models.changes import MeasuredAfter
from planner.project.models.entry import FactNote, Reads, Table, Usual, entries
from planner.project.models.project import Project
from planner.project.photo_names import is_photos, photos_typed
from planner.project.reading import Opened
from planner.project.source import parse
from planner.project.truck_keys import truck_key
from planner.project.usual_tolerances import usual_at, usual_of
from planner.project.written_keys import split_key
from planner.quantities.kinds import Kind
from planner.quantities.text import name_among

_NAMES = ("id", "name", "number", "mark", "question", "of", "flag")  # by which a table in a list may be called

_MANY = 3

_ACCEPTED = "accepted: a name such as rear brake radius, or a key such as vehicle.wheelbase or parts[0].state"


class UnknownKey(LookupError):
    """There is no such key; the message is one plain line, with the nearest that there are."""


class Wants(NamedTuple):
    """What the file wants at a key: a type, and the kind of value where formulas read it."""

    type: Any
    kind: Kind | None = None
    usual: Usual | None = None  # what it is good to where nobody says
    example: str = ""

    @property
    def model(self) -> type[Table] | None:
        return self.type if isinstance(self.type, type) and issubclass(self.type, Table) else None

    @property
    def inner(self) -> "Wants | None":
        """What each member of a table or each element of a list wants; None for a single entry."""
        of, inner = get_origin(self.type), get_args(self.type)
        if of in (dict, list, tuple):
            return _wants(inner[1] if of is dict else inner[0], ())._replace(usual=self.usual, example=self.example)
        return Wants(object) if self.kind is not None and self.kind.form in ("points", "ratios") else None


class FoundKey(NamedTuple):
    """Where a key leads: its path in the file, what is wanted there, and what stands there, None for nothing."""

    key: Key
    wants: Wants
    value: Any


def find_key(opened: Opened, written: str) -> FoundKey:
    """The place that a key names; a table in a list goes by its number, `parts[0]`, or its own name, `parts.wheels`.

    Raises `UnknownKey`. A key that is not in the file yet is found where the file may have it.
    """
    found = key_at(opened, written) or _called_so(opened, written)
    if found is None:
        raise UnknownKey(_unknown(opened, written))
    return found


def key_at(opened: Opened, written: str) -> FoundKey | None:
    """The place that a key names by itself, without the names that people have for entries; None for no such key."""
    found = FoundKey((), Wants(Project), opened.data)
    split = split_key(written)
    names = [*split] if split else None
    while names:
        step = _under_change(opened, found, names) or _step(found, names)
        if step is None:
            return None
        found, names = step
    return found if names == [] else None


def _called_so(opened: Opened, written: str) -> FoundKey | None:
    """The entry that people call so, its words in whatever order; None for none."""
    return entries_by_name(opened).get(said(written)) if said(written) else None


def entries_by_name(opened: Opened) -> dict[tuple[str, ...], FoundKey]:
    """Every entry that people have a name for, by the words of that; the first where two are called so."""
    found = {"found": {}, **table_at(opened.data, ("fitments",))}  # what it came on is asked for by name
    data = {**opened.data, "fitments": found}
    named: dict[tuple[str, ...], FoundKey] = {}
    for one in _below(FoundKey((), Wants(Project), data), called=False):
        if name := name_of(one.key, data):
            named.setdefault(said(name), one)
    return named


def known_keys(opened: Opened) -> Iterator[str]:
    """Every key that an entry of this project may stand at, in the order of the file."""
    yield from (as_key(one.key) for one in _below(FoundKey((), Wants(Project), opened.data), called=True))


def below(opened: Opened, root: str) -> Iterator[FoundKey]:
    """Every entry that there can be under a key, or the key itself, with what stands there; raises `UnknownKey`."""
    yield from _below(find_key(opened, root), called=False)


def _step(found: FoundKey, names: list[str | int]) -> tuple[FoundKey, list[str | int]] | None:
    """One name further; None where there is nothing of that name."""
    key, wants, data = found
    name, rest = _there(data, names[0]), names[1:]
    if isinstance(name, str) and wants.model is not None and name in entries(wants.model):
        return _entry(found, name, entries(wants.model)[name]), rest
    inner = wants.inner
    of = get_origin(wants.type)
    if isinstance(name, str) and of is dict and inner is not None:
        if rest and inner.model is None and inner.inner is None:  # its members go by keys, quoted or not
            name, rest = as_key((name, *rest)), []
        return FoundKey((*key, name), inner, held_at(data, (name,))), rest
    if isinstance(name, int) and of is not dict and inner is not None and name <= len(data or ()):
        return FoundKey((*key, name), inner, held_at(data, (name,))), rest
    if isinstance(name, str) and of is list and inner is not None and inner.model is not None:
        return _called(found, inner, names)
    if held_at(data, (name,)) is not None:  # an entry of the person's own, which the models do not know
        return FoundKey((*key, name), Wants(object), held_at(data, (name,))), rest
    return None


def _under_change(opened: Opened, found: FoundKey, names: list[str | int]) -> tuple[FoundKey, list[str | int]] | None:
    """An entry of the truck that a change sets or measured, by its own key, in quotes or not: what that entry wants."""
    if found.key[:1] != ("changes",) or found.key[2:] not in (("sets",), ("measured",)):
        return None
    after = found.key[-1] == "measured"
    last = names[-1:] if after and len(names) > 1 and names[-1] in entries(MeasuredAfter) else []
    written = names[: len(names) - len(last)]
    text = str(written[0]) if len(written) == 1 else as_key(tuple(written))
    at = truck_key(opened.project, text)
    if at is None:
        called = _called_so(opened, text)
        text = as_key(called.key) if called is not None else ""
        at = truck_key(opened.project, text) if text else None
    if at is None:
        return None
    for member in found.value or ():
        own = truck_key(opened.project, member)
        text = member if own is not None and own.key == at.key else text
    wants, here = find_key(opened, as_key(at.key)).wants, (*found.key, text)
    if not after:
        return FoundKey(here, wants._replace(usual=None), held_at(found.value, (text,))), []
    measured = held_at(found.value, (text,))
    if last == ["value"] or not last:
        return FoundKey((*here, "value"), wants, held_at(measured, ("value",))), []
    return FoundKey(here, Wants(MeasuredAfter), measured), last


def _there(data: Any, name: str | int) -> str | int:
    """The name as it is spelled there, where it was typed otherwise and looks the same."""
    return (name_among(data, name) or name) if isinstance(data, dict) and isinstance(name, str) else name


def _called(found: FoundKey, inner: Wants, names: list[str | int]) -> tuple[FoundKey, list[str | int]] | None:
    """A table in a list by its own name, which may have dots in it, or its end before that: the longest that fits."""
    for end in range(len(names), 0, -1):
        called = ".".join(str(name) for name in names[:end])
        for ends in (False, True):  # `front spring` is the spring of the front axle where nothing has the name itself
            for at, table in enumerate(found.value or ()):
                if name_among(_called_by(table, ends), called):
                    return FoundKey((*found.key, at), inner, table), names[end:]
    return None


def _called_by(table: dict[str, Any], ends: bool) -> list[str]:
    if not ends:
        return [str(table[own]) for own in _NAMES if own in table]
    return [f"{table['axle']} {table['name']}"] if {"axle", "name"} <= table.keys() else []


def _entry(table: FoundKey, name: str, info: Any) -> FoundKey:
    """An entry of a table, with what it is good to where it is measured."""
    wants, usual = _wants(info.annotation, info.metadata), usual_of(info)
    wants = wants._replace(example=next((note.example for note in info.metadata if isinstance(note, FactNote)), ""))
    if usual is not None:
        wants = wants._replace(usual=usual_at(usual, table.key, held_at(table.value, ("size_from",))))
    return FoundKey((*table.key, name), wants, held_at(table.value, (name,)))


def _wants(annotation: Any, metadata: Any) -> Wants:
    """What a field wants, without the None that every field may be."""
    if get_origin(annotation) is Annotated:
        annotation, *metadata = get_args(annotation)
    if get_origin(annotation) in (Union, UnionType):
        others = [one for one in get_args(annotation) if one is not NoneType]
        if len(others) == 1:
            return _wants(others[0], metadata)
    return Wants(annotation, next((extra.kind for extra in metadata if isinstance(extra, Reads)), None))


def _below(found: FoundKey, called: bool) -> Iterator[FoundKey]:
    """With `called`, a table in a list goes by its own name."""
    key, wants, data = found
    inner = wants.inner
    if wants.model is not None:
        for name, info in entries(wants.model).items():
            yield from _below(_entry(found, name, info), called)
    elif inner is None or get_origin(wants.type) is tuple or wants.kind is not None:
        yield found
    elif get_origin(wants.type) is dict:
        for name in _members(key, data):
            yield from _below(FoundKey((*key, name), inner, held_at(data, (name,))), called)
    elif inner.model is None:
        yield found
    else:
        for at, table in enumerate(data or ()):
            called_so = table.get("id") if called else None
            own = called_so if isinstance(called_so, str) and "." not in called_so else at
            yield from _below(FoundKey((*key, own), inner, table), called)


def _members(key: Key, data: Any) -> list[str]:
    """The members of a table: those in the file, and of limits and assumptions all that there can be."""
    there = list(data or ())
    if key in (("limits",), ("assumptions",)):
        there += [node for node, one in catalog().assumed.items() if one.limit == (key == ("limits",))]
    return list(dict.fromkeys(there))


def _unknown(opened: Opened, written: str) -> str:
    from difflib import get_close_matches  # only a slip of the pen needs it

    if not written.strip():
        return f"an empty key: {_ACCEPTED}"
    every = [one.key for one in _below(FoundKey((), Wants(Project), opened.data), called=False)]
    known = [*known_keys(opened), *filter(None, (name_of(key, opened.data) for key in every))]
    last = written.rpartition(".")[2]
    near = get_close_matches(written, known, n=_MANY, cutoff=0.8)
    near += [key for key in known if key.rpartition(".")[2] == last]
    near += get_close_matches(written, known, n=_MANY, cutoff=0.5)
    tables = [key for key in known if key.startswith((f"{written}.", f"{written}["))]
    nearest = ", ".join(list(dict.fromkeys((*near, *tables)))[:_MANY])
    hint = f"near it: {nearest}" if nearest else "planner keys FILE lists them"
    return f"{plain(written)}: there's no such key; {hint}"


_WHOLE = re.compile(r"[+-]?\d{1,18}")

_NUMBER = re.compile(r"[+-]?\d{1,18}(?:\.\d{1,18})?")

_DATE = re.compile(r"\d{4}-\d\d-\d\d")

_YES_NO = {"yes": True, "true": True, "no": False, "false": False}

_APART = re.compile(r"\s*;\s*|\s*,\s+")  # 1,200 is one number

_COMMAS = re.compile(r"\s*,\s*")


class BadValue(ValueError):
    """A value that cannot even be written in the file; the message is one plain line."""


def value_as_data(written: str, wants: Wants, standing: Any) -> Any:
    """The value as plain TOML data, `DELETE` for an empty one; raises `BadValue`.

    Whether it is a good value is left to those who read the file: what does not look like the number or date that is
    wanted stays the text that it is, and they say what is accepted.
    """
    text = written.strip()
    if not text:
        return DELETE
    inner = wants.inner
    if wants.model is not None or get_origin(wants.type) is dict:
        return _toml(text, dict, 'one of its entries, or a whole table such as { title = "jack", price = 80 }')
    if inner is not None and inner.model is not None:
        return _toml(text, list, 'one of its entries, or a whole list such as [{ title = "jack" }]')
    if get_origin(wants.type) in (list, tuple) or inner is not None:
        return _list(text, wants, standing)
    return _single(text, wants, standing)


def _single(text: str, wants: Wants, standing: Any) -> Any:
    number = isinstance(standing, (int, float)) and not isinstance(standing, bool)
    free = wants.type is object and wants.kind is None and not isinstance(standing, str)
    if wants.type is bool or isinstance(standing, bool):
        return _YES_NO.get(text.lower(), text)
    if wants.type is date and _DATE.fullmatch(text):
        try:
            return date.fromisoformat(text)
        except ValueError:
            return text
    counted = (
        wants.type in (int, float, Decimal)
        or int in get_args(wants.type)
        or (wants.kind is not None and wants.kind.form == "count")
    )
    if counted or free or number:
        if _WHOLE.fullmatch(text):
            return int(text)
        if _NUMBER.fullmatch(text) and (wants.kind is None or wants.kind.form != "count"):
            return float(text)
    return text


def _list(text: str, wants: Wants, standing: Any) -> Any:
    """A list in brackets as TOML has it, or its elements with commas between; one text where the file has one."""
    if text.startswith("["):
        return _toml(text, list, 'a list such as ["a", "b"]')
    if wants.kind is not None and not isinstance(standing, list):
        return text
    if wants.kind is not None:
        return _COMMAS.split(text) if wants.kind.form == "ratios" else [_COMMAS.split(one) for one in text.split(";")]
    if is_photos(text):
        return photos_typed(text)
    elements = get_args(wants.type)
    return (_APART if get_origin(wants.type) is tuple else _COMMAS).split(text) if elements else text


def _toml(text: str, of: type, accepted: str) -> Any:
    try:
        data = parse(Path("value"), f"value = {text}".encode()).data
    except (Faulty, UnicodeEncodeError):
        data = {}
    if data.keys() != {"value"} or not isinstance(data["value"], of):
        raise BadValue(f"read '{plain(text)}'; accepted: {accepted}")
    return data["value"]
