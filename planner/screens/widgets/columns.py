"""How a row is set: its mark, and its name, value and note in columns as wide as what stands in them."""

from collections.abc import Iterable, Sequence
from functools import lru_cache
from itertools import zip_longest
from textwrap import wrap
from typing import Any, NamedTuple

from rich.cells import cell_len, set_cell_size
from textual.content import Content

from planner.quantities.text import clean
from planner.worksheet.outcome import Spot

GAP = 2
MARK = 9  # cells for a mark such as CAUTION?
INDENT = 2  # of a row without a mark, so that headings stand out
NARROWEST = 20
_LABEL, _WIDEST_CELL = (
    0.36,
    26,
)  # the least share of the name, and the most cells of one cell, where several are abreast
_MOST_FOR_NAME = 0.55  # of the width
_MOST_BEFORE_NOTE, _LEAST_FOR_NOTE = 0.45, 0.3  # the same of entries; of what the name leaves
_LONGEST_FIGURE = 14  # cells; a longer note is words, which are not left out
_NARROWEST_NOTE = 7  # cells; a note that has less is left out: the words beside the list have it


class ListRow(NamedTuple):
    """One row: a mark, a name, a value and a note; `key` is an entry's in the file, `spot` what can be asked why.

    A heading is a row that the cursor passes over; one with neither value nor note has the whole width for its name, in
    as many lines as it takes. `about` is what the place itself wants back when the row is chosen.
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
    cells: tuple[str, ...] = ()  # in place of value and note: one column for each of several things side by side

    @property
    def text(self) -> str:
        """The row as it is copied and saved."""
        if self.heading:
            return "\t".join((f"\n{self.name.upper()}", *self.cells))
        return "\t".join(
            (*([self.mark] if self.mark else []), self.name, *(self.cells or (self.value, self.note)))
        ).rstrip()


def heading(text: str) -> ListRow:
    return ListRow(text, heading=True)


class Columns(NamedTuple):
    """Where the value and the note begin, in cells from the left, in a line of `width`; `indent` is of bare rows."""

    value: int
    note: int
    width: int
    indent: int


def columns(rows: Sequence[ListRow], width: int) -> list[Columns]:
    """For each row, as wide as what stands in them, as far as there is room; groups with entries have their own."""
    indent = INDENT if any(row.heading for row in rows) else MARK if any(row.mark for row in rows) else 0
    groups: list[list[ListRow]] = [[]]
    for row in rows:
        if row.heading:
            groups.append([])
        groups[-1].append(row)
    written = [any(row.key for row in group) for group in groups]
    made = {}
    for kind in set(written):
        alike = [row for group, own in zip(groups, written, strict=True) if own == kind for row in group]
        made[kind] = _columns([row for row in alike if not row.heading], max(NARROWEST, width), indent)
    return [made[own] for group, own in zip(groups, written, strict=True) for _ in group]


def _columns(shown: Sequence[ListRow], width: int, indent: int) -> Columns:
    shown = [row for row in shown if row.value or row.note]
    names = _longest(" " * (MARK if row.mark else indent) + clean(row.name) for row in shown)
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
        return Columns(value, min(value + wide, width - note), width, indent)
    room = width - _longest(clean(row.value) for row in shown)  # what a note that is left out would have taken
    return Columns(max(value, min(names + GAP, room)) if noted else value, width, width, indent)


def _longest(texts: Iterable[str]) -> int:
    return max(map(cell_len, texts), default=0)


def line(row: ListRow, at: Columns) -> Content:
    """The row as it is shown; what does not fit its column is cut."""
    return _line(row._replace(key="", spot=None, about=None), at)


@lru_cache(maxsize=4096)  # after most edits nearly all rows are as they were
def _line(row: ListRow, at: Columns) -> Content:
    if row.cells:
        return _abreast(row, at.width)
    if row.heading:
        return Content(clean(row.name)).stylize("bold")
    tone = {"": "", "muted": "dim"}.get(row.tone, f"$text-{row.tone}")
    start = Content(fitted(clean(row.mark), MARK) if row.mark else " " * at.indent)
    start = start.stylize(tone if row.tone == "muted" else f"bold {tone}".strip()) if row.mark else start
    name, value, note = clean(row.name), clean(row.value), clean(row.note)
    if not value and not note:
        inside = len(start)
        lines = Content(name).wrap(at.width - inside) or [Content("")]
        return start + Content(f"\n{' ' * inside}").join(lines)
    told = Content(fitted(name, (at.value if value else at.note) - GAP - len(start)) + " " * GAP)
    if not note or at.note >= at.width:
        return start + told + Content(short(value, at.width - at.value)).stylize("" if row.mark else tone)
    shown = Content(fitted(value, at.note - at.value - GAP) + " " * GAP if value else "")
    shown = shown.stylize("" if row.mark else tone)
    return start + told + shown + Content(short(note, at.width - at.note)).stylize("dim")


def _abreast(row: ListRow, width: int) -> Content:
    """A name and its cells side by side, two lines at the most."""
    wide = min(_WIDEST_CELL, int((1 - _LABEL) * width) // len(row.cells))
    widths = [width - wide * len(row.cells), *([wide] * len(row.cells))]
    wrapped = [_two_lines(clean(text), room - GAP) for text, room in zip((row.name, *row.cells), widths, strict=True)]
    lines = [
        "".join(fitted(text, room) for text, room in zip(texts, widths, strict=True)).rstrip()
        for texts in zip_longest(*wrapped, fillvalue="")
    ]
    return Content("\n".join(lines)).stylize("bold" if row.heading else "")


def _two_lines(text: str, width: int) -> list[str]:
    lines = wrap(text, max(width, 1), break_on_hyphens=False) or [""]
    return lines if len(lines) < 3 else [lines[0], short(" ".join(lines[1:]), width)]


def short(text: str, width: int) -> str:
    """A text in at most so many cells, an ellipsis standing for what was cut off."""
    if cell_len(text) <= width:
        return text
    return set_cell_size(text, width - 1).rstrip() + "…" if width > 0 else ""


def fitted(text: str, width: int) -> str:
    """A text in exactly so many cells."""
    return set_cell_size(short(text, width), max(0, width))
