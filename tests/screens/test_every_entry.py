"""Whatever the file can hold can be entered on the screens: each entry has a row, and each table in it a beginning."""

import re
import tomllib
from typing import get_origin

import pytest
from screens_visit import copied, sit, visit

from planner.plan.truck.keys import FoundKey, Wants, below
from planner.project.faults import as_key
from planner.project.models.changes import TruckChange
from planner.project.models.entry import Table, entries
from planner.project.models.project import Project

# What the program writes by itself, and by what a person does; nobody is asked for these.
WRITTEN_BY_US = re.compile(
    r"format$|sheets\b|asking\b|.*\brests$|.*\brested_on\b|parts\[0\]\.as_ordered|limits\.\w+\.because|"
    r"assumptions\.\w+\.because"  # in the box for the reason beside the value
)
# A member of each table that has as many as a person wants, so that its entries are there to be looked for.
ONE_OF_EACH = """

[which_counts]
"vehicle.wheelbase" = "middle"

[[offered]]
name = "37 in all-terrain"

[[plan.stages]]
name = "rear first"

[[outline.known]]
pixel = [1, 2]

[[wheels]]
mark = "W9"

[[readings]]
of = "spring pack, front half"
value = "1 in"
fitment = "tall"

[[tasks]]
id = "own.paint_wheels"
title = "paint the wheels"

[[tasks.earlier]]
note = "a first coat"

[[parts]]
id = "jack"
title = "a jack"

[[parts.quotes]]
from = "a shop"

[[parts.payments]]
amount = "80"

[[changes]]
name = "a lift"
kind = "lift"
state = "done"
sets = { "axles.front.lift" = "2 in" }

[changes.measured."axles.front.travel.bump"]
value = "3 in"
"""


READ_TWICE = """

[[readings]]
of = "vehicle.wheelbase"
value = "112 in"

[[readings]]
of = "vehicle.wheelbase"
value = "112 1/4 in"
"""


def full(path):
    """The first example with one of each table."""
    text = re.sub(r"^wheelbase = .*$", "", path.read_text(), flags=re.MULTILINE)  # its readings give it
    path.write_text(text.rstrip() + ONE_OF_EACH + READ_TWICE)
    return path


def pattern(key):
    """A key without its numbers and names: what is told of the first of a list is told of all."""
    return re.sub(r'\[\d+\]|"[^"]*"', "[]", re.sub(r"^fitments\.[\w\"]+", "fitments.*", key))


def every_key(opened):
    """A key for each entry that a file may have, in the tables of this one."""
    found = {}
    roots = [name for name, info in entries(Project).items()]
    for root in roots:
        for one in below(opened, root):
            found.setdefault(pattern(as_key(one.key)), as_key(one.key))
    mock_up = next(at for at, one in enumerate(opened.data["readings"]) if "fitment" in one)  # it has all there is
    keys = (key.replace("readings[0]", f"readings[{mock_up}]") for key in found.values())
    return {key for key in keys if not WRITTEN_BY_US.match(key)}


def test_every_entry_of_the_file_has_a_row_in_the_first_place_that_says_it_has_it(tmp_path):
    path = full(copied(tmp_path))

    async def story():
        async with visit(path, (120, 40)) as here:
            opened = here.app.state.opened.opened
            assert not opened.faults, opened.faults
            keys, missing = every_key(opened), []
            assert len(keys) > 450
            for place in here.app.places:
                await here.go(place)
            places = [here.app.place(name) for name in here.app.places]
            for key in sorted(keys):
                shown = next((one for one in places if one.has(key)), None)
                if shown is None or not shown.show_entry(key) or shown.row_list.current.key != key:
                    missing.append(key)
            assert not missing, "\n".join(missing)

    sit(story())


# How a member of each table is begun, from the list of a place: the keys, what is typed between them in quotes.
BEGUN = {
    "fitments": ("wheel", ["ctrl+n", "'wider", "enter", "'35x12.50R17", "enter"]),
    "drivetrain.gearbox": ("axles", ["ctrl+n", "enter", "'6th", "enter", "'0.8", "enter"]),
    "drivetrain.transfer": ("axles", ["ctrl+n", "down", "enter", "'crawler", "enter", "'4.1", "enter"]),
    "obstacles": ("measurements", ["ctrl+n", "enter", "'brake hose", "enter"]),
    "readings": ("measurements", ["ctrl+n", "down", "enter", "'vehicle.wheelbase", "enter"]),
    "changes": ("changes", ["ctrl+n", "enter", "down", "enter", "'2 in lift", "enter"]),
    "plan.stages": ("changes", ["ctrl+n", "down", "enter", "'rear first", "enter"]),
    "offered": ("wishes", ["ctrl+n", "'37 in all-terrain", "enter"]),
    "parts": ("parts", ["ctrl+n", "enter", "'five wheels", "enter"]),
    "wheels": ("parts", ["ctrl+n", "down", "down", "enter", "'W3", "enter"]),
    "which_counts": ("others", ["ctrl+n", "enter", "'vehicle.wheelbase", "enter", "'middle", "enter"]),
    "outline.known": ("others", ["ctrl+n", "down", "enter", "'410, 912", "enter"]),
    "tasks": ("others", ["ctrl+n", "down", "down", "enter", "enter"]),
}
# The same for what is begun within another, or by an act of its own, which other tests of that place go through.
ELSEWHERE = {
    "parts.quotes": "test_parts_place.py",
    "parts.payments": "test_parts_place.py",
    "decisions": "test_parts_place.py",
    "acceptances": "test_parts_place.py",
    "changes.sets": "test_changes_place.py",
    "changes.measured": "test_changes_place.py",
    "tasks.earlier": "test_stages_and_inspections.py",
    "sheets": "test_sheets_place.py",
    "asking.guesses": "test_ask_place.py",
    "limits": "test_editing.py: all that there can be are listed",
    "assumptions": "the same",
}


def tables_that_grow(model=Project, at=""):
    """Each table of the models that has as many members as a person wants."""
    for name, info in entries(model).items():
        key = f"{at}.{name}" if at else name
        wants = FoundKey((), Wants(info.annotation), None).wants
        inner = wants.inner if get_origin(wants.type) in (dict, list) else None
        if name in ("rested_on", "as_ordered"):
            continue
        if get_origin(wants.type) is dict or (inner is not None and inner.model is not None):
            yield key
        model_of = wants.model or (inner.model if inner is not None else None)
        if model_of is not None and issubclass(model_of, Table):
            yield from tables_that_grow(model_of, key)


def test_each_table_that_grows_has_a_beginning_on_the_screens():
    growing = set(tables_that_grow())
    assert {"changes.sets", "parts.quotes", "outline.known"} <= growing and "sets" in entries(TruckChange)
    assert growing == {*BEGUN, *ELSEWHERE}


@pytest.mark.parametrize("table", BEGUN)
def test_a_member_of_a_table_is_begun_by_keyboard(tmp_path, table):
    path = copied(tmp_path, "just-begun")
    if table == "which_counts":  # where nothing was read more than once there is nothing to choose
        path.write_text(path.read_text().rstrip() + READ_TWICE)

    def members():
        data = tomllib.loads(path.read_text())
        for name in table.split("."):
            data = data.get(name, {})
        return len(data)

    before = members()
    place, keys = BEGUN[table]

    async def story():
        async with visit(path) as here:
            await here.go(place)
            for key in keys:
                if key.startswith("'"):
                    await here.type(key[1:])
                else:
                    await here.press(key)

    sit(story())
    assert members() == before + 1
