"""Curves over round numbers, each named where it ends."""

from math import ceil, floor, log10

from planner.plan.drawings.scene import Chart, Weight
from planner.quantities.text import cut
from planner.screens.widgets.canvas.dots import Raster
from planner.screens.widgets.canvas.labels import Drawn, Span, legend_lines, narrow

_SWATCH = {"outline": "⠒⠒⠒", "thin": "⠂⠂⠂", "hidden": "⠂⠐⠀", "center": "⠂⠀⠂", "dimension": "⠂⠀⠂", "danger": "⠶⠶⠶"}


def draw_chart(chart: Chart, width: int, height: int) -> Drawn:
    legend = [(_SWATCH[weight], meaning) for weight, meaning in chart.legend]
    below = legend_lines(legend, width, 2)
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
    for (_, points), weight in zip(chart.curves, weights, strict=False):
        raster.run(map(fit, points), weight)
    for mark in chart.marks:
        x, y = fit(mark.at)
        raster.put(int(y) // 4, int(x) // 2, "●", "label")
    for mark in chart.marks:
        x, y = fit(mark.at)
        shift = {"left": 2, "middle": 0, "right": -1}[mark.anchor]
        raster.place(int(y) // 4, int(x) // 2 + shift, narrow(mark.text), mark.anchor)
    for name, points in chart.curves:
        if name and points:
            x, y = fit(points[-1])
            raster.place(int(y) // 4, int(x) // 2 + 1, narrow(name), "left")
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


def _ticks(low: float, high: float, most: int) -> list[float]:
    """Round numbers from low to high, at most so many spaces apart."""
    rough = max(high - low, 1e-9) / most
    power = 10.0 ** floor(log10(rough))
    step = next(power * by for by in (1, 2, 5, 10) if power * by >= rough * (1 - 1e-9))
    return [step * at for at in range(ceil(low / step - 1e-9), floor(high / step + 1e-9) + 1)]


def _number(value: float) -> str:
    return f"{value:,.0f}" if value == round(value) else f"{value:g}"
