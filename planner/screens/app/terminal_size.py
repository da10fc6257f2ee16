"""A terminal too small to work in: said in plain words, over whatever is in sight, until it is larger."""

from textual import events
from textual.app import App, ComposeResult
from textual.screen import Screen
from textual.widgets import Static

LEAST_WIDTH, LEAST_HEIGHT = 60, 16


class TooSmall(Screen[None]):
    """Goes by itself once there is room; what is behind it stays as it is."""

    DEFAULT_CSS = """
    TooSmall { align: center middle; background: $background; }
    TooSmall Static { width: 100%; height: auto; text-align: center; }
    """

    def __init__(self) -> None:
        super().__init__()
        self._going = False

    def compose(self) -> ComposeResult:
        yield Static("", markup=False)

    def on_resize(self, event: events.Resize) -> None:
        self._tell()

    def on_screen_resume(self) -> None:
        self._tell()

    def _tell(self) -> None:
        if is_large_enough(self.app):
            if self.is_current and not self._going:  # a size is told more than once
                self._going = True
                self.dismiss()
            return
        self.query_one(Static).update(
            f"This window is too small: {self.app.size.width} × {self.app.size.height}.\nIt takes at least "
            f"{LEAST_WIDTH} × {LEAST_HEIGHT}: make it larger, or its letters smaller.\nNothing is lost meanwhile. "
            "ctrl+q leaves."
        )


def is_large_enough(app: App[None]) -> bool:
    return app.size.width >= LEAST_WIDTH and app.size.height >= LEAST_HEIGHT


def warn_if_too_small(app: App[None]) -> None:
    """Says so where the terminal is too small."""
    if not is_large_enough(app) and not isinstance(app.screen, TooSmall):
        app.push_screen(TooSmall())
