"""What a drawing on paper is made of: strokes, arrows and texts with a place, in points."""

from collections.abc import Sequence
from math import hypot
from typing import Any, NamedTuple

from planner.plan.drawings.scene import Spot

SIZE = 7.5  # pt; what a drawing of this width still reads well in
LETTER = 11.0  # pt; a letter that marks a reading
ADVANCE = 0.602  # of the size, the width of every character of the face
LEADING = 1.22
ARROW = 6.0  # pt
GAP = 2.0  # pt between a part and its extension line
ROW = 2 * LEADING * SIZE + 3.0  # pt between one dimension line and the next
PAST = 3.0  # pt that an extension line goes past the dimension line


# How much is lost where a text covers a point's length of this.
_LOOKED_FOR = {"outline": 3.0, "danger": 3.0, "thin": 2.0, "hidden": 2.0, "center": 0.3, "dimension": 1.0, "grid": 0.0}


class Text(NamedTuple):
    """Lines of text around a middle; `wide` and `tall` are the room that they take.

    They are read from the right where `turned`, and all begin at the left where `flush`.
    """

    x: float
    y: float
    lines: tuple[str, ...]
    size: float = SIZE
    turned: bool = False
    flush: bool = False

    @property
    def wide(self) -> float:
        return self._down if self.turned else self._along

    @property
    def tall(self) -> float:
        return self._along if self.turned else self._down

    @property
    def _along(self) -> float:
        return max(map(len, self.lines), default=0) * ADVANCE * self.size

    @property
    def _down(self) -> float:
        return len(self.lines) * LEADING * self.size


class Board:
    """The paper under the pencil: what is drawn on it so far, y down, in points."""

    def __init__(self) -> None:
        self.lines: list[dict[str, Any]] = []
        self.arrows: list[list[Spot]] = []
        self.texts: list[Text] = []

    def stroke(self, points: Sequence[Spot], weight: str, closed: bool = False, cut: bool = False) -> None:
        self.lines.append({"points": list(points), "weight": weight, "closed": closed, "cut": cut})

    def arrow(self, tip: Spot, along: Spot) -> None:
        """An arrowhead at `tip`, pointing the way of the unit vector `along`."""
        (x, y), (dx, dy) = tip, along
        back = (x - ARROW * dx, y - ARROW * dy)
        half = ARROW * 0.17
        self.arrows.append(
            [tip, (back[0] - half * dy, back[1] + half * dx), (back[0] + half * dy, back[1] - half * dx)]
        )

    def write(self, choices: Sequence[Text]) -> Text:
        """The text at the first of these places where it meets nothing, or where it meets the least."""
        chosen = min(choices, key=self.met)  # the first of equals
        self.texts.append(chosen)
        return chosen

    def met(self, text: Text) -> float:
        """What a text there would cover: other texts above all, then what is drawn so far."""
        over = sum(_common(text, other) for other in self.texts)
        if over < 1e-3:
            over = 0.0
        return round(20 * over + sum(_LOOKED_FOR[line["weight"]] * _within(text, line) for line in self.lines), 1)

    def box(self) -> tuple[float, float, float, float]:
        xs = [x for line in self.lines for x, _ in line["points"]]
        ys = [y for line in self.lines for _, y in line["points"]]
        for text in self.texts:
            xs += [text.x - text.wide / 2, text.x + text.wide / 2]
            ys += [text.y - text.tall / 2, text.y + text.tall / 2]
        return (min(xs), min(ys), max(xs), max(ys)) if xs else (0.0, 0.0, 1.0, 1.0)


def _common(one: Text, other: Text) -> float:
    """The area that two texts have in common."""
    across = min(one.x + one.wide / 2, other.x + other.wide / 2) - max(one.x - one.wide / 2, other.x - other.wide / 2)
    down = min(one.y + one.tall / 2, other.y + other.tall / 2) - max(one.y - one.tall / 2, other.y - other.tall / 2)
    return across * down if across > 0 and down > 0 else 0.0


def _within(text: Text, line: dict[str, Any]) -> float:
    """How much of a line lies under a text."""
    points = line["points"]
    left, right = text.x - text.wide / 2, text.x + text.wide / 2
    top, foot = text.y - text.tall / 2, text.y + text.tall / 2
    ends = [*points[1:], points[0]] if line["closed"] else points[1:]
    return sum(_clipped(one, end, (left, top, right, foot)) for one, end in zip(points, ends, strict=False))


def _clipped(one: Spot, end: Spot, box: tuple[float, float, float, float]) -> float:
    """The length of a straight run that lies within a box."""
    (left, top, right, foot), (x, y), (to_x, to_y) = box, one, end
    if (
        (x < left and to_x < left)
        or (x > right and to_x > right)
        or (y < top and to_y < top)
        or (y > foot and to_y > foot)
    ):
        return 0.0  # most lie beside it
    first, last = 0.0, 1.0
    for at, to, low, high in ((one[0], end[0], box[0], box[2]), (one[1], end[1], box[1], box[3])):
        step = to - at
        if abs(step) < 1e-9:
            if not low < at < high:
                return 0.0
            continue
        near, far = sorted(((low - at) / step, (high - at) / step))
        first, last = max(first, near), min(last, far)
    return max(0.0, last - first) * hypot(end[0] - one[0], end[1] - one[1])
