"""Where the tape goes on a bolt circle: each hub with its own number of studs, side by side where they differ."""

from collections.abc import Sequence
from math import cos, hypot, pi, sin

from planner.plan.drawings.scene import Arc, Dimension, Label, Scene, Spot

CIRCLE, STUD = 0.10, 0.012  # m; radii in the drawing, which is not to scale


def studs(count: int = 6) -> Scene:
    """The hub with its own number of studs."""
    turns = [pi / 2 - 2 * pi * at / count for at in range(count)]
    circle = [(CIRCLE * cos(turn), CIRCLE * sin(turn)) for turn in turns]
    apart = 2 if count > 3 else 1  # spaces between the two that are farther apart

    def over(start: int, spaces: int, past: float, clear: float, text: str) -> Dimension:
        """Between two studs, `past` their middles, and `clear` of the circle between them."""
        (x1, y1), (x2, y2) = circle[start % count], circle[(start + spaces) % count]
        length = hypot(x2 - x1, y2 - y1)
        dx, dy = past * (x2 - x1) / length, past * (y2 - y1) / length
        away = CIRCLE * (1 - cos(pi * spaces / count)) + clear
        return Dimension((x1 - dx, y1 - dy), (x2 + dx, y2 + dy), text, away)

    foot_x, foot_y = min(circle, key=lambda one: one[0] + one[1])
    return Scene(
        title="Bolt circle, looking at the hub",
        words=f"{count} studs on a circle: A center to center of two next to each other, B of two farther apart (count "
        "the spaces between them), C over the outside edges of two studs, D across the whole circle, E the thread.",
        arcs=(Arc((0, 0), CIRCLE, weight="hidden"), Arc((0, 0), 0.055), *(Arc(spot, STUD) for spot in circle)),
        dimensions=(
            over(0, 1, 0.0, 0.0216, "A"),
            over(0, apart, 0.0, 0.065, "B"),
            over(count - 1, apart, STUD, 0.075, "C"),
            Dimension((-CIRCLE, 0.0), (CIRCLE, 0.0), "D", -0.15),
            Dimension((foot_x - STUD, foot_y), (foot_x + STUD, foot_y), "E", -0.035),
        ),
    )


def hubs(counts: Sequence[tuple[int | None, str]]) -> Scene:
    """Hubs side by side, each with its own number of studs and whose it is; with six where nobody counted them."""
    scenes = []
    for at, (count, whose) in enumerate(counts):
        told = f"{whose}: {count} studs" if count else f"{whose}: drawn with six, so count yours"
        scene = studs(count or 6)
        scenes.append(_moved(scene._replace(labels=(Label((0.0, -0.22), told),)), 0.62 * at))
    return scenes[0]._replace(
        words=" ".join(f"{whose}: {scene.words}" for scene, (_, whose) in zip(scenes, counts, strict=True)),
        arcs=tuple(arc for scene in scenes for arc in scene.arcs),
        labels=tuple(label for scene in scenes for label in scene.labels),
        dimensions=tuple(one for scene in scenes for one in scene.dimensions),
    )


def _moved(scene: Scene, by: float) -> Scene:
    """The same further to the right."""

    def at(spot: Spot) -> Spot:
        return spot[0] + by, spot[1]

    return scene._replace(
        arcs=tuple(one._replace(center=at(one.center)) for one in scene.arcs),
        labels=tuple(one._replace(at=at(one.at)) for one in scene.labels),
        dimensions=tuple(one._replace(start=at(one.start), end=at(one.end)) for one in scene.dimensions),
    )
