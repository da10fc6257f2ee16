"""Changes to the truck are read by the candidates that they go with; what was found stays as it was found, to the bit.

What a candidate finds is held against a file whose entries a hand has overwritten with the changed values, and what was
found against a file without the changes: both are the same project as it would be read without any of this.
"""

import tomllib
from collections.abc import Iterator, Mapping
from copy import deepcopy
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

import pytest
import tomli_w
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.plan.answers.flagging import Flag, flags
from planner.plan.answers.open_project import as_if_chosen, work_out
from planner.plan.truck.catalog import catalog
from planner.plan.truck.project import OpenProject
from planner.project.facts import entered
from planner.project.faults import as_key
from planner.project.lines import Key
from planner.project.reading import understand
from planner.project.source import parse
from planner.project.truck_keys import TRUCK
from planner.quantities.quantity import Quantity
from planner.quantities.show import write
from planner.worksheet.outcome import Failed, Known, Spot, Waiting

PROJECTS = Path(__file__).parents[2] / "projects"
DAY = date(2026, 11, 25)
EXAMPLES = ("county-road-4x4", "forestry-4x4", "quarry-flatbed", "just-begun")
WINDOW = ("window", "hard_window")


@cache
def example(name: str) -> dict[str, Any]:
    """An example without the changes that it comes with, and with a third of its obstacles: each takes its time."""
    data = tomllib.loads((PROJECTS / f"{name}.toml").read_text("utf-8"))
    fewer = {"obstacles": data["obstacles"][::3]} if "obstacles" in data else {}
    return {key: value for key, value in data.items() if key not in ("changes", "sheets")} | fewer


def worked_out(data: Mapping[str, Any], **tried: tuple[int, ...]) -> OpenProject:
    return work_out(understand(parse(PROJECTS / "truck.toml", tomli_w.dumps(data).encode())), DAY, tried)


@cache
def unchanged(name: str) -> OpenProject:
    return worked_out(example(name))


@cache
def said_unchanged(name: str, fitment: str) -> list[Any]:
    return said(worked_out(example(name)), fitment)  # one of its own, since asking has a fitment swept in it


@cache
def truck_entries(name: str) -> list[tuple[Key, Any, Any]]:
    """Every entry of the truck that formulas read: key, kind, value."""
    read = entered(unchanged(name).project)
    return [(key, catalog().kind(fact), value) for fact, _, key, value in read if key[0] in TRUCK]


@st.composite
def changed_entries(draw: st.DrawFn, name: str) -> dict[Key, Any]:
    """A few entries of the truck with other values, as a person would write them."""
    facts, obstacles = truck_entries(name), example(name).get("obstacles", [])
    chosen: dict[Key, Any] = {}
    for key, kind, value in draw(st.lists(st.sampled_from(facts), max_size=4, unique_by=lambda one: one[0])):
        by = draw(st.sampled_from((0.97, 0.99, 1.0, 1.01, 1.03)))
        if isinstance(value, Quantity):
            text = write(Quantity(value.value * by, value.tolerance * draw(st.sampled_from((0.5, 1, 2)))), kind)
            # Else what is found has its usual tolerance, and what is planned none.
            chosen[key] = text if value.tolerance else f"{text} exact"
        elif isinstance(value, bool):
            chosen[key] = "no" if value else "yes"
        elif isinstance(value, int):
            chosen[key] = max(1, value + draw(st.sampled_from((-1, 1))))
    for at in draw(st.lists(st.sampled_from(range(len(obstacles))), max_size=2, unique=True)) if obstacles else ():
        end = list(obstacles[at]["at"]) if "at" in obstacles[at] else None
        if end and draw(st.booleans()):
            end[1] = draw(st.sampled_from(("-16 in ± 1/8 in", "-420 mm ± 2 mm", "-17 1/2 in exact")))
            chosen["obstacles", at, "at"] = end
        else:
            chosen["obstacles", at, "wants"] = draw(st.sampled_from(("1/4 in", "30 mm ± 2 mm")))
    return chosen


def overwritten(data: Mapping[str, Any], values: Mapping[Key, Any]) -> dict[str, Any]:
    """The file as a person would have it who writes over what was found."""
    made = deepcopy(dict(data))
    for key, value in values.items():
        here: Any = made
        for part in key[:-1]:
            here = here[part]
        here[key[-1]] = value
    return made


def with_change(data: Mapping[str, Any], values: Mapping[Key, Any], **change: Any) -> dict[str, Any]:
    sets = {as_key(key): value for key, value in values.items()}
    return {**data, "changes": [{"name": "stops", "state": "decided", "sets": sets, **change}]}


def told(opened: OpenProject, spot: Spot) -> Any:
    """All of an outcome but where its entries stand, in which the two files differ on purpose."""
    outcome = opened.sheet.outcome(spot)
    if isinstance(outcome, Known):
        shares = [(share.spot.node, share.half, share.part) for share in outcome.shares]
        return outcome.value, outcome.low, outcome.high, outcome.likely, outcome.instead, shares
    if isinstance(outcome, Waiting):
        return {spot.node for spot in (*outcome.needs, *outcome.either)}
    assert isinstance(outcome, Failed)
    return outcome.key


def same_spot(opened: OpenProject, spot: Spot) -> Spot:
    """A spot on another worksheet, on which its node may be the same for all fitments."""
    return Spot(spot.node, opened.sheet.layout.place(spot.place, opened.sheet.layout.scopes[spot.node]))


def of_nodes(opened: OpenProject, fitment: str) -> Iterator[Spot]:
    sheet = opened.sheet
    for node in (*sheet.catalog.facts, *sheet.catalog.figures, *sheet.catalog.parts, *sheet.catalog.rules):
        yield from (spot for spot in sheet.spots(node) if spot.place[0] in ("", fitment))


def said(opened: OpenProject, fitment: str) -> list[Any]:
    """The flags of one fitment as they are shown, without its name."""
    alone = as_if_chosen(opened, fitment)
    return sorted(map(_words, flags(alone, worded=True)), key=repr)


def _words(flag: Flag) -> Any:
    at = sorted({place[1:] for place in flag.places})
    return flag.rule.name, flag.verdict.answer, at, flag.says, flag.by, flag.cure, flag.verdict.trouble


@pytest.mark.parametrize("name", EXAMPLES)
@settings(max_examples=settings().max_examples // 15)
@given(data=st.data())
def test_what_was_found_is_the_same_to_the_bit_as_without_any_change(name, data):
    values = data.draw(changed_entries(name))
    change = {"state": data.draw(st.sampled_from(("considered", "decided", "done", "given up")))}
    before, after = unchanged(name), worked_out(with_change(example(name), values, **change))
    for spot in of_nodes(after, "found"):
        assert told(after, spot) == told(before, same_spot(before, spot)), spot
    assert said(after, "found") == said_unchanged(name, "found")


@pytest.mark.parametrize("name", EXAMPLES)
@settings(max_examples=settings().max_examples // 15)
@given(data=st.data())
def test_a_candidate_finds_what_it_would_find_had_the_entries_been_overwritten(name, data):
    values = data.draw(changed_entries(name))
    candidates = [one for one in example(name).get("fitments", {}) if one != "found"]
    if not candidates:
        return
    fitment, goes = data.draw(st.sampled_from(candidates)), data.draw(st.booleans())
    over = as_if_chosen(worked_out(overwritten(example(name), values)), fitment)
    if over.opened.faults:
        return  # an obstacle inside the tire that was found: only written over is that a fault
    if over.at_odds:
        return  # what a change contradicts stays as it was found, and only written over it is not known either
    change = {"with": [fitment]} if goes else {}
    after = as_if_chosen(worked_out(with_change(example(name), values, **change)), fitment)
    apart = held_to_what_was_found(after)
    for spot in of_nodes(after, fitment):
        if spot.place[0] == fitment and after.sheet.layout.index[spot] not in apart:
            assert told(after, spot) == told(over, same_spot(over, spot)), spot
    for other in candidates if goes else ():
        if other != fitment:
            assert said(after, other) == said_unchanged(name, other)


def held_to_what_was_found(after: OpenProject) -> set[int]:
    """What reads of the truck as found something that a change sets: there the two files must differ.

    Where a change sets the very value that was found, they still are two readings, each with a tolerance of its own.
    """
    layout = after.sheet.layout
    changed = {spot.node for spot, key in after.keys.items() if key[0] == "changes"}
    found = [layout.index[spot] for node in changed for spot in after.sheet.spots(node) if spot.place[0] == "found"]
    apart = layout.reach(found)
    # The window is held to what was found by the rules that bound the backspace.
    if any(rule.bounds and layout.index[spot] in apart for rule in after.sheet.catalog.rules.values()
           for spot in after.sheet.spots(rule.node)):  # fmt: skip
        windows = [node for node in after.sheet.catalog.facts if node.startswith(WINDOW)]
        apart |= layout.reach(layout.index[spot] for node in windows for spot in after.sheet.spots(node))
    return apart
