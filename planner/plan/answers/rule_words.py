"""A rule's words with the values of a project in them: what it says, what to do, what to measure better."""

from math import inf

from planner.plan.truck.project import OpenProject
from planner.plan.truck.sweep_results import LIMITS
from planner.plan.truck.sweep_results import NODES as SWEPT
from planner.plan.truck.wording import TO, UNKNOWN, shown, shown_range
from planner.quantities.needed import needed_tolerance
from planner.quantities.quantity import Quantity
from planner.quantities.show import show
from planner.quantities.text import clean
from planner.worksheet.declare import TO_CLEAR
from planner.worksheet.outcome import Spot
from planner.worksheet.verdict import Verdict

BEHIND_IT = "what the limits named here rest on"  # of a window between limits that no obstacle sets


def says_of(verdict: Verdict) -> str:
    """What a rule has to say: where it is clear, no sentence that is meant for what is raised."""
    return verdict.rule.clear_says if verdict.answer == "clear" else verdict.rule.says


def cure_of(verdict: Verdict) -> str:
    rule = verdict.rule
    return rule.if_close if verdict.answer == "too close to call" and rule.if_close else rule.cure


class RuleWords(dict[str, str]):
    """The words that a rule's finding brought, and its inputs by name as people read them, each when it is asked for.

    To somebody who is to do something (`bare`) one value is told and no span of them.
    """

    def __init__(self, opened: OpenProject, verdict: Verdict, bare: bool = False) -> None:
        super().__init__({name: clean(words) for name, words in (verdict.words or {}).items()})
        self._opened, self._verdict, self._bare = opened, verdict, bare
        reads = opened.sheet.reads(Spot(verdict.rule.node, verdict.place))
        self._inputs = dict(zip((taken.name for taken in verdict.rule.inputs), reads, strict=True))

    def __missing__(self, name: str) -> str:
        if name == TO_CLEAR:
            return self._to_clear()
        first, _, second = name.partition(TO)
        low, high = self._inputs.get(first), self._inputs.get(second)
        if low is not None and high is not None:
            return shown_range(self._opened, low, high)
        if second:
            return f"{self[first]}{TO}{self[second]}"
        spot = self._inputs.get(name)
        if spot is None:
            return "…"
        kind, value = self._opened.sheet.catalog.kind(spot.node), self._opened.sheet.value(spot)
        if value is None:
            return UNKNOWN
        if (self._bare or spot.node in LIMITS) and kind is not None:
            return show(value, kind, self._opened.style)  # of a limit the end that is sure
        return shown(self._opened, spot)

    def _to_clear(self) -> str:
        """What the margin lacks at the worst of the tolerances, rounded so that it is enough."""
        margin, kind = self._verdict.margin, self._verdict.rule.kind
        if margin is None or kind is None or not -inf < margin.low < 0:
            return UNKNOWN
        return show(-margin.low, kind.unsigned().smallest(), self._opened.style)


def settling(opened: OpenProject, spot: Spot, factor: float) -> tuple[str, tuple[tuple[str, str], ...]]:
    """What to measure better and how well, in words and by key: a tolerance rounded up would not settle it."""
    if spot in opened.swept.tolerance_sources:
        brought = opened.swept.tolerance_sources[spot]
        keys = [key for key, half in brought[:3] if half >= brought[0][1] / 3]
        better = {key: one.better for key in keys if (one := opened.sheet.catalog.assumed.get(key)) and one.better}
        told = " and ".join(better.get(key) or opened.the(key) for key in keys)
        return told, tuple((key, "") for key in keys if key not in better)
    entry, assumed = opened.keys.get(spot), opened.sheet.catalog.assumed.get(spot.node)
    if entry is None and assumed is not None and assumed.better:
        return assumed.better, ()
    if entry is None and spot.node in SWEPT:
        return BEHIND_IT, ()
    key = opened.key_of(spot)
    value = opened.project_value(spot)
    kind = opened.sheet.catalog.kind(spot.node)
    tolerance = value.tolerance * factor if isinstance(value, Quantity) and kind is not None else 0.0
    if not tolerance or kind is None:
        return opened.the(key), ((key, ""),)
    within = needed_tolerance(tolerance, kind, opened.style)
    told = " (nobody gave its ±; it is assumed)" if isinstance(value, Quantity) and value.assumed else ""
    return f"{opened.the(key)} to {within} or better{told}", ((key, within),)
