"""Steer × cross travel: how near the nearest obstacle comes at any height, and where in the whole sweep it is nearest.

The cells are looked at, not proven: a place between two cells may be nearer. The worst place is the sweep's own, which
is proven: the cell nearest to it is marked, and says that.
"""

from collections.abc import Mapping, Sequence
from itertools import cycle
from math import degrees, hypot
from string import ascii_lowercase
from typing import NamedTuple

from planner.plan.drawings.drawn_values import drawing_of, length
from planner.plan.drawings.scene import Grid, Tone
from planner.plan.fit.clearances import clearance
from planner.plan.fit.run_sweep import unmeasured_key
from planner.plan.fit.sweep_text import sweep_error_text
from planner.plan.fit.sweep_text import sweep_location as place_words
from planner.plan.fit.swept_tires import ready_tires, swept_tires
from planner.plan.fit.swept_wheel import SweptWheel, keys_behind, swept_obstacle
from planner.plan.truck.project import OpenProject, PlannedObstacle
from planner.quantities.show import Style
from planner.quantities.text import clean
from planner.trade.fit.limits import most_roll
from planner.trade.fit.motion import Motion, SweptObstacle
from planner.trade.fit.section import TireSection, probe
from planner.trade.fit.swing import SLIP, legs, swing
from planner.trade.fit.window import evenly

SIGNS = (("!", "closer than you want"), ("×", "touches"))
_ALONG = 8  # spaces along an edge at which it is looked at
_HEIGHTS = 4  # spaces between this wheel's least and greatest rise
_NEAR = 1.5  # times what an obstacle must keep: nearer than this is near


class Seen(NamedTuple):
    """The obstacle with least to spare at one cell, how far it is, and what it must keep."""

    spare: float
    distance: float
    required: float
    name: str


def size(width: int, height: int) -> tuple[int, int]:
    """How many rows and columns a picture of so many cells has room for."""
    return max(3, min(15, (height - 6) // 2 * 2 + 1)), max(3, min(17, (width - 12) // 14 * 2 + 1))


def clearance_map(opened: OpenProject, fitment: str, axle: str, rows: int = 13, columns: int = 9) -> Grid:
    """Rows from this wheel highest over the far one to it lowest, columns from full steer out to full steer in."""
    title = f"clearance, steered and crossed ({drawing_of(fitment, axle)})"
    try:
        tires = swept_tires(opened, fitment, axle)
    except ValueError as fault:
        said = f"These entries can't all be true: {sweep_error_text(opened, fitment, axle, fault)}."
        return Grid(title, said)
    lacking = [spot for tire in tires.values() if not isinstance(tire, SweptWheel) for spot in tire]
    if lacking:
        return Grid(title, missing=tuple(map(opened.asked_for, keys_behind(opened, lacking))))
    ready = ready_tires(tires)
    here = ready[0]
    lost = opened.fit_fault(axle, fitment)
    if lost is not None:
        return Grid(title, missing=(opened.asked_for(lost),))
    planned = opened.obstacles_of(fitment)
    obstacles = _obstacles(planned, axle, here)
    if not obstacles:
        lacks = [unmeasured_key(one) for one in planned.values() if one.measured.axle == axle] or ["obstacles"]
        return Grid(title, missing=tuple(map(opened.asked_for, lacks)))
    motion, style = here.motion, opened.style
    steers = _through(-motion.steer_out, motion.steer_in, columns)
    most = most_roll(motion) * motion.face_to_face
    crossings = tuple(reversed(_through(-most, most, rows)))
    moving = [one for one in obstacles if one.rides != "knuckle"]
    seen = _looked(motion, [tire.section for tire in ready], moving or obstacles, steers, crossings)
    worst, words, own = _worst(opened, fitment, axle, ready, obstacles)
    row = min(range(len(crossings)), key=lambda at: abs(crossings[at] - worst[1]))
    column = min(range(len(steers)), key=lambda at: abs(steers[at] - worst[0]))
    if own.name in {one.name for one in moving or obstacles} and own.spare < seen[row][column].spare:
        seen[row][column] = own  # the sweep sees what lies between the cells
    names = dict.fromkeys(one.name for line in seen for one in line)
    letters = dict(zip(names, cycle(ascii_lowercase), strict=False))
    cells = tuple(tuple(_mark(one, style) + letters[one.name] for one in line) for line in seen)
    return Grid(
        title,
        words,
        "← front out   steer   front in →" if len(steers) > 1 else "straight ahead",
        "over far wheel",
        tuple("0" if abs(one) < 1e-9 else f"{abs(degrees(one)):.0f}°" for one in steers),
        tuple(_height(one, style) for one in crossings),
        cells,
        tuple(tuple(one.distance for one in line) for line in seen),
        (
            ("[ ]", "worst"),
            *((sign, meaning) for sign, meaning in SIGNS if any(sign in mark for line in cells for mark in line)),
            *((letter, clean(name)) for name, letter in letters.items()),
        ),
        (row, column),
        tones=tuple(tuple(_tone(one) for one in line) for line in seen),
    )


def _obstacles(planned: Mapping[str, PlannedObstacle], axle: str, here: SweptWheel) -> list[SweptObstacle]:
    made = [swept_obstacle(one, label, here) for label, one in planned.items() if one.measured.axle == axle]
    return [one for one in made if one is not None]


def _through(low: float, high: float, count: int) -> tuple[float, ...]:
    """Evenly from low to high with nothing itself among them, where it lies between."""
    if high - low < 1e-9:
        return (0.0,)
    step = (high - low) / (count - 1)
    below = max(1, round(-low / step)) if low < -1e-9 else 0
    above = max(1, count - 1 - below) if high > 1e-9 else 0
    down = evenly(low, 0.0, below + 1)[:-1] if below else ()
    up = evenly(0.0, high, above + 1)[1:] if above else ()
    return (*down, 0.0, *up)


def _looked(
    motion: Motion,
    sections: Sequence[TireSection],
    obstacles: list[SweptObstacle],
    steers: tuple[float, ...],
    crossings: tuple[float, ...],
) -> list[list[Seen]]:
    """The least to spare over tires, obstacles, heights of the axle and places along an edge."""
    probes = [probe(section) for section in sections]
    seen = [[Seen(1e9, 1e9, 0.0, "")] * len(steers) for _ in crossings]
    for one in obstacles:
        places = [step / _ALONG for step in range(_ALONG + 1)] if any(one.edge) else [0.0]
        strips = [(leg, swing(motion, one, leg)) for leg in legs(motion, one.rides)]
        for row, crossing in enumerate(crossings):
            roll = 0.0 if one.rides != "body" else crossing / motion.face_to_face
            see = next(see for leg, see in strips if leg.low - SLIP <= roll <= leg.high + SLIP)
            shares = [0.0] if one.rides != "body" else [step / _HEIGHTS for step in range(_HEIGHTS + 1)]
            for column, steer in enumerate(steers):
                least = min(
                    feel(y, hypot(x, z))[0]
                    for share in shares
                    for along in places
                    for x, y, z in [see(steer, share, roll, along)[:3]]
                    for feel in probes
                )
                if least - one.required < seen[row][column].spare:
                    seen[row][column] = Seen(least - one.required, least, one.required, one.name)
    return seen


def _worst(
    opened: OpenProject,
    fitment: str,
    axle: str,
    tires: Sequence[SweptWheel],
    obstacles: list[SweptObstacle],
) -> tuple[tuple[float, float], str, Seen]:
    """Steer and cross travel of the sweep's worst place, it in words, and what is nearest there."""
    found = [clearance(tire, one).found for one in obstacles for tire in tires]
    least = min(found, key=lambda one: one.distance - one.obstacle.required)
    measured = opened.obstacles_of(fitment)[least.obstacle.name].measured
    where = place_words(opened.style, axle, measured.side, opened.steers(axle, fitment), least.obstacle, least)
    inches = opened.style.system == "inch"
    words = (
        f"How far {'either tire' if least.tire else 'the tire'} stays from the obstacle with least to spare, in "
        f"{'inches' if inches else 'millimeters'}, as it steers and the axle crosses, at any height. The worst: "
        f"{length(least.distance, opened.style)} at {clean(where)}; you want "
        f"{length(least.obstacle.required, opened.style)}."
    )
    riding: dict[str, float] = {}
    for one in found:
        name = one.obstacle.name
        if one.obstacle.rides == "knuckle":
            riding[name] = min(one.distance, riding.get(name, one.distance))
    if riding and len(riding) < len(obstacles):
        said = (f"{clean(name)} {length(far, opened.style)}" for name, far in riding.items())
        words += f" Not on the map, since it turns with the wheel and stays just as close: {'; '.join(said)}."
    required = least.obstacle.required
    nearest = Seen(least.distance - required, least.distance, required, least.obstacle.name)
    return (least.place.steer, least.place.rise - least.place.far_rise), words, nearest


def _mark(one: Seen, style: Style) -> str:
    number = f"{one.distance / 0.0254:.1f}" if style.system == "inch" else f"{one.distance * 1000:.0f}"
    return number + ("×" if one.distance <= 0 else "!" if one.spare < 0 else "")


def _tone(one: Seen) -> Tone:
    if one.spare < 0:
        return "bad"
    return "near" if one.distance < _NEAR * one.required else "good"


def _height(value: float, style: Style) -> str:
    if abs(value) < 1e-9:
        return "level"
    amount = f"{abs(value) / 0.0254:.1f} in" if style.system == "inch" else f"{abs(value) * 1000:.0f} mm"
    return f"{'+' if value > 0 else '−'}{amount}"
