"""The tasks over time, a bar each, with the critical path told apart by its mark."""

from collections.abc import Sequence
from datetime import date
from math import floor
from typing import NamedTuple

from planner.plan.drawings.scene import Grid, Tone
from planner.quantities.text import clean, cut

CRITICAL, OTHER, IDLE = "█", "░", " "
_LONGEST = 34  # cells of a title


class Bar(NamedTuple):
    """One task: from the beginning of `start` to the end of `finish` as days, or between two times in hours."""

    title: str
    start: date | float
    finish: date | float
    critical: bool = False


def size(width: int, height: int) -> tuple[int, int]:
    """How many rows and columns a picture of so many cells has room for."""
    return max(1, height - 3), max(10, width - min(_LONGEST, width // 3) - 2)


def task_bars(tasks: Sequence[tuple[str, date | float, date | float, bool]], rows: int, columns: int) -> Grid:
    """Each task on a row in the order given; columns are equal stretches of time, and each task has one at least.

    Where there are more than `rows`, those on the critical path stay before others.

    >>> task_bars([("drain", 0.0, 1.0, True), ("look", 0.0, 0.5, False), ("pull", 1.0, 2.0, True)], 3, 4).cells
    (('█', '█', ' ', ' '), ('░', ' ', ' ', ' '), (' ', ' ', '█', '█'))
    """
    title = "tasks over time"
    bars = [Bar(*task) for task in tasks]
    if not bars:
        return Grid(title, "There are no tasks.", missing=("tasks",))
    dated = isinstance(bars[0].start, date)
    spans = [(_number(one.start), max(_number(one.start), _number(one.finish) + dated)) for one in bars]
    first, last = min(start for start, _ in spans), max(finish for _, finish in spans)
    step = max(last - first, 1e-9) / columns
    kept = sorted(sorted(range(len(bars)), key=lambda at: not bars[at].critical)[:rows])
    cells = []
    for one, (start, finish) in ((bars[at], spans[at]) for at in kept):
        low = min(columns - 1, floor((start - first) / step + 1e-9))
        high = max(low + 1, min(columns, round((finish - first) / step)))
        mark = CRITICAL if one.critical else OTHER
        cells.append(tuple(mark if low <= at < high else IDLE for at in range(columns)))
    critical = [cut(clean(one.title), _LONGEST) for one in bars if one.critical]
    until = _name(last - dated, dated, last - first)
    words = f"{len(bars)} tasks from {_name(first, dated, last - first)} to {until}; "
    words += f"{len(critical)} on the critical path: if one of those is late, so is the end"
    words += f", from “{critical[0]}” to “{critical[-1]}”." if critical else "."
    if len(kept) < len(bars):
        words += f" {len(kept)} are shown, the critical path first."
    tones: dict[str, Tone] = {CRITICAL: "strong", OTHER: "faint", IDLE: ""}
    return Grid(
        title,
        words,
        "",
        "",
        tuple(_name(first + at * step, dated, last - first) for at in range(columns)),
        tuple(cut(clean(one.title), _LONGEST) for one in (bars[at] for at in kept)),
        tuple(cells),
        tuple((None,) * columns for _ in kept),
        ((CRITICAL, "on the critical path"), (OTHER, "has time to spare")),
        tones=tuple(tuple(tones[mark] for mark in line) for line in cells),
    )


def _number(at: date | float) -> float:
    return float(at.toordinal()) if isinstance(at, date) else float(at)


def _name(at: float, dated: bool, whole: float) -> str:
    """A day, or hours from the start."""
    if not dated:
        return f"{at:.0f} h" if whole > 10 else f"{at:.1f} h"
    day = date.fromordinal(int(at))
    return f"{day:%d %b}".lstrip("0") if whole < 300 else f"{day:%b %Y}"
