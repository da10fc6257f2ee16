"""A picture in dots and text with its words under it; it is drawn in a thread, the last one left in view meanwhile."""

import asyncio
from collections.abc import Callable, Iterator, Sequence
from textwrap import wrap
from typing import NamedTuple

from textual import events, work
from textual.content import Content
from textual.widget import Widget

from planner.plan.drawings.scene import Chart, Grid, Scene
from planner.plan.truck.progress import watched
from planner.quantities.text import clean, cut
from planner.screens.widgets.canvas.draw import LEAST_HEIGHT, draw
from planner.screens.widgets.canvas.labels import Drawn

TONES = {
    "danger": "$text-error", "bad": "$text-error", "near": "$text-warning", "good": "$text-success",
    "strong": "bold $text-primary", "label": "bold", "dimension": "$text-accent", "hidden": "dim",
    "thin": "dim", "faint": "dim", "worst": "bold reverse",
}  # fmt: skip
WORDS = 3  # lines that are kept for the words before they are known
SHARE = 4  # of the height the words have one part of so many at the most, or the lines above
DRAWING = "◌ being drawn"


class Picture(NamedTuple):
    """One picture that a place offers: its name, and what makes it for so many cells, across and down."""

    name: str
    make: Callable[[int, int], Scene | Grid | Chart]


class PictureView(Widget, can_focus=True):
    """Shows one of the pictures that its place offers: a title, the picture drawn to its room, and it in words."""

    DEFAULT_CSS = """
    PictureView { height: 1fr; min-height: 8; }
    """

    def __init__(self, id: str | None = None) -> None:
        super().__init__(id=id)
        self._offered: Sequence[Picture] = ()
        self._at = 0
        self._lines: list[Content] = []
        self._title = ""
        self.drawn = ""  # the name of the picture in view, empty while another is being drawn
        self.words = ""

    @property
    def asked(self) -> str:
        """The name of the picture that is to be seen; empty where none is offered."""
        return self._offered[self._at].name if self._offered else ""

    def offer(self, pictures: Sequence[Picture]) -> None:
        """Other pictures, the same one in sight where it is still there; drawn anew, since the project moved."""
        name = self.asked
        self._offered = tuple(pictures)
        self._at = next((at for at, one in enumerate(self._offered) if one.name == name), 0)
        self.draw_again()

    def next(self) -> bool:
        """The picture after this one; whether there was one."""
        self._at += 1
        last = self._at >= len(self._offered)
        self._at = 0 if last else self._at
        self.draw_again()
        return not last

    def on_resize(self, event: events.Resize) -> None:
        self.draw_again()

    def draw_again(self) -> None:
        if not self._offered:
            self._lines, self.drawn, self.words = [], "", ""
        elif self.size.width and self.size.height:
            self._draw(self._offered[self._at], self.size.width, self.size.height)
        self.refresh()

    @work(exclusive=True, group="drawing")
    async def _draw(self, picture: Picture, width: int, height: int) -> None:
        self.drawn = ""
        with watched() as watch:
            title, lines, words = await asyncio.to_thread(watch.run, _laid_out, picture, width, height)
        self._title, self._lines, self.words, self.drawn = title, lines, words, picture.name
        self.refresh()

    def render(self) -> Content:
        if not self._offered:
            return Content("")
        count = f"{self._at + 1}/{len(self._offered)}  p: next" if len(self._offered) > 1 else ""
        right = count if self.drawn else DRAWING
        wide = self.size.width
        title = cut(clean(self._title if self.drawn else self.asked), max(0, wide - len(right) - 2))
        head = Content(title).stylize("bold $text-primary") + Content(" " * (wide - len(title) - len(right)))
        head += Content(right).stylize("bold" if right is DRAWING else "dim")
        lines = self._lines if self.drawn else [one.stylize("dim") for one in self._lines]
        return Content("\n").join([head, *lines][: self.size.height])


def _laid_out(picture: Picture, width: int, height: int) -> tuple[str, list[Content], str]:
    """The picture and its words as lines that fit under a title."""
    room = max(1, height - 1)
    made = picture.make(width, max(LEAST_HEIGHT, room - WORDS))
    said = wrap(clean(made.words), max(width, 1)) if made.words and not made.missing else []
    left = max(LEAST_HEIGHT, room - min(len(said), max(WORDS, room // SHARE)))
    lines = list(_content(draw(made, width, left)))
    shown = room - len(lines)
    if len(said) > shown:
        said = [*said[: max(0, shown - 1)], cut(f"{said[shown - 1]} …", width)] if shown > 0 else []
    return made.title, [*lines, *map(Content, said)], made.words


def _content(drawn: Drawn) -> Iterator[Content]:
    """The lines with their tones."""
    for row, line in enumerate(drawn.lines):
        content = Content(clean(line))
        for span in drawn.spans:
            if span.row == row and span.style in TONES:
                content = content.stylize(TONES[span.style], span.start, span.stop)
        yield content
