"""Who brings a value's spread: each entry's share, those behind the sweep too, and how far off it likely is."""

from math import inf, isfinite, sqrt
from typing import NamedTuple

from planner.plan.truck.project import OpenProject
from planner.plan.truck.sweep_results import NODES
from planner.quantities.kinds import Kind
from planner.quantities.show import Style, show
from planner.quantities.text import clean
from planner.worksheet.outcome import Known, Spot, number

SWEEP = "the sweep, all its readings together"


class UncertaintySource(NamedTuple):
    """What one entry brings: its key in the file and the text there, how far it moves the value, and its part."""

    key: str
    written: str
    half: float
    part: float


def uncertainty_sources(opened: OpenProject, spot: Spot) -> list[UncertaintySource]:
    """Every entry's share of the spread at a spot, the largest first.

    A result of the sweep passes on what its own readings bring, as far as that is known.
    """
    outcome = opened.sheet.outcome(spot)
    if not isinstance(outcome, Known):
        return []
    halves: dict[str, float] = {}
    for share in outcome.shares:
        own = opened.swept.tolerance_sources.get(share.spot, ())
        whole = sum(half for _, half in own)
        if not whole:
            own, whole = ((SWEEP if share.spot.node in NODES else opened.key_of(share.spot), 1.0),), 1.0
        for key, half in own:
            halves[key] = halves.get(key, 0.0) + share.half * half / whole
    square = sum(half * half for half in halves.values())
    told = 0 < square < inf
    texts = {opened.key_of(share.spot): _assumed(opened, share.spot) for share in outcome.shares}
    found = [
        UncertaintySource(
            key, opened.written_at(key) or texts.get(key, ""), half, half * half / square if told else 0.0
        )
        for key, half in halves.items()
    ]
    return sorted(found, key=lambda one: -one.half)


def likely_text(shares: list[UncertaintySource]) -> float:
    """The root of the sum of the squares: how far the value may well be off, where no two readings know each other."""
    return sqrt(sum(one.half * one.half for one in shares))


def spread_text(opened: OpenProject, spot: Spot, shares: list[UncertaintySource]) -> str:
    """The spread at a spot at its worst and as it is likely; empty where there is nothing to tell apart."""
    outcome, kind = opened.sheet.outcome(spot), opened.sheet.catalog.kind(spot.node)
    value = number(outcome.value) if isinstance(outcome, Known) else None
    if len(shares) < 2 or kind is None or value is None or not isinstance(outcome, Known):
        return ""
    return worst_and_likely(max(outcome.high - value, value - outcome.low), likely_text(shares), kind, opened.style)


def worst_and_likely(worst: float, likely: float, kind: Kind, style: Style) -> str:
    """`up to 0.26 in at the worst, 0.19 in likely (root-sum-square)`, rounded up; empty where no bound is known."""
    if not (isfinite(worst) and isfinite(likely) and likely > 0):
        return ""
    plain = Style(style.system, fractions=False)
    ends = (show(half, kind.unsigned().smallest(), plain) for half in (worst, likely))
    return "up to {} at the worst, {} likely (root-sum-square)".format(*ends)


def _assumed(opened: OpenProject, spot: Spot) -> str:
    """The text of what is assumed where nothing is entered."""
    return clean(getattr(opened.project_value(spot), "text", ""))
