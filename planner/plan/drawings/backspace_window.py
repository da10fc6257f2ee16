"""Diameter × backspace: which pairs keep every limit, and for the others the limit that they break, by letter."""

from collections.abc import Sequence
from itertools import cycle
from math import ceil, floor, log10
from string import ascii_uppercase
from typing import NamedTuple

from planner.plan.drawings.drawn_values import drawing_of, known_values, missing_entries, short
from planner.plan.drawings.scene import Grid, Tone
from planner.plan.fit.backspace_limits import backspace_limits
from planner.plan.fit.fit_limits import diameter_limits
from planner.plan.fit.run_sweep import unmeasured_key
from planner.plan.fit.sweep_text import sweep_error_text
from planner.plan.fit.swept_tires import placings, ready_tires, swept_tires
from planner.plan.fit.swept_wheel import TIRE, SweptWheel, keys_behind, swept_obstacle
from planner.plan.truck.pairs import backspaces
from planner.plan.truck.project import UNMEASURED, OpenProject
from planner.quantities.kinds import POSITION
from planner.quantities.show import Style
from planner.quantities.show_range import show_range
from planner.quantities.text import clean
from planner.trade.fit.trace import trace
from planner.trade.fit.window import WindowMap, window_map

Range = tuple[float, float]


def window_picture(
    opened: OpenProject, fitment: str, axle: str, diameters: Sequence[float], backspaces: Sequence[float]
) -> WindowMap:
    """Every pair held against the whole sweep, lengths in m; raises LookupError where the wheel is not known yet."""
    lost = opened.fit_fault(axle, fitment)
    if lost is not None:
        raise LookupError(lost)
    tires = swept_tires(opened, fitment, axle, anywhere=True)
    waiting = [spot for tire in tires.values() if not isinstance(tire, SweptWheel) for spot in tire]
    stand = placings(opened, fitment, axle)
    if waiting or stand is None:
        raise LookupError(", ".join(keys_behind(opened, waiting)))
    here = ready_tires(tires)[0]
    limits = backspace_limits(opened, fitment, axle, here.section.rim_width)
    if limits.barred:
        raise LookupError(", ".join(limits.barred))
    paths, halfway = [], []
    for label, one in opened.obstacles_of(fitment).items():
        if one.measured.axle in (axle, None):
            obstacle, lacking = swept_obstacle(one, label, here), unmeasured_key(one)
            halfway += [lacking] if lacking else []
            paths += [trace(here.wide, obstacle)] if obstacle is not None else []
    if halfway:
        raise LookupError(", ".join(halfway))
    bounds = [limit.worst for limit in limits.limits if not limit.taken_on]
    return window_map(paths, here.large, diameters, backspaces, bounds, stand)


class RoundValues(NamedTuple):
    """Values at round numbers of the person's unit, with their names, and the names of the rounder ones alone."""

    values: tuple[float, ...]
    names: tuple[str, ...]
    marked: tuple[str, ...]


def round_values(over: Range, most: int, style: Style) -> RoundValues:
    """At most so many round values within a range, as many as may be: in steps of 1, 2 or 5 of some power of ten.

    >>> round_values((0.0021, 0.0104), 6, Style("metric")).names
    ('4', '6', '8', '10')
    """
    unit = 0.0254 if style.system == "inch" else 0.001
    low, high = over[0] / unit, over[1] / unit
    ends = (
        (step, ceil(round(low / step, 9)), floor(round(high / step, 9))) for step in _round_steps((high - low) / most)
    )
    step, first, last = next((step, first, last) for step, first, last in ends if last - first < most)
    rounder = next(one for one in _round_steps(_NAMED * step) if round(one / step, 9).is_integer())
    values = [count * step for count in range(first, last + 1)]
    names = tuple(f"{round(value, 9):g}" for value in values)
    marked = tuple(
        name if round(value / rounder, 9).is_integer() else "" for name, value in zip(names, values, strict=True)
    )
    return RoundValues(tuple(value * unit for value in values), names, marked)


def _round_steps(least: float) -> list[float]:
    """Round steps from the least on: 0.1, 0.2, 0.5, 1, 2, 5 and so on."""
    power = floor(log10(least))
    return [digit * 10.0**at for at in range(power, power + 4) for digit in (1, 2, 5) if digit * 10.0**at >= least]


FITS, UNSURE = "·", "?"

_LEAST_REACH = 0.05  # m of backspace shown to either side of the planned one

_TALLER, _LOWER = 0.08, 0.14  # of the planned diameter, shown above and below it

_MOST = 0.25  # of the planned diameter, shown above it so that the largest tire is seen

_NAMED = 5  # columns at the least from one that is named to the next


def size(width: int, height: int) -> tuple[int, int]:
    """How many rows and columns a picture of so many cells has room for."""
    return max(5, height - 7), max(11, width - 12)


def backspace_window(opened: OpenProject, fitment: str, axle: str, rows: int = 13, columns: int = 61) -> Grid:
    """The largest diameter on top; the planned pair is marked. Rows and columns stand at round numbers."""
    title = f"diameter and backspace that fit ({drawing_of(fitment, axle)})"
    missing = missing_entries(opened, fitment, axle, *(node for node in TIRE if node != "offset"))
    if missing:
        return Grid(title, missing=missing)
    nodes = ("grown_diameter", "overall_width", "offset")
    diameter, wide, offset = known_values(opened, fitment, axle, *nodes)
    backspace = None if offset is None else offset + wide / 2
    tall, across = _shown(opened, fitment, axle)
    up, along = round_values(tall, rows, opened.style), round_values(across, columns, opened.style)
    try:
        found = window_picture(opened, fitment, axle, up.values, along.values)
        planned = None if backspace is None else window_picture(opened, fitment, axle, (diameter,), (backspace,))
    except LookupError as lacks:
        missing = tuple(map(opened.asked_for, str(lacks).split(", ")))
        return Grid(title, missing=missing)
    except ValueError as fault:
        said = f"These entries can't all be true: {sweep_error_text(opened, fitment, axle, fault)}."
        return Grid(title, said)
    broken = _with_door(opened, fitment, axle, found)[::-1]
    marked: tuple[int, int] | None = None
    at_plan: str | None = None
    if planned is not None and backspace is not None:
        marked = len(up.values) - 1 - _nearest(up.values, diameter), _nearest(along.values, backspace)
        at_plan = _with_door(opened, fitment, axle, planned)[0][0]
        broken[marked[0]][marked[1]] = at_plan  # as it is planned, and not as the round pair beside it
    names = dict.fromkeys(name for line in broken for name in line if name is not None)
    letters = dict(zip(names, cycle(ascii_uppercase), strict=False))
    needs = opened.swept.needs.get(opened.spot("window_width", fitment=fitment, axle=axle), ())
    unsure = [UNMEASURED[key] for key in needs if key in UNMEASURED]
    fits = UNSURE if unsure else FITS
    style = opened.style
    pair = None if backspace is None else f"{short(diameter, style)} × {short(backspace, style)}"
    kept = f"nothing you measured is in the way; measure {' and '.join(unsure)}" if unsure else "fits"
    legend = [("◆", "planned")] if pair is not None else []
    legend += [(fits, kept)] if any(None in line for line in broken) else []
    legend += [(mark, name) for name, mark in letters.items()]
    return Grid(
        title,
        _words(opened, fitment, axle, pair, at_plan, unsure, all(name for line in broken for name in line)),
        f"backspace, {'in' if style.system == 'inch' else 'mm'} →",
        "tall",
        along.marked,
        up.names[::-1],
        tuple(tuple(fits if name is None else letters[name] for name in line) for line in broken),
        tuple((None,) * len(along.values) for _ in broken),
        tuple((mark, clean(name)) for mark, name in legend),
        marked,
        tones=tuple(tuple(_tone(name, bool(unsure)) for name in line) for line in broken),
    )


def _shown(opened: OpenProject, fitment: str, axle: str) -> tuple[Range, Range]:
    """Which diameters and which backspaces a picture shows: around what is planned, or what was found."""
    nodes = ("grown_diameter", "overall_width", "offset", "found_offset", "flange_radius", "largest_tire")
    diameter, wide, offset, found_offset, inside, largest = known_values(opened, fitment, axle, *nodes)
    around = (offset if offset is not None else found_offset or 0.0) + wide / 2
    reach = max(_LEAST_REACH, 0.25 * wide)
    first, last = backspaces(opened, fitment, wide)
    low, high = max(first, around - reach), min(last, around + reach)
    least = max((1 - _LOWER) * diameter, 2 * inside + 0.04)
    most = diameter * (1 + _TALLER)
    if largest is not None and largest < diameter * (1 + _MOST):
        most = max(most, largest + 0.02)  # so that what ends it is seen
    return (min(least, diameter), most), (min(low, around), max(high, around))


def _with_door(opened: OpenProject, fitment: str, axle: str, found: WindowMap) -> list[list[str | None]]:
    """Which limit each pair breaks, the lowest door among them."""
    broken = [list(row) for row in found.broken]
    for limit in diameter_limits(opened, fitment, axle).worst:
        for row, tried in enumerate(found.diameters):
            if not limit.low <= tried <= limit.high:
                broken[row] = [name or limit.name for name in broken[row]]
    return broken


def _nearest(values: Sequence[float], value: float) -> int:
    return min(range(len(values)), key=lambda at: abs(values[at] - value))


def _words(
    opened: OpenProject,
    fitment: str,
    axle: str,
    planned: str | None,
    broken: str | None,
    unsure: Sequence[str],
    none: bool,
) -> str:
    low, high, says = known_values(opened, fitment, axle, "window_low", "window_high", "window_words")
    words = "Diameter upward, backspace to the right."
    if planned is not None and broken is not None:
        words += f" As planned, {planned}, it breaks {clean(broken)}."
    elif planned is not None:
        kept = "every limit you measured" if unsure else "every limit"
        words += f" As planned, {planned}, it keeps {kept}."
    if unsure:
        words += f" Nobody knows yet what fits: measure {' and '.join(unsure)}."
    if low is not None and high is not None:
        ends = show_range(low, high, (POSITION.smallest(), POSITION.greatest()), opened.style)
        words += f" At this diameter the backspaces from {ends[0]} to {ends[1]} fit."
    elif none:
        words += " Nothing shown keeps every limit."
    said = clean(str(says)) if says else ""
    return f"{words} {said[0].upper()}{said[1:]}." if said else words


def _tone(name: str | None, unsure: bool) -> Tone:
    return "bad" if name is not None else "" if unsure else "good"
