"""A scene drawn to scale: the largest at which its shapes are inside, and its texts as far as that may cost."""

from collections.abc import Sequence
from math import cos, sin

from planner.plan.drawings.scene import Arc, Dimension, Label, Scene
from planner.screens.widgets.canvas.dots import SWATCHES, DotScale, Raster
from planner.screens.widgets.canvas.labels import Drawn, legend_lines, narrow, reserved
from planner.screens.widgets.canvas.lines import dimension_ends, draw_dimension

_MOST_FOR_TEXT = 0.85  # room for texts never makes a drawing smaller than this part of what it could be


def draw_scene(scene: Scene, width: int, height: int) -> Drawn:
    below = legend_lines(((SWATCHES.get(mark, mark), meaning) for mark, meaning in scene.legend), width, height)
    raster = Raster(width, height - len(below.lines))
    labels = [label._replace(text=narrow(label.text)) for label in scene.labels]
    dimensions = [one._replace(text=narrow(one.text)) for one in scene.dimensions]
    fit = _fitted(scene, labels, dimensions, raster)
    for line in scene.lines:
        points = (*line.points, line.points[0]) if line.closed else line.points
        raster.run(map(fit.at, points), line.weight)
    for arc in scene.arcs:
        raster.run(map(fit.at, _arc(arc, fit.scale)), arc.weight)
    for write in [draw_dimension(raster, fit, dimension) for dimension in dimensions]:
        write()
    for label in labels:
        x, y = fit.at(label.at)
        raster.place(int(y) // 4, int(x) // 2, label.text, label.anchor)
    return raster.drawn(below)


def _arc(arc: Arc, scale: float) -> list[tuple[float, float]]:
    """Straight runs of about three dots."""
    turn = arc.end - arc.start
    count = max(8, min(240, int(abs(turn) * arc.radius * scale / 3)))
    (x, y), radius = arc.center, arc.radius
    angles = [arc.start + turn * step / count for step in range(count + 1)]
    return [(x + radius * cos(angle), y + radius * sin(angle)) for angle in angles]


def _fitted(scene: Scene, labels: Sequence[Label], dimensions: Sequence[Dimension], raster: Raster) -> DotScale:
    """The largest scale at which everything is inside, the texts too as far as that costs no more than it may."""
    spots = [spot for line in scene.lines for spot in line.points]
    for arc in scene.arcs:
        spots += _arc(arc, 0.0)
    ends = [(one, dimension_ends(one)) for one in dimensions]
    spots += [spot for _, pair in ends for spot in pair] + [label.at for label in labels]
    if not spots:
        return DotScale(1.0, 0.0, 0.0)
    wide, high = raster.width * 2 - 2, raster.height * 4 - 2
    xs, ys = [x for x, _ in spots], [y for _, y in spots]
    bare = min(wide / max(max(xs) - min(xs), 1e-6), high / max(max(ys) - min(ys), 1e-6))
    across = [(min(xs), 0, 0), (max(xs), 0, 0)]
    for label in labels:
        size = 2 * reserved(label.text) + 2
        before = {"left": 0, "middle": size // 2, "right": size}[label.anchor]
        across.append((label.at[0], before, size - before))
    for one, ((x0, y0), (x1, y1)) in ends:
        if abs(y1 - y0) > abs(x1 - x0):
            size = 2 * reserved(one.text) + 6
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
    return DotScale(scale, room - left + 1, up + (high - scale * (max(ys) - min(ys))) / 2 + 1)


def _spread(across: Sequence[tuple[float, int, int]], scale: float) -> float:
    return max(x * scale + after for x, _, after in across) - min(x * scale - before for x, before, _ in across)
