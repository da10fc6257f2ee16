"""The wheel's face as a wheel maker is sent it: holes, circle and bore with leaders, and a cut through one seat."""

from collections.abc import Iterator
from math import cos, pi, radians, sin, tan

from planner.plan.drawings.drawn_values import angle, drawing_of, known_values, missing_entries
from planner.plan.drawings.scene import Arc, Label, Line, Scene, Spot
from planner.plan.truck.project import OpenProject
from planner.quantities.quantity import Quantity
from planner.quantities.text import clean
from planner.sheets.order_text import drawn_text, ordered_text, own_value

NODES = (
    "wheel_stud_count", "stud_count", "wheel_stud_circle", "stud_circle", "wheel_bore", "hub_pilot", "stud_diameter",
    "wheel_seat", "wheel_seat_angle", "nut_seat", "nut_seat_angle", "register_gap", "disc_thickness",
)  # fmt: skip
_EDGE = 0.030  # m; of the disc drawn round the circle
LARGER = 2.5  # times as large as the rest of the drawing the seat is cut open
_LINE = 56  # characters beside the drawing
_SEATS = {"cone": "cone", "ball": "ball", "flat": "flat"}


def shop_face(opened: OpenProject, fitment: str, axle: str) -> Scene:
    """The stud circle of one fitment's wheel; of the hub as measured, and said so, where the wheel's is not entered."""
    title = f"Mounting face from outside ({drawing_of(fitment, axle)})"
    values = dict(zip(NODES, known_values(opened, fitment, axle, *NODES), strict=True))
    count = values["wheel_stud_count"] or values["stud_count"]
    circle = values["wheel_stud_circle"] or values["stud_circle"]
    if not count or not circle:
        missing = () if count else missing_entries(opened, fitment, axle, "stud_count")
        return Scene(
            title, "", missing=missing + (() if circle else missing_entries(opened, fitment, axle, "stud_circle"))
        )

    def said(node: str) -> str:
        return drawn_text(opened, fitment, axle, node)

    of_wheel = values["wheel_stud_circle"] is not None
    holes, seat_wide, seat_deep = (
        one.value if isinstance(one, Quantity) else None
        for one in (own_value(opened, fitment, axle, name) for name in ("hole_diameter", "seat_diameter", "seat_depth"))
    )
    radius, hole = circle / 2, (holes or values["stud_diameter"] or 0.014) / 2
    outside = radius + max(_EDGE, 3 * hole)
    spots = [_at(radius, 0.5 * pi - 2 * pi * at / count) for at in range(int(count))]
    arcs = [Arc((0.0, 0.0), outside), Arc((0.0, 0.0), radius, weight="center"), *(Arc(one, hole) for one in spots)]
    reach = 1.08 * outside
    lines = [Line(((-reach, 0.0), (reach, 0.0)), "center"), Line(((0.0, -reach), (0.0, reach)), "center")]
    for turn in (0.5 * pi - 2 * pi * at / count for at in range(int(count))):
        lines.append(Line((_at(radius - 2 * hole, turn), _at(radius + 2 * hole, turn)), "center"))
    notes: list[tuple[str, Spot]] = []
    right = [one for one in spots if one[0] > 1e-9] or spots
    thread = f" for studs Ø {said('stud_diameter')}" if values["stud_diameter"] else ""
    size = f" Ø {ordered_text(opened, fitment, axle, 'wheel.hole_diameter')}, equally spaced" if holes else ""
    notes.append((f"{int(count)} holes{size or f', equally spaced{thread}'}", _toward(right[0], hole)))
    whose = "" if of_wheel else "hub's "
    node = "wheel_stud_circle" if of_wheel else "stud_circle"
    notes.append((f"{whose}bolt circle Ø {said(node)}", _at(radius, 0.5 * pi - 1.5 * 2 * pi / count)))
    if values["wheel_bore"]:
        arcs.append(Arc((0.0, 0.0), values["wheel_bore"] / 2))
        notes.append((f"bore Ø {said('wheel_bore')}", _at(values["wheel_bore"] / 2, -0.06)))
    if values["hub_pilot"]:
        near = values["register_gap"] is not None and values["register_gap"] < 0
        arcs.append(Arc((0.0, 0.0), values["hub_pilot"] / 2, weight="danger" if near else "hidden"))
        notes.append((f"hub's pilot Ø {said('hub_pilot')}", _at(values["hub_pilot"] / 2, -0.5)))
        if near:
            notes.append((f"BORE TOO SMALL by {said('register_gap').lstrip('-')}", _at(values["hub_pilot"] / 2, -0.6)))
    beside = outside + 0.035
    step = 2 * outside / max(6, len(notes) + 2)
    labels = [
        Label((beside, outside - (0.5 + at) * step), _folded(text), "left", spot)
        for at, (text, spot) in enumerate(notes)
    ]
    seat = str(values["wheel_seat"] or "")
    thick = values["disc_thickness"] or 0.010
    detail = _detail((beside + 0.11, -outside), seat, values["wheel_seat_angle"], thick, hole, seat_wide, seat_deep)
    labels += [Label((beside + 0.11, -outside - 0.022), _seat_words(seat, values["wheel_seat_angle"]))]
    nut = values["nut_seat"]
    if nut and (nut, values["nut_seat_angle"]) != (values["wheel_seat"], values["wheel_seat_angle"]):
        text = f"the customer's nuts: {clean(str(nut))}"
        text += f", {angle(values['nut_seat_angle'])}" if values["nut_seat_angle"] else ""
        labels.append(Label((beside, -0.55 * outside), text, "left"))
    words = f"From outside: {'; '.join(text for text, _ in notes)}; {_seat_words(seat, values['wheel_seat_angle'])}."
    return Scene(title, words, (*lines, *detail), tuple(arcs), tuple(labels))


def _folded(text: str) -> str:
    """Both systems of units under each other where they are too long for one line: nothing of a value is cut off."""
    return text.replace(" (", "\n(") if len(text) > _LINE else text


def _at(radius: float, turn: float) -> Spot:
    return radius * cos(turn), radius * sin(turn)


def _toward(spot: Spot, radius: float) -> Spot:
    """The side of a hole that looks to the notes."""
    return spot[0] + radius * cos(0.5), spot[1] + radius * sin(0.5)


def _seat_words(seat: str, turn: float | None) -> str:
    if not seat:
        return "nut seat not known"
    cone = f", {angle(turn)} included" if turn and seat == "cone" else ""
    return f"nut seat, {LARGER:g} times as large: {clean(seat)}{cone}"


def _detail(
    at: Spot, seat: str, turn: float | None, thick: float, hole: float, seat_wide: float | None, seat_deep: float | None
) -> Iterator[Line]:
    """The disc cut through one hole, so many times as large, the nut's side up.

    `turn` is the angle of a cone, the sizes are in m; what of the seat is not known is None.
    """
    if seat not in _SEATS:
        return
    x, y = at
    half, high, wide = hole * LARGER, thick * LARGER, 0.055
    deep = min(seat_deep * LARGER, high) if seat_deep else 0.6 * high
    out = half
    if seat == "cone":
        out = half + deep * tan((turn or radians(60)) / 2)
        out = max(half, seat_wide / 2 * LARGER) if seat_wide else out
    elif seat == "ball":
        out = half + 0.7 * deep
    for side in (-1, 1):
        slope = [(half, high - deep), (out, high)]
        if seat == "ball":
            slope = [
                (half + (out - half) * (1 - cos(t * pi / 12)), high - deep * (1 - sin(t * pi / 12))) for t in range(7)
            ]
        if seat == "flat":
            slope = [(half, high)]
        edge = [(wide, 0.0), (half, 0.0), *slope, (wide, high)]
        yield Line(tuple((x + side * dx, y + dy) for dx, dy in edge), closed=True, cut=True)
    yield Line(((x, y - 0.008), (x, y + high + 0.02)), "center")
