"""Cautions that a person takes on: what can be accepted, with what it rests on, and taking that back."""

from collections.abc import Sequence

from planner.plan.answers.basis import basis, basis_now, rules_in
from planner.plan.answers.flagging import Flag, is_for, of_plan
from planner.plan.revisit.plan_flags import records_with_basis
from planner.plan.truck.project import OpenProject
from planner.plan.truck.recording import Recording, RefusedChange
from planner.plan.truck.wording import place_name
from planner.plan.work.record_flags import RECORD_RULES
from planner.project.changes import DELETE
from planner.project.lines import Key
from planner.quantities.text import clean, same_name
from planner.worksheet.outcome import Place, Spot


def why_not(opened: OpenProject, flag: Flag) -> str:
    """Why a flag cannot be accepted; empty where it can."""
    rule, answer = flag.rule, flag.verdict.answer
    if rule.severity == "stop" and answer != "clear":
        return f"You can't accept a stop. Fix it: {flag.cure or rule.cure}"
    if answer == "too close to call":
        return "It's too close to call: measure it better first. If it's raised then, you can accept it."
    if answer == "not known":
        return "It isn't known yet: make the entries it waits for first."
    if answer != "raised":
        return "It's clear: there's nothing to accept."
    if flag.accepted:
        return "It's already accepted."
    if of_plan(rule) and rule.node not in RECORD_RULES:
        return f"Settle this one in the plan itself: {flag.cure}"
    if not of_plan(rule) and not all(_entries(opened, flag, place) for place in flag.places):
        return f"It doesn't rest on any entry, so nobody would notice when it no longer holds: {flag.cure}"
    return ""


def accept(opened: OpenProject, flag: Flag, because: str, by: str = "") -> Recording:
    """A caution or a note taken on, everywhere that it stands; it lapses when what it rests on moves."""
    refused = why_not(opened, flag)
    if refused:
        raise RefusedChange(refused)
    if not because:
        raise RefusedChange("give a reason to accept a caution", "reason")
    changes: dict[Key, object] = {}
    more = len(opened.project.acceptances)
    for place in flag.places:
        at = flag.where if of_plan(flag.rule) else place_name(place)  # with its fitment: plans change
        rests = _rests_on(opened, flag, place)
        who = {"because": because, "by": clean(by), "on": opened.today}
        fields = {"flag": flag.rule.name, "at": at, **who, "rested_on": rests}
        fields = {name: value for name, value in fields.items() if value or name == "rested_on"}
        there = _standing(opened, flag, at, place)
        if there is None:
            changes[("acceptances", more)] = fields
            more += 1
        else:
            changes |= {("acceptances", there, name): value for name, value in fields.items()}
            if not by and opened.project.acceptances[there].by:  # nobody says that it is the same person
                changes[("acceptances", there, "by")] = DELETE
    return Recording(changes, "acceptance", f"accepted: {flag.notice}", because, {"flag": flag.rule.name})


def accept_again(opened: OpenProject, found: Sequence[Flag], at: int, because: str) -> Recording:
    """What an acceptance took on, taken on again as it is now; `found` are all flags."""
    one = opened.project.acceptances[at]
    flag = next((each for each in found if each.acceptance is one), None)
    if flag is None or flag.verdict.answer != "raised":
        raise RefusedChange("what you accepted isn't raised right now; the acceptance is kept")
    return accept(opened, flag, because)


def take_back(opened: OpenProject, at: int, because: str) -> Recording:
    """An acceptance taken back: what it took on stands against the plan again."""
    one = opened.project.acceptances[at]
    says = f"no longer accepted: {clean(one.flag or '')}{f', {clean(one.at)}' if one.at else ''}"
    return Recording({("acceptances", at): DELETE}, "acceptance", says, because, {"flag": one.flag or ""})


def _rests_on(opened: OpenProject, flag: Flag, place: Place) -> dict[str, str]:
    if not of_plan(flag.rule):
        return basis(opened, [Spot(flag.rule.node, place)])
    found = [one.record for one in records_with_basis(opened) if (one.rule, one.name) == (flag.rule.node, flag.where)]
    return basis_now(opened, opened.rested_on(found[-1]) or {}) if found else {}


def _entries(opened: OpenProject, flag: Flag, place: Place) -> list[str]:
    """What was entered behind a flag, besides its own answer."""
    kept = basis(opened, [Spot(flag.rule.node, place)])
    return [name for name in kept if name not in rules_in(opened, kept)]


def _standing(opened: OpenProject, flag: Flag, at: str, place: Place) -> int | None:
    """The place in the file of the acceptance that is there already, such as one that has lapsed."""
    fitting = [
        number
        for number, one in enumerate(opened.project.acceptances)
        if one.flag == flag.rule.name
        and (same_name(one.at or "", at) if of_plan(flag.rule) else is_for(opened, one, place))
    ]
    return fitting[-1] if fitting else None
