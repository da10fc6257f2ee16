"""Parts on their way: wanted, ordered, arrived, fitted, returned, with the dates that go with each, as changes."""

from collections.abc import Mapping, Sequence

from planner.plan.answers.flagging import Flag
from planner.plan.truck.project import OpenProject
from planner.plan.truck.recording import Recording, RefusedChange
from planner.plan.work.dependencies import OWN, own_id
from planner.plan.work.held_readings import order_copy
from planner.plan.work.hold_points import can_be_wrong, ordered_wrong
from planner.plan.work.item import Item
from planner.plan.work.order_basis import order_basis, ordered_as
from planner.plan.work.parts import BOUGHT, NeededPart, matching_parts, part_name, planned_parts
from planner.plan.work.task_list import Work
from planner.project.changes import DELETE
from planner.project.lines import Key
from planner.project.models.work import Part
from planner.quantities.text import clean

NEXT = {"wanted": "ordered", "ordered": "arrived", "arrived": "fitted", "fitted": "returned", "returned": "wanted"}

DATED = ("ordered", "arrived")
OF_AN_ORDER = (*DATED, "promised", "as_ordered", "rests")


def set_part_state(opened: OpenProject, at: int, state: str, because: str = "") -> Recording:
    """A part in another state, with all that goes with it."""
    part = opened.project.parts[at]
    if state == part.state:
        raise RefusedChange(f"{clean(part_name(part, at))} is already {state}")
    changes = {("parts", at, "state"): state, **beside_state(opened, part, at, state)}
    says = f"{clean(part.title or part_name(part, at))}: {state}"
    return Recording(changes, "part", says, because, {"part": part_name(part, at), "state": state})


def beside_state(opened: OpenProject, part: Part, at: int, state: str) -> dict[Key, object]:
    """What is written with a part's new state: the day where it has one; wanted again nothing is left of its order.

    With ordered wheels the figures stay that they were ordered by: what comes is held against these.
    """
    was_ordered = part.state in BOUGHT
    changes: dict[Key, object] = {}
    if state in DATED and not (was_ordered and getattr(part, state)):
        changes[("parts", at, state)] = opened.today
    if state in BOUGHT and not (was_ordered and part.as_ordered):
        copy = order_copy(opened) if matching_parts([NeededPart(part_name(part, at), part)], ("wheels",)) else {}
        changes |= {("parts", at, "as_ordered"): copy} if copy else {}
    if state in BOUGHT and not was_ordered:
        need = NeededPart(part_name(part, at), part)
        ordered_by = order_basis(opened, ordered_as(need), [need])
        changes |= {("parts", at, "rested_on"): ordered_by} if ordered_by else {}
    gone = {"wanted": OF_AN_ORDER, "ordered": ("arrived",)}.get(state, ())
    return changes | {("parts", at, name): DELETE for name in gone if getattr(part, name)}


def beside_states(before: OpenProject, after: OpenProject, changes: Mapping[Key, object]) -> dict[Key, object]:
    """What is written with every new state that changes give a part of a sound file, as far as they do not say it.

    `after` has them, so that wheels are ordered by what stands then.
    """
    found: dict[Key, object] = {}
    parts = before.project.parts
    for key, state in changes.items():
        match key:
            case ("parts", int(at), "state") if at < len(parts) and state != parts[at].state:
                found |= beside_state(after, parts[at], at, str(state))
    return {key: value for key, value in found.items() if key not in changes}


def why_not_order(opened: OpenProject, listed: Work | None, at: int) -> str:
    """What is to be done before a part is ordered; empty where the task that orders it is free, or there is none.

    A hold point that only open stops keep from being signed holds back what stops can make wrong, and nothing else.
    """
    id_ = part_name(opened.project.parts[at], at)
    need = [one for one in planned_parts(opened) if one.id == id_]
    if not need:
        return "it's for a candidate that isn't planned"
    cures = not can_be_wrong(need[0])
    items = {} if listed is None else listed.items
    for one in items.values():
        if one.task and one.task.orders and matching_parts(need, one.task.orders) and not one.closed:
            waits = [name for name in one.waits if not (cures and _only_stopped(items, name))]
            holds = [name for name in one.holds if not (cures and _only_stopped(items, name))]
            if holds:
                return f"{clean(one.id)}, which orders it, comes after the hold point {clean(holds[0])}"
            if waits:
                return f"{clean(one.id)}, which orders it, waits on {', '.join(map(clean, waits))}"
    return ""


def stopped_by(opened: OpenProject, at: int, found: Sequence[Flag]) -> str:
    """The stops by which a part would be ordered wrong, whatever reason is given; empty where there are none."""
    id_ = part_name(opened.project.parts[at], at)
    return next((ordered_wrong(one, found) for one in planned_parts(opened) if one.id == id_), "")


def _only_stopped(items: Mapping[str, Item], name: str) -> bool:
    """Whether a hold point, and all that it waits for, wait for nothing but the cure of stops."""
    hold = items[name]
    return bool(hold.stops) and all(_only_stopped(items, before) for before in (*hold.waits, *hold.holds))


def new_part(opened: OpenProject, title: str) -> Recording:
    """A part that is wanted; its id is made of its title."""
    title = clean(" ".join(title.split()))
    if not title:
        raise RefusedChange("a part needs a title")
    taken = {OWN + part_name(part, at) for at, part in enumerate(opened.project.parts)}
    id_ = own_id(title, taken).removeprefix(OWN)
    at = len(opened.project.parts)
    record = {"id": id_, "title": title, "quantity": 1, "state": "wanted"}
    return Recording({("parts", at): record}, "part", f"{title} is in the list", "", {"part": id_})


def new_in_part(opened: OpenProject, at: int, what: str, said: str) -> Recording:
    """A quote by who asks it, or a payment by its amount, added to a part; with a minus it came back."""
    part, said = opened.project.parts[at], said.strip()
    back = said[:1] in ("-", "\u2212")
    record: dict[str, object] = {"amount": said[1:].strip(), "refund": True} if back else {"amount": said}
    if what == "quotes":
        record = {"from": clean(said)}
    says = f"{clean(part.title or part_name(part, at))} has another {what.removesuffix('s')}"
    key = ("parts", at, what, len(getattr(part, what)))
    return Recording({key: record}, "part", says, "", {"part": part_name(part, at)})


def new_wheel(opened: OpenProject, mark: str) -> Recording:
    """A wheel that came, by its mark; what it measures is entered after it."""
    at = len(opened.project.wheels)
    return Recording({("wheels", at): {"mark": clean(mark)}}, "part", f"wheel {clean(mark)} came", "", {"wheel": mark})


def remove_part(opened: OpenProject, at: int, because: str) -> Recording:
    """A part taken out of the list; the diary keeps it."""
    part = opened.project.parts[at]
    says = f"{clean(part.title or part_name(part, at))} is off the list"
    return Recording({("parts", at): DELETE}, "part", says, because, {"part": part_name(part, at)})
