"""The limits on the backspace that need no sweep: each solves the rule that declares that it bounds the backspace."""

from __future__ import annotations

from collections.abc import Callable
from math import inf, isfinite
from typing import Literal, NamedTuple

from planner.plan.truck.pairs import asked_there, backspaces, in_pairs
from planner.plan.truck.project import OpenProject, place_of
from planner.plan.truck.wording import place_name
from planner.quantities.text import same_name
from planner.trade.fit.limits import Limit
from planner.worksheet.declare import Rule
from planner.worksheet.outcome import Known, Outcome, Spot, Waiting
from planner.worksheet.what_if import WhatIf

Stretch = tuple[float, float]
End = Literal["low", "high"]

ZERO = 1e-12  # what float arithmetic leaves of a margin that is met exactly, as where a rule is judged

CLOSE_TO_NOTHING = 1e-10  # of a margin: more of it than that is left where it is no straight line

CLOSEST = 1e-12  # m; two backspaces are not told apart more closely

HAIR = 1e-3  # of a stretch, over which a slope is read

MOST_TRIES = 60

NONE_KEEPS: Stretch = (inf, inf)

AS_FOUND = ("fitment", "found")


class BackspaceLimit(NamedTuple):
    """One rule's limit at the worst of all tolerances, and at their kindest.

    `taken_on`: whether the person accepted that it is broken; `brought` has by key how far each entry moves the bound.
    """

    rule: Rule
    worst: Limit
    kindest: Limit
    taken_on: bool
    brought: tuple[tuple[str, float], ...]


class BackspaceLimits(NamedTuple):
    """Every rule's limit that is known; `barred` has the keys of what one rests on that was made and is not known.

    `waits` has the keys that would tell where a limit lies which is known at some backspaces and not at others.
    """

    limits: tuple[BackspaceLimit, ...]
    barred: tuple[str, ...]
    waits: tuple[str, ...]


def backspace_limits(opened: OpenProject, fitment: str, axle: str, wide: float) -> BackspaceLimits:
    """What each rule leaves of the backspaces at which such a wheel is looked for, its rim `wide` over all.

    What is not known limits nothing here: the rules on it say that it is not known.
    """
    found: list[BackspaceLimit] = []
    barred: dict[str, None] = {}
    waits: dict[str, None] = {}
    tried = BackspacesTried(opened, fitment, axle)
    (low, high), pair = backspaces(opened, fitment, wide), in_pairs(opened, fitment, axle)
    for rule in opened.sheet.catalog.rules.values():
        if not rule.bounds:
            continue
        at = rule_spot(opened, rule.node, fitment, axle)
        if not asked_there(opened, at):
            continue
        outcomes = [tried.outcome(at, end) for end in (low, high)]
        for one in outcomes:
            barred.update(dict.fromkeys(map(opened.key_of, one.barred)) if isinstance(one, Waiting) else {})
        if not any(isinstance(one, Known) for one in outcomes) or (pair and not tried.moves(at, low, high)):
            continue
        half = [one for one in outcomes if isinstance(one, Waiting)]
        waits.update(
            {key: None for one in half for at_ in (*one.needs, *one.either) for key in opened.keys_needed(at_)}
        )
        ends = (kept(tried.margins(at, end), low, high) for end in ("low", "high"))
        worst, kindest = (limit_of(rule.bounds, stretch, low, high) for stretch in ends)
        brought = _brought(opened, tried, at, worst, kindest)
        found.append(BackspaceLimit(rule, worst, kindest, _taken_on(opened, rule, at), brought))
    return BackspaceLimits(tuple(found), tuple(barred), tuple(waits))


def _brought(
    opened: OpenProject, tried: BackspacesTried, at: Spot, worst: Limit, kindest: Limit
) -> tuple[tuple[str, float], ...]:
    """By key how much of what lies between the worst bound and the kindest each entry brings, in m."""
    both = ((worst.low, kindest.low), (worst.high, kindest.high))
    one, other = next((ends for ends in both if all(map(isfinite, ends))), (inf, inf))
    there = tried.outcome(at, one) if one < inf else None
    shares = there.shares if isinstance(there, Known) else ()
    whole = sum(share.half for share in shares)
    if not 0.0 < whole < inf:
        return ()
    half = abs(one - other) / 2
    sources = ((opened.sheet.entered(share.spot) or share.spot, half * share.half / whole) for share in shares)
    return tuple((opened.key_of(spot), part) for spot, part in sources)


def rule_spot(opened: OpenProject, rule: str, fitment: str, axle: str) -> Spot:
    """Where a rule judges one end of a fitment."""
    layout = opened.sheet.layout
    return Spot(rule, layout.place(place_of({"fitment": fitment, "axle": axle}), layout.scopes[rule]))


def _taken_on(opened: OpenProject, rule: Rule, at: Spot) -> bool:
    """Whether the person accepted, with a reason, that a caution is raised there."""
    names = place_name(at.place), place_name(at.place, alone=True)
    return rule.severity != "stop" and any(
        one.flag == rule.name and one.because and any(same_name(one.at or "", name) for name in names)
        for one in opened.project.acceptances
    )


class BackspacesTried:
    """What rules say of one end of a fitment at any backspace, as if an exact one were entered there.

    It takes the place of the backspace or offset that was made for this end, at both axles where one serves both; and
    where neither was, it stands where the rim's width was entered.
    """

    def __init__(self, opened: OpenProject, fitment: str, axle: str) -> None:
        sheet, layout = opened.sheet, opened.sheet.layout
        here = {node: opened.spot(node, fitment=fitment, axle=axle) for node in ("backspace", "offset", "rim_width")}
        made = next((place for spot in here.values() if (place := sheet.entered(spot)) is not None), None)
        scope = here["backspace"].place if made is None else made.place
        several = [layout.steps[at].spot for at in layout.serves(Spot("backspace", scope))] or [here["backspace"]]
        # A wheel of the other axle's own is not this one.
        several = [spot for spot in several if self._own(opened, spot) in (None, scope)]
        offsets = [Spot("offset", spot.place) for spot in several]
        self._tried: WhatIf = sheet.what_if(several, offsets, AS_FOUND)
        self._seen: dict[tuple[Spot, float], Outcome] = {}

    @staticmethod
    def _own(opened: OpenProject, spot: Spot) -> tuple[str, ...] | None:
        entries = (opened.sheet.entered(Spot(node, spot.place)) for node in ("backspace", "offset"))
        return next((entry.place for entry in entries if entry is not None), None)

    def outcome(self, rule: Spot, backspace: float) -> Outcome:
        """What a rule's margin is at a backspace."""
        asked = rule, backspace
        if asked not in self._seen:
            self._seen[asked] = self._tried.outcome(rule, backspace)
        return self._seen[asked]

    def moves(self, rule: Spot, low: float, high: float) -> bool:
        """Whether a rule's margin goes with the backspace: the middle of a pair stays where it is."""
        both: tuple[End, End] = ("low", "high")
        for margin in (self.margins(rule, end) for end in both):
            first, *others = (margin(at) for at in (low, 0.7 * low + 0.3 * high, high))
            if any(other != first and not abs(other - first) <= CLOSE_TO_NOTHING for other in others):
                return True
        return False

    def margins(self, rule: Spot, end: End) -> Callable[[float], float]:
        """One end of a rule's margin over the backspace; endlessly short where it has none."""

        def margin(backspace: float) -> float:
            found = self.outcome(rule, backspace)
            return float(getattr(found, end)) if isinstance(found, Known) else -inf

        return margin


def limit_of(name: str, stretch: Stretch, low: float, high: float) -> Limit:
    """A limit has no end where it ends with what is looked at."""
    return Limit(name, stretch[0] if stretch[0] > low else -inf, stretch[1] if stretch[1] < high else inf)


def kept(margin: Callable[[float], float], low: float, high: float) -> Stretch:
    """Where a margin that rises to some backspace and falls from there on is not below zero; `NONE_KEEPS` if nowhere.

    Lines and the two sides of a V are met in two or three looks.

    >>> [round(end, 9) for end in kept(lambda backspace: 2.0 - abs(backspace - 3.0), 0.0, 10.0)]
    [1.0, 5.0]
    """
    ends = margin(low), margin(high)
    if ends[0] >= -ZERO and ends[1] >= -ZERO:
        return low, high
    if ends[0] >= -ZERO:
        return low, _crossing(margin, low, high)
    if ends[1] >= -ZERO:
        return _crossing(margin, high, low), high
    between = _between_tangents(margin, low, high)
    if between is not None:
        return between
    inside = _inside(margin, low, high)
    return NONE_KEEPS if inside is None else (_crossing(margin, inside, low), _crossing(margin, inside, high))


def _between_tangents(margin: Callable[[float], float], low: float, high: float) -> Stretch | None:
    """What the tangents at two ends that fail leave, where the margin follows them until it holds.

    The tip of a V, where tolerances are dear to follow, is not looked at.
    """
    left, right, hair = margin(low), margin(high), (high - low) * HAIR
    rise, fall = (margin(low + hair) - left) / hair, (right - margin(high - hair)) / hair
    if not (inf > rise > 0.0 > fall > -inf):
        return None
    first, last = low - left / rise, high - right / fall
    if not low < first <= last < high:
        return None
    first, last = first - min(0.0, margin(first)) / rise, last - min(0.0, margin(last)) / fall
    met = first <= last and all(-ZERO <= margin(end) <= CLOSE_TO_NOTHING for end in (first, last))
    return (first, last) if met else None


def _inside(margin: Callable[[float], float], low: float, high: float) -> float | None:
    """A place between two that fail at which the margin holds: where the tangents at both meet lies nearest to it."""
    hair = (high - low) * HAIR
    for _ in range(MOST_TRIES):
        left, right = margin(low), margin(high)
        rise, fall = (margin(low + hair) - left) / hair, (right - margin(high - hair)) / hair
        if not (rise > 0.0 > fall):
            return None
        trial = (right - left + rise * low - fall * high) / (rise - fall)
        if not low < trial < high or left + rise * (trial - low) < -ZERO:
            return None  # it lies under its tangents
        there = margin(trial)
        if there >= -ZERO:
            return trial
        if margin(min(trial + hair, high)) > there:
            low = trial
        else:
            high = trial
    return None


def _crossing(margin: Callable[[float], float], good: float, bad: float) -> float:
    """The last place from a good one toward a bad one at which the margin holds, by regula falsi."""
    nudged = good + (bad - good) * HAIR**2
    if margin(good) <= ZERO and margin(nudged) > ZERO:
        good = nudged  # it begins right at the end of what was asked, and rises from there
    at_good = pull = margin(good)  # of an end that stays twice only half is taken, so that it moves next (Illinois)
    push, moved = margin(bad), ""
    for _ in range(MOST_TRIES):
        if at_good <= ZERO or abs(bad - good) <= CLOSEST:
            break
        share = pull / (pull - push) if -inf < push and pull < inf else 0.5
        trial = good + (bad - good) * share
        there = margin(trial)
        if there >= -ZERO:
            push = push / 2.0 if moved == "good" else push
            good, at_good, pull, moved = trial, there, there, "good"
        else:
            pull = pull / 2.0 if moved == "bad" else pull
            bad, push, moved = trial, there, "bad"
    return good
