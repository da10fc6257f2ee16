"""The open project as a type: its file, its worksheet, and where in the file each value was entered."""

import re
from collections.abc import Mapping
from datetime import date
from functools import lru_cache
from typing import Any, NamedTuple

from planner.plan.truck.catalog import entry_key
from planner.plan.truck.entry_names import name_of
from planner.plan.truck.held_mock_up import HeldMockUp
from planner.plan.truck.sweep_results import NODES, SweepResults
from planner.project.changes import held_at
from planner.project.facts import AXES
from planner.project.faults import as_key
from planner.project.lines import Key
from planner.project.models.measurements import Obstacle
from planner.project.models.project import Project
from planner.project.models.work import RestedOn
from planner.project.not_known import touching
from planner.project.planned_truck import PlannedTruck, SetEntry, change_words, set_words
from planner.project.reading import Opened
from planner.project.rested_on import values_rested_on
from planner.project.staged_truck import STAGES, stage_texts
from planner.project.truck_keys import truck_key
from planner.project.usual_tolerances import is_assumed
from planner.project.written_keys import split_key
from planner.quantities.grammar import read_value
from planner.quantities.kinds import POSITION, Kind
from planner.quantities.quantity import Quantity
from planner.quantities.show import Style, as_written, show
from planner.quantities.text import clean, normal_name
from planner.worksheet.outcome import Place, Spot
from planner.worksheet.sheet import Worksheet

SWEPT_FOR_NEEDS = ("least_clearance", "inner_steer_limit", "window_width", "largest_tire")

INBOARD, OUTBOARD = "inboard", "outboard"  # of the tire's center plane
BETWEEN = "between"  # the two tires of a pair

UNMEASURED = {  # what to measure where nothing says how far the tire may stand out, by the key it is asked for under
    f"obstacles.{axle}.{side}": f"an obstacle {side} of the tire at the {axle} axle{also}"
    for axle in ("front", "rear")
    for side, also in ((INBOARD, ""), (OUTBOARD, ", or the fender edge and how far the tire may stick out past it"))
} | {
    f"obstacles.{axle}.{BETWEEN}": f"how close together the two tires may be at the {axle} axle"
    for axle in ("front", "rear")
}

EVERYWHERE: Place = ("",) * len(AXES)


class PlannedObstacle(NamedTuple):
    """An obstacle of the project: its entry, its key in the file, and the clearance that it must keep.

    `fault` is the key of what of it is not known, though it was entered: then nothing is worked out of the rest of it.
    `set_at` has, by the name of an entry that a change sets, the key of the value there.
    """

    measured: Obstacle
    key: str
    required: Quantity | None
    fault: str = ""
    set_at: Mapping[str, str] = {}

    def key_of(self, entry: str) -> str:
        """The key at which one of its entries is written."""
        return self.set_at.get(entry, f"{self.key}.{entry}")


class OpenProject(NamedTuple):
    """One truck, read and worked out; `keys` finds the entry's key in the file for a spot at which it was made.

    `as_read` is the worksheet with every entry as it was read; on `sheet` those that contradict each other are not
    known, and `at_odds` has, by key, the others that each stands against.
    `obstacles` are as they were found; `trucks` has, by candidate, the truck with the changes that go with it.
    """

    opened: Opened
    sheet: Worksheet
    as_read: Worksheet
    at_odds: Mapping[str, tuple[str, ...]]
    keys: dict[Spot, Key]
    obstacles: dict[str, PlannedObstacle]
    swept: SweepResults
    alone: str = ""  # a fitment that is judged as if it were chosen
    side_sheets: Mapping[str, Worksheet] = {}  # by side, where entries were read on each and differ
    trucks: Mapping[str, PlannedTruck] = {}
    along: Mapping[Spot, Key] = {}  # what moves along with a change's amount, by its key as it was found
    moved_obstacles: Mapping[str, dict[str, PlannedObstacle]] = {}  # by candidate, all of them where a change sets one
    mock_ups: tuple[HeldMockUp, ...] = ()  # the mock-up readings, each as it stands to the sweep

    @property
    def project(self) -> Project:
        return self.opened.project

    @property
    def style(self) -> Style:
        return style_of(self.project)

    @property
    def today(self) -> date:
        """The day by which it was worked out."""
        return date.fromisoformat(self.given(Spot("today", EVERYWHERE)))

    @property
    def candidates(self) -> tuple[str, ...]:
        return tuple(name for name in self.project.fitments if name != "found")

    @property
    def planned(self) -> tuple[str, ...]:
        """The fitments that are judged: the chosen one, or every candidate while none is chosen, or what was found."""
        chosen = self.alone or self.project.plan.chosen
        return (chosen,) if chosen else self.candidates or ("found",)

    def seen_from(self, node: str) -> "OpenProject":
        """The project as a rule judges it: one that holds entries against each other sees them as they were read."""
        rule = self.sheet.catalog.rules.get(node)
        return self._replace(sheet=self.as_read) if rule is not None and rule.bars else self

    def given(self, spot: Spot) -> Any:
        """The entry made at a spot as it was read, whether or not another contradicts it; None where none is known."""
        return self.as_read.given(spot)

    def truck(self, fitment: str) -> Project:
        """The project with its truck as a fitment finds it: with the changes that go with it."""
        return self.trucks[fitment].project if fitment in self.trucks else self.project

    def set_over(self, fitment: str) -> Mapping[Key, SetEntry]:
        """The entries of the truck that a fitment finds changed, by their own keys."""
        return self.trucks[fitment].set_over if fitment in self.trucks else {}

    def changes_of(self, fitment: str) -> tuple[int, ...]:
        """The places in the file of the changes that go with a fitment."""
        return self.trucks[fitment].changes if fitment in self.trucks else ()

    def obstacles_of(self, fitment: str) -> dict[str, PlannedObstacle]:
        """The obstacles as a fitment finds them."""
        return self.moved_obstacles.get(fitment, self.obstacles)

    def steers(self, axle: str, fitment: str) -> bool:
        """Whether an axle steers, as a fitment finds it: as the person says, or the front one."""
        if self.steered_fault(axle, fitment) is not None:
            return True  # so that nothing is left out; its fit is not known
        axles = self.truck(fitment).axles
        said = {"front": axles.front, "rear": axles.rear}[axle].steered
        return axle == "front" if said is None else said

    def suspension(self, axle: str, fitment: str) -> str | None:
        """What was said of an axle's suspension, as a fitment finds it."""
        axles = self.truck(fitment).axles
        return {"front": axles.front, "rear": axles.rear}[axle].suspension

    def steered_fault(self, axle: str, fitment: str) -> str | None:
        """The key of what was entered of whether an axle steers and is not known, by a change or as it was found."""
        truck = self.trucks.get(fitment)
        lost = truck.barred.get(("axles", axle, "steered")) if truck is not None else None
        return self.fault_at("axles", axle, "steered") if lost is None else as_key(lost)

    def set_entry(self, key: str) -> tuple[Key, SetEntry] | None:
        """The entry of the truck that a change sets at this key of the file, and how; None for any other key."""
        if not key.startswith("changes["):
            return None
        over = (pair for truck in self.trucks.values() for pair in truck.set_over.items())
        return next((pair for pair in over if as_key(pair[1].key) == key), None)

    def fault_at(self, *key: str | int) -> str | None:
        """What was entered there, within, or around it, and is not known, as a key; None where all is sound."""
        lost = touching(self.opened.not_known, key)
        return None if lost is None else as_key(lost)

    def fit_fault(self, axle: str, fitment: str) -> str | None:
        """The key of what was entered and is not known without which nothing fits at an axle for sure.

        Of an obstacle that holds whichever of its entries it is: it stands where it stands, half entered.
        """
        obstacles = self.obstacles_of(fitment).values()
        here = (one.fault for one in obstacles if one.fault and one.measured.axle in (axle, None))
        whole = ("obstacles",) if ("obstacles",) in self.opened.not_known else ()
        return next(iter((*whole, *here)), None) or self.steered_fault(axle, fitment)

    def faulty_line(self, key: str) -> int | None:
        """The line at which what was entered at a key is to be entered again; None where it has no fault."""
        for fault in self.opened.faults:
            for one in (fault.key, *fault.against):
                for shown in (as_key(one), ".".join(map(str, one))):
                    if (
                        shown == key
                        or shown.startswith((f"{key}.", f"{key}["))
                        or key.startswith((f"{shown}.", f"{shown}["))
                    ):
                        return self.opened.source.lines.get(one, fault.line)
        return None

    def asked_for(self, key: str) -> str:
        """A key without a value as people read it: with a fault, `axles.front.rating (enter it again: line 12)`."""
        if key in self.at_odds:
            return f"{self.spoken(key)} ({self.contradicts(key)})"
        line = self.faulty_line(key) if self.opened.faults else None
        return self.spoken(key) if line is None else f"{self.spoken(key)} (enter it again: line {line})"

    def spot(self, node: str, **members_of: str) -> Spot:
        """A node at a place named by its axes' members; `found_` and the like before its name pin one."""
        edge, layout = self.sheet.catalog.edge(node), self.sheet.layout
        return Spot(edge.node, layout.place(place_of(members_of), layout.scopes[edge.node], edge.pin))

    def keys_needed(self, need: Spot) -> tuple[str, ...]:
        """The entries to make where a spot has no value."""
        if need in self.keys:  # one that was entered or read, and is not known
            return (self.key_of(need),)
        if need.node not in NODES:
            return (entry_key(need._replace(place=self.sheet.layout.lent(need.place))),)
        waiting = (self.swept.needs.get(Spot(node, need.place)) for node in (need.node, *SWEPT_FOR_NEEDS))
        return next((keys for keys in waiting if keys), ("obstacles",))

    def trouble(self, need: Spot) -> str:
        """Why the sweep could not be made, for a spot that waits for it; empty where nothing was wrong."""
        if need.node not in NODES:
            return ""
        return next(
            (self.swept.troubles[s] for n in SWEPT_FOR_NEEDS if (s := Spot(n, need.place)) in self.swept.troubles), ""
        )

    def key_of(self, spot: Spot) -> str:
        """The key of the entry made at a spot, or the name of what is assumed there."""
        return entry_name(self.keys.get(spot, (spot.node,)))

    def spoken(self, key: str) -> str:
        """What people call the entry at a key, and may type: `rear brake radius`; the key where it has no such name."""
        over = self.set_entry(key)
        if over is not None:
            return f"{self.spoken(as_key(over[0]))} (by {set_words(self.project, over[1])})"
        names = split_key(key)
        name = name_of(tuple(names), self.opened.data) if names else ""
        if key in self.sheet.catalog.assumed:  # nobody entered it, so it has no key in the file
            return key.replace("_", " ")
        return f"{name}{self._side_asked(key)}" if name else self.typed(key)

    def the(self, key: str) -> str:
        """What people call the entry at a key, in a sentence: `the rear brake radius`."""
        told, key_alone = self.spoken(key), self.typed(key)
        return told if told == key_alone else f"the {told}"

    def _side_asked(self, key: str) -> str:
        counted = self.opened.counted.get(tuple(key.split(".")))
        return f" (a reading on the {counted.unknown_sides[0]})" if counted and counted.unknown_sides else ""

    def typed(self, key: str) -> str:
        """A key as it stands in the file, an obstacle by its name, what there is none of yet in words."""
        over = self.set_entry(key)
        if over is not None:
            return f"{self.typed(as_key(over[0]))} (by {set_words(self.project, over[1])})"
        asked = self.truck_key_of(key)
        if asked is not None:
            by = "measured after" if (split_key(key) or ())[2:3] == ("measured",) else "left open by"
            return f"{self.spoken(as_key(asked))} ({by} {change_words(self.project, key)})"
        head, _, rest = key.partition(".")
        if head.startswith("readings[") and rest == "value":
            return f"{key}, measured at the mock-up"
        if head.startswith("obstacles["):
            found = next((pair for pair in self.obstacles.items() if pair[1].key == head), None)
            names = [normal_name(one.measured.name or "") for one in self.obstacles.values()]
            if found is None:
                return key
            label, name = found[0], found[1].measured.name
            alone = name and names.count(normal_name(name)) == 1
            whole = as_key(("obstacles", name)) if name and alone else ""
            return f"{whole}.{rest}" if whole and rest else whole or f"{key} ({label})"
        if key in UNMEASURED:
            return UNMEASURED[key]
        if key == "obstacles":
            return "obstacles, what the tire could touch"
        worded = re.sub(r"\.<(\w+)>$", r", a ratio for each \1", key) if key.endswith(">") else key
        return f"{worded}{self._side_asked(key)}"

    def contradicts(self, key: str) -> str:
        """What an entry stands against, in words: `it contradicts axles.front.ring_teeth`; empty for any other."""
        others = " and ".join(map(self.spoken, self.at_odds.get(key, ())))
        return f"it contradicts {others}" if others else ""

    def project_value(self, spot: Spot) -> Any:
        """What was entered at a spot, or what is assumed there, with its tolerance; None where neither is."""
        given = self.given(spot)
        assumed = self.sheet.catalog.assumed.get(spot.node)
        return given if given is not None or assumed is None else read_value(assumed.text, assumed.kind)

    def keys_behind(self, spot: Spot) -> tuple[str, ...]:
        """The key of the entry made at a spot; of what moves along with a change, also its own as it was found."""
        own = self.along.get(spot)
        return (self.key_of(spot),) if own is None else (self.key_of(spot), entry_name(own))

    def spot_at(self, key: str) -> Spot | None:
        """Where the entry of this key is filed; None where there is none."""
        for spot, own in self.keys.items():
            if entry_name(own) == key:
                return spot
        wanted = normal_name(key)
        return next((spot for spot, own in self.keys.items() if normal_name(entry_name(own)) == wanted), None)

    def read_now(self, key: str) -> Spot | None:
        """Where the entry of this key is filed; of one that a change set, what is read now in the change's place."""
        spot, own = self.spot_at(key), self.truck_key_of(key)
        if spot is not None or own is None:
            return spot
        set_over = [truck.set_over[own] for truck in self.trucks.values() if own in truck.set_over]
        best = min(set_over, key=lambda one: not key.startswith(f"changes[{one.number}]"), default=None)
        return self.spot_at(entry_name(own if best is None else best.key))

    def truck_key_of(self, key: str) -> Key | None:
        """The entry of the truck that a change sets at a key such as `changes[0].sets."axles.front.load"`."""
        names = split_key(key) if key.startswith("changes[") else None
        entry = truck_key(self.project, str(names[3])) if names and len(names) > 3 else None
        return None if entry is None else entry.key

    def kind_of(self, key: str) -> Kind | None:
        """The kind of the entry of this key."""
        spot = self.read_now(key)
        return None if spot is None else self.sheet.catalog.kind(spot.node)

    def written_at(self, key: str) -> str:
        """What is written at a key, and what is assumed of it, for people to read; empty where nothing is.

        Also where no formula reads it, as of an obstacle.
        """
        spot = self.spot_at(key)
        if spot is not None:
            given, kind = self.given(spot), self.sheet.catalog.kind(spot.node)
            if isinstance(given, Quantity) and given.text and kind is not None:
                return as_written(given, kind, self.style)
            if isinstance(given, bool):
                return "yes" if given else "no"
            told = show(given, kind, self.style) if isinstance(given, tuple) and kind is not None else self.text_of(key)
            return clean(told)
        every = (self.obstacles, *self.moved_obstacles.values())
        one = next((one for obstacles in every for one in obstacles.values() if key == one.key_of("at")), None)
        at = one.measured.at if one is not None else None
        return ", ".join(as_written(axis, POSITION, self.style) for axis in at) if at else ""

    def tolerance_assumed(self, spot: Spot) -> bool:
        """Whether the value at a spot is an entry whose tolerance nobody gave."""
        source = self.sheet.entered(spot)
        return source is not None and is_assumed(self.given(source))

    def rested_on(self, record: RestedOn) -> Mapping[str, str] | None:
        """What a record rested on when it was made; None where that is not known."""
        return values_rested_on(self.opened.source.path, record)

    def text_of(self, name: str) -> str:
        """An entry by its key, as the person wrote it; `not entered` where there is none, `not known` with a fault."""
        if name.startswith(STAGES):
            return stage_texts(self.project).get(name, "not entered")
        spot = self.read_now(name)
        value = _worded(self.opened.data, name) if spot is None else self.given(spot)
        missing = "not entered" if spot is None else "not known"
        return missing if value is None else getattr(value, "text", None) or str(value)


def _worded(data: Any, name: str) -> str | None:
    """What is written where no formula reads it and a sheet does: of a wheel, such as its finish, or of its buyer."""
    if not name.startswith(("fitments.", "buyer.")):
        return None
    written = held_at(data, split_key(name) or (name,))
    return written if isinstance(written, str) else None


def style_of(project: Project) -> Style:
    """How the person wants to see values."""
    return Style(project.vehicle.units, project.vehicle.fractions and project.vehicle.units == "inch")


@lru_cache(maxsize=4096)  # asked of every entry in turn
def entry_name(key: Key) -> str:
    """A key as records, lists and the command line have it; what a change sets goes by its key in quotes there."""
    return as_key(key) if key[:1] == ("changes",) else ".".join(map(str, key))


def place_of(members_of: dict[str, str]) -> Place:
    return tuple(members_of.get(axis, "") for axis in AXES)
