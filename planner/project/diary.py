"""Writing in a project's diary, always together with the project; undo, redo and bringing back an earlier state.

What is written is never changed: taking something back is an entry too. The diary is read in `diary_reading`; how both
files are changed or neither is, is told in `diary_writing`.
"""

import datetime
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from typing import Any, NamedTuple

from planner.project.diary_entries import DiaryEntry, KeyChange, key_changes
from planner.project.diary_reading import Diary, data_at, find, read_diary, read_end, text_with
from planner.project.diary_writing import Draft, lines_for, put_together, set_aside
from planner.project.faults import Faulty
from planner.project.likeness import alike
from planner.project.obstacle_names import OBSTACLES, obstacle_names
from planner.project.rested_on import KEPT, put_away
from planner.project.saving import CannotSave, NotSaved, Written, held, read_back, told_as_not_saved, unchanged
from planner.project.source import ProjectText, parse
from planner.project.versions import FORMAT_MOVED, brought_up_to_date, made_by_newer, old_kept, version_of
from planner.quantities.text import clean

LONGEST_REASON = 4000  # characters
OWN_KINDS = frozenset({"began", "hand edit", "not done", "undo", "redo", "restore"})  # what only this module writes
PUT_BACK = "put back"  # of a caller whose file was changed from outside

Judge = Callable[[str], None]  # looks at a text before it is written, and raises where it may not be


class NothingThere(NotSaved):
    """There is nothing to undo, to redo, or to bring back."""


class Committed(NamedTuple):
    """A save that is done: the project as `written`, the `entries` added, the last of them its own.

    `set_aside` is where half a line went that a power cut had left at the diary's end.
    """

    written: Written
    entries: tuple[DiaryEntry, ...]
    set_aside: Path | None = None

    @property
    def format_moved(self) -> bool:
        """Whether the file was of another format before."""
        return bool(self.entries) and FORMAT_MOVED in self.entries[-1].details


def commit(
    source: ProjectText,
    new_text: str | ProjectText,
    *,
    kind: str,
    because: str = "",
    details: Mapping[str, object] | None = None,
    keep_old: str | None = None,
    at: datetime.datetime | None = None,
) -> Committed:
    """Writes the project's new text and the entry for it, both or neither; raises `NotSaved`.

    `kind` is such as change, decision, tick or print; `details` is plain data of the caller's own. What happened to the
    file since the last entry is written down first; where there is no diary, it is begun. With the text as it was, only
    the entry is written. The new text may come parsed already, from whoever tried it first. What its
    records rested on is put away in the entry (`rested_on`): the text as written may be another.
    """
    if kind in OWN_KINDS:
        raise ValueError(f"{kind} is not for callers")
    return _commit(source, new_text, kind, because, details or {}, keep_old, at)


def catch_up(source: ProjectText, at: datetime.datetime | None = None, because: str = "") -> Committed | None:
    """Writes down what happened to the project since its diary's last entry, if anything did; raises `NotSaved`.

    A diary that is not there is not begun.
    """
    with told_as_not_saved(source.path):
        end = read_end(source.path)
    if not end.entries or end.entries[-1].after == source.digest:
        return None
    return _commit(source, None, "", because, {}, None, at)


def undo(
    source: ProjectText, because: str = "", at: datetime.datetime | None = None, judge: Judge | None = None
) -> Committed:
    """Takes the last change back that is not taken back yet, one by hand included; raises `NotSaved`.

    It is an entry of its own. Entries that left the text alone are passed over. `judge` may raise, so that the text
    that would stand is not written.
    """
    refuse_newer(source.path, source.data)
    diary = _as_caught_up(source, at)
    done, _ = stacks(diary)
    if not done:
        raise NothingThere(source.path, "there is nothing to undo")
    entry = done[-1]
    return _return_to(source, diary, entry.before, "undo", because, entry, at, judge)


def redo(
    source: ProjectText, because: str = "", at: datetime.datetime | None = None, judge: Judge | None = None
) -> Committed:
    """Makes the change again that was undone last; raises `NotSaved`, also where something was changed since."""
    refuse_newer(source.path, source.data)
    diary = _as_caught_up(source, at)
    _, undone = stacks(diary)
    if not undone:
        raise NothingThere(source.path, "there is nothing to redo: nothing was undone, or something was changed since")
    entry = undone[-1]
    return _return_to(source, diary, entry.after, "redo", because, entry, at, judge)


def bring_back(
    source: ProjectText,
    number: int,
    because: str = "",
    at: datetime.datetime | None = None,
    judge: Judge | None = None,
) -> Committed:
    """Gives the project the text that entry `number` left, as a new entry; raises `NotSaved`."""
    with told_as_not_saved(source.path):
        diary = read_diary(source.path)
        entry = find(diary, number)
    if entry.after == source.digest:
        raise NothingThere(source.path, f"it already reads the way entry {number} left it")
    return _return_to(source, diary, entry.after, "restore", because, entry, at, judge)


def would_change(source: ProjectText, number: int) -> list[KeyChange]:
    """What bringing back the text that entry `number` left would change; raises `Faulty`."""
    return list(key_changes((), source.data, data_at(read_diary(source.path), number)))


def standing(diary: Diary, source: ProjectText) -> str:
    """How the project stands to its diary: no diary, in step, not done (the last entry), or hand edit."""
    if not diary.entries:
        return "no diary"
    last = diary.entries[-1]
    if last.after == source.digest:
        return "in step"
    # What is only written down afterwards cannot have been left undone.
    afterwards = last.kind in ("began", "hand edit", "not done")
    return "not done" if last.before == source.digest and not afterwards else "hand edit"


def stacks(diary: Diary) -> tuple[list[DiaryEntry], list[DiaryEntry]]:
    """The entries that can be undone and those that can be redone, the next one last in each.

    An entry that does not follow on the text before it, since one between is damaged, leaves nothing to undo before it.
    """
    done: list[DiaryEntry] = []
    undone: list[DiaryEntry] = []
    dropped: list[DiaryEntry] = []  # what the last entry took from `undone`, in case that entry was not done
    last: DiaryEntry | None = None
    for entry in diary.entries:
        if entry.kind == "not done" and last is not None and last.after == entry.before:
            if done and done[-1] is last:
                done.pop()
                undone = dropped
            elif last.kind == "undo" and undone:
                done.append(undone.pop())
            elif last.kind == "redo" and done:
                undone.append(done.pop())
        elif last is None or entry.before != last.after:
            done, undone = [], []
        elif entry.before == entry.after:
            pass
        elif entry.kind == "undo" and done and done[-1].before == entry.after:
            undone.append(done.pop())
        elif entry.kind == "redo" and undone and undone[-1].after == entry.after:
            done.append(undone.pop())
        else:
            done.append(entry)
            dropped, undone = undone, []
        last = entry
    return done, undone


def _as_caught_up(source: ProjectText, at: datetime.datetime | None) -> Diary:
    """The diary with what happened since its last entry, which is only written with what comes of it."""
    with told_as_not_saved(source.path):
        diary = read_diary(source.path)
    if not diary.entries:
        return diary
    _, since = lines_for(source.path, diary, list(_since_then(diary, source)), at)
    return diary._replace(entries=[*diary.entries, *since])


def _return_to(
    source: ProjectText,
    diary: Diary,
    digest: str,
    kind: str,
    because: str,
    entry: DiaryEntry,
    at: datetime.datetime | None,
    judge: Judge | None,
) -> Committed:
    with told_as_not_saved(source.path):
        text = text_with(diary, digest)
    if judge is not None:
        judge(text)
    return _commit(source, text, kind, because, {"entry": entry.number, "kind": entry.kind}, None, at)


def another(diary: Diary) -> str:
    """What is said of a diary whose last text is not like the file that it stands beside."""
    name = clean(diary.path.name)
    return (
        f"another project's diary, {name}: its last text is nothing like this file; give it back to its own project, "
        "or move it out of the way"
    )


def _commit(
    source: ProjectText,
    new_text: str | ProjectText | None,
    kind: str,
    because: str,
    details: Mapping[str, object],
    keep_old: str | None,
    at: datetime.datetime | None,
) -> Committed:
    """As `commit`; with None for the text only what happened since the last entry is written down."""
    path = source.path
    refuse_newer(path, source.data)
    if len(because) > LONGEST_REASON:
        raise CannotSave(path, f"the reason is too long: no more than {LONGEST_REASON} characters")
    new = source if new_text is None else new_text if isinstance(new_text, ProjectText) else read_back(path, new_text)
    refuse_newer(path, new.data)
    was, now = version_of(source.data), version_of(new.data)
    if was is not None and now is not None and was < now:
        keep_old = old_kept(was)
    with held(path) as target:
        unchanged(path, target, source.digest)
        end = read_end(target)
        drafts = list(_since_then(end, source))
        if new_text is not None:
            rested: dict[str, object] = {}
            again = kind in OWN_KINDS or kind == PUT_BACK  # a text that was there before comes back to the byte
            if not again and new.digest != source.digest:
                new, rested = put_away(new, end.following + len(drafts))
            moved, more = _moves(source.data, new.data)
            if rested:  # where it is kept is nothing that a person changed
                moved = tuple(one for one in moved if one.key[2:3] not in ((KEPT,), ("rests",)))
            details = {**details, **more, **rested}
            drafts.append(Draft(kind, because, moved, details, source.digest, new.digest, source.text, new.text))
        elif drafts:
            drafts[-1] = drafts[-1]._replace(because=because)
        lines, entries = lines_for(path, end, drafts, at)
        aside = set_aside(path, end, target)
        kept, durable = put_together(path, target, source.digest, new, end, lines, keep_old)
    return Committed(Written(new, kept, durable), entries, aside)


def _since_then(end: Diary, source: ProjectText) -> Iterator[Draft]:
    """What has to be written down before anything else."""
    match standing(end, source):
        case "no diary":
            yield Draft("began", "", (), {}, "", source.digest, None, source.text)
        case "not done":
            last = end.entries[-1]
            moved = tuple(KeyChange(key, now, was) for key, was, now in last.moved)
            said: dict[str, object] = {"entry": last.number}
            said |= {name: one for name, one in last.details.items() if name == OBSTACLES}
            if isinstance(formats := last.details.get(FORMAT_MOVED), dict):
                said[FORMAT_MOVED] = {"was": formats.get("now"), "now": formats.get("was")}
            yield Draft("not done", "", moved, said, last.after, source.digest, None, source.text)
        case "hand edit":
            last = end.entries[-1]
            try:
                old = text_with(read_diary(source.path), last.after)
                then = parse(source.path, old.encode("utf-8")).data
                if not alike(then, source.data):
                    raise CannotSave(source.path, f"next to it is {another(end)}")
                moved, more = _moves(then, source.data)
                yield Draft("hand edit", "", moved, more, last.after, source.digest, old, source.text)
            except Faulty:  # a damaged diary: what moved cannot be said, but from here on all is known again
                yield Draft("hand edit", "", (), {"not known": True}, last.after, source.digest, None, source.text)


def _moves(old: dict[str, Any], new: dict[str, Any]) -> tuple[tuple[KeyChange, ...], dict[str, object]]:
    """What moved between two states, and what an entry says of it beside what it is told to say.

    Of two formats both are taken in the newest: that keys have other places is told once, by the formats.
    """
    was, now = version_of(old), version_of(new)
    more: dict[str, object] = {}
    if was != now and was is not None and now is not None:
        more[FORMAT_MOVED] = {"was": was, "now": now}
        one, other = brought_up_to_date(old), brought_up_to_date(new)
        if isinstance(one, dict) and isinstance(other, dict):
            old, new = one, other
    moved = tuple(key_changes((), old, new))
    names = obstacle_names(moved, old, new)
    return moved, more | ({OBSTACLES: names} if names else {})


def refuse_newer(path: Path, data: dict[str, Any]) -> None:
    """Whoever writes comes through here: what a newer program made stays as it is."""
    newer = made_by_newer(data)
    if newer is not None:
        raise CannotSave(path, newer.message)
