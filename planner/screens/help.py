"""What a place is for, and every key that it has."""

from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Vertical, VerticalScroll
from textual.screen import ModalScreen
from textual.widgets import Static

from planner.screens.actions import actions_at
from planner.screens.places.table import PlaceName

NAMES_OF_KEYS = {"question_mark": "?", "slash": "/", "ctrl+": "^", "pageup": "page up", "pagedown": "page down"}
SAFETY = "It helps to plan; it does not release a truck for the road. Local codes and licensed practice come first."


class Help(ModalScreen[None]):
    """Closes on Escape, Enter or F1."""

    BINDINGS = [Binding("escape,enter,f1,q", "leave", "leave")]

    def __init__(self, place: PlaceName, kinds: tuple[str, ...], more: str = "") -> None:
        super().__init__()
        self._place, self._kinds, self._more = place, kinds, more

    def compose(self) -> ComposeResult:
        lines = [f"{self._place.what[0].upper()}{self._place.what[1:]}.", *([self._more] if self._more else []), ""]
        for one in sorted(actions_at(*self._kinds), key=lambda action: not action.at):
            lines.append(f"{in_words(one.keys):<18}{one.says}")
        lines += [f"{'^p':<18}The command palette: everything by name", f"{'^q':<18}Leave; what was accepted is saved"]
        with Vertical(classes="dialog -tall"):
            yield Static(self._place.title.upper(), classes="title", markup=False)
            with VerticalScroll():
                yield Static("\n".join([*lines, "", SAFETY]), markup=False)
            yield Static("Escape leaves", classes="hint", markup=False)

    def action_leave(self) -> None:
        self.dismiss(None)


def in_words(keys: str) -> str:
    """Keys as a person calls them: `F4 or ?`."""
    told = []
    for key in keys.split(","):
        for name, word in NAMES_OF_KEYS.items():
            key = key.replace(name, word)
        told.append(key.upper() if key.startswith("f") and key[1:].isdigit() else key)
    return " or ".join(told)
