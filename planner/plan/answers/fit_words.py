"""What the sweep leaves, in words: clearances, how far a wheel steers, which backspaces there are, how large a tire."""

from collections.abc import Iterable, Iterator
from functools import partial
from typing import Literal, NamedTuple

from planner.plan.answers.flagging import Flag, worst_first
from planner.plan.fit.kept_open import JUDGED
from planner.plan.fit.sweep_text import short_location, sweep_location
from planner.plan.truck.project import OpenProject, PlannedObstacle
from planner.plan.truck.wording import shown
from planner.project.facts import AXES
from planner.quantities.kinds import DISTANCE, POSITION
from planner.quantities.show import Style, show_plain
from planner.quantities.text import clean
from planner.worksheet.outcome import Known, Spot

STEERS = (
    ("inner wheel, front outboard", "inner_steer_limit", "stop_angle", "fit.locks_too_wide"),
    ("outer wheel, front inboard", "outer_steer_limit", "stop_angle_out", "fit.outer_lock_too_wide"),
)

NO_WINDOW, OUTSIDE = "fit.no_backspace_fits", "fit.backspace_outside_window"


class FitLine(NamedTuple):
    """One thing that the sweep says of an axle: a name, a value, what there is to say of that; with its flag.

    `limit` is what sets the limit, where anything does.
    """

    name: str
    value: str
    beside: str
    spot: Spot
    flag: Flag | None = None
    limit: str = ""

    @property
    def binds(self) -> str:
        """What there is to say of it, as a sentence has it."""
        return f"{self.limit} sets the limit" if self.limit else self.beside


def steering(opened: OpenProject, found: Iterable[Flag], fitment: str, axle: str) -> Iterator[FitLine]:
    """How far each wheel may turn, and how far its stop lets it."""
    if not opened.steers(axle, fitment):
        return
    flags = _at(found, fitment, axle)
    for name, node, stop, rule in STEERS:
        spot = opened.spot(node, fitment=fitment, axle=axle)
        if opened.sheet.value(spot) is None:
            continue
        now = shown(opened, opened.spot(stop, fitment=fitment, axle=axle))
        limit = clean(opened.swept.words(spot))
        yield FitLine(name, f"{shown(opened, spot)}, now {now}", "", spot, flags.get(rule), limit)


def backspaces(opened: OpenProject, found: Iterable[Flag], fitment: str, axle: str) -> Iterator[FitLine]:
    """Each end of the window with what binds it, the backspace chosen and the maker's step, each with its margins."""
    at, flags = partial(opened.spot, fitment=fitment, axle=axle), _at(found, fitment, axle)
    nodes = ("window_low", "window_high", "backspace", "window_choice")
    low, high, chosen, step = (opened.sheet.value(at(node)) for node in nodes)
    words = clean(str(opened.swept.results.get(at("window_words"), "")))
    if opened.swept.results.get(at("window_ends")) is None:
        if words:
            open_yet = at("window_width") in opened.swept.gathered
            name = "none for sure" if open_yet else "none fits"
            yield FitLine(name, words, "", at("window_width"), flags.get(NO_WINDOW))
        return
    for name, node, end in (("least", "window_low", low), ("greatest", "window_high", high)):
        if end is None:
            asked = " and ".join(map(opened.asked_for, opened.swept.needs.get(at(node), ())))
            yield FitLine(name, "not known", f"measure {asked}", at(node))
        else:
            yield FitLine(name, _plain(opened, at(node)), "", at(node), limit=clean(opened.swept.words(at(node))))
    if chosen is not None:
        left = _left(opened, chosen, low, high)
        yield FitLine("chosen", _plain(opened, at("backspace")), left, at("backspace"), flags.get(OUTSIDE))
    if step is not None:
        left = _left(opened, step, low, high)
        yield FitLine("the maker's step", _plain(opened, at("window_choice")), left, at("window_choice"))
    elif low is not None and high is not None:
        every = _plain(opened, opened.spot("backspace_step"))
        yield FitLine("the maker's step", f"no step of {every} falls inside", "", at("window_width"))


def largest(opened: OpenProject, fitment: str, axle: str) -> Iterator[FitLine]:
    """The largest tire at the wheel as planned."""
    spot = opened.spot("largest_tire", fitment=fitment, axle=axle)
    if opened.sheet.value(spot) is not None:
        yield FitLine("largest tire", _plain(opened, spot), "", spot, limit=clean(opened.swept.words(spot)))


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


def _left(opened: OpenProject, value: float, low: float | None, high: float | None) -> str:
    """What a backspace leaves to both ends of the window, or to the one that is known."""
    left = {"lower": None if low is None else value - low, "upper": None if high is None else high - value}
    known = {end: one for end, one in left.items() if one is not None}
    if any(one < 0 for one in known.values()):
        return f"outside by {show_plain(-min(known.values()), DISTANCE.smallest(), opened.style)}"
    told = [short_length(one, opened.style) for one in known.values()]
    ends = "ends" if len(told) > 1 else f"{next(iter(known), '')} end"
    return f"{', '.join(told)} from the {ends}" if told else ""


def _at(found: Iterable[Flag], fitment: str, axle: str) -> dict[str, Flag]:
    """The flags of one end by their rule."""
    return {flag.rule.name: flag for flag in found if any(place[:2] == (fitment, axle) for place in flag.places)}


OF_OBSTACLES = ("fit.tire_too_near", "fit.tire_touches", "fit.tire_near", "fit.tire_touches_off_road")

ClearanceAnswer = Literal["touches", "too near", "too close to call", "not known", "clear"]

ORDER: tuple[ClearanceAnswer, ...] = ("touches", "too near", "too close to call", "not known", "clear")


class ObstacleClearance(NamedTuple):
    """One obstacle of a fitment: how near the tire comes, and at the worst of the tolerances, in m; None if not known.

    `where` says where in the sweep that is, and with which part of the tire, `reached` also to what, `stance` only how
    the wheel stands there.
    """

    label: str
    obstacle: PlannedObstacle
    stands: ClearanceAnswer
    spot: Spot
    least: float | None = None
    worst: float | None = None
    where: str = ""
    reached: str = ""
    stance: str = ""
    flag: Flag | None = None

    @property
    def wants(self) -> float:
        """What it must keep, in m; not a number where that was entered and is not known."""
        return float("nan") if self.obstacle.required is None else float(self.obstacle.required.value)

    @property
    def spare(self) -> float:
        """What is left over what it must keep at the worst, in m."""
        return float("inf") if self.worst is None else self.worst - self.wants


def clearances(opened: OpenProject, found: Iterable[Flag], fitment: str) -> list[ObstacleClearance]:
    """The worst first; what could not be swept comes before what is clear."""
    flags: dict[str, Flag] = {}
    for flag in sorted(found, key=worst_first):  # of several on one obstacle the worst is told
        for place in flag.places if flag.rule.name in OF_OBSTACLES else ():
            if place[0] == fitment:
                flags.setdefault(place[AXES.index("obstacle")], flag)
    made = _each(opened, flags, fitment)
    return sorted(made, key=lambda one: (ORDER.index(one.stands), one.spare))


def _each(opened: OpenProject, flags: dict[str, Flag], fitment: str) -> Iterator[ObstacleClearance]:
    for label, obstacle in opened.obstacles_of(fitment).items():
        spot = opened.spot("least_clearance", fitment=fitment, obstacle=label)
        flag = flags.get(label)
        outcome = opened.sheet.outcome(spot)
        if not isinstance(outcome, Known):
            yield ObstacleClearance(label, obstacle, "not known", spot, flag=flag)
            continue
        least, worst = float(outcome.value), float(outcome.low)
        stands = "too close to call" if _waits_for_spacings(opened, fitment, label) else _stands(least, flag)
        found, one, where, stance = opened.swept.found.get(spot), obstacle.measured, "", ""
        if found is not None and one.axle is not None:
            steers = opened.steers(one.axle, fitment)
            where = sweep_location(opened.style, one.axle, one.side, steers, found.obstacle, found, named=False)
            stance = short_location(opened.style, steers, found.obstacle, found.place)
        reached = opened.swept.words(spot)
        yield ObstacleClearance(label, obstacle, stands, spot, least, worst, where, reached, stance, flag)


def _waits_for_spacings(opened: OpenProject, fitment: str, label: str) -> bool:
    """Whether only spacings that nobody measured keep it open: one flag of the axle tells all of those."""
    return any(
        spot.node in JUDGED and spot.place == opened.spot(spot.node, fitment=fitment, obstacle=label).place
        for spot in opened.swept.gathered
    )


def _stands(least: float, flag: Flag | None) -> ClearanceAnswer:
    """As the rule judges it, so that no list says otherwise than the flags."""
    if flag is None:
        return "not known"
    if flag.verdict.answer == "raised":
        return "touches" if least <= 0.0 else "too near"
    return flag.verdict.answer
