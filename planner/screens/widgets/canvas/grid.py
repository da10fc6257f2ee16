"""A grid of marks under its column names, with the worst of them always in sight."""

from collections.abc import Sequence

from planner.plan.drawings.scene import Grid
from planner.quantities.text import cut
from planner.screens.widgets.canvas.labels import Drawn, Span, legend_lines, narrow, runs

SOLID, INSIDE = "█", "·"  # what is good, and what is bad all around
_WORDY = 12  # cells; longer row names are words, shorter ones numbers


def draw_grid(grid: Grid, width: int, height: int) -> Drawn:
    names = [cut(narrow(name), width // 3) for name in grid.rows]
    beside = max((len(name) for name in names), default=0) + 1
    longest = max((len(mark) for row in grid.cells for mark in row), default=1)
    single = longest == 1
    good = {mark for marks, tones in zip(grid.cells, grid.tones, strict=False)
            for mark, tone in zip(marks, tones, strict=True) if tone == "good"}  # fmt: skip
    legend = [(SOLID if single and mark in good else mark, meaning) for mark, meaning in grid.legend]
    below = legend_lines(legend, width, height)
    count = max(len(grid.columns), 1)
    room = width - beside
    size = max(1, min(room // count, 4)) if single else min(max(longest + 2, room // count), longest + 4)
    shown = _stretch(count, room // size, grid.worst[1] if grid.worst else 0)
    rows = height - len(below.lines) - 2
    if rows < len(names):
        rows -= 1
    listed = _stretch(len(names), max(rows, 1), grid.worst[0] if grid.worst else 0)
    start = max(beside, len(narrow(grid.down)) + 2)  # the one name does not run into the other
    over = max(0, beside + size * len(shown) - start)
    axes = cut(f"{narrow(grid.down):<{start}}{narrow(grid.across):^{over}}".rstrip(), width)
    heads = [narrow(grid.columns[at]) for at in shown if at < len(grid.columns)]
    lines = [*([axes] if axes else []), _heads(heads, beside, size, single, width)]
    spans = [Span(row, 0, len(line), "label") for row, line in enumerate(lines) if line]
    for row in listed:
        name = f"{names[row]:<{beside - 1}}" if beside > _WORDY else f"{names[row]:>{beside - 1}}"
        line, at = f"{name} ", len(lines)
        styles = ["label"] * beside
        for column in shown:
            worst = grid.worst == (row, column)
            tone = grid.tones[row][column] if grid.tones else ""
            mark = grid.cells[row][column]
            if single and tone == "good":
                mark = SOLID
            elif single and tone == "bad" and not worst and _is_inside(grid, row, column):
                mark, tone = INSIDE, "faint"
            line += _cell(mark, size, single, worst)
            styles += ["worst" if worst else tone] * size
        lines.append(line.rstrip())
        spans += runs(at, styles)
    if len(listed) < len(names):
        lines.append(cut(f"… {len(names) - len(listed)} more", width))
    spans += [span._replace(row=span.row + len(lines)) for span in below.spans]
    return Drawn((*lines, *below.lines), tuple(spans))


def _is_inside(grid: Grid, row: int, column: int) -> bool:
    """Whether all that stands beside a cell is as it: only the edges tell what it breaks."""
    cells = grid.cells
    beside = ((row - 1, column), (row + 1, column), (row, column - 1), (row, column + 1))
    return all(cells[r][c] == cells[row][column] for r, c in beside if 0 <= r < len(cells) and 0 <= c < len(cells[r]))


def _stretch(count: int, room: int, around: int) -> range:
    """As many as there is room for, with the one that matters among them."""
    start = max(0, min(around - room // 2, count - room)) if around >= room else 0
    return range(start, min(count, start + max(room, 1)))


def _heads(names: Sequence[str], beside: int, size: int, single: bool, width: int) -> str:
    """Column names where they do not run into each other."""
    line, next_free = "", 0
    for at, name in enumerate(names):
        start = beside + at * size + (0 if single else max(0, size - 1 - len(name)))
        if name and start >= next_free and start + len(name) <= width:
            line = f"{line:<{start}}{name}"
            next_free = start + len(name) + (2 if single else 1)
    return line


def _cell(mark: str, size: int, single: bool, worst: bool) -> str:
    mark = narrow(mark)
    if single:
        return ("◆" if worst else mark) * size
    return f"[{mark}]".rjust(size) if worst else f"{mark} ".rjust(size)
