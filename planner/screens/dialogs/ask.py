"""Asking for a line or two of text, or for a plain choice, over whatever place is in sight."""

from collections.abc import Callable, Sequence

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding
from textual.screen import Screen
from textual.widgets import Input, Static

from planner.quantities.text import clean
from planner.screens.dialogs.dialog import Dialog
from planner.screens.widgets.box import TextBox
from planner.screens.widgets.columns import ListRow
from planner.screens.widgets.row_list import RowList


class Ask(Dialog[str | None]):
    """Asks for one line; gives it, or None where the person left. `check` says what is wrong with a line, `told` what
    is to be known before it is answered, and `whole` makes a screen that tells all of that."""

    BINDINGS = [Binding("f6", "whole", "everything")]

    def __init__(
        self,
        question: str,
        hint: str = "",
        text: str = "",
        check: Callable[[str], str] | None = None,
        told: Sequence[str] = (),
        whole: Callable[[], Screen[None]] | None = None,
    ) -> None:
        super().__init__(question, hint or "Enter takes it, Escape leaves")
        self._text, self._check, self._told, self._whole = text, check, told, whole

    def body(self) -> ComposeResult:
        yield from _to_know(self._told)
        yield TextBox(self._text)

    def on_input_submitted(self, event: Input.Submitted) -> None:
        text = event.value.strip()
        wrong = self._check(text) if self._check else "" if text else "nothing is typed there"
        if wrong:
            self.show_hint(wrong)
        else:
            self.dismiss(text)

    def on_click(self, event: events.Click) -> None:
        if any(one.region.contains_point(event.screen_offset) for one in self.query(".told")):
            self.action_whole()

    def action_whole(self) -> None:
        if self._whole is not None:
            self.app.push_screen(self._whole())


class Agreed(Dialog[bool]):
    """Says what is about to be written down; Enter or a click on it does it, no letter does."""

    def __init__(self, what: str, told: Sequence[str] = ()) -> None:
        super().__init__(what, "Enter does it, Escape leaves it as it was")
        self._told = told

    def body(self) -> ComposeResult:
        yield from _to_know(self._told)
        yield RowList(id="rows")

    def on_mount(self) -> None:
        self.query_one(RowList).fill_whole([ListRow("Do it")])

    def on_row_list_chosen(self) -> None:
        self.dismiss(True)


class Choose(Dialog[str | None]):
    """Offers rows to choose one of, the cursor `at` one; gives its `about`, or None where the person left."""

    def __init__(self, question: str, rows: Sequence[ListRow], *, tall: bool = False, at: str | None = None) -> None:
        super().__init__(question, "Enter chooses, Escape leaves", tall=tall)
        self._rows, self._at = rows, at

    def body(self) -> ComposeResult:
        yield RowList(self.pointed, id="rows")

    def on_mount(self) -> None:
        row_list = self.query_one(RowList)
        if self._tall:
            row_list.fill(self._rows)
        else:
            row_list.fill_whole(self._rows)
        row_list.point_at(about=self._at)

    def pointed(self, row: ListRow) -> None:
        """What its column may have cut stands whole below."""
        self.show_hint(*([row.value] if row.value else []), self._hint)

    def on_row_list_chosen(self, event: RowList.Chosen) -> None:
        self.dismiss(event.row.about)


def _to_know(lines: Sequence[str]) -> ComposeResult:
    """What is to be known before it is answered."""
    if lines:
        yield Static("\n".join(map(clean, lines)), classes="told", markup=False)
