"""What a tick rests on: the entries and figures that a task asks for, judges by, tightens to, or signs for."""

from collections.abc import Iterator, Mapping

from planner.plan.answers.basis import basis, shown_basis
from planner.plan.truck.project import OpenProject
from planner.plan.work.item import Item
from planner.plan.work.order_basis import order_basis, parts_basis
from planner.plan.work.parts import matching_parts, planned_parts
from planner.plan.work.task_values import spots_of, spots_shown
from planner.project.staged_truck import stage_texts
from planner.worksheet.outcome import Spot

AS_FOUND = ("make safe", "measure")  # phases whose tasks are of the truck as it stands

CHOOSING = "decide"  # the phase whose tasks rest on the answers that they were chosen by

ORDERING = "order"  # what is signed there confirms the wheels' drawing


def tick_basis(opened: OpenProject, items: Mapping[str, Item], one: Item) -> dict[str, str]:
    """What a tick rests on now, as a record keeps it: what it shows, and what of its parts is here.

    A signature rests on what was recorded since the one before it, and on what was settled in its own phase; what
    confirms an order on what the wheels are ordered by; an order on what its own parts are ordered by.
    """
    if one.flag is not None:
        return basis(opened, [Spot(one.flag.rule.node, place) for place in one.flag.places])
    if one.change is not None:
        own = [spot for spot, key in opened.keys.items() if key[:2] == ("changes", one.change)]
        return shown_basis(opened, [spot for spot in own if spot not in opened.along])
    if one.hold and one.phase == ORDERING:
        return order_basis(opened, ("wheels",), ())
    if one.task is not None and one.task.orders:
        needs = matching_parts(planned_parts(opened), one.task.orders)
        return order_basis(opened, one.task.orders, [need for need in needs if need.ordered])
    spots = dict.fromkeys(_own_spots(opened, one, asks=True))
    if one.hold:
        spots.update(dict.fromkeys(_settled_before(opened, items, one)))
    facts = opened.sheet.catalog.facts
    known = (spot for spot in spots if spot.node not in facts or opened.sheet.entered(spot))
    texts = {} if one.stage is None else stage_texts(opened.project)
    named = {key: text for key, text in texts.items() if one.stage and key.startswith(one.stage.stage.key)}
    return named | shown_basis(opened, known) | parts_basis(need for need in one.parts if need.there)


def _own_spots(opened: OpenProject, one: Item, asks: bool) -> Iterator[Spot]:
    task = one.task
    if task is None:
        return
    for name in task.asks if asks else ():
        spots = spots_of(opened, name, one.axle, found=task.phase in AS_FOUND)
        yield from (spot for spot in spots if opened.sheet.entered(spot))
    yield from spots_shown(opened, one)
    for node, rule in opened.sheet.catalog.rules.items() if task.phase == CHOOSING else ():
        if rule.name in task.for_rules:
            for spot in opened.sheet.spots(node):
                fitment, axle = spot.place[:2]
                if fitment in ("", *opened.planned) and axle in ("", one.axle or axle):
                    yield spot


def _settled_before(opened: OpenProject, items: Mapping[str, Item], one: Item) -> Iterator[Spot]:
    """Back through what it waits on, as far as the last signature."""
    seen: set[str] = set()
    ahead = [(id_, one.phase) for id_ in reversed(one.after)]
    while ahead:
        id_, phase = ahead.pop()
        earlier = items[id_]
        if id_ in seen:
            continue
        seen.add(id_)
        if earlier.hold:
            continue
        yield from _own_spots(opened, earlier, asks=earlier.phase == phase)
        ahead.extend((before, phase) for before in reversed(earlier.after))
