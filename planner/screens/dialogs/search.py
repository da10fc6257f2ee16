"""Searching entries, figures, flags, tasks and parts by what they are called and what they mean."""

from collections.abc import Iterator

from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Input, Static

from planner.plan.answers.figure_rows import figure_lines
from planner.plan.state import State
from planner.plan.truck.forms import fields
from planner.quantities.text import normal_name
from planner.screens.widgets.box import TextBox
from planner.screens.widgets.columns import ListRow
from planner.screens.widgets.flag_rows import flag_mark
from planner.screens.widgets.row_list import RowList

MOST = 60
ROOTS = ("vehicle", "use", "legal", "axles", "drivetrain", "fitments", "changes", "obstacles", "readings", "limits",
         "assumptions", "wishes", "offered", "plan", "parts", "wheels", "buyer", "outline")  # fmt: skip


class Search(ModalScreen[ListRow | None]):
    """Gives the row that was chosen: its `key` for an entry, `spot` for a figure, `about` for a flag or a task."""

    BINDINGS = [
        Binding("escape", "leave", "leave"),
        Binding("down", "down", "down", priority=True),
        Binding("up", "up", "up", priority=True),
    ]

    def __init__(self, state: State) -> None:
        super().__init__()
        self._state = state
        self._all: list[tuple[str, ListRow]] = []

    def compose(self) -> ComposeResult:
        with Vertical(classes="dialog -tall"):
            yield Static("Search", classes="title", markup=False)
            yield TextBox(placeholder="words, such as: front fender, poke, torque")
            yield RowList(id="rows")
            yield Static("Enter goes there, Escape leaves", classes="hint", markup=False)

    def on_mount(self) -> None:
        self._all = [(_alike(f"{words} {row.name}"), row) for words, row in _everything(self._state)]
        self._show("")

    def on_input_changed(self, event: Input.Changed) -> None:
        self._show(event.value)

    def _show(self, text: str) -> None:
        wanted = normal_name(text).lower().split()
        found = [row for words, row in self._all if all(word in words for word in wanted)]
        self.query_one(RowList).fill(found[:MOST] if wanted else [])
        self.query_one(".hint", Static).update(
            f"{len(found)} found{f', {MOST} shown' if len(found) > MOST else ''}; Enter goes there, Escape leaves"
            if wanted
            else "Entries, figures, flags and tasks. Enter goes there, Escape leaves"
        )

    def on_input_submitted(self) -> None:
        self.dismiss(self.query_one(RowList).current)

    def on_row_list_chosen(self, event: RowList.Chosen) -> None:
        self.dismiss(event.row)

    def action_down(self) -> None:
        self.query_one(RowList).action_cursor_down()

    def action_up(self) -> None:
        self.query_one(RowList).action_cursor_up()

    def action_leave(self) -> None:
        self.dismiss(None)


def _alike(words: str) -> str:
    """The words as they are searched: what people call in two ways is found by either."""
    return normal_name(words).lower().replace("stud circle", "bolt circle").replace("bolt circle", "stud bolt circle")


def _everything(state: State) -> Iterator[tuple[str, ListRow]]:
    """Each row with the words by which it is found."""
    opened = state.opened
    for flag in state.flags:
        if flag.verdict.answer != "clear":
            yield (
                f"{flag.rule.name} flag {flag.says}",
                ListRow(flag.notice, mark=flag_mark(flag), about=flag),
            )
    for line in figure_lines(opened):
        name = f"{line.subject}: {line.name}"
        node = line.spots[0].node
        yield (
            f"{opened.sheet.catalog.means(node)} {node.replace('_', ' ')} figure",
            ListRow(name, line.text, mark="figure", spot=line.spots[0], about=line.spots[0]),
        )
    for one in fields(opened, *ROOTS):
        words = f"{one.means} {one.key.replace('_', ' ')} entry {one.written}"
        yield words, ListRow(one.key, one.written, mark="entry", key=one.key)
    for task in state.work.items.values() if state.work else ():
        yield f"{task.id} task {task.phase}", ListRow(task.title, mark="task", about=task)
