"""The open project: its file, its worksheet, and what does not fit together between the two."""

import re
from datetime import date
from functools import cache, lru_cache
from pathlib import Path
from typing import Any, NamedTuple

from planner.plan.impossible import impossible, teller
from planner.plan.overrides import override
from planner.plan.plan_facts import facts as plan_facts
from planner.plan.swept import NODES, Swept
from planner.plan.swept import facts as swept_facts
from planner.plan.swept import names as swept_names
from planner.project.facts import AXES, Entrance, entered, entrances, key_at, members, obstacle_labels
from planner.project.faults import Fault, Faulty, as_key
from planner.project.lines import line_of
from planner.project.models.measurements import Obstacle
from planner.project.models.project import Project
from planner.project.reading import Opened, read_project
from planner.quantities.grammar import Value, read_value
from planner.quantities.kinds import TEXT, Kind
from planner.quantities.quantity import Quantity
from planner.quantities.show import Style
from planner.quantities.text import clean
from planner.worksheet.catalog import Catalog, Fact, declared_in, make
from planner.worksheet.layout import Layout, lay_out
from planner.worksheet.outcome import Place, Spot
from planner.worksheet.sheet import Worksheet

PREFIXES = {
    "found_": ("fitment", "found"),
    "planned_": None,
    "front_": ("axle", "front"),
    "rear_": ("axle", "rear"),
}
SWEPT_FOR_NEEDS = ("least_clearance", "inner_steer_limit", "window_width", "largest_tire")
EVERYWHERE: Place = ("",) * len(AXES)


class PlannedObstacle(NamedTuple):
    """An obstacle of the project: its entry, its key in the file, and the clearance that it must keep."""

    measured: Obstacle
    key: str
    required: Quantity


class OpenProject(NamedTuple):
    """One truck, read and worked out; `keys` finds the entry's key in the file for a spot at which it was made."""

    opened: Opened
    sheet: Worksheet
    keys: dict[Spot, tuple[str, ...]]
    obstacles: dict[str, PlannedObstacle]
    swept: Swept
    alone: str = ""  # a fitment that is judged as if it were chosen

    @property
    def project(self) -> Project:
        return self.opened.project

    @property
    def style(self) -> Style:
        return style_of(self.project)

    @property
    def candidates(self) -> tuple[str, ...]:
        return tuple(name for name in self.project.fitments if name != "found")

    @property
    def planned(self) -> tuple[str, ...]:
        """The fitments that are judged: the chosen one, or every candidate while none is chosen, or what was found."""
        chosen = self.alone or self.project.plan.chosen
        return (chosen,) if chosen else self.candidates or ("found",)

    def steers(self, axle: str) -> bool:
        """Whether an axle steers: as the person says, or the front one."""
        said = {"front": self.project.axles.front, "rear": self.project.axles.rear}[axle].steered
        return axle == "front" if said is None else said

    def spot(self, node: str, **members_of: str) -> Spot:
        """A node at a place named by its axes' members; `found_` and the like before its name pin one."""
        edge, layout = self.sheet.catalog.edge(node), self.sheet.layout
        return Spot(edge.node, layout.place(_place(members_of), layout.scopes[edge.node], edge.pin))

    def keys_needed(self, need: Spot) -> tuple[str, ...]:
        """The entries to make where a spot has no value."""
        if need.node not in NODES:
            return (entry_key(need),)
        waiting = (self.swept.needs.get(Spot(node, need.place)) for node in SWEPT_FOR_NEEDS)
        return next((keys for keys in waiting if keys), ("obstacles",))

    def trouble(self, need: Spot) -> str:
        """Why the sweep could not be made, for a spot that waits for it; empty where nothing was wrong."""
        return next(
            (self.swept.troubles[s] for n in SWEPT_FOR_NEEDS if (s := Spot(n, need.place)) in self.swept.troubles), ""
        )

    def key_of(self, spot: Spot) -> str:
        """The key of the entry made at a spot, or the name of what is assumed there."""
        return ".".join(self.keys.get(spot, (spot.node,)))

    def spoken(self, key: str) -> str:
        """A key as people read it, and may type it: an obstacle by its name, what there is none of yet in words."""
        head, _, rest = key.partition(".")
        if head.startswith("obstacles["):
            found = next((pair for pair in self.obstacles.items() if pair[1].key == head), None)
            names = [one.measured.name for one in self.obstacles.values()]
            if found is None:
                return key
            label, name = found[0], found[1].measured.name
            return f"{as_key(('obstacles', name))}.{rest}" if name and names.count(name) == 1 else f"{key} ({label})"
        if key == "obstacles":
            return "obstacles, what the tire may touch"
        return re.sub(r"\.<(\w+)>$", r", a ratio for each \1", key) if key.endswith(">") else key

    def project_value(self, spot: Spot) -> Any:
        """What was entered at a spot, or what is assumed there, with its tolerance; None where neither is."""
        given = self.sheet.given(spot)
        assumed = self.sheet.catalog.assumed.get(spot.node)
        return given if given is not None or assumed is None else read_value(assumed.text, assumed.kind)

    def spot_at(self, key: str) -> Spot | None:
        """Where the entry of this key is filed; None where there is none."""
        return next((spot for spot, own in self.keys.items() if ".".join(own) == key), None)

    def kind_of(self, key: str) -> Kind | None:
        """The kind of the entry of this key."""
        spot = self.spot_at(key)
        return None if spot is None else self.sheet.catalog.kind(spot.node)

    def written_at(self, key: str) -> str:
        """What is written at a key, also where no formula reads it, as of an obstacle; empty where nothing is."""
        spot = self.spot_at(key)
        if spot is not None:
            return clean(self.text_of(key))
        one = next((one for one in self.obstacles.values() if key == f"{one.key}.at"), None)
        return ", ".join(clean(axis.text) for axis in one.measured.at) if one is not None and one.measured.at else ""

    def text_of(self, name: str) -> str:
        """An entry by its key, as the person wrote it; `not entered` where there is none."""
        spot = self.spot_at(name)
        value = None if spot is None else self.sheet.given(spot)
        return "not entered" if value is None else getattr(value, "text", None) or str(value)


def style_of(project: Project) -> Style:
    """How the person wants to see values."""
    return Style(project.vehicle.units, project.vehicle.fractions and project.vehicle.units == "inch")


@cache
def ways_in() -> dict[str, list[Entrance]]:
    """By fact, every key at which it can be entered."""
    by_name: dict[str, list[Entrance]] = {}
    for entrance in entrances():
        by_name.setdefault(entrance.fact, []).append(entrance)
    return by_name


@cache
def catalog() -> Catalog:
    """Every fact, figure, limit and rule there is, wired together."""
    facts = [
        Fact(
            name=name,
            kind=ways[0].kind,
            means=ways[0].note.means,
            how=ways[0].note.how,
            example=ways[0].note.example,
            scopes=tuple(dict.fromkeys(frozenset(way.axes) for way in ways)),
            keys=tuple(dict.fromkeys(".".join(way.key) for way in ways)),
        )
        for name, ways in ways_in().items()
    ]
    facts += [*swept_facts(), *plan_facts()]
    facts.append(Fact("today", TEXT, "today's date", "", "2026-03-14", (frozenset(),), ("today",)))
    return make(facts, (*declared_in("planner.trade"), *declared_in("planner.flags")), PREFIXES, swept_names())


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
        spot = Spot(fact, _place(dict(place)))
        entries[spot], keys[spot] = value, key
    faults: list[Fault] = []
    for table, changes, limits in (("limits", project.limits, True), ("assumptions", project.assumptions, False)):
        known = {node: one for node, one in catalog().assumed.items() if one.limit == limits}
        for name, change in changes.items():
            taken = override(table, name, change, known)
            if isinstance(taken, Fault):
                faults.append(taken._replace(line=line_of(opened.source.lines, taken.key)))
            else:
                spot = Spot(name, EVERYWHERE)
                entries[spot], keys[spot] = taken, (table, name, "value")
    if faults:
        raise Faulty(opened.source.path, tuple(faults))
    sheet = Worksheet(_layout(tuple(members(project).items())), entries)
    sheet.tell = teller(keys, style_of(project))
    together = [
        fault._replace(line=line_of(opened.source.lines, fault.key)) for fault in impossible(sheet, keys, sheet.tell)
    ]
    if together:
        raise Faulty(opened.source.path, tuple(together))
    planned = OpenProject(opened, sheet, keys, _obstacles(project, sheet), Swept({}, {}, {}, {}, {}))
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
    from planner.plan.sweeping import misplaced, sweep  # its geometry is only needed where obstacles are

    source = planned.opened.source
    faults = []
    for key, label in misplaced(planned):
        at: tuple[str | int, ...] = ("obstacles", int(key.partition("[")[2][:-1]), "at")
        message = f"{label} lies inside the tire that is on the truck, standing still: one of the readings is wrong"
        faults.append(Fault(message, at, line_of(source.lines, at)))
    if faults:
        raise Faulty(source.path, tuple(faults))
    found = sweep(planned)
    planned.sheet.change(found.results)
    return planned._replace(swept=found)


def _place(members_of: dict[str, str]) -> Place:
    return tuple(members_of.get(axis, "") for axis in AXES)


@cache
def entry_key(spot: Spot) -> str:
    """The key at which a spot would be entered in the file, the one that serves most places, for messages."""
    place = {axis: member for axis, member in zip(AXES, spot.place, strict=True) if member}
    ways = ways_in().get(spot.node, [])
    fitting = [way for way in ways if set(way.axes) <= set(place)]
    exact = [
        way for way in fitting if all(part not in ("front", "rear") or part == place.get("axle") for part in way.key)
    ]
    best = min(exact or fitting or ways, key=_nearness, default=None)
    return ".".join(key_at(best, place)) if best else spot.node


def _nearness(way: Entrance) -> tuple[bool, int, int]:
    """What holds for every fitment comes first (an axle's ratio), then what serves both axles."""
    return "fitment" in way.axes, len(way.axes), len(way.key)
