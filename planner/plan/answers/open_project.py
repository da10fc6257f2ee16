"""Opening a project: its file read, wired into a worksheet, worked out and swept, with every fault in it."""

from collections.abc import Iterable, Iterator, Mapping
from datetime import date
from functools import lru_cache
from pathlib import Path

from planner.plan.answers.contradictions import contradictions
from planner.plan.answers.impossible import entries_behind, impossible, teller, written
from planner.plan.truck.catalog import catalog, catalog_with
from planner.plan.truck.pairs import in_pairs
from planner.plan.truck.project import EVERYWHERE, OpenProject, PlannedObstacle, entry_name, place_of, style_of
from planner.plan.truck.sweep_results import SweepResults
from planner.project.facts import Key as FactKey
from planner.project.facts import Place, entered, entered_at, entrance_at, members, obstacle_labels
from planner.project.faults import Fault, as_key
from planner.project.lines import Key
from planner.project.models.work import Override
from planner.project.not_known import touching
from planner.project.planned_truck import PlannedTruck, planned_trucks
from planner.project.reading import Opened, raise_faults, read_project
from planner.project.sides import SIDES
from planner.project.staged_truck import StagedTruck, without_undecided
from planner.project.which_counts import CountedEntry, with_values
from planner.quantities.grammar import Value, read_value
from planner.quantities.quantity import Quantity
from planner.quantities.unreadable import Unreadable
from planner.worksheet.declare import Assumed
from planner.worksheet.layout import Layout, lay_out
from planner.worksheet.outcome import ABSENT, Barred, Spot
from planner.worksheet.sheet import Worksheet


@lru_cache(maxsize=8)
def _layout(
    axes: tuple[tuple[str, tuple[str, ...]], ...], planned: frozenset[str], stage: StagedTruck | None
) -> Layout:
    """The worksheet's layout for these members of each axis, these facts that a change sets, and a stage as planned.

    Most edits leave them as they are.
    """
    return lay_out(catalog_with(planned), dict(axes), None if stage is None else stage.lender)


def open_project(path: Path, today: date | None = None) -> OpenProject:
    """Read the project at `path` and work everything out, as of `today`, as far as its faults let it.

    Raises `Faulty` where there is nothing to read.
    """
    return work_out(read_project(path), today or date.today())


def open_sound(path: Path, today: date | None = None) -> OpenProject:
    """As `open_project`, for who writes in it: raises `Faulty` with every fault, where there is one."""
    opened = open_project(path, today)
    raise_faults(opened.opened)
    return opened


def work_out(
    opened: Opened,
    today: date,
    tried: Mapping[str, tuple[int, ...]] | None = None,
    stage: StagedTruck | None = None,
    before: OpenProject | None = None,
) -> OpenProject:
    """The worksheet of a project that was read, with the faults that only show when it is worked out.

    What its faults name is barred from the worksheet: no default, assumed value or other way takes its place. `tried`
    are changes that are judged as if they were decided, by the candidate that has them: their places in the file. Of a
    project that was made for a `stage` that is one fitment more, whose entries are those of others at each end.
    `before` is the project as it was, where nothing moved since that a sweep rests on (`plan/fit/swept_by.py`).
    """
    project = opened.project
    trucks = planned_trucks(project, opened.not_known, tried or {}, opened.assumes)
    trucks = trucks if stage is None else without_undecided(project, stage, trucks)
    entries: dict[Spot, Value | Barred] = {
        Spot("today", EVERYWHERE): today.isoformat(),
        Spot("as_weighed", place_of({"fitment": "found"})): True,
    }
    keys: dict[Spot, Key] = {}
    for fact, place, key, value in entered(project, opened.not_known):
        spot = Spot(fact, place_of(dict(place)))
        entries[spot], keys[spot] = Barred(spot) if value is None else value, key
    for spot, key in _one_sided(opened.counted):
        entries[spot], keys[spot] = Barred(spot), key
    opened = opened.with_faults(_override(opened, entries, keys))
    along: dict[Spot, Key] = {}
    opened, planned_facts = _set_over(opened, trucks, entries, keys, along)
    axes = members(project, opened.not_known, [truck.project for truck in trucks.values()])
    sheet = Worksheet(_layout(tuple(axes.items()), planned_facts, stage), entries)
    sheet.tell = teller(keys, style_of(project))
    together = impossible(sheet, keys, sheet.tell)
    if together:
        opened = opened.with_faults(together)
        gone = {tuple(map(str, key)) for fault in together for key in (fault.key, *fault.against)}
        lost = {spot: Barred(spot) for spot, key in keys.items() if key in gone}
        sheet.change(lost)
        entries |= lost
    as_read, at_odds = sheet, contradictions(sheet, keys)
    if at_odds.barred:
        entries |= at_odds.barred
        sheet = Worksheet(as_read.layout, entries)
        sheet.tell = as_read.tell
    swept = SweepResults({}, {}, {}, {}, {}, set(), set(), set())
    planned = OpenProject(opened, sheet, as_read, at_odds.against, keys, {}, swept, trucks=trucks, along=along)
    planned = _with_obstacles(planned)
    if not _sweeps(planned):
        return planned
    apart = _side_sheets(opened, sheet.layout, entries, at_odds.barred, tried or {})
    planned = planned._replace(side_sheets=apart)
    sound = before is not None and not (_mocks_up(before) or _mocks_up(planned))
    sound = sound and not (before is None or before.opened.faults or opened.faults)
    if before is not None and sound and before.at_odds == at_odds.against:
        return _with_sweep(planned, before.swept)
    return _swept(_mocked_up(_nothing_inside(planned)))


def _set_over(
    opened: Opened,
    trucks: Mapping[str, PlannedTruck],
    entries: dict[Spot, Value | Barred],
    keys: dict[Spot, Key],
    along: dict[Spot, Key],
) -> tuple[Opened, frozenset[str]]:
    """What each candidate finds changed put among the entries, and which facts that is.

    An entry as it was found stays where it is, for the others: the candidate's is nearer. One that a candidate has of
    its own, such as a ratio, and that a change sets too, is a fault: neither of the two is known.
    """
    facts, faults = set[str](), list[Fault]()
    found = list(keys)
    for fitment, truck in trucks.items():
        for fact, place, key, value in _set_in(truck):
            spot = Spot(fact, place_of({**dict(place), "fitment": fitment}))
            set_at = truck.barred[key] if value is None else truck.set_over[key].key
            own = next((at for at in found if _is_own(at, spot)), None)
            if own is not None:
                message = f"it sets {as_key(key)}, and {as_key(keys[own])} says something else for the same candidate"
                faults.append(Fault(message, set_at, None, "", "one of the two", (keys[own],)))
                entries[own] = Barred(own)
            if own != spot:
                entries[spot] = Barred(spot) if value is None or own is not None else value
                keys[spot] = set_at
                if key in truck.set_over and truck.set_over[key].moved:
                    along[spot] = key
            facts.add(fact)
        for gone in truck.gone:
            way = entrance_at(tuple(map(str, gone)))
            if way is not None:
                spot = Spot(way[0].fact, place_of({**way[1], "fitment": fitment}))
                entries[spot] = ABSENT
                facts.add(way[0].fact)
    if any(key[0] == "obstacles" and key[-1] == "wants" for truck in trucks.values() for key in truck.set_over):
        facts.add("required_clearance")
    return opened.with_faults(faults) if faults else opened, frozenset(facts)


def _set_in(truck: PlannedTruck) -> Iterator[tuple[str, Place, FactKey, Value | None]]:
    """What a change sets, and only then what moves along with it: so the key of an amount leads to the amount."""
    itself = [key for key, entry in truck.set_over.items() if not entry.moved]
    along = [key for key, entry in truck.set_over.items() if entry.moved]
    yield from entered_at(truck.project, itself, truck.barred)
    yield from entered_at(truck.project, along, ())


def _is_own(entry: Spot, changed: Spot) -> bool:
    """Whether an entry is the fitment's own for what a change sets, such as a ratio that goes with it."""
    places = zip(entry.place, changed.place, strict=True)
    return (
        entry.node == changed.node
        and entry.place[0] == changed.place[0]
        and all(mine in ("", other) or not other for mine, other in places)
    )


def _override(opened: Opened, entries: dict[Spot, Value | Barred], keys: dict[Spot, Key]) -> list[Fault]:
    """Limits and assumed values that the person sets put among the entries; what is wrong with them."""
    project, faults = opened.project, list[Fault]()
    for table, changes, limits in (("limits", project.limits, True), ("assumptions", project.assumptions, False)):
        known = {node: one for node, one in catalog().assumed.items() if one.limit == limits}
        barred: dict[str, tuple[str, ...]] = {}
        for key in opened.not_known:
            if key[0] == table:
                named = str(key[1]) if len(key) > 1 else ""
                barred.update(dict.fromkeys(_meant(named, known), (table, named) if named in known else (table,)))
        for name, change in changes.items():
            if any(key[:2] == (table, name) for key in opened.not_known):
                continue
            taken = override(table, name, change, known)
            if isinstance(taken, Fault):
                faults.append(taken)
                barred.update(dict.fromkeys(_meant(name, known), (table, name)))
            else:
                spot = Spot(name, EVERYWHERE)
                entries[spot], keys[spot] = taken, (table, name, "value")
        for name, key in barred.items():
            spot = Spot(name, EVERYWHERE)
            entries[spot], keys[spot] = Barred(spot), key
    return faults


def _meant(name: str, known: Mapping[str, Assumed]) -> Iterable[str]:
    """Which limits a name that is wrong, or has no good value, may have been for: any, where it is like none."""
    if name in known:
        return (name,)
    from difflib import get_close_matches  # only a slip of the pen needs it

    return get_close_matches(name, known, n=3, cutoff=0.6) or known


def _sweeps(planned: OpenProject) -> bool:
    """Whether there is an obstacle, or there may be one that is not known, or anything was measured at a mock-up."""
    return bool(planned.project.obstacles) or planned.fault_at("obstacles") is not None or _mocks_up(planned)


def _mocks_up(planned: OpenProject) -> bool:
    return any(one.fitment is not None and one.value is not None for one in planned.project.readings)


def _one_sided(counted: Mapping[Key, CountedEntry]) -> Iterator[tuple[Spot, tuple[str, ...]]]:
    """Where the facts are filed that were read on one side only, and their keys: nothing stands for the other side."""
    for key, one in counted.items():
        names = tuple(map(str, key))
        found = entrance_at(names) if one.unknown_sides else None
        if found is not None:
            yield Spot(found[0].fact, place_of(found[1])), names


def _side_sheets(
    opened: Opened,
    layout: Layout,
    entries: Mapping[Spot, Value | Barred],
    at_odds: Mapping[Spot, Barred],
    tried: Mapping[str, tuple[int, ...]],
) -> dict[str, Worksheet]:
    """A worksheet for each side of the truck, where left and right were read apart: with that side's own readings."""
    apart = {
        key: one
        for key, one in opened.counted.items()
        if one.sides and one.sides.get("left") != one.sides.get("right") and touching(opened.not_known, key) is None
    }
    if not apart:
        return {}
    found = {}
    for side in SIDES:
        own = with_values(opened.project, {key: one.sides.get(side) for key, one in apart.items()})
        taken = {Spot(fact, place_of(dict(place))): value for fact, place, key, value in entered(own) if key in apart}
        for fitment, truck in planned_trucks(own, opened.not_known, tried, opened.assumes).items():
            along = [key for key, entry in truck.set_over.items() if entry.moved]
            for fact, place, _, value in entered_at(truck.project, along, ()):
                if value is not None:
                    taken[Spot(fact, place_of({**dict(place), "fitment": fitment}))] = value
        found[side] = Worksheet(layout, {**entries, **taken, **at_odds})
    return found


def as_if_chosen(opened: OpenProject, fitment: str) -> OpenProject:
    """The same project, on the same worksheet, with one fitment judged as if it were the chosen one."""
    if opened.planned == (fitment,):
        return opened
    alone = opened._replace(alone=fitment)
    return _swept(alone) if _sweeps(alone) else alone


def _with_obstacles(planned: OpenProject) -> OpenProject:
    """The project with its obstacles as they were found, and as each candidate finds them where a change sets one."""
    found = PlannedTruck(planned.project, {}, ())
    moved = {
        name: truck
        for name, truck in planned.trucks.items()
        if any(key[0] == "obstacles" for key in (*truck.set_over, *truck.barred))
    }
    return planned._replace(
        obstacles=_obstacles(planned.opened, planned.sheet, found),
        moved_obstacles={name: _obstacles(planned.opened, planned.sheet, truck) for name, truck in moved.items()},
    )


def _obstacles(opened: Opened, sheet: Worksheet, truck: PlannedTruck) -> dict[str, PlannedObstacle]:
    """The obstacles of a truck, under the names by which they were found."""
    standing = sheet.value(Spot("obstacle_clearance", EVERYWHERE))
    found = {}
    for at, (label, one) in enumerate(zip(obstacle_labels(opened.project), truck.project.obstacles, strict=True)):
        own = (key for entry, key in truck.barred.items() if entry[:2] == ("obstacles", at))
        lost = next(own, None) or touching(opened.not_known, ("obstacles", at))
        fault = "" if lost is None else as_key(lost)
        set_at = {str(key[2]): as_key(one.key) for key, one in truck.set_over.items() if key[:2] == ("obstacles", at)}
        required = one.wants if one.wants is not None else None if standing is None else Quantity(standing)
        if required is None:
            fault = fault or "limits.obstacle_clearance"
        found[label] = PlannedObstacle(one, f"obstacles[{at}]", required, fault, set_at)
    return found


AT_REST = ("section_width", "overall_diameter", "offset")  # where a tire stands

OF_A_PAIR = ("disc_thickness", "offset_face")  # and where the two of a pair do


def _nothing_inside(planned: OpenProject) -> OpenProject:
    """The project with a fault for each obstacle that lies inside the tire found: one of the readings is wrong.

    Which of them cannot be told, so neither the obstacle nor that tire is known.
    """
    from planner.plan.fit.run_sweep import obstacles_inside_tire  # its geometry is only needed where obstacles are

    faults, gone = [], set[Spot]()
    for label, axle in obstacles_inside_tire(planned):
        nodes = (*AT_REST, *(OF_A_PAIR if in_pairs(planned, "found", axle) else ()))
        shape = [planned.spot(node, fitment="found", axle=axle) for node in nodes]
        behind = list(dict.fromkeys(at for one in shape for at in entries_behind(planned.sheet, one, planned.keys)))
        at: tuple[str | int, ...] = ("obstacles", list(planned.obstacles).index(label), "at")
        message = f"{label} is inside the tire on the truck, parked: one of the readings is wrong"
        against = tuple(planned.keys[spot] for spot in behind)
        told = ", ".join(
            f"{entry_name(key)} = {written(planned.sheet, spot)}" for spot, key in zip(behind, against, strict=True)
        )
        faults.append(Fault(f"{message}; it contradicts {told}", at, against=against))
        gone.update(behind)
    if not faults:
        return planned
    opened = planned.opened.with_faults(faults)
    for sheet in (planned.sheet, *planned.side_sheets.values()):
        sheet.change({spot: Barred(spot) for spot in gone})
    return _with_obstacles(planned._replace(opened=opened))


def _mocked_up(planned: OpenProject) -> OpenProject:
    if not _mocks_up(planned):
        return planned
    from planner.plan.answers.mock_up_basis import mocked_up  # as above

    return mocked_up(planned)


def _swept(planned: OpenProject) -> OpenProject:
    """The project with the sweep's results in it."""
    from planner.plan.fit.run_sweep import run_sweep

    return _with_sweep(planned, run_sweep(planned))


def _with_sweep(planned: OpenProject, found: SweepResults) -> OpenProject:
    planned.sheet.change(found.results | {spot: Barred(spot) for spot in found.barred})
    return planned._replace(swept=found)


def override(table: str, name: str, change: Override, known: Mapping[str, Assumed]) -> Value | Fault:
    """The value to take for one of those that are `known` in this table, or what is wrong with it."""
    if name not in known:
        from difflib import get_close_matches  # only a slip of the pen needs it

        near = get_close_matches(name, known, n=1, cutoff=0.6)
        accepted = f"{near[0]}, if that is what you meant" if near else f"one of {', '.join(sorted(known))}"
        return Fault(f"there is no such entry in [{table}]", (table, name), None, name, accepted)
    if change.value is None:
        return Fault(
            "it has no value", (table, name), accepted=f'value = "{known[name].text}" is what counts without it'
        )
    if known[name].limit and not change.because:
        return Fault("you can't set a limit aside without a reason", (table, name), accepted='because = "…"')
    return _read(known[name], change.value, (table, name, "value"))


def _read(one: Assumed, value: object, key: tuple[str, ...]) -> Value | Fault:
    try:
        return read_value(value, one.kind)
    except Unreadable as trouble:
        return Fault(f"it {trouble.problem}", key, None, trouble.read, trouble.accepted)
