"""Opening a project: its file read, wired into a worksheet, worked out and swept, with every fault in it."""

from collections.abc import Iterable, Mapping
from datetime import date
from functools import lru_cache
from pathlib import Path

from planner.plan.answers.impossible import impossible, teller
from planner.plan.truck.catalog import catalog
from planner.plan.truck.project import EVERYWHERE, OpenProject, PlannedObstacle, place_of, style_of
from planner.plan.truck.sweep_results import SweepResults
from planner.project.facts import entered, members, obstacle_labels
from planner.project.faults import Fault, Faulty
from planner.project.lines import line_of
from planner.project.models.project import Project
from planner.project.models.work import Override
from planner.project.reading import Opened, read_project
from planner.quantities.grammar import Value, read_value
from planner.quantities.quantity import Quantity
from planner.quantities.unreadable import Unreadable
from planner.worksheet.declare import Assumed
from planner.worksheet.layout import Layout, lay_out
from planner.worksheet.outcome import Spot
from planner.worksheet.sheet import Worksheet


@lru_cache(maxsize=8)
def _layout(axes: tuple[tuple[str, tuple[str, ...]], ...]) -> Layout:
    """The worksheet's layout for these members of each axis: most edits leave them as they are."""
    return lay_out(catalog(), dict(axes))


def open_project(path: Path, today: date | None = None) -> OpenProject:
    """Read the project at `path` and work everything out, as of `today`; raises `Faulty` with every fault in it."""
    return work_out(read_project(path), today or date.today())


def work_out(opened: Opened, today: date) -> OpenProject:
    """The worksheet of a project that was read; raises `Faulty` where a limit or an assumption is wrong."""
    project = opened.project
    entries: dict[Spot, Value] = {Spot("today", EVERYWHERE): today.isoformat()}
    keys: dict[Spot, tuple[str, ...]] = {}
    for fact, place, key, value in entered(project):
        spot = Spot(fact, place_of(dict(place)))
        entries[spot], keys[spot] = value, key
    faults: list[Fault] = []
    for table, changes, limits in (("limits", project.limits, True), ("assumptions", project.assumptions, False)):
        known = {node: one for node, one in catalog().assumed.items() if one.limit == limits}
        for name, change in changes.items():
            taken = override(table, name, change, known)
            if isinstance(taken, Fault):
                faults.append(opened.placed(taken))
            else:
                spot = Spot(name, EVERYWHERE)
                entries[spot], keys[spot] = taken, (table, name, "value")
    if faults:
        raise Faulty(opened.source.path, tuple(faults))
    sheet = Worksheet(_layout(tuple(members(project).items())), entries)
    sheet.tell = teller(keys, style_of(project))
    together = [opened.placed(fault) for fault in impossible(sheet, keys, sheet.tell)]
    if together:
        raise Faulty(opened.source.path, tuple(together))
    planned = OpenProject(opened, sheet, keys, _obstacles(project, sheet), SweepResults({}, {}, {}, {}, {}))
    return _swept(planned) if project.obstacles else planned


def as_if_chosen(opened: OpenProject, fitment: str) -> OpenProject:
    """The same project, on the same worksheet, with one fitment judged as if it were the chosen one."""
    if opened.planned == (fitment,):
        return opened
    alone = opened._replace(alone=fitment)
    return _swept(alone) if opened.project.obstacles else alone


def _obstacles(project: Project, sheet: Worksheet) -> dict[str, PlannedObstacle]:
    standing = sheet.value(Spot("obstacle_clearance", EVERYWHERE))
    return {
        label: PlannedObstacle(one, f"obstacles[{at}]", one.wants if one.wants is not None else Quantity(standing))
        for at, (label, one) in enumerate(zip(obstacle_labels(project), project.obstacles, strict=True))
    }


def _swept(planned: OpenProject) -> OpenProject:
    """The project with the sweep's results in it; raises `Faulty` where an obstacle lies inside the tire found."""
    from planner.plan.fit.run_sweep import (  # its geometry is only needed where obstacles are
        obstacles_inside_tire,
        run_sweep,
    )

    source = planned.opened.source
    faults = []
    for key, label in obstacles_inside_tire(planned):
        at: tuple[str | int, ...] = ("obstacles", int(key.partition("[")[2][:-1]), "at")
        message = f"{label} lies inside the tire that is on the truck, standing still: one of the readings is wrong"
        faults.append(Fault(message, at, line_of(source.lines, at)))
    if faults:
        raise Faulty(source.path, tuple(faults))
    found = run_sweep(planned)
    planned.sheet.change(found.results)
    return planned._replace(swept=found)


def override(table: str, name: str, change: Override, known: Mapping[str, Assumed]) -> Value | Fault:
    """The value to take for one of those that are `known` in this table, or what is wrong with it."""
    if name not in known:
        from difflib import get_close_matches  # only a slip of the pen needs it

        near = get_close_matches(name, known, n=1, cutoff=0.6)
        accepted = f"{near[0]}, if that is what you meant" if near else _listed(known)
        return Fault(f"there is no such entry in [{table}]", (table, name), None, name, accepted)
    if change.value is None:
        return Fault(
            "it has no value", (table, name), accepted=f'value = "{known[name].text}" is what stands without it'
        )
    if known[name].limit and not change.because:
        return Fault("a limit is set aside only with a reason", (table, name), accepted='because = "…"')
    return _read(known[name], change.value, (table, name, "value"))


def _read(one: Assumed, value: object, key: tuple[str, ...]) -> Value | Fault:
    try:
        return read_value(value, one.kind)
    except Unreadable as trouble:
        return Fault(f"it {trouble.problem}", key, None, trouble.read, trouble.accepted)


def _listed(names: Iterable[str]) -> str:
    return "one of " + ", ".join(sorted(names))
