"""All there is to say about one thing, to be read: a task, a decision, a part."""

from collections.abc import Sequence

from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Vertical, VerticalScroll
from textual.screen import ModalScreen
from textual.widgets import Static

from planner.quantities.text import clean


class Detail(ModalScreen[None]):
    """Paragraphs that can be scrolled, and pairs of a name and what there is; closes on Escape or Enter."""

    BINDINGS = [Binding("escape,enter,q", "leave", "leave")]

    def __init__(self, title: str, lines: Sequence[str | tuple[str, str]]) -> None:
        super().__init__()
        self._title, self._lines = title, lines

    def compose(self) -> ComposeResult:
        with Vertical(classes="dialog -tall"):
            yield Static(clean(self._title), classes="title", markup=False)
            with VerticalScroll():
                yield Static(as_text(self._lines), markup=False)
            yield Static("↑ ↓ scroll, Escape leaves", classes="hint", markup=False)

    def on_mount(self) -> None:
        self.query_one(VerticalScroll).focus()

    def action_leave(self) -> None:
        self.dismiss(None)


def as_text(lines: Sequence[str | tuple[str, str]]) -> str:
    """The lines made harmless; of pairs, the names in a column."""
    wide = max((len(line[0]) for line in lines if not isinstance(line, str)), default=0) + 2
    return "\n".join(
        clean(line) if isinstance(line, str) else f"{clean(line[0]):<{wide}}{clean(line[1])}" for line in lines
    )
