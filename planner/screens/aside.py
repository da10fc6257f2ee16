"""The words about the row under the cursor; longer ones than there is room for are read on with Tab and the arrows."""

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.widgets import Static


class Aside(VerticalScroll):
    """Says on its upper edge when there is more below."""

    DEFAULT_CSS = """
    Aside { height: auto; padding: 0 1; border-top: solid $panel; border-title-align: right;
            border-title-color: $primary; scrollbar-size-vertical: 0; }
    Aside:focus { border-top: solid $primary; }
    Aside Static { height: auto; }
    """

    def compose(self) -> ComposeResult:
        yield Static("", markup=False)

    def tell(self, words: str) -> None:
        """Other words, from their beginning."""
        self.query_one(Static).update(words)
        self.scroll_home(animate=False)
        self.call_after_refresh(self._say_whether_more)

    def on_resize(self) -> None:
        self._say_whether_more()

    def watch_scroll_y(self, before: float, after: float) -> None:
        super().watch_scroll_y(before, after)
        self._say_whether_more()

    def _say_whether_more(self) -> None:
        left = round(self.max_scroll_y - self.scroll_y)
        keys = "↓" if self.has_focus else "Tab ↓"
        self.border_title = f"{left} more below: {keys}" if left > 0 else ""
