"""Asking for a line or two of text, or for a plain choice, over whatever place is in sight."""

from collections.abc import Callable, Sequence

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Vertical
from textual.screen import ModalScreen, Screen
from textual.widgets import Input, Static

from planner.quantities.text import clean
from planner.screens.widgets.box import TextBox
from planner.screens.widgets.columns import ListRow
from planner.screens.widgets.row_list import RowList


class Ask(ModalScreen[str | None]):
    """Asks for one line; gives it, or None where the person left. `check` says what is wrong with a line, `told` what
    is to be known before it is answered, and `whole` makes a screen that tells all of that."""

    BINDINGS = [Binding("escape", "leave", "leave"), Binding("f6", "whole", "everything")]

    def __init__(
        self,
        question: str,
        hint: str = "",
        text: str = "",
        check: Callable[[str], str] | None = None,
        told: Sequence[str] = (),
        whole: Callable[[], Screen[None]] | None = None,
    ) -> None:
        super().__init__()
        self._whole = whole
        self._question, self._hint, self._text, self._check, self._told = question, hint, text, check, told

    def compose(self) -> ComposeResult:
        with Vertical(classes="dialog"):
            yield Static(clean(self._question), classes="title", markup=False)
            if self._told:
                yield Static("\n".join(map(clean, self._told)), classes="told", markup=False)
            yield TextBox(self._text)
            yield Static(clean(self._hint) or "Enter takes it, Escape leaves", classes="hint", markup=False)

    def on_input_submitted(self, event: Input.Submitted) -> None:
        text = event.value.strip()
        wrong = self._check(text) if self._check else "" if text else "nothing is typed there"
        if wrong:
            self.query_one(".hint", Static).update(clean(wrong))
        else:
            self.dismiss(text)

    def on_click(self, event: events.Click) -> None:
        if any(one.region.contains_point(event.screen_offset) for one in self.query(".told")):
            self.action_whole()

    def action_whole(self) -> None:
        if self._whole is not None:
            self.app.push_screen(self._whole())

    def action_leave(self) -> None:
        self.dismiss(None)


class Agreed(ModalScreen[bool]):
    """Says what is about to be written down; Enter or a click on it does it, no letter does."""

    BINDINGS = [Binding("escape", "leave", "leave")]

    def __init__(self, what: str, told: Sequence[str] = ()) -> None:
        super().__init__()
        self._what, self._told = what, told

    def compose(self) -> ComposeResult:
        with Vertical(classes="dialog"):
            yield Static(clean(self._what), classes="title", markup=False)
            if self._told:
                yield Static("\n".join(map(clean, self._told)), classes="told", markup=False)
            yield RowList(id="rows")
            yield Static("Enter does it, Escape leaves it as it was", classes="hint", markup=False)

    def on_mount(self) -> None:
        row_list = self.query_one(RowList)
        row_list.styles.height = 1
        row_list.fill([ListRow("Do it")])
        row_list.focus()

    def on_row_list_chosen(self) -> None:
        self.dismiss(True)

    def action_leave(self) -> None:
        self.dismiss(False)


class Choose(ModalScreen[str | None]):
    """Offers rows to choose one of, the cursor `at` one; gives its `about`, or None where the person left."""

    BINDINGS = [Binding("escape", "leave", "leave")]

    def __init__(
        self, question: str, rows: Sequence[ListRow], hint: str = "", tall: bool = False, at: str | None = None
    ) -> None:
        super().__init__()
        self._question, self._rows, self._hint, self._tall, self._at = question, rows, hint, tall, at

    def compose(self) -> ComposeResult:
        with Vertical(classes=f"dialog{' -tall' if self._tall else ''}"):
            yield Static(clean(self._question), classes="title", markup=False)
            yield RowList(self.pointed, id="rows")
            yield Static(clean(self._hint) or "Enter chooses, Escape leaves", classes="hint", markup=False)

    def on_mount(self) -> None:
        row_list = self.query_one(RowList)
        if not self._tall:
            row_list.styles.height = min(len(self._rows), 16)
        row_list.fill(self._rows)
        row_list.point_at(about=self._at)
        row_list.focus()

    def pointed(self, row: ListRow) -> None:
        """What its column may have cut stands whole below."""
        keys = clean(self._hint) or "Enter chooses, Escape leaves"
        self.query_one(".hint", Static).update(f"{clean(row.value)}\n{keys}" if row.value else keys)

    def on_row_list_chosen(self, event: RowList.Chosen) -> None:
        self.dismiss(event.row.about)

    def action_leave(self) -> None:
        self.dismiss(None)
