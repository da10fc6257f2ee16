"""A picture drawn for paper as a drawing office would: strokes, arrows and texts with a place, in points.

Every text is in the typesetter's monospaced face, whose width is known, so that two texts are kept off each other
here and the template only has to put things where they are told to be.
"""

from collections.abc import Callable
from itertools import pairwise
from math import ceil, cos, hypot, inf, pi, sin
from typing import Any

from planner.plan.drawings.scene import Arc, Chart, Dimension, Grid, Label, Scene, Spot
from planner.quantities.text import clean, cut, grouped
from planner.sheets.board import ARROW, GAP, LEADING, LETTER, PAST, ROW, SIZE, Board, Text
from planner.sheets.charting import charted, gridded

_STEP = pi / 36  # rad between the points of an arc
_UPRIGHT = 0.1  # a dimension line that leans less than this is upright
LEAD = 10.0  # pt that a leader runs level from its text
LONGEST = 80  # characters in a line of a label; a longer name stands whole in the list below
METER = 72 / 0.0254  # pt
SCALES = (1.0, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 15.0, 20.0, 50.0)  # one to so many
HALF = 5.0  # pt that half a dimension goes past the center line


def drafted(picture: Scene | Grid | Chart, wide: float, tall: float, scaled: bool = False) -> dict[str, Any]:
    """The picture as plain data for the template, no wider and no higher than this; a scene `scaled` to a round scale.

    The scale that it has stands in its title.
    """
    title = clean(picture.title)
    if isinstance(picture, Scene):
        board, scale = _fitted(picture, wide, tall)
        if scaled and board.lines:
            board, to = _to_scale(picture, scale, wide, tall)
            title += f", scale 1:{to:g}"
    elif isinstance(picture, Chart):
        board = charted(picture, wide, tall)
    else:
        board = gridded(picture, wide)
    left, top, right, bottom = board.box()
    return {
        "title": title,
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
            text._asdict()
            | {"x": text.x - left - text.wide / 2, "y": text.y - top - text.tall / 2, "lines": list(text.lines)}
            | {"wide": text.wide, "tall": text.tall}
            for text in board.texts
        ],
    }


# a scene


def _fitted(scene: Scene, wide: float, tall: float) -> tuple[Board, float]:
    """The scene as large as it can be: texts do not grow with it, so the scale is tried again until all fits."""
    spots = _spots(scene)
    if not spots:
        return Board(), 1.0
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
    return board, scale


def _to_scale(scene: Scene, largest: float, wide: float, tall: float) -> tuple[Board, float]:
    """The scene at the largest round scale at which it fits, and that scale: one to how many."""
    for to in SCALES:
        scale = METER / to
        if scale > 1.02 * largest:
            continue
        board = _drawn(scene, scale)
        left, top, right, bottom = board.box()
        if (right - left <= wide and bottom - top <= tall) or to == SCALES[-1]:
            break
    return board, to


def _spots(scene: Scene) -> list[Spot]:
    spots = [spot for line in scene.lines for spot in line.points]
    spots += [spot for arc in scene.arcs for spot in _around(arc)]
    spots += [spot for one in scene.dimensions for spot in (one.start, one.end, *_set_off(one))]
    spots += [label.points_to for label in scene.labels if label.points_to is not None]
    return spots + [label.at for label in scene.labels]


def _around(arc: Arc) -> list[Spot]:
    steps = max(2, ceil(abs(arc.end - arc.start) / _STEP))
    turns = [arc.start + (arc.end - arc.start) * at / steps for at in range(steps + 1)]
    return [(arc.center[0] + arc.radius * cos(turn), arc.center[1] + arc.radius * sin(turn)) for turn in turns]


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
        board.stroke([at(spot) for spot in line.points], line.weight, line.closed, line.cut)
    for arc in scene.arcs:
        board.stroke([at(spot) for spot in _around(arc)], arc.weight)
    wider = _wider(scene, scale)
    for one in scene.dimensions:
        _dimension(board, one._replace(away=one.away * wider), at)
    for label in _spread(scene.labels, scale):
        _label(board, label, at)
    return board


def _spread(labels: tuple[Label, ...], scale: float) -> list[Label]:
    """Texts with a leader that stand in one column, as far apart as they need: the lowest stays where it is."""
    columns = grouped(((round(one.at[0], 6), one.anchor), one) for one in labels if one.points_to is not None)
    placed: dict[Label, Label] = {}
    for column in columns.values():
        foot = -inf
        for one in sorted(column, key=lambda one: one.at[1]):
            half = (one.text.count("\n") + 1) * LEADING * SIZE / 2 / scale
            y = max(one.at[1], foot + half)
            foot = y + half + 2.0 / scale
            placed[one] = one._replace(at=(one.at[0], y))
    return [placed.get(one, one) for one in labels]


def _label(board: Board, label: Label, at: Callable[[Spot], Spot]) -> None:
    """A text near its place, and the leader from it to what it tells of."""
    x, y = at(label.at)
    lines = tuple(cut(clean(line), LONGEST) for line in label.text.split("\n"))
    text = _sized(lines)._replace(flush=label.points_to is not None)
    x += {"left": text.wide / 2, "right": -text.wide / 2}.get(label.anchor, 0.0)
    chosen = board.write([text._replace(x=x, y=y + shift * text.tall) for shift in (0, -1, 1, -2, 2)])
    if label.points_to is None:
        return
    tip = at(label.points_to)
    side = 1 if tip[0] > chosen.x else -1
    start = (chosen.x + side * (chosen.wide / 2 + GAP), chosen.y)
    knee = (start[0] + side * min(LEAD, max(0.0, side * (tip[0] - start[0]))), start[1])
    length = hypot(tip[0] - knee[0], tip[1] - knee[1])
    board.stroke([start, knee, tip], "dimension")
    if length > ARROW:
        board.arrow(tip, ((tip[0] - knee[0]) / length, (tip[1] - knee[1]) / length))


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


def _dimension(board: Board, one: Dimension, at: Callable[[Spot], Spot]) -> None:
    """Extension lines, the line between its arrows, and the text on it, or beyond an end where it is too short."""
    first, last = (at(spot) for spot in _set_off(one))
    for spot, end in ((one.start, first), (one.end, last))[one.half :]:
        _extension(board, at(spot), end)
    length = hypot(last[0] - first[0], last[1] - first[1])
    if not length:
        return
    dx, dy = (last[0] - first[0]) / length, (last[1] - first[1]) / length
    inside = length >= 2 * ARROW + 4
    room = (1 if one.half else 2) * ARROW + 4
    upright = _sized((clean(one.text),)), _sized(_two_lines(one.text))
    # Along an upright line a text is read from the right; beyond an end it need not be.
    turn = abs(dx) < _UPRIGHT and len(one.text) > 1
    whole, split = (text._replace(turned=turn) for text in upright)
    text = whole if _taken(whole, dx, dy) + room <= length else split
    fits = _taken(text, dx, dy) + room <= length
    choices = [
        text._replace(x=first[0] + dx * length * t, y=first[1] + dy * length * t)
        for t in ((0.5, 0.36, 0.64, 0.24, 0.76) if fits else ())
    ]
    for beyond in (upright[1], split) if turn else (text,):
        reach = _taken(beyond, dx, dy) / 2 + (3 if inside else ARROW + 8)
        choices.append(beyond._replace(x=last[0] + dx * reach, y=last[1] + dy * reach))
        choices.append(beyond._replace(x=first[0] - dx * reach, y=first[1] - dy * reach))
    board.write(choices)
    sign = 1 if inside else -1
    if not one.half:
        board.arrow(first, (-dx * sign, -dy * sign))
    board.arrow(last, (dx * sign, dy * sign))
    out = 0.0 if inside else ARROW + 6
    start = HALF if one.half else out
    board.stroke(
        [(first[0] - dx * start, first[1] - dy * start), (last[0] + dx * out, last[1] + dy * out)], "dimension"
    )


def _taken(text: Text, dx: float, dy: float) -> float:
    """What a text takes of its line's own length."""
    return abs(dx) * text.wide + abs(dy) * text.tall


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
