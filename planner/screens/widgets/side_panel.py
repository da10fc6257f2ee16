"""The words about the row under the cursor; longer ones than there is room for are read on with Tab and the arrows."""

from textual import events
from textual.binding import Binding
from textual.content import Content
from textual.widget import Widget

LONGEST_LINE = 84  # cells; a wider panel has room beside its words, not longer lines


class SidePanel(Widget, can_focus=True):
    """Keeps its height, whatever is in it, and draws its lines itself: a key in the list lays nothing out anew."""

    DEFAULT_CSS = """
    SidePanel { height: 8; padding: 0 1; border-top: solid $panel; border-title-align: right;
            border-title-color: $primary; }
    SidePanel:focus { border-top: solid $primary; }
    """
    BINDINGS = [
        Binding("down,j", "move(1)", "read on", show=False),
        Binding("up,k", "move(-1)", "back", show=False),
        Binding("pagedown,space", "move(6)", "read on", show=False),
        Binding("pageup", "move(-6)", "back", show=False),
    ]

    def __init__(self, id: str | None = None) -> None:
        super().__init__(id=id)
        self.words = ""
        self._from = 0
        self._wrapped: tuple[str, int, list[Content]] = ("", 0, [])

    def tell(self, words: str) -> None:
        """Other words, from their beginning; what a person wrote in them is clean already."""
        if words != self.words:
            self.words, self._from = words, 0
            if self.is_on_screen:
                self._say_whether_more()
                self.refresh()

    def on_show(self) -> None:
        self._say_whether_more()
        self.refresh()

    def action_move(self, lines: int) -> None:
        most = len(self._lines()) - self.content_size.height
        self._from = max(0, min(most, self._from + lines))
        self._say_whether_more()
        self.refresh()

    def on_resize(self, event: events.Resize) -> None:
        self._say_whether_more()

    def on_mouse_scroll_down(self, event: events.MouseScrollDown) -> None:
        self.action_move(1)

    def on_mouse_scroll_up(self, event: events.MouseScrollUp) -> None:
        self.action_move(-1)

    def _lines(self) -> list[Content]:
        wide = max(1, min(LONGEST_LINE, self.content_size.width))
        if self._wrapped[:2] != (self.words, wide):
            told = [line for one in self.words.split("\n") for line in Content(one).wrap(wide) or [Content("")]]
            self._wrapped = (self.words, wide, told)
        return self._wrapped[2]

    def _say_whether_more(self) -> None:
        high = self.content_size.height
        left = len(self._lines()) - self._from - high if high else 0  # out of sight it is not even wrapped
        self.border_title = f"{left} more below: Tab ↓" if left > 0 else ""

    def render(self) -> Content:
        return Content("\n").join(self._lines()[self._from : self._from + self.content_size.height])
