"""What an order rests on: the values that its parts are ordered by, the stops that would make them wrong, the parts."""

from collections.abc import Iterable, Iterator, Mapping, Sequence

from planner.plan.answers.basis import CHOSEN, planned_basis_changes, shown_basis, shown_names
from planner.plan.answers.basis_words import BasisChange
from planner.plan.answers.verdicts import verdict_at
from planner.plan.truck.catalog import entry_key
from planner.plan.truck.project import OpenProject
from planner.plan.truck.wording import place_name
from planner.plan.work.hold_points import MADE_WRONG
from planner.plan.work.parts import BOUGHT, NeededPart, matching_parts, part_name, planned_parts
from planner.plan.work.task_values import spots_of
from planner.quantities.text import clean
from planner.tasks.ordering import ORDERED_BY
from planner.worksheet.outcome import Spot

AGAINST = "stops against "  # and what would be ordered wrong by them
OF_PART = "parts."  # a part by its id, with how it stands

NONE = "none"

FEW = 2  # stops named in one line

NOT_PLANNED = "for what is not planned"


def order_basis(opened: OpenProject, names: Sequence[str], needs: Iterable[NeededPart]) -> dict[str, str]:
    """What an order of what goes by these names rests on; of parts that were bought, by what they go by."""
    needs = list(needs)
    names = [name for name in names if not needs or matching_parts(needs, (name,))]
    kept = shown_basis(opened, order_spots(opened, names))
    kept |= {AGAINST + name: _stops(opened, name) for name in names if name in MADE_WRONG}
    return kept | parts_basis(needs)


def parts_basis(needs: Iterable[NeededPart]) -> dict[str, str]:
    """The parts that are here, or on their way, with how they stand."""
    return {OF_PART + need.id: need.part.state for need in needs if need.ordered}


def ordered_as(need: NeededPart) -> tuple[str, ...]:
    """What a part goes by of all that is known to be ordered; empty for what only its person knows."""
    return tuple(name for name in ORDERED_BY if matching_parts([need], (name,)))


def order_spots(opened: OpenProject, names: Iterable[str]) -> list[Spot]:
    """What is entered, or worked out, of all that things by these names are ordered by."""
    nodes = dict.fromkeys(node for name in names for node in ORDERED_BY.get(name, ()))
    found = (spot for node in nodes for spot in spots_of(opened, node))
    return [
        spot
        for spot in dict.fromkeys(found)
        if opened.sheet.entered(spot) or spot.node not in opened.sheet.catalog.facts
    ]


def rests_by(opened: OpenProject, names: Iterable[str]) -> frozenset[str]:
    """The names of all that an order of what goes by these names can rest on, whichever candidate is planned."""
    names = list(names)
    spots = [spot for name in opened.candidates for spot in order_spots(opened._replace(alone=name), names)]
    nodes = dict.fromkeys(node for name in names for node in ORDERED_BY.get(name, ()))
    missing = [
        entry_key(opened.spot(node, fitment=fitment, axle=axle))
        for node in nodes
        for fitment in opened.candidates
        for axle in ("front", "rear")
        if node.removeprefix("planned_") in opened.sheet.catalog.facts
    ]
    return frozenset({*shown_names(opened, spots), *missing, *(AGAINST + name for name in names)})


def work_changes(opened: OpenProject, rested_on: Mapping[str, str]) -> tuple[BasisChange, ...]:
    """What has moved under a tick or a sheet: values, parts that are gone, stops that came up."""
    values = {name: then for name, then in rested_on.items() if not name.startswith((AGAINST, OF_PART))}
    moved = planned_basis_changes(opened, values)
    if moved[:1] and moved[0].key == CHOSEN:
        return moved  # what would be wrong with the other is no news of this order
    return (*moved, *_others(opened, rested_on))


def _others(opened: OpenProject, rested_on: Mapping[str, str]) -> Iterator[BasisChange]:
    states = {part_name(part, at): NOT_PLANNED for at, part in enumerate(opened.project.parts)}
    states |= {need.id: need.part.state for need in planned_parts(opened)}
    for name, then in rested_on.items():
        if name.startswith(OF_PART):
            state = states.get(name.removeprefix(OF_PART), "not in the list")
            if state not in BOUGHT:
                yield BasisChange(clean(name), clean(then), state)
        elif name.startswith(AGAINST):
            now = _stops(opened, name.removeprefix(AGAINST))
            up = [stop for stop in now.split("; ") if stop not in {NONE, *then.split("; ")}]
            if up:
                more = [f"and {len(up) - FEW} more"] * (len(up) > FEW)
                yield BasisChange(clean(name), clean(then), "; ".join([*up[:FEW], *more]))


def _stops(opened: OpenProject, name: str) -> str:
    """The open stops by which something would be ordered wrong, in words."""
    said: dict[str, None] = {}
    for rule in opened.sheet.catalog.rules.values():
        if rule.severity != "stop" or not rule.name.startswith(MADE_WRONG.get(name, ("",))):
            continue
        for spot in opened.seen_from(rule.node).sheet.spots(rule.node):
            verdict = verdict_at(opened, spot)
            if verdict is not None and verdict.answer in ("raised", "too close to call"):
                where = place_name(spot.place, alone=len(opened.planned) == 1)
                close = "" if verdict.answer == "raised" else f" ({verdict.answer})"
                said[f"{where}: {rule.notices}{close}" if where else f"{rule.notices}{close}"] = None
    return "; ".join(said) or NONE
