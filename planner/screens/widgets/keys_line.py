"""The last line: the keys of the place in sight, each of which can be clicked."""

from textual import events
from textual.binding import Binding
from textual.content import Content
from textual.screen import Screen
from textual.widget import Widget

from planner.quantities.text import clean

GAP = "  "


class KeysLine(Widget):
    """One widget for all keys, since a key pressed must not lay out a dozen."""

    DEFAULT_CSS = """
    KeysLine { dock: bottom; height: 1; padding: 0 1; background: $panel; color: $foreground; text-wrap: nowrap; }
    """

    def __init__(self) -> None:
        super().__init__()
        self._keys: list[tuple[Binding, str]] = []

    def on_mount(self) -> None:
        self.screen.bindings_updated_signal.subscribe(self, self._look)
        self._look(self.screen)

    def on_unmount(self) -> None:
        self.screen.bindings_updated_signal.unsubscribe(self)

    def _look(self, screen: Screen[object]) -> None:
        """The keys that do something now; several for one thing are told by the first."""
        if not self.is_attached or screen is not self.app.screen:
            return
        shown: dict[str, tuple[Binding, str]] = {}
        for active in screen.active_bindings.values():
            binding = active.binding
            if binding.show and active.enabled:
                shown.setdefault(binding.action, (binding, clean(self.app.get_key_display(binding))))
        keys = list(shown.values())
        if keys != self._keys:
            self._keys = keys
            self.refresh()

    def render(self) -> Content:
        pieces: list[Content | str | tuple[str, str]] = []
        for binding, key in self._keys:
            pieces += [(key, "bold $text-accent"), f" {clean(binding.description)}{GAP}"]
        return Content.assemble(*pieces)

    def on_click(self, event: events.Click) -> None:
        """A click on a key's words presses it."""
        at = self.gutter.left
        for binding, key in self._keys:
            wide = len(f"{key} {binding.description}{GAP}")
            if at <= event.x < at + wide - len(GAP):
                self.app.simulate_key(binding.key)
                return
            at += wide
