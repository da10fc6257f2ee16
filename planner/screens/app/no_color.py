"""What a terminal is sent where the person wants no color (NO_COLOR): words, bold, underline, reverse, nothing else."""

from collections.abc import Iterator
from functools import lru_cache

from rich.segment import Segment
from rich.style import Style
from textual.color import Color
from textual.filter import LineFilter


class WithoutColor(LineFilter):
    """Takes every color out of a line; Textual's own filter would send grays in their place."""

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        return list(_plain(segments))


def _plain(segments: list[Segment]) -> Iterator[Segment]:
    for text, style, control in segments:
        yield Segment(text, style and _without_color(style), control)


@lru_cache(maxsize=1024)
def _without_color(style: Style) -> Style:
    return style.without_color
