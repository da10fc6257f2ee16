"""Picking several of many by their words, one after the other: what a decision rests on, what a task waits on."""

from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Input, Static

from planner.plan.answers.figure_rows import figure_lines
from planner.plan.truck.project import OpenProject
from planner.quantities.text import clean, normal_name
from planner.screens.widgets.box import TextBox
from planner.screens.widgets.columns import ListRow
from planner.screens.widgets.row_list import RowList

MOST = 60
DONE = "That's all"


class PickSeveral(ModalScreen[list[Any] | None]):
    """Gives the `about` of the rows that were picked, or None where the person left; Enter picks, or drops again.

    `offered` are the rows, each with the words by which it is found; `nothing` is said where none is picked, `listed`
    whether all stand in sight before a word is written, and `picked` are those that are picked to begin with.
    """

    BINDINGS = [
        Binding("escape", "leave", "leave"),
        Binding("down", "move(1)", "down", priority=True),
        Binding("up", "move(-1)", "up", priority=True),
    ]

    def __init__(
        self,
        question: str,
        offered: Iterable[tuple[str, ListRow]],
        nothing: str,
        such_as: str,
        listed: bool = False,
        picked: Sequence[Any] = (),
    ) -> None:
        super().__init__()
        self._question, self._nothing, self._such_as, self._listed = question, nothing, such_as, listed
        self._all = [(normal_name(f"{words} {row.name}").lower(), row) for words, row in offered]
        self._picked = {row.about: row for _, row in self._all if row.about in picked}

    def compose(self) -> ComposeResult:
        with Vertical(classes="dialog -tall"):
            yield Static(clean(self._question), classes="title", markup=False)
            yield TextBox(placeholder=f"words, such as: {self._such_as}")
            yield RowList(id="rows")
            yield Static(f"Enter picks it, and on “{DONE}” goes on. Escape leaves", classes="hint", markup=False)

    def on_mount(self) -> None:
        self._show()

    def on_input_changed(self, event: Input.Changed) -> None:
        self._show()

    def _show(self) -> None:
        wanted = normal_name(self.query_one(Input).value).lower().split()
        if wanted:
            rows = [row for words, row in self._all if all(word in words for word in wanted)][:MOST]
        else:
            rows = [ListRow(DONE if self._picked else f"{DONE}: {self._nothing}"), *self._picked.values()]
            rows += [row for _, row in self._all if row.about not in self._picked] if self._listed else []
        marked = [row._replace(mark="picked" if row.about in self._picked else "") for row in rows]
        row_list = self.query_one(RowList)
        row_list.fill(marked)
        row_list.highlighted = 0 if marked else None

    def on_input_submitted(self) -> None:
        self._take(self.query_one(RowList).current)

    def on_row_list_chosen(self, event: RowList.Chosen) -> None:
        self._take(event.row)

    def _take(self, row: ListRow | None) -> None:
        if row is None:
            return
        if row.about is None:
            self.dismiss(list(self._picked))
        elif row.about in self._picked:
            del self._picked[row.about]
        else:
            self._picked[row.about] = row._replace(mark="")
        box = self.query_one(Input)
        box.focus()
        if box.value:
            box.value = ""
        else:
            self._show()

    def action_move(self, by: int) -> None:
        row_list = self.query_one(RowList)
        if by > 0:
            row_list.action_cursor_down()
        else:
            row_list.action_cursor_up()

    def action_leave(self) -> None:
        self.dismiss(None)


def entries_and_figures(opened: OpenProject) -> Iterator[tuple[str, ListRow]]:
    """What was entered and what was worked out, each with the words by which it is found."""
    for spot in opened.keys:
        key = opened.key_of(spot)
        means = opened.sheet.catalog.means(spot.node)
        yield f"{means} {key.replace('_', ' ')} entry", ListRow(key, opened.written_at(key), spot=spot, about=spot)
    for line in figure_lines(opened):
        for spot in line.spots[:1]:
            means = opened.sheet.catalog.means(spot.node)
            yield f"{means} figure", ListRow(f"{line.subject}: {line.name}", line.text, spot=spot, about=spot)
