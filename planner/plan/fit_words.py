"""What the sweep leaves, in words: how far a wheel steers, which backspaces there are, how large its tire may be."""

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from planner.plan.flagging import Flag
from planner.plan.opening import OpenProject
from planner.plan.wording import shown
from planner.quantities.kinds import DISTANCE, POSITION
from planner.quantities.show import Style, show_plain
from planner.quantities.text import clean
from planner.worksheet.outcome import Spot

STEERS = (
    ("inner wheel, front outboard", "inner_steer_limit", "stop_angle", "fit.locks_too_wide"),
    ("outer wheel, front inboard", "outer_steer_limit", "stop_angle_out", "fit.outer_lock_too_wide"),
)
NO_WINDOW, OUTSIDE = "fit.no_backspace_fits", "fit.backspace_outside_window"


class Said(NamedTuple):
    """One thing that the sweep says of an axle: a name, a value, what binds it; with the flag that judges it."""

    name: str
    value: str
    binds: str
    spot: Spot
    flag: Flag | None = None


def steering(opened: OpenProject, found: Iterable[Flag], fitment: str, axle: str) -> Iterator[Said]:
    """How far each wheel may turn, and how far its stop lets it."""
    if not opened.steers(axle):
        return
    flags = _at(found, fitment, axle)
    for name, node, stop, rule in STEERS:
        spot = opened.spot(node, fitment=fitment, axle=axle)
        if opened.sheet.value(spot) is None:
            continue
        now = shown(opened, opened.spot(stop, fitment=fitment, axle=axle))
        binds = opened.swept.words(spot)
        yield Said(name, f"{shown(opened, spot)}, now {now}", f"{clean(binds)} binds", spot, flags.get(rule))


def backspaces(opened: OpenProject, found: Iterable[Flag], fitment: str, axle: str) -> Iterator[Said]:
    """Each end of the window with what binds it, the backspace chosen and the maker's step, each with its margins."""

    def at(node: str) -> Spot:
        return opened.spot(node, fitment=fitment, axle=axle)

    flags = _at(found, fitment, axle)
    nodes = ("window_low", "window_high", "backspace", "window_choice")
    low, high, chosen, step = (opened.sheet.value(at(node)) for node in nodes)
    words = clean(str(opened.swept.results.get(at("window_words"), "")))
    if low is None or high is None:
        if words:
            yield Said("none fits", words, "", at("window_width"), flags.get(NO_WINDOW))
        return
    for name, node in (("least", "window_low"), ("greatest", "window_high")):
        yield Said(name, _plain(opened, at(node)), f"{clean(opened.swept.words(at(node)))} binds", at(node))
    if chosen is not None:
        left = _left(opened, chosen, low, high)
        yield Said("chosen", _plain(opened, at("backspace")), left, at("backspace"), flags.get(OUTSIDE))
    if step is not None:
        left = _left(opened, step, low, high)
        yield Said("the maker's step", _plain(opened, at("window_choice")), left, at("window_choice"))
    else:
        every = _plain(opened, opened.spot("backspace_step"))
        yield Said("the maker's step", f"none is inside, in steps of {every}", "", at("window_width"))


def largest(opened: OpenProject, fitment: str, axle: str) -> Iterator[Said]:
    """The largest tire at the wheel as planned."""
    spot = opened.spot("largest_tire", fitment=fitment, axle=axle)
    if opened.sheet.value(spot) is not None:
        yield Said("largest tire", _plain(opened, spot), f"{clean(opened.swept.words(spot))} binds", spot)


def short_length(value: float, style: Style) -> str:
    """A length that must not be less, rounded down, in the person's own system alone."""
    return show_plain(value, POSITION.greatest(), style)


def _plain(opened: OpenProject, spot: Spot) -> str:
    """A length at its safe end, in the person's own system alone."""
    kind = opened.sheet.catalog.kind(spot.node)
    value = opened.sheet.value(spot)
    if kind is None or value is None:
        return shown(opened, spot)
    return show_plain(value, kind, opened.style)


def _left(opened: OpenProject, value: float, low: float, high: float) -> str:
    """What a backspace leaves to both ends of the window."""
    below, above = value - low, high - value
    if below < 0 or above < 0:
        return f"outside by {show_plain(-min(below, above), DISTANCE.smallest(), opened.style)}"
    return f"{short_length(below, opened.style)} to the lower end, {short_length(above, opened.style)} to the upper"


def _at(found: Iterable[Flag], fitment: str, axle: str) -> dict[str, Flag]:
    """The flags of one end by their rule."""
    return {flag.rule.name: flag for flag in found if any(place[:2] == (fitment, axle) for place in flag.places)}
