"""What stands against a search before it is begun: a truck too little measured, wishes that contradict each other."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from planner.plan.proposing.quick_look import PROPOSED
from planner.plan.proposing.search import FitSearch, Proposals, sizes_of
from planner.plan.proposing.wish_axes import OF_TIRE, Wished, kind_of
from planner.plan.truck.project import OpenProject
from planner.plan.truck.recording import RefusedChange
from planner.quantities.kinds import ANGLE, POSITION, Kind
from planner.quantities.show import show
from planner.worksheet.outcome import Known

FEW = 3  # entries that are named


def refuse_unsound(search: FitSearch) -> None:
    """Raises `RefusedChange` where nothing can come of a search."""
    lacking, at_odds = too_little_measured(search), contradicting_wishes(search)
    if lacking:
        raise RefusedChange(f"not enough is measured to say where a wheel can sit. {'; '.join(lacking)}")
    if at_odds:
        raise RefusedChange(f"you can't have all that you want at once: {'; '.join(at_odds)}")


def too_little_measured(search: FitSearch) -> list[str]:
    """By axle which few entries would say where the wheel may stand; nothing where that is known."""
    opened, said = search.sample, []
    for axle, keys in search.lacking().items():
        if any(" " in key for key in keys):  # why it never can be
            said.append(f"{axle} axle: {keys[0]}")
            continue
        named = [opened.asked_for(key) for key in keys[:FEW]]
        more = f", and {len(keys) - FEW} more" if len(keys) > FEW else ""
        said.append(f"{axle} axle: enter {', '.join(named)}{more}")
    return said


def contradicting_wishes(search: FitSearch) -> list[str]:
    """Wishes that nothing that can be had, or nothing that the truck and the law allow, can meet together."""
    return [*_against_truck(search.sample, search.wished), *_against_sizes(search)]


def _against_truck(opened: OpenProject, wished: Wished) -> Iterator[str]:
    for axle in ("front", "rear"):
        steer = opened.project.wishes.least_steer
        stop = opened.sheet.outcome(opened.spot("stop_angle", fitment=PROPOSED, axle=axle))
        if opened.steers(axle, PROPOSED) and steer is not None and isinstance(stop, Known) and stop.high < steer.value:
            told = _both(opened, ANGLE, steer.value, stop.high)
            yield f"wishes.least_steer is {told[0]}, and the {axle} stops let the wheel turn {told[1]} at most"
        for wish in wished.ranges:
            if wish.name != "poke" or wish.largest:
                continue
            for node, whose in (("legal_poke", "the local code allows"), ("greatest_poke", "you accept")):
                most = opened.sheet.outcome(opened.spot(node, fitment=PROPOSED, axle=axle))
                if isinstance(most, Known) and most.high < wish.low:
                    told = _both(opened, POSITION, wish.low, most.high)
                    yield f"wishes.poke begins at {told[0]}, and {whose} {told[1]} at the {axle} axle"


def _against_sizes(search: FitSearch) -> Iterator[str]:
    """Wishes about the tire of which each is met by some size, and no size meets both."""
    sizes = [dict(zip(OF_TIRE, sizes_of(tire), strict=True)) for tire in search.space.tires]
    wishes = [wish for wish in search.wished.ranges if wish.name in OF_TIRE and not wish.largest]
    for wish in wishes:
        if not any(wish.near(size[wish.name]) for size in sizes):
            low, high = _both(search.opened, kind_of(search.opened, wish), wish.low, wish.high)
            yield f"wishes.{wish.name} is {low} to {high}, and no tire you can get comes near that"
    for one, other in combinations(wishes, 2):
        either = [any(wish.near(size[wish.name]) for size in sizes) for wish in (one, other)]
        both = any(one.near(size[one.name]) and other.near(size[other.name]) for size in sizes)
        if all(either) and not both:
            yield f"wishes.{one.name} and wishes.{other.name}: no tire you can get comes near both"


def unmet_together(found: Proposals, wished: Wished) -> list[str]:
    """Of what was found, which two wishes are each met by some, and by none together."""
    met = [{wish.name for wish in wished.ranges if one.fitting.meets(wish)} for one in found.proposals]
    return [
        f"nothing listed meets both {one.called} and {other.called}"
        for one, other in combinations([wish for wish in wished.ranges if not wish.largest], 2)
        if any(one.name in each for each in met)
        and any(other.name in each for each in met)
        and not any({one.name, other.name} <= each for each in met)
    ]


def _both(opened: OpenProject, kind: Kind, *values: float) -> list[str]:
    return [show(value, kind, opened.style, 0.0, beside=False) for value in values]
