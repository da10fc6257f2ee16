"""The truck from the front or from behind, to scale: tires on their track under the fender edges, found and planned.

As seen: right is the truck's left side from the front, its right side from behind; both sides are drawn alike, as they
are entered. Up from the ground, across from the truck's middle.
"""

from collections.abc import Iterator
from math import cos, pi, sin

from planner.plan.drawings.drawn_values import known_values, length, missing_entries, short
from planner.plan.drawings.look_side import FOUND, PLANNED, called, legend_of
from planner.plan.drawings.scene import Dimension, Label, Line, Scene, Spot, Weight
from planner.plan.drawings.truck_body import WHEEL, LeftOut, View
from planner.plan.truck.project import OpenProject
from planner.quantities.text import clean

NEEDED = (*WHEEL, "section_width", "inner_center_plane", "outer_center_plane", "face_to_face")
_ROUND = 5  # straight runs round a shoulder
_LIP = 0.05  # m; how much of the edge of a fender is drawn
_BELOW = 0.16  # m; from the ground down to a dimension


def look_end(opened: OpenProject, fitment: str, axle: str) -> Scene:
    """One axle of one candidate over the same as found, or as found alone; what is left out in its words."""
    return end_view(opened, fitment, axle).told(opened)


def end_view(opened: OpenProject, fitment: str, axle: str) -> View:
    """The same, and what is left out beside it."""
    title = f"from the {axle}: {called(opened, fitment)}"
    names = list(dict.fromkeys(("found", fitment)))
    known = [name for name in names if None not in known_values(opened, name, axle, *NEEDED)]
    if not known:
        return View(Scene(title, "", missing=missing_entries(opened, fitment, axle, *NEEDED)))
    lines, left_out = list[Line](), list[LeftOut]()
    for name in names:
        weight: Weight = PLANNED if name == fitment else FOUND
        if name not in known:
            left_out.append(LeftOut(f"tires ({clean(name)})", missing_entries(opened, name, axle, *NEEDED)))
            continue
        lines += _tires(opened, name, axle, weight)
        lines += _body(opened, name, axle, weight)
        lines += _fender(opened, name, axle, weight)
        lines += _axle_line(opened, name, axle) if name == fitment else []
    left_out += _left_out(opened, fitment, axle)
    own = fitment if fitment in known else "found"
    half, high = _reach(opened, own, axle)
    lines.insert(0, Line(((-half - 0.1, 0.0), (half + 0.1, 0.0)), "thin"))
    labels = tuple(_poke_label(opened, own, axle))
    dimensions = _dimensions(opened, own, axle, high)
    scene = Scene(title, _words(opened, own, axle), tuple(lines), (), labels, dimensions, legend=legend_of(fitment, ()))
    return View(scene, tuple(left_out))


def _both(points: list[Spot]) -> tuple[tuple[Spot, ...], tuple[Spot, ...]]:
    """The same on both sides of the truck's middle."""
    return tuple(points), tuple((-x, y) for x, y in points)


def _tires(opened: OpenProject, fitment: str, axle: str, weight: Weight) -> list[Line]:
    """Each tire as its tread and shoulders show, cut off at the ground."""
    diameter, loaded, section, *planes, face_to_face = known_values(opened, fitment, axle, *NEEDED)
    tread = known_values(opened, fitment, axle, "tread_width")[0] or 0.85 * section
    radius, corner = diameter / 2, min(max(section - tread, 0.0) / 2, diameter / 4)
    lines = []
    for plane in sorted(set(planes)):
        center = face_to_face / 2 + plane
        outline: list[Spot] = []
        for right, up, start in ((1, -1, 1.5), (1, 1, 0.0), (-1, 1, 0.5), (-1, -1, 1.0)):
            for step in range(_ROUND + 1):
                turn = (start + step / _ROUND / 2) * pi
                x = center + right * (section / 2 - corner) + corner * cos(turn)
                z = loaded + up * (radius - corner) + corner * sin(turn)
                outline.append((x, max(z, 0.0)))
        lines += [Line(side, weight, closed=True) for side in _both(outline)]
    return lines


def _edge(opened: OpenProject, fitment: str, axle: str) -> Spot | None:
    """The fender's edge over the wheel: straight up, or its tightest point where that alone was measured."""
    face_to_face, out, top, tight, loaded = known_values(
        opened, fitment, axle, "face_to_face", "face_to_fender_edge", "opening_top", "axle_to_fender",
        "static_loaded_radius",
    )  # fmt: skip
    up = tight if top is None else top
    return None if None in (face_to_face, out, up, loaded) else (face_to_face / 2 + out, loaded + up)


def _fender(opened: OpenProject, fitment: str, axle: str, weight: Weight) -> list[Line]:
    """The fender's edge, and of what is planned the plumb line from it, by which poke is measured."""
    edge = _edge(opened, fitment, axle)
    if edge is None:
        return []
    x, z = edge
    lip = _both([(x - _LIP, z), (x, z), (x, z + _LIP)])
    lines = [Line(side, weight) for side in lip]
    return [*lines, *(Line(side, "center") for side in _both([(x, 0.0), (x, z)]))] if weight == PLANNED else lines


def _body(opened: OpenProject, fitment: str, axle: str, weight: Weight) -> list[Line]:
    """The outline of this end, raised with the body over its axle; none where the rise isn't known."""
    points = getattr(opened.project.outline, axle)
    rise = 0.0 if fitment == "found" else known_values(opened, fitment, axle, "rise")[0]
    if not points or rise is None:
        return []
    return [Line(side, weight) for side in _both([(out.value, height.value + rise) for out, height in points])]


def _axle_line(opened: OpenProject, fitment: str, axle: str) -> list[Line]:
    face_to_face, loaded = known_values(opened, fitment, axle, "face_to_face", "static_loaded_radius")
    half = face_to_face / 2
    face = [Line(side, "thin") for side in _both([(half, loaded - _LIP), (half, loaded + _LIP)])]
    return [Line(((-half, loaded), (half, loaded)), "hidden"), *face]


def _reach(opened: OpenProject, fitment: str, axle: str) -> tuple[float, float]:
    """How far out all of it reaches, and how high the tires and the fenders' edges do."""
    width, body, diameter = known_values(opened, fitment, axle, "width_over_tires", "body_width", "overall_diameter")
    edge = _edge(opened, fitment, axle)
    half = max([one / 2 for one in (width, body) if one is not None] + [edge[0] if edge else 0.0])
    return half, max(diameter, edge[1] + _LIP if edge else 0.0)


def _poke_label(opened: OpenProject, fitment: str, axle: str) -> Iterator[Label]:
    """Between the tires, where nothing else is drawn."""
    poke, loaded = known_values(opened, fitment, axle, "poke", "static_loaded_radius")
    if poke is not None:
        yield Label((0.0, loaded * 0.5), f"poke {short(poke, opened.style)}")


def _dimensions(opened: OpenProject, fitment: str, axle: str, high: float) -> tuple[Dimension, ...]:
    track, body, out = known_values(opened, fitment, axle, "track", "body_width", "width_over_tires")
    found = []
    if track is not None:
        found.append(Dimension((-track / 2, 0.0), (track / 2, 0.0), f"track {short(track, opened.style)}", -_BELOW))
    if body is not None:
        text = f"body {short(body, opened.style)}"
        found.append(Dimension((-body / 2, high), (body / 2, high), text, _BELOW))
    return tuple(found)


def _left_out(opened: OpenProject, fitment: str, axle: str) -> list[LeftOut]:
    found = []
    if _edge(opened, fitment, axle) is None:
        out, top, tight = known_values(opened, fitment, axle, "face_to_fender_edge", "opening_top", "axle_to_fender")
        keys = ["face_to_edge"] if out is None else []
        keys += ["top"] if top is None and tight is None else []
        if keys:
            found.append(LeftOut("fender edge", tuple(f"axles.{axle}.fender.{key}" for key in keys), axle))
    if not getattr(opened.project.outline, axle):
        found.append(LeftOut(f"body from the {axle}", (f"outline.{axle}",)))
    if known_values(opened, fitment, axle, "body_width")[0] is None:
        found.append(LeftOut("body width", ("vehicle.body_width",)))
    return found


def _words(opened: OpenProject, fitment: str, axle: str) -> str:
    style = opened.style
    track, poke, width = known_values(opened, fitment, axle, "track", "poke", "width_over_tires")
    told = [f"track {length(track, style)}"] if track is not None else []
    told += [f"{length(width, style)} wide over the tires"] if width is not None else []
    if poke is not None:
        where = "outside the fender edge" if poke > 0 else "inside the fender edge"
        told.append(f"the sidewall {length(abs(poke), style)} {where}")
    return f"From the {axle}, to scale: {'; '.join(told) or 'the tires'}."
