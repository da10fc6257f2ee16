"""The facts of a project: which entries there can be, read off the models, and the ones that a person made."""

from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Mapping
from functools import cache
from itertools import product
from typing import Any, NamedTuple, get_args, get_origin

from planner.project.lines import Key as FileKey
from planner.project.models.entry import FactNote, Reads, Table, entries
from planner.project.models.project import Project
from planner.project.models.ranges import ReadsRange
from planner.quantities.grammar import Value
from planner.quantities.kinds import TEXT, Kind
from planner.quantities.text import normal_name

AXES = ("fitment", "axle", "obstacle", "gear", "range")  # the order in which a place names its members
_TABLE_AXES = {"fitments": "fitment", "gearbox": "gear", "transfer": "range"}
_TABLE_FACTS = {"gearbox": "gearbox_ratio", "transfer": "transfer_ratio"}
_MEMBERS = {"front": ("axle", "front"), "rear": ("axle", "rear")}

Key = tuple[str, ...]
Place = tuple[tuple[str, str], ...]  # (axis, member), the axes that the key goes through


class Entrance(NamedTuple):
    """One key at which a fact can be entered; `<fitment>` and the like stand where a name of the person's goes.

    A wish is a range, and each end of it a fact: `end` says which.
    """

    fact: str
    kind: Kind
    key: Key
    axes: tuple[str, ...]
    note: FactNote
    end: str = ""


@cache
def entrances() -> tuple[Entrance, ...]:
    """Every key of the file that formulas may read, in the order of the file."""
    return tuple(_walk(Project, (), ()))


def _walk(model: type[Table], key: Key, axes: tuple[str, ...]) -> Iterator[Entrance]:
    for name, info in entries(model).items():
        here = (*key, name)
        own = (*axes, _MEMBERS[name][0]) if name in _MEMBERS else axes
        inner = inner_model(info.annotation)
        note = next((extra for extra in info.metadata if isinstance(extra, FactNote)), None)
        if name in _TABLE_FACTS:
            kind = next(extra.kind for extra in _annotated(info.annotation) if isinstance(extra, Reads))
            label = FactNote(_TABLE_FACTS[name], info.description or name, "", "")
            yield Entrance(
                _TABLE_FACTS[name], kind, (*here, f"<{_TABLE_AXES[name]}>"), (*axes, _TABLE_AXES[name]), label
            )
        elif inner is not None and get_origin(info.annotation) is dict and name in _TABLE_AXES:
            yield from _walk(inner, (*here, f"<{_TABLE_AXES[name]}>"), (*axes, _TABLE_AXES[name]))
        elif inner is not None and get_origin(info.annotation) is None:
            yield from _walk(inner, here, own)
        elif note is not None and (ranged := _ranged(info)) is not None and note.name:
            for end, least in (("low", "least"), ("high", "most")):
                own_note = note._replace(means=f"{note.means}, the {least} you want")
                yield Entrance(f"{note.name}_{end}", ranged, here, axes, own_note, end)
        elif note is not None and note.name != "":
            kind = next((extra.kind for extra in info.metadata if isinstance(extra, Reads)), TEXT)
            yield Entrance(note.name or name, kind, here, axes, note)


def inner_model(annotation: Any) -> type[Table] | None:
    """The model of the tables in a field: of the one table, of each in a list, or of each by name."""
    for part in (annotation, *get_args(annotation)):
        if isinstance(part, type) and issubclass(part, Table):
            return part
    return None


def _ranged(info: Any) -> Kind | None:
    """The kind of both ends of a wish that is a range."""
    return next((extra.range_of for extra in info.metadata if isinstance(extra, ReadsRange)), None)


def _annotated(annotation: Any) -> Iterator[Any]:
    for part in get_args(annotation):
        yield from getattr(part, "__metadata__", ())


def members(
    project: Project, not_known: Collection[FileKey] = (), planned: Iterable[Project] = ()
) -> dict[str, tuple[str, ...]]:
    """The members of each axis in this project, those that are not known too; `found` always stands first.

    Gears that only a planned truck has are among them.
    """
    fitments = tuple(dict.fromkeys(("found", *project.fitments)))
    return {
        "fitment": fitments,
        "axle": ("front", "rear"),
        "obstacle": tuple(obstacle_labels(project)),
        "gear": _ratios("gearbox", _named("gearbox", project, *planned), not_known),
        "range": _ratios("transfer", _named("transfer", project, *planned), not_known),
    }


def _named(table: str, *trucks: Project) -> dict[str, Any]:
    return {name: ratio for truck in trucks for name, ratio in getattr(truck.drivetrain, table).items()}


def _ratios(table: str, named: Mapping[str, Any], not_known: Collection[FileKey]) -> tuple[str, ...]:
    """The gears or ranges; one that is not known is one all the same, and where none is known there is some."""
    whole = ("drivetrain", table)
    lost = [str(key[2]) for key in sorted(not_known, key=str) if key[:2] == whole and len(key) > 2]
    some = [f"<{_TABLE_AXES[table]}>"] if any(key == whole[: len(key)] for key in not_known) else []
    return tuple(dict.fromkeys((*named, *lost, *some)))


def entered(project: Project, not_known: Collection[FileKey] = ()) -> Iterator[tuple[str, Place, Key, Value | None]]:
    """Every entry that the person made: the fact's name, its place, its key in the file, and the value.

    Each that is not known is among them without a value, at every place that it may have been made for.
    """
    for entrance in entrances():
        for fact, place, key, value in _found(project, entrance, 0, (), ()):
            if not any(one == key[: len(one)] for one in not_known):
                yield fact, place, key, value
    if not_known:
        there = members(project, not_known)
        for entrance, lost in product(entrances(), sorted(not_known, key=str)):
            yield from _lost(entrance, lost, there)


def _lost(
    entrance: Entrance, lost: FileKey, there: Mapping[str, tuple[str, ...]]
) -> Iterator[tuple[str, Place, Key, None]]:
    """The entries that there may be at a way in, as far as a key that is not known holds them or lies within."""
    pairs = zip(entrance.key, lost, strict=False)
    if not all(own == name or (own.startswith("<") and isinstance(name, str)) for own, name in pairs):
        return
    named = [
        (str(lost[at]),) if at < len(lost) else there[own[1:-1]] if own.startswith("<") else (own,)
        for at, own in enumerate(entrance.key)
    ]
    for key in product(*named):
        place = tuple(
            _MEMBERS[own] if own in _MEMBERS else (own[1:-1], name)
            for own, name in zip(entrance.key, key, strict=True)
            if own in _MEMBERS or own.startswith("<")
        )
        if all(member in there[axis] for axis, member in place):
            yield entrance.fact, place, key, None


def entered_at(
    project: Project, keys: Iterable[FileKey], not_known: Collection[FileKey]
) -> Iterator[tuple[str, Place, Key, Value | None]]:
    """The same of these entries alone."""
    wanted = set(keys)
    there = members(project) if not_known else {}
    for entrance in entrances():
        if any(_leads_to(entrance, key) for key in wanted):
            yield from (one for one in _found(project, entrance, 0, (), ()) if one[2] in wanted)
        for lost in not_known:
            yield from _lost(entrance, lost, there)


def _leads_to(entrance: Entrance, key: FileKey) -> bool:
    return len(entrance.key) == len(key) and all(
        mine == own or own.startswith("<") for mine, own in zip(key, entrance.key, strict=True)
    )


def _found(
    here: Any, entrance: Entrance, depth: int, key: Key, place: Place
) -> Iterator[tuple[str, Place, Key, Value]]:
    if here is None:
        return
    if depth == len(entrance.key):
        value = getattr(here, entrance.end) if entrance.end else here
        if value is not None:  # a wish for as much as clears has no ends
            yield entrance.fact, place, key, value
        return
    name = entrance.key[depth]
    if name.startswith("<"):
        for member, inner in here.items():
            yield from _found(inner, entrance, depth + 1, (*key, member), (*place, (name[1:-1], member)))
        return
    if name in _MEMBERS:
        place = (*place, _MEMBERS[name])
    yield from _found(getattr(here, name), entrance, depth + 1, (*key, name), place)


def key_at(entrance: Entrance, place: Mapping[str, str]) -> Key:
    """The key at which a fact is entered for a place: `axles.front.rating` for the front axle's."""
    return tuple(place.get(part[1:-1], part) if part.startswith("<") else part for part in entrance.key)


def entrance_of(key: str) -> tuple[Entrance, dict[str, str]] | None:
    """The declared entry that a key is, and the names of the person's that it goes through; None for others."""
    return entrance_at(tuple(key.split(".")))


def entrance_at(parts: Key) -> tuple[Entrance, dict[str, str]] | None:
    """The same of a key in its names, of which one may have dots."""
    for entrance in _entrances_like(len(parts), parts[-1]) if parts else ():
        if all(mine == own or own.startswith("<") for mine, own in zip(parts, entrance.key, strict=True)):
            at = {own[1:-1]: mine for mine, own in zip(parts, entrance.key, strict=True) if own.startswith("<")}
            axle = [own for own in entrance.key if own in ("front", "rear")]
            return entrance, at | ({"axle": axle[0]} if axle else {})
    return None


@cache
def _entrances_like(length: int, last: str | int) -> tuple[Entrance, ...]:
    """Those with so many names, the last of which is this one, or a person's own."""
    return tuple(
        one for one in entrances() if len(one.key) == length and (one.key[-1] == last or one.key[-1][0] == "<")
    )


def obstacle_labels(project: Project) -> list[str]:
    """A name for each obstacle, in the order of the file: its own, with axle, side or number where two share it."""
    own = [one.name or f"obstacle {number + 1}" for number, one in enumerate(project.obstacles)]
    sided = [
        f"{one.axle or ''} {name}".strip() if shared else name
        for one, name, shared in zip(project.obstacles, own, _shared(own), strict=True)
    ]
    full = [
        f"{one.side} {name}" if shared else name
        for one, name, shared in zip(project.obstacles, sided, _shared(sided), strict=True)
    ]
    pairs = enumerate(zip(full, _shared(full), strict=True), 1)
    return [f"{name} ({number})" if shared else name for number, (name, shared) in pairs]


def _shared(names: list[str]) -> list[bool]:
    """Of each name whether another looks like it."""
    plain = [normal_name(name) for name in names]
    counts = Counter(plain)
    return [counts[name] > 1 for name in plain]
