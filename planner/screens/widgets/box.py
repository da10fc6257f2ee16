"""A field to write in."""

from textual.geometry import Size
from textual.reactive import Reactive
from textual.widgets import Input


class TextBox(Input):
    """One line high and as wide as its place: a key in it lays nothing out anew, as it would in its parent."""

    virtual_size: Reactive[Size] = Reactive(Size(0, 0))

    def __init__(self, value: str = "", *, id: str | None = None, placeholder: str = "") -> None:
        super().__init__(value, id=id, placeholder=placeholder, compact=True)
