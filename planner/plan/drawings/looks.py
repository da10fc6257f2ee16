"""Several views of the truck in one drawing, all at one scale: side over ends, and candidates beside each other."""

from collections.abc import Sequence

from planner.plan.drawings.drawn_values import known_values, short
from planner.plan.drawings.look_ends import end_view
from planner.plan.drawings.look_side import called, side_view
from planner.plan.drawings.scene import Arc, Dimension, Label, Line, Scene, Spot
from planner.plan.drawings.truck_body import LeftOut, View
from planner.plan.truck.project import OpenProject
from planner.quantities.text import clean, cut

_APART = 0.35  # m; between two views
MOST = 6  # candidates in one drawing
LONGEST = 40  # letters under a view


def whole_look(opened: OpenProject, fitment: str) -> View:
    """One candidate from the side, from the front and from the rear."""
    side = side_view(opened, fitment)
    ends = {axle: end_view(opened, fitment, axle) for axle in ("front", "rear")}
    if side.scene.missing:
        return side
    drawn = {axle: one for axle, one in ends.items() if not one.scene.missing}
    left_out = [*side.left_out, *(lost for one in drawn.values() for lost in one.left_out)]
    left_out += [LeftOut(f"view from the {axle}", ends[axle].scene.missing) for axle in ends if axle not in drawn]
    below = [_titled(one.scene, f"from the {axle}") for axle, one in drawn.items()]
    scene = stacked([[side.scene], below] if below else [[side.scene]])
    words = " ".join(one.scene.words for one in (side, *drawn.values()))
    return View(
        scene._replace(title=called(opened, fitment), words=words, legend=side.scene.legend),
        tuple(dict.fromkeys(left_out)),
    )


def looks_beside(opened: OpenProject, across: int) -> Scene:
    """Every candidate from the side, each over the truck as found, so many in a row."""
    names = list(opened.candidates[:MOST]) or ["found"]
    scenes = {name: side_view(opened, name, dimensioned=False).scene for name in names}
    drawn = [_titled(one, _sized(opened, name)) for name, one in scenes.items() if not one.missing]
    title = "the candidates side by side"
    if not drawn:
        return Scene(title, "", missing=scenes[names[0]].missing)
    words = f"Each from the side at one scale, over the truck as found: {', '.join(map(clean, names))}."
    lost = [clean(name) for name, one in scenes.items() if one.missing]
    words += f" Not drawn, since too little of it is entered: {', '.join(lost)}." if lost else ""
    rest = len(opened.candidates) - len(names)
    words += f" {rest} more are left out." if rest > 0 else ""
    rows = [drawn[at : at + across] for at in range(0, len(drawn), across)]
    legend = (("outline", "as planned"), ("thin", "as found"))
    return stacked(rows)._replace(title=title, words=words, legend=legend)


def _sized(opened: OpenProject, fitment: str) -> str:
    """A set's name with its tire's diameter, or both where front and rear differ."""
    sizes = [known_values(opened, fitment, axle, "overall_diameter")[0] for axle in ("front", "rear")]
    told = " and ".join(dict.fromkeys(short(one, opened.style) for one in sizes if one is not None))
    return cut(f"{clean(fitment)}{told and f', Ø {told}'}", LONGEST)


def _titled(scene: Scene, name: str) -> Scene:
    """A view with its name under it."""
    left, low, right, _ = box(scene)
    return scene._replace(labels=(*scene.labels, Label(((left + right) / 2, low - 0.12), name)))


def stacked(rows: Sequence[Sequence[Scene]]) -> Scene:
    """The views in rows, each row under the one before, each view in the middle of its column."""
    lines, arcs, labels, dimensions = list[Line](), list[Arc](), list[Label](), list[Dimension]()
    boxes = [[box(one) for one in row] for row in rows]
    wide = max(sum(right - left for left, _, right, _ in row) + _APART * (len(row) - 1) for row in boxes)
    top = 0.0
    for row, places in zip(rows, boxes, strict=True):
        used = sum(right - left for left, _, right, _ in places)
        gap = max(_APART, (wide - used) / (len(row) + 1))
        x = (wide - used - gap * (len(row) - 1)) / 2
        high = max(place[3] - place[1] for place in places)
        for scene, (left, low, right, _) in zip(row, places, strict=True):
            off = (x - left, top - high - low)
            lines += [one._replace(points=tuple(_moved(spot, off) for spot in one.points)) for one in scene.lines]
            arcs += [one._replace(center=_moved(one.center, off)) for one in scene.arcs]
            labels += [
                one._replace(at=_moved(one.at, off), points_to=one.points_to and _moved(one.points_to, off))
                for one in scene.labels
            ]
            dimensions += [
                one._replace(start=_moved(one.start, off), end=_moved(one.end, off)) for one in scene.dimensions
            ]
            x += right - left + gap
        top -= high + _APART
    return Scene("", "", tuple(lines), tuple(arcs), tuple(labels), tuple(dimensions))


def box(scene: Scene) -> tuple[float, float, float, float]:
    """Left, low, right and high of all that is drawn; of a dimension its line too."""
    spots = [spot for line in scene.lines for spot in line.points] + [one.at for one in scene.labels]
    for arc in scene.arcs:
        (x, y), r = arc.center, arc.radius
        spots += [(x - r, y), (x + r, y), (x, y + r)]
    for one in scene.dimensions:
        spots += [(x, y + one.away) for x, y in (one.start, one.end)]
    xs, ys = [x for x, _ in spots], [y for _, y in spots]
    return min(xs), min(ys), max(xs), max(ys)


def _moved(spot: Spot, off: Spot) -> Spot:
    return spot[0] + off[0], spot[1] + off[1]
