"""Entries that say different things of one thing: which they are by the rules, and what is not known while they do."""

from collections.abc import Mapping
from typing import NamedTuple

from planner.plan.answers.impossible import Keys, entries_behind
from planner.plan.truck.project import entry_name
from planner.worksheet.declare import Rule
from planner.worksheet.outcome import Barred, Spot
from planner.worksheet.sheet import Worksheet
from planner.worksheet.verdict import judge


class Contradictions(NamedTuple):
    """What is not known, for the worksheet, and by key of the file the other keys that each entry stands against."""

    barred: Mapping[Spot, Barred]
    against: Mapping[str, tuple[str, ...]]


def contradictions(sheet: Worksheet, keys: Keys) -> Contradictions:
    """What the rules between entries find on a worksheet with all of them as they were read."""
    barred, against = dict[Spot, Barred](), dict[str, dict[str, None]]()
    for rule in sheet.catalog.rules.values():
        for spot in sheet.spots(rule.node) if rule.bars else ():
            if judge(rule, spot.place, sheet.outcome(spot)).answer != "raised":
                continue
            said = [entry_name(keys[one]) for one in entries_of(sheet, spot, keys)]
            for key in said:
                against.setdefault(key, {}).update(dict.fromkeys(one for one in said if one != key))
            barred.update(_barred(sheet, rule, spot, keys))
    return Contradictions(barred, {key: tuple(others) for key, others in against.items()})


def entries_of(sheet: Worksheet, spot: Spot, keys: Keys) -> list[Spot]:
    """The entries that a rule holds against each other; what it lets pass is none of them."""
    compared = (one for one in sheet.inputs(spot) if one.node not in sheet.catalog.assumed)
    return list(dict.fromkeys(entry for one in compared for entry in entries_behind(sheet, one, keys)))


def two_readings(sheet: Worksheet, spot: Spot, keys: Keys) -> bool:
    """Whether the first two values that a rule compares are two readings: neither is worked out from the other's."""
    one, other = (set(entries_behind(sheet, read, keys)) for read in sheet.inputs(spot)[:2])
    return not (one <= other or other <= one)


def _barred(sheet: Worksheet, rule: Rule, spot: Spot, keys: Keys) -> dict[Spot, Barred]:
    """What a raised rule bars: of the truck found each entry wherever it serves, of a candidate what stands at it.

    An entry as it was found stays known to the others, where only a change that one candidate has contradicts it: then
    what is not known of that candidate is the change.
    """
    barred, candidate = dict[Spot, Barred](), spot.place[0] not in ("", "found")
    for name in rule.bars:
        edge, layout = sheet.catalog.edge(name), sheet.layout
        here = Spot(edge.node, layout.place(spot.place, layout.scopes[edge.node], edge.pin))
        entry = sheet.entered(here)
        behind = [entry] if entry is not None else entries_behind(sheet, here, keys)
        at = entry if entry is not None and not candidate else here
        if behind and (not candidate or at.place[0] == spot.place[0]):
            barred[at] = Barred(behind[0])
    own = [one for one in entries_of(sheet, spot, keys) if candidate and one.place[0] == spot.place[0]]
    return barred or {one: Barred(one) for one in own}
