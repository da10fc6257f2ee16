"""The wheel cut through the axle: rim, disc face, tire and brake, with what a wheel maker has to know of them."""

from itertools import pairwise
from math import cos, hypot, pi, sin
from typing import Any, NamedTuple

from planner.plan.drawings.drawn_values import drawing_of, known_values, length, missing_entries, short
from planner.plan.drawings.scene import Dimension, Label, Line, Scene, Spot
from planner.plan.truck.project import OpenProject
from planner.quantities.show import Style

FLANGE = 0.0175  # m; the common height of a flange over its bead seat

_SEAT = 0.020  # m; the common width of a bead seat

_ROUND = 6  # straight runs in a quarter turn

NEEDED = ("section_width", "overall_diameter", "rim_width", "overall_width", "offset_to_hub", "specified_rim_diameter")

Values = dict[str, Any]


class WheelShape(NamedTuple):
    """The section's main places, in m: `center` is the rim's center plane, radii from the axle.

    Of a pair it is the inner wheel; `between` is how far outboard of the hub's face the two discs lie on each other,
    and the outer wheel is the same mirrored about there. Nothing of a wheel that stands alone.
    `well` is from where to where along the axle the drop center's floor lies; in the middle, where nobody entered it.
    """

    center: float
    rim: float
    wide: float
    seat: float
    floor: float
    steel: float
    free: float
    section: float
    tread: float
    outside: float
    between: float
    flange: float = FLANGE
    well: tuple[float, float] | None = None

    @property
    def high(self) -> float:
        """The outboard edge of the rim, of a pair of the outer one's."""
        return 2 * self.between - (self.center - self.wide) if self.between else self.center + self.wide


def wheel_shape(values: Values, more: Values) -> WheelShape:
    """From the values of `NEEDED`, all of them known, and those that refine it."""
    seat = values["specified_rim_diameter"] / 2
    steel = more["thickness"] or 0.006
    if more["well_depth"]:
        floor = seat - more["well_depth"]
    elif more["barrel_radius"]:
        floor = min(more["barrel_radius"] + steel, seat)
    else:
        floor = seat - 0.020
    free = more["barrel_radius"] or floor - steel
    return WheelShape(
        center=-values["offset_to_hub"],
        rim=values["rim_width"] / 2,
        wide=values["overall_width"] / 2,
        seat=seat,
        floor=max(floor, free),
        steel=steel,
        free=free,
        section=values["section_width"] / 2,
        tread=min(more["tread_width"] or 0.85 * values["section_width"], values["section_width"]) / 2,
        outside=values["overall_diameter"] / 2,
        between=more["paired_disc"] or 0.0,
    )


def inner_surface(wheel: WheelShape, start: float, end: float) -> list[Spot]:
    """The rim's inside from one place along the axle to another: what a disc between them reaches out to."""
    points = rim(wheel)[1].points[1:-1]

    def at(x: float) -> Spot:
        runs = ((one, other) for one, other in pairwise(points) if one[0] <= x <= other[0] and other[0] > one[0])
        here = next(runs, None)
        if here is None:
            return x, wheel.free
        (left, low), (right, high) = here
        return x, low + (high - low) * (x - left) / (right - left)

    between = [spot for spot in points if min(start, end) < spot[0] < max(start, end)]
    return [at(start), *(between if start < end else reversed(between)), at(end)]


def outer_wheel(wheel: WheelShape, inner: list[Line]) -> list[Line]:
    """The same lines of a pair's outer wheel, thin; none of a wheel that stands alone."""
    if not wheel.between:
        return []
    return [Line(tuple((2 * wheel.between - x, y) for x, y in one.points), "thin", one.closed) for one in inner]


def pair_words(said: str, face: str | None) -> str:
    """What of a pair is drawn thin, and to which face its offset is taken; `said` is its spacing."""
    taken = {"hub": "the face on the hub", "disc": "the face between the two discs"}.get(face or "", "")
    return (
        " Two of them go side by side, dish to dish: the outer one, turned around, is drawn thin; their center "
        f"planes are {said} apart. Offset and backspace are measured to {taken}."
    )


def tire(wheel: WheelShape) -> list[Line]:
    """From bead to bead: up the sidewall, which is widest half way, round the shoulder and over the tread."""
    corner = min(wheel.section - wheel.tread, (wheel.outside - wheel.seat) / 2)
    bead = wheel.seat + FLANGE
    middle = (bead + wheel.outside - corner) / 2
    half: list[Spot] = [(wheel.rim, wheel.seat), (wheel.rim, bead)]
    for step in range(1, _ROUND + 1):
        share = sin(step / _ROUND * pi / 2)
        half.append((wheel.rim + (wheel.section - wheel.rim) * share, bead + (middle - bead) * step / _ROUND))
    flat = wheel.section - corner
    for step in range(_ROUND + 1):
        turn = step / _ROUND * pi / 2
        half.append((flat + corner * cos(turn), wheel.outside - corner + corner * sin(turn)))
    inboard, outboard = [(wheel.center - x, y) for x, y in half], [(wheel.center + x, y) for x, y in reversed(half)]
    return [Line((*inboard, *outboard))]


def rim(wheel: WheelShape) -> list[Line]:
    """Flanges, bead seats and drop well; the steel's inside is a line of its own."""
    left, floor_left, floor_right, right = _well(wheel)
    low, high, top = wheel.center - wheel.rim, wheel.center + wheel.rim, wheel.seat + wheel.flange
    edges = wheel.center - wheel.wide, wheel.center + wheel.wide
    under = wheel.seat - wheel.steel
    outer: list[Spot] = [
        (edges[0], top), (low, top), (low, wheel.seat), (left, wheel.seat), (floor_left, wheel.floor),
        (floor_right, wheel.floor), (right, wheel.seat), (high, wheel.seat), (high, top), (edges[1], top),
    ]  # fmt: skip
    inner: list[Spot] = [
        (edges[0], top), (edges[0], under), (left, under), (floor_left, wheel.free),
        (floor_right, wheel.free), (right, under), (edges[1], under), (edges[1], top),
    ]  # fmt: skip
    return [Line(tuple(outer)), Line(tuple(inner))]


def _well(wheel: WheelShape) -> tuple[float, float, float, float]:
    """Along the axle: where the bead seats end, the floor between them begins and ends, and they begin again."""
    if wheel.well is None:
        seat_end = max(wheel.rim - _SEAT, 0.5 * wheel.rim)
        half = max(seat_end - (wheel.seat - wheel.floor), 0.25 * wheel.rim)
        return wheel.center - seat_end, wheel.center - half, wheel.center + half, wheel.center + seat_end
    low, high = wheel.well
    drop = wheel.seat - wheel.floor
    return max(low - drop, wheel.center - wheel.rim), low, high, min(high + drop, wheel.center + wheel.rim)


def disc(wheel: WheelShape, more: Values, bottom: float) -> list[Line]:
    """The disc from its bore out to the barrel, set out past the clamped part where it is known to be.

    One that stands outboard of the rim, as a pair's does, passes the brake before it is dished back.
    """
    thick, set_out = _disc_places(more)
    pad, out, top = _pad(wheel, more), _set_out_from(wheel, more), disc_top(wheel, more)
    face: list[Spot] = [(0.0, bottom), (0.0, pad), (set_out, out)]
    back = [(x + thick, y) for x, y in reversed(face)]
    if top == wheel.free:
        return [Line((*face, *inner_surface(wheel, set_out, set_out + thick), *back), closed=True)]
    out = 1 if set_out > wheel.center else -1  # which way it stands out of the rim
    near, far = (set_out, set_out + thick) if out > 0 else (set_out + thick, set_out)
    foot = _well(wheel)[2 if out > 0 else 1]
    run, rise = abs(near - foot), wheel.free - top
    slant = hypot(run, rise)
    edge = foot + out * min(thick * slant / rise, 0.3 * wheel.rim)
    # As thick along its slope, but inside the rim.
    dish = [(near, top), *inner_surface(wheel, foot, edge), (far, top + thick * (slant - rise) / run)]
    return [Line((*face, *(dish if out > 0 else reversed(dish)), *back), closed=True)]


def _disc_places(more: Values) -> tuple[float, float]:
    """How thick the disc is, and how far outboard of the mounting face its inner face stands beside the brake."""
    return more["disc_thickness"] or 0.008, more["disc_inner_face"] or 0.0


def _pad(wheel: WheelShape, more: Values) -> float:
    """Out to where the disc lies flat on the hub: a little past the nuts."""
    pad = (more["wheel_stud_circle"] or more["stud_circle"] or 1.2 * wheel.free) / 2 + 0.025
    return float(min(pad, 0.85 * wheel.free))


def _set_out_from(wheel: WheelShape, more: Values) -> float:
    return min(_pad(wheel, more) + 0.012, 0.95 * wheel.free)


def disc_top(wheel: WheelShape, more: Values) -> float:
    """The radius out to which the disc stands as it does beside the brake: to the barrel, if that is there at all."""
    thick, set_out = _disc_places(more)
    if wheel.center - wheel.wide < set_out + thick and set_out < wheel.center + wheel.wide:
        return wheel.free
    return min(max(_set_out_from(wheel, more), more["brake_radius"] or 0.0), 0.95 * wheel.free)


def outboard_edge(wheel: WheelShape, more: Values) -> float:
    """How far outboard anything of the wheel reaches: its rim, or the disc that stands out of it."""
    return max(wheel.high, sum(_disc_places(more)))


EXTRA = (
    "tread_width", "backspace", "well_depth", "thickness", "barrel_radius", "disc_thickness", "disc_inner_face",
    "brake_radius", "brake_face", "radial_clearance", "least_brake_gap", "wheel_bore", "hub_pilot",
    "wheel_stud_circle", "stud_circle", "designation", "paired_disc", "offset", "offset_face", "dual_spacing",
)  # fmt: skip

_APART = 0.032  # m; between two dimension lines

_MARGIN = 0.012  # m; from the rim to what is written beside it


def wheel_section(opened: OpenProject, fitment: str, axle: str) -> Scene:
    """The section of the wheel and tire of one fitment at one axle, with the brake in it where that is known."""
    title = f"wheel section ({drawing_of(fitment, axle)})"
    values = dict(zip(NEEDED, known_values(opened, fitment, axle, *NEEDED), strict=True))
    missing = missing_entries(opened, fitment, axle, *NEEDED)
    if missing:
        return Scene(title, "", missing=missing)
    more = dict(zip(EXTRA, known_values(opened, fitment, axle, *EXTRA), strict=True))
    wheel = wheel_shape(values, more)
    free = wheel.free
    style = opened.style
    bottom = (more["wheel_bore"] or more["hub_pilot"] or 0.5 * free) / 2
    brake, brake_words = _brake(opened, wheel, more, bottom)
    beside = outboard_edge(wheel, more) + _MARGIN
    labels = [
        Label((wheel.center, (wheel.seat + wheel.outside) / 2), f"{short(2 * wheel.outside, style)} tall"),
        Label((wheel.center - wheel.wide, wheel.seat), f"bead seat Ø {length(2 * wheel.seat, style)}", "right"),
        Label((beside, wheel.seat), f"barrel radius {length(free, style)}", "left"),
        Label((beside, (wheel.seat + wheel.outside) / 2), "outboard →", "left"),
    ]
    if more["disc_inner_face"] is not None:
        text = f"disc face {length(more['disc_inner_face'], style)} out"
        labels.append(Label((beside, bottom + 0.25 * (free - bottom)), text, "left"))
    dimensions = _axial(style, wheel, more, bottom)
    words = (
        f"Cut through the axle, outboard to the right: a rim {length(2 * wheel.rim, style)} between its bead seats, "
        f"offset {length(more['offset'], style)}; the tire is {length(2 * wheel.section, style)} wide and "
        f"{length(2 * wheel.outside, style)} tall. {brake_words}"
    )
    if wheel.between:
        words += pair_words(length(more["dual_spacing"], style), more["offset_face"])
    inner = [*tire(wheel), *rim(wheel), *disc(wheel, more, bottom)]
    lines = (*inner, *outer_wheel(wheel, inner), *brake.lines)
    return Scene(title, words, lines, (), (*labels, *brake.labels), (*dimensions, *brake.dimensions))


def _axial(style: Style, wheel: WheelShape, more: Values, bottom: float) -> list[Dimension]:
    """Dimensions along the axle: the tire's over the tread, the rim's below, each on a line of its own."""
    low, high = wheel.center - wheel.wide, wheel.center + wheel.wide
    face = offset_face(wheel, more)
    offset, stated = more["offset"], more["backspace"]
    rows = [
        (low, face, f"backspace {length(offset + wheel.wide if stated is None else stated, style)}"),
        (min(wheel.center, face), max(wheel.center, face), f"offset {length(offset, style)}"),
        (wheel.center - wheel.rim, wheel.center + wheel.rim, f"rim {length(2 * wheel.rim, style)}"),
        (low, high, f"overall {length(2 * wheel.wide, style)}"),
    ]
    over = Dimension(
        (wheel.center - wheel.section, wheel.outside),
        (wheel.center + wheel.section, wheel.outside),
        f"section {length(2 * wheel.section, style)}",
        _APART,
    )
    below = [
        Dimension((start, bottom), (end, bottom), text, -at * _APART) for at, (start, end, text) in enumerate(rows, 1)
    ]
    if not wheel.between:
        return [over, *below]
    planes = (wheel.center, wheel.outside), (2 * wheel.between - wheel.center, wheel.outside)
    return [over, Dimension(*planes, f"spacing {length(more['dual_spacing'], style)}", 2 * _APART), *below]


def offset_face(wheel: WheelShape, more: Values) -> float:
    """How far outboard of the hub the face lies that offset and backspace are taken to."""
    return wheel.between if more["offset_face"] == "disc" else 0.0


def _brake(opened: OpenProject, wheel: WheelShape, more: Values, bottom: float) -> tuple[Scene, str]:
    """The brake's envelope and its gap to the barrel, heavier where that is less than is to be kept."""
    radius, face, gap, least = (more[n] for n in ("brake_radius", "brake_face", "radial_clearance", "least_brake_gap"))
    if radius is None:
        return Scene("", ""), "Nobody has measured the brake."
    style = opened.style
    near = gap is not None and least is not None and gap < least
    front = 0.0 if face is None else face
    back = min(wheel.center - wheel.wide * 0.8, front - 0.05)
    line = Line(((back, bottom), (back, radius), (front, radius), (front, bottom)), "danger" if near else "hidden")
    beside = outboard_edge(wheel, more) + _MARGIN
    labels = (
        Label(((back + front) / 2, (bottom + radius) / 2), "brake"),
        Label((beside, bottom + 0.7 * (radius - bottom)), f"brake radius {length(radius, style)}", "left"),
    )
    if gap is None:
        return Scene("", "", (line,), labels=labels), f"The brake reaches {length(radius, style)} from the axle."
    inboard = wheel.center - wheel.wide
    text = f"{'TOO CLOSE: ' if near else ''}gap {length(gap, style)}"
    dimension = Dimension((inboard, radius), (inboard, wheel.free), text, _MARGIN)
    where = f"{length(gap, style)} inside the barrel" if gap >= 0 else f"{length(-gap, style)} into the barrel"
    words = f"The brake reaches {length(radius, style)} from the axle, {where}"
    if near and least is not None:
        words += f": too close, it needs {length(least, style)}"
    return Scene("", "", (line,), labels=labels, dimensions=(dimension,)), f"{words}."
