"""A picture in dots and text, and in words; what takes long to draw is drawn in a thread, the last one left in view."""

import asyncio
from collections.abc import Callable, Sequence
from typing import Any, NamedTuple

from textual import events, work
from textual.content import Content
from textual.widget import Widget

from planner.plan.drawings.scene import Chart, Grid, Scene
from planner.plan.watching import watched
from planner.quantities.text import clean
from planner.screens.canvas import Drawn, draw

TONES = {
    "danger": "$text-error", "bad": "$text-error", "near": "$text-warning", "good": "$text-success",
    "strong": "bold $text-primary", "label": "bold", "dimension": "$text-accent", "hidden": "$text-muted",
    "thin": "$text-muted", "faint": "$text-muted",
}  # fmt: skip


class Picture(NamedTuple):
    """One picture that a place offers: its name, and what makes it for so many cells, across and down."""

    name: str
    make: Callable[[int, int], Scene | Grid | Chart]


class Drawing(Widget, can_focus=True):
    """Shows one of the pictures that its place offers, drawn to its size."""

    def __init__(self, id: str | None = None) -> None:
        super().__init__(id=id)
        self._offered: Sequence[Picture] = ()
        self._at = 0
        self._lines: Content = Content("")
        self.words = ""

    def offer(self, pictures: Sequence[Any]) -> None:
        """Other pictures, the same one in sight where it is still there."""
        name = self._offered[self._at].name if self._at < len(self._offered) else ""
        self._offered = tuple(pictures)
        self._at = next((at for at, one in enumerate(self._offered) if one.name == name), 0)
        self.draw_again()

    def next(self) -> bool:
        """The picture after this one; whether there was one."""
        self._at += 1
        if self._at >= len(self._offered):
            self._at = 0
            self.draw_again()
            return False
        self.draw_again()
        return True

    def on_resize(self, event: events.Resize) -> None:
        self.draw_again()

    def draw_again(self) -> None:
        if self._offered and self.size.width and self.size.height:
            self._draw(self._offered[self._at], self.size.width, self.size.height)
        elif not self._offered:
            self._lines = Content("")
            self.refresh()

    @work(exclusive=True, group="drawing")
    async def _draw(self, picture: Picture, width: int, height: int) -> None:
        with watched() as watch:
            drawn, words = await asyncio.to_thread(watch.run, _drawn, picture, width, height)
        self.words = words
        self._lines = _content(drawn)
        self.refresh()

    def render(self) -> Content:
        return self._lines


def _drawn(picture: Picture, width: int, height: int) -> tuple[Drawn, str]:
    made = picture.make(width, height)
    return draw(made, width, height), f"{made.title}. {made.words}"


def _content(drawn: Drawn) -> Content:
    """The lines with their tones."""
    styled = []
    for row, line in enumerate(drawn.lines):
        content = Content(clean(line))
        for span in drawn.spans:
            if span.row == row and span.style in TONES:
                content = content.stylize(TONES[span.style], span.start, span.stop)
        styled.append(content)
    return Content("\n").join(styled)
