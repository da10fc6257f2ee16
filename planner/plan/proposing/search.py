"""The search: every combination looked at, those that nothing beats judged in full, and what ruled out the rest.

It can be stopped between any two tires on rims; what it says then is of what was looked at.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from decimal import Decimal
from math import inf
from time import process_time
from typing import NamedTuple

from planner.plan.answers.flagging import STANDING, Flag, flag_of, flags
from planner.plan.answers.open_project import work_out
from planner.plan.answers.verdicts import verdicts
from planner.plan.proposing.candidate import PlacedCombination, fitment_table, lead_days, planned_alone, price_of
from planner.plan.proposing.quick_look import (
    AXLES,
    PROPOSED,
    GearLook,
    PairLook,
    QuickLook,
    RuledOut,
    moved_steps,
    ruled_out,
)
from planner.plan.proposing.space import DAY, Combination, SearchSpace, SoldRim, SoldTire
from planner.plan.proposing.wish_axes import OF_TIRE, Axes, RangeWish, unbeaten, wished
from planner.plan.truck.progress import step
from planner.plan.truck.project import OpenProject
from planner.plan.truck.recording import RefusedChange
from planner.project.models.tires import Tire
from planner.trade.tire.sizes import design_diameter, design_section_width
from planner.worksheet.outcome import Spot
from planner.worksheet.verdict import Verdict

MOST = 12  # proposals
FINEST = 5e-4  # m; a room that is greater by less is no better: so closely is it proven
DEAREST = inf  # where a price is not known, nothing that has one is dearer


class FullAnswer(NamedTuple):
    """A candidate judged as the file's own would be: the project in which it is planned, and all its flags.

    `against` are the stops that the choice moves and that do not hold for sure.
    """

    opened: OpenProject
    flags: tuple[Flag, ...]
    against: tuple[Verdict, ...]


class Fitting(NamedTuple):
    """A combination that every stop lets through, and what it is compared by."""

    look: PairLook
    gear: GearLook
    axes: Axes
    price: Decimal | None
    days: float | None

    @property
    def combination(self) -> Combination:
        return Combination(self.look.tire, self.look.rim, self.gear.gears, self.gear.driven)

    @property
    def candidate(self) -> PlacedCombination:
        return PlacedCombination(self.combination, self.look.backspace)

    def value(self, wish: RangeWish) -> float | None:
        """What it has of what is wished."""
        return self.gear.values[wish.name] if wish.name in self.gear.values else self.look.values.get(wish.name)

    def meets(self, wish: RangeWish) -> bool:
        """Whether it is known to have it; the size as it is sold counts."""
        value = self.value(wish)
        return value is not None and wish.misses(value) <= 0.0


class Proposal(NamedTuple):
    """A combination that fits and that no other beats, judged in full."""

    fitting: Fitting
    full: FullAnswer


class Proposals(NamedTuple):
    """What a search found; `beaten` fit as well, and another is better. Not `whole` where it was stopped.

    `standing` are the flags of stops that no choice moves.
    """

    proposals: tuple[Proposal, ...]
    tried: int
    of: int
    ruled_out: tuple[tuple[RuledOut, int], ...]
    beaten: int
    more: int
    whole: bool
    looks: tuple[PairLook, ...]
    standing: tuple[Flag, ...]


class FitSearch:
    """One search over a space; `run` looks at one tire on a rim after the other, `answer` says what was found."""

    def __init__(self, opened: OpenProject, space: SearchSpace) -> None:
        self.opened, self.space, self.wished = opened, space, wished(opened)
        self.pairs = sorted(space.pairs(), key=self._worth)
        if not self.pairs:
            raise RefusedChange("nothing to try: no tire and rim that go together are offered or known")
        self._fitting: list[Fitting] = []
        self._looks: list[PairLook] = []
        self._out: Counter[RuledOut] = Counter()
        self._tried = 0
        self._full: dict[PlacedCombination, FullAnswer] = {}
        first = Combination(*self.pairs[0], space.gears[0], space.driven[0])
        began = process_time()
        self.sample = _planned(opened, space, PlacedCombination(first))
        self.seconds = process_time() - began  # what one candidate takes, nearly whole
        every = _stops(self.sample, space, moved=False)
        self.standing = tuple(flag_of(self.sample, verdict, worded=False) for verdict in every)
        self._quick = QuickLook(opened, first, self.sample, space, self.wished)

    @property
    def still_in(self) -> int:
        """How many of those tried so far nothing rules out."""
        return len(self._fitting)

    @property
    def whole(self) -> int:
        """How many combinations there are."""
        return len(self.pairs) * self.space.geared

    def lacking(self) -> dict[str, tuple[str, ...]]:
        """By axle the entries without which no backspace can be told, for any tire; or why none can, ever."""
        swept = self.sample.swept
        asked = tuple(f"fitments.{PROPOSED}.wheel.{name}" for name in ("backspace", "offset"))
        found: dict[str, tuple[str, ...]] = {}
        for axle in AXLES:
            spot = self.sample.spot("window_width", fitment=PROPOSED, axle=axle)
            if spot in swept.troubles:
                found[axle] = (swept.troubles[spot],)
            elif spot not in swept.results:
                needs = tuple(key for key in swept.needs.get(spot, ()) if key not in asked)
                found[axle] = needs or (f"obstacles.{axle}.inboard",)
        return found

    def run(self) -> Iterator[int]:
        """Looks at all of it; gives each time how many combinations are tried."""
        geared: dict[SoldTire, list[GearLook]] = {}  # a rim brings nothing to it
        for tire, rim in self.pairs[len(self._looks) :]:
            look = self._look(tire, rim)
            if look.out is None and tire not in geared:
                geared[tire] = self._quick.gears(look)
            self._looks.append(look)
            self._tried += self.space.geared
            if look.out is not None:
                self._out[look.out] += self.space.geared
            for gear in geared[tire] if look.out is None else ():
                out = gear.out or self._out_of_reach(look, gear)
                if out is not None:
                    self._out[out] += 1
                else:
                    self._fitting.append(self._compared(look, gear))
            step(self._tried, self.whole)
            yield self._tried

    def answer(self, top: int = MOST) -> Proposals:
        """What nothing beats of what was looked at, each judged in full.

        What does not stand that is looked at again at the maker's other steps, and ruled out where none is left.
        """
        refused: Counter[RuledOut] = Counter()
        tried: dict[Combination, tuple[float | None, ...]] = {}
        fitting = sorted(self._fitting, key=self._order)
        while True:
            front = unbeaten(fitting, lambda one: one.axes)
            shown = front[: min(top, MOST)]
            failed = None
            for one in shown:
                full = self._full.get(one.candidate) or judged_in_full(self.opened, self.space, one.candidate)
                self._full[one.candidate] = full
                if full.against:
                    failed = one
                    break
            if failed is None:
                break
            fitting.remove(failed)
            combination = failed.combination
            tried[combination] = (*tried.get(combination, ()), failed.look.backspace)
            steps = tuple(step for step in tried[combination] if step is not None)
            look = self._quick.pair(combination.tire, combination.rim, steps)
            if look.out is None:
                fitting = sorted([*fitting, self._compared(look, failed.gear)], key=self._order)
            else:
                refused[ruled_out(full.opened, full.against[0])] += 1
        return Proposals(
            tuple(Proposal(one, self._full[one.candidate]) for one in shown),
            self._tried,
            self.whole,
            tuple((self._out + refused).most_common()),
            len(fitting) - len(front),
            len(front) - len(shown),
            self._tried == self.whole,
            tuple(self._looks),
            self.standing,
        )

    def _look(self, tire: SoldTire, rim: SoldRim) -> PairLook:
        sizes = dict(zip(OF_TIRE, sizes_of(tire), strict=True))
        for wish in self.wished.ranges:
            if wish.name in sizes and not wish.near(sizes[wish.name]):
                return PairLook(tire, rim, RuledOut(f"wishes.{wish.name}"))
        return self._quick.pair(tire, rim)

    def _out_of_reach(self, look: PairLook, gear: GearLook) -> RuledOut | None:
        """The wish that is a limit, and that a combination is past."""
        one, wishes = Combination(look.tire, look.rim, gear.gears, gear.driven), self.opened.project.wishes
        price, days = price_of(self.opened, one), lead_days(one)
        known = [part.days for part in one.parts if part.days is not None]
        longest = None if wishes.longest_lead_time is None else wishes.longest_lead_time.value / DAY
        if wishes.budget is not None and price is not None and price > wishes.budget:
            return RuledOut("wishes.budget")
        if longest is not None and max(days or 0.0, *known, 0.0) > longest:
            return RuledOut("wishes.longest_lead_time")
        return None

    def _compared(self, look: PairLook, gear: GearLook) -> Fitting:
        one = Combination(look.tire, look.rim, gear.gears, gear.driven)
        price = price_of(self.opened, one)
        made = Fitting(look, gear, (), price, lead_days(one))
        missed = (_missed(made, wish) for wish in self.wished.compared)
        room = -round(look.room / FINEST) * FINEST
        return made._replace(axes=(*missed, room, DEAREST if price is None else float(price)))

    def _order(self, one: Fitting) -> tuple[object, ...]:
        """The list's order: who meets most wishes first, then by the wishes in their order; ties by what is changed."""
        missed = [_missed(one, wish) for wish in self.wished.ranges]
        unmet = sum(miss > 0.0 for miss in missed)
        return unmet, one.axes, tuple(missed), bool(one.gear.gears.ratio), one.gear.driven.teeth is not None

    def _worth(self, pair: tuple[SoldTire, SoldRim]) -> tuple[float, ...]:
        """What to look at first: what is nearest to the wishes, and to the tire that was found."""
        sizes = dict(zip(OF_TIRE, sizes_of(pair[0]), strict=True))
        wide = [wish for wish in self.wished.ranges if wish.name in sizes and not wish.largest]
        missed = sum(wish.misses(sizes[wish.name]) for wish in wide)
        was = self.opened.sheet.value(self.opened.spot("overall_diameter", fitment="found", axle="rear"))
        return missed, abs(sizes["diameter"] - (was or 0.0)), pair[1].meters


def judged_in_full(opened: OpenProject, space: SearchSpace, candidate: PlacedCombination) -> FullAnswer:
    """A candidate by every rule, as a check of the file would judge it if it were the chosen one."""
    own = _planned(opened, space, candidate)
    return FullAnswer(own, tuple(flags(own)), _stops(own, space, moved=True))


def _planned(opened: OpenProject, space: SearchSpace, candidate: PlacedCombination) -> OpenProject:
    """The project with the candidate in it as the only one that is planned, worked out and swept."""
    table = fitment_table(opened, space, candidate)
    driven = candidate.combination.driven.teeth
    if driven is None and len(space.driven) > 1 and candidate.backspace is None:  # so that a gear may be tried
        driven = opened.sheet.value(opened.spot("driven_teeth"))
    return work_out(planned_alone(opened, PROPOSED, table, driven), opened.today)


def _stops(opened: OpenProject, space: SearchSpace, moved: bool) -> tuple[Verdict, ...]:
    """The stops that do not hold for sure: those that the choice moves, or those that no choice does."""
    steps, layout = moved_steps(opened.sheet.layout, geared=space.geared > 1).all, opened.sheet.layout
    return tuple(
        one
        for one in verdicts(opened)
        if one.rule.severity == "stop"
        and one.answer in STANDING
        and (layout.index[Spot(one.rule.node, one.place)] in steps) is moved
    )


def sizes_of(tire: SoldTire) -> tuple[float, float]:
    """About how tall and how wide a tire is, before anything is worked out, in m."""
    own = Tire.model_validate(dict(tire.written))
    tall = design_diameter(tire.size) if own.overall_diameter is None else own.overall_diameter.value
    return tall, design_section_width(tire.size) if own.section_width is None else own.section_width.value


def _missed(one: Fitting, wish: RangeWish) -> float:
    value = one.value(wish)
    return inf if value is None else wish.misses(value)
