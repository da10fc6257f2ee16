"""What was typed and not accepted when the program last ended, offered again."""

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from textual.app import ComposeResult
from textual.binding import Binding

from planner.plan.truck.keys import UnknownKey
from planner.project.drafts import Typed, kept, let_go
from planner.screens.dialogs.dialog import Dialog
from planner.screens.state_app import StateApp
from planner.screens.widgets.columns import ListRow
from planner.screens.widgets.row_list import RowList

if TYPE_CHECKING:
    from planner.screens.places.facts_place import FactsPlace

HINT = "Enter opens it in the editor  Delete throws it away  Escape keeps it for later"
EMPTY = "(nothing: you were deleting the entry)"


class Recovery(Dialog[Typed | None]):
    """Gives what is to be taken up in the editor, or None; what is thrown away is handed to `throw` at once."""

    BINDINGS = [Binding("delete", "throw", "throw away")]

    def __init__(self, found: Sequence[Typed], throw: Callable[[str], None]) -> None:
        super().__init__("You were typing when the program ended", HINT)
        self._found, self._throw = list(found), throw

    def body(self) -> ComposeResult:
        yield RowList(id="rows")

    def on_mount(self) -> None:
        self._show()

    def _show(self) -> None:
        rows = [ListRow(one.key, one.text or EMPTY, one.because, about=one) for one in self._found]
        self.query_one(RowList).fill_whole(rows, most=12)

    def on_row_list_chosen(self, event: RowList.Chosen) -> None:
        self.dismiss(event.row.about)

    def action_throw(self) -> None:
        row = self.query_one(RowList).current
        if row is not None:
            self._found.remove(row.about)
            self._throw(row.about.key)
        if self._found:
            self._show()
        else:
            self.dismiss(None)


def offer(planner: StateApp) -> None:
    """Offers what was typed in this project, where anything was."""
    assert planner.state is not None
    project = planner.state.source.path
    found = kept(project)
    if found:
        offered = Recovery(found, lambda key: let_go(project, key))
        planner.push_screen(offered, lambda typed: None if typed is None else _take_up(planner, typed))


def _take_up(planner: StateApp, typed: Typed) -> None:
    from planner.screens.places.facts_place import FactsPlace  # only wanted where something is offered

    for name in planner.places:
        shown = planner.place(name)
        if isinstance(shown, FactsPlace) and shown.has(typed.key):
            planner.go(name)
            shown.call_after_refresh(_edit, planner, shown, typed)
            return
    planner.say(f"{typed.key} isn't in any form; you had typed: {typed.text or EMPTY}")


def _edit(planner: StateApp, shown: "FactsPlace", typed: Typed) -> None:
    try:
        shown.edit_typed(typed.key, typed.text, typed.because)
    except UnknownKey:
        planner.say(f"There's no entry {typed.key} anymore; you had typed: {typed.text or EMPTY}")
