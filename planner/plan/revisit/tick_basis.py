"""What a tick rests on: the entries and figures that a task asks for, judges by, tightens to, or signs for."""

from collections.abc import Iterator, Mapping

from planner.plan.answers.basis import basis
from planner.plan.truck.project import OpenProject
from planner.plan.work.item import Item
from planner.plan.work.task_values import spots_of
from planner.project.staged_truck import stage_texts
from planner.worksheet.outcome import Spot

AS_FOUND = ("make safe", "measure")  # phases whose tasks are of the truck as it stands


def tick_basis(opened: OpenProject, items: Mapping[str, Item], one: Item) -> dict[str, str]:
    """What a tick rests on now, as a record keeps it; what was entered stands there once, under its key."""
    named = {} if one.stage is None else stage_texts(opened.project)
    kept = {key: text for key, text in named.items() if one.stage and key.startswith(one.stage.stage.key)}
    for spot in tick_basis_spots(opened, items, one):
        source = opened.sheet.entered(spot)
        key = "" if source is None or source not in opened.keys else opened.key_of(source)
        kept |= {key: opened.text_of(key)} if key else basis(opened, [spot])
    return kept


def tick_basis_spots(opened: OpenProject, items: Mapping[str, Item], one: Item) -> list[Spot]:
    """The values that a tick rests on: what the task asks for, its range, its torque; of a flag's task the rule.

    A signature rests on what was recorded since the one before it, and on what was settled in its own phase; an order
    on what was signed before it.
    """
    if one.flag is not None:
        return [Spot(one.flag.rule.node, place) for place in one.flag.places]
    if one.change is not None:
        return [spot for spot, key in opened.keys.items() if key[:2] == ("changes", one.change)]
    if one.task is None and one.stage is None:
        return []
    found = dict.fromkeys(_own_spots(opened, one, asks=True))
    if one.hold or (one.task is not None and one.task.orders):
        found.update(dict.fromkeys(_settled_before(opened, items, one)))
    return list(found)


def _own_spots(opened: OpenProject, one: Item, asks: bool) -> Iterator[Spot]:
    task = one.task
    if task is None:
        return
    for name in task.asks if asks else ():
        spots = spots_of(opened, name, one.axle, found=task.phase in AS_FOUND)
        yield from (spot for spot in spots if opened.sheet.entered(spot))
    for name in (*(task.records.nodes if task.records else ()), *([task.torque] if task.torque else [])):
        yield from spots_of(opened, name, one.axle)


def _settled_before(opened: OpenProject, items: Mapping[str, Item], one: Item) -> Iterator[Spot]:
    """Back through what it waits on, as far as the last signature; what that signed too, where nothing lies between."""
    seen: set[str] = set()
    ahead = [(id_, one.phase) for id_ in reversed(one.after)]
    while ahead:
        id_, phase = ahead.pop()
        earlier = items[id_]
        if id_ in seen:
            continue
        seen.add(id_)
        if earlier.hold:
            if one.task and one.phase == "order":  # an order is made of what was signed
                ahead.extend((before, earlier.phase) for before in reversed(earlier.after))
            continue
        if one.phase == "order" and earlier.phase not in ("order", "decide"):
            continue
        yield from _own_spots(opened, earlier, asks=earlier.phase == phase)
        ahead.extend((before, phase) for before in reversed(earlier.after))
