"""Rows found by their words: a field for the words over the list of what has all of them."""

from collections.abc import Iterable

from textual.app import ComposeResult
from textual.binding import Binding
from textual.widgets import Input

from planner.quantities.text import normal_name
from planner.screens.dialogs.dialog import Dialog, Result
from planner.screens.widgets.box import TextBox
from planner.screens.widgets.columns import ListRow
from planner.screens.widgets.row_list import RowList

MOST = 60


class SearchWords(Dialog[Result]):
    """Enter and a click take a row; the arrows move in the list while words are written.

    `offered` are the rows, each with the words by which it is found besides its name.
    """

    BINDINGS = [
        Binding("down", "down", "down", priority=True),
        Binding("up", "up", "up", priority=True),
    ]

    def __init__(self, title: str, hint: str, such_as: str, offered: Iterable[tuple[str, ListRow]]) -> None:
        super().__init__(title, hint, tall=True)
        self._such_as = such_as
        self._all = [(self.searched(f"{words} {row.name}"), row) for words, row in offered]

    def body(self) -> ComposeResult:
        yield TextBox(placeholder=f"words, such as: {self._such_as}")
        yield RowList(id="rows")

    def searched(self, words: str) -> str:
        """A row's words as they are searched."""
        return normal_name(words).lower()

    @property
    def wanted(self) -> list[str]:
        """The words that are written."""
        return normal_name(self.query_one(Input).value).lower().split()

    def found(self) -> list[ListRow]:
        """The rows that have all of them."""
        wanted = self.wanted
        return [row for words, row in self._all if all(word in words for word in wanted)]

    def show_found(self) -> None:
        """Fills the list."""

    def take(self, row: ListRow | None) -> None:
        """A row was chosen."""

    def on_mount(self) -> None:
        self.show_found()

    def on_input_changed(self) -> None:
        self.show_found()

    def on_input_submitted(self) -> None:
        self.take(self.query_one(RowList).current)

    def on_row_list_chosen(self, event: RowList.Chosen) -> None:
        self.take(event.row)

    def action_down(self) -> None:
        self.query_one(RowList).action_cursor_down()

    def action_up(self) -> None:
        self.query_one(RowList).action_cursor_up()
