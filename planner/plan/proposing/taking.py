"""A proposal made a candidate of the file: its own table, and with another speedometer gear the change that sets it."""

from __future__ import annotations

from planner.plan.change.changing import TriedChange, try_changes
from planner.plan.proposing.candidate import PlacedCombination, driven_change, fitment_table
from planner.plan.proposing.space import SearchSpace
from planner.plan.truck.project import OpenProject
from planner.plan.truck.recording import RefusedChange
from planner.project.faults import plain
from planner.project.lines import Key
from planner.quantities.text import name_among, normal_name


def taking(
    opened: OpenProject, space: SearchSpace, candidate: PlacedCombination, name: str, because: str = ""
) -> dict[Key, object]:
    """The changes to the file that make a candidate of it; raises `RefusedChange` where the name will not do."""
    name = normal_name(name)
    there = name_among([*opened.project.fitments, "found"], name)
    if not name or there is not None:
        said = f"there is a fitment {plain(there)} already" if there is not None else "no name"
        raise RefusedChange(f"{plain(name)}: {said}; give it a name of its own with --as")
    changes: dict[Key, object] = {("fitments", name): fitment_table(opened, space, candidate)}
    teeth = candidate.combination.driven.teeth
    if teeth is not None:
        changes["changes", len(opened.opened.data.get("changes", ()))] = driven_change(teeth, name, because)
    return changes


def try_taking(
    opened: OpenProject, space: SearchSpace, candidate: PlacedCombination, name: str, because: str = ""
) -> TriedChange:
    """What comes of taking it, before it is made."""
    return try_changes(opened, taking(opened, space, candidate, name, because))
