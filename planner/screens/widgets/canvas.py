"""A picture as lines of text: shapes in braille dots, labels and dimensions as text over them, with style names.

A cell of the terminal holds two dots across and four down, which are about as far apart either way. Weights differ in
the dots themselves, so that no color is needed: an outline is solid, a thin line has every other dot, a hidden one is
dotted, danger is twice as heavy. Dimension lines are drawn with box characters and arrows, on whole cells; the thin
lines that lead to them stand at the exact place. Where a text would cover another it moves, then it is cut.
"""

import re
from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby
from math import ceil, cos, floor, hypot, log10, sin
from textwrap import wrap
from typing import NamedTuple
from unicodedata import category, east_asian_width

from planner.plan.drawings.scene import Anchor, Arc, Chart, Dimension, Grid, Label, Scene, Weight
from planner.quantities.text import clean, cut

LEAST_WIDTH, LEAST_HEIGHT = 24, 6
_BITS = (0x01, 0x08, 0x02, 0x10, 0x04, 0x20, 0x40, 0x80)  # braille dots by row, then column
_BRAILLE = [" ", *(chr(0x2800 + dots) for dots in range(1, 256))]
_EVERY = {"outline": 1, "danger": 1, "thin": 2, "hidden": 3, "centre": 4, "dimension": 4}  # one dot in so many
_STYLES = ("", "dimension", "centre", "hidden", "thin", "outline", "danger", "label")  # a later one wins a cell
_CODE = {style: code for code, style in enumerate(_STYLES)}
_SWATCH = {"outline": "⠒⠒⠒", "thin": "⠂⠂⠂", "hidden": "⠂⠐⠀", "centre": "⠂⠀⠂", "dimension": "⠂⠀⠂", "danger": "⠶⠶⠶"}
_MOST_FOR_TEXT = 0.85  # room for texts never makes a drawing smaller than this part of what it could be
_LEAST_FOLD = 12  # cells; a text is folded no narrower
_TOGETHER = re.compile(r"(?<=[\d/]) (?=[\d(a-z])(?!\()|(?<=Ø) ")
_WORDY = 12  # cells; longer row names are words, shorter ones numbers
_LONG = 20  # cells; a longer text may be folded, and gets room for that
_SHIFTS = sorted(
    ((abs(down) * 2.0 + abs(right) * 0.5, down, right) for down in range(-4, 5) for right in range(-10, 11, 2)),
)


class Span(NamedTuple):
    """Cells of one line, from `start` up to `stop`, that have a style: a weight, `label`, `faint` or a tone."""

    row: int
    start: int
    stop: int
    style: str


class Drawn(NamedTuple):
    """A picture in lines of text, none longer than the width asked for, and where in them which style is."""

    lines: tuple[str, ...]
    spans: tuple[Span, ...] = ()


def draw(picture: Scene | Grid | Chart, width: int = 78, height: int = 20) -> Drawn:
    """The picture in at most `height` lines of `width` cells; one that cannot be drawn says which entries it lacks.

    >>> from planner.plan.drawings.scene import Line
    >>> square = Line(((0, 0), (1, 0), (1, 1), (0, 1)), closed=True)
    >>> draw(Scene("a square", "", (square,)), 24, 6).lines[1].strip()
    '⢸          ⢸'
    """
    if picture.missing:
        return _lacking(picture.title, picture.missing, width, height)
    if isinstance(picture, Grid) and not picture.cells:
        return Drawn(tuple(wrap(_narrow(picture.words), max(width, 1))[:height]))
    if width < LEAST_WIDTH or height < LEAST_HEIGHT:
        return Drawn((cut("too small to draw in", width),))
    if isinstance(picture, Scene):
        return _scene(picture, width, height)
    return _grid(picture, width, height) if isinstance(picture, Grid) else _chart(picture, width, height)


def _narrow(text: str) -> str:
    """A text harmless and of one cell a character: a wide one, or a bare accent, would shift what stands behind it."""
    if text.isascii():
        return clean(text)
    marks = (mark for mark in clean(text) if not category(mark).startswith("M"))
    return "".join("□" if east_asian_width(mark) in "WF" else mark for mark in marks)


def _lacking(title: str, missing: Sequence[str], width: int, height: int) -> Drawn:
    lines = wrap(f"{_narrow(title)}: not drawn yet. It takes these entries:", max(width, 1))
    lines += [cut(f"  {_narrow(key)}", width) for key in missing]
    if len(lines) > height:
        lines = [*lines[: height - 1], cut(f"  … and {len(lines) - height + 1} more", width)]
    return Drawn(tuple(lines))


# the raster


class _Raster:
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

    def put(self, row: int, start: int, text: str, style: str) -> None:
        if 0 <= row < self.height:
            for at, mark in enumerate(text, start):
                if 0 <= at < self.width:
                    self.text[row][at] = mark
                    self.codes[row * self.width + at] = _CODE[style]

    def place(self, row: int, column: int, text: str, anchor: Anchor, style: str = "label") -> None:
        """A text at its place or as near to it as it covers little; folded where the picture's edge is too near.

        Where there is no room at all it is left out: what the picture shows is said in words too.
        """
        room = {"left": self.width - column, "middle": self.width, "right": column}[anchor]
        lines = [text] if len(text) <= room else _fold(text, max(min(room, self.width), _LEAST_FOLD))
        size = max(map(len, lines), default=0)
        if not size or size > self.width:
            return
        start = column - {"left": 0, "middle": size // 2, "right": size}[anchor]
        start = max(0, min(self.width - size, start))
        row = max(0, min(self.height - len(lines), row - len(lines) // 2))
        best, found = 1e9, None
        for cost, down, right in _SHIFTS:
            if cost >= best:
                break
            at = max(0, min(self.width - size, start + right))
            total = cost
            for line in range(row + down, row + down + len(lines)):
                total += 1.5 * self.covers(line, at, at + size) if self.free(line, at, at + size) else 1e9
                if total >= best:
                    break
            else:
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
            spans += _runs(row, [_STYLES[code] for code in self.codes[cells]])
        spans += [span._replace(row=span.row + self.height) for span in below.spans]
        return Drawn((*lines, *below.lines), tuple(spans))


def _runs(row: int, styles: Iterable[str]) -> Iterator[Span]:
    start = 0
    for style, cells in groupby(styles):
        stop = start + len(list(cells))
        if style:
            yield Span(row, start, stop, style)
        start = stop


def _flow(entries: Iterable[tuple[str, str]], width: int, most: int) -> Drawn:
    """A legend: marks with their meanings, as many on a line as go there."""
    lines: list[str] = []
    for mark, meaning in entries:
        entry = cut(f"{_narrow(mark)} {_narrow(meaning)}", width)
        if lines and len(lines[-1]) + 3 + len(entry) <= width:
            lines[-1] += "   " + entry
        else:
            lines.append(entry)
    if len(lines) > most:
        lines = [*lines[: most - 1], cut(f"{lines[most - 1]} …", width)] if most > 0 else []
    return Drawn(tuple(lines), tuple(Span(row, 0, len(line), "label") for row, line in enumerate(lines)))


# a scene


class _Fit(NamedTuple):
    """From metres to dots."""

    scale: float
    left: float
    top: float

    def at(self, spot: tuple[float, float]) -> tuple[float, float]:
        return self.left + self.scale * spot[0], self.top - self.scale * spot[1]


def _scene(scene: Scene, width: int, height: int) -> Drawn:
    below = _flow(scene.legend, width, height // 3)
    raster = _Raster(width, height - len(below.lines))
    labels = [label._replace(text=_narrow(label.text)) for label in scene.labels]
    dimensions = [one._replace(text=_narrow(one.text)) for one in scene.dimensions]
    fit = _fitted(scene, labels, dimensions, raster)
    for line in scene.lines:
        points = (*line.points, line.points[0]) if line.closed else line.points
        raster.run(map(fit.at, points), line.weight)
    for arc in scene.arcs:
        raster.run(map(fit.at, _arc(arc, fit.scale)), arc.weight)
    for dimension in dimensions:
        _dimension(raster, fit, dimension)
    for label in labels:
        x, y = fit.at(label.at)
        raster.place(int(y) // 4, int(x) // 2, label.text, label.anchor)
    return raster.drawn(below)


def _arc(arc: Arc, scale: float) -> list[tuple[float, float]]:
    """Straight runs of about three dots."""
    turn = arc.end - arc.start
    count = max(8, min(240, int(abs(turn) * arc.radius * scale / 3)))
    (x, y), radius = arc.centre, arc.radius
    angles = [arc.start + turn * step / count for step in range(count + 1)]
    return [(x + radius * cos(angle), y + radius * sin(angle)) for angle in angles]


def _stood_off(one: Dimension) -> tuple[tuple[float, float], tuple[float, float]]:
    """The two ends of the dimension line."""
    (x0, y0), (x1, y1) = one.start, one.end
    long = hypot(x1 - x0, y1 - y0)
    nx, ny = (-(y1 - y0) / long, (x1 - x0) / long) if long > 1e-9 else (0.0, 1.0)
    return (x0 + nx * one.away, y0 + ny * one.away), (x1 + nx * one.away, y1 + ny * one.away)


def _fitted(scene: Scene, labels: Sequence[Label], dimensions: Sequence[Dimension], raster: _Raster) -> _Fit:
    """The largest scale at which everything is inside, the texts too as far as that costs no more than it may."""
    spots = [spot for line in scene.lines for spot in line.points]
    for arc in scene.arcs:
        spots += _arc(arc, 0.0)
    ends = [(one, _stood_off(one)) for one in dimensions]
    spots += [spot for _, pair in ends for spot in pair] + [label.at for label in labels]
    if not spots:
        return _Fit(1.0, 0.0, 0.0)
    wide, high = raster.width * 2 - 2, raster.height * 4 - 2
    xs, ys = [x for x, _ in spots], [y for _, y in spots]
    bare = min(wide / max(max(xs) - min(xs), 1e-6), high / max(max(ys) - min(ys), 1e-6))
    across = [(min(xs), 0, 0), (max(xs), 0, 0)]
    for label in labels:
        size = 2 * _folded(label.text) + 2
        before = {"left": 0, "middle": size // 2, "right": size}[label.anchor]
        across.append((label.at[0], before, size - before))
    for one, ((x0, y0), (x1, y1)) in ends:
        if abs(y1 - y0) > abs(x1 - x0):
            size = 2 * _folded(one.text) + 6
            across.append((x0, size, 0) if x0 < one.start[0] else (x0, 0, size))
    low, scale = _MOST_FOR_TEXT * bare, bare
    if _spread(across, scale) > wide:
        scale = low
        for _ in range(12):
            middle = (low + bare) / 2
            if _spread(across, middle) <= wide:
                scale = low = middle
            else:
                bare = middle
    left = min(x * scale - before for x, before, _ in across)
    room = max(0.0, wide - _spread(across, scale)) / 2
    up = max(ys) * scale
    return _Fit(scale, room - left + 1, up + (high - scale * (max(ys) - min(ys))) / 2 + 1)


def _fold(text: str, width: int) -> list[str]:
    """The text in lines, with numbers kept by their units."""
    whole = _TOGETHER.sub("\N{NO-BREAK SPACE}", text)
    return [line.replace("\N{NO-BREAK SPACE}", " ") for line in wrap(whole, width)]


def _folded(text: str) -> int:
    """The width to reserve for a text."""
    return len(text) if len(text) <= _LONG else max(_LONG, len(text) * 2 // 3)


def _spread(across: Sequence[tuple[float, int, int]], scale: float) -> float:
    return max(x * scale + after for x, _, after in across) - min(x * scale - before for x, before, _ in across)


def _dimension(raster: _Raster, fit: _Fit, one: Dimension) -> None:
    start, end = (fit.at(spot) for spot in _stood_off(one))
    for point, stood in ((fit.at(one.start), start), (fit.at(one.end), end)):
        raster.run((point, stood), "dimension")
    if abs(end[0] - start[0]) >= abs(end[1] - start[1]):
        _level(raster, int(start[1]) // 4, (int(start[0]) // 2, int(end[0]) // 2), one.text)
    else:
        right = one.away == 0 or start[0] > fit.at(one.start)[0]
        _upright(raster, int(start[0]) // 2, (int(start[1]) // 4, int(end[1]) // 4), one.text, right)


def _level(raster: _Raster, row: int, ends: tuple[int, int], text: str) -> None:
    """`←── text ──→`, or with the text beside it where it is too long for that."""
    start, stop = sorted(ends)
    rows = sorted(range(raster.height), key=lambda other: abs(other - row))[:7]
    row = next((other for other in rows if raster.free(other, start, stop + 1)), row)
    inside = stop - start - 1
    if inside >= len(text) + 4:
        before = (inside - len(text) - 2) // 2
        after = inside - len(text) - 2 - before
        raster.put(row, start, f"←{'─' * before} {text} {'─' * after}→", "dimension")
        return
    if inside >= 1:
        raster.put(row, start, f"←{'─' * inside}→", "dimension")
    else:
        start, stop = start - 1, max(stop, start) + 1
        raster.put(row, start, "→" + "│" * (stop - start - 1) + "←", "dimension")
    size = len(text)
    places = [(row, stop + 2), (row, start - 1 - size)]
    places += [(row + down, at) for down in (1, -1) for at in (stop + 2, start - 1 - size)]
    for at_row, at in places:
        if raster.free(at_row, at, at + size):
            raster.put(at_row, at, text, "dimension")
            return
    raster.place(row, stop + 2, text, "left", "dimension")


def _upright(raster: _Raster, column: int, ends: tuple[int, int], text: str, right: bool) -> None:
    """An upright arrow with its text beside it, halfway."""
    top, bottom = sorted(ends)
    if bottom - top < 2:
        raster.put((top + bottom) // 2, column, "↕", "dimension")
    else:
        for row in range(top + 1, bottom):
            raster.put(row, column, "│", "dimension")
        raster.put(top, column, "↑", "dimension")
        raster.put(bottom, column, "↓", "dimension")
    raster.place(
        (top + bottom) // 2, column + 2 if right else column - 1, text, "left" if right else "right", "dimension"
    )


# a grid


def _grid(grid: Grid, width: int, height: int) -> Drawn:
    below = _flow(grid.legend, width, height // 4)
    names = [cut(_narrow(name), width // 3) for name in grid.rows]
    beside = max((len(name) for name in names), default=0) + 1
    longest = max((len(mark) for row in grid.cells for mark in row), default=1)
    single = longest == 1
    count = max(len(grid.columns), 1)
    room = width - beside
    size = max(1, min(room // count, 4)) if single else min(max(longest + 2, room // count), longest + 4)
    shown = _stretch(count, room // size, grid.worst[1] if grid.worst else 0)
    rows = height - len(below.lines) - 2
    if rows < len(names):
        rows -= 1
    listed = _stretch(len(names), max(rows, 1), grid.worst[0] if grid.worst else 0)
    axes = cut(f"{_narrow(grid.down):<{beside}}{_narrow(grid.across):^{size * len(shown)}}".rstrip(), width)
    heads = [_narrow(grid.columns[at]) for at in shown if at < len(grid.columns)]
    lines = [*([axes] if axes else []), _heads(heads, beside, size, single, width)]
    spans = [Span(row, 0, len(line), "label") for row, line in enumerate(lines) if line]
    for row in listed:
        name = f"{names[row]:<{beside - 1}}" if beside > _WORDY else f"{names[row]:>{beside - 1}}"
        line, at = f"{name} ", len(lines)
        styles = ["label"] * beside
        for column in shown:
            worst = grid.worst == (row, column)
            line += _cell(grid.cells[row][column], size, single, worst)
            tone = grid.tones[row][column] if grid.tones else ""
            styles += ["worst" if worst else tone] * size
        lines.append(line.rstrip())
        spans += _runs(at, styles)
    if len(listed) < len(names):
        lines.append(cut(f"… {len(names) - len(listed)} more", width))
    spans += [span._replace(row=span.row + len(lines)) for span in below.spans]
    return Drawn((*lines, *below.lines), tuple(spans))


def _stretch(count: int, room: int, around: int) -> range:
    """As many as there is room for, with the one that matters among them."""
    start = max(0, min(around - room // 2, count - room)) if around >= room else 0
    return range(start, min(count, start + max(room, 1)))


def _heads(names: Sequence[str], beside: int, size: int, single: bool, width: int) -> str:
    """Column names where they do not run into each other."""
    line, next_free = "", 0
    for at, name in enumerate(names):
        start = beside + at * size + (0 if single else max(0, size - 1 - len(name)))
        if start >= next_free and start + len(name) <= width:
            line = f"{line:<{start}}{name}"
            next_free = start + len(name) + (2 if single else 1)
    return line


def _cell(mark: str, size: int, single: bool, worst: bool) -> str:
    mark = _narrow(mark)
    if single:
        return ("◆" if worst else mark) * size
    return f"[{mark}]".rjust(size) if worst else f"{mark} ".rjust(size)


# a chart


def _chart(chart: Chart, width: int, height: int) -> Drawn:
    legend = [(_SWATCH[weight], meaning) for weight, meaning in chart.legend]
    below = _flow(legend, width, 2)
    spots = [spot for _, points in chart.curves for spot in points] or [(0.0, 0.0), (1.0, 1.0)]
    least_x, most_x = min(0.0, *(x for x, _ in spots)), max(x for x, _ in spots)
    least_y, most_y = min(0.0, *(y for _, y in spots)), max(y for _, y in spots)
    high = height - len(below.lines) - 3
    ups = _ticks(least_y, most_y, max(2, high // 3))
    beside = max(len(_number(tick)) for tick in ups) + 1
    raster = _Raster(width - beside - 1, high)
    wide_dots, high_dots = raster.width * 2 - 14, high * 4 - 2  # the curves' names stand at their ends

    def fit(spot: tuple[float, float]) -> tuple[float, float]:
        x = (spot[0] - least_x) / max(most_x - least_x, 1e-9) * wide_dots
        return x, (most_y - spot[1]) / max(most_y - least_y, 1e-9) * high_dots + 1

    weights: list[Weight] = [*chart.weights]
    weights += ["outline"] * (len(chart.curves) - len(weights))
    for (_, points), weight in zip(chart.curves, weights, strict=False):
        raster.run(map(fit, points), weight)
    for mark in chart.marks:
        x, y = fit(mark.at)
        raster.put(int(y) // 4, int(x) // 2, "●", "label")
    for mark in chart.marks:
        x, y = fit(mark.at)
        shift = {"left": 2, "middle": 0, "right": -1}[mark.anchor]
        raster.place(int(y) // 4, int(x) // 2 + shift, _narrow(mark.text), mark.anchor)
    for name, points in chart.curves:
        if name and points:
            x, y = fit(points[-1])
            raster.place(int(y) // 4, int(x) // 2 + 1, _narrow(name), "left")
    at_rows = {int(fit((least_x, tick))[1]) // 4: _number(tick) for tick in ups}
    inner = raster.drawn()
    over = f"{_narrow(chart.up)} over {_narrow(chart.across)}" if chart.across else _narrow(chart.up)
    lines = [cut(over, width)]
    for row, line in enumerate(inner.lines):
        name = at_rows.get(row, "")
        lines.append(f"{name:>{beside}}{'┤' if name else '│'}{line}")
    aside = beside + 1
    spans = [Span(span.row + 1, span.start + aside, span.stop + aside, span.style) for span in inner.spans]
    floor_line, numbers = ["─"] * raster.width, ""
    for tick in _ticks(least_x, most_x, max(2, raster.width // 10)):
        column = int(fit((tick, 0.0))[0]) // 2
        floor_line[min(column, raster.width - 1)] = "┬"
        name = _number(tick)
        start = max(0, beside + 1 + column - len(name) // 2)
        if start > len(numbers):
            numbers = f"{numbers:<{start}}{name}"
    lines += [" " * beside + "└" + "".join(floor_line), cut(numbers, width), *below.lines]
    return Drawn(tuple(line.rstrip() for line in lines), tuple(spans))


def _ticks(low: float, high: float, most: int) -> list[float]:
    """Round numbers from low to high, at most so many spaces apart."""
    rough = max(high - low, 1e-9) / most
    power = 10.0 ** floor(log10(rough))
    step = next(power * by for by in (1, 2, 5, 10) if power * by >= rough * (1 - 1e-9))
    return [step * at for at in range(ceil(low / step - 1e-9), floor(high / step + 1e-9) + 1)]


def _number(value: float) -> str:
    return f"{value:,.0f}" if value == round(value) else f"{value:g}"
