"""Several views of the truck in one drawing, all at one scale: side over ends, and candidates beside each other."""

from collections.abc import Sequence

from planner.plan.drawings.look_ends import look_end
from planner.plan.drawings.look_side import look_side
from planner.plan.drawings.scene import Arc, Dimension, Label, Line, Scene, Spot
from planner.plan.truck.project import OpenProject
from planner.quantities.text import clean

_APART = 0.35  # m; between two views
MOST = 6  # candidates in one drawing


def whole_look(opened: OpenProject, fitment: str) -> Scene:
    """One candidate from the side, from the front and from the rear."""
    side = look_side(opened, fitment)
    if side.missing:
        return side
    ends = [one for one in (look_end(opened, fitment, axle) for axle in ("front", "rear")) if not one.missing]
    named = [_titled(one, name) for one, name in zip(ends, _end_names(opened, fitment), strict=True)]
    rows = [[side], named] if named else [[side]]
    scene = stacked(rows)
    return scene._replace(
        title=f"the look ({clean(fitment)})",
        words=" ".join(one.words for one in (side, *ends)),
        legend=side.legend,
    )


def looks_beside(opened: OpenProject, across: int) -> Scene:
    """Every candidate from the side, each over the truck as found, so many in a row."""
    names = list(opened.candidates[:MOST]) or ["found"]
    scenes = [look_side(opened, name, dimensioned=False) for name in names]
    drawn = [_titled(one, clean(name)) for one, name in zip(scenes, names, strict=True) if not one.missing]
    title = "the candidates beside each other"
    if not drawn:
        return Scene(title, "", missing=scenes[0].missing)
    rows = [drawn[at : at + across] for at in range(0, len(drawn), across)]
    left = [clean(name) for name, one in zip(names, scenes, strict=True) if one.missing]
    words = f"Each from the side at one scale, over the truck as found: {', '.join(clean(name) for name in names)}."
    words += f" Not drawn, since too little of it is entered: {', '.join(left)}." if left else ""
    rest = len(opened.candidates) - len(names)
    words += f" {rest} more are left out." if rest > 0 else ""
    legend = (("outline", "as planned"), ("thin", "as found"))
    return stacked(rows)._replace(title=title, words=words, legend=legend)


def _end_names(opened: OpenProject, fitment: str) -> list[str]:
    known = [axle for axle in ("front", "rear") if not look_end(opened, fitment, axle).missing]
    return [f"from the {axle}" for axle in known]


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
        gap = (wide - used) / (len(row) + 1)
        x = gap
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
