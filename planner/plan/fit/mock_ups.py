"""Mock-up readings held against the sweep: what each proves of an obstacle's least clearance, and what contradicts it.

The room that was read somewhere is never less than the least room: with what it states it bounds that from above. From
below only a reading of all that the sweep goes through bounds it, since what was not reached was not seen. What the
truck in service has less of than the one that was read is taken off: the tire grows, and a bump stop squashes.

A reading proves nothing of another candidate's wheel, nothing of the other side of the truck, and nothing any more once
an entry has moved that it was taken by. One that no truck within what was entered could have shows that an entry is
wrong, and which cannot be told: then the obstacle is known for no candidate, until it is settled.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from math import hypot

from planner.plan.fit.clearances import ClearanceEnds, clearance, effects
from planner.plan.fit.swept_tires import SweptTire, side_tires, swept_tires
from planner.plan.fit.swept_wheel import SweptWheel, own_tolerance, swept_obstacle, tire_ends
from planner.plan.truck.held_mock_up import HeldMockUp, Moved
from planner.plan.truck.project import OpenProject, PlannedObstacle
from planner.plan.truck.sweep_results import SweepResults
from planner.project.mock_ups import MockUp, mock_ups
from planner.project.models.measurements import FULL_CYCLE, Reading
from planner.project.sides import SIDES
from planner.quantities.kinds import DISTANCE, POSITION
from planner.quantities.quantity import Band
from planner.quantities.show import Style, as_written, show_plain
from planner.quantities.show_range import show_range
from planner.quantities.text import clean
from planner.trade.fit.limits import most_roll
from planner.trade.fit.motion import SweptObstacle
from planner.worksheet.outcome import Known
from planner.worksheet.sheet import Worksheet

Stale = Callable[[Reading], Moved]


def held_mock_ups(opened: OpenProject, stale: Stale) -> tuple[HeldMockUp, ...]:
    """Every mock-up reading against the sweep, in the order of the file; `stale` says what moved under one."""
    held = [_held(opened, one, stale) for one in mock_ups(opened.project, opened.opened.assumes)]
    return tuple(_against_others(one, held) for one in held)


def with_mock_ups(
    swept: Mapping[SweptTire, ClearanceEnds], standing: str, held: Sequence[HeldMockUp]
) -> tuple[float, float, float]:
    """Middle, low and high of the least clearance over all tires, by the sweep and by what was read on each side."""
    ends = []
    for side in SIDES if standing == "both" else (standing,):
        own = [one for at, one in swept.items() if at.side in (side, "")]
        middle, low, high = least_of(own)
        for one in held:
            if one.side in (side, "") and one.most is not None:
                high = min(high, one.most)
            if (one.side or standing) == side and one.least is not None and one.least > low:
                low = one.least
                middle = one.taken.room.value - sum(by for _, by in one.off) / 2.0  # it takes the prediction's place
        ends.append((min(max(middle, low), high), low, high))
    middle, low, high = (min(values) for values in zip(*ends, strict=True))
    return middle, low, high


def least_of(swept: Collection[ClearanceEnds]) -> tuple[float, float, float]:
    """Middle, low and high of the least of several."""
    return min(one.found.distance for one in swept), min(one.low for one in swept), min(one.high for one in swept)


def _held(opened: OpenProject, taken: MockUp, stale: Stale) -> HeldMockUp:
    label = list(opened.obstacles)[taken.obstacle]
    fitment = taken.reading.fitment or ""
    one = opened.obstacles_of(fitment)[label]
    axle = one.measured.axle or ""

    def unknown(why: str) -> HeldMockUp:
        return HeldMockUp(taken, label, axle, "not known", why)

    moved = stale(taken.reading)
    if moved.wheel:
        return unknown(moved.wheel)
    if not axle or one.fault or one.required is None:
        return unknown("the obstacle is not known")
    try:
        alike = swept_tires(opened, fitment, axle)
        wheels = side_tires(opened, fitment, axle, alike)
        ready = {at: wheel for at, wheel in wheels.items() if isinstance(wheel, SweptWheel)}
        if len(ready) < len(wheels) or opened.suspension(axle, fitment) == "independent":
            return unknown("the sweep of that wheel isn't known")
        met = {at: made for at, wheel in ready.items() if (made := swept_obstacle(one, label, wheel)) is not None}
        side = taken.reading.side or one.measured.side
        here = {at: clearance(ready[at], made) for at, made in met.items() if side in (at.side, "both") or not at.side}
    except ValueError:
        return unknown("the sweep of that wheel can't be worked out")
    if not here:
        return unknown("the obstacle isn't measured")
    return _read_against(opened, HeldMockUp(taken, label, axle, "agrees", moved.truck), one, ready, met, here)


def _read_against(
    opened: OpenProject,
    held: HeldMockUp,
    one: PlannedObstacle,
    wheels: Mapping[SweptTire, SweptWheel],
    met: Mapping[SweptTire, SweptObstacle],
    here: Mapping[SweptTire, ClearanceEnds],
) -> HeldMockUp:
    """The reading against what the sweep gives of its side."""
    worst = min(here, key=lambda at: here[at].found.distance)
    wheel, obstacle = wheels[worst], met[worst]
    predicted = Band(*least_of(here.values()))
    room = held.taken.room
    sheet = opened.side_sheets.get(worst.side, opened.sheet)
    beyond, unsaid, missing = _reach(opened, held, wheel, obstacle, sheet)
    if not held.side and one.measured.side == "both":
        missing = (*missing, "side")
    off = tuple(_less_in_service(opened, held, wheel, obstacle, sheet))
    least = None if missing else room.low - sum(by for _, by in off)
    most = None if beyond or unsaid else room.high
    # Less room than the plan has anywhere is no clear truck until it is said how far the wheel went.
    within = [room.high - predicted.low] if most is not None or (unsaid and room.high < predicted.low) else []
    within += [predicted.high - least] if least is not None else []
    margin = min(within, default=None)
    brought = effects(wheel, tire_ends(wheel), here[worst].found.obstacle, here[worst].found.place)
    keys = {opened.key_of(source): half for node, half in brought.items() if (source := wheel.readings[node].source)}
    own = sum(abs(n) * by for n, by in zip(here[worst].found.normal, own_tolerance(one.measured), strict=True))
    rests_on = sorted({one.key_of("at"): own, **keys}.items(), key=lambda pair: -pair[1])
    return held._replace(
        answer="differs" if margin is not None and margin < 0.0 else "agrees",
        predicted=predicted,
        least=least,
        most=most,
        missing=missing,
        off=off,
        margin=margin,
        rests_on=tuple(key for key, half in rests_on[:_MOST_NAMED] if half > 0.0),
    )


def _reach(
    opened: OpenProject, held: HeldMockUp, wheel: SweptWheel, obstacle: SweptObstacle, sheet: Worksheet
) -> tuple[bool, bool, tuple[str, ...]]:
    """Whether the wheel went further than the plan lets it, whether it may have, and what it was not taken through.

    Where a change sets a stop or the travel, the truck that was mocked up may have had the old ones: then only an angle
    or a height tells how far it went.
    """
    reading, readings = held.taken.reading, wheel.readings
    reset = {str(key[2]) for key in opened.set_over(held.fitment) if key[:2] == ("axles", held.axle)}
    steers = obstacle.rides != "knuckle" and opened.steers(held.axle, held.fitment)
    rides = obstacle.rides == "body"
    needed = [name for name in FULL_CYCLE if (rides if name != "lock" else steers)]
    missing: list[str] = [name for name in needed if name not in reading.reached]
    beyond = unsaid = False
    lock = (readings["stop_angle"].low, readings["stop_angle"].high)
    bump = (_ends(opened, held, sheet, "bump_travel")[0], readings["squeezed_bump"].high)
    for asked, entry, said, stop, table in (
        (steers, "turned", reading.turned, lock, "steering"),
        (rides, "came_up", reading.came_up, bump, "travel"),
    ):
        if not asked:
            continue
        if said is None:
            unsaid = unsaid or table in reset
            missing += [entry] if table in reset else []
        else:
            beyond = beyond or said.low > stop[1]
            missing += [entry] if said.high < stop[0] else []
    return beyond, unsaid and not beyond, tuple(dict.fromkeys(missing))


def _less_in_service(
    opened: OpenProject, held: HeldMockUp, wheel: SweptWheel, obstacle: SweptObstacle, sheet: Worksheet
) -> Iterator[tuple[str, float]]:
    """How much less room there may be on the road than was read: the tire grows, and the bump stop gives.

    No part of the tire moves out by more than it grows up and across together. A bump stop that gives by g lets the
    middle of the axle rise by g, or the axle roll by 2 g over the spacings of its stops together, about a point that
    the far wheel's droop holds: a point at the height z, Y from the middle, comes by g × (d + 2 Y) / (s + d) nearer
    then, and by 2 g z / (s + d) across.
    """
    up = (wheel.readings["grown_diameter"].high - _ends(opened, held, sheet, "overall_diameter")[1]) / 2.0
    across = (wheel.readings["grown_width"].high - _ends(opened, held, sheet, "section_width")[1]) / 2.0
    grown = hypot(max(0.0, up), max(0.0, across))
    if grown > 0.0:
        yield "the tire grows", grown
    if obstacle.rides != "body":
        return
    squeezed = wheel.readings["squeezed_bump"].high
    gives = _ends(opened, held, sheet, "bump_gives")[1]
    came_up = held.taken.reading.came_up
    if came_up is not None:
        gives = min(gives, squeezed - came_up.low)
    if gives <= 0.0:
        return
    stops, droop = wheel.readings["bump_spacing"].low, wheel.readings["droop_spacing"].low
    points = (obstacle.start, obstacle.end or obstacle.start)
    aside = wheel.readings["face_to_face"].high / 2.0 + max(point[1] for point in points) + obstacle.tolerance[1]
    high = max(abs(point[2]) for point in points) + obstacle.tolerance[2]
    rolled = hypot((droop + 2.0 * aside) / (stops + droop), 2.0 * high / (stops + droop))
    rolls = most_roll(wheel.wide) > 0.0
    yield "a bump stop squashes", gives * (max(1.0, rolled) if rolls else 1.0)


def _ends(opened: OpenProject, held: HeldMockUp, sheet: Worksheet, node: str) -> tuple[float, float]:
    outcome = sheet.outcome(opened.spot(node, fitment=held.fitment, axle=held.axle))
    assert isinstance(outcome, Known)  # what the sweep was made of rests on it
    return outcome.low, outcome.high


_MOST_NAMED = 3


def _against_others(one: HeldMockUp, held: Sequence[HeldMockUp]) -> HeldMockUp:
    """A reading against the others at the same place: two of which no truck could have both are both in question."""
    if one.answer != "agrees":
        return one
    same = [
        other
        for other in held
        if other.answer == "agrees" and (other.fitment, other.label, other.side) == (one.fitment, one.label, one.side)
    ]
    pairs = [(low, high) for a in same for low, high in ((a.least, one.most), (one.least, a.most))]
    margin = min((high - low for low, high in pairs if low is not None and high is not None), default=0.0)
    return one._replace(answer="differs", margin=margin) if margin < 0.0 else one


def mock_up_results(opened: OpenProject, fitment: str, label: str, into: SweepResults) -> None:
    """What the readings at one obstacle say of the sweep, the worst of them."""
    margin, words, doubts = (
        opened.spot(f"mock_up_{what}", fitment=fitment, obstacle=label) for what in ("margin", "words", "doubts")
    )
    own = [(one.margin, one) for one in opened.mock_ups if (one.fitment, one.label) == (fitment, label)]
    said = [(within, one) for within, one in own if within is not None]
    if not said:
        return
    within, worst = min(said, key=lambda pair: pair[0])
    into.results[margin] = within
    into.results[words] = f"{clean(label)}: {mock_up_words(opened, worst)}"
    into.results[doubts] = ", ".join(clean(opened.spoken(key)) for key in worst.rests_on) or "the obstacle"


def mock_up_words(opened: OpenProject, one: HeldMockUp) -> str:
    """`left: measured 1 in ± 1/16 in, predicted 1 1/2 in (1 1/4 in to 1 3/4 in)`."""
    style, predicted = opened.style, one.predicted
    side = f"{one.side}: " if one.side else ""
    read = f"{side}measured {as_written(one.taken.room, DISTANCE, style)}"
    if predicted is None:
        return read
    return f"{read}, predicted {band_words(style, predicted)}"


def band_words(style: Style, one: Band) -> str:
    """`1.50 in (1.25 in to 1.75 in)`."""
    plain = Style(style.system, fractions=False)
    low, high = show_range(one.low, one.high, (POSITION.smallest(), POSITION.greatest()), plain, beside=False)
    return f"{show_plain(one.value, POSITION, style)} ({low} to {high})"
