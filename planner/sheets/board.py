"""What a drawing on paper is made of: strokes, arrows and texts with a place, in points."""

from collections.abc import Sequence
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


class Text(NamedTuple):
    """Lines of text around a middle; `wide` and `tall` are the room that they take."""

    x: float
    y: float
    lines: tuple[str, ...]
    size: float = SIZE

    @property
    def wide(self) -> float:
        return max(map(len, self.lines), default=0) * ADVANCE * self.size

    @property
    def tall(self) -> float:
        return len(self.lines) * LEADING * self.size


class Board:
    """The paper under the pencil: what is drawn on it so far, y down, in points."""

    def __init__(self) -> None:
        self.lines: list[dict[str, Any]] = []
        self.arrows: list[list[Spot]] = []
        self.texts: list[Text] = []

    def stroke(self, points: Sequence[Spot], weight: str, closed: bool = False) -> None:
        self.lines.append({"points": list(points), "weight": weight, "closed": closed})

    def arrow(self, tip: Spot, along: Spot) -> None:
        """An arrowhead at `tip`, pointing the way of the unit vector `along`."""
        (x, y), (dx, dy) = tip, along
        back = (x - ARROW * dx, y - ARROW * dy)
        half = ARROW * 0.17
        self.arrows.append(
            [tip, (back[0] - half * dy, back[1] + half * dx), (back[0] + half * dy, back[1] - half * dx)]
        )

    def write(self, choices: Sequence[Text]) -> None:
        """The text at the first of these places where it meets no other, or where it meets the least."""
        self.texts.append(min(choices, key=self._met))  # the first of equals

    def _met(self, text: Text) -> float:
        return round(sum(_common(text, other) for other in self.texts), 3)

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
