"""A list of rows in columns: entries, figures, flags; the cursor stands on a row, Enter and a click choose it."""

from collections.abc import Sequence
from typing import Any, NamedTuple

from textual import events
from textual.content import Content
from textual.message import Message
from textual.widgets import OptionList
from textual.widgets.option_list import Option

from planner.quantities.text import clean, cut

GAP = 2
MARK = 9  # cells for a mark such as CAUTION?
NARROWEST = 20


class Row(NamedTuple):
    """One row: a mark, a name, a value and a note; `key` is an entry's in the file, `spot` what can be asked why.

    A heading is a row that the cursor passes over; a row without a value has the whole width for its name, in as many
    lines as it takes. `about` is what the place itself wants back when the row is chosen.
    """

    name: str
    value: str = ""
    note: str = ""
    mark: str = ""
    tone: str = ""
    key: str = ""
    spot: Any = None
    about: Any = None
    heading: bool = False

    @property
    def text(self) -> str:
        """The row as it is copied and saved."""
        if self.heading:
            return f"\n{self.name.upper()}"
        return "\t".join((*([self.mark] if self.mark else []), self.name, self.value, self.note)).rstrip()


def heading(text: str) -> Row:
    return Row(text, heading=True)


class Ledger(OptionList):
    """Rows with a cursor; posts `Pointed` when it moves to another row, and `Chosen` on Enter or a click."""

    class Pointed(Message):
        def __init__(self, row: Row) -> None:
            super().__init__()
            self.row = row

    class Chosen(Message):
        def __init__(self, row: Row) -> None:
            super().__init__()
            self.row = row

    def __init__(self, *, id: str | None = None, shares: tuple[float, float] = (0.42, 0.4)) -> None:
        super().__init__(id=id, markup=False)
        self.rows: tuple[Row, ...] = ()
        self._shares = shares
        self._laid_out_for = 0

    def fill(self, rows: Sequence[Row]) -> None:
        """Other rows; the cursor stays on the row that it stood on, if that is still there."""
        before, at = self.current, self.highlighted
        self.rows = tuple(rows)
        self._lay_out()
        there = [place for place, row in enumerate(self.rows) if before is not None and _same(row, before)]
        if there:
            self.highlighted = min(there, key=lambda place: abs(place - (at or 0)))
        else:
            self.highlighted = self._selectable(at or 0)
        row = self.current
        if row is not None:
            self.post_message(self.Pointed(row))

    @property
    def current(self) -> Row | None:
        """The row under the cursor."""
        at = self.highlighted
        return self.rows[at] if at is not None and at < len(self.rows) else None

    def point_at(self, key: str = "", about: Any = None) -> bool:
        """The cursor on the row of this entry, or of this thing; whether there is one."""
        for at, row in enumerate(self.rows):
            if not row.heading and ((key and row.key == key) or (about is not None and row.about == about)):
                self.highlighted = at
                self.scroll_to_highlight(top=False)
                return True
        return False

    def on_resize(self, event: events.Resize) -> None:
        if event.size.width != self._laid_out_for:
            at = self.highlighted
            self._lay_out()
            self.highlighted = at

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        event.stop()
        if event.option_index < len(self.rows):
            self.post_message(self.Chosen(self.rows[event.option_index]))

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        event.stop()
        if event.option_index < len(self.rows):
            self.post_message(self.Pointed(self.rows[event.option_index]))

    def _selectable(self, near: int) -> int | None:
        places = [at for at, row in enumerate(self.rows) if not row.heading]
        return min(places, key=lambda at: (abs(at - near), at), default=None)

    def _lay_out(self) -> None:
        wide = self._laid_out_for = self.size.width
        width = max(NARROWEST, wide - 1)  # the scrollbar's column is kept free
        marked = any(row.mark for row in self.rows)
        self.set_options(
            Option(_line(row, width, marked, self._shares), disabled=row.heading) for row in self.rows
        )  # fmt: skip


def _same(one: Row, other: Row) -> bool:
    if one.heading or other.heading:
        return False
    if one.key or other.key:
        return one.key == other.key
    if one.about is not None or other.about is not None:
        return bool(one.about == other.about)
    return one.name == other.name


def _line(row: Row, width: int, marked: bool, shares: tuple[float, float]) -> Content:
    if row.heading:
        return Content(clean(row.name)).stylize("bold")
    mark = f"{cut(clean(row.mark), MARK):<{MARK}}" if marked else ""
    name, value, note = clean(row.name), clean(row.value), clean(row.note)
    tone = f"$text-{row.tone}" if row.tone else ""
    start = Content(mark).stylize(f"bold {tone}".strip()) if mark else Content("")
    left = width - len(mark)
    if not value and not note:
        return start + Content(name)
    wide = int(left * shares[0])
    told = Content(f"{cut(name, wide - GAP):<{wide}}")
    middle = int(left * shares[1]) if note else left - wide
    shown = Content(f"{cut(value, middle - (GAP if note else 0)):<{middle}}").stylize(tone if not mark else "")
    return start + told + shown + Content(cut(note, left - wide - middle)).stylize("dim")
