"""All there is to say about one thing, to be read: a task, a decision, a part."""

from collections.abc import Sequence

from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import VerticalScroll
from textual.widgets import Static

from planner.quantities.text import clean
from planner.screens.dialogs.dialog import Dialog


class Detail(Dialog[None]):
    """Paragraphs that can be scrolled, and pairs of a name and what there is; closes on Escape or Enter."""

    BINDINGS = [Binding("enter,q", "leave", "leave")]

    def __init__(self, title: str, lines: Sequence[str | tuple[str, str]]) -> None:
        super().__init__(title, "↑ ↓ scroll, Escape leaves", tall=True)
        self._lines = lines

    def body(self) -> ComposeResult:
        with VerticalScroll():
            yield Static(as_text(self._lines), markup=False)


def as_text(lines: Sequence[str | tuple[str, str]]) -> str:
    """The lines made harmless; of pairs, the names in a column."""
    wide = max((len(line[0]) for line in lines if not isinstance(line, str)), default=0) + 2
    return "\n".join(
        clean(line) if isinstance(line, str) else f"{clean(line[0]):<{wide}}{clean(line[1])}" for line in lines
    )
