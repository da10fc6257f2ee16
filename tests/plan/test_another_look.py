"""What is asked again after an edit is what differs between the truck worked out before it and worked out after it.

What a record shows is read here from the declarations of its task, its part or its sheet, on each of the two trucks,
and held against each other. The program has one of the two only, and what the diary kept of the other.
"""

import random
from collections.abc import Iterator, Mapping
from typing import Any, NamedTuple

import pytest
from looked_at_truck import DAY, written

from planner.plan.answers.open_project import open_project, work_out
from planner.plan.answers.verdicts import verdict_at, verdicts
from planner.plan.change.changing import Setting, amended, settings_as_changes
from planner.plan.revisit.stale_records import stale_records
from planner.plan.truck.project import OpenProject
from planner.plan.truck.recording import RefusedChange
from planner.plan.truck.wording import place_name
from planner.plan.work.dependencies import standing_task_of
from planner.plan.work.hold_points import MADE_WRONG
from planner.plan.work.parts import BOUGHT, matching_parts, planned_parts
from planner.project.faults import Faulty
from planner.project.reading import understand
from planner.quantities.quantity import Quantity
from planner.quantities.show import write
from planner.sheets.kind import Asked, Subject, kinds
from planner.tasks.ordering import ORDERED_BY
from planner.worksheet.outcome import Known, Spot, number

pytestmark = pytest.mark.slow

SIGNED = ("decide.sign",)  # it stands for every choice before it, and is asked again with them
TENTH = 0.1  # of how well a margin was known
Shown = Mapping[Any, Any]


@pytest.fixture(scope="module")
def truck(tmp_path_factory) -> OpenProject:
    return open_project(written(tmp_path_factory.mktemp("looked")), DAY)


def edited(truck: OpenProject, key: str, value: str) -> OpenProject:
    changes = settings_as_changes(truck, [Setting(key, value)], "tried").changes
    return work_out(understand(amended(truck.opened.source, changes)[0]), DAY)


# what a value is, and whether another is the same


def value_at(opened: OpenProject, spot: Spot) -> Any:
    """What stands at a spot: an entry as it was read, a rule's answer with its margin, a figure with its ends."""
    catalog = opened.sheet.catalog
    if spot.node in catalog.rules:
        verdict = verdict_at(opened, spot)
        if verdict is None:
            return ("answer", "clear", None)
        ends = verdict.margin and (verdict.margin.low, verdict.margin.high)
        whole = verdict.margin is None or isinstance(verdict.margin.value, bool) or verdict.rule.kind is None
        return ("answer", verdict.answer, None if whole else ends)
    if spot in opened.sheet and opened.sheet.entered(spot):
        given = opened.given(opened.sheet.entered(spot))
        return ("entry", (given.value, given.tolerance) if isinstance(given, Quantity) else str(given))
    outcome = opened.sheet.outcome(spot)
    if not isinstance(outcome, Known):
        return ("not known",)
    middle, kind = number(outcome.value), catalog.kind(spot.node)
    if middle is None or kind is None or kind.form not in ("quantity", "ratio") or catalog.picks(spot.node):
        return ("picked", str(outcome.value))
    return ("figure", middle, max(outcome.high - middle, middle - outcome.low))


def same(then: Any, now: Any) -> bool:
    if then[0] == "answer" and now[0] == "answer":
        if then[1] != now[1] or then[2] is None or now[2] is None:
            return then[1] == now[1]
        give = max(TENTH * (then[2][1] - then[2][0]) / 2, 1e-6 * abs(then[2][0] + then[2][1]) / 2)
        return then[2][0] - give <= now[2][0] and now[2][1] <= then[2][1] + give
    if then[0] == "figure" and now[0] == "figure":
        return abs(now[1] - then[1]) <= max(then[2], 1e-6 * abs(then[1]))
    return then == now


# what each record shows


def spots(opened: OpenProject, name: str, axle: str, found: bool = False) -> Iterator[tuple[Any, Spot]]:
    """The spots that a task's name stands for, each under what it is called whichever candidate is planned."""
    catalog = opened.sheet.catalog
    edge = catalog.edge(name) if name not in catalog.rules else None
    node, pin = (edge.node, edge.pin) if edge else (name, None)
    for spot in opened.sheet.spots(node):
        fitment, end = spot.place[:2]
        of_truck = found and node in catalog.facts and "fitments" not in str(opened.keys.get(spot, ""))
        wanted = ("found",) if of_truck or pin == ("fitment", "found") else opened.planned
        ends = ("", pin[1]) if pin and pin[0] == "axle" else ("", axle) if axle else ("", "front", "rear")
        if fitment in ("", *wanted) and end in ends:
            yield (node, spot.place[1:], fitment if fitment == "found" else ""), spot


def of_task(opened: OpenProject, id_: str) -> Shown:
    task, axle = standing_task_of(id_) or (None, "")
    assert task is not None
    shown: dict[Any, Any] = {}
    parts = planned_parts(opened)
    if task.orders or id_ == "order.drawing":
        names = task.orders or ("wheels",)
        bought = [need for need in matching_parts(parts, task.orders) if need.ordered]
        names = tuple(name for name in names if not bought or matching_parts(bought, (name,)))
        nodes = [node for name in names for node in ORDERED_BY[name]]
        shown |= {("stops", name): stops(opened, name) for name in names if name in MADE_WRONG}
        shown |= {("part", need.id): need.part.state in BOUGHT for need in bought}
    else:
        nodes = [*task.asks, *(task.records.nodes if task.records else ()), *([task.torque] if task.torque else ())]
        rules = opened.sheet.catalog.rules.items()
        nodes += [node for node, rule in rules if task.phase == "decide" and rule.name in task.for_rules]
        mine = matching_parts(parts, task.parts)
        shown |= {("part", need.id): True for need in mine if need.there}
    for node in nodes:
        for label, spot in spots(opened, node, axle, found=task.phase in ("make safe", "measure")):
            known = opened.sheet.entered(spot) or spot.node not in opened.sheet.catalog.facts
            if known:
                shown[label] = value_at(opened, spot)
    return shown


def stops(opened: OpenProject, name: str) -> frozenset[Any]:
    """The open stops that would make something wrong, whichever candidate they are of."""
    return frozenset(
        (one.rule.node, one.place[1:])
        for one in verdicts(opened)
        if one.rule.severity == "stop"
        and one.rule.name.startswith(MADE_WRONG[name])
        and one.answer in ("raised", "too close to call")
    )


def sheet_spots(opened: OpenProject, kind: str) -> tuple[Spot, ...]:
    return kinds()[kind].build(Subject(opened, Asked(), DAY)).spots


def sheet_moved(before: OpenProject, after: OpenProject, stood: Mapping[Spot, Any]) -> bool:
    """Whether a value that stands on a sheet is another now, at the candidate that is planned now."""
    for spot, then in stood.items():
        fitment = after.planned[0] if spot.place[0] in before.planned else spot.place[0]
        if not same(then, value_at(after, Spot(spot.node, (fitment, *spot.place[1:])))):
            return True
    return False


def differs(before: Shown, after: Shown, bought: frozenset[str]) -> bool:
    """Whether something that was shown is otherwise now, or shown no more."""
    for label, then in before.items():
        if label[0] == "part":
            if label[1] not in bought:
                return True
        elif label[0] == "stops":
            if after.get(label, frozenset()) - then:
                return True
        elif not same(then, after.get(label, ("not shown",))):
            return True
    return False


# which records are asked again


class Then(NamedTuple):
    """What each record showed of the truck before any edit: read once for all of them."""

    truck: OpenProject
    tasks: Mapping[str, Shown]
    sheets: Mapping[str, Mapping[Spot, Any]]
    acceptances: Mapping[str, tuple[Spot, Any]]


@pytest.fixture(scope="module")
def then(truck: OpenProject) -> Then:
    ticked = [record.id or "" for record in truck.project.tasks if record.state == "done"]
    tasks = {id_: of_task(truck, id_) for id_ in ticked if standing_task_of(id_) and id_ not in SIGNED}
    sheets = {
        f"number {sheet.number} ({sheet.kind})": {
            spot: value_at(truck, spot) for spot in sheet_spots(truck, sheet.kind or "")
        }
        for sheet in truck.project.sheets
    }
    acceptances = {}
    for one in truck.project.acceptances:
        (spot,) = [
            spot
            for node, rule in truck.sheet.catalog.rules.items()
            for spot in truck.sheet.spots(node)
            if rule.name == one.flag and place_name(spot.place) == one.at
        ]
        acceptances[f"{one.flag}, {one.at}"] = spot, value_at(truck, spot)
    return Then(truck, tasks, sheets, acceptances)


def expected(then: Then, after: OpenProject) -> set[tuple[str, str]]:
    bought = frozenset(need.id for need in planned_parts(after) if need.ordered)
    found = {("task", id_) for id_, shown in then.tasks.items() if differs(shown, of_task(after, id_), bought)}
    found |= {("sheet", name) for name, stood in then.sheets.items() if sheet_moved(then.truck, after, stood)}
    for name, (spot, was) in then.acceptances.items():
        now = value_at(after, spot)
        if now[1] == "raised" and not same(was, now):
            found.add(("acceptance", name))
    return found


def told(after: OpenProject) -> tuple[set[tuple[str, str]], set[str]]:
    """What the program asks again, the signature apart; decisions rest on what a person names."""
    stale = {(one.record, one.name) for one in stale_records(after) if one.record != "decision"}
    return {one for one in stale if one[1] not in SIGNED}, {name for _, name in stale if name in SIGNED}


def settled_alike(then: Then, after: OpenProject) -> None:
    asked, signed = told(after)
    wanted = expected(then, after)
    assert asked == wanted, f"told for nothing: {asked - wanted}; not told: {wanted - asked}"
    choices = {name for _, name in wanted if name.startswith("decide.")}
    assert signed or not choices, f"the signature stands over {choices}"


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("plan.chosen", "modest"),
        ("parts.wheels.state", "returned"),
        ("parts.bearings.state", "returned"),
        ("parts.tires.price", "900"),
        ("vehicle.name", "Fourteen"),
        ("obstacles.shock.at", "5 in ± 1/4 in, -12 1/2 in ± 1/4 in, -2 in ± 1/4 in"),
        ('obstacles."tie rod end".at', "-6 3/4 in ± 1/16 in, -6 1/2 in ± 1/16 in, -2 1/4 in ± 1/16 in"),
        ("limits.least_door_gap.value", "6 in"),
        ("fitments.modest.wheel.backspace", "4 in"),
        ("fitments.tall.wheel.backspace", "4 1/2 in ± 1/32 in"),
        ("axles.front.brake.radius", ""),
        ("use.cruise_speed", "45 mph"),
    ],
)
def test_an_edit_asks_again_what_differs_and_nothing_else(truck, then, key, value):
    settled_alike(then, edited(truck, key, value))


@pytest.mark.parametrize("seed", range(30))
def test_any_entry_moved_asks_again_what_differs_and_nothing_else(truck, then, seed):
    drawn = random.Random(seed)
    entries = [(spot, key) for spot, key in truck.keys.items() if isinstance(truck.given(spot), Quantity)]
    for _ in range(10):
        spot, key = drawn.choice(entries)
        given, kind = truck.given(spot), truck.sheet.catalog.kind(spot.node)
        factor = drawn.choice((1, 0.999, 1.001, 0.99, 1.01, 0.95, 1.05, 0.8, 1.25))
        tolerance = given.tolerance * drawn.choice((0.5, 1.0, 1.0, 2.0))
        if kind is None or not given.tolerance:
            continue
        text = write(Quantity(given.value * factor, tolerance), kind)
        try:
            after = edited(truck, ".".join(map(str, key)), text)
        except (RefusedChange, Faulty):
            continue
        if not after.opened.faults and not after.at_odds:
            settled_alike(then, after)
            return
    pytest.skip("no entry was drawn that can be moved")
