"""The fender opening from the side: the tire at rest and at full bump, what stands over it, and what is left between.

Forward to the right, up upward, from the axle's center at ride height.
"""

from math import asin, cos, hypot, pi, sin

from planner.plan.drawings.drawn_values import drawing_of, known_values, length, missing_entries
from planner.plan.drawings.scene import Arc, Dimension, Label, Line, Scene
from planner.plan.drawings.truck_body import arch
from planner.plan.truck.pairs import in_pairs
from planner.plan.truck.project import OpenProject, PlannedObstacle
from planner.quantities.text import clean

NEEDED = ("overall_diameter", "axle_to_fender", "bump_travel")
_APART = 0.03  # m; from the tire to a dimension line


def fender_opening(opened: OpenProject, fitment: str, axle: str) -> Scene:
    """The tire under its fender; straight up is where the reading of the opening's tightest point is drawn."""
    title = f"fender opening ({drawing_of(fitment, axle)})"
    missing = missing_entries(opened, fitment, axle, *NEEDED)
    if missing:
        return Scene(title, "", missing=missing)
    diameter, tight, bump = known_values(opened, fitment, axle, *NEEDED)
    wanted, loaded = known_values(opened, fitment, axle, "wanted_clearance", "static_loaded_radius")
    style, radius = opened.style, diameter / 2
    left, left_at_bump = tight - radius, tight - bump - radius
    near = left_at_bump < (wanted or 0.0)
    ground = min(loaded or radius, radius)
    flat = asin(ground / radius)  # the tire is cut off where it stands
    over = {label: one for label, one in opened.obstacles_of(fitment).items() if _over(one, axle)}
    lips = list(over.values())
    lines = [Line(((-1.15 * radius, -ground), (1.15 * radius, -ground)), "thin")]
    arcs = [
        Arc((0.0, 0.0), radius, -flat, pi + flat),
        Arc((0.0, bump), radius, 0.12 * pi, 0.88 * pi, "danger" if near else "hidden"),
    ]
    edge = arch(opened, fitment, axle, (0.0, 0.0))
    if edge is not None:
        lines.append(Line(edge.points))
        over = {}
    else:
        lines += [_edge(one) for one in lips if one.measured.to]
    if edge is None and not lips:
        arcs.append(Arc((0.0, 0.0), tight, 0.2 * pi, 0.8 * pi))
    cross = 0.04 * radius
    lines += [Line(((-cross, 0.0), (cross, 0.0)), "thin"), Line(((0.0, -cross), (0.0, cross)), "thin")]
    ends = [abs(end[0].value) for one in lips for end in (one.measured.at, one.measured.to) if end]
    ends += [abs(x) for x, _ in edge.points] if edge is not None else []
    beside = max((1.12 * radius, *ends)) + _APART
    mark = "TOO CLOSE: " if near else ""
    dimensions = (
        Dimension((0.0, 0.0), (0.0, tight), f"opening {length(tight, style)}", 0.0),
        Dimension((0.0, radius), (0.0, tight), f"at rest {length(left, style)}", beside),
        Dimension((0.0, bump + radius), (0.0, tight), f"{mark}at bump {length(left_at_bump, style)}", -beside),
    )
    labels = [
        Label((0.0, -0.45 * radius), f"Ø {length(diameter, style)}"),
        Label((beside, bump), f"bump {length(bump, style)}", "left", (cos(0.4) * radius, bump + sin(0.4) * radius)),
        Label((beside, -ground), f"loaded radius {length(ground, style)}" if loaded else "ground", "left"),
        Label((beside, -0.4 * radius), "forward →", "left"),
    ]
    labels += [_named(label, one, radius) for label, one in over.items()]
    for x, y in edge.marks if edge is not None else ():
        away = hypot(x, y)
        lines.append(Line(((x / away * radius, y / away * radius), (x, y)), "dimension"))
        if abs(x) > cross:  # straight up it stands beside the others
            spot = (x + (0.03 if x > 0 else -0.03), y)
            labels.append(Label(spot, length(away - radius, style), "left" if x > 0 else "right"))
    words = (
        f"From the side, forward to the right: under the tightest point of the opening, {length(tight, style)} above "
        f"the axle center, a tire {length(diameter, style)} tall leaves {length(left, style)} at rest and "
        f"{length(left_at_bump, style)} with the axle up {length(bump, style)} on its stop"
    )
    if wanted is not None:
        words += f"; you want {length(wanted, style)}" + (": too close" if near else "")
    if in_pairs(opened, fitment, axle):
        words += ". The two tires of the pair are one behind the other"
    return Scene(title, f"{words}.", tuple(lines), tuple(arcs), tuple(labels), dimensions)


def _over(one: PlannedObstacle, axle: str) -> bool:
    """Whether an obstacle is of the body and outboard of the mounting face: the fender itself."""
    measured = one.measured
    return bool(measured.axle == axle and measured.moves_with == "body" and measured.at and measured.at[1].value > 0)


def _edge(one: PlannedObstacle) -> Line:
    at, to = one.measured.at, one.measured.to
    assert at is not None and to is not None
    return Line(((at[0].value, at[2].value), (to[0].value, to[2].value)))


def _named(name: str, one: PlannedObstacle, radius: float) -> Label:
    at, to = one.measured.at, one.measured.to or one.measured.at
    assert at is not None and to is not None
    x, z = (at[0].value + to[0].value) / 2, (at[2].value + to[2].value) / 2
    name = clean(name)
    if abs(x) < 0.4 * radius:
        return Label((x, z + 0.05), name)
    return Label((x + (0.03 if x > 0 else -0.03), z), name, "left" if x > 0 else "right")
