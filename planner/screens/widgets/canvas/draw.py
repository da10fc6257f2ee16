"""A picture as lines of text: shapes in braille dots, labels and dimensions as text over them, with style names.

Where a text would cover another it moves, then it is cut.
"""

from collections.abc import Sequence
from textwrap import wrap

from planner.plan.drawings.scene import Chart, Grid, Scene
from planner.quantities.text import cut
from planner.screens.widgets.canvas.chart import draw_chart
from planner.screens.widgets.canvas.grid import draw_grid
from planner.screens.widgets.canvas.labels import Drawn, narrow
from planner.screens.widgets.canvas.scene import draw_scene

LEAST_WIDTH, LEAST_HEIGHT = 24, 6


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
        return Drawn(tuple(wrap(narrow(picture.words), max(width, 1))[:height]))
    if width < LEAST_WIDTH or height < LEAST_HEIGHT:
        return Drawn((cut("too small to draw in", width),))
    if isinstance(picture, Scene):
        return draw_scene(picture, width, height)
    return draw_grid(picture, width, height) if isinstance(picture, Grid) else draw_chart(picture, width, height)


def _lacking(title: str, missing: Sequence[str], width: int, height: int) -> Drawn:
    lines = wrap(f"{narrow(title)}: not drawn yet. It takes these entries:", max(width, 1))
    lines += [cut(f"  {narrow(key)}", width) for key in missing]
    if len(lines) > height:
        lines = [*lines[: height - 1], cut(f"  … and {len(lines) - height + 1} more", width)]
    return Drawn(tuple(lines))
