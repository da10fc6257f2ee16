"""A proposal made a candidate of the file: its own table, and with another speedometer gear the change that sets it."""

from __future__ import annotations

from planner.plan.change.changing import TriedChange, try_changes
from planner.plan.proposing.candidate import PlacedCombination, driven_change, fitment_table
from planner.plan.proposing.space import SearchSpace
from planner.plan.truck.project import OpenProject
from planner.plan.truck.recording import RefusedChange
from planner.plan.work.decisions import no_name
from planner.project.faults import plain
from planner.project.lines import Key


def taking(
    opened: OpenProject, space: SearchSpace, candidate: PlacedCombination, name: str, because: str = ""
) -> dict[Key, object]:
    """The changes to the file that make a candidate of it; raises `RefusedChange` where the name will not do."""
    trouble = no_name(opened, name)
    if trouble:
        raise RefusedChange(f"{plain(name)}: {trouble}")
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
