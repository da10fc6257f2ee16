"""Files that people commented by hand, and many edits to each: every comment stays where it stood. Run by hand:

    (cd tests && python -m trust.commented_files --files 200 --edits 50)

Each file is made from a seed: comments above, beside, between and below, odd blanks, every kind of quotes, dotted
names, tables in braces, lists over several lines, lists of tables, blank lines, Windows line ends, a byte order mark.
An edit changes, adds or takes away entries as the planner does; afterwards every comment stands, in the order it had,
on the line of the entry or heading that it stood beside, and all rows but those that were edited are as they were.
"""

import argparse
import random
import re
import sys
import tomllib
from collections.abc import Callable, Iterator
from typing import Any

from planner.project.amending import amend
from planner.project.changes import DELETE, changed
from planner.project.lines import Key, key_lines, tokens

Chance = random.Random


def file(chance: Chance) -> str:
    """One file: its entries are e1, e2 …, its comments `# c1`, `# c2 …`, each once."""
    count = iter(range(1, 10_000))
    notes = iter(range(1, 10_000))

    def note() -> str:
        odd = chance.choice(("", " [vehicle]", ' = "x"', ' """', " '", " #", " ½ in", " \\", "{", "  two  blanks "))
        return f"#{chance.choice(('', ' ', '  ', '#'))}c{next(notes)}.{odd}".rstrip()

    def blank() -> str:
        return chance.choice((" ", " ", "  ", "\t", ""))

    def value(deep: int = 0) -> str:
        simple = (
            lambda: f'"{chance.randrange(99)} in ± 1/8 in"',
            lambda: f"'{chance.randrange(99)} lb'",
            lambda: f"'''{chance.randrange(99)}'''",
            lambda: f'"""\nseveral\n# no comment {chance.randrange(9)}\n"""',
            lambda: str(chance.randrange(-9, 99_999)),
            lambda: f"{chance.random():.3f}",
            lambda: "true",
            lambda: "2026-03-14",
            lambda: "0x1F",
            lambda: "1_000",
        )
        if deep > 1 or chance.random() < 0.7:
            return chance.choice([one for at, one in enumerate(simple) if not deep or at not in (2, 3)])()
        if chance.random() < 0.4:
            inside = ", ".join(f"i{n}{blank()}={blank()}{value(2)}" for n in range(chance.randrange(4)))
            return f"{{{blank()}{inside}{blank()}}}"
        held = [value(deep + 1) for _ in range(chance.randrange(4))]
        if deep or chance.random() < 0.4:
            return f"[{', '.join(held)}]"
        rows = [f"  {one},{beside()}\n" + (f"  {note()}\n" if chance.random() < 0.3 else "") for one in held]
        return f"[{beside()}\n{''.join(rows)}{chance.choice(('', '  ', chr(9)))}]"

    def beside() -> str:
        return f"{chance.choice((' ', '   ', chr(9)))}{note()}" if chance.random() < 0.35 else ""

    def entry(name: str) -> str:
        return f"{chance.choice(('', '', '  '))}{name}{blank()}={blank()}{value()}{beside()}\n"

    def between() -> str:
        row = chance.random()
        return f"{chance.choice(('', '  '))}{note()}\n" if row < 0.2 else "\n" if row < 0.35 else ""

    def entries(most: int) -> Iterator[str]:
        for _ in range(chance.randrange(most)):
            name = f"e{next(count)}"
            shape = chance.random()
            if shape < 0.1:
                name = f'"odd {name}"'
            elif shape < 0.2:
                name = f"d{next(count)}.{name}"
            yield between() + entry(name)

    pieces = [f"{note()}\n\n" if chance.random() < 0.5 else "", "".join(entries(5))]
    lists = [f"l{n}" for n in range(chance.randrange(3))]
    for _ in range(chance.randrange(2, 8)):
        pieces.append(chance.choice(("", "\n", "\n\n", f"\n{note()}\n", f"\n{note()}\n\n", f"{note()}\n")))
        if lists and chance.random() < 0.4:
            name = chance.choice(lists)
            pieces.append(f"[[{name}]]{beside()}\n{''.join(entries(4))}")
            if chance.random() < 0.4:
                pieces.append(f"[{name}.t{next(count)}]{beside()}\n{''.join(entries(3))}")
        else:
            name = f"t{next(count)}" + (f".t{next(count)}" if chance.random() < 0.3 else "")
            pieces.append(f"{chance.choice(('', '  '))}[{name}]{beside()}\n{''.join(entries(5))}")
    pieces.append(chance.choice(("", "\n", f"\n{note()}\n", f"{note()}")))
    text = "".join(pieces)
    tomllib.loads(text)  # what we make is a file
    return chance.choice(("", "", "", "\ufeff")) + (text.replace("\n", "\r\n") if chance.random() < 0.25 else text)


def comments(text: str) -> list[str]:
    """Every comment, in order."""
    return [one.text for one in tokens(text.replace("\r\n", "\n")) if one.kind == "comment"]


def beside(text: str) -> dict[str, Key]:
    """By comment, the entry or heading on whose line it ends."""
    text = text.replace("\r\n", "\n")
    own = {line: key for key, line in key_lines(text).items()}
    return {
        one.text: own[one.line]
        for one in tokens(text)
        if one.kind == "comment" and one.line in own and text.split("\n")[one.line - 1].strip() != one.text
    }


def tables(data: Any, key: Key = ()) -> Iterator[Key]:
    """Every table that stands under a heading or at the top."""
    yield key
    for name, inner in data.items():
        if isinstance(inner, dict) and re.match(r"[tld]\d", name):
            yield from tables(inner, (*key, name))
        elif isinstance(inner, list) and name.startswith("l") and inner:
            for at, one in enumerate(inner):
                yield from tables(one, (*key, name, at))


def edit(chance: Chance, text: str, number: int, mine: list[Key]) -> dict[Key, object]:
    """An edit as the planner makes them: an entry set, an entry or table added, one of its own taken away again."""
    data = tomllib.loads(text.removeprefix("\ufeff"))
    places = list(tables(data))
    place = chance.choice(places)
    holder = data
    for step in place:
        holder = holder[step]
    odd: Callable[[], object] = lambda: chance.choice((number, f"{number} in", 1.5, [number], {"n": number}, True))  # noqa: E731
    kind = chance.random()
    simple = [name for name, held in holder.items() if not isinstance(held, (dict, list))]
    if kind < 0.45 and simple:
        return {(*place, chance.choice(simple)): chance.choice((number, f"{number} 1/2 in", f"{number} 'lb'", 0.5))}
    if kind < 0.6 and mine:
        return {mine.pop(chance.randrange(len(mine))): DELETE}
    if kind < 0.7:
        count = len(data.get("records", ()))
        return {("records", count): {"id": f"r{number}", "rested_on": {"a.b": f"{number} in"}}}
    key = (*place, f"n{number}")
    mine.append(key)
    return {key: odd()}


def wrongs(seed: int, edits: int) -> Iterator[str]:
    """What went wrong with one file under that many edits."""
    chance = random.Random(seed)
    text = file(chance)
    first, places, ends = comments(text), beside(text), "\r\n" in text
    mine: list[Key] = []
    for number in range(1, edits + 1):
        changes = edit(chance, text, number, mine)
        wanted = changed(tomllib.loads(text.removeprefix("\ufeff")), changes)
        try:
            after = amend(text, changes)
        except Exception as error:
            yield f"file {seed}, edit {number}, {changes}: {error!r}"
            return
        if tomllib.loads(after.removeprefix("\ufeff")) != wanted:
            yield f"file {seed}, edit {number}, {changes}: another value came of it"
        if comments(after) != first:
            yield f"file {seed}, edit {number}, {changes}: comments {_differ(first, comments(after))}"
            return
        stand = beside(after)
        for comment, key in places.items():
            if stand.get(comment) != key:
                yield f"file {seed}, edit {number}, {changes}: {comment!r} stood beside {key}, now {stand.get(comment)}"
                return
        if ends != ("\r\n" in after) or after.startswith("\ufeff") != text.startswith("\ufeff"):
            yield f"file {seed}, edit {number}: line ends or the mark at the start have changed"
        gone = set(text.splitlines()) - set(after.splitlines())
        if len(gone) > 12:  # an entry over several lines is written anew on one
            yield f"file {seed}, edit {number}, {changes}: {len(gone)} rows are no longer there"
        text = after


def _differ(before: list[str], after: list[str]) -> str:
    lost = [one for one in before if one not in after]
    return f"lost {lost}" if lost else "in another order"


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--files", type=int, default=200)
    parser.add_argument("--edits", type=int, default=50)
    parser.add_argument("--first", type=int, default=0)
    asked = parser.parse_args()
    bad = 0
    told = 0
    for seed in range(asked.first, asked.first + asked.files):
        told += len(comments(file(random.Random(seed))))
        for wrong in wrongs(seed, asked.edits):
            bad += 1
            print(wrong, flush=True)
    print(f"{asked.files} files with {told} comments, {asked.edits} edits each: {bad} wrong")
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main())
