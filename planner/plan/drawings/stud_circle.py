"""The wheel's mounting face seen from outside: studs, circle, bore, seats, and the hub's pilot behind."""

from math import cos, pi, sin

from planner.plan.drawings.drawn_values import angle, drawing_of, known_values, length, missing_entries
from planner.plan.drawings.scene import Arc, Dimension, Label, Scene
from planner.plan.truck.project import OpenProject
from planner.quantities.text import clean

EXTRA = (
    "wheel_stud_count", "stud_count", "wheel_stud_circle", "stud_circle", "wheel_bore", "hub_pilot", "stud_diameter",
    "wheel_seat", "wheel_seat_angle", "nut_seat", "nut_seat_angle", "register_gap",
)  # fmt: skip
_EDGE = 0.030  # m; of the disc drawn round the circle
_APART = 0.020  # m; from the disc to a dimension line


def stud_circle(opened: OpenProject, fitment: str, axle: str) -> Scene:
    """The bolt circle of one fitment's wheel, or the hub's own where the wheel's is not entered."""
    title = f"bolt circle ({drawing_of(fitment, axle)})"
    (
        wheel_count, hub_count, wheel_circle, hub_circle, bore, pilot, stud, seat, seat_angle, nut, nut_angle, gap
    ) = known_values(opened, fitment, axle, *EXTRA)  # fmt: skip
    count, circle = wheel_count or hub_count, wheel_circle or hub_circle
    missing = () if count else missing_entries(opened, fitment, axle, "stud_count")
    missing += () if circle else missing_entries(opened, fitment, axle, "stud_circle")
    if missing or count is None or circle is None:
        return Scene(title, "", missing=tuple(dict.fromkeys(missing)))
    style, radius = opened.style, circle / 2
    outside = radius + max(_EDGE, (stud or 0.0) * 1.5)
    arcs = [Arc((0.0, 0.0), outside), Arc((0.0, 0.0), radius, weight="thin")]
    hole = (stud or 0.014) / 2
    # The first stud on top, so that the circle can be dimensioned upright where the count is even.
    spots = [(radius * sin(2 * pi * at / count), radius * cos(2 * pi * at / count)) for at in range(int(count))]
    arcs += [Arc(spot, hole) for spot in spots]
    if bore:
        arcs.append(Arc((0.0, 0.0), bore / 2))
    if pilot:
        arcs.append(Arc((0.0, 0.0), pilot / 2, weight="danger" if gap is not None and gap < 0 else "hidden"))
    beside = outside + _APART
    dimensions = [Dimension((0.0, -radius), (0.0, radius), f"circle Ø {length(circle, style)}", beside)]
    if bore:
        dimensions.append(Dimension((0.0, -bore / 2), (0.0, bore / 2), f"bore Ø {length(bore, style)}", -beside))
    labels = [Label((0.0, 0.0), f"{int(count)} studs")]
    notes = []
    if stud:
        notes.append(f"studs Ø {length(stud, style)}")
    if seat:
        notes.append(f"seats: {clean(str(seat))}{f', {angle(seat_angle)}' if seat_angle else ''}")
    if nut and (nut, nut_angle) != (seat, seat_angle):
        notes.append(f"nuts: {clean(str(nut))}{f', {angle(nut_angle)}' if nut_angle else ''}")
    if pilot:
        notes.append(f"hub pilot Ø {length(pilot, style)}")
    if gap is not None:
        notes.append(f"bore {length(abs(gap), style)} {'wider' if gap >= 0 else 'TOO SMALL'}")
    labels += [
        Label((beside, outside * (0.95 - 0.28 * at) if at < 2 else -outside * (0.35 + 0.28 * (at - 2))), note, "left")
        for at, note in enumerate(notes)
    ]
    whose = "the wheel's" if wheel_circle else "the hub's"
    noted = f"; {', '.join(notes)}" if notes else ""
    words = f"From outside: {int(count)} studs on a circle of {length(circle, style)}, {whose}{noted}."
    if wheel_circle and hub_circle:
        words += f" The hub's circle as measured: {length(hub_circle, style)}."
    return Scene(title, words, (), tuple(arcs), tuple(labels), tuple(dimensions))
