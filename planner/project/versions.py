"""The format's versions: an older file is brought up to date in memory; only a save writes it.

A step from one format to the next is data: which entries move to which keys, and which values then name another key.
Both the data in memory (here) and the text at the first save (`migrating`) are changed by the same moves.
"""

from collections.abc import Callable, Iterator, Mapping
from typing import Any, NamedTuple, get_origin

from planner.project.changes import table_at
from planner.project.facts import inner_model
from planner.project.faults import Fault
from planner.project.lines import Key
from planner.project.models.entry import Table, entries, since
from planner.project.models.project import FORMAT, Project
from planner.project.models.studs import Studs

Data = dict[str, Any]

NUTS = ("seat", "seat_angle", "hand_left", "hand_right")  # stood among the studs in format 1
# By table, the names that stood in it once, and the table that each stands in now.
GONE: Mapping[type[Table], Mapping[str, str]] = {Studs: dict.fromkeys(NUTS, "nuts")}
# By version: a table, the table that some of its entries stand in since, and their names.
TABLES_MOVED: Mapping[int, tuple[tuple[Key, Key, tuple[str, ...]], ...]] = {
    1: tuple((("axles", end, "studs"), ("axles", end, "nuts"), NUTS) for end in ("front", "rear"))
}
FORMAT_MOVED = "format"  # what a diary's entry calls the formats before and after it, where they differ
_OF_FORMAT_1 = "_of_format_1"
_NEAR = 0.8  # from which likeness on a key is taken for a slip of the pen
_NEAR_OF_FOUR = 0.75  # the same of a name of four letters: one of them is another


class Migration(NamedTuple):
    """What a step does to one file's data, in this order: `moves` from key to key, then the values to `set`."""

    moves: tuple[tuple[Key, Key], ...] = ()
    set: tuple[tuple[Key, object], ...] = ()


Step = Callable[[Data], Migration]


def old_kept(version: int) -> str:
    """Under which ending a file of that format stays beside the one that takes its place."""
    return f".v{version}.bak"


def near_name(name: str, known: Mapping[str, object] | list[str]) -> str | None:
    """The known key for which a name is probably a slip of the pen."""
    from difflib import get_close_matches  # only a slip of the pen needs it

    if len(name) > 2 * max(map(len, known), default=0):
        return None  # by its length alone; a name of 50 KB would be searched for seconds
    return next(iter(get_close_matches(name, known, n=1, cutoff=_NEAR_OF_FOUR if len(name) == 4 else _NEAR)), None)


def _to_format_2(data: Data) -> Migration:
    """Nuts have a table of their own; a person's own key gives way where format 2 has one of that name, or like it."""
    moves = list(_own_keys(Project, data, ()))
    for old, new, names in TABLES_MOVED[1]:
        held = table_at(data, old)
        moves += [((*old, name), (*new, name)) for name in names if name in held]
    moves += _rested_on(data)
    readings = data.get("readings")
    values = [
        (("readings", number, "of"), _now_called(one["of"]))
        for number, one in enumerate(readings if isinstance(readings, list) else ())
        if isinstance(one, dict) and isinstance(one.get("of"), str) and _now_called(one["of"]) != one["of"]
    ]
    return Migration(tuple(moves), tuple(values))


def _now_called(key: str) -> str:
    """A key of format 1, as text, in format 2."""
    for old, new, names in TABLES_MOVED[1]:
        for name in names:
            if key == ".".join(map(str, (*old, name))):
                return ".".join(map(str, (*new, name)))
    return key


def _rested_on(data: Data) -> Iterator[tuple[Key, Key]]:
    """What records rested on goes by the keys of the file."""
    for table in ("decisions", "acceptances", "tasks", "sheets"):
        records = data.get(table)
        for number, record in enumerate(records if isinstance(records, list) else ()):
            held = record.get("rested_on") if isinstance(record, dict) else None
            for name in held if isinstance(held, dict) else ():
                if _now_called(name) != name:
                    at: Key = (table, number, "rested_on")
                    yield (*at, name), (*at, _now_called(name))


def _own_keys(model: type[Table], data: Any, key: Key) -> Iterator[tuple[Key, Key]]:
    """Keys that nothing read in format 1, and that would be read, or taken for a slip, in format 2."""
    if not isinstance(data, dict):
        return
    known = entries(model)
    old = [*(name for name, info in known.items() if since(info).version == 1), *GONE.get(model, ())]
    for name, value in data.items():
        if name in old:
            info = known.get(name)
            inner = inner_model(info.annotation) if info is not None else None
            if info is None or inner is None:
                continue
            of = get_origin(info.annotation)
            if of is dict:
                below = value.items() if isinstance(value, dict) else ()
                for member, one in below:
                    yield from _own_keys(inner, one, (*key, name, member))
            elif of is list:
                for number, one in enumerate(value if isinstance(value, list) else ()):
                    yield from _own_keys(inner, one, (*key, name, number))
            else:
                yield from _own_keys(inner, value, (*key, name))
        elif near_name(name, old) is None and near_name(name, known) is not None:
            other = f"{name}{_OF_FORMAT_1}"
            while other in data:
                other += "_"
            yield (*key, name), (*key, other)


# STEPS[1] says how the data of a format 1 file becomes format 2.
STEPS: Mapping[int, Step] = {1: _to_format_2}


def version_of(data: Data) -> int | None:
    """The number that the data gives for its format, or None where it gives no sound one."""
    version = data.get("format")
    return version if type(version) is int and version >= 1 else None


def made_by_newer(data: Data) -> Fault | None:
    """What is said of a file that a newer program made; None where it is not."""
    version = version_of(data)
    if version is None or version <= FORMAT:
        return None
    told = f"a newer program made this file (format {version}); it is left as it is"
    return Fault(told, ("format",), None, "", f"a file of format {FORMAT} or older, or a newer planner")


def brought_up_to_date(data: Data) -> Data | Fault:
    """The data in the newest format, or what is wrong with its version; the given data is left alone."""
    version = data.get("format")
    if version is None:
        return Fault("the file doesn't say which format it's in", ("format",), None, "", f"format = {FORMAT}")
    if isinstance(version, bool) or not isinstance(version, int) or version < 1:
        return Fault("", ("format",), None, str(version), f"a whole number, {FORMAT} for this program")
    too_new = made_by_newer(data)
    if too_new is not None:
        return too_new
    for old in range(version, FORMAT):
        data = {**migrated(data, STEPS[old](data)), "format": old + 1}
    return data


def migrated(data: Data, migration: Migration) -> Data:
    """A copy of the data as a migration leaves it."""
    for old, new in migration.moves:
        data = _with(data, new, _held(data, old), instead_of=old)
    for key, value in migration.set:
        data = _with(data, key, value)
    return data


def keys_as_written(data: Data) -> dict[Key, Key]:
    """By the key in the newest format, the key under which an older file's data has an entry that moved."""
    found: dict[Key, Key] = {}
    for old in range(version_of(data) or FORMAT, FORMAT):
        migration = STEPS[old](data)
        moved = {new: found.get(was, was) for was, new in migration.moves}
        found = {new: was for new, was in found.items() if new not in dict(migration.moves)} | moved
        data = {**migrated(data, migration), "format": old + 1}
    return found


def _held(data: Any, key: Key) -> Any:
    for name in key:
        data = data[name]
    return data


def _with(data: Any, key: Key, value: object, instead_of: Key | None = None) -> Any:
    """A copy with the value at the key; what stood at another key goes, and a renamed entry keeps its place."""
    if instead_of is not None and instead_of[:-1] == key[:-1]:
        holder = {key[-1] if name == instead_of[-1] else name: one for name, one in _held(data, key[:-1]).items()}
        return _with(data, key[:-1], holder) if len(key) > 1 else holder
    if instead_of is not None:
        holder = {name: one for name, one in _held(data, instead_of[:-1]).items() if name != instead_of[-1]}
        data = _with(data, instead_of[:-1], holder)
    name, rest = key[0], key[1:]
    if isinstance(data, list):
        inner = _with(data[int(name)], rest, value) if rest else value
        return [inner if number == name else one for number, one in enumerate(data)]
    inner = _with(data.get(name, {}), rest, value) if rest else value
    return {**data, name: inner}
