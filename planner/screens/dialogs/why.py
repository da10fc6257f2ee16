"""Why a value is what it is: formula, values put in, ground, what its spread comes from, and what reads it."""

from collections.abc import Iterator

from textual.app import ComposeResult
from textual.binding import Binding
from textual.widgets import Static

from planner.plan.answers.why import Why, why
from planner.plan.truck.project import OpenProject
from planner.quantities.text import clean
from planner.screens.dialogs.dialog import Dialog
from planner.screens.widgets.columns import ListRow, heading
from planner.screens.widgets.row_list import RowList
from planner.worksheet.outcome import Spot


class WhyScreen(Dialog[str | None]):
    """Enter on an entry leads to it; on a value that was worked out, asks why of that one. Gives the key to go to."""

    BINDINGS = [Binding("backspace,left", "back", "back"), Binding("question_mark,f4", "deeper", "why that")]

    def __init__(self, opened: OpenProject, spot: Spot) -> None:
        super().__init__("", "Enter goes to the entry  ? asks on  ← back  Escape leaves", tall=True)
        self._opened, self._trail = opened, [spot]

    def body(self) -> ComposeResult:
        yield RowList(id="rows")

    def on_mount(self) -> None:
        self._show()

    def _show(self) -> None:
        told = why(self._opened, self._trail[-1])
        self.query_one(".title", Static).update(f"{clean(told.title)}\n= {clean(told.value)}")
        self.query_one(RowList).fill(list(_rows(told)))

    def on_row_list_chosen(self, event: RowList.Chosen) -> None:
        if event.row.key:
            self.dismiss(event.row.key)
        else:
            self.action_deeper()

    def action_deeper(self) -> None:
        row = self.query_one(RowList).current
        if row is not None and row.spot is not None and row.spot != self._trail[-1] and row.spot in self._opened.sheet:
            self._trail.append(row.spot)
            self._show()

    def action_back(self) -> None:
        if len(self._trail) > 1:
            self._trail.pop()
            self._show()
        else:
            self.dismiss(None)


def _rows(told: Why) -> Iterator[ListRow]:
    for name, text in told.sums:
        yield ListRow(f"{name}: {text}", about=name)
    if len(told.steps) > 1 or told.steps[0].key:
        yield heading("it rests on")
        for at, step in enumerate(told.steps):
            if step.depth or step.key:
                indent = "  " * max(0, step.depth - 1)
                yield ListRow(f"{indent}{step.name}", step.value, step.how, key=step.key, spot=step.spot, about=at)
    if told.brings:
        yield heading("what its spread comes from")
        for one in told.brings:
            yield ListRow(one.key, f"{one.part:.0%}", one.written, key=one.key, about=("brings", one.key))
    if told.read_by:
        yield heading("read by")
        for name, spot in told.read_by:
            yield ListRow(name, spot=spot, about=("reads", name))
