"""The truck from the side, to scale: as found thin, as planned bold, in one drawing.

Forward to the right, up upward, from the ground under the front axle. Every point is one that was entered, or follows
from the tires and the rise: the arch of an opening is drawn through the directions that were measured.
"""

from collections.abc import Iterable, Iterator
from math import asin, pi

from planner.plan.drawings.drawn_values import angle, known_values, missing_entries, short
from planner.plan.drawings.scene import Arc, Dimension, Label, Line, Scene, Weight
from planner.plan.drawings.truck_body import (
    ENDS,
    WHEEL,
    Body,
    LeftOut,
    Standing,
    StandingWheel,
    View,
    arch,
    body_of,
    lips,
    missing_directions,
    photo_miss,
    standing,
)
from planner.plan.truck.project import OpenProject
from planner.quantities.text import clean

FOUND: Weight = "thin"
PLANNED: Weight = "outline"
_CROSS = 0.03  # m; half of a mark
_MARK = 0.15  # m; half of the mark at the highest point
_ABOVE = 0.09  # m; from there up to what it says
_BELOW = 0.16  # m; from the ground down to the dimensions


def look_side(opened: OpenProject, fitment: str) -> Scene:
    """One candidate over the truck as found, or the truck as found alone; what is left out in its words."""
    return side_view(opened, fitment).told(opened)


def side_view(opened: OpenProject, fitment: str, dimensioned: bool = True) -> View:
    """The same, and what is left out beside it."""
    title = f"from the side: {called(opened, fitment)}"
    wheelbase = known_values(opened, fitment, "front", "wheelbase")[0]
    names = dict.fromkeys(("found", fitment) if wheelbase is not None else ())
    stands = [standing(opened, name, wheelbase) for name in names]
    if wheelbase is None or not any(one.wheels for one in stands):
        lost = [key for axle in ENDS for key in missing_entries(opened, fitment, axle, "wheelbase", *WHEEL)]
        return View(Scene(title, "", missing=tuple(dict.fromkeys(lost))))
    body = body_of(opened, wheelbase)
    lines, arcs, labels = list[Line](), list[Arc](), list[Label]()
    left_out = [*_wheels_left_out(opened, stands), *_openings_left_out(opened, fitment), *body.left_out]
    for one in stands:
        weight = PLANNED if one.fitment == fitment else FOUND
        for wheel in one.wheels.values():
            arcs += _wheel(wheel, weight)
        if one.rises is None:
            left_out.append(LeftOut("body as planned", _rise_needs(opened, fitment)))
            continue
        lines += _body(body, one, weight)
        lines += _openings(opened, one, stands[0], weight)
        arcs += _tightest(opened, one, weight)
        lines += _frame(opened, one, weight)
    own = stands[-1]
    labels += [_tire_label(opened, own, axle) for axle in own.wheels if dimensioned]
    reach = _reach(opened, lines, arcs, wheelbase)
    lines.insert(0, Line(((reach[0] - 0.1, 0.0), (reach[1] + 0.1, 0.0)), "thin"))
    highest, label = _highest(opened, fitment, reach)
    lines += highest
    labels += label
    dimensions = _dimensions(opened, fitment, wheelbase) if dimensioned else []
    scene = Scene(
        title, _words(opened, fitment), tuple(lines), tuple(arcs), tuple(labels), tuple(dimensions),
        legend=legend_of(fitment if own.wheels else "found", [line.weight for line in lines]),
    )  # fmt: skip
    return View(scene, tuple(left_out))


def called(opened: OpenProject, fitment: str) -> str:
    """A set by its name and what the person says of it."""
    entry = opened.project.fitments.get(fitment)
    told = clean(entry.description) if entry is not None and entry.description else ""
    return f"{clean(fitment)}{told and f', {told}'}"


def legend_of(fitment: str, weights: Iterable[Weight]) -> tuple[tuple[str, str], ...]:
    """What each stroke in a view is."""
    found = [("outline", f"as planned ({clean(fitment)})"), ("thin", "as found")] if fitment != "found" else []
    return (*found, ("hidden", "frame")) if "hidden" in weights else tuple(found)


def _wheel(wheel: StandingWheel, weight: Weight) -> list[Arc]:
    """The tire, flat where it stands, and the rim."""
    flat = asin(wheel.center[1] / wheel.radius)
    arcs = [Arc(wheel.center, wheel.radius, -flat, pi + flat, weight)]
    return [*arcs, Arc(wheel.center, wheel.rim, weight=weight)] if wheel.rim else arcs


def _body(body: Body, one: Standing, weight: Weight) -> list[Line]:
    lines = [Line(tuple(map(one.raised, stroke.points)), weight) for stroke in body.strokes]
    for spot in body.marks if weight == PLANNED else ():
        x, y = one.raised(spot)
        lines.append(Line(((x - _CROSS, y), (x + _CROSS, y), (x, y), (x, y - _CROSS), (x, y + _CROSS)), weight))
    return lines


def _openings(opened: OpenProject, one: Standing, found: Standing, weight: Weight) -> list[Line]:
    """The openings over the wheels where they are with the body, or as a change sets them."""
    lines: list[Line] = []
    for axle in ENDS:
        own, first = one.wheels.get(axle), found.wheels.get(axle)
        stroke = arch(opened, one.fitment, axle, own.center) if own else None
        if stroke is None and first is not None:  # a lift carries what was found along
            stroke = arch(opened, "found", axle, first.center) if _only_lifted(opened, one.fitment, axle) else None
            stroke = stroke and stroke._replace(points=tuple(map(one.raised, stroke.points)))
        strokes = [stroke] if stroke else list(lips(opened, one.fitment, axle, own.center)) if own else []
        lines += [Line(each.points, weight) for each in strokes if each.points]
    return lines


def _tightest(opened: OpenProject, one: Standing, weight: Weight) -> Iterator[Arc]:
    """The opening's tightest point, over the wheel, where it is all that was measured of the opening."""
    for axle, wheel in one.wheels.items():
        tight = known_values(opened, one.fitment, axle, "axle_to_fender")[0]
        drawn = arch(opened, "found", axle, wheel.center) is not None
        drawn = drawn or any(each.points for each in lips(opened, one.fitment, axle, wheel.center))
        if tight is not None and not drawn:
            yield Arc(wheel.center, tight, 0.4 * pi, 0.6 * pi, weight)


def _only_lifted(opened: OpenProject, fitment: str, axle: str) -> bool:
    """Whether a lift is all that a change does to an opening: then its edge went up, and is as it was."""
    lift = known_values(opened, fitment, axle, "lift")[0]
    truck, found = opened.truck(fitment), opened.project
    edges = [getattr(one.axles, axle).fender.face_to_edge for one in (truck, found)]
    return bool(lift) and edges[0] == edges[1]


def _frame(opened: OpenProject, one: Standing, weight: Weight) -> list[Line]:
    heights = [known_values(opened, one.fitment, axle, "frame_height")[0] for axle in ENDS]
    if None in heights:
        return []
    return [Line(((0.0, heights[0]), (-one.wheelbase, heights[1])), "hidden" if weight == PLANNED else "center")]


def _tire_label(opened: OpenProject, one: Standing, axle: str) -> Label:
    """Its diameter, beside its foot, between the axles."""
    wheel, inward = one.wheels[axle], 1 if axle == "rear" else -1
    x, up = wheel.center
    at = (x + inward * wheel.radius, 0.3 * up)
    return Label(at, f"Ø {short(2 * wheel.radius, opened.style)}", "left" if inward > 0 else "right")


def _reach(opened: OpenProject, lines: list[Line], arcs: list[Arc], wheelbase: float) -> tuple[float, float, float]:
    """From where to where all of it is, and how high."""
    xs = [x for line in lines for x, _ in line.points]
    xs += [arc.center[0] + side * arc.radius for arc in arcs for side in (-1, 1)]
    ahead, behind = known_values(opened, "found", "front", "front_overhang", "rear_overhang")
    xs += [ahead] if ahead is not None else []
    xs += [-wheelbase - behind] if behind is not None else []
    ys = [y for line in lines for _, y in line.points] + [arc.center[1] + arc.radius for arc in arcs]
    return min(xs), max(xs), max(ys)


def _highest(opened: OpenProject, fitment: str, reach: tuple[float, float, float]) -> tuple[list[Line], list[Label]]:
    """A mark where the highest point is, or a line all along where nobody said how far behind the front axle."""
    tall, behind, found = known_values(
        opened, fitment, "front", "overall_height", "overall_height_position", "found_overall_height"
    )
    if tall is None or behind is None:
        return level_line(opened, tall, reach[0], reach[1])
    ends = (-behind - _MARK, -behind + _MARK)
    lines = [Line(((ends[0], tall), (ends[1], tall)), PLANNED)]
    if fitment != "found":
        lines.append(Line(((ends[0], found), (ends[1], found)), FOUND))
    return lines, [Label((-behind, tall + _ABOVE), f"{short(tall, opened.style)} high")]


def level_line(opened: OpenProject, tall: float | None, left: float, right: float) -> tuple[list[Line], list[Label]]:
    """How high the truck is, all along, where it isn't known what is so high."""
    if tall is None:
        return [], []
    label = Label(((left + right) / 2, tall + _ABOVE), f"{short(tall, opened.style)} high")
    return [Line(((left, tall), (right, tall)), "center")], [label]


def _dimensions(opened: OpenProject, fitment: str, wheelbase: float) -> list[Dimension]:
    found = [Dimension((-wheelbase, 0.0), (0.0, 0.0), f"wheelbase {short(wheelbase, opened.style)}", -_BELOW)]
    ahead, behind = known_values(opened, fitment, "front", "front_overhang", "rear_overhang")
    if ahead is not None and behind is not None:
        text = f"overall {short(ahead + wheelbase + behind, opened.style)}"
        found.append(Dimension((-wheelbase - behind, 0.0), (ahead, 0.0), text, -2 * _BELOW))
    return found


def _wheels_left_out(opened: OpenProject, stands: list[Standing]) -> list[LeftOut]:
    found = []
    for one in stands:
        for axle in ENDS:
            if axle not in one.wheels:
                keys = missing_entries(opened, one.fitment, axle, *WHEEL)
                found.append(LeftOut(f"wheel ({clean(one.fitment)})", keys, axle))
    return found


def _openings_left_out(opened: OpenProject, fitment: str) -> list[LeftOut]:
    lost = {axle: missing_directions(opened, fitment, axle) for axle in ENDS}
    found = [
        LeftOut("fender opening" if len(keys) > 3 else "rest of the fender opening", keys, axle)
        for axle, keys in lost.items()
        if keys and not _only_lifted(opened, fitment, axle)
    ]
    found += [
        LeftOut("frame", (f"axles.{axle}.ride_height",), axle)
        for axle in ENDS
        if known_values(opened, fitment, axle, "ride_height")[0] is None
    ]
    if known_values(opened, fitment, "front", "found_overall_height")[0] is None:
        found.append(LeftOut("highest point", ("vehicle.overall_height",)))
    return found


def _rise_needs(opened: OpenProject, fitment: str) -> tuple[str, ...]:
    return tuple(dict.fromkeys(key for axle in ENDS for key in missing_entries(opened, fitment, axle, "rise")))


def _words(opened: OpenProject, fitment: str) -> str:
    style = opened.style
    told = []
    for axle in ENDS:
        fill, rest, bump = known_values(opened, fitment, axle, "fender_fill", "gap_top", "bump_gap_top")
        if fill is not None:
            told.append(f"the {axle} tire takes {100 * fill:.0f} % of its opening")
        if rest is not None:
            at_bump = f", {short(bump, style)} on the bump stop" if bump is not None else ""
            told.append(
                f"the gap over {'it' if fill is not None else f'the {axle} tire'} is {short(rest, style)}{at_bump}"
            )
    rake = known_values(opened, fitment, "front", "rake")[0]
    if rake is not None:
        told.append(f"the frame leans {angle(rake)} down toward the front")
    miss = photo_miss(opened.project.outline)
    if miss is not None:
        told.append(f"the outline is from a photo, which is off by {short(miss, style)} at the other known points")
    drawn = "as found" if fitment == "found" else f"{clean(fitment)} bold over the truck as found"
    words = f"From the side, forward to the right, to scale: {drawn}"
    return f"{words}; {'; '.join(told)}." if told else f"{words}."
