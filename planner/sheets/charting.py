"""A chart of curves and a map of cells drawn for paper."""

from collections.abc import Sequence
from math import ceil, floor, log10

from planner.plan.drawings.scene import Chart, Grid, Spot
from planner.quantities.text import clean, cut
from planner.sheets.board import ADVANCE, LEADING, SIZE, Board, Text

NAME, MARK = 18, 36  # characters of a curve's name at its end, and of a mark's
DASHES = ("outline", "hidden", "thin", "dimension")  # curves are told apart without color


def charted(chart: Chart, wide: float, tall: float) -> Board:
    board = Board()
    spots = [spot for _, curve in chart.curves for spot in curve]
    if not spots:
        return board
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
        board.stroke([at(spot) for spot in curve], weight or DASHES[number % len(DASHES)])
        if not name:
            continue
        end = Text(0, 0, (cut(clean(name), NAME),))
        x, y = at(curve[-1])
        board.write(
            [end._replace(x=x + 4 + end.wide / 2, y=y + shift * end.tall) for shift in (0, -1, 1, -2, 2, 3, -3)]
        )
    for mark in chart.marks:
        x, y = at(mark.at)
        board.stroke([(x - 3, y), (x + 3, y)], "outline")
        board.stroke([(x, y - 3), (x, y + 3)], "outline")
        text = Text(0, 0, (cut(clean(mark.text), MARK),))
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


def gridded(grid: Grid, wide: float) -> Board:
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
    free = 0  # the first column whose name does not run into the one before it
    for at, name in enumerate(grid.columns):
        if name and at >= free:
            free = at + each
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
