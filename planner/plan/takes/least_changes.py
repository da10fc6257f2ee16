"""What it takes to run a candidate: for each stop the least single changes that clear it, and what clears all."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import combinations
from math import ceil
from typing import NamedTuple

from planner.plan.answers.flagging import STANDING, Flag, flags, of_plan
from planner.plan.answers.open_project import as_if_chosen
from planner.plan.takes.levers import Lever, levers, truck_entries
from planner.plan.takes.tried_truck import AS_IT_IS, FOLLOWS, OBSTACLE, Trial, TriedTruck
from planner.plan.truck.progress import step
from planner.plan.truck.project import OpenProject
from planner.worksheet.outcome import Known, Spot

MOST_LOOKS = 40  # at one margin
MOST_TOGETHER = 3  # ways to clear all that are told
MOST_AT_ONCE = 3  # changes
MOST_TRIED = 12  # of the ways of as many changes, those first that go less far
OF_THE_TIRE = ("smaller tire", "narrower tire")  # which make it another tire
CLOSEST = 0.1  # of a step; two amounts are told apart no more closely


class FigureMoved(NamedTuple):
    """A figure that goes with a change, where it stands, and what it was and comes to."""

    spot: Spot
    before: Known
    after: Known


class LeastChange(NamedTuple):
    """The least of one lever that clears a stop, in SI, rounded away from danger, and what it costs elsewhere."""

    lever: Lever
    amount: float
    costs: tuple[FigureMoved, ...] = ()


class StopTaken(NamedTuple):
    """A stop at its one place, and each single change that clears it."""

    flag: Flag
    spot: Spot
    changes: tuple[LeastChange, ...]


# One change, or a few at once, after which none of the stops that a change can clear is left.
Together = tuple[LeastChange, ...]


class WhatItTakes(NamedTuple):
    """All of it. `beyond` are stops that no change looked at clears, `not_known` those that nobody can judge yet."""

    opened: OpenProject
    fitment: str
    stops: tuple[StopTaken, ...]
    beyond: tuple[Flag, ...]
    not_known: tuple[Flag, ...]
    together: tuple[Together, ...]


def what_it_takes(opened: OpenProject, fitment: str) -> WhatItTakes:
    """What it takes to run a candidate of the project."""
    alone = as_if_chosen(opened, fitment)
    standing = [flag for flag in flags(alone) if flag.rule.severity == "stop" and not of_plan(flag.rule)]
    raised = [flag for flag in standing if flag.verdict.answer in STANDING and flag.rule.node not in FOLLOWS]
    search = _Search(alone, fitment)
    stops, beyond = list[StopTaken](), list[Flag]()
    asked = [(flag, Spot(flag.rule.node, place)) for flag in raised for place in flag.places]
    for at, (flag, spot) in enumerate(asked):
        step(at, len(asked) + 1)
        found = tuple(search.single(spot))
        if found:
            stops.append(StopTaken(flag, spot, found))
        elif flag not in beyond:
            beyond.append(flag)
    together = tuple(search.together(stops)) if stops else ()
    lost = tuple(flag for flag in standing if flag.verdict.answer == "not known")
    return WhatItTakes(alone, fitment, tuple(stops), tuple(beyond), lost, together)


class _Search:
    def __init__(self, opened: OpenProject, fitment: str) -> None:
        self._opened = opened
        self._tried = TriedTruck(opened, fitment, truck_entries(opened, fitment))
        self._levers = list(levers(opened, fitment))

    def single(self, stop: Spot) -> Iterator[LeastChange]:
        """Every lever's least amount that clears a stop by itself; of one obstacle's ways to go the shortest."""
        moves = list[tuple[Lever, float]]()
        for lever in self._levers:
            label = stop.place[OBSTACLE]
            mine = lever.obstacles and (len(lever.obstacles) > 1 or lever.obstacles[0][0] == label)
            if lever.obstacles and not mine:
                continue
            amount = self._least(stop, lever, AS_IT_IS)
            if amount is None:
                continue
            if len(lever.obstacles) == 1 and lever.name != "lift":
                moves.append((lever, amount))
            else:
                yield self._told(lever, amount)
        if moves:
            yield self._told(*min(moves, key=lambda one: one[1]))

    def _least(self, stop: Spot, lever: Lever, beside: Trial) -> float | None:
        """The least amount that clears a stop with another trial made, to a full step; None where none does."""

        def margin(amount: float) -> float | None:
            return self._tried.margin(stop, beside.with_also(lever.trial(amount)))

        now = margin(0.0)
        if now is None:
            return None
        if now >= 0.0:
            return 0.0
        found = least_amount(margin, lever.most, lever.step * CLOSEST)
        if found is None:
            return None
        amount = ceil(found / lever.step - 1e-9) * lever.step
        return amount if amount <= lever.most and (margin(amount) or 0.0) >= 0.0 else None

    def _told(self, lever: Lever, amount: float) -> LeastChange:
        return LeastChange(lever, amount, tuple(self._costs(lever, amount)))

    def _costs(self, lever: Lever, amount: float) -> Iterator[FigureMoved]:
        for node in lever.costs:
            spot = next(
                (one for one in self._opened.sheet.spots(node) if one.place[0] == self._tried.fitment
                 and one.place[1] in ("", lever.end)), None
            )  # fmt: skip
            if spot is None:
                continue
            before = self._tried.outcome(spot, AS_IT_IS)
            after = self._tried.outcome(spot, lever.likely(amount))
            if isinstance(before, Known) and isinstance(after, Known) and before.value != after.value:
                yield FigureMoved(spot, before, after)

    def together(self, stops: Sequence[StopTaken]) -> Iterator[Together]:
        """The ways to clear all that can be cleared, by as few changes as will do, with the tire as it is if any will.

        Where one change is not enough two are tried, then three.
        """
        needed: dict[Lever, dict[Spot, float]] = {}
        for one in stops:
            for change in one.changes:
                needed.setdefault(change.lever, {})[one.spot] = change.amount
        every = {one.spot for one in stops}
        known = {spot for spot, _ in self._tried.short(AS_IT_IS)}
        keeping = [lever for lever in needed if lever.name not in OF_THE_TIRE]
        for among in (keeping, list(needed)):
            for several in range(1, MOST_AT_ONCE + 1):
                ways = [
                    way for way in combinations(among, several) if set().union(*(needed[one] for one in way)) == every
                ]
                ways.sort(key=lambda way: sum(max(needed[one].values()) / one.most for one in way))
                found = [way for at in ways[:MOST_TRIED] if (way := self._enough(at, needed, every, known)) is not None]
                if found:
                    return iter(sorted(found, key=_burden)[:MOST_TOGETHER])
        return iter(())

    def _enough(
        self, way: Sequence[Lever], needed: Mapping[Lever, Mapping[Spot, float]], every: set[Spot], known: set[Spot]
    ) -> Together | None:
        """Each lever by what the stops need that it alone clears; the last also by what is left then."""
        amounts = []
        for lever in way:
            own = [stop for stop in needed[lever] if all(stop not in needed[one] for one in way if one is not lever)]
            amounts.append(max((needed[lever][stop] for stop in own), default=0.0))
        beside = AS_IT_IS
        for lever, amount in zip(way[:-1], amounts[:-1], strict=True):
            beside = beside.with_also(lever.trial(amount))
        least = [self._least(stop, way[-1], beside) for stop in every]
        if any(one is None for one in least):
            return None
        amounts[-1] = max(one for one in least if one is not None)
        whole = beside.with_also(way[-1].trial(amounts[-1]))
        left = [spot for spot, _ in self._tried.short(whole) if spot in every or spot not in known]
        if left or not all(amounts):
            return None
        return tuple(self._told(lever, amount) for lever, amount in zip(way, amounts, strict=True))


def _burden(way: Together) -> tuple[int, float]:
    """Fewer changes first, then those that go less of the way that they may."""
    return len(way), sum(one.amount / one.lever.most for one in way)


def least_amount(margin: Callable[[float], float | None], most: float, closest: float) -> float | None:
    """The least amount up to `most` from which on a margin holds, by regula falsi; None where it does not hold there.

    >>> round(least_amount(lambda amount: amount * amount - 4.0, 10.0, 1e-9), 8)
    2.0
    """
    bad, push = 0.0, margin(0.0)
    good, pull = most, margin(most)
    if push is None or pull is None or pull < 0.0:
        return None
    moved = ""
    for _ in range(MOST_LOOKS):
        if good - bad <= closest or pull == 0.0:
            break
        share = pull / (pull - push) if pull > push else 0.5
        trial = min(max(good + (bad - good) * share, bad + closest / 2), good - closest / 2)
        there = margin(trial)
        if there is None:
            return None
        if there >= 0.0:
            push = push / 2.0 if moved == "good" else push  # of an end that stays twice only half is taken (Illinois)
            good, pull, moved = trial, there, "good"
        else:
            pull = pull / 2.0 if moved == "bad" else pull
            bad, push, moved = trial, there, "bad"
    return good
