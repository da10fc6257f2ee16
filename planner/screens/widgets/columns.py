"""How a row is set: its mark, and what else is in it in columns as wide as what stands in them."""

from collections.abc import Iterable, Sequence
from datetime import date
from functools import lru_cache
from itertools import zip_longest
from os.path import commonprefix
from textwrap import wrap
from typing import Any, NamedTuple

from rich.cells import cell_len, set_cell_size
from textual.content import Content

from planner.quantities.text import clean
from planner.worksheet.outcome import Spot

GAP = 2
MARK = 9  # cells at the least for a mark such as CAUTION?
INDENT = 2  # of a row without a mark, so that headings stand out
NARROWEST = 20
_LABEL, _WIDEST_CELL = 0.36, 26  # the least share of the name, and the most cells of one cell, of several abreast
_MOST_FOR_NAME = 0.55  # of the width
_MOST_BEFORE_NOTE, _LEAST_FOR_NOTE = 0.45, 0.3  # the same of entries; of what the name leaves
_LONGEST_FIGURE = 14  # cells; a longer note is words, which are not left out
_NARROWEST_NOTE = 7  # cells; a note that has less is left out: the words beside the list have it
_FARTHEST = 100  # cells from the left to the end of a figure that ends a line
_NARROWEST_WORDS = 18  # the same of the words that end a row of a table


class ListRow(NamedTuple):
    """One row: a mark, a name, a value and a note; `key` is an entry's in the file, `spot` what can be asked why.

    A heading is a row that the cursor passes over; one with neither value nor note has the whole width for its name, in
    as many lines as it takes. `about` is what the place itself wants back when the row is chosen.

    In place of value and note, `cells` are of several things side by side, a column each; `table` are figures at the
    right of their columns, the last of them words where they are longer; `end` is a figure at the right of the list,
    left out where the name takes the line, but of an error.
    """

    name: str
    value: str = ""
    note: str = ""
    mark: str = ""
    tone: str = ""
    key: str = ""
    spot: Spot | None = None
    about: Any = None
    heading: bool = False
    cells: tuple[str, ...] = ()
    table: tuple[str, ...] = ()
    end: str = ""

    @property
    def text(self) -> str:
        """The row as it is copied and saved."""
        if self.heading:
            return "\t".join((f"\n{self.name.upper()}", *self.cells, *self.table))
        others = self.cells or self.table or (self.value, self.note, *([self.end] if self.end else []))
        return "\t".join((*([self.mark] if self.mark else []), self.name, *others)).rstrip()


def heading(text: str, *table: str) -> ListRow:
    return ListRow(text, heading=True, table=table)


class Columns(NamedTuple):
    """Where the value and the note begin, in cells from the left, in a line of `width`; `indent` is of bare rows.

    `cells` are the widths of the columns abreast or of a table, which begin at `value`; none has what is left out.
    """

    value: int
    note: int
    width: int
    indent: int
    mark: int = MARK
    cells: tuple[int, ...] = ()


def columns(rows: Sequence[ListRow], width: int) -> list[Columns]:
    """For each row, as wide as what stands in them, as far as there is room.

    Groups of entries have their own, and those whose notes are words.
    """
    width = max(NARROWEST, width)
    mark = max(MARK, _longest(clean(row.mark) for row in rows) + 1)
    indent = INDENT if any(row.heading for row in rows) else mark if any(row.mark for row in rows) else 0
    groups: list[list[ListRow]] = [[]]
    for row in rows:
        if row.heading:
            groups.append([])
        groups[-1].append(row)
    written = [(any(row.key for row in group), any(map(_is_worded, group))) for group in groups]
    made = {}
    for kind in set(written):
        alike = [row for group, own in zip(groups, written, strict=True) if own == kind for row in group]
        made[kind] = _columns([row for row in alike if not row.heading], width, indent, mark)
    table = _table_columns([row for row in rows if row.table], width, indent, mark)
    beside = [_abreast_columns([row for row in group if row.cells], width) for group in groups]
    return [
        abreast if row.cells else table if row.table else made[own]
        for group, own, abreast in zip(groups, written, beside, strict=True)
        for row in group
    ]


def _columns(shown: Sequence[ListRow], width: int, indent: int, mark: int) -> Columns:
    shown = [row for row in shown if row.value or row.note]
    names = _longest(_lead(row, indent, mark) + clean(row.name) for row in shown)
    noted = [row for row in shown if row.note]
    written = any(row.key for row in shown)
    wide = _longest(clean(row.value) for row in noted) + GAP
    notes = _longest(clean(row.note) for row in noted)
    share = int((_MOST_BEFORE_NOTE if written and noted else _MOST_FOR_NAME) * width)
    value = min(names + GAP, max(share, width - wide - notes) if noted else share)
    left = width - value
    least = int(_LEAST_FOR_NOTE * left) if written or notes > _LONGEST_FIGURE else 0
    note = min(notes, max(left - wide, least))
    if note >= _NARROWEST_NOTE:
        return Columns(value, min(value + wide, width - note), width, indent, mark)
    room = width - _longest(clean(row.value) for row in shown)  # what a note that is left out would have taken
    return Columns(max(value, min(names + GAP, room)) if noted else value, width, width, indent, mark)


def _abreast_columns(shown: Sequence[ListRow], width: int) -> Columns:
    """The name has what the cells leave."""
    if not shown:
        return Columns(width, width, width, 0)
    most = max(len(row.cells) for row in shown)
    wide = min(_WIDEST_CELL, int((1 - _LABEL) * width) // most)
    longest = (_longest(clean(text) for text in column) for column in _upright(row.cells for row in shown))
    cells = tuple(min(wide, size + GAP) for size in longest)
    name = min(_longest(clean(row.name) for row in shown) + GAP, width - sum(cells))
    return Columns(name, width, width, 0, cells=cells)


def _table_columns(shown: Sequence[ListRow], width: int, indent: int, mark: int) -> Columns:
    """Figures have their room before the name; words at the end of a row have what is left."""
    names = _longest(_lead(row, indent, mark) + clean(row.name) for row in shown if not row.heading)
    sizes = [_longest(map(clean, column)) for column in _upright(row.table for row in shown)]
    words = sizes.pop() if sizes and sizes[-1] > _LONGEST_FIGURE else 0
    value = min(names, width - sum(sizes) - GAP * len(sizes))
    left = width - value - sum(sizes) - GAP * (len(sizes) + 1)
    ends = (min(words, left) if left >= min(words, _NARROWEST_WORDS) else 0,) if words else ()
    return Columns(value, width, width, indent, mark, (*sizes, *ends))


def _upright(rows: Iterable[Sequence[str]]) -> Iterable[tuple[str, ...]]:
    return zip_longest(*rows, fillvalue="")


def _lead(row: ListRow, indent: int, mark: int) -> str:
    return " " * (0 if row.heading else mark if row.mark else indent)


def _is_worded(row: ListRow) -> bool:
    return bool(row.value) and cell_len(row.note) > _LONGEST_FIGURE


def _longest(texts: Iterable[str]) -> int:
    return max(map(cell_len, texts), default=0)


def lines(rows: Sequence[ListRow], width: int) -> list[Content]:
    """The rows as they are shown, in columns; names that are cut alike are told apart."""
    laid = columns(rows, width)
    cut: dict[str, set[str]] = {}
    for row, at in zip(rows, laid, strict=True):
        name = clean(row.name)
        if cell_len(name) > _room(row, at) > 0:
            cut.setdefault(short(name, _room(row, at)), set()).add(name)
    alike = {name: names for names in cut.values() if len(names) > 1 for name in names}
    return [
        line(
            row._replace(name=_apart(name, alike[name], _room(row, at))) if (name := clean(row.name)) in alike else row,
            at,
        )
        for row, at in zip(rows, laid, strict=True)
    ]


def _room(row: ListRow, at: Columns) -> int:
    """The cells for a name that has one line; 0 for one that is folded."""
    lead = cell_len(_lead(row, at.indent, at.mark))
    if row.table:
        return at.value - lead
    return (at.value if row.value else at.note) - GAP - lead if row.value or row.note else 0


def _apart(name: str, names: Iterable[str], room: int) -> str:
    """A name cut in its middle, so that where it differs from the others is seen."""
    same = len(commonprefix(sorted(names)))
    end = name[name.rfind(" ", 0, same) + 1 :]
    if cell_len(end) > room * 2 // 3:
        end = short(end, room * 2 // 3)
    return f"{set_cell_size(name, max(0, room - cell_len(end) - 1)).rstrip()}…{end}"


def line(row: ListRow, at: Columns) -> Content:
    """The row as it is shown; what does not fit its column is cut."""
    return _line(row._replace(key="", spot=None, about=None), at)


@lru_cache(maxsize=4096)  # after most edits nearly all rows are as they were
def _line(row: ListRow, at: Columns) -> Content:
    if row.cells:
        return _abreast(row, at)
    if row.heading and not row.table:
        return Content(clean(row.name)).stylize("$text-muted" if row.tone == "muted" else "bold")
    tone = {"": "", "muted": "dim"}.get(row.tone, f"$text-{row.tone}")
    start = Content(fitted(clean(row.mark), at.mark) if row.mark else _lead(row, at.indent, at.mark))
    start = start.stylize(tone if row.tone == "muted" else f"bold {tone}".strip()) if row.mark else start
    name, value, note = clean(row.name), clean(row.value), clean(row.note)
    if row.table:
        told = start + Content(fitted(name, _room(row, at))) + _in_table(row, at)
        return told.stylize("bold") if row.heading else told
    inside = len(start)
    if not value and not note:
        inside += len(name) - len(name.lstrip())
        start, name = start + Content(" " * (inside - len(start))), name.lstrip()
        folded = Content(name).wrap(at.width - inside) or [Content("")]
        end = clean(row.end)
        edge = min(at.width, _FARTHEST)
        left = edge - inside - folded[-1].cell_length - cell_len(end)
        if end and left < GAP and row.tone == "error":
            folded.append(Content(""))
            left = edge - inside - cell_len(end)
        if end and left >= GAP:
            folded[-1] += Content(" " * left + end).stylize("dim" if row.tone == "muted" else "")
        return start + Content(f"\n{' ' * inside}").join(folded)
    told = Content(fitted(name, _room(row, at)) + " " * GAP)
    if not note or at.note >= at.width:
        return start + told + Content(short(value, at.width - at.value)).stylize("" if row.mark else tone)
    shown = Content(fitted(value, at.note - at.value - GAP) + " " * GAP if value else "")
    shown = shown.stylize("" if row.mark else tone)
    return start + told + shown + Content(short(note, at.width - at.note)).stylize("dim")


def _in_table(row: ListRow, at: Columns) -> Content:
    """Figures at the right of their columns; words, which are longer, at the left of theirs."""
    told = Content("")
    for text, size in zip(map(clean, row.table), at.cells, strict=False):
        if size > _LONGEST_FIGURE:
            told += Content(" " * GAP + short(text, size)).stylize("" if row.heading else "dim")
        elif size:
            told += Content(" " * (GAP + size - cell_len(text)) + text)
    return told


def _abreast(row: ListRow, at: Columns) -> Content:
    """A name, whole, and its cells side by side, each in two lines at the most."""
    widths = [at.value, *at.cells]
    wrapped = [_folded(clean(row.name), at.value - GAP)]
    wrapped += [_two_lines(clean(text), room - GAP) for text, room in zip(row.cells, at.cells, strict=False)]
    folded = [
        "".join(fitted(text, room) for text, room in zip(texts, widths, strict=False)).rstrip()
        for texts in zip_longest(*wrapped, fillvalue="")
    ]
    return Content("\n".join(folded)).stylize("bold" if row.heading else "")


def _folded(text: str, width: int) -> list[str]:
    return wrap(text, max(width, 1), break_on_hyphens=False) or [""]


def _two_lines(text: str, width: int) -> list[str]:
    lines = _folded(text, width)
    return lines if len(lines) < 3 else [lines[0], short(" ".join(lines[1:]), width)]


def short(text: str, width: int) -> str:
    """A text in at most so many cells, an ellipsis standing for what was cut off."""
    if cell_len(text) <= width:
        return text
    return set_cell_size(text, width - 1).rstrip() + "…" if width > 0 else ""


def short_day(day: date) -> str:
    return f"{day.day} {day:%b}"


def fitted(text: str, width: int) -> str:
    """A text in exactly so many cells."""
    return set_cell_size(short(text, width), max(0, width))
