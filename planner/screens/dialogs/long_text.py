"""A long text over whatever is in sight, to be read and scrolled; or to be read and agreed to, with a reason."""

from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import VerticalScroll
from textual.widgets import Input, Static

from planner.quantities.text import clean
from planner.screens.dialogs.dialog import Dialog
from planner.screens.widgets.box import TextBox


def harmless(text: str) -> str:
    """Every line made harmless, the lines kept."""
    return "\n".join(map(clean, text.split("\n")))


class LongText(Dialog[bool]):
    """Shows a text; gives whether `again`, the key for going on from it, was pressed."""

    BINDINGS = [Binding("q,enter", "leave", "leave"), Binding("b", "on", "go on")]

    def __init__(self, title: str, text: str, again: str = "") -> None:
        more = f"  {again} brings this state back" if again else ""
        super().__init__(title, f"↑ ↓ scroll{more}  Escape leaves", tall=True)
        self._text, self._again = text, again

    def body(self) -> ComposeResult:
        with VerticalScroll(id="text"):
            yield Static(harmless(self._text), markup=False)

    def action_on(self) -> None:
        if self._again:
            self.dismiss(True)


class Agree(Dialog[str | None]):
    """Shows what would be done and asks for a reason, which may be empty; gives it, or None where the person left."""

    AUTO_FOCUS = "Input"

    def __init__(self, title: str, text: str) -> None:
        super().__init__(title, "Enter does it  Escape leaves everything as it is", tall=True)
        self._text = text

    def body(self) -> ComposeResult:
        with VerticalScroll(id="text"):
            yield Static(harmless(self._text), markup=False)
        yield TextBox(placeholder="because: for the diary")

    def on_input_submitted(self, event: Input.Submitted) -> None:
        self.dismiss(event.value.strip())
