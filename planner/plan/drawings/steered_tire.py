"""The steered tire from above: straight ahead, at its stop and where it must stop, among what stands around it.

Seen as the left wheel: forward to the right, outboard upward, from the center of the hub's mounting face. The kingpin
is drawn upright: what its lean does is in the angles, which are the sweep's.
"""

from math import cos, degrees, pi, sin

from planner.plan.drawings.drawn_values import angle, drawing_of, known_values, length, missing_entries
from planner.plan.drawings.scene import Arc, Label, Line, Scene, Spot, Weight
from planner.plan.truck.project import OpenProject, PlannedObstacle
from planner.quantities.text import clean
from planner.trade.fit.limits import Way

NEEDED = (
    "overall_diameter", "section_width", "tread_width", "inner_center_plane", "outer_center_plane", "kingpin_inset",
    "stop_angle",
)  # fmt: skip
_SAME = 0.05  # degrees; less than this between stop and limit is none
_NAMED = 6  # obstacles that are named; the others are only drawn
_ROUND = 3  # straight runs in a corner


def steered_tire(opened: OpenProject, fitment: str, axle: str) -> Scene:
    """One way of steering: that in which the tire comes to less than the stop lets it, or else the inner wheel's."""
    title = f"steered tire from above ({drawing_of(fitment, axle)})"
    if not opened.steers(axle, fitment):
        return Scene(title, f"The {axle} axle doesn't steer.", missing=(f"axles.{axle}.steered",))
    missing = missing_entries(opened, fitment, axle, *NEEDED)
    if missing:
        return Scene(title, "", missing=missing)
    diameter, section, tread, *planes, inset, stop_inner = known_values(opened, fitment, axle, *NEEDED)
    centers = sorted(set(planes))  # of a pair there are two
    stop_outer, inner, outer = known_values(
        opened, fitment, axle, "stop_angle_out", "inner_steer_limit", "outer_steer_limit"
    )
    stops: dict[Way, float] = {"out": stop_inner, "in": stop_inner if stop_outer is None else stop_outer}
    limits: dict[Way, float | None] = {"out": inner, "in": outer}
    way = _tighter(stops, limits)
    stop, limit = stops[way], limits[way]
    binds = known_values(opened, fitment, axle, f"{'inner' if way == 'out' else 'outer'}_steer_binds")[0]
    turn = 1.0 if way == "out" else -1.0  # counterclockwise is the front outboard
    held = limit if limit is not None and degrees(stop - limit) > _SAME else None  # where it must stop before its stop
    corner = min(section - tread, diameter) / 2
    outlines = [_outline(diameter / 2, section / 2, corner, center) for center in centers]
    tires: list[tuple[float, Weight]] = [(0.0, "thin"), (stop, "outline" if held is None else "danger")]
    if held is not None:
        tires.append((held, "outline"))
    lines = [
        Line(tuple(_turned(spot, turn * by, inset) for spot in outline), weight, closed=True)
        for by, weight in tires
        for outline in outlines
    ]
    pivot: Spot = (0.0, -inset)
    ray = 0.72 * diameter
    for by in (0.0, *([] if held is None else [held]), stop):
        end = (ray * cos(turn * by), -inset + ray * sin(turn * by))
        lines.append(Line((pivot, end), "hidden"))
    labels = [Label((ray * cos(turn * stop), -inset + ray * sin(turn * stop)), f"stop {angle(stop)}", "left")]
    if held is not None:
        spot = (ray * cos(turn * held), -inset + ray * sin(turn * held))
        labels.append(Label(spot, f"limit {angle(held)}", "left"))
    labels += [Label((0.0, -inset), "kingpin"), Label((-0.75 * diameter, section), "outboard ↑", "left")]
    labels.append(Label((-0.75 * diameter, section * 0.7), "forward →", "left"))
    legend: list[tuple[str, str]] = []
    for label, one in _nearest_first(opened, fitment, axle):
        weight: Weight = "danger" if label == binds else "outline"
        drawn = _edge(one, weight)
        lines.append(drawn)
        if len(legend) < _NAMED:
            mark = "abcdefghijklmnopqrstuvwxyz"[len(legend)]
            (x0, y0), (x1, y1) = drawn.points[0], drawn.points[-1]
            labels.append(Label(((x0 + x1) / 2, (y0 + y1) / 2 - 0.03), mark))
            legend.append((mark, clean(label)))
    arc = Arc(pivot, 0.62 * diameter, min(0.0, turn * stop), max(0.0, turn * stop), "thin")
    side = "inner wheel, its front outboard" if way == "out" else "outer wheel, its front inboard"
    words = f"From above, as the left wheel, forward to the right: the {side}, turned to its stop of {angle(stop)}."
    if held is not None:
        words += f" It can only turn {angle(held)}: there {clean(str(binds))} is as close as it may come."
    elif limit is not None:
        words += " Everything you measured keeps its clearance up to the stop."
    if len(centers) > 1:
        words += " Both tires of the pair are drawn."
    words += f" The tire is {length(section, opened.style)} wide, the kingpin {length(inset, opened.style)} inboard."
    return Scene(title, words, tuple(lines), (arc,), tuple(labels), legend=tuple(legend))


def _tighter(stops: dict[Way, float], limits: dict[Way, float | None]) -> Way:
    def short(way: Way) -> float:
        limit = limits[way]
        return 0.0 if limit is None else stops[way] - limit

    return "in" if short("in") > short("out") + 1e-9 else "out"


def _outline(radius: float, half: float, corner: float, center: float) -> list[Spot]:
    """The tire from above: its corners are rounded where the shoulders are."""
    spots: list[Spot] = []
    for right, up in ((1, 1), (-1, 1), (-1, -1), (1, -1)):
        first = {(1, 1): 0.0, (-1, 1): pi / 2, (-1, -1): pi, (1, -1): 1.5 * pi}[right, up]
        for step in range(_ROUND + 1):
            turn = first + step / _ROUND * pi / 2
            x = right * (radius - corner) + corner * cos(turn)
            spots.append((x, center + up * (half - corner) + corner * sin(turn)))
    return spots


def _turned(spot: Spot, by: float, inset: float) -> Spot:
    x, y = spot[0], spot[1] + inset
    return x * cos(by) - y * sin(by), x * sin(by) + y * cos(by) - inset


def _nearest_first(opened: OpenProject, fitment: str, axle: str) -> list[tuple[str, PlannedObstacle]]:
    """The obstacles of an axle that are measured, by what they have to spare over the sweep."""
    found = []
    for label, one in opened.obstacles_of(fitment).items():
        if one.measured.axle == axle and one.measured.at is not None and one.required is not None:
            left = opened.sheet.value(opened.spot("least_clearance", fitment=fitment, obstacle=label))
            found.append((1e9 if left is None else left - one.required.value, label, one))
    return [(label, one) for _, label, one in sorted(found, key=lambda each: each[0])]


def _edge(one: PlannedObstacle, weight: Weight) -> Line:
    """An edge, or a small cross where a point was measured."""
    at, to = one.measured.at, one.measured.to
    assert at is not None
    x, y = at[0].value, at[1].value
    if to is not None:
        return Line(((x, y), (to[0].value, to[1].value)), weight)
    arm = 0.012
    return Line(((x - arm, y), (x + arm, y), (x, y), (x, y - arm), (x, y + arm)), weight)
