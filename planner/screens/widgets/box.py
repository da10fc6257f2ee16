"""A field to write in."""

from textual import events
from textual.geometry import Size
from textual.message import Message
from textual.reactive import Reactive
from textual.widgets import Input


class TextBox(Input):
    """One line high and as wide as its place: a key in it lays nothing out anew, as it would in its parent."""

    virtual_size: Reactive[Size] = Reactive(Size(0, 0))

    class ManyLines(Message):
        """More lines than one were pasted: somebody is to say what goes into the field."""

        def __init__(self, box: "TextBox", lines: list[str]) -> None:
            super().__init__()
            self.box, self.lines = box, lines

    def __init__(self, value: str = "", *, id: str | None = None, placeholder: str = "") -> None:
        super().__init__(value, id=id, placeholder=placeholder, compact=True)

    def on_paste(self, event: events.Paste) -> None:
        lines = [line for one in event.text.splitlines() if (line := one.strip())]
        if len(lines) > 1:
            event.prevent_default()  # the library would take the first line and say nothing of the rest
            event.stop()
            self.post_message(self.ManyLines(self, lines))
