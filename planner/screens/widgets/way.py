"""The way through the build at the left of a wide window: every place with how it stands; a click goes there."""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from textual import events
from textual.content import Content
from textual.message import Message
from textual.reactive import reactive
from textual.widget import Widget

from planner.screens.widgets.columns import fitted

WIDTH = 20  # cells, with the longest title and a count beside it
HERE = "▸"
RAISED, OPEN, DONE, NOT_YET = "!", "?", "✓", "–"
LEGEND = (
    (RAISED, "raised"),
    (f"3{OPEN}", "to measure"),
    (OPEN, "open"),
    (DONE, "nothing open"),
    (NOT_YET, "not yet"),
)


class PlaceState(NamedTuple):
    """The sign or the count beside a place, and the tone that it has besides."""

    text: str
    tone: str = ""


SETTLED, UNTOUCHED = PlaceState(DONE, "success"), PlaceState(NOT_YET, "muted")


class BuildWay(Widget):
    """Draws its lines itself, as one widget: a key in a list lays nothing out here."""

    DEFAULT_CSS = f"""
    BuildWay {{ dock: left; width: {WIDTH + 1}; height: 100%; margin: 0 0 1 0; background: $surface;
        border-right: solid $panel; }}
    """
    under = reactive(-1)  # the row under the pointer

    class Followed(Message):
        def __init__(self, name: str) -> None:
            super().__init__()
            self.name = name

    def __init__(self, places: Sequence[tuple[str, str]], here: str) -> None:
        """`places` have their names, and what they are called."""
        super().__init__()
        self._places, self._here = tuple(places), here
        self._states: Mapping[str, PlaceState] = {}

    def tell(self, states: Mapping[str, PlaceState]) -> None:
        """How each place stands, by its name."""
        if states != self._states:
            self._states = states
            self.refresh()

    def render(self) -> Content:
        lines = [self._line(at, name, title) for at, (name, title) in enumerate(self._places)]
        left = self.size.height - len(lines) - len(LEGEND)
        if left > 0:
            lines += [Content("")] * left
            lines += [Content(f" {sign:>2} {meaning}").stylize("dim") for sign, meaning in LEGEND]
        return Content("\n").join(lines)

    def _line(self, at: int, name: str, title: str) -> Content:
        here = name == self._here
        state = self._states.get(name, PlaceState(""))
        room = WIDTH - 2 - len(state.text)
        sign = Content(state.text).stylize(_style(state.tone))
        line = Content(f"{HERE if here else ' '}{fitted(title, room - 1)} ") + sign + Content(" ")
        if here:
            return line.stylize("bold on $primary 25%")
        return line.stylize("on $panel") if at == self.under else line

    def on_mouse_move(self, event: events.MouseMove) -> None:
        self.under = event.y if event.y < len(self._places) else -1

    def on_leave(self) -> None:
        self.under = -1

    def on_click(self, event: events.Click) -> None:
        if 0 <= event.y < len(self._places):
            self.post_message(self.Followed(self._places[event.y][0]))


def _style(tone: str) -> str:
    return {"": "", "muted": "dim", "success": "$text-success"}.get(tone, f"bold $text-{tone}")
