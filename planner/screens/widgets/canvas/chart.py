"""Curves over round numbers, each named where it ends."""

from collections.abc import Sequence
from math import ceil, floor, log10

from planner.plan.drawings.scene import Chart, Weight
from planner.quantities.text import cut
from planner.screens.widgets.canvas.dots import SWATCHES, Raster
from planner.screens.widgets.canvas.labels import Drawn, Span, legend_lines, narrow

_DASHED = "┊", "┈"  # upright and level: not to be taken for a dotted curve


def draw_chart(chart: Chart, width: int, height: int) -> Drawn:
    swatches = SWATCHES | {"hidden": _DASHED[0]}
    legend = [(swatches[weight], meaning) for weight, meaning in chart.legend]
    below = legend_lines(legend, width, height)
    spots = [spot for _, points in chart.curves for spot in points] or [(0.0, 0.0), (1.0, 1.0)]
    least_x, most_x = min(0.0, *(x for x, _ in spots)), max(x for x, _ in spots)
    least_y, most_y = min(0.0, *(y for _, y in spots)), max(y for _, y in spots)
    high = height - len(below.lines) - 3
    ups = _ticks(least_y, most_y, max(2, high // 3))
    beside = max(len(_number(tick)) for tick in ups) + 1
    raster = Raster(width - beside - 1, high)
    wide_dots, high_dots = raster.width * 2 - 14, high * 4 - 2  # the curves' names stand at their ends

    def fit(spot: tuple[float, float]) -> tuple[float, float]:
        x = (spot[0] - least_x) / max(most_x - least_x, 1e-9) * wide_dots
        return x, (most_y - spot[1]) / max(most_y - least_y, 1e-9) * high_dots + 1

    weights: list[Weight] = [*chart.weights]
    weights += ["outline"] * (len(chart.curves) - len(weights))
    drawn = [(tuple(map(fit, points)), weight) for (_, points), weight in zip(chart.curves, weights, strict=False)]
    for run, weight in drawn:
        if weight != "hidden":
            raster.run(run, weight)
    for run, weight in drawn:
        if weight == "hidden":
            _dash(raster, run)
    for mark in chart.marks:
        x, y = fit(mark.at)
        raster.put(int(y) // 4, int(x) // 2, "●", "label")
    for mark in chart.marks:
        x, y = fit(mark.at)
        shift = {"left": 2, "middle": 0, "right": -1}[mark.anchor]
        raster.place(int(y) // 4, int(x) // 2 + shift, narrow(mark.text), mark.anchor, bare=True)
    for name, points in chart.curves:
        if name and points:
            x, y = fit(points[-1])
            raster.place(int(y) // 4, int(x) // 2 + 1, narrow(name), "left", bare=True)
    at_rows = {int(fit((least_x, tick))[1]) // 4: _number(tick) for tick in ups}
    inner = raster.drawn()
    over = f"{narrow(chart.up)} over {narrow(chart.across)}" if chart.across else narrow(chart.up)
    lines = [cut(over, width)]
    for row, line in enumerate(inner.lines):
        name = at_rows.get(row, "")
        lines.append(f"{name:>{beside}}{'┤' if name else '│'}{line}")
    inset = beside + 1
    spans = [Span(span.row + 1, span.start + inset, span.stop + inset, span.style) for span in inner.spans]
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


def _dash(raster: Raster, run: Sequence[tuple[float, float]]) -> None:
    """A straight line in dashes, where no curve is."""
    (x0, y0), (x1, y1) = ((int(x) // 2, int(y) // 4) for x, y in (run[0], run[-1]))
    steps = max(abs(x1 - x0), abs(y1 - y0), 1)
    mark = _DASHED[0] if abs(y1 - y0) >= abs(x1 - x0) else _DASHED[1]
    for step in range(steps + 1):
        column, row = x0 + round((x1 - x0) * step / steps), y0 + round((y1 - y0) * step / steps)
        if 0 <= row < raster.height and 0 <= column < raster.width and not raster.covers(row, column, column + 1):
            raster.put(row, column, mark, "hidden")


def _ticks(low: float, high: float, most: int) -> list[float]:
    """Round numbers from low to high, at most so many spaces apart."""
    rough = max(high - low, 1e-9) / most
    power = 10.0 ** floor(log10(rough))
    step = next(power * by for by in (1, 2, 5, 10) if power * by >= rough * (1 - 1e-9))
    return [step * at for at in range(ceil(low / step - 1e-9), floor(high / step + 1e-9) + 1)]


def _number(value: float) -> str:
    return f"{value:,.0f}" if value == round(value) else f"{value:g}"
