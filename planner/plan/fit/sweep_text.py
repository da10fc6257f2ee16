"""Where in the sweep something happens, and why it cannot be made, in words that a person can go and look at."""

from __future__ import annotations

from math import degrees

from planner.plan.fit.swept_motion import KINGPIN_READINGS
from planner.plan.fit.swept_wheel import SHAPES
from planner.plan.truck.project import OpenProject
from planner.quantities.kinds import DISTANCE, LENGTH
from planner.quantities.show import Style, show, show_plain
from planner.quantities.text import clean
from planner.trade.fit.motion import SweepPlace, SweptObstacle, Unfit
from planner.trade.fit.sweep import Clearance

_SIDES = {"left": "left ", "right": "right ", "both": "either side, "}

_STRAIGHT = 0.05  # degrees; less than this is straight ahead

_RIDE_HEIGHT = 5e-4  # m
AT_REST = "at ride height"


def sweep_location(
    style: Style,
    axle: str,
    side: str,
    steers: bool,
    obstacle: SweptObstacle,
    found: Clearance,
    named: bool = True,
) -> str:
    """`left front, wheel turned out 24°, this wheel up 4.1 in, the far one down 2 in: inner shoulder to the rail`.

    Of a pair it says which tire: `the inner tire's outboard sidewall`. Not `named`, it ends with the part of the
    tire: for where the obstacle's name stands already.
    """
    pieces = [f"{_SIDES[side]}{axle}"]
    place = found.place
    if steers and obstacle.rides != "knuckle":
        turned = degrees(place.steer)
        pieces.append(
            "wheel straight ahead" if abs(turned) < _STRAIGHT else f"wheel turned {_way(turned)} {abs(turned):.1f}°"
        )
    if obstacle.rides == "body":
        pieces.append(_heights(place, style))
    tire = found.tire
    sides = {"inboard": "inboard ", "outboard": "outboard "} if tire else {"inboard": "inner ", "outboard": "outer "}
    part = "tread" if found.part == "tread" else f"{sides.get(str(found.side), '')}{found.part}"
    part = f"the {tire} tire's {part}" if tire else part
    where = f"{', '.join(pieces)}: {part}" + (f" to {clean(obstacle.name)}" if named else "")
    if found.finished:
        return where
    proven = show(max(0.0, found.proven), DISTANCE, style)
    return f"{where} (the sweep ran out of budget: it proved no less than {proven})"


def short_location(style: Style, steers: bool, obstacle: SweptObstacle, place: SweepPlace) -> str:
    """How the wheel stands there alone, for a column: `26° out, up 5.95 in`; the far wheel is left out."""
    if obstacle.rides == "knuckle":
        return "turns with the wheel"
    turned = degrees(place.steer)
    pieces = [f"{abs(turned):.0f}° {_way(turned)}" if abs(turned) >= 0.5 else "straight"] if steers else []
    if obstacle.rides == "body":
        height = _height(place.rise, style)
        pieces.append(f"both {height}" if _is_level(place) and height != AT_REST else height)
    return ", ".join(pieces) or "moves with the axle"


def _way(turned: float) -> str:
    """Positive is the front of the wheel inboard."""
    return "in" if turned > 0 else "out"


def _heights(place: SweepPlace, style: Style) -> str:
    """Where the two wheels stand against ride height."""
    this, far = _height(place.rise, style), _height(place.far_rise, style)
    if _is_level(place):
        return f"axle {this}" if this == AT_REST else f"both wheels {this}"
    return f"this wheel {this}, the far one {far}"


def _is_level(place: SweepPlace) -> bool:
    return abs(place.rise - place.far_rise) < _RIDE_HEIGHT


def _height(rise: float, style: Style) -> str:
    if abs(rise) < _RIDE_HEIGHT:
        return AT_REST
    return f"{'up' if rise > 0.0 else 'down'} {show_plain(abs(rise), DISTANCE, style)}"


# What the sweep calls a value, and the node that a person's entries give it by.
NODES = {
    **{name: name for name in (*KINGPIN_READINGS, "stops_apart", "droop_apart", "camber", "offset")},
    **{shape: node for node, shape in SHAPES.items() if shape != "weights"},
    "steer_out": "stop_angle",
    "steer_in": "stop_angle_out",
    "bump": "bump_travel",
    "droop": "droop_travel",
    "rim_width": "overall_width",
}


def sweep_error_text(opened: OpenProject, fitment: str, axle: str, fault: ValueError) -> str:
    """`axles.front.travel.bump: read 14 in ± 2 in; 16 in is impossible; accepted: from 0 to 15 in`, as they write."""
    tell = opened.sheet.tell
    if tell is None or not isinstance(fault, Unfit) or fault.entry not in NODES or not isinstance(fault.read, float):
        return str(fault)
    node = NODES[fault.entry]
    spot = opened.spot(node, fitment=fitment, axle=axle)
    if node == "stop_angle_out" and opened.sheet.value(spot) is None:
        spot = opened.spot("stop_angle", fitment=fitment, axle=axle)  # it is swept as far as the inner one
    name, text = tell(opened.sheet, spot)
    read = show(fault.read, opened.sheet.catalog.kind(spot.node) or LENGTH, opened.style)
    lengths = {name: show(length, LENGTH, opened.style) for name, length in fault.lengths.items()}
    return f"{clean(name)}: read {clean(text)}; {read} is impossible; accepted: {fault.accepted.format_map(lengths)}"
