"""A tire on a rim looked at quickly: the first stop that is not proven to hold, or a backspace at which all are.

Nothing is judged by the middle: a stop that does not hold at the worst of the tolerances rules out. What is cheap is
asked first. What comes through is a candidate, which is judged in full before anybody is told that it fits.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from math import inf
from typing import Any, NamedTuple

from planner.plan.answers.flagging import STANDING
from planner.plan.proposing.axle_fit import AxleFit, axle_fit, in_the_way, least_room, steps
from planner.plan.proposing.candidate import PlacedCombination, fitment_table, held_to
from planner.plan.proposing.space import (
    Combination,
    SearchSpace,
    SoldDrivenGear,
    SoldGears,
    SoldRim,
    SoldTire,
)
from planner.plan.proposing.wish_axes import Wished, value_of
from planner.plan.truck.pairs import asked_there
from planner.plan.truck.project import EVERYWHERE, OpenProject, place_of
from planner.plan.truck.sweep_results import NODES as SWEPT
from planner.project.facts import entered
from planner.project.models.fitments import Fitment
from planner.project.models.project import FORMAT, Project
from planner.project.usual_tolerances import with_usual_tolerances
from planner.quantities.grammar import Value
from planner.quantities.quantity import Quantity
from planner.worksheet.layout import Layout
from planner.worksheet.outcome import Spot
from planner.worksheet.verdict import Verdict, judge

PROPOSED = "proposed"
AXLES = ("front", "rear")
CHOSEN = (
    "designation", "overall_diameter", "section_width", "rim_width", "rim_diameter_code", "spare_designation",
)  # fmt: skip
_EMPTY = Project.model_validate({"format": FORMAT})
OF_ROOM = ("fit.", "brakes.", "wheel.")  # stops whose margin is room beside the tire or the wheel
GEARED = ("axle_ratio", "driven_teeth")
NO_STEP = "no step of the maker's"  # what rules out where no backspace that is made lies between the limits
READS_CLOSER = "speedometer gear"  # where another one reads closer


class RuledOut(NamedTuple):
    """What rules a combination out: a stop by its rule, and what it is about, an axle or an obstacle.

    `close` where it is only in doubt; then `better` is the key of the entry that would settle it best.
    """

    rule: str
    about: str = ""
    close: bool = False
    better: str = ""


class PairLook(NamedTuple):
    """A tire on a rim: what rules it out, or where it stands, what its tightest stop leaves, and to what."""

    tire: SoldTire
    rim: SoldRim
    out: RuledOut | None = None
    backspace: float | None = None
    room: float = inf
    tightest: str = ""
    values: Mapping[str, float | None] = {}


class GearLook(NamedTuple):
    """A gear set and a driven gear behind one tire: what rules them out, and what is wished of them."""

    gears: SoldGears
    driven: SoldDrivenGear
    out: RuledOut | None
    values: Mapping[str, float | None]


def ruled_out(opened: OpenProject, verdict: Verdict) -> RuledOut:
    """What a stop that does not hold for sure rules out."""
    close = verdict.answer == "too close to call"
    spots = [one.spot for one in verdict.settles if one.spot.node not in SWEPT] if close else []  # not swept
    better = opened.key_of(spots[0]) if spots else ""
    return RuledOut(verdict.rule.name, verdict.place[1] or verdict.place[2], close, better)


class MovedSteps(NamedTuple):
    """The steps of a worksheet that a choice moves: the gears, the backspace, what is swept, or anything of them."""

    geared: set[int]
    placed: set[int]
    swept: set[int]
    all: set[int]


def moved_steps(layout: Layout, geared: bool) -> MovedSteps:
    """What the tire, its rim, its backspace, and where there is a choice the gears of a candidate move."""

    def reach(nodes: Iterable[str]) -> set[int]:
        at = (one for node in nodes for one in layout.by_node.get(node, ()))
        return layout.reach(one for one in at if layout.steps[one].spot.place[0] in ("", PROPOSED))

    gears, placed = reach(GEARED if geared else ()), reach(("backspace",))
    swept = reach(node for node in SWEPT if not node.startswith("mock_up_"))
    return MovedSteps(gears, placed, swept, reach(CHOSEN) | gears | placed | swept)


class QuickLook:
    """Looks at one combination after the other on the worksheet of one of them, `opened`, which it changes."""

    def __init__(
        self, file: OpenProject, first: Combination, opened: OpenProject, space: SearchSpace, wished: Wished
    ) -> None:
        self._file, self._opened, self._space, self._wished = file, opened, space, wished
        self._metric = file.project.vehicle.units == "metric"
        sheet, layout = opened.sheet, opened.sheet.layout

        moved = moved_steps(layout, geared=space.geared > 1)
        self._early, self._late, self._geared = list[Spot](), list[Spot](), list[Spot]()
        for node, rule in sheet.catalog.rules.items():
            for at in layout.by_node.get(node, ()) if rule.severity == "stop" else ():
                spot = layout.steps[at].spot
                if spot.place[0] not in ("", PROPOSED) or at not in moved.all:
                    continue
                if at not in moved.swept and asked_there(opened, spot):
                    (self._geared if at in moved.geared else self._late if at in moved.placed else self._early).append(
                        spot
                    )
        self._of_gears = {
            one.name for one in wished.ranges if not moved.geared.isdisjoint(layout.by_node.get(one.node, ()))
        }
        self._read: dict[tuple[str, object], dict[Spot, Value]] = {}
        self._entered = self.entries(first)
        self._orders: dict[str, list[str]] = {axle: [] for axle in AXLES}
        self._firsts = list(AXLES)

    def pair(self, tire: SoldTire, rim: SoldRim, refused: Collection[float] = ()) -> PairLook:
        """A tire on a rim, with the gears as they are, at none of the backspaces that are refused."""
        combination = Combination(tire, rim, self._space.gears[0], self._space.driven[0])
        self._enter(combination)
        out = self._first_stop(self._early)
        if out is not None:
            return PairLook(tire, rim, out)
        fits = {}
        for axle in tuple(self._firsts):
            found = axle_fit(self._opened, PROPOSED, axle)
            if found is None:
                return PairLook(tire, rim, RuledOut("fit.no_backspace_clears", f"{axle}: not known"))
            if found.binds:
                self._front(axle)
                return PairLook(tire, rim, RuledOut(found.binds, axle))
            fits[axle] = found
        return self._placed(combination, fits, refused)

    def gears(self, look: PairLook) -> list[GearLook]:
        """Every way to gear a tire that stands on the worksheet."""
        found = []
        for gears in self._space.gears:
            looks, errors = [], []
            for driven in self._space.driven:
                self._enter(Combination(look.tire, look.rim, gears, driven), look.backspace)
                out = self._first_stop(self._geared)
                looks.append(GearLook(gears, driven, out, self._values(of_gears=True)))
                error = self._opened.sheet.value(self._opened.spot("fitted_gear_error", fitment=PROPOSED))
                errors.append(inf if error is None else abs(float(error)))
            # Of several driven gears the one that reads closest is better whatever it costs; as it is, where none says.
            closest = errors.index(min(errors))
            found += [
                one if at == closest else one._replace(out=one.out or RuledOut(READS_CLOSER))
                for at, one in enumerate(looks)
            ]
        return found

    def _values(self, of_gears: bool) -> dict[str, float | None]:
        """What stands on the worksheet of all that is wished of the gears, or of all else."""
        asked = (one for one in self._wished.ranges if (one.name in self._of_gears) is of_gears)
        return {one.name: value_of(self._opened, one, PROPOSED) for one in asked}

    def _placed(self, combination: Combination, fits: Mapping[str, AxleFit], refused: Collection[float]) -> PairLook:
        """At the maker's step nearest to the poke wished and to where the tire's middle was where all stops hold."""
        tire, rim = combination.tire, combination.rim
        low = max(one.stretch[0] for one in fits.values())
        high = min(one.stretch[1] for one in fits.values())
        out: dict[RuledOut, int] = {}
        for backspace in self._steps(rim, low, high, fits):
            if backspace in refused:
                continue
            for axle in tuple(self._firsts):
                blocked = in_the_way(fits[axle], backspace, held_to(rim, self._metric), self._orders[axle])
                if blocked:
                    self._front(axle)
                    one = RuledOut("fit.tire_too_near", blocked)
                    out[one] = out.get(one, 0) + 1
                    break
            else:
                self._enter(combination, backspace)
                stop = self._first_stop((*self._late, *self._early))
                if stop is None:
                    found = self._fits(tire, rim, backspace)
                    if found.room >= 0.0:
                        return found
                    # Clear, but not by as much as the sweep that is told proves: there it is too close to call.
                    stop = RuledOut("fit.tire_too_near", found.tightest, close=True)
                out[stop] = out.get(stop, 0) + 1
        return PairLook(tire, rim, max(out, key=out.__getitem__, default=RuledOut(NO_STEP)))

    def _fits(self, tire: SoldTire, rim: SoldRim, backspace: float) -> PairLook:
        room, tightest = inf, ""
        for spot in (*self._early, *self._late):
            rule, outcome = self._opened.sheet.catalog.rules[spot.node], self._opened.sheet.outcome(spot)
            margin = judge(rule, spot.place, outcome).margin
            of_room = rule.kind is not None and rule.kind.si == "m" and rule.name.startswith(OF_ROOM) and not rule.bars
            if margin is not None and of_room and margin.low < room:
                room, tightest = margin.low, rule.name
        for axle in AXLES:
            left, binds = least_room(self._opened, PROPOSED, axle, room)
            room, tightest = (left, binds) if left < room else (room, tightest)
        return PairLook(tire, rim, None, backspace, room, tightest, self._values(of_gears=False))

    def _steps(self, rim: SoldRim, low: float, high: float, fits: Mapping[str, AxleFit]) -> list[float]:
        if rim.backspace is not None:
            own = rim.backspace.value
            return [own] if low <= own <= high else []
        step = rim.step or self._opened.sheet.value(self._opened.spot("backspace_step", fitment=PROPOSED))
        found = [one.near for one in fits.values() if one.near is not None]
        near = sum(found) / len(found) if found else (low + high) / 2.0
        poke = next((one for one in self._wished.ranges if one.name == "poke" and not one.largest), None)

        def worth(backspace: float) -> tuple[float, ...]:
            missed = [poke.misses(one.poke - backspace) for one in fits.values() if poke and one.poke is not None]
            return max(missed, default=0.0), abs(backspace - near)

        return list(steps(low, high, step, worth)) if low <= high else []

    def _first_stop(self, spots: Iterable[Spot]) -> RuledOut | None:
        """The first of these that does not hold for sure; what is not known rules nothing out."""
        for spot in spots:
            rule = self._opened.sheet.catalog.rules[spot.node]
            verdict = judge(rule, spot.place, self._opened.sheet.outcome(spot))
            if verdict.answer in STANDING:
                return ruled_out(self._opened, verdict)
        return None

    def _front(self, axle: str) -> None:
        self._firsts.remove(axle)
        self._firsts.insert(0, axle)

    def _enter(self, combination: Combination, backspace: float | None = None) -> None:
        """The combination in place of the last one, on the worksheet; where it has no backspace the last one stays."""
        wanted, at = self.entries(combination), Spot("backspace", place_of({"fitment": PROPOSED}))
        if backspace is not None:
            off = held_to(combination.rim, self._metric)
            wanted[at] = combination.rim.backspace or Quantity(backspace, off)
        elif at in self._entered:  # nothing that is asked before it is known where the wheel stands reads it
            wanted[at] = self._entered[at]
        edits: dict[Spot, Any] = {spot: value for spot, value in wanted.items() if self._entered.get(spot) != value}
        edits |= {spot: None for spot in self._entered if spot not in wanted}
        self._opened.sheet.change(edits)
        self._entered = wanted

    def entries(self, combination: Combination) -> dict[Spot, Value]:
        """What the file would have of it, as it would be read; each tire and each rim is read once."""
        tire, rim, gears, driven = combination
        parts: tuple[tuple[str, tuple[str, ...], object], ...] = (
            ("rest", (), gears),
            ("tire", ("tire", "spare"), tire),
            ("rim", ("wheel",), rim),
        )
        found: dict[Spot, Value] = {}
        for name, tables, part in parts:
            if (name, part) not in self._read:
                self._read[name, part] = {
                    spot: value for table, spot, value in self._as_read(combination) if _is_of(table, tables)
                }
            found |= self._read[name, part]
        if len(self._space.driven) > 1:
            now = self._file.sheet.value(Spot("driven_teeth", EVERYWHERE))
            found[Spot("driven_teeth", place_of({"fitment": PROPOSED}))] = now if driven.teeth is None else driven.teeth
        return found

    def _as_read(self, combination: Combination) -> Iterator[tuple[str, Spot, Value]]:
        """Each entry of the candidate's table, with the table in it that it stands in."""
        table = fitment_table(self._file, self._space, PlacedCombination(combination))
        project = _EMPTY.model_copy(update={"fitments": {PROPOSED: Fitment.model_validate(table)}})
        if self._file.opened.assumes:
            project = with_usual_tolerances(project)
        for fact, place, key, value in entered(project):
            if key[0] == "fitments" and value is not None:
                yield str(key[2]), Spot(fact, place_of(dict(place))), value


def _is_of(table: str, tables: tuple[str, ...]) -> bool:
    """Whether a table is one of these; without any, whether it is none of a tire and a rim."""
    return table in tables if tables else table not in ("tire", "spare", "wheel")
