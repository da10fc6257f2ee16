"""The way back to a project whose file is gone or cannot be read, and whether a diary and a file belong together."""

import datetime
import os
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

from planner.project.diary import Committed, NothingThere, another, refuse_newer, standing
from planner.project.diary_entries import DiaryEntry, key_changes
from planner.project.diary_reading import Diary, diary_path, find, read_diary, read_end, text_with
from planner.project.diary_words import STANDS
from planner.project.diary_writing import Draft, lines_for, put_together, set_aside
from planner.project.faults import Faulty
from planner.project.likeness import alike
from planner.project.reading import understand
from planner.project.saving import Written, held
from planner.project.source import ProjectText, digest_of, parse, read_bytes
from planner.quantities.text import clean

KEPT = ".outside.bak"  # what could not be read is kept beside the project under this ending
MOST_LOOKED_AT = 50  # entries for a good one, files in a folder for one that was renamed


def last_good(diary: Diary) -> DiaryEntry | None:
    """The newest entry that left a text which can still be made and has no fault."""
    seen: set[str] = set()
    entry: DiaryEntry
    for entry in reversed(diary.entries):
        if entry.after not in seen and len(seen) < MOST_LOOKED_AT:
            seen.add(entry.after)
            then = _text(diary, entry.after)
            if then is not None and _is_sound(then):
                return entry
    return None


def _is_sound(source: ProjectText) -> bool:
    try:
        return not understand(source).faults
    except Faulty:  # of a format that is not known
        return False


def way_back(path: Path) -> list[str]:
    """What to tell of a file of which nothing can be read: the one command that brings it back, and its new name.

    Nothing where there is no diary to bring it back from.
    """
    try:
        diary = read_diary(path)
    except (Faulty, OSError, ValueError):
        return []
    entry, lines = last_good(diary), []
    if entry is not None:
        command = f"planner diary {_quoted(path)} bring-back {entry.number}"
        lines.append(f"`{command}` brings back the last good state, of {clean(entry.at[:10])}")
    if diary.entries and not os.path.lexists(path):
        lines += [
            f"{clean(other.name)} reads just as its diary left it: if it was renamed, "
            f"rename {clean(diary.path.name)} to {clean(diary_path(other).name)}"
            for other in _files_with(path, diary.entries[-1].after)
        ]
    return lines


def standing_words(diary: Diary, source: ProjectText) -> str:
    """How the project stands to its diary, in words; nothing where the one says what the other does."""
    stands = standing(diary, source)
    if stands == "no diary":
        other = next(iter(_diaries_that_end(source)), None)
        if other is not None:
            own = clean(diary_path(source.path).name)
            return (
                f"It has no diary of its own name, but {clean(other.name)} continues from exactly this text: if the "
                f"project was renamed, rename that to {own}."
            )
    if stands == "hand edit":
        then = _text(diary, diary.entries[-1].after)
        if then is not None and not alike(then.data, source.data):
            return f"Next to it is {another(diary)}."
    return STANDS.get(stands, "")


def bring_back_unread(path: Path, number: int, because: str = "", at: datetime.datetime | None = None) -> Committed:
    """Gives a project whose file is gone or cannot be read the text that entry `number` left; raises `NotSaved`.

    What stood there has no entry, since it was no project: it is kept as a file beside it.
    """
    with held(path) as target:
        try:
            stood: str | None = digest_of(read_bytes(target))
        except FileNotFoundError:
            stood = None
        diary = read_diary(target)
        entry = find(diary, number)
        text, last = text_with(diary, entry.after), diary.entries[-1]
        new = parse(target, text.encode("utf-8"))
        refuse_newer(path, new.data)
        if stood == new.digest:
            raise NothingThere(path, f"it already reads the way entry {number} left it")
        old = _text(diary, last.after)
        moved = tuple(key_changes((), old.data, new.data)) if old is not None else ()
        details = {"entry": number, "kind": entry.kind, "unread": "gone" if stood is None else "kept beside it"}
        draft = Draft("restore", because, moved, details, last.after, new.digest, old and old.text, text)
        lines, entries = lines_for(path, diary, [draft], at)
        aside = set_aside(path, diary, diary.path)
        kept, durable = put_together(path, target, stood, new, diary, lines, KEPT if stood is not None else None)
    return Committed(Written(new, kept, durable), entries, aside)


def _text(diary: Diary, digest: str) -> ProjectText | None:
    with suppress(Faulty):
        return parse(diary.path, text_with(diary, digest).encode("utf-8"))
    return None


def _beside(path: Path, ending: str) -> Iterator[Path]:
    folder = Path(os.path.realpath(path)).parent
    with suppress(OSError):
        names = sorted(name for name in os.listdir(folder) if name.endswith(ending) and not name.startswith("."))
        yield from (folder / name for name in names[:MOST_LOOKED_AT])


def _files_with(path: Path, digest: str) -> Iterator[Path]:
    for other in _beside(path, ".toml"):
        with suppress(OSError, Faulty):
            if digest_of(read_bytes(other)) == digest:
                yield other


def _diaries_that_end(source: ProjectText) -> Iterator[Path]:
    """The diaries beside a file whose last entry left exactly its text, and whose own file is gone."""
    for other in _beside(source.path, ".diary.jsonl"):
        project = other.with_name(other.name.removesuffix(".diary.jsonl") + ".toml")
        if os.path.lexists(project):
            continue  # a copy, then, and no new name
        with suppress(OSError, Faulty):
            end = read_end(project)
            if end.entries and end.entries[-1].after == source.digest:
                yield other


def _quoted(path: Path) -> str:
    from shlex import quote

    return clean(quote(str(path)))
