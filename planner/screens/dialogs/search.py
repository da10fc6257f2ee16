"""Searching entries, figures, flags, tasks and parts by what they are called and what they mean."""

from collections.abc import Iterator

from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Input, Static

from planner.plan.figures import figure_lines
from planner.plan.forms import fields
from planner.plan.state import State
from planner.screens.widgets.box import Box
from planner.screens.widgets.columns import Row
from planner.screens.widgets.flag_rows import mark
from planner.screens.widgets.row_list import Ledger

MOST = 60
ROOTS = ("vehicle", "use", "legal", "axles", "drivetrain", "fitments", "obstacles", "readings", "limits", "assumptions",
         "plan", "parts")  # fmt: skip


class Search(ModalScreen[Row | None]):
    """Gives the row that was chosen: its `key` for an entry, `spot` for a figure, `about` for a flag or a task."""

    BINDINGS = [
        Binding("escape", "leave", "leave"),
        Binding("down", "down", "down", priority=True),
        Binding("up", "up", "up", priority=True),
    ]

    def __init__(self, state: State) -> None:
        super().__init__()
        self._state = state
        self._all: list[tuple[str, Row]] = []

    def compose(self) -> ComposeResult:
        with Vertical(classes="dialog -tall"):
            yield Static("Search", classes="title", markup=False)
            yield Box(placeholder="words, such as: front fender, poke, torque")
            yield Ledger(id="rows")
            yield Static("Enter goes there, Escape leaves", classes="hint", markup=False)

    def on_mount(self) -> None:
        self._all = [(f"{words} {row.name}".lower(), row) for words, row in _everything(self._state)]
        self._show("")

    def on_input_changed(self, event: Input.Changed) -> None:
        self._show(event.value)

    def _show(self, text: str) -> None:
        wanted = text.lower().split()
        found = [row for words, row in self._all if all(word in words for word in wanted)]
        self.query_one(Ledger).fill(found[:MOST] if wanted else [])
        self.query_one(".hint", Static).update(
            f"{len(found)} found{f', {MOST} shown' if len(found) > MOST else ''}; Enter goes there, Escape leaves"
            if wanted
            else "Entries, figures, flags and tasks. Enter goes there, Escape leaves"
        )

    def on_input_submitted(self) -> None:
        self.dismiss(self.query_one(Ledger).current)

    def on_ledger_chosen(self, event: Ledger.Chosen) -> None:
        self.dismiss(event.row)

    def action_down(self) -> None:
        self.query_one(Ledger).action_cursor_down()

    def action_up(self) -> None:
        self.query_one(Ledger).action_cursor_up()

    def action_leave(self) -> None:
        self.dismiss(None)


def _everything(state: State) -> Iterator[tuple[str, Row]]:
    """Each row with the words by which it is found."""
    opened = state.opened
    for flag in state.flags:
        if flag.verdict.answer != "clear":
            at = f"{flag.where}: " if flag.where else ""
            yield f"{flag.rule.name} flag {flag.says}", Row(f"{at}{flag.rule.notices}", mark=mark(flag), about=flag)
    for line in figure_lines(opened):
        name = f"{line.subject}: {line.name}"
        means = opened.sheet.catalog.means(line.spots[0].node)
        yield f"{means} figure", Row(name, line.text, mark="figure", spot=line.spots[0], about=line.spots[0])
    for one in fields(opened, *ROOTS):
        words = f"{one.means} {one.key.replace('_', ' ')} entry {one.written}"
        yield words, Row(one.key, one.written, mark="entry", key=one.key)
    for task in state.work.items.values() if state.work else ():
        yield f"{task.id} task {task.phase}", Row(task.title, mark="task", about=task)
