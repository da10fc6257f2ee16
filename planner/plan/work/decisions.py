"""Decisions: made, made anew, and the choice of a candidate, each with what it rests on, as changes to the file."""

import datetime
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from planner.plan.answers.basis import basis, basis_now, figure_name
from planner.plan.answers.open_project import as_if_chosen, work_out
from planner.plan.answers.verdicts import verdicts
from planner.plan.truck.project import OpenProject
from planner.plan.truck.recording import Recording, RefusedChange
from planner.project.changes import DELETE
from planner.project.lines import Key
from planner.quantities.text import clean, name_among, normal_name, same_name
from planner.worksheet.outcome import Spot

WHICH = "which candidate?"  # the question that choosing one answers

FOUND = "found"

LONGEST_NAME = 24


def decide(
    opened: OpenProject, question: str, options: Sequence[str], chosen: str, because: str, spots: Iterable[Spot]
) -> Recording:
    """A question settled, resting on the values at these spots as they are now."""
    question, chosen = clean(question.strip()), clean(chosen.strip())
    if not question or not chosen:
        raise RefusedChange("a decision needs a question and your choice")
    offered = list(dict.fromkeys(clean(one.strip()) for one in (*options, chosen) if one.strip()))
    fields = _fields(question, offered, chosen, because, basis(opened, spots), opened.today)
    at = len(opened.project.decisions)
    return Recording({("decisions", at): fields}, "decision", f"{question} {chosen}", because)


def decide_anew(opened: OpenProject, at: int, chosen: str, because: str) -> Recording:
    """A decision looked at again: what is chosen now, and why, resting on the same things as they are now."""
    old = opened.project.decisions[at]
    question, chosen = clean(old.question or "a decision"), clean(chosen.strip())
    if not because:
        raise RefusedChange(f"{question}: give a reason to decide it again", "reason")
    offered = list(dict.fromkeys([*map(clean, old.options), chosen]))
    rested_on = opened.rested_on(old)
    if rested_on is None and old.question == WHICH and chosen in opened.candidates:  # of others nobody can say it anew
        rested_on = what_it_is(opened, chosen)
    rests = basis_now(opened, rested_on or {})
    changes = _in_place(("decisions", at), _fields(question, offered, chosen, because, rests, opened.today))
    return Recording(changes, "decision", f"{question} {chosen}", because)


def decide_again(opened: OpenProject, at: int, chosen: str, because: str) -> Recording:
    """A decision made anew, also that on the candidates; with nothing chosen it stands, for another reason."""
    old = opened.project.decisions[at]
    planned = opened.project.plan.chosen
    if old.question != WHICH:
        return decide_anew(opened, at, chosen or old.chosen or "", because)
    wanted = chosen or planned or old.chosen or ""
    if not same_name(wanted, planned or ""):
        return choose_candidate(opened, wanted, because)
    if not same_name(wanted, old.chosen or ""):
        raise RefusedChange(f"{clean(old.chosen or 'nothing')} was decided, and {clean(wanted)} is planned: choose one")
    return decide_anew(opened, at, wanted, because)


def choose_candidate(opened: OpenProject, name: str, because: str) -> Recording:
    """A candidate chosen: planned from now on, and decided; it rests on what it is made of and on what it clears."""
    project = opened.project
    name = name_among(opened.candidates, name) or name
    if name not in opened.candidates:
        why = "is what's on the truck: it counts until you choose a candidate" if name == FOUND else "is no candidate"
        raise RefusedChange(f"{clean(name)} {why}")
    if name == project.plan.chosen:
        raise RefusedChange(f"{clean(name)} is already planned")
    if not because:
        raise RefusedChange(f"{clean(name)}: give a reason to choose it", "reason")
    fields = _fields(WHICH, list(opened.candidates), name, because, what_it_is(opened, name), opened.today)
    at = next((at for at, one in enumerate(project.decisions) if one.question == WHICH), None)
    changes: dict[Key, object] = {("plan", "chosen"): name}
    changes |= (
        _in_place(("decisions", at), fields) if at is not None else {("decisions", len(project.decisions)): fields}
    )
    return Recording(changes, "decision", f"{clean(name)} is planned from now on", because, {"chosen": name})


def begin_candidate(opened: OpenProject, name: str, description: str, copy_of: str = "") -> Recording:
    """A new candidate, as a copy of another fitment or with nothing but its description."""
    trouble = no_name(opened, name)
    if trouble:
        raise RefusedChange(trouble)
    fields = dict(opened.opened.data["fitments"][copy_of]) if copy_of else {}
    fields = {**fields, "description": clean(description.strip()) or name}
    says = f"{name} is started{f' as a copy of {clean(copy_of)}' if copy_of else ''}"
    return Recording({("fitments", name): fields}, "candidate", says, "", {"candidate": name})


def no_name(opened: OpenProject, name: str) -> str:
    """What is wrong with the name of a new candidate; empty for nothing."""
    if name_among(opened.project.fitments, name) is not None:
        return f"there is already a {clean(normal_name(name))}"
    plain = name and name == clean(name.strip()) and len(name) <= LONGEST_NAME and not set(name) & set('."[]')
    return "" if plain else f"accepted: a short name of at most {LONGEST_NAME} plain characters, such as taller"


def remove_candidate(opened: OpenProject, name: str, because: str) -> Recording:
    """A candidate taken out of the file; the diary keeps it."""
    name = name_among(opened.candidates, name) or name
    if name not in opened.candidates:
        raise RefusedChange("what you found on the truck stays" if name == FOUND else f"{clean(name)} is no candidate")
    if name == opened.project.plan.chosen:
        raise RefusedChange(f"{clean(name)} is the one planned: choose another first")
    says = f"{clean(name)} isn't a candidate anymore"
    return Recording({("fitments", name): DELETE}, "candidate", says, because, {"candidate": name})


def what_it_is(opened: OpenProject, name: str) -> dict[str, str]:
    """Every entry of a fitment, the least clearance that it leaves everywhere, and each stop that is clear of it."""
    own = work_out(opened.opened, opened.today)  # on a worksheet of its own: others read this one
    alone = as_if_chosen(own, name)
    spots = [spot for spot, key in alone.keys.items() if key[:2] == ("fitments", name)]
    spots += [spot for spot in alone.sheet.spots("least_clearance") if spot.place[0] == name]
    clear = (one for one in verdicts(alone) if one.rule.severity == "stop" and one.answer == "clear")
    here = (Spot(one.rule.node, one.place) for one in clear if one.place[0] == name)
    return basis(alone, spots) | {figure_name(alone, spot): "clear" for spot in here}  # by whatever margin


def _fields(
    question: str, options: list[str], chosen: str, because: str, rested_on: Mapping[str, str], on: datetime.date
) -> dict[str, Any]:
    fields = {"question": question, "options": options, "chosen": chosen, "because": because or None, "on": on}
    return {name: value for name, value in fields.items() if value} | {"rested_on": dict(rested_on)}


def _in_place(key: Key, fields: Mapping[str, object]) -> dict[Key, object]:
    """The fields one by one, so that what else a person wrote there stays."""
    return {(*key, name): value for name, value in fields.items()}
