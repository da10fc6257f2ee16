"""Cells of braille dots, with a layer of text over them.

A cell of the terminal holds two dots across and four down, which are about as far apart either way. Weights differ in
the dots themselves, so that no color is needed: an outline is solid, a thin line has every other dot, a hidden one is
dotted, danger is twice as heavy.
"""

from collections.abc import Iterable
from typing import NamedTuple

from planner.plan.drawings.scene import Anchor, Weight
from planner.screens.widgets.canvas.labels import Drawn, Span, fold, runs

_BITS = (0x01, 0x08, 0x02, 0x10, 0x04, 0x20, 0x40, 0x80)  # braille dots by row, then column
_BRAILLE = [" ", *(chr(0x2800 + dots) for dots in range(1, 256))]
_EVERY = {"outline": 1, "danger": 1, "thin": 2, "hidden": 3, "center": 4, "dimension": 4}  # one dot in so many
SWATCHES = {
    "outline": "⠒⠒⠒", "thin": "⠂⠂⠂", "hidden": "⠂⠐⠀", "center": "⠂⠀⠂", "dimension": "⠂⠀⠂", "danger": "⠶⠶⠶",
}  # fmt: skip
_STYLES = ("", "dimension", "center", "hidden", "thin", "outline", "danger", "label")  # a later one wins a cell
_CODE = {style: code for code, style in enumerate(_STYLES)}
_LEAST_FOLD = 12  # cells; a text is folded no narrower
_FARTHEST_BARE = 5.0  # of what it names: a text that must not cover anything is left out before it goes farther
_SHIFTS = sorted(
    ((abs(down) * 2.0 + abs(right) * 0.5, down, right) for down in range(-4, 5) for right in range(-10, 11, 2)),
)


class DotScale(NamedTuple):
    """From meters to dots."""

    scale: float
    left: float
    top: float

    def at(self, spot: tuple[float, float]) -> tuple[float, float]:
        return self.left + self.scale * spot[0], self.top - self.scale * spot[1]


class Raster:
    """Cells of dots, with a layer of text over them; `codes` say which style each cell has."""

    def __init__(self, width: int, height: int) -> None:
        self.width, self.height = width, height
        self.dots = bytearray(width * height)
        self.codes = bytearray(width * height)
        self.text: list[dict[int, str]] = [{} for _ in range(height)]

    def run(self, points: Iterable[tuple[float, float]], weight: Weight) -> None:
        """A line through points, in dots from the upper left; its pattern goes on round the corners."""
        every, code = _EVERY[weight], _CODE[weight]
        phase, heavy = 0, weight == "danger"
        dots, codes, width = self.dots, self.codes, self.width
        wide, high = width * 2 - 1, self.height * 4 - 1
        last: tuple[float, float] | None = None
        for x1, y1 in points:
            if last is None:
                last = x1, y1
                continue
            (x0, y0), last = last, (x1, y1)
            dx, dy = x1 - x0, y1 - y0
            steps = int(max(abs(dx), abs(dy))) + 1
            dx, dy = dx / steps, dy / steps
            across = abs(dx) > abs(dy)
            first = -phase % every
            phase += steps + 1
            for step in range(first, steps + 1, every):
                x, y = int(x0 + dx * step + 0.5), int(y0 + dy * step + 0.5)
                for _ in (0, 1) if heavy else (0,):
                    if 0 <= x <= wide and 0 <= y <= high:
                        at = (y >> 2) * width + (x >> 1)
                        dots[at] |= _BITS[(y & 3) << 1 | (x & 1)]
                        if codes[at] < code:
                            codes[at] = code
                    x, y = (x, y + 1) if across else (x + 1, y)

    def free(self, row: int, start: int, stop: int) -> bool:
        """Whether no text stands there, nor right beside it."""
        if not (0 <= row < self.height and start >= 0 and stop <= self.width):
            return False
        taken = self.text[row]
        return not taken or not any(at in taken for at in range(start - 1, stop + 1))

    def covers(self, row: int, start: int, stop: int) -> int:
        """How many cells with dots a text there would cover."""
        at = row * self.width
        return stop - start - self.dots.count(0, at + start, at + stop)

    def _cost(self, row: int, start: int, size: int, bare: bool) -> float:
        """What a text there would cover, as a cost; without end where it must not."""
        if not self.free(row, start, start + size):
            return 1e9
        if not bare:
            return 1.5 * self.covers(row, start, start + size)
        return 1e9 if self.covers(row, max(0, start - 1), min(self.width, start + size + 1)) else 0.0

    def put(self, row: int, start: int, text: str, style: str) -> None:
        if 0 <= row < self.height:
            for at, mark in enumerate(text, start):
                if 0 <= at < self.width:
                    self.text[row][at] = mark
                    self.codes[row * self.width + at] = _CODE[style]

    def place(self, row: int, column: int, text: str, anchor: Anchor, style: str = "label", bare: bool = False) -> None:
        """A text at its place or as near to it as it covers little, or nothing where only `bare` cells will do.

        It is folded where the picture's edge is too near. Where there is no room at all it is left out: what the
        picture shows is said in words too.
        """
        room = {"left": self.width - column, "middle": self.width, "right": column}[anchor]
        lines = [text] if len(text) <= room else fold(text, max(min(room, self.width), _LEAST_FOLD))
        size = max(map(len, lines), default=0)
        if not size or size > self.width:
            return
        start = column - {"left": 0, "middle": size // 2, "right": size}[anchor]
        start = max(0, min(self.width - size, start))
        row = max(0, min(self.height - len(lines), row - len(lines) // 2))
        best, found = 1e9, None
        for cost, down, right in _SHIFTS:
            if cost >= best or (bare and cost > _FARTHEST_BARE):
                break
            at = max(0, min(self.width - size, start + right))
            total = cost + sum(self._cost(line, at, size, bare) for line in range(row + down, row + down + len(lines)))
            if total < best:
                best, found = total, (row + down, at)
        if found is not None:
            for line, part in enumerate(lines, found[0]):
                indent = size - len(part) if anchor == "right" else (size - len(part)) // 2 if anchor == "middle" else 0
                self.put(line, found[1] + indent, part, style)

    def drawn(self, below: Drawn = Drawn(())) -> Drawn:  # noqa: B008
        """Everything as lines with their styles; `below` follows it."""
        lines: list[str] = []
        spans: list[Span] = []
        for row, text in enumerate(self.text):
            cells = slice(row * self.width, (row + 1) * self.width)
            marks = [_BRAILLE[dots] for dots in self.dots[cells]]
            for at, mark in text.items():
                marks[at] = mark
            lines.append("".join(marks).rstrip())
            spans += runs(row, [_STYLES[code] for code in self.codes[cells]])
        spans += [span._replace(row=span.row + self.height) for span in below.spans]
        return Drawn((*lines, *below.lines), tuple(spans))
