"""`planner diary FILE`: what was changed, when and why; undo and redo; look at any earlier state, or bring it back."""

import sys
from argparse import SUPPRESS, ArgumentParser, Namespace
from pathlib import Path
from typing import Any

from planner.commands.page import as_json, ink, paragraph
from planner.commands.table import FINE, WRONG, faults_told, project_parser, wrong
from planner.plan.truck.entry_names import lasting_name
from planner.plan.truck.recording import RefusedChange
from planner.project.diary import Committed, catch_up, standing
from planner.project.diary_entries import DiaryEntry, KeyChange
from planner.project.diary_reading import Diary, compare, data_at, diary_path, find, read_diary, text_at
from planner.project.diary_words import entry_lines, move
from planner.project.faults import Faulty, NothingToRead, as_key, as_line
from planner.project.obstacle_names import obstacle_names
from planner.project.project_path import project_file
from planner.project.saving import NotSaved
from planner.project.source import ProjectText, load
from planner.quantities.text import clean

EXAMPLE = """example:
  planner diary truck.toml                 the last entries, newest first
  planner diary truck.toml show 12         one entry in full
  planner diary truck.toml undo            undo the last change
  planner diary truck.toml redo            and make it again
  planner diary truck.toml at 12 --text    the project as entry 12 left it
  planner diary truck.toml compare 8 12    what differs between the two
  planner diary truck.toml bring-back 8 --because "the old wheels after all"
  planner diary truck.toml catch-up        write down what you edited by hand

Nothing is ever taken out of a diary: undoing is an entry too. It works no matter what
happened to the file: gone, cut short, or not a project anymore.
exit code: 0 done, 2 the file, the diary or the command is wrong"""
FEW = 20  # entries in the list without --all
WIDEST = 4  # keys of one entry in the list; `show` names all


def run(arguments: list[str]) -> int:
    asked = _parser().parse_args(arguments)
    asked.unread = ()
    try:
        try:
            source = load(asked.file)
        except NothingToRead as faulty:
            return _unread(asked, faulty)
        return _written(source, asked) if asked.action in _WRITES else _read(source.path, source, asked)
    except Faulty as faulty:
        return faults_told(faulty)
    except RefusedChange as refused:
        wrong(f"planner diary: {refused}")
    except NotSaved as failed:
        wrong(str(failed))
    return WRONG


_WRITES = ("undo", "redo", "bring-back", "catch-up")


def _parser() -> ArgumentParser:
    parser = project_parser("planner diary", __doc__, EXAMPLE)
    parser.add_argument("--all", action="store_true", help="list every entry in full")
    parser.add_argument("--json", action="store_true", help="print JSON")
    actions = parser.add_subparsers(dest="action", metavar="ACTION", prog="planner diary FILE")
    for name, words in (("show", "one entry in full"), ("at", "the project as an entry left it")):
        action = actions.add_parser(name, help=words)
        action.add_argument("number", type=int, metavar="N")
        action.add_argument("--json", action="store_true", default=SUPPRESS)
        if name == "at":
            action.add_argument("--text", action="store_true", help="the text of the file, byte for byte")
    both = actions.add_parser("compare", help="what's different between two entries")
    both.add_argument("number", type=int, metavar="N")
    both.add_argument("other", type=int, metavar="M")
    both.add_argument("--json", action="store_true", default=SUPPRESS)
    for name, words in (
        ("undo", "undo the last change"),
        ("redo", "redo what was undone"),
        ("bring-back", "bring the project back to an entry"),
        ("catch-up", "write down what you edited by hand"),
    ):
        action = actions.add_parser(name, help=words)
        if name == "bring-back":
            action.add_argument("number", type=int, metavar="N")
        action.add_argument("--because", default="", help="why")
    return parser


def _unread(asked: Namespace, faulty: NothingToRead) -> int:
    """The diary of a file of which nothing can be read: it tells all that it holds, and gives any state back."""
    path = project_file(asked.file)
    if asked.action == "bring-back":
        from planner.project.way_back import bring_back_unread

        done = bring_back_unread(path, asked.number, asked.because)
        if done.written.kept is not None:
            wrong(f"what couldn't be read is kept as {done.written.kept}")
        return _told(done)
    faults_told(faulty)
    asked.unread = faulty.faults
    if asked.action not in _WRITES and diary_path(path).exists():
        _read(path, None, asked)
    return WRONG


def _written(source: ProjectText, asked: Namespace) -> int:
    from planner.plan.change.cure import bring_state_back, make_change_again, take_back_change

    done: Committed | None
    match asked.action:
        case "undo":
            done = take_back_change(source, asked.because)
        case "redo":
            done = make_change_again(source, asked.because)
        case "bring-back":
            done = bring_state_back(source, asked.number, asked.because)
        case _:
            done = catch_up(source, because=asked.because)
    if done is None:
        from planner.project.way_back import standing_words  # the models are only read for it

        said = standing_words(read_diary(source.path), source)
        print(said or "Nothing has happened to the file since the last entry.")
        return FINE
    return _told(done)


def _told(done: Committed) -> int:
    if done.set_aside:
        wrong(f"half an entry at the end of the diary was set aside in {done.set_aside}")
    print("\n".join(line for entry in done.entries for line in _entry(entry, None)))
    return FINE


def _read(path: Path, source: ProjectText | None, asked: Namespace) -> int:
    diary = read_diary(path)
    for trouble in diary.troubles:
        wrong(as_line(diary.path, trouble))
    match asked.action:
        case "show":
            entry = find(diary, asked.number)
            return _out(asked, _entry_data(entry), _entry(entry, None))
        case "at":
            text = text_at(diary, asked.number)
            if asked.json:
                return _out(asked, {"number": asked.number, "text": text}, [])
            if asked.text:
                harmless = "\n".join(map(clean, text.split("\n")))
                sys.stdout.write(harmless if sys.stdout.isatty() else text)  # in a pipe it is wanted byte for byte
                return FINE
            return _out(asked, None, _state(diary, asked.number, text))
        case "compare":
            moved = compare(diary, asked.number, asked.other)
            told = _moved(diary, moved, asked.number, asked.other)
            return _out(asked, [_moved_data(one) for one in moved], told or ["Nothing is different."])
    return _out(asked, [_entry_data(one) for one in reversed(diary.entries)], _list(diary, source, asked.all))


def _out(asked: Namespace, data: Any, lines: list[str]) -> int:
    if asked.json and asked.unread:
        from planner.commands.faults_first import faults_data  # with all of the project's models, and only wanted here

        data = {"faults": faults_data(asked.unread), "answer": data}
    if asked.json:
        print(as_json(data))
    else:
        print("\n".join(lines))
    return FINE


def _list(diary: Diary, source: ProjectText | None, all_: bool) -> list[str]:
    entries = diary.entries if all_ else diary.entries[-FEW:]
    lines = [line for entry in reversed(entries) for line in _entry(entry, None if all_ else WIDEST)]
    if len(entries) < len(diary.entries):
        lines.append(f"and {len(diary.entries) - len(entries)} earlier; --all lists them")
    said = _stands(diary, source) if source is not None else ""
    return [*lines, *(paragraph(said) if said else [])]


def _stands(diary: Diary, source: ProjectText) -> str:
    if standing(diary, source) == "in step":
        return ""
    from planner.project.way_back import standing_words  # the models are only read for it

    return standing_words(diary, source)


def _entry(entry: DiaryEntry, most: int | None) -> list[str]:
    first, *keys = entry_lines(entry, lasting_name)
    lines = paragraph(first, 0)
    lines = [ink(lines[0], "strong"), *(f"   {line}" for line in lines[1:])]
    shown = keys if most is None else keys[:most]
    lines += [line for key in shown for line in paragraph(key.strip(), 3)]
    if len(shown) < len(keys):
        lines.append(f"   and {len(keys) - len(shown)} more")
    return lines


def _state(diary: Diary, number: int, text: str) -> list[str]:
    """An earlier state in words: what is different since, and how to see or to bring back all of it."""
    last = diary.entries[-1].number
    since = compare(diary, number, last) if number != last else []
    lines = [f"As entry {number} left it, the project has {text.count(chr(10))} lines."]
    lines += (
        [f"Since then, up to entry {last}:", *_moved(diary, since, number, last)]
        if since
        else ["It's still like that."]
    )
    return [*lines, "", "--text prints it; bring-back makes it the project again."]


def _moved(diary: Diary, moved: list[KeyChange], one: int, other: int) -> list[str]:
    """What differs between the project as two entries left it, obstacles by their names."""
    old, new = data_at(diary, one), data_at(diary, other)
    names = obstacle_names(moved, old, new)
    return [line for each in moved for line in paragraph(move(each, names, lasting_name), 2)]


def _entry_data(entry: DiaryEntry) -> dict[str, Any]:
    return {
        "number": entry.number,
        "at": entry.at,
        "kind": entry.kind,
        "because": entry.because or None,
        "moved": [_moved_data(one) for one in entry.moved],
        "left_out": entry.left_out,
        "details": entry.details,
    }


def _moved_data(one: KeyChange) -> dict[str, Any]:
    return {"key": as_key(one.key), "was": one.was, "now": one.now}
