"""One candidate on a worksheet of its own, on which a change of any amount can be tried before anybody enters it."""

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from planner.plan.answers.open_project import work_out
from planner.plan.answers.verdicts import verdict_at, verdicts
from planner.plan.fit.clearances import sure_clearance
from planner.plan.fit.obstacle_results import GUARDED, fit_obstacle
from planner.plan.fit.swept_tires import side_tires, swept_tires
from planner.plan.fit.swept_wheel import SweptWheel, swept_obstacle
from planner.plan.truck.project import OpenProject
from planner.project.facts import AXES
from planner.project.models.changes import TruckChange
from planner.project.models.measurements import Obstacle
from planner.project.reading import Opened
from planner.quantities.quantity import Quantity
from planner.quantities.show import write
from planner.worksheet.outcome import Outcome, Spot
from planner.worksheet.turning import number_in
from planner.worksheet.verdict import Verdict

Move = tuple[float, float, float]  # forward, outboard and up, in m

OBSTACLE = AXES.index("obstacle")

FOLLOWS = (  # where nothing is in the way of the wheel as it stands, it steers to its stop and its backspace is one
    "no_backspace_clears",
    "locks_too_wide",
    "outer_lock_too_wide",
)


class Trial(NamedTuple):
    """What is tried: exact values by spot, in SI, and how far obstacles are moved, by name."""

    values: Mapping[Spot, float] = {}
    moved: Mapping[str, Move] = {}

    def with_also(self, other: "Trial") -> "Trial":
        """Both at once; an obstacle that both move is moved by both."""
        both = {name: _plus(self.moved.get(name), other.moved.get(name)) for name in {*self.moved, *other.moved}}
        return Trial({**self.values, **other.values}, both)


AS_IT_IS = Trial()


class TriedTruck:
    """A candidate that is planned alone, with a place of its own for each entry of the truck in `keys`, by key.

    What was measured at a mock-up is left out: of a wheel that is moved it says nothing any more. The worksheet is this
    object's own, and each trial takes the place of the one before.
    """

    def __init__(self, opened: OpenProject, fitment: str, keys: Mapping[str, Spot]) -> None:
        self.fitment = fitment
        read = {key: opened.project_value(opened.sheet.entered(spot) or spot) for key, spot in keys.items()}
        entries = {key: one for key, one in read.items() if isinstance(one, Quantity)}
        sets = {key: _text(opened, keys[key], one) for key, one in entries.items()}
        alone = without_mock_ups(opened.opened)
        change = TruckChange.model_construct(name="tried", sets=sets)
        project = alone.project.model_copy(update={"changes": [*alone.project.changes, change]})
        number = len(project.changes) - 1
        # The sweep of before stands in it unread: what is asked of an obstacle is proven anew for each trial.
        before = opened._replace(opened=alone)
        self._truck = work_out(alone._replace(project=project), opened.today, {fitment: (number,)}, before=before)
        self._sheets = {"": self._truck.sheet, **self._truck.side_sheets}
        self._as_it_was: dict[Spot, dict[str, object]] = {}
        for key, one in entries.items():  # there stands the bare value: each has the tolerance that it was read with
            apart = {
                side: sheet.given(sheet.entered(keys[key]) or keys[key]) for side, sheet in opened.side_sheets.items()
            }
            at = Spot(keys[key].node, (fitment, *keys[key].place[1:]))
            self._as_it_was[at] = {"": one, **{side: own for side, own in apart.items() if own is not None}}
        self._tried = Trial(dict.fromkeys(self._as_it_was, 0.0))
        self.tried(AS_IT_IS)

    def tried(self, trial: Trial) -> OpenProject:
        """The truck with a trial made, not swept."""
        for spot in trial.values.keys() - self._as_it_was.keys():
            self._as_it_was[spot] = {side: sheet.given(spot) for side, sheet in self._sheets.items()}
        gone = self._tried.values.keys() - trial.values.keys()
        for side, sheet in self._sheets.items():
            back = {spot: self._as_it_was[spot].get(side, self._as_it_was[spot].get("")) for spot in gone}
            sheet.change(back | {spot: Quantity(value) for spot, value in trial.values.items()})
        self._tried = trial
        if not trial.moved:
            return self._truck
        obstacles = dict(self._truck.obstacles_of(self.fitment))
        for name, by in trial.moved.items():
            obstacles[name] = obstacles[name]._replace(measured=moved(obstacles[name].measured, by))
        return self._truck._replace(moved_obstacles={**self._truck.moved_obstacles, self.fitment: obstacles})

    def outcome(self, spot: Spot, trial: Trial) -> Outcome:
        """A figure with a trial made; not one of the sweep's."""
        return self.tried(trial).sheet.outcome(spot)

    def margin(self, stop: Spot, trial: Trial) -> float | None:
        """By how much a stop's limit holds at the worst of the tolerances with a trial made; None while not known.

        Of an obstacle that is what is proven of its clearance.
        """
        truck = self.tried(trial)
        if stop.place[OBSTACLE]:
            return _proven(truck, self.fitment, stop.place[OBSTACLE])
        verdict = verdict_at(truck, stop)
        return None if verdict is None else _room(verdict)

    def short(self, trial: Trial) -> Iterator[tuple[Spot, float | None]]:
        """Every stop that does not hold for sure with a trial made, or is not known, and by how much it fails."""
        truck = self.tried(trial)
        for name, one in truck.obstacles_of(self.fitment).items():
            if one.measured.axle is not None:
                found = _proven(truck, self.fitment, name)
                if found is None or found < 0.0:
                    rule = "tire_too_near" if one.measured.kind in GUARDED else "tire_touches"
                    place = truck.spot("least_clearance", fitment=self.fitment, obstacle=name).place
                    yield Spot(rule, place), found
        for verdict in verdicts(truck):
            at = Spot(verdict.rule.node, verdict.place)
            swept = verdict.place[OBSTACLE] or verdict.rule.node in FOLLOWS
            if verdict.rule.severity == "stop" and verdict.answer != "clear" and not swept:
                yield at, _room(verdict)


def _room(verdict: Verdict) -> float | None:
    """By how much a limit holds at the worst; of a yes or no only that it does, or does not."""
    if verdict.margin is None:
        return None
    if verdict.rule.kind is None or isinstance(number_in(verdict.margin.value), bool):
        return 1.0 if verdict.answer == "clear" else -1.0
    return float(verdict.margin.low)


def _proven(truck: OpenProject, fitment: str, label: str) -> float | None:
    """What is proven of the room past an obstacle over what it must have, at whichever side and tire it is least."""
    one = truck.obstacles_of(fitment)[label]
    axle, found = one.measured.axle, list[float]()
    if axle is None:
        return None
    try:
        for at, wheel in side_tires(truck, fitment, axle, swept_tires(truck, fitment, axle)).items():
            if at.side and one.measured.side not in (at.side, "both"):
                continue
            past = swept_obstacle(one, label, wheel) if isinstance(wheel, SweptWheel) else None
            if past is None or not isinstance(wheel, SweptWheel):
                return None
            asked = fit_obstacle(truck, axle, one, past, wheel)
            room = sure_clearance(wheel, past)
            if room < 0.0 and asked.held is not wheel:  # on the axle on which contact is a stop
                room = max(room, sure_clearance(asked.held, past))
            found.append(room - asked.must.required)
    except ValueError:  # such a wheel, or such a motion, cannot be
        return None
    return min(found, default=None)


def moved(one: Obstacle, by: Move) -> Obstacle:
    """An obstacle at another place, both of its ends as far from where they were."""
    ends = ((name, getattr(one, name)) for name in ("at", "to"))
    return one.model_copy(
        update={
            name: tuple(Quantity(axis.value + far, axis.tolerance) for axis, far in zip(point, by, strict=True))
            for name, point in ends
            if point is not None
        }
    )


def without_mock_ups(opened: Opened) -> Opened:
    """The project as read, without what was measured at a mock-up."""
    kept = [one for one in opened.project.readings if one.fitment is None]
    return opened._replace(project=opened.project.model_copy(update={"readings": kept}))


def _text(opened: OpenProject, spot: Spot, one: Quantity) -> str:
    kind = opened.sheet.catalog.kind(spot.node)
    assert kind is not None
    return write(Quantity(one.value), kind)


def _plus(one: Move | None, other: Move | None) -> Move:
    first, second = one or (0.0, 0.0, 0.0), other or (0.0, 0.0, 0.0)
    return first[0] + second[0], first[1] + second[1], first[2] + second[2]
