"""Diameter × backspace: which pairs keep every limit, and for the others the limit that they break, by letter."""

from planner.plan.drawings.drawn_values import drawing_of, known_values, length, missing_entries, short
from planner.plan.drawings.scene import EMPTY, Grid, Tone
from planner.plan.fit.fit_limits import bounds
from planner.plan.fit.run_sweep import as_swept
from planner.plan.fit.sweep_text import sweep_error_text
from planner.plan.fit.swept_wheel import TIRE, SweptWheel, keys_behind, swept_wheel
from planner.plan.truck.project import OpenProject
from planner.quantities.show import Style
from planner.quantities.text import clean
from planner.trade.fit.trace import trace
from planner.trade.fit.window import WindowMap, evenly, window_map

Range = tuple[float, float]


def window_picture(
    opened: OpenProject,
    fitment: str,
    axle: str,
    diameters: Range,
    backspaces: Range,
    rows: int = 40,
    columns: int = 60,
) -> WindowMap:
    """Every pair held against the whole sweep, lengths in m; raises LookupError where the wheel is not known yet."""
    lost = opened.fit_fault(axle, fitment)
    if lost is not None:
        raise LookupError(lost)
    here = swept_wheel(opened.sheet, fitment, axle, opened.steers(axle, fitment))
    if not isinstance(here, SweptWheel):
        raise LookupError(", ".join(keys_behind(opened, here)))
    limits = bounds(opened, fitment, axle)
    if limits.barred:
        raise LookupError(", ".join(keys_behind(opened, limits.barred)))
    paths = []
    for label, one in opened.obstacles_of(fitment).items():
        obstacle = as_swept(one, label)
        if obstacle is not None and one.measured.axle == axle:
            paths.append(trace(here.wide, obstacle))
    return window_map(paths, here.section, evenly(*diameters, rows), evenly(*backspaces, columns), limits.backspace)


FITS = "·"

_LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"

_LEAST_REACH = 0.05  # m of backspace shown to either side of the planned one

_TALLER, _LOWER = 0.08, 0.14  # of the planned diameter, shown above and below it

_MOST = 0.25  # of the planned diameter, shown above it so that the largest tire is seen


def size(width: int, height: int) -> tuple[int, int]:
    """How many rows and columns a picture of so many cells has room for."""
    return max(5, height - 7), max(11, width - 12)


def backspace_window(opened: OpenProject, fitment: str, axle: str, rows: int = 13, columns: int = 61) -> Grid:
    """The largest diameter on top; the planned pair is marked."""
    title = f"diameter and backspace that fit ({drawing_of(fitment, axle)})"
    diameter, offset, wide = known_values(opened, fitment, axle, "grown_diameter", "offset", "overall_width")
    missing = missing_entries(opened, fitment, axle, *TIRE)
    if not missing:
        backspace = offset + wide / 2
        reach = max(_LEAST_REACH, 0.25 * wide)
        low, high = max(0.0, backspace - reach), min(wide, backspace + reach)
        low, high = min(low, backspace), max(high, backspace)
        least = max((1 - _LOWER) * diameter, 2 * known_values(opened, fitment, axle, "flange_radius")[0] + 0.04)
        tall = (min(least, diameter), diameter * (1 + _TALLER))
        largest = known_values(opened, fitment, axle, "largest_tire")[0]
        if largest is not None and largest < diameter * (1 + _MOST):
            tall = (tall[0], max(tall[1], largest + 0.02))  # so that what ends it is seen
        try:
            found = window_picture(opened, fitment, axle, tall, (low, high), rows, columns)
        except LookupError as lacks:
            missing = tuple(map(opened.asked_for, str(lacks).split(", ")))
        except ValueError as fault:
            said = f"What was entered is impossible together: {sweep_error_text(opened, fitment, axle, fault)}."
            return Grid(title, said, "", "", *EMPTY)
    if missing:
        return Grid(title, "", "", "", *EMPTY, missing=missing)
    broken = [list(row) for row in found.broken]
    for limit in bounds(opened, fitment, axle).diameter:
        for row, tried in enumerate(found.diameters):
            if not limit.low <= tried <= limit.high:
                broken[row] = [name or limit.name for name in broken[row]]
    broken.reverse()
    diameters = tuple(reversed(found.diameters))
    counts: dict[str, int] = {}
    for line in broken:
        for name in line:
            if name is not None:
                counts[name] = counts.get(name, 0) + 1
    letters = {name: _LETTERS[at % 26] for at, name in enumerate(counts)}
    row = min(range(len(diameters)), key=lambda at: abs(diameters[at] - diameter))
    column = min(range(len(found.backspaces)), key=lambda at: abs(found.backspaces[at] - backspace))
    style = opened.style
    planned = f"{short(diameter, style)} × {short(backspace, style)}"
    legend = [("◆", f"planned, {planned}"), (FITS, "fits"), *((mark, name) for name, mark in letters.items())]
    return Grid(
        title,
        _words(opened, fitment, axle, planned, broken[row][column], sum(counts.values()) == len(broken) * columns),
        f"backspace, {'in' if style.system == 'inch' else 'mm'} →",
        "tall",
        tuple(_number(one, style) for one in found.backspaces),
        tuple(_number(one, style) for one in diameters),
        tuple(tuple(FITS if name is None else letters[name] for name in line) for line in broken),
        tuple((None,) * columns for _ in broken),
        tuple((mark, clean(name)) for mark, name in legend),
        (row, column),
        tones=tuple(tuple(_tone(name) for name in line) for line in broken),
    )


def _words(opened: OpenProject, fitment: str, axle: str, planned: str, broken: str | None, none: bool) -> str:
    low, high, says = known_values(opened, fitment, axle, "window_low", "window_high", "window_words")
    words = f"Diameter, grown in service, upward, backspace to the right. As planned, {planned}, "
    words += "it keeps every limit." if broken is None else f"it does not keep {clean(broken)}."
    if low is not None and high is not None:
        words += f" At this diameter the backspaces from {length(low, opened.style)} to "
        words += f"{length(high, opened.style)} fit."
    elif none:
        words += " No pair shown keeps every limit."
    said = clean(str(says)) if says else ""
    return f"{words} {said[0].upper()}{said[1:]}." if said else words


def _tone(name: str | None) -> Tone:
    return "good" if name is None else "bad"


def _number(value: float, style: Style) -> str:
    return f"{value / 0.0254:.2f}" if style.system == "inch" else f"{value * 1000:.0f}"
