"""Each entry of a whole truck broken in turn: what is still answered is answered as before, and never in its place."""

import copy
import tomllib
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest
import tomli_w

from planner.plan.answers.open_project import work_out
from planner.plan.answers.verdicts import verdicts
from planner.plan.truck.project import OpenProject
from planner.project.faults import as_key
from planner.project.reading import understand
from planner.project.source import parse

PROJECTS = Path(__file__).parents[2] / "projects"
TODAY = date(2026, 11, 25)
NO_ENTRY = [[date(2026, 1, 1)]]  # a list of lists of dates: nothing in the file is one
RECORDS = ("format", "decisions", "tasks", "parts", "sheets")  # of what was done, not of the truck
EVERY = 22  # and as many between these where all tests run; all of them were tried, which takes minutes


def opened(data: dict[str, Any]) -> OpenProject:
    return work_out(understand(parse(Path("truck.toml"), tomli_w.dumps(data).encode())), TODAY)


WINDOW = ("fit.no_backspace_fits", "fit.no_backspace_clears", "fit.backspace_outside_window")


def answers(project: OpenProject) -> dict[Any, tuple[str, Any]]:
    """Each rule's answer and margin at each place, an obstacle by its number: its name may be what is broken."""
    labels = {label: str(at) for at, label in enumerate(project.obstacles)}
    return {
        (one.rule.name, tuple(labels.get(member, member) for member in one.place)): (
            one.answer,
            one.margin and str(one.margin.value),
        )
        for one in verdicts(project)
    }


def entries(data: Any, key: tuple[str | int, ...] = ()) -> Iterator[tuple[str | int, ...]]:
    tables = isinstance(data, list) and data and isinstance(data[0], dict)
    inside = data.items() if isinstance(data, dict) else enumerate(data) if tables else ()
    for name, inner in inside:
        yield from entries(inner, (*key, name))
    if not inside:
        yield key


def broken(name: str) -> list[Any]:
    data = tomllib.loads((PROJECTS / name).read_text(encoding="utf-8"))
    keys = [key for key in entries(data) if key[0] not in RECORDS and key != ("plan", "chosen")]
    others = [pytest.param(name, key, marks=pytest.mark.slow) for key in keys[EVERY // 2 :: EVERY]]
    return [*((name, key) for key in keys[::EVERY]), *others]


@pytest.fixture(scope="module")
def sound() -> dict[str, tuple[dict[str, Any], dict[Any, Any]]]:
    found = {}
    for path in PROJECTS.glob("*.toml"):
        data = tomllib.loads(path.read_text(encoding="utf-8"))
        found[path.name] = data, answers(opened(data))
    return found


@pytest.mark.parametrize(
    ("name", "key"),
    [*broken("county-road-4x4.toml"), *broken("forestry-4x4.toml")],
    ids=lambda given: given if isinstance(given, str) else as_key(given),
)
def test_what_is_answered_without_an_entry_is_what_was_answered_with_it(sound, name, key):
    data, before = sound[name]
    data = copy.deepcopy(data)
    holder: Any = data
    for step in key[:-1]:
        holder = holder[step]
    holder[key[-1]] = NO_ENTRY
    project = opened(data)
    after = answers(project)
    assert any(fault.key[: len(key)] == key or key[: len(fault.key)] == fault.key for fault in project.opened.faults)
    others = {at: told for at, told in after.items() if told[0] != "not known" and told != before.get(at)}
    agree = {rule.name for rule in project.sheet.catalog.rules.values() if rule.close_agrees}
    # Nothing is passed over in silence, but that two readings agree where there is one left.
    silent = {at for at in before.keys() - after.keys() if at[0] not in agree}
    if key[0] == "acceptances":  # with a fault it accepts nothing: what it gave up bounds the backspace again
        others = {at: told for at, told in others.items() if at[0] not in WINDOW}
        silent = {at for at in silent if at[0] not in WINDOW}
    if key[0] == "obstacles" and key[-1] == "kind":  # what may be a brake line is asked about as one
        silent = {at for at in silent if after.get(("fit.tire_too_near", at[1]), ("",))[0] != "not known"}
    assert others == {}
    assert not silent
