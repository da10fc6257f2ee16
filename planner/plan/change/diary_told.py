"""The diary as somebody reads it who never saw the file: of each entry what it was of, by name, and what from and to.

An entry has only keys, and a place in a list shifts. So the lists are followed back from what the project says now.
"""

from collections.abc import Iterator, Mapping
from typing import Any, NamedTuple

from planner.plan.change.effect_words import written
from planner.plan.truck.entry_names import name_of
from planner.plan.truck.project import OpenProject
from planner.plan.work.dependencies import standing_task_of
from planner.project.diary_entries import DiaryEntry, KeyChange
from planner.project.diary_reading import Diary, data_at
from planner.project.diary_words import besides
from planner.project.faults import LONGEST_SAID, Faulty, as_key, plain
from planner.project.lines import Key
from planner.project.written_keys import split_key
from planner.quantities.text import clean, cut, normal_name

MOST_TOLD = 8  # things of one entry
LONGEST = 160  # letters of one value
CALLED = {  # by which entries a row of a list goes, the first that it has
    "tasks": ("title", "id"),
    "parts": ("title", "id"),
    "decisions": ("question",),
    "changes": ("name", "kind"),
    "wheels": ("mark", "position"),
    "obstacles": ("name",),
    "acceptances": ("flag",),
    "readings": ("of",),
    "sheets": ("number",),
}
_UNTOLD = ("rests", "rested_on", "id")  # the planner's own marks
_AS_IS = ("state", "recorded", "chosen", "value")  # what goes without its name

Lists = dict[str, list[dict[str, Any]]]


class ToldEntry(NamedTuple):
    """One entry in words: its number, its day, what was done, what it was done to, each with its values, and why."""

    number: int
    on: str
    what: str
    told: tuple[str, ...]
    because: str


def told_entries(opened: OpenProject, diary: Diary, most: int) -> list[ToldEntry]:
    """The last entries in words, the oldest of them first."""
    found: list[ToldEntry] = []
    after = _lists(opened, diary)
    for entry in reversed(diary.entries[-most:]):
        before = _undone(after, entry)
        found.append(_told(opened, entry, before, after))
        after = before
    return found[::-1]


def _lists(opened: OpenProject, diary: Diary) -> Lists:
    """The lists as the last entry left them; nothing where its text can no longer be made."""
    try:
        data: Mapping[str, Any] = data_at(diary, diary.entries[-1].number) if diary.entries else {}
    except Faulty:
        data = opened.opened.data
    return {name: _rows(data.get(name)) for name in CALLED}


def _rows(held: Any) -> list[dict[str, Any]]:
    return [dict(row) if isinstance(row, Mapping) else {} for row in held] if isinstance(held, list) else []


def _undone(lists: Lists, entry: DiaryEntry) -> Lists:
    """The lists as they were before an entry; empty where it does not say enough, so that no name is a wrong one."""
    if entry.left_out:
        return {}
    before = {name: [dict(row) for row in rows] for name, rows in lists.items()}
    try:
        for key, was, _ in entry.moved:
            if key[0] in before and len(key) == 1:
                before[str(key[0])] = _rows(was)
            elif key[0] in before and len(key) == 3 and isinstance(key[1], int):
                before[str(key[0])][key[1]][str(key[2])] = was
        rows = [
            one for one in entry.moved if one.key[0] in before and len(one.key) == 2 and isinstance(one.key[1], int)
        ]
        for key, was, now in sorted(rows, key=lambda one: int(one.key[1]), reverse=True):
            if was is None:
                del before[str(key[0])][int(key[1])]
            elif now is not None:
                before[str(key[0])][int(key[1])] = dict(was)
        for key, was, now in sorted(rows, key=lambda one: int(one.key[1])):
            if now is None:
                before[str(key[0])].insert(int(key[1]), dict(was))
    except (IndexError, TypeError, ValueError):
        return {}
    return before


def _told(opened: OpenProject, entry: DiaryEntry, before: Lists, after: Lists) -> ToldEntry:
    other = entry.details.get("entry")
    what = plain(entry.kind) + (f" of entry {other}" if isinstance(other, int) else "")
    told = []
    for subject, moved in _together(opened, entry, before, after).items():
        said = "; ".join(filter(None, (_move(opened, one, len(key), entry.because) for key, one in moved)))
        called = cut(subject, LONGEST)
        told.append(f"{called}: {said}" if called and said else called or said)
    told = [cut(one, 2 * LONGEST) for one in told if one]
    more = len(told) - MOST_TOLD + entry.left_out
    told = [
        *told[:MOST_TOLD],
        *([f"and {more} more"] if more > 0 else []),
        *(plain(one, LONGEST_SAID) for one in besides(entry)),
    ]
    return ToldEntry(entry.number, entry.at[:10], what, tuple(told), plain(entry.because, LONGEST_SAID))


def _together(
    opened: OpenProject, entry: DiaryEntry, before: Lists, after: Lists
) -> dict[str, list[tuple[Key, KeyChange]]]:
    """What moved, by what it is of; each with what is left of its key."""
    found: dict[str, list[tuple[Key, KeyChange]]] = {}
    for one in (each for moved in entry.moved if moved.key for each in _one_by_one(moved)):
        lists = before if one.now is None else after
        subject, rest = _subject(opened, one.key, lists)
        if not rest or rest[0] not in _UNTOLD:
            found.setdefault(subject, []).append((rest, one._replace(key=rest)))
    return found


def _one_by_one(one: KeyChange) -> Iterator[KeyChange]:
    """A list that is new, or gone, as its rows, and a table as its entries."""
    side = one.now if one.was is None else one.was if one.now is None else None
    if one.key[0] in CALLED:
        inside = list(enumerate(_rows(side))) if len(one.key) == 1 else []
    else:
        inside = list(side.items()) if isinstance(side, Mapping) else []
    if not inside:
        yield one
    for name, value in inside:
        was, now = (None, value) if one.was is None else (value, None)
        yield from _one_by_one(KeyChange((*one.key, name), was, now))


def _subject(opened: OpenProject, key: Key, lists: Lists) -> tuple[str, Key]:
    """What a key is of, by its name, and what is left of it; in the words of the key where nobody has a name for it."""
    if key[0] in CALLED and len(key) > 1 and isinstance(key[1], int):
        rows = lists.get(str(key[0]), [])
        called = _called(opened, str(key[0]), rows[key[1]]) if 0 <= key[1] < len(rows) else ""
        if called:
            return called, _inside(opened, key[2:])
    words = " ".join(str(part).replace("_", " ") for part in key if isinstance(part, str))
    return clean(name_of(key, {**opened.opened.data, **lists}) or words or as_key(key)), ()


def _inside(opened: OpenProject, rest: Key) -> Key:
    """The entries that a change sets go by their names too."""
    if len(rest) > 1 and rest[0] in ("sets", "measured"):
        names = split_key(str(rest[1]))
        return ((names and name_of(tuple(names), opened.opened.data)) or str(rest[1]), *rest[2:])
    return rest


def _called(opened: OpenProject, table: str, row: Mapping[str, Any]) -> str:
    name = next((clean(str(row[one])) for one in CALLED[table] if row.get(one) not in (None, "")), "")
    if not name:
        return ""
    match table:
        case "tasks":
            standing = standing_task_of(normal_name(str(row.get("id") or "")))
            return f"{standing[0].title}{f' ({standing[1]})' if standing[1] else ''}" if standing else name
        case "acceptances":
            node = opened.sheet.catalog.named(name)
            rule = opened.sheet.catalog.rules.get(node or "")
            at = f" ({clean(str(row['at']))})" if row.get("at") else ""
            return f"accepted: {rule.notices if rule else name}{at}"
        case "readings":
            return f"reading of the {clean(opened.spoken(name))}"
        case "wheels":
            return f"wheel {name}"
        case "sheets":
            return f"{clean(str(row.get('kind') or 'sheet'))}, sheet {name}"
    return name


def _move(opened: OpenProject, one: KeyChange, depth: int, because: str) -> str:
    """What became of one thing; empty where the reason says it already."""
    if one.key[-1:] == ("because",) and because and str(one.now) in (because, "None"):
        return ""
    if depth == 0 and isinstance(one.now, Mapping) and one.was is None:
        return _whole(opened, one.now, because)
    if depth == 0 and isinstance(one.was, Mapping) and one.now is None:
        return "taken out"
    told = f"{_value(one.was)} → {_value(one.now)}"
    if one.was is None and depth:
        told = _value(one.now)
    elif one.now is None and depth:
        told = f"{_value(one.was)} taken out"
    name = " ".join(clean(str(part)).replace("_", " ") for part in one.key if not isinstance(part, int))
    return f"{name} {told}" if name and name not in _AS_IS else told


def _whole(opened: OpenProject, row: Mapping[str, Any], because: str) -> str:
    """All that a new row says, but for its name."""
    names = {name for names in CALLED.values() for name in names} - ({"kind"} if "number" not in row else set())
    told = []
    for name, value in row.items():
        if name in names or name in _UNTOLD or (name == "because" and str(value) == because):
            continue
        if isinstance(value, Mapping):  # what a change sets
            inside = (_inside(opened, ("sets", str(key)))[0] for key in value)
            told += [f"{clean(str(key))} {_value(each)}" for key, each in zip(inside, value.values(), strict=True)]
            continue
        shown = _value(value)
        told.append(shown if name in _AS_IS else f"{clean(name).replace('_', ' ')} {shown}")
    return ", ".join(told) or "new"


def _value(value: Any) -> str:
    return cut(written(value), LONGEST)
