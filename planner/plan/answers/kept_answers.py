"""How a rule stood, as a record keeps it, and whether how it stands now is still within that."""

import re
from math import isfinite

from planner.plan.answers.verdicts import verdict_at
from planner.plan.truck.project import OpenProject
from planner.plan.truck.wording import margin_text
from planner.worksheet.outcome import Known, Spot, number
from planner.worksheet.verdict import Verdict

NOT_ASKED = "nothing that applies"

FINE = ("clear", NOT_ASKED)

GIVE = 0.1  # of how well a margin was known: nobody looks at a tire again for a tenth of what a scale reads

_DUST = 1e-6  # relative; less than this is float arithmetic

_KEPT = re.compile(r"([a-z ]+)(?:, (\S+) \((\S+) to (\S+)\))?")


def kept_answer(opened: OpenProject, spot: Spot) -> str:
    """The answer, and its margin in SI with its ends where it has one: `clear, 0.0117 (0.011 to 0.0124)`."""
    verdict = verdict_at(opened, spot)
    return NOT_ASKED if verdict is None else kept_words(verdict)


def kept_words(verdict: Verdict) -> str:
    """The same of one verdict; with every digit, since a margin that was rounded reads one off in pounds."""
    middle = None if verdict.margin is None or verdict.rule.kind is None else number(verdict.margin.value)
    if verdict.margin is None or middle is None:
        return verdict.answer
    if isinstance(getattr(verdict.margin.value, "margin", verdict.margin.value), bool):  # it holds or fails outright
        return verdict.answer
    ends = (verdict.margin.low, verdict.margin.high)
    return f"{verdict.answer}, {middle:.15g} ({ends[0]:.15g} to {ends[1]:.15g})"


def still_stands(then: str, now: str) -> bool:
    """Whether what a rule says now was known then already: the same answer, by a margin within the one it had.

    A better measurement of the same truck leaves it so. What is clear and what is not asked are one.
    """
    before, after = _read(then), _read(now)
    if before is None or after is None:
        return then == now
    if before[0] != after[0]:
        return before[0] in FINE and after[0] in FINE
    if before[1] is None or after[1] is None:
        return True
    low, middle, high = before[1]
    give = max(GIVE * (high - low) / 2, _DUST * abs(middle)) if isfinite(high - low) else 0.0
    return low - give <= after[1][0] and after[1][2] <= high + give


def answer_words(opened: OpenProject, node: str, kept: str) -> str:
    """What a record keeps of a rule, for people: `clear, 1,860 lbf to spare`."""
    read, rule = _read(kept), opened.sheet.catalog.rules[node]
    if read is None or read[1] is None or rule.kind is None:
        return kept
    middle = read[1][1]
    return f"{read[0]}, {margin_text(opened, rule, Known(middle, middle, middle))}"


def _read(kept: str) -> tuple[str, tuple[float, float, float] | None] | None:
    """The answer, and low, middle and high of its margin; None where a person wrote something else."""
    found = _KEPT.fullmatch(kept)
    if found is None:
        return None
    try:
        return found[1], None if found[2] is None else (float(found[3]), float(found[2]), float(found[4]))
    except ValueError:
        return None
