"""A picture drawn for paper as a drawing office would: strokes, arrows and texts with a place, in points.

Every text is in the typesetter's monospaced face, whose width is known, so that two texts are kept off each other
here and the template only has to put things where they are told to be.
"""

from collections.abc import Sequence
from itertools import pairwise
from math import ceil, cos, floor, hypot, inf, log10, pi, sin
from typing import Any, NamedTuple

from planner.plan.drawings.scene import Arc, Chart, Dimension, Grid, Scene, Spot
from planner.quantities.text import clean

SIZE = 7.5  # pt; what a drawing of this width still reads well in
LETTER = 11.0  # pt; a letter that marks a reading
ADVANCE = 0.602  # of the size, the width of every character of the face
LEADING = 1.22
ARROW = 6.0  # pt
GAP = 2.0  # pt between a part and its extension line
ROW = 2 * LEADING * SIZE + 3.0  # pt between one dimension line and the next
PAST = 3.0  # pt that an extension line goes past the dimension line
_STEP = pi / 36  # rad between the points of an arc


class Text(NamedTuple):
    """Lines of text around a middle; `wide` and `tall` are the room that they take."""

    x: float
    y: float
    lines: tuple[str, ...]
    size: float = SIZE

    @property
    def wide(self) -> float:
        return max(map(len, self.lines), default=0) * ADVANCE * self.size

    @property
    def tall(self) -> float:
        return len(self.lines) * LEADING * self.size


class Board:
    """The paper under the pencil: what is drawn on it so far, y down, in points."""

    def __init__(self) -> None:
        self.lines: list[dict[str, Any]] = []
        self.arrows: list[list[Spot]] = []
        self.texts: list[Text] = []

    def stroke(self, points: Sequence[Spot], weight: str, closed: bool = False) -> None:
        self.lines.append({"points": list(points), "weight": weight, "closed": closed})

    def arrow(self, tip: Spot, along: Spot) -> None:
        """An arrowhead at `tip`, pointing the way of the unit vector `along`."""
        (x, y), (dx, dy) = tip, along
        back = (x - ARROW * dx, y - ARROW * dy)
        half = ARROW * 0.17
        self.arrows.append(
            [tip, (back[0] - half * dy, back[1] + half * dx), (back[0] + half * dy, back[1] - half * dx)]
        )

    def write(self, choices: Sequence[Text]) -> None:
        """The text at the first of these places where it meets no other, or where it meets the least."""
        self.texts.append(min(choices, key=self._met))  # the first of equals

    def _met(self, text: Text) -> float:
        return round(sum(_common(text, other) for other in self.texts), 3)

    def box(self) -> tuple[float, float, float, float]:
        xs = [x for line in self.lines for x, _ in line["points"]]
        ys = [y for line in self.lines for _, y in line["points"]]
        for text in self.texts:
            xs += [text.x - text.wide / 2, text.x + text.wide / 2]
            ys += [text.y - text.tall / 2, text.y + text.tall / 2]
        return (min(xs), min(ys), max(xs), max(ys)) if xs else (0.0, 0.0, 1.0, 1.0)


def drafted(picture: Scene | Grid | Chart, wide: float, tall: float) -> dict[str, Any]:
    """The picture as plain data for the template, no wider and no higher than this."""
    if isinstance(picture, Scene):
        board = _fitted(picture, wide, tall)
    elif isinstance(picture, Chart):
        board = _chart(picture, wide, tall)
    else:
        board = _grid(picture, wide)
    left, top, right, bottom = board.box()
    return {
        "title": clean(picture.title),
        "words": clean(picture.words),
        "missing": [clean(one) for one in picture.missing],
        "legend": [[clean(mark), clean(what)] for mark, what in picture.legend],
        "wide": right - left,
        "tall": bottom - top,
        "lines": [
            {**line, "points": [[x - left, y - top] for x, y in line["points"]]}
            for line in board.lines
            if len(line["points"]) > 1
        ],
        "arrows": [[[x - left, y - top] for x, y in points] for points in board.arrows],
        "texts": [
            {
                "x": text.x - left - text.wide / 2,
                "y": text.y - top - text.tall / 2,
                "wide": text.wide,
                "tall": text.tall,
                "lines": list(text.lines),
                "size": text.size,
            }
            for text in board.texts
        ],
    }


# a scene


def _fitted(scene: Scene, wide: float, tall: float) -> Board:
    """The scene as large as it can be: texts do not grow with it, so the scale is tried again until all fits."""
    spots = _spots(scene)
    if not spots:
        return Board()
    width = max(x for x, _ in spots) - min(x for x, _ in spots)
    height = max(y for _, y in spots) - min(y for _, y in spots)
    scale = min(wide / width if width else inf, tall / height if height else inf)
    scale = scale if scale < inf else 1.0
    board = _drawn(scene, scale)
    for _ in range(12):
        left, top, right, bottom = board.box()
        if right - left <= wide and bottom - top <= tall:
            break
        scale *= max(0.6, min(0.98, wide / (right - left), tall / (bottom - top)))
        board = _drawn(scene, scale)
    return board


def _spots(scene: Scene) -> list[Spot]:
    spots = [spot for line in scene.lines for spot in line.points]
    spots += [spot for arc in scene.arcs for spot in _around(arc)]
    spots += [spot for one in scene.dimensions for spot in (one.start, one.end, *_set_off(one))]
    return spots + [label.at for label in scene.labels]


def _around(arc: Arc) -> list[Spot]:
    steps = max(2, ceil(abs(arc.end - arc.start) / _STEP))
    turns = [arc.start + (arc.end - arc.start) * at / steps for at in range(steps + 1)]
    return [(arc.centre[0] + arc.radius * cos(turn), arc.centre[1] + arc.radius * sin(turn)) for turn in turns]


def _set_off(one: Dimension) -> tuple[Spot, Spot]:
    """The ends of a dimension's line, off the points to the left of their direction."""
    (x1, y1), (x2, y2) = one.start, one.end
    length = hypot(x2 - x1, y2 - y1) or 1.0
    dx, dy = -(y2 - y1) / length * one.away, (x2 - x1) / length * one.away
    return (x1 + dx, y1 + dy), (x2 + dx, y2 + dy)


def _drawn(scene: Scene, scale: float) -> Board:
    board = Board()

    def at(spot: Spot) -> Spot:
        return spot[0] * scale, -spot[1] * scale

    for line in scene.lines:
        board.stroke([at(spot) for spot in line.points], line.weight, line.closed)
    for arc in scene.arcs:
        board.stroke([at(spot) for spot in _around(arc)], arc.weight)
    for label in scene.labels:
        x, y = at(label.at)
        text = _sized((clean(label.text),))
        x += {"left": text.wide / 2, "right": -text.wide / 2}.get(label.anchor, 0.0)
        board.write([text._replace(x=x, y=y + shift * text.tall) for shift in (0, -1, 1, -2, 2)])
    wider = _wider(scene, scale)
    for one in scene.dimensions:
        _dimension(board, one._replace(away=one.away * wider), at)
    return board


def _wider(scene: Scene, scale: float) -> float:
    """How much further apart dimension lines must stand so that the texts of neighbors have room."""
    rows: dict[tuple[bool, bool], set[float]] = {}
    for one in scene.dimensions:
        level = abs(one.end[0] - one.start[0]) > abs(one.end[1] - one.start[1])
        rows.setdefault((level, one.away > 0), set()).add(round(abs(one.away), 6))
    gaps = [b - a for row in rows.values() for a, b in pairwise(sorted(row)) if b - a > 1e-6]
    return (
        min(3.0, max(1.0, ROW / (min(gaps) * scale))) if gaps and any(" (" in d.text for d in scene.dimensions) else 1.0
    )


def _dimension(board: Board, one: Dimension, at: Any) -> None:
    """Extension lines, the line between its arrows, and the text on it, or beyond an end where it is too short."""
    first, last = (at(spot) for spot in _set_off(one))
    for spot, end in ((one.start, first), (one.end, last)):
        _extension(board, at(spot), end)
    length = hypot(last[0] - first[0], last[1] - first[1])
    if not length:
        return
    dx, dy = (last[0] - first[0]) / length, (last[1] - first[1]) / length
    inside = length >= 2 * ARROW + 4
    text = _sized(_two_lines(one.text))
    if abs(dx) * _sized((clean(one.text),)).wide + 2 * ARROW + 4 <= length * abs(dx):
        text = _sized((clean(one.text),))  # along a line that is long enough
    along = abs(dx) * text.wide + abs(dy) * text.tall  # what the text takes of the line's own length
    shares = (0.5, 0.36, 0.64, 0.24, 0.76) if length >= along + 2 * ARROW + 4 else ()
    choices = [text._replace(x=first[0] + dx * length * t, y=first[1] + dy * length * t) for t in shares]
    reach = along / 2 + (3 if inside else ARROW + 8)
    far = [text._replace(x=last[0] + dx * reach, y=last[1] + dy * reach)]
    far.append(text._replace(x=first[0] - dx * reach, y=first[1] - dy * reach))
    board.write([*choices, *far])
    sign = 1 if inside else -1
    board.arrow(first, (-dx * sign, -dy * sign))
    board.arrow(last, (dx * sign, dy * sign))
    out = 0.0 if inside else ARROW + 6
    board.stroke([(first[0] - dx * out, first[1] - dy * out), (last[0] + dx * out, last[1] + dy * out)], "dimension")


def _extension(board: Board, spot: Spot, end: Spot) -> None:
    length = hypot(end[0] - spot[0], end[1] - spot[1])
    if length <= GAP:
        return
    dx, dy = (end[0] - spot[0]) / length, (end[1] - spot[1]) / length
    start = (spot[0] + GAP * dx, spot[1] + GAP * dy)
    board.stroke([start, (end[0] + PAST * dx, end[1] + PAST * dy)], "dimension")


def _sized(lines: tuple[str, ...]) -> Text:
    """A text, a single letter larger: it is looked for from a list beside the drawing."""
    return Text(0, 0, lines, LETTER if max(map(len, lines)) < 2 else SIZE)


def _two_lines(text: str) -> tuple[str, ...]:
    """`9 in (228.6 mm)` as two lines, the unit that the person thinks in above the other."""
    own, bracket, other = clean(text).partition(" (")
    return (own, f"({other}") if bracket else (own,)


def _common(one: Text, other: Text) -> float:
    """The area that two texts have in common."""
    across = min(one.x + one.wide / 2, other.x + other.wide / 2) - max(one.x - one.wide / 2, other.x - other.wide / 2)
    down = min(one.y + one.tall / 2, other.y + other.tall / 2) - max(one.y - one.tall / 2, other.y - other.tall / 2)
    return across * down if across > 0 and down > 0 else 0.0


# a chart and a grid

_DASHES = ("outline", "hidden", "thin", "dimension")  # curves are told apart without color


def _chart(chart: Chart, wide: float, tall: float) -> Board:
    board = Board()
    spots = [spot for _, curve in chart.curves for spot in curve] or [(0.0, 0.0), (1.0, 1.0)]
    across, up = _ticks([x for x, _ in spots]), _ticks([y for _, y in spots])
    left, high = 48.0, tall - 34
    room = wide - left - 90

    def at(spot: Spot) -> Spot:
        x = left + (spot[0] - across[0]) / (across[-1] - across[0]) * room
        return x, high - (spot[1] - up[0]) / (up[-1] - up[0]) * (high - 14)

    for x in across:
        board.stroke([at((x, up[0])), at((x, up[-1]))], "grid")
        board.write([Text(at((x, up[0]))[0], high + 9, (_tick(x),))])
    for y in up:
        board.stroke([at((across[0], y)), at((across[-1], y))], "grid")
        text = Text(0, at((across[0], y))[1], (_tick(y),))
        board.write([text._replace(x=left - 5 - text.wide / 2)])
    board.stroke([at((across[0], up[-1])), at((across[0], up[0])), at((across[-1], up[0]))], "thin")
    board.write([Text(left + room / 2, high + 22, (clean(chart.across),))])
    title = Text(0, 3, (clean(chart.up),))
    board.write([title._replace(x=max(title.wide / 2, left - title.wide / 2))])
    for number, (name, curve) in enumerate(chart.curves):
        if not curve:
            continue
        weight = chart.weights[number] if number < len(chart.weights) else "outline" if chart.weights else ""
        board.stroke([at(spot) for spot in curve], weight or _DASHES[number % len(_DASHES)])
        if not name:
            continue
        end = Text(0, 0, (clean(name),))
        x, y = at(curve[-1])
        board.write(
            [end._replace(x=x + 4 + end.wide / 2, y=y + shift * end.tall) for shift in (0, -1, 1, -2, 2, 3, -3)]
        )
    for mark in chart.marks:
        x, y = at(mark.at)
        board.stroke([(x - 3, y), (x + 3, y)], "outline")
        board.stroke([(x, y - 3), (x, y + 3)], "outline")
        text = Text(0, 0, (clean(mark.text),))
        side = {"left": 1, "right": -1}.get(mark.anchor, 0)
        board.write(
            [text._replace(x=x + side * (text.wide / 2 + 5), y=y + shift) for shift in (-9.0, 9.0, -18.0, 18.0, -27.0)]
        )
    return board


def _ticks(values: Sequence[float]) -> list[float]:
    """Round numbers, five to ten of them, that hold all values between them."""
    low, high = min(values), max(values)
    span = high - low or abs(high) or 1.0
    step = 10.0 ** floor(log10(span / 5))
    step *= next(times for times in (1, 2, 5, 10) if span / (step * times) <= 8)
    first, last = floor(low / step), ceil(high / step)
    return [at * step for at in range(first, max(last, first + 1) + 1)]


def _tick(value: float) -> str:
    return f"{value:,.0f}" if abs(value) >= 10 else f"{value:.6g}"


def _grid(grid: Grid, wide: float) -> Board:
    """Cells with their marks; the worst is framed, and not every row and column is named where they are many."""
    board = Board()
    if not grid.rows or not grid.columns:
        return board
    left = max(map(len, grid.rows)) * ADVANCE * SIZE + 6
    over = max(map(len, grid.columns)) * ADVANCE * SIZE / 2  # what the last column's name may stand out by
    side = min(22.0, (wide - left - over) / len(grid.columns))
    down = min(max(side, 10.0), 14.0)
    size = min(SIZE, side / ADVANCE / max((len(cell) for row in grid.cells for cell in row), default=1))
    each = max(1, ceil(max(map(len, grid.columns)) * ADVANCE * SIZE / side + 0.3))
    for at, name in enumerate(grid.columns):
        if at % each == 0:
            board.write([Text(left + (at + 0.5) * side, -7, (clean(name),))])
    for row, name in enumerate(grid.rows):
        y = (row + 0.5) * down
        if row % max(1, ceil(SIZE * LEADING / down)) == 0:
            board.write([Text(left - 4 - len(name) * ADVANCE * SIZE / 2, y, (clean(name),))])
        for column, mark in enumerate(grid.cells[row]):
            if mark.strip():
                board.texts.append(Text(left + (column + 0.5) * side, y, (clean(mark),), size))
    right, bottom = left + side * len(grid.columns), down * len(grid.rows)
    board.stroke([(left, 0), (right, 0), (right, bottom), (left, bottom)], "thin", closed=True)
    if grid.worst is not None:
        x, y = left + grid.worst[1] * side, grid.worst[0] * down
        board.stroke([(x, y), (x + side, y), (x + side, y + down), (x, y + down)], "danger", closed=True)
    board.write([Text((left + right) / 2, -7 - SIZE * LEADING, (clean(grid.across),))])
    text = Text(0, bottom + 8, (clean(grid.down),))
    board.write([text._replace(x=text.wide / 2)])
    return board
