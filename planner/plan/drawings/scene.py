"""A drawing as plain data: lines, arcs and labels with a place, the same for screens and for paper.

Lengths are in meters in the drawing's own plane, x to the right and y up. What a line is drawn with is its `weight`
(outline, thin, hidden, center, dimension, danger), never a color: a screen or a sheet gives each weight its own stroke.
"""

from typing import Literal, NamedTuple

Weight = Literal["outline", "thin", "hidden", "center", "dimension", "danger"]
Anchor = Literal["left", "middle", "right"]
Tone = Literal["", "good", "near", "bad", "strong", "faint"]
Spot = tuple[float, float]


class Line(NamedTuple):
    """A straight run through points; closed where the last meets the first, `cut` where it is solid that was cut."""

    points: tuple[Spot, ...]
    weight: Weight = "outline"
    closed: bool = False
    cut: bool = False


class Arc(NamedTuple):
    """Part of a circle, counterclockwise from `start` to `end` in rad; the whole of it by default."""

    center: Spot
    radius: float
    start: float = 0.0
    end: float = 6.283185307179586
    weight: Weight = "outline"


class Label(NamedTuple):
    """A text at a place; it is drawn upright and is never scaled. A leader goes from it to what it `points_to`."""

    at: Spot
    text: str
    anchor: Anchor = "middle"
    points_to: Spot | None = None


class Dimension(NamedTuple):
    """A measured distance between two points, drawn with extension lines and arrows.

    `away` is how far from the points the dimension line stands, to the left of the direction from `start` to `end`.
    Of a diameter in half a view only the `end` is drawn with its arrow: the start is the center line (`half`).
    """

    start: Spot
    end: Spot
    text: str
    away: float
    half: bool = False


class Scene(NamedTuple):
    """A drawing: what it shows, in words, and its parts in drawing order; `legend` explains short labels in it."""

    title: str
    words: str
    lines: tuple[Line, ...] = ()
    arcs: tuple[Arc, ...] = ()
    labels: tuple[Label, ...] = ()
    dimensions: tuple[Dimension, ...] = ()
    missing: tuple[str, ...] = ()
    legend: tuple[tuple[str, str], ...] = ()


class Grid(NamedTuple):
    """A map of cells with a mark each: steer × travel clearance, or diameter × backspace with the limit that binds.

    `cells[row][column]` is a short mark, `values` the number behind it where there is one; rows go from the top.
    `legend` explains each mark; `worst` is the (row, column) that matters most, or None. `tones` say how each cell
    stands, for a background: the same is told by its mark already.
    """

    title: str
    words: str = ""
    across: str = ""
    down: str = ""
    columns: tuple[str, ...] = ()
    rows: tuple[str, ...] = ()
    cells: tuple[tuple[str, ...], ...] = ()
    values: tuple[tuple[float | None, ...], ...] = ()
    legend: tuple[tuple[str, str], ...] = ()
    worst: tuple[int, int] | None = None
    missing: tuple[str, ...] = ()
    tones: tuple[tuple[Tone, ...], ...] = ()


class Chart(NamedTuple):
    """Curves over one axis: engine speed over road speed, found against planned.

    Points are in the units that `across` and `up` name. `weights` has one weight a curve, outline where there is none;
    a curve whose name is empty needs no name at its end. `legend` explains the weights.
    """

    title: str
    words: str
    across: str
    up: str
    curves: tuple[tuple[str, tuple[Spot, ...]], ...]
    marks: tuple[Label, ...] = ()
    missing: tuple[str, ...] = ()
    weights: tuple[Weight, ...] = ()
    legend: tuple[tuple[Weight, str], ...] = ()
