"""The wheel cut through the axle as a wheel maker is sent it: every dimension that he needs, with its tolerance.

The half above the axle's center line, without the tire, in the shape that planner/plan/drawings has it. Every value is
written as the order's own table has it, so that drawing and table cannot differ.
"""

from collections.abc import Iterator

from planner.plan.drawings.drawn_values import drawing_of, known_values, missing_entries
from planner.plan.drawings.scene import Dimension, Label, Line, Scene, Spot, Weight
from planner.plan.drawings.wheel_section import (
    EXTRA,
    NEEDED,
    Values,
    WheelShape,
    disc,
    disc_top,
    offset_face,
    outboard_edge,
    outer_wheel,
    pair_words,
    rim,
    wheel_shape,
)
from planner.plan.truck.project import OpenProject
from planner.quantities.quantity import Quantity
from planner.sheets.order_text import drawn_text, own_value

_TIRE = ("section_width", "overall_diameter")  # not drawn here: an order can wait for less
_ROW = 0.030  # m; between two dimension lines
_NOTE = 0.032  # m; between two texts with a leader
_BESIDE = 0.020  # m; from the rim to the first dimension line
_WIDER = 1.6  # times as far apart in the drawing of a pair, which is twice as wide on the same paper


class _Said:
    """The values of one end of one fitment, in numbers and in the words of the order."""

    def __init__(self, opened: OpenProject, fitment: str, axle: str) -> None:
        self.opened, self.at = opened, (fitment, axle)
        names = (*NEEDED, *EXTRA, "face_clearance", "stud_diameter", "flange_height")
        self.values: Values = dict(zip(names, known_values(opened, fitment, axle, *names), strict=True))

    def __call__(self, node: str) -> str:
        return drawn_text(self.opened, *self.at, node)

    def knows(self, node: str) -> bool:
        return bool(self(node))


def shop_section(opened: OpenProject, fitment: str, axle: str) -> Scene:
    """The section of one fitment's wheel at one axle, with the envelope of the brake that it goes over."""
    title = f"Wheel section ({drawing_of(fitment, axle)}), outboard to the right"
    missing = missing_entries(opened, fitment, axle, *(node for node in NEEDED if node not in _TIRE))
    if missing:
        return Scene(title, "", missing=missing)
    said = _Said(opened, fitment, axle)
    values = said.values
    wheel = _as_entered(wheel_shape(values | {node: values[node] or 0.0 for node in _TIRE}, values), said)
    bottom = (values["wheel_bore"] or values["hub_pilot"] or 0.5 * wheel.free) / 2
    low, edge = wheel.center - wheel.wide, outboard_edge(wheel, values)
    outer, inner = rim(wheel)
    steel = [Line((*outer.points, *reversed(inner.points)), closed=True), *disc(wheel, values, bottom)]
    lines = [
        *(one._replace(cut=True) for one in steel),
        *outer_wheel(wheel, steel),
        Line(((low - 0.01, 0.0), (edge + 0.01, 0.0)), "center"),
        Line(((wheel.center, -0.005), (wheel.center, wheel.seat + wheel.flange)), "center"),
        *_hole(values, wheel),
        *_brake(values, low),
    ]
    dimensions = (*_across(said, wheel), *_inboard(said, wheel, low))
    words = (
        f"Half of the wheel cut through the axle, outboard to the right. Rim {said('rim_width')} between the bead "
        f"seats, {said('overall_width')} over all, backspace {said('backspace')}, offset {said('offset')}, bead seat "
        f"diameter {said('specified_rim_diameter')}."
    )
    if values["brake_radius"] is not None:
        words += f" The brake reaches {said('brake_radius')} from the axle"
        words += f"; the gap to the barrel is {said('radial_clearance')}." if said.knows("radial_clearance") else "."
    else:
        words += " Nobody has measured the brake."
    if wheel.between:
        words += pair_words(said("dual_spacing"), values["offset_face"])
    return Scene(title, words, tuple(lines), (), tuple(_labels(said, wheel, bottom, edge)), dimensions)


def _as_entered(wheel: WheelShape, said: _Said) -> WheelShape:
    """The shape with what of it no formula reads: how high its flanges are, and where its drop center lies."""
    if said.knows("flange_height"):
        wheel = wheel._replace(flange=said.values["flange_height"])
    width, position = (own_value(said.opened, *said.at, name) for name in ("well_width", "well_position"))
    if isinstance(width, Quantity) and isinstance(position, Quantity):
        middle = wheel.center + wheel.wide - position.value
        wheel = wheel._replace(well=(middle - width.value / 2, middle + width.value / 2))
    return wheel


def _hole(values: Values, wheel: WheelShape) -> Iterator[Line]:
    """A stud hole in the disc, where the circle is known."""
    circle = values["wheel_stud_circle"] or values["stud_circle"]
    thick = values["disc_thickness"] or 0.008
    if circle and circle / 2 < 0.9 * wheel.free:
        half = (values["stud_diameter"] or 0.014) / 2
        yield Line(((-0.012, circle / 2), (thick + 0.012, circle / 2)), "center")
        for side in (-half, half):
            yield Line(((0.0, circle / 2 + side), (thick, circle / 2 + side)), "thin")


def _brake(values: Values, low: float) -> Iterator[Line]:
    """What the brake fills, heavier where that is nearer than it may be."""
    radius = values["brake_radius"]
    if radius is not None:
        back, front = _back(values, low), values["brake_face"] or 0.0
        weight: Weight = "danger" if _near(values) else "hidden"
        yield Line(((back, 0.0), (back, radius), (front, radius), (front, 0.0)), weight)


def _back(values: Values, low: float) -> float:
    """Where the brake's drawing ends inboard: how far it goes on there is of no account."""
    return min(low + 0.03, (values["brake_face"] or 0.0) - 0.05)


def _near(values: Values) -> bool:
    gap, least = values["radial_clearance"], values["least_brake_gap"]
    return gap is not None and least is not None and bool(gap < least)


def _across(said: _Said, wheel: WheelShape) -> Iterator[Dimension]:
    """Along the axle: the rim's widths over the flanges, a pair's spacing, offset and backspace below the center."""
    row = _ROW * (_WIDER if wheel.between else 1.0)
    top, low, high = wheel.seat + wheel.flange, wheel.center - wheel.wide, wheel.center + wheel.wide
    left, right = wheel.center - wheel.rim, wheel.center + wheel.rim
    yield Dimension((left, top), (right, top), f"rim {said('rim_width')}", row)
    yield Dimension((low, top), (high, top), f"overall {said('overall_width')}", 2 * row)
    face = offset_face(wheel, said.values)
    if abs(wheel.center) > 1e-6:
        ends = sorted((wheel.center, face))
        yield Dimension((ends[0], 0.0), (ends[1], 0.0), f"offset {said('offset')}", -row)
    ends = sorted((low, face))
    yield Dimension((ends[0], 0.0), (ends[1], 0.0), f"backspace {said('backspace')}", -2 * row)
    if wheel.between:
        planes = (wheel.center, top), (2 * wheel.between - wheel.center, top)
        yield Dimension(*planes, f"spacing of the pair {said('dual_spacing')}", 3 * row)


def _inboard(said: _Said, wheel: WheelShape, low: float) -> Iterator[Dimension]:
    """From the center line, inboard of the rim: the room over the brake, the brake, the bead seat."""
    values = said.values
    beside = min(low, 0.0, _back(values, low)) - _BESIDE  # disc and brake may stand further in than the rim
    column = 1.3 * _ROW * (_WIDER if wheel.between else 1.0)  # the texts stand upright beside each other
    if values["brake_radius"] is not None:
        back, radius = _back(values, low), values["brake_radius"]
        if said.knows("radial_clearance"):
            text = f"{'TOO CLOSE: ' if _near(values) else ''}gap {said('radial_clearance')}"
            yield Dimension((back, radius), (back, wheel.free), text, back - beside)
        yield Dimension((back, 0.0), (back, radius), f"brake R {said('brake_radius')}", back - beside + column, True)
    seat = low + wheel.wide - wheel.rim
    text = f"bead seat Ø {said('specified_rim_diameter')}"
    yield Dimension((seat, 0.0), (seat, wheel.seat), text, seat - beside + 2.2 * column, True)


def _labels(said: _Said, wheel: WheelShape, bottom: float, edge: float) -> Iterator[Label]:
    """What is told with a leader, outboard of all that is drawn, the uppermost first so that no two leaders cross."""
    values = said.values
    thick, out = values["disc_thickness"] or 0.008, values["disc_inner_face"] or 0.0
    top = disc_top(wheel, values)
    well = wheel.well or (wheel.center - 0.4 * wheel.rim, wheel.center + 0.4 * wheel.rim)
    notes: list[tuple[str, Spot]] = []
    for node, words, spot in (
        ("flange_thickness", "flange, thickness {}", (wheel.high - 0.003, wheel.seat + 0.8 * wheel.flange)),
        ("flange_height", "flange, height {}", (wheel.high, wheel.seat + 0.4 * wheel.flange)),
        ("well_depth", "drop center, depth {}", (well[1] - 0.25 * (well[1] - well[0]), wheel.floor)),
        ("wheel.well_width", "drop center, width {}", (well[1] - 0.1 * (well[1] - well[0]), wheel.floor)),
        ("wheel.well_position", "its middle from the outboard edge {}", (sum(well) / 2, wheel.floor)),
        ("barrel_radius", "barrel inside R {}", (wheel.center + 0.3 * wheel.rim, wheel.free)),
        ("disc_inner_face", "disc face, outboard by {}", (out + thick, 0.93 * top)),
        ("face_clearance", "room at the brake's face {}", (out + thick, 0.86 * top)),
        ("wheel_stud_circle", "bolt circle Ø {}", (thick + 0.012, (values["wheel_stud_circle"] or 0.0) / 2)),
        ("disc_thickness", "disc, thickness {}", (thick, bottom + 0.15 * (wheel.free - bottom))),
        ("wheel_bore", "bore Ø {}", (thick, bottom)),
    ):
        if said.knows(node):
            told = words.replace(" {}", "\n{}") if wheel.between else words  # a pair needs the width for itself
            notes.append((told.format(said(node)).replace(" (", "\n("), spot))
    first = max(wheel.seat + wheel.flange + 0.04, len(notes) * _NOTE)  # the last above the center line's own
    for number, (text, spot) in enumerate(sorted(notes, key=lambda one: -one[1][1])):
        at = edge + 2 * _BESIDE, first - number * _NOTE
        yield Label(at, text, "left", spot)
    if values["brake_radius"] is None:
        yield Label((edge + 0.5 * _BESIDE, 0.35 * bottom), "NOBODY HAS MEASURED THE BRAKE", "left")
    face = "face on the hub" if wheel.between and values["offset_face"] == "hub" else "face between the discs"
    yield Label(
        (offset_face(wheel, values), -2.6 * (_WIDER if wheel.between else 1.0) * _ROW),
        face if wheel.between else "mounting face",
    )
    yield Label((edge + 0.012, 0.0), "axle's center line", "left")
