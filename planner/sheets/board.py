"""What a drawing on paper is made of: strokes, arrows and texts with a place, in points."""

from collections.abc import Sequence
from math import hypot, inf
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

Box = tuple[float, float, float, float]  # left, top, right, foot

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
    def box(self) -> Box:
        wide, tall = self.wide / 2, self.tall / 2
        return self.x - wide, self.y - tall, self.x + wide, self.y + tall

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
        self._reaches: list[Box] = []  # how far each of them goes
        self.arrows: list[list[Spot]] = []
        self.texts: list[Text] = []

    def stroke(self, points: Sequence[Spot], weight: str, closed: bool = False, cut: bool = False) -> None:
        self.lines.append({"points": list(points), "weight": weight, "closed": closed, "cut": cut})
        xs, ys = [x for x, _ in points], [y for _, y in points]
        self._reaches.append((min(xs), min(ys), max(xs), max(ys)) if points else (inf, inf, -inf, -inf))

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
        chosen, least = choices[0], inf
        for one in choices:
            met = self.met(one)
            if met < least:  # the first of equals
                chosen, least = one, met
            if not met:
                break
        self.texts.append(chosen)
        return chosen

    def met(self, text: Text) -> float:
        """What a text there would cover: other texts above all, then what is drawn so far."""
        box = text.box
        over = sum(_common(box, other.box) for other in self.texts)
        if over < 1e-3:
            over = 0.0
        under = (line for line, reach in zip(self.lines, self._reaches, strict=True) if _meet(box, reach))
        return round(20 * over + sum(_LOOKED_FOR[line["weight"]] * _within(box, line) for line in under), 1)

    def box(self) -> Box:
        xs = [x for line in self.lines for x, _ in line["points"]]
        ys = [y for line in self.lines for _, y in line["points"]]
        for text in self.texts:
            xs += [text.x - text.wide / 2, text.x + text.wide / 2]
            ys += [text.y - text.tall / 2, text.y + text.tall / 2]
        return (min(xs), min(ys), max(xs), max(ys)) if xs else (0.0, 0.0, 1.0, 1.0)


def _meet(one: Box, other: Box) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def _common(one: Box, other: Box) -> float:
    """The area that two boxes have in common."""
    across, down = min(one[2], other[2]) - max(one[0], other[0]), min(one[3], other[3]) - max(one[1], other[1])
    return across * down if across > 0 and down > 0 else 0.0


def _within(box: Box, line: dict[str, Any]) -> float:
    """How much of a line lies in a box."""
    points = line["points"]
    ends = [*points[1:], points[0]] if line["closed"] else points[1:]
    return sum(_clipped(one, end, box) for one, end in zip(points, ends, strict=False))


def _clipped(one: Spot, end: Spot, box: Box) -> float:
    """The length of a straight run that lies within a box."""
    (x, y), (x2, y2), (left, top, right, foot) = one, end, box
    if (x < left and x2 < left) or (x > right and x2 > right) or (y < top and y2 < top) or (y > foot and y2 > foot):
        return 0.0
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
