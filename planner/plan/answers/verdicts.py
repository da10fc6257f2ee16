"""The bare answer of each rule at each place that is planned, and where a rule is not asked."""

from collections.abc import Iterator

from planner.plan.answers.contradictions import two_readings
from planner.plan.truck.catalog import entry_key
from planner.plan.truck.pairs import asked_there
from planner.plan.truck.project import OpenProject
from planner.project.facts import AXES
from planner.worksheet.outcome import Failed, Spot, Waiting
from planner.worksheet.verdict import Verdict, judge


def verdicts(opened: OpenProject) -> Iterator[Verdict]:
    """Every rule's bare answer at every place that is planned."""
    for node in opened.sheet.catalog.rules:
        seen = opened.seen_from(node)
        for spot in seen.sheet.spots(node):
            verdict = _verdict_at(opened, seen, spot)
            if verdict is not None:
                yield verdict


def verdict_at(opened: OpenProject, spot: Spot) -> Verdict | None:
    """A rule's bare answer at a place; None where it is not asked there."""
    return _verdict_at(opened, opened.seen_from(spot.node), spot)


def _verdict_at(opened: OpenProject, seen: OpenProject, spot: Spot) -> Verdict | None:
    rule, fitment = opened.sheet.catalog.rules[spot.node], spot.place[0]
    if fitment and fitment not in opened.planned and not (rule.bars and fitment == "found"):
        return None
    if not asked_there(opened, spot):
        return None
    verdict = judge(rule, spot.place, seen.sheet.outcome(spot))
    if fitment and fitment not in opened.planned and verdict.answer != "raised":
        return None  # of the truck found it counts only that what is compared with it is not known
    trouble = next((why for need in verdict.needs if (why := opened.trouble(need))), "")
    verdict = verdict._replace(needs=(), trouble=trouble) if trouble else verdict
    if _nothing_to_ask(opened, verdict) or _told_otherwise(opened, verdict) or _steers_not(opened, verdict):
        return None
    return verdict


def _nothing_to_ask(opened: OpenProject, verdict: Verdict) -> bool:
    """Whether a rule waits for an entry without which it does not apply, such as a wish that nobody has."""
    here = Spot(verdict.rule.node, verdict.place)
    if verdict.rule.close_agrees and (
        verdict.answer == "not known" or not two_readings(opened.as_read, here, opened.keys)
    ):
        return True  # one of the two is missing: there is nothing that the other contradicts
    if verdict.answer != "not known" or not verdict.rule.only_with:
        return False
    missing = {True: list[bool](), False: list[bool]()}
    for taken, spot in zip(verdict.rule.inputs, opened.sheet.reads(here), strict=True):
        if taken.name in verdict.rule.only_with and spot is not None:
            outcome = opened.sheet.outcome(spot)  # a wish that is not known is one
            missing[taken.optional].append(isinstance(outcome, Waiting) and not outcome.barred)
    return any(missing[False]) or (bool(missing[True]) and all(missing[True]))


def _told_otherwise(opened: OpenProject, verdict: Verdict) -> bool:
    """Whether a rule does not apply to an obstacle of its kind, or is told once for all that one reading keeps open."""
    swept = opened.swept
    if not swept.not_asked:
        return False
    spots = [spot for spot in opened.sheet.reads(Spot(verdict.rule.node, verdict.place)) if spot is not None]
    if any(spot in swept.not_asked for spot in spots):
        return True
    return verdict.answer == "too close to call" and any(spot in swept.gathered for spot in spots)


def _steers_not(opened: OpenProject, verdict: Verdict) -> bool:
    """Whether a rule waits for the steering of an axle that does not steer, or would but for something impossible."""
    here = Spot(verdict.rule.node, verdict.place)
    for need in tuple(_missing(opened, here)) if verdict.trouble else verdict.needs:
        axle = need.place[AXES.index("axle")]
        of_steering = entry_key(need).startswith((f"axles.{axle}.kingpin", f"axles.{axle}.steering"))
        if axle and of_steering and not opened.steers(axle, need.place[0] or verdict.place[0]):
            return True
    return False


def _missing(opened: OpenProject, spot: Spot) -> Iterator[Spot]:
    """The entries that are missing below something, whatever is impossible beside them."""
    outcome = opened.sheet.outcome(spot)
    if isinstance(outcome, Waiting):
        yield from outcome.needs
    elif isinstance(outcome, Failed):
        for read in opened.sheet.inputs(spot):
            yield from _missing(opened, read)
