"""A rule's answer: clear, raised, too close to call, or not known, and what would settle it."""

from collections.abc import Mapping
from math import inf
from typing import Literal, NamedTuple

from planner.worksheet.declare import Finding, Rule
from planner.worksheet.outcome import Failed, Known, Outcome, Place, Spot, Waiting, number
from planner.worksheet.turning import number_in

EASILY = 0.3  # a tolerance cut to less than this share is asked of several measurements together, not of one
DUST = 1e-12  # what float arithmetic leaves of a limit that is met exactly, in any SI unit
Answer = Literal["clear", "raised", "too close to call", "not known"]


class Settles(NamedTuple):
    """A measurement that would decide a close call: `factor` is how much of its present tolerance it may keep.

    `alone` is False where no single measurement would do and all those named must be taken better together.
    """

    spot: Spot
    factor: float
    alone: bool


class Verdict(NamedTuple):
    """What a rule says at one place; `margin` is by how much its limit holds, below nothing where it fails."""

    rule: Rule
    place: Place
    answer: Answer
    margin: Known | None = None
    words: Mapping[str, str] | None = None
    settles: tuple[Settles, ...] = ()
    needs: tuple[Spot, ...] = ()
    either: tuple[Spot, ...] = ()
    trouble: str = ""


def judge(rule: Rule, place: Place, outcome: Outcome) -> Verdict:
    """The answer that the rule's margin gives, its tolerances counted: a limit met exactly holds."""
    if isinstance(outcome, Waiting):
        return Verdict(rule, place, "not known", needs=outcome.needs, either=outcome.either)
    if isinstance(outcome, Failed):
        return Verdict(rule, place, "not known", trouble=outcome.why)
    words = outcome.value.words if isinstance(outcome.value, Finding) else {}
    margin = number(outcome.value)
    if margin is None:
        return Verdict(rule, place, "not known", trouble="the rule gave no margin")
    if rule.kind is None or isinstance(number_in(outcome.value), bool):
        holds, close = margin > 0, outcome.low != outcome.high
    else:
        holds, close = margin >= -DUST, outcome.low < -DUST <= outcome.high
    if close and rule.close_agrees:
        return Verdict(rule, place, "clear", outcome, words)
    if close:
        return Verdict(rule, place, "too close to call", outcome, words, _settling(margin, outcome))
    return Verdict(rule, place, "clear" if holds else "raised", outcome, words)


def _settling(margin: float, outcome: Known) -> tuple[Settles, ...]:
    """The one measurement that decides it most easily, or the fewest that do so together, each by as much."""
    shares = [share for share in outcome.shares if share.half < inf]
    if not shares:
        return ()
    spread = margin - outcome.low if margin >= 0 else outcome.high - margin
    room = abs(margin)
    kept = {share: (room - spread + share.half) / share.half for share in shares}
    best = max(kept, key=kept.__getitem__)
    if kept[best] >= EASILY:
        return (Settles(best.spot, min(1.0, kept[best]), alone=True),)
    for several in range(2, len(shares) + 1):
        together = sum(share.half for share in shares[:several])
        factor = (room - spread + together) / together
        if factor >= EASILY or several == len(shares):
            return tuple(Settles(share.spot, max(0.0, factor), alone=False) for share in shares[:several])
    return (Settles(best.spot, max(0.0, kept[best]), alone=True),)
