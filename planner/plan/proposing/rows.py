"""A proposal as people read it: what it is, where its wheel stands, why it is listed, and what speaks against it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import inf
from typing import NamedTuple

from planner.plan.answers.flagging import Flag, Tally, tally
from planner.plan.proposing.axle_fit import axle_fit, stop_window
from planner.plan.proposing.candidate import backspace_text, description
from planner.plan.proposing.quick_look import AXLES, PROPOSED
from planner.plan.proposing.search import FINEST, Fitting, Proposal, Proposals
from planner.plan.proposing.wish_axes import RangeWish, Wished, kind_of
from planner.plan.truck.project import OpenProject
from planner.quantities.kinds import DISTANCE, POSITION
from planner.quantities.show import show, show_plain
from planner.quantities.show_range import show_range
from planner.quantities.text import clean
from planner.trade.fit.window import Interval

KEPT = 0.02  # of the engine's speed at a road speed; closer than this the old gearing is kept


class WishedValue(NamedTuple):
    """A wish, what a proposal has of it in SI and in words, and whether it is met."""

    wish: RangeWish
    value: float | None
    shown: str
    met: bool


class BackspaceRoom(NamedTuple):
    """The backspaces, in m, at which every stop holds at both axles, and what ends them at either side."""

    low: float
    high: float
    low_binds: str
    high_binds: str


class ProposalRow(NamedTuple):
    """One proposal; `worst` is the flag that weighs most of what is not clear, `driven_teeth` what would read right."""

    proposal: Proposal
    what: str
    backspace: str
    room: BackspaceRoom | None
    window: str
    tightest: str
    wishes: tuple[WishedValue, ...]
    why: tuple[str, ...]
    tally: Tally
    worst: Flag | None
    driven_teeth: int | None


def rows(opened: OpenProject, found: Proposals, wished: Wished) -> list[ProposalRow]:
    """Every proposal, in the order of the list."""
    return [_row(opened, one, found, wished) for one in found.proposals]


def _row(opened: OpenProject, one: Proposal, found: Proposals, wished: Wished) -> ProposalRow:
    fitting, full = one.fitting, one.full
    room = _room(one)
    told = {(flag.rule.node, flag.where) for flag in found.standing}  # of every one of them
    standing = [flag for flag in full.flags if flag.stands or flag.verdict.answer == "too close to call"]
    standing = [flag for flag in standing if (flag.rule.node, flag.where) not in told]
    teeth = full.opened.sheet.value(full.opened.spot("nearest_driven_gear", fitment=PROPOSED))
    return ProposalRow(
        one,
        description(fitting.combination),
        backspace_text(fitting.candidate, opened.project.vehicle.units == "metric"),
        room,
        _window_words(opened, room),
        f"{show(fitting.look.room, DISTANCE.greatest(), opened.style, beside=False)} {tightest(opened, fitting)}",
        tuple(_wished(full.opened, fitting, wish) for wish in wished.ranges),
        tuple(_why(opened, one, found.proposals, wished)) or ("nothing that fits beats it",),
        tally(full.flags),
        standing[0] if standing else None,
        None if teeth is None else int(teeth),
    )


def tightest(opened: OpenProject, one: Fitting) -> str:
    """What the least room is to: an obstacle by its name, a limit, or what would be noticed next."""
    name = one.look.tightest
    if name in opened.obstacles:
        return f"to {clean(name)}"
    rule = opened.sheet.catalog.rule_named(name)
    return "" if rule is None else f"to {rule.bounds}" if rule.bounds else f"before {rule.notices}"


def _room(one: Proposal) -> BackspaceRoom | None:
    """Both axles' windows, where each is around the backspace; their ends and what binds there."""
    backspace, found = one.fitting.look.backspace, dict[str, Interval]()
    assert backspace is not None
    for axle in AXLES:
        fit = axle_fit(one.full.opened, PROPOSED, axle)
        own = None if fit is None else stop_window(fit, backspace)
        if own is None:
            return None
        found[axle] = own
    low, high = max(found, key=lambda axle: found[axle].low), min(found, key=lambda axle: found[axle].high)
    ends = found[low].low, found[high].high
    if not ends[0] <= backspace <= ends[1]:
        return None
    names = found[low].low_binds or "the rim's own width", found[high].high_binds or "the rim's own width"
    return BackspaceRoom(*ends, f"{names[0]}, {low}", f"{names[1]}, {high}")


def _window_words(opened: OpenProject, room: BackspaceRoom | None) -> str:
    if room is None:
        return ""
    kinds = (POSITION.smallest(), POSITION.greatest())
    low, high = show_range(room.low, room.high, kinds, opened.style, beside=False)
    return f"{low} to {high} (less: {clean(room.low_binds)}; more: {clean(room.high_binds)})"


def _wished(opened: OpenProject, one: Fitting, wish: RangeWish) -> WishedValue:
    value = one.value(wish)
    if value is None:
        return WishedValue(wish, None, "not known", False)
    return WishedValue(wish, value, show_plain(value, kind_of(opened, wish), opened.style), one.meets(wish))


def _why(opened: OpenProject, one: Proposal, every: Sequence[Proposal], wished: Wished) -> Iterator[str]:
    """What it is best at of all on the list, and the gearing that it keeps."""
    mine, axes = one.fitting.axes, [other.fitting.axes for other in every]
    if wished.ranges and not wished.invented and all(map(one.fitting.meets, wished.ranges)):
        yield "meets every wish"
    for at, wish in enumerate(wished.compared):
        best = min(each[at] for each in axes)
        if mine[at] == best < inf and any(each[at] > best for each in axes):
            has = "has" if best <= 0.0 else "comes closest to"
            yield f"the largest {wish.called}" if wish.largest else f"{has} the {wish.called} you want"
    if mine[-2] == min(each[-2] for each in axes) and len(axes) > 1:
        yield "the most room"
    if mine[-1] < inf and mine[-1] == min(each[-1] for each in axes) and any(each[-1] > mine[-1] for each in axes):
        yield "the lowest price"
    kept = _gearing_kept(one)
    if kept is not None and abs(kept) <= KEPT:
        yield f"keeps the old gearing within {max(abs(kept), 0.001):.1%}".replace("%", " %")
    if len(every) > 1 and not _is_best(mine, axes):
        yield f"no other with {_more_room(opened, one)} comes closer to what you want"


def _is_best(mine: Sequence[float], axes: Sequence[Sequence[float]]) -> bool:
    return any(own == min(each[at] for each in axes) < max(each[at] for each in axes) for at, own in enumerate(mine))


def _more_room(opened: OpenProject, one: Proposal) -> str:
    room = max(0.0, round(one.fitting.look.room / FINEST) * FINEST)
    return f"{show(room, DISTANCE.greatest(), opened.style, beside=False)} of room"


def _gearing_kept(one: Proposal) -> float | None:
    """How much faster the engine turns at a road speed than as found, as a share."""
    opened = one.full.opened
    rolled = [
        opened.sheet.value(opened.spot("rolling_circumference", fitment=name, axle="rear"))
        for name in ("found", PROPOSED)
    ]
    ratios = [opened.sheet.value(opened.spot("axle_ratio", fitment=name, axle="rear")) for name in ("found", PROPOSED)]
    if None in rolled or None in ratios:
        return None
    return float(ratios[1] / rolled[1] * rolled[0] / ratios[0] - 1.0)
