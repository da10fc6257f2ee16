"""Changes to the truck on their way: considered, decided, done, given up, as changes to the file."""

from planner.plan.truck.change_words import title_of
from planner.plan.truck.project import OpenProject
from planner.plan.truck.recording import Recording, RefusedChange
from planner.project.changes import DELETE
from planner.project.lines import Key
from planner.quantities.text import clean, name_among

NEXT = {"considered": "decided", "decided": "done", "given up": "considered"}  # what is done stays so


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
