"""Amending a project's text in place, so that comments, order, layout and unknown keys stay as a person wrote them."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from planner.project.changes import DELETE, Step, changed, is_tables, same, steps, without_empty
from planner.project.lines import Key, sightings, tokens
from planner.project.source import BYTE_ORDER_MARK


class CannotAmend(Exception):
    """The text cannot be changed in place; `rewrite` can, at the price of comments and layout."""


def amend(text: str, changes: Mapping[Key, object]) -> str:
    """The text with the changes made in it, comments, order, layout and all other keys as they were; or `CannotAmend`.

    Changes are made in the order given. Tables and lists on the way are made where they are missing, an index one past
    the end appends, and a list or table given whole is compared with the old one, so that only what differs is touched.
    The comment on the line of a deleted entry, or above a deleted table, stays; one inside a deleted table or list goes
    with it.
    """
    mark = BYTE_ORDER_MARK if text.startswith(BYTE_ORDER_MARK) else ""
    body = text.removeprefix(mark)
    windows = 0 < body.count("\n") == body.count("\r\n")
    if windows:
        body = body.replace("\r\n", "\n")
    data = tomllib.loads(body)
    wanted = changed(data, changes)
    if same(data, wanted):
        return text
    if not body.endswith("\n"):
        body += "\n"
    try:
        amended = _amended(body, data, changes)
        right = same(without_empty(tomllib.loads(amended)), without_empty(wanted))
    except Exception as error:  # tomlkit fails with errors of every kind; none of them may stop a save
        raise CannotAmend(f"the text cannot be changed in place: {error!r}") from error
    if not right:
        raise CannotAmend("the text cannot be changed in place")
    return mark + (amended.replace("\n", "\r\n") if windows else amended)


def rewrite(text: str, changes: Mapping[Key, object]) -> str:
    """The changed data written anew: all keys stay, comments, order and layout do not."""
    import tomli_w

    return tomli_w.dumps(changed(tomllib.loads(text.removeprefix(BYTE_ORDER_MARK)), changes))


def _amended(body: str, data: dict[str, Any], changes: Mapping[Key, object]) -> str:
    sections = _sections(body)
    for key, value in changes.items():
        wanted = changed(data, {key: value})
        for step in steps((), data, wanted):
            _make(sections, step)
        data = wanted
    return "".join(section.above + section.heading + section.body for section in sections)


@dataclass(slots=True, eq=False)
class _Section:
    """A heading with what stands above it and the entries below it; the first has none, the last is all that is left.

    Only the body goes through tomlkit: over several headings it may change their order, and what stands above a heading
    it counts among the entries of the table before.
    """

    path: Key
    above: str
    heading: str
    body: str


def _sections(text: str) -> list[_Section]:
    rows = [row + "\n" for row in text.split("\n")[:-1]]
    headings = [sighting for sighting in sightings(text) if sighting.heading]
    starts = [sighting.line - 1 for sighting in headings] + [len(rows)]
    sections = [_Section((), "", "", "")]
    above = _settle(sections[0], rows[: starts[0]])
    for sighting, start, end in zip(headings, starts, starts[1:], strict=False):
        section = _Section(sighting.key, above, rows[start], "")
        sections.append(section)
        above = _settle(section, rows[start + 1 : end])
    if above.partition("\n")[0].strip():  # no blank line: it belongs to the last entry
        sections[-1].body += above
        above = ""
    return [*sections, _Section(_END, above, "", "")]


_END: Key = (-1,)  # of no table; what stands at the end of the file, a blank line below the last entry


def _settle(section: _Section, rows: list[str]) -> str:
    """Gives the section its rows, but for the comments and blank lines at the end that belong to the next heading.

    Those begin with the first blank line or, where there is none, right below the last entry. At the top of the file,
    without any entry, they begin below the last blank line.
    """
    last = -1
    for kind, piece, line in tokens("".join(rows)):
        if kind not in ("blank", "comment") and piece != "\n":
            last = line - 1 + piece.count("\n")
    blanks = [at for at in range(last + 1, len(rows)) if not rows[at].strip()]
    if not section.heading and last < 0:
        cut = blanks[-1] + 1 if blanks else len(rows)
    else:
        cut = blanks[0] if blanks else last + 1
    section.body = "".join(rows[:cut])
    return "".join(rows[cut:])


def _make(sections: list[_Section], step: Step) -> None:
    key, value = step.key, step.value
    holder = key[:-1]
    inside = [section for section in sections if section.path[: len(key)] == key]
    owner = max((s for s in sections if s.path == holder[: len(s.path)]), key=lambda section: len(section.path))
    if isinstance(key[-1], int) and _any_below(sections, holder):
        _make_element(sections, step, inside)
    elif value is DELETE or inside:
        _delete(sections, inside)
        if _find(owner, key) is not None:
            _delete_entry(owner, key)
        if value is not DELETE:
            _make(sections, Step(key, value))
    elif key[-1] == 0 and isinstance(value, dict) and owner.path == holder[:-1] and _find(owner, holder) == []:
        _delete_entry(owner, holder)
        _insert_after(sections, holder[:-1], _written(key, value, element=True))
    elif _find(owner, key) is not None or (owner.path != holder and _find(owner, holder) is not None):
        _set_entry(owner, step)
    elif len(holder) > len(owner.path) + 1 and _find(owner, holder[:-1]) is not None:
        _make(sections, Step(holder, {key[-1]: value}))  # the table went before, with its last entry
    elif isinstance(value, dict) or is_tables(value):
        _insert_after(sections, holder, _written(key, value))
    elif owner.path == holder:
        _append_entry(sections, owner, key[-1], value)
    else:
        # The table is only named on the way to others: it gets its own heading, above the first of them.
        new = _written(holder, {key[-1]: value})
        first = next((at for at, section in enumerate(sections) if section.path[: len(holder)] == holder), None)
        if first is None:
            _insert_after(sections, holder[:-1], new)
        else:
            _insert(sections, first, new)
            _part(sections, first + 1)


def _make_element(sections: list[_Section], step: Step, inside: list[_Section]) -> None:
    """A step on an element of a list whose elements have headings."""
    *holder, index = step.key
    depth = len(holder)
    if step.value is DELETE:
        _delete(sections, inside)
    moved = -1 if step.value is DELETE else 1
    new = [] if step.value is DELETE else _written(step.key, step.value, element=True)
    before = sections.index(inside[0]) if new and inside else None
    for section in sections:
        at = section.path[depth] if section.path[:depth] == (*holder,) and len(section.path) > depth else None
        if isinstance(at, int) and isinstance(index, int) and at >= index:
            section.path = (*holder, at + moved, *section.path[depth + 1 :])
    if before is not None:
        _insert(sections, before, new)
    elif new:
        _insert_after(sections, (*holder,), new)
    elif not _any_below(sections, (*holder,)):
        _make(sections, Step((*holder,), []))


def _insert_after(sections: list[_Section], holder: Key, new: list[_Section]) -> None:
    """New sections behind the last one that belongs to the holder, or at the end of the file."""
    places = [at for at, section in enumerate(sections) if section.path[: len(holder)] == holder]
    place = places[-1] + 1 if holder and places else len(sections) - 1
    _insert(sections, place, new)


def _insert(sections: list[_Section], at: int, new: list[_Section]) -> None:
    sections[at:at] = new
    new[0].above = ""
    _part(sections, at)


def _part(sections: list[_Section], at: int) -> None:
    """A blank line above a heading, unless the file begins with it."""
    section = sections[at]
    begins = not any(before.heading or before.body for before in sections[:at])
    if section.path != _END and not begins and not section.above.startswith("\n"):
        section.above = "\n" + section.above


def _delete(sections: list[_Section], gone: list[_Section]) -> None:
    """Takes sections away; a comment above them moves down, a blank line apart from whatever comes next."""
    kept = ""
    left = []
    for before, section in zip([None, *sections], sections, strict=False):
        if section in gone:
            kept += section.above if before not in gone and "#" in section.above else ""
            continue
        if kept:
            section.above = kept + ("" if section.above.startswith("\n") else "\n") + section.above
            kept = ""
        left.append(section)
    sections[:] = left


def _append_entry(sections: list[_Section], owner: _Section, name: str | int, value: Any) -> None:
    indent = owner.heading[: len(owner.heading) - len(owner.heading.lstrip())]
    if owner.body:
        indent = owner.body[: len(owner.body) - len(owner.body.lstrip(" \t"))]
    parted = owner.body.endswith("\n\n") or not (owner.body or owner.heading)
    owner.body += indent + _entry(name, value)
    if parted:
        _part(sections, sections.index(owner) + 1)


def _written(key: Key, value: Any, element: bool = False) -> list[_Section]:
    """A table, a list of tables, or one element of such a list, under headings of its own."""
    if isinstance(value, list):
        return [section for at, table in enumerate(value) for section in _written((*key, at), table, element=True)]
    below = {name: inner for name, inner in value.items() if isinstance(inner, dict) or is_tables(inner)}
    body = "".join(_entry(name, inner) for name, inner in value.items() if name not in below)
    heading = f"[[{_dotted(key)}]]\n" if element else f"[{_dotted(key)}]\n"
    sections = [_Section(key, "\n", heading, body)]
    for name, inner in below.items():
        sections += _written((*key, name), inner)
    return sections


def _dotted(key: Key) -> str:
    import tomlkit

    return ".".join(tomlkit.key(name).as_string() for name in key if isinstance(name, str))


def _entry(name: str | int, value: Any) -> str:
    return f"{_dotted((str(name),))} = {_item(value).as_string()}\n"


def _item(value: Any) -> Any:
    import tomlkit

    return tomlkit.item(value, _parent=tomlkit.inline_table())


def _any_below(sections: list[_Section], holder: Key) -> bool:
    depth = len(holder)
    return any(s.path[:depth] == holder and len(s.path) > depth and isinstance(s.path[depth], int) for s in sections)


def _find(section: _Section, key: Key) -> Any:
    """What the entries of the section give the key, or None."""
    found: Any = tomllib.loads(section.body)
    for name in key[len(section.path) :]:
        if isinstance(found, list):
            found = dict(enumerate(found))
        if not isinstance(found, dict) or name not in found:
            return None
        found = found[name]
    return found


def _set_entry(section: _Section, step: Step) -> None:
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


def _delete_entry(section: _Section, key: Key) -> None:
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
            _set_entry(section, Step(outer, without_empty(changed(_find(section, outer), {below: DELETE}))))
            return
    if len(inner) > 1 and all(isinstance(holder, Table) for holder in holders):
        held = [item for holder in holders for name, item in _entries(holder) if name is not None]
        if len(held) == 1 and (isinstance(held[0], Table) or not held[0].trivia.comment):
            _delete_entry(section, key[:-1])  # a table made by dotted names goes with its last entry
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
