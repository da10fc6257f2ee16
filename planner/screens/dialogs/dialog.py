"""What all dialogs have in common: a title, what is asked or told under it, and a hint at the foot; Escape leaves."""

from typing import TypeVar

from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Static

from planner.quantities.text import clean

Result = TypeVar("Result")


class Dialog(ModalScreen[Result]):
    """Lies over whatever is in sight; gives None where the person left. A `tall` one takes the height that there is."""

    BINDINGS = [Binding("escape", "leave", "leave")]

    def __init__(self, title: str, hint: str, *, tall: bool = False) -> None:
        super().__init__()
        self._title, self._hint, self._tall = clean(title), clean(hint), tall

    def compose(self) -> ComposeResult:
        with Vertical(classes="dialog -tall" if self._tall else "dialog"):
            yield Static(self._title, classes="title", markup=False)
            yield from self.body()
            yield Static(self._hint, classes="hint", markup=False)

    def body(self) -> ComposeResult:
        """What stands between title and hint."""
        yield from ()

    def show_hint(self, *lines: str) -> None:
        """Other words at the foot."""
        self.query_one(".hint", Static).update("\n".join(map(clean, lines)))

    def action_leave(self) -> None:
        self.dismiss(None)
