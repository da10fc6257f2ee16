"""What can be changed to make room: what each moves, how far that goes, and how it is told.

How far each is tried is common practice: past that nobody wants the truck.
"""

from collections.abc import Iterator
from math import radians
from typing import NamedTuple

from planner.plan.answers.impossible import entries_behind
from planner.plan.takes.tried_truck import Move, Trial
from planner.plan.truck.project import OpenProject
from planner.quantities.kinds import ANGLE, DISTANCE, LENGTH, POSITION, RATIO, Kind
from planner.quantities.show import Style, show_plain
from planner.quantities.text import clean
from planner.worksheet.outcome import Known, Spot

ENDS = ("front", "rear")

STEER_LEFT, BUMP_LEFT, TIRE_LEFT, RATIO_LEFT = 0.6, 0.5, 0.75, 0.9  # of what it is now
MOST_BACKSPACE, MOST_RIM, MOST_MOVED, MOST_LIFT = 0.075, 0.05, 0.05, 0.10  # m

FINE, TURN, TOOTH = 1e-4, radians(0.1), 1e-3  # what a length, an angle and a ratio are rounded to, away from danger

MOVABLE = ("sheet metal", "exhaust", "fuel", "brake", "other")  # a spring, a frame or a steering part stays

WAYS: tuple[tuple[str, Move], ...] = (
    ("up", (0.0, 0.0, 1.0)),
    ("outboard", (0.0, 1.0, 0.0)),
    ("inboard", (0.0, -1.0, 0.0)),
    ("ahead", (1.0, 0.0, 0.0)),
    ("back", (-1.0, 0.0, 0.0)),
)


class LeverEntry(NamedTuple):
    """An entry that goes `way` (up 1, down -1) with an amount, once that is more than `slack`; all in SI."""

    key: str
    spots: tuple[Spot, ...]
    kind: Kind
    now: float
    way: int
    slack: float = 0.0

    def at(self, amount: float) -> float:
        """The most that it can be then: its slack is not counted on."""
        return self.now + self.way * max(0.0, amount - self.slack)


class Lever(NamedTuple):
    """One way to make room at an `end`, tried as far as `most`, in SI, and rounded to the next full `step`.

    It moves entries, or obstacles by their names. `template` takes what the first entry `was` and is `then`, or the
    amount. Of the truck it is a change of a `kind`; without one it is of the candidate itself. `costs` are figures that
    go with it and that people mind.
    """

    name: str
    end: str
    most: float
    step: float
    template: str
    entries: tuple[LeverEntry, ...] = ()
    obstacles: tuple[tuple[str, Move], ...] = ()
    kind: str = ""
    costs: tuple[str, ...] = ()

    def trial(self, amount: float) -> Trial:
        values = {spot: one.at(amount) for one in self.entries for spot in one.spots}
        moved = {name: (amount * x, amount * y, amount * z) for name, (x, y, z) in self.obstacles}
        return Trial(values, moved)

    def likely(self, amount: float) -> Trial:
        """As `trial`, where what goes along goes in proportion: for what it costs, not for what it clears."""
        first = self.entries[0] if self.entries else None
        share = first.at(amount) / first.now if first is not None and first.now else 1.0
        return Trial({spot: one.now * share for one in self.entries for spot in one.spots}, self.trial(amount).moved)

    def named(self, amount: float, style: Style) -> str:
        """What is done, without what it is now: as a change is called, which may be read when that is long gone."""
        return self._replace(template=self.template.replace(" ({was})", "")).says(amount, style)

    def says(self, amount: float, style: Style) -> str:
        """What is done, in words: `set the front steering stops at no more than 24.5° (now 26.0°)`."""
        by = show_plain(amount, DISTANCE.smallest(), style) if self.obstacles else ""
        first = self.entries[0] if self.entries else None
        now, then = (show_plain(one, first.kind, style) for one in (first.now, first.at(amount))) if first else ("", "")
        was = f"now {now}" if now != then else "measure it: it may be that already"
        return self.template.format(by=by, was=was, then=then)


TRUCK_ENTRIES = {
    "bump_travel": "axles.{end}.travel.bump",
    "stop_angle": "axles.{end}.steering.stop_angle",
    "stop_angle_out": "axles.{end}.steering.stop_angle_out",
}

_HEIGHT, _WHEEL, _GEARS = (
    ("cruise_engine_speed", "belly_height"),
    ("poke", "scrub_radius"),
    ("cruise_engine_speed", "crawl_ratio"),
)

# Name, node, words, which way it goes, how far, its kind, what it costs.
_OF_CANDIDATE: tuple[tuple[str, str, str, int, float, Kind, tuple[str, ...]], ...] = (
    ("smaller tire", "overall_diameter", "a tire no taller than", -1, -TIRE_LEFT, LENGTH.greatest(), _HEIGHT),
    ("narrower tire", "section_width", "a tire no wider than", -1, -TIRE_LEFT, LENGTH.greatest(), ()),
    ("less backspace", "backspace", "no more backspace than", -1, MOST_BACKSPACE, POSITION.greatest(), _WHEEL),
    ("more backspace", "backspace", "no less backspace than", 1, MOST_BACKSPACE, POSITION.smallest(), _WHEEL),
    ("less offset", "offset", "no more offset than", -1, MOST_BACKSPACE, POSITION.greatest(), _WHEEL),
    ("more offset", "offset", "no less offset than", 1, MOST_BACKSPACE, POSITION.smallest(), _WHEEL),
    ("wider rim", "rim_width", "a rim no narrower than", 1, MOST_RIM, LENGTH.smallest(), ()),
    ("narrower rim", "rim_width", "a rim no wider than", -1, MOST_RIM, LENGTH.greatest(), ()),
    ("taller gears", "axle_ratio", "an axle ratio of no more than", -1, -RATIO_LEFT, RATIO.greatest(), _GEARS),
    ("shorter gears", "axle_ratio", "an axle ratio of no less than", 1, -RATIO_LEFT, RATIO.smallest(), _GEARS),
)


def truck_entries(opened: OpenProject, fitment: str) -> dict[str, Spot]:
    """The entries of the truck that a lever moves, by key, where each stands for a candidate."""
    return {
        key.replace("{end}", end): opened.spot(node, fitment=fitment, axle=end)
        for node, key in TRUCK_ENTRIES.items()
        for end in ENDS
    }


def levers(opened: OpenProject, fitment: str) -> Iterator[Lever]:
    """Every lever of a candidate, at each end."""
    for end in ENDS:
        yield from _of_truck(opened, fitment, end)
        yield from _of_candidate(opened, fitment, end)
        yield from _of_obstacles(opened, fitment, end)


def _of_truck(opened: OpenProject, fitment: str, end: str) -> Iterator[Lever]:
    def entry(node: str, kind: Kind) -> LeverEntry | None:
        spot = opened.spot(node, fitment=fitment, axle=end)
        value, at = opened.sheet.value(spot), Spot(node, (fitment, *spot.place[1:]))
        return None if value is None else LeverEntry(TRUCK_ENTRIES[node].replace("{end}", end), (at,), kind, value, -1)

    stop, out = entry("stop_angle", ANGLE.greatest()), entry("stop_angle_out", ANGLE.greatest())
    bump = entry("bump_travel", DISTANCE.greatest())
    if stop is not None and opened.steers(end, fitment):
        # How far the outer wheel turns then nobody has measured: no further than it did, nor than the inner one.
        behind = () if out is None else (out._replace(slack=max(0.0, stop.now - out.now)),)
        words = f"set the {end} steering stops at no more than {{then}} ({{was}})"
        far, costs = stop.now * (1 - STEER_LEFT), ("turning_radius",)
        yield Lever("steer less", end, far, TURN, words, (stop, *behind), kind="steering stops", costs=costs)
    if bump is not None:
        words = f"taller {end} bump stops: no more than {{then}} of bump travel ({{was}})"
        yield Lever("bump less", end, bump.now * (1 - BUMP_LEFT), FINE, words, (bump,), kind="bump stop")


def _of_candidate(opened: OpenProject, fitment: str, end: str) -> Iterator[Lever]:
    """Levers of the tire, wheel and gears: where one entry serves both ends, both move."""
    by_offset = opened.sheet.entered(opened.spot("offset", fitment=fitment, axle=end)) is not None
    for name, node, words, way, far, kind, costs in _OF_CANDIDATE:
        outcome = opened.sheet.outcome(opened.spot(node, fitment=fitment, axle=end))
        if not isinstance(outcome, Known) or node == ("backspace" if by_offset else "offset"):
            continue
        made = {one: _made_of(opened, opened.spot(node, fitment=fitment, axle=one)) for one in ENDS}
        alike = [one for one in ENDS if one == end or made[one] == made[end]]
        if alike[0] != end:
            continue  # told at the first end that it serves
        spots = tuple(dict.fromkeys(opened.spot(node, fitment=fitment, axle=one) for one in alike))
        value = float(outcome.value)
        most = far if far > 0 else value * (1 + far)
        entry = LeverEntry(node, spots, kind, value, way)
        step = TOOTH if kind.form == "ratio" else FINE
        words = f"{' and '.join(alike)}: {words} {{then}} ({{was}})"
        yield Lever(name, end, most, step, words, (entry,), costs=costs)


def _made_of(opened: OpenProject, spot: Spot) -> tuple[Spot, ...]:
    """Where the entries were made that a value comes of."""
    return tuple(sorted(entries_behind(opened.sheet, spot, opened.keys)))


def _of_obstacles(opened: OpenProject, fitment: str, end: str) -> Iterator[Lever]:
    measured = {
        name: one.measured
        for name, one in opened.obstacles_of(fitment).items()
        if one.measured.axle == end and one.measured.at is not None
    }
    for name, one in measured.items():
        does = "trim or move" if one.kind == "sheet metal" else "move"
        for way, direction in WAYS if one.kind in MOVABLE else ():
            words = f"{does} the {clean(name).replace('{', '(').replace('}', ')')} {{by}} {way}"
            yield Lever(f"move {way}", end, MOST_MOVED, FINE, words, (), ((name, direction),), "other")
    body = tuple((name, (0.0, 0.0, 1.0)) for name, one in measured.items() if one.moves_with == "body")
    if body:
        caster = " and the caster set back" if opened.steers(end, fitment) else ""
        words = f"lift the {end} {{by}}, with bump stops that much taller{caster}"
        yield Lever("lift", end, MOST_LIFT, FINE, words, (), body, "lift")
