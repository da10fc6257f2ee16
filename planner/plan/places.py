"""Where in the sweep something happens, in words that a person can go and look at."""

from math import degrees

from planner.quantities.kinds import DISTANCE
from planner.quantities.show import Style, show, show_plain
from planner.quantities.text import clean
from planner.trade.fit.motion import Obstacle
from planner.trade.fit.sweep import Clearance

_SIDES = {"left": "left ", "right": "right ", "both": "either side, "}
_STRAIGHT = 0.05  # degrees; less than this is straight ahead
_RIDE_HEIGHT = 5e-4  # m


def words(style: Style, axle: str, side: str, steers: bool, obstacle: Obstacle, found: Clearance) -> str:
    """`left front, wheel turned out 24°, axle at 60 mm bump, crossed: inner shoulder to the frame rail`."""
    pieces = [f"{_SIDES[side]}{axle}"]
    place = found.place
    if steers and obstacle.rides != "knuckle":
        turned = degrees(place.steer)
        pieces.append(
            "wheel straight ahead" if abs(turned) < _STRAIGHT else f"wheel turned {_way(turned)} {abs(turned):.1f}°"
        )
    if obstacle.rides == "body":
        pieces.append(_travel(place.travel, style))
        if place.case == "crossed" and abs(place.travel) >= _RIDE_HEIGHT:
            pieces.append("crossed")
    side_of_tire = {"inboard": "inner ", "outboard": "outer "}.get(str(found.side), "")
    part = "tread" if found.part == "tread" else f"{side_of_tire}{found.part}"
    where = f"{', '.join(pieces)}: {part} to {clean(obstacle.name)}"
    if found.finished:
        return where
    proven = show(max(0.0, found.proven), DISTANCE, style)
    return f"{where} (the sweep ran out of its budget: no less than {proven} is proven)"


def _way(turned: float) -> str:
    """Positive is the front of the wheel inboard."""
    return "in" if turned > 0 else "out"


def _travel(travel: float, style: Style) -> str:
    if abs(travel) < _RIDE_HEIGHT:
        return "axle at ride height"
    return f"axle at {show_plain(abs(travel), DISTANCE, style)} {'bump' if travel > 0 else 'droop'}"
