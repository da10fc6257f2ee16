"""Changes to the truck on their way: considered, decided, done, given up, as changes to the file; and their work.

That is each itself, what comes with its kind, and measuring again what it set.
"""

from collections.abc import Iterator

from planner.plan.truck.change_words import asked_by_change, entries_of, planned_changes, title_of
from planner.plan.truck.project import OpenProject
from planner.plan.truck.recording import Recording, RefusedChange
from planner.plan.work.dependencies import FOR_CHANGES, own_id, standing_task_of
from planner.plan.work.item import Item
from planner.project.change_kinds import KindOfChange, kind_called
from planner.project.change_questions import ends_of, set_by
from planner.project.changes import DELETE
from planner.project.faults import as_key
from planner.project.lines import Key
from planner.project.truck_keys import read_entry, truck_key
from planner.project.which_counts import differ
from planner.quantities.text import clean, name_among

NEXT = {"considered": "decided", "decided": "done", "given up": "considered"}  # what is done stays so
MEASURED = "measured"  # the step that measures again


def new_change(opened: OpenProject, name: str, kind: str) -> Recording:
    """A change that is considered; its name is for good, since tasks and records go by it."""
    name = clean(" ".join(name.split()))
    if not name:
        raise RefusedChange("a change needs a name")
    if name_among((one.name or "" for one in opened.project.changes), name):
        raise RefusedChange(f"a change is called {name} already")
    made = {"name": name, "kind": kind, "state": "considered"}
    at = len(opened.project.changes)
    return Recording({("changes", at): made}, "change", f"{name} is considered", "", {"change": name})


def set_change_state(opened: OpenProject, at: int, state: str, because: str = "") -> Recording:
    """A change in another state; what is done has its day, and one that is given up needs a reason."""
    change, title = opened.project.changes[at], clean(title_of(opened, at))
    if state == change.state:
        raise RefusedChange(f"{title} is {state} already")
    if state == "given up" and not because:
        raise RefusedChange(f"{title}: giving it up needs a reason", "reason")
    changes: dict[Key, object] = {("changes", at, "state"): state}
    if state == "done":
        changes[("changes", at, "on")] = opened.today
    elif change.on is not None:
        changes[("changes", at, "on")] = DELETE
    return Recording(changes, "change", f"{title}: {state}", because, {"change": title, "state": state})


def change_tasks(opened: OpenProject) -> Iterator[Item]:
    """The tasks of each change that goes with what is planned, by the change's name for good."""
    taken: set[str] = set()
    for at in planned_changes(opened):
        change, title = opened.project.changes[at], clean(title_of(opened, at))
        kind = kind_called(change.kind)
        id_ = own_id(title, taken, FOR_CHANGES)
        taken.add(id_)
        yield from _steps(opened, at, id_, title, kind)
        ahead = tuple(f"{id_}.{step.id}" for step in kind.steps if step.when == "before")
        how = " ".join((kind.does, *_sets(opened, at))).strip()
        yield Item(
            id_, title, kind.phase, "change", how, kind.caution, kind.hours, ahead, before=kind.before, change=at
        )
        measured = _measured(opened, at, id_, title)
        if measured is not None:
            yield measured


def made_by_change(opened: OpenProject, one: Item) -> bool:
    """Whether a task without a tick is done all the same: what the change says under its own key counts."""
    if one.change is None or one.step not in ("", MEASURED):
        return False
    done = opened.project.changes[one.change].state == "done"
    return done and not one.unmeasured


def unmeasured(opened: OpenProject, number: int) -> dict[str, str]:
    """The entries that a change sets, or leaves open, and that nobody has measured since; each with the key for it."""
    change = opened.project.changes[number]
    own = ((truck_key(opened.project, one.written), one.written) for one in entries_of(opened, number))
    left = {as_key(at.key): written for at, written in own if at is not None and written not in change.measured}
    left |= {entry: written for entry, written in asked_by_change(opened, number).items() if entry not in left}
    return {entry: as_key(("changes", number, MEASURED, written, "value")) for entry, written in left.items()}


def measured_apart(opened: OpenProject, number: int) -> Iterator[str]:
    """What was measured of a change further from its plan than either tolerance."""
    change = opened.project.changes[number]
    for written, one in change.measured.items():
        at = truck_key(opened.project, written)
        planned = next((value for key, value in change.sets.items() if at == truck_key(opened.project, key)), None)
        if at is None or planned is None:
            continue
        if differ(read_entry(at, planned, False), read_entry(at, one.value, opened.opened.assumes)):
            yield f"{opened.spoken(as_key(at.key))} is {clean(_text(one.value))}, planned {clean(_text(planned))}"


def _text(written: object) -> str:
    return ", ".join(map(str, written)) if isinstance(written, list) else str(written)


def _steps(opened: OpenProject, at: int, id_: str, title: str, kind: KindOfChange) -> Iterator[Item]:
    """What comes with a kind; it waits on the wheels of the ends that the change is about, and no others."""
    ends = ends_of(opened.project, kind, set_by(opened.project, opened.project.changes[at]))
    for step in kind.steps:
        at_ends = (name if standing_task_of(name) else f"{name}.{end}" for name in step.after for end in ends)
        after = (*dict.fromkeys(at_ends), *((id_,) if step.when == "after" else ()))
        yield Item(
            f"{id_}.{step.id}", f"{title}: {step.title[0].lower()}{step.title[1:]}", step.phase, "change", step.how,
            step.caution, step.hours, after, change=at, step=step.id, short=step.short,
        )  # fmt: skip


def _sets(opened: OpenProject, at: int) -> Iterator[str]:
    sets = [f"{opened.spoken(one.key)} to {one.planned}, found {one.found}" for one in entries_of(opened, at)]
    if sets:
        yield f"It sets {'; '.join(sets)}."


def _measured(opened: OpenProject, at: int, id_: str, title: str) -> Item | None:
    """What is measured once it is done; nothing where the change sets nothing and leaves nothing open."""
    if not (entries_of(opened, at) or asked_by_change(opened, at)):
        return None
    left = tuple(map(opened.spoken, unmeasured(opened, at)))
    how = f"Measure {'; '.join(left)}. Enter each with the change, as measured once it is done." if left else ""
    return Item(
        f"{id_}.{MEASURED}", f"{title}: measure again what it set and moved", "adjust", "change", how,
        hours=0.5, after=(id_,), change=at, step=MEASURED, unmeasured=left, short="Measure again what it moved",
    )  # fmt: skip
