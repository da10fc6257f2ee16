"""A project's text cut at its headings, and the entries below one of them set or taken away, all else left as it is."""

import re
import tomllib
from dataclasses import dataclass
from typing import Any

from planner.project.changes import DELETE, Amendment, changed, without_empty
from planner.project.lines import Key, sightings, tokens

_EXAMPLE = re.compile(r"[ \t]*#[\w-]+ *=")

END: Key = (-1,)  # of no table; what stands at the end of the file, a blank line below the last entry


@dataclass(slots=True, eq=False)
class FileSection:
    """A heading with what stands above it and the entries below it; the first has none, the last is all that is left.

    Only the body goes through tomlkit: over several headings it may change their order, and what stands above a heading
    it counts among the entries of the table before.
    """

    path: Key
    above: str
    heading: str
    body: str


def cut(text: str) -> list[FileSection]:
    """The text in pieces that, joined, give it back."""
    rows = [row + "\n" for row in text.split("\n")[:-1]]
    headings = [sighting for sighting in sightings(text) if sighting.heading]
    starts = [sighting.line - 1 for sighting in headings] + [len(rows)]
    sections = [FileSection((), "", "", "")]
    above = _settle(sections[0], rows[: starts[0]])
    for sighting, start, end in zip(headings, starts, starts[1:], strict=False):
        section = FileSection(sighting.key, above, rows[start], "")
        sections.append(section)
        above = _settle(section, rows[start + 1 : end])
    if above.partition("\n")[0].strip():  # no blank line: it belongs to the last entry
        sections[-1].body += above
        above = ""
    return [*sections, FileSection(END, above, "", "")]


def _settle(section: FileSection, rows: list[str]) -> str:
    """Gives the section its rows, but for the comments and blank lines at the end that belong to the next heading.

    Those begin with the first blank line or, where there is none, below the last entry and the examples below it, such
    as `#key = "4 in"`. At the top of the file, without any entry, they begin below the last blank line.
    """
    last = -1
    for kind, piece, line in tokens("".join(rows)):
        if kind not in ("blank", "comment"):
            last = line - 1 + piece.count("\n")
    blanks = [at for at in range(last + 1, len(rows)) if not rows[at].strip()]
    if not section.heading and last < 0:
        cut = blanks[-1] + 1 if blanks else len(rows)
    else:
        cut = blanks[0] if blanks else last + 1
        while not blanks and cut < len(rows) and _EXAMPLE.match(rows[cut]):
            cut += 1
    section.body = "".join(rows[:cut])
    return "".join(rows[cut:])


# entries


def find_entry(section: FileSection, key: Key) -> Any:
    """What the entries of the section give the key, or None."""
    found: Any = tomllib.loads(section.body)
    for name in key[len(section.path) :]:
        if isinstance(found, list):
            found = dict(enumerate(found))
        if not isinstance(found, dict) or name not in found:
            return None
        found = found[name]
    return found


def set_entry(section: FileSection, step: Amendment) -> None:
    import tomlkit

    document = tomlkit.parse(section.body)
    holders = _pieces(document, step.key[len(section.path) : -1])
    name = step.key[-1]
    item = _item(step.value)
    if isinstance(name, str):
        next((holder for holder in holders if name in holder), holders[0])[name] = item
    elif step.insert:
        _end_with_comma(holders[0])
        holders[0].insert(name, item)
    else:
        holders[0][name] = item
    section.body = document.as_string()


def delete_entry(section: FileSection, key: Key) -> None:
    """Takes an entry away; the comment on its line stays, in a line of its own."""
    import tomlkit
    from tomlkit.items import Comment, InlineTable, Table, Trivia

    document = tomlkit.parse(section.body)
    inner = key[len(section.path) :]
    holders = _pieces(document, inner[:-1])
    for depth in range(1, len(inner) - 1):
        # tomlkit leaves a stray comma when dotted names within { } lose an entry: those braces are written anew.
        braces = _pieces(document, inner[:depth])
        if isinstance(braces[0], InlineTable) and isinstance(holders[0], Table):
            outer, below = key[: len(section.path) + depth], inner[depth:]
            set_entry(section, Amendment(outer, without_empty(changed(find_entry(section, outer), {below: DELETE}))))
            return
    if len(inner) > 1 and all(isinstance(holder, Table) for holder in holders):
        held = [item for holder in holders for name, item in _entries(holder) if name is not None]
        if len(held) == 1 and (isinstance(held[0], Table) or not held[0].trivia.comment):
            delete_entry(section, key[:-1])  # a table made by dotted names goes with its last entry
            return
    name = inner[-1]
    for holder in holders:
        if isinstance(name, int):
            del holder[name]
        elif name in holder:
            entries = _entries(holder)
            places = [(at, item) for at, (found, item) in enumerate(entries) if found is not None and found.key == name]
            holder.remove(name)
            for at, item in places:
                if not isinstance(holder, InlineTable) and not isinstance(item, Table) and item.trivia.comment:
                    entries[at] = (None, Comment(Trivia(item.trivia.indent, "", item.trivia.comment, "\n")))
    section.body = document.as_string()


def _pieces(document: Any, key: Key) -> list[Any]:
    """The places where a table or list is written: dotted names may put a table's entries in several."""
    pieces = [document]
    for name in key:
        if isinstance(name, int):
            pieces = [pieces[0][name]]
        else:
            pieces = [
                item for piece in pieces for found, item in _entries(piece) if found is not None and found.key == name
            ]
    return pieces


def _entries(holder: Any) -> Any:
    return holder.body if hasattr(holder, "body") else holder.value.body


def _end_with_comma(array: Any) -> None:
    """tomlkit forgets the comma after the last element where only a comment follows it."""
    from tomlkit.items import Null, Whitespace

    for group in reversed(array._value):
        if group.value is not None and not isinstance(group.value, Null):
            group.comma = group.comma or Whitespace(",")
            return


def dotted(key: Key) -> str:
    import tomlkit

    return ".".join(tomlkit.key(name).as_string() for name in key if isinstance(name, str))


def entry_line(name: str | int, value: Any) -> str:
    return f"{dotted((str(name),))} = {_item(value).as_string()}\n"


def _item(value: Any) -> Any:
    import tomlkit

    return tomlkit.item(value, _parent=tomlkit.inline_table())
