"""What a place is for, and every key that it has."""

from textwrap import wrap

from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import VerticalScroll
from textual.widgets import Static

from planner.screens.actions import actions_at
from planner.screens.dialogs.dialog import Dialog

NAMES_OF_KEYS = {"question_mark": "?", "slash": "/", "ctrl+": "^", "pageup": "page up", "pagedown": "page down"}
BESIDE = 20  # cells for keys
SAFETY = "It helps you plan; it doesn't clear a truck for the road. Local codes and licensed practice come first."


class Help(Dialog[None]):
    """Closes on Escape, Enter or F1."""

    BINDINGS = [Binding("enter,f1,q", "leave", "leave")]

    def __init__(self, title: str, what: str, groups: tuple[str, ...]) -> None:
        super().__init__(title.upper(), "Escape leaves", tall=True)
        self._what, self._groups = what, groups

    def body(self) -> ComposeResult:
        with VerticalScroll():
            yield Static("", id="keys", markup=False)

    def on_resize(self) -> None:
        self.call_after_refresh(self._tell)

    def _tell(self) -> None:
        """What the place is for, then its own keys, then everybody's, each folded beside its key."""
        wide = max(BESIDE + 20, self.query_one(VerticalScroll).scrollable_content_region.width - 2)  # the scrollbar
        lines = [*wrap(f"{self._what[0].upper()}{self._what[1:]}.", wide), ""]
        keys = [
            (keys_text(one.keys), one.says) for one in sorted(actions_at(*self._groups), key=lambda one: not one.at)
        ]
        keys += [("^p", "The command palette: everything by name"), ("^q", "Quit; what you accepted is saved")]
        keys += [("mouse", "A click does what Enter does, on the keys below too; outside a dialog it closes it")]
        for key, says in keys:
            first, *rest = wrap(says, wide - BESIDE)
            lines += [f"{key:<{BESIDE}}{first}", *(" " * BESIDE + one for one in rest)]
        self.query_one("#keys", Static).update("\n".join([*lines, "", *wrap(SAFETY, wide)]))


def keys_text(keys: str) -> str:
    """Keys as a person calls them: `F4 or ?`."""
    told = []
    for key in keys.split(","):
        for name, word in NAMES_OF_KEYS.items():
            key = key.replace(name, word)
        told.append(key.upper() if key.startswith("f") and key[1:].isdigit() else key)
    return " or ".join(told)
