"""A list of rows in columns: entries, figures, flags; the cursor stands on a row, Enter and a click choose it."""

from collections.abc import Callable, Sequence

from textual import events
from textual.binding import Binding
from textual.content import Content
from textual.message import Message
from textual.style import Style
from textual.widgets import OptionList
from textual.widgets.option_list import Option

from planner.screens.widgets.columns import ListRow, lines


class RowList(OptionList):
    """Rows with a cursor; calls `pointed` when it moves to another row, posts `Chosen` on Enter or a click."""

    BINDINGS = [Binding("enter", "select", "open")]

    class Chosen(Message):
        def __init__(self, row: ListRow) -> None:
            super().__init__()
            self.row = row

    def __init__(self, pointed: Callable[[ListRow], None] | None = None, *, id: str | None = None) -> None:
        super().__init__(id=id, markup=False)
        self._pointed = pointed  # called, not told by a message: what it shows is painted with the cursor, at once
        self._filling = False
        self.rows: tuple[ListRow, ...] = ()
        self._laid_out_for = 0
        self._prompts: list[Content] = []

    def fill(self, rows: Sequence[ListRow]) -> None:
        """Other rows; the cursor stays on the row that it stood on, if that is still there."""
        before, at, old = self.current, self.highlighted, self.rows
        self._filling = True
        self.rows = tuple(rows)
        if [row.heading for row in old] == [row.heading for row in rows] and self._laid_out_for:
            self._lay_out_again()
        else:
            self._lay_out()
        there = [place for place, row in enumerate(self.rows) if before is not None and _same(row, before)]
        if there:
            self.highlighted = min(there, key=lambda place: abs(place - (at or 0)))
        else:
            self.highlighted = self._selectable(at or 0)
        self._filling = False
        self._point()

    def fill_whole(self, rows: Sequence[ListRow], most: int = 16) -> None:
        """Other rows, and as high as they are."""
        self.styles.height = min(len(rows), most)
        self.fill(rows)

    def _point(self) -> None:
        row = self.current
        if row is not None and self._pointed is not None and not self._filling:
            self._pointed(row)

    @property
    def current(self) -> ListRow | None:
        """The row under the cursor."""
        at = self.highlighted
        return self.rows[at] if at is not None and at < len(self.rows) else None

    def point_at(self, key: str = "", about: object = None) -> bool:
        """The cursor on the row of this entry, or of this thing; whether there is one."""
        for at, row in enumerate(self.rows):
            if not row.heading and ((key and row.key == key) or (about is not None and row.about == about)):
                self.highlighted = at
                self.scroll_to_highlight(top=False)
                return True
        return False

    def on_resize(self, event: events.Resize) -> None:
        if self.size.width != self._laid_out_for:
            at = self.highlighted
            self._lay_out()
            self.highlighted = at
        self.scroll_to_highlight()  # what is written just now stays in sight where the editor has taken its room

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        event.stop()
        if event.option_index < len(self.rows):
            self.post_message(self.Chosen(self.rows[event.option_index]))

    def get_visual_style(self, *component_classes: str, partial: bool = False) -> Style:
        """With the reverse that a style asks for, which the library leaves out: without color nothing else is seen."""
        style = super().get_visual_style(*component_classes, partial=partial)
        if component_classes and self.get_component_styles(component_classes[-1]).text_style.reverse:
            return style + Style(reverse=True)
        return style

    def watch_highlighted(self, highlighted: int | None) -> None:
        with self.prevent(OptionList.OptionHighlighted):
            super().watch_highlighted(highlighted)
        self._point()

    def _selectable(self, near: int) -> int | None:
        places = [at for at, row in enumerate(self.rows) if not row.heading]
        return min(places, key=lambda at: (abs(at - near), at), default=None)

    def _lay_out(self) -> None:
        self._laid_out_for = self.size.width or self.app.size.width  # not too narrow where it is not in sight yet
        self._prompts = self._told()
        prompts = zip(self.rows, self._prompts, strict=True)
        self.set_options(Option(prompt, disabled=row.heading) for row, prompt in prompts)

    def _lay_out_again(self) -> None:
        """Only the lines that are not as they were: after most edits nearly all of them are."""
        old, self._prompts = self._prompts, self._told()
        for at, (was, now) in enumerate(zip(old, self._prompts, strict=True)):
            if not was.is_same(now):
                self.replace_option_prompt_at_index(at, now)

    def _told(self) -> list[Content]:
        return lines(self.rows, self._laid_out_for - 1)  # the scrollbar's column is kept free


def _same(one: ListRow, other: ListRow) -> bool:
    if one.heading or other.heading:
        return False
    if one.key or other.key:
        return one.key == other.key
    if one.about is not None or other.about is not None:
        return bool(one.about == other.about)
    return one.name == other.name
