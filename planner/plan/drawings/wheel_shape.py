"""The shape of a wheel cut through the axle: tire, rim and disc, from what is entered and what is common.

Axial to the right (outboard) from the mounting face, radial up from the axle's centre line, in m. Flange height, the
bead seats and where the drop well lies are as they commonly are.
"""

from math import cos, pi, sin
from typing import Any, NamedTuple

from planner.plan.drawings.scene import Line, Spot

FLANGE = 0.0175  # m; the common height of a flange over its bead seat
_SEAT = 0.020  # m; the common width of a bead seat
_ROUND = 6  # straight runs in a quarter turn
NEEDED = ("section_width", "overall_diameter", "rim_width", "overall_width", "offset", "specified_rim_diameter")
Values = dict[str, Any]


class Wheel(NamedTuple):
    """The section's main places, in m: `centre` is the rim's centre plane, radii from the axle."""

    centre: float
    rim: float
    wide: float
    seat: float
    floor: float
    steel: float
    free: float
    section: float
    tread: float
    outside: float


def wheel_shape(values: Values, more: Values) -> Wheel:
    """From the values of `NEEDED`, all of them known, and those that refine it."""
    seat = values["specified_rim_diameter"] / 2
    steel = more["thickness"] or 0.006
    floor = seat - more["well_depth"] if more["well_depth"] else seat - 0.020
    free = more["barrel_radius"] or floor - steel
    return Wheel(
        centre=-values["offset"],
        rim=values["rim_width"] / 2,
        wide=values["overall_width"] / 2,
        seat=seat,
        floor=max(floor, free),
        steel=steel,
        free=free,
        section=values["section_width"] / 2,
        tread=min(more["tread_width"] or 0.85 * values["section_width"], values["section_width"]) / 2,
        outside=values["overall_diameter"] / 2,
    )


def tire(wheel: Wheel) -> list[Line]:
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
    return [Line(tuple(_both_sides(wheel.centre, half)))]


def _both_sides(centre: float, half: list[Spot]) -> list[Spot]:
    """The inboard half from its foot up, then the outboard one from its top down."""
    return [(centre - x, y) for x, y in half] + [(centre + x, y) for x, y in reversed(half)]


def rim(wheel: Wheel) -> list[Line]:
    """Flanges, bead seats and drop well; the steel's inside is a line of its own."""
    seat_end = max(wheel.rim - _SEAT, 0.5 * wheel.rim)
    well = max(seat_end - (wheel.seat - wheel.floor), 0.25 * wheel.rim)
    outer: list[Spot] = [
        (-wheel.wide, wheel.seat + FLANGE),
        (-wheel.rim, wheel.seat + FLANGE),
        (-wheel.rim, wheel.seat),
        (-seat_end, wheel.seat),
        (-well, wheel.floor),
    ]
    inner: list[Spot] = [(-wheel.wide, wheel.seat + FLANGE), (-wheel.wide, wheel.seat - wheel.steel)]
    inner += [(-seat_end, wheel.seat - wheel.steel), (-well, wheel.free)]
    found = []
    for half in (outer, inner):
        whole = [(wheel.centre + x, y) for x, y in half] + [(wheel.centre - x, y) for x, y in reversed(half)]
        found.append(Line(tuple(whole)))
    return found


def disc(wheel: Wheel, more: Values, bottom: float) -> list[Line]:
    """The disc from its bore out to the barrel, set out past the clamped part where it is known to be."""
    thick, set_out = more["disc_thickness"] or 0.008, more["disc_inner_face"] or 0.0
    pad = (more["wheel_stud_circle"] or more["stud_circle"] or 1.2 * wheel.free) / 2 + 0.025
    pad = min(pad, 0.85 * wheel.free)
    out = min(pad + 0.012, 0.95 * wheel.free)
    face: list[Spot] = [(0.0, bottom), (0.0, pad), (set_out, out), (set_out, wheel.free)]
    back = [(x + thick, y) for x, y in reversed(face)]
    return [Line((*face, *back), closed=True)]
