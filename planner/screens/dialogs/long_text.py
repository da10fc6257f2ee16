"""A long text over whatever is in sight, to be read and scrolled; or to be read and agreed to, with a reason."""

from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Vertical, VerticalScroll
from textual.screen import ModalScreen
from textual.widgets import Input, Static

from planner.quantities.text import clean
from planner.screens.widgets.box import TextBox


def harmless(text: str) -> str:
    """Every line made harmless, the lines kept."""
    return "\n".join(map(clean, text.split("\n")))


class LongText(ModalScreen[bool]):
    """Shows a text; gives whether `again`, the key for going on from it, was pressed."""

    BINDINGS = [Binding("escape,q,enter", "leave", "leave"), Binding("b", "on", "go on")]

    def __init__(self, title: str, text: str, again: str = "") -> None:
        super().__init__()
        self._title, self._text, self._again = title, text, again

    def compose(self) -> ComposeResult:
        with Vertical(classes="dialog -tall"):
            yield Static(clean(self._title), classes="title", markup=False)
            with VerticalScroll(id="text"):
                yield Static(harmless(self._text), markup=False)
            more = f"  {self._again} brings this state back" if self._again else ""
            yield Static(f"↑ ↓ scroll{more}  Escape leaves", classes="hint", markup=False)

    def on_mount(self) -> None:
        self.query_one("#text").focus()

    def action_on(self) -> None:
        if self._again:
            self.dismiss(True)

    def action_leave(self) -> None:
        self.dismiss(False)


class Agree(ModalScreen[str | None]):
    """Shows what would be done and asks for a reason, which may be empty; gives it, or None where the person left."""

    BINDINGS = [Binding("escape", "leave", "leave")]

    def __init__(self, title: str, text: str) -> None:
        super().__init__()
        self._title, self._text = title, text

    def compose(self) -> ComposeResult:
        with Vertical(classes="dialog -tall"):
            yield Static(clean(self._title), classes="title", markup=False)
            with VerticalScroll(id="text"):
                yield Static(harmless(self._text), markup=False)
            yield TextBox(placeholder="because: for the diary")
            yield Static("Enter does it  Escape leaves everything as it is", classes="hint", markup=False)

    def on_mount(self) -> None:
        self.query_one(Input).focus()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        self.dismiss(event.value.strip())

    def action_leave(self) -> None:
        self.dismiss(None)
