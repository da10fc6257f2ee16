"""Amending a project's text in place, so that comments, order, layout and unknown keys stay as a person wrote them."""

import tomllib
from collections.abc import Mapping
from typing import Any

from planner.project.changes import DELETE, Amendment, changed, is_tables, same, steps, without_empty
from planner.project.form_examples import in_its_place, with_headings
from planner.project.lines import Key
from planner.project.sections import END, FileSection, cut, delete_entry, dotted, entry_line, find_entry, set_entry
from planner.project.source import BYTE_ORDER_MARK


class CannotAmend(Exception):
    """The text cannot be changed in place; `rewrite` can, at the price of comments and layout."""


def amend(text: str, changes: Mapping[Key, object]) -> str:
    """The text with the changes made in it, comments, order, layout and all other keys as they were; or `CannotAmend`.

    Changes are made in the order given, a new entry in the place of the form's example of it. Tables and lists on the
    way are made where they are missing, an index one past the end appends, and a list or table given whole is compared
    with the old one, so that only what differs is touched. The comment on the line of a deleted entry, or above a
    deleted table, stays; one inside a deleted table or list goes with it.
    """
    from tomlkit.exceptions import TOMLKitError

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
    trouble: Exception | None = None
    for begun in dict.fromkeys((with_headings(body, data, changes, dotted), body)):
        try:
            amended = _amended(begun, tomllib.loads(begun), changes)
            if same(without_empty(tomllib.loads(amended)), without_empty(wanted)):
                return mark + (amended.replace("\n", "\r\n") if windows else amended)
        # tomlkit fails with these too where it does not know its way about a text; none of them may stop a save.
        except (TOMLKitError, ValueError, LookupError, TypeError, AttributeError) as error:
            trouble = error
    raise CannotAmend(f"the text cannot be changed in place{f': {trouble!r}' if trouble else ''}") from trouble


def rewrite(text: str, changes: Mapping[Key, object]) -> str:
    """The changed data written anew: all keys stay, comments, order and layout do not."""
    import tomli_w

    return tomli_w.dumps(changed(tomllib.loads(text.removeprefix(BYTE_ORDER_MARK)), changes))


def _amended(body: str, data: dict[str, Any], changes: Mapping[Key, object]) -> str:
    sections = cut(body)
    for key, value in changes.items():
        wanted = changed(data, {key: value})
        for step in steps((), data, wanted):
            _make(sections, step)
        data = wanted
    return "".join(section.above + section.heading + section.body for section in sections)


def _make(sections: list[FileSection], step: Amendment) -> None:
    key, value = step.key, step.value
    holder = key[:-1]
    inside = [section for section in sections if section.path[: len(key)] == key]
    owner = max((s for s in sections if s.path == holder[: len(s.path)]), key=lambda section: len(section.path))
    if isinstance(key[-1], int) and _any_below(sections, holder):
        _make_element(sections, step, inside)
    elif value is DELETE or inside:
        _delete(sections, inside)
        if find_entry(owner, key) is not None:
            delete_entry(owner, key)
        if value is not DELETE:
            _make(sections, Amendment(key, value))
    elif key[-1] == 0 and isinstance(value, dict) and owner.path == holder[:-1] and find_entry(owner, holder) == []:
        delete_entry(owner, holder)
        _insert_after(sections, holder[:-1], _written(key, value, element=True))
    elif find_entry(owner, key) is not None or (owner.path != holder and find_entry(owner, holder) is not None):
        set_entry(owner, step)
    elif len(holder) > len(owner.path) + 1 and find_entry(owner, holder[:-1]) is not None:
        _make(sections, Amendment(holder, {key[-1]: value}))  # the table went before, with its last entry
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


def _make_element(sections: list[FileSection], step: Amendment, inside: list[FileSection]) -> None:
    """A step on an element of a list whose elements have headings."""
    *holder, index = step.key
    depth = len(holder)
    if step.value is DELETE:
        _delete(sections, inside)
    moved = -1 if step.value is DELETE else 1
    new = [] if step.value is DELETE else _written(step.key, step.value, element=True)
    before = sections.index(inside[0]) if new and inside else None
    for section in sections:
        at = section.path[depth] if section.path[:depth] == (*holder,) else None
        if isinstance(at, int) and isinstance(index, int) and at >= index:
            section.path = (*holder, at + moved, *section.path[depth + 1 :])
    if before is not None:
        _insert(sections, before, new)
    elif new:
        _insert_after(sections, (*holder,), new)
    elif not _any_below(sections, (*holder,)):
        _make(sections, Amendment((*holder,), []))


def _insert_after(sections: list[FileSection], holder: Key, new: list[FileSection]) -> None:
    """New sections behind the last one that belongs to the holder, or at the end of the file."""
    places = [at for at, section in enumerate(sections) if section.path[: len(holder)] == holder]
    place = places[-1] + 1 if holder and places else len(sections) - 1
    _insert(sections, place, new)


def _insert(sections: list[FileSection], at: int, new: list[FileSection]) -> None:
    sections[at:at] = new
    new[0].above = ""
    _part(sections, at)


def _part(sections: list[FileSection], at: int) -> None:
    """A blank line above a heading, unless the file begins with it."""
    section = sections[at]
    begins = not any(before.heading or before.body for before in sections[:at])
    if section.path != END and not begins and not section.above.startswith("\n"):
        section.above = "\n" + section.above


def _delete(sections: list[FileSection], gone: list[FileSection]) -> None:
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


def _append_entry(sections: list[FileSection], owner: FileSection, name: str | int, value: Any) -> None:
    indent = owner.heading[: len(owner.heading) - len(owner.heading.lstrip())]
    if owner.body:
        indent = owner.body[: len(owner.body) - len(owner.body.lstrip(" \t"))]
    placed = in_its_place(owner.body, str(name), entry_line(name, value))
    if placed is not None:
        owner.body = placed
        return
    parted = owner.body.endswith("\n\n") or not (owner.body or owner.heading)
    owner.body += indent + entry_line(name, value)
    if parted:
        _part(sections, sections.index(owner) + 1)


def _written(key: Key, value: Any, element: bool = False) -> list[FileSection]:
    """A table, a list of tables, or one element of such a list, under headings of its own."""
    if isinstance(value, list):
        return [section for at, table in enumerate(value) for section in _written((*key, at), table, element=True)]
    below = {name: inner for name, inner in value.items() if isinstance(inner, dict) or is_tables(inner)}
    body = "".join(entry_line(name, inner) for name, inner in value.items() if name not in below)
    heading = f"[[{dotted(key)}]]\n" if element else f"[{dotted(key)}]\n"
    sections = [FileSection(key, "\n", heading, body)]
    for name, inner in below.items():
        sections += _written((*key, name), inner)
    return sections


def _any_below(sections: list[FileSection], holder: Key) -> bool:
    depth = len(holder)
    return any(s.path[:depth] == holder and isinstance(s.path[depth], int) for s in sections)
