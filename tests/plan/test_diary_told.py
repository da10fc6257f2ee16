"""The diary as somebody reads it who never saw the file: names and values, old and new, and no keys."""

from datetime import date
from pathlib import Path

import pytest

from planner.plan.answers.open_project import open_project
from planner.plan.change.diary_told import told_entries
from planner.project.amending import amend
from planner.project.changes import DELETE
from planner.project.diary import catch_up, commit
from planner.project.diary_entries import KeyChange
from planner.project.diary_reading import diary_path, read_diary
from planner.project.source import load

TRUCK = """\
format = 2
[axles.rear.brake]
radius = "7 3/16 in ± 1/16 in"
[fitments.tall.wheel]
backspace = "5 in"
[[tasks]]
id = "own.paint"
title = "paint the hubs"
[[tasks]]
id = "measure.weigh.front"
[[parts]]
title = "wheel bearings"
state = "wanted"
[[changes]]
name = "longer stop screws"
kind = "steering stops"
[changes.sets]
"axles.front.steering.stop_angle" = "27 deg"
"axles.front.steering.stop_angle_out" = "23 deg"
"""


@pytest.fixture
def path(tmp_path: Path) -> Path:
    path = tmp_path / "truck.toml"
    path.write_text(TRUCK, encoding="utf-8")
    return path


def change(path: Path, changes, kind: str = "change", because: str = "") -> None:
    source = load(path)
    commit(source, amend(source.text, changes), kind=kind, because=because)


def told(path: Path, most: int = 60):
    return told_entries(open_project(path, date(2026, 11, 25)), read_diary(path), most)


def last(path: Path) -> str:
    return "; ".join(told(path)[-1].told)


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        (
            {("axles", "rear", "brake", "radius"): "7 1/8 in ± 1/16 in"},
            "rear brake radius: 7 3/16 in ± 1/16 in → 7 1/8 in ± 1/16 in",
        ),
        ({("fitments", "tall", "wheel", "backspace"): "4 3/4 in"}, "tall set's wheel backspace: 5 in → 4 3/4 in"),
        ({("axles", "front", "load"): "3,000 lb"}, "front axle load: nothing → 3,000 lb"),
        ({("fitments", "tall", "wheel", "backspace"): DELETE}, "tall set's wheel backspace: 5 in → nothing"),
        (
            {("parts", 0, "state"): "ordered", ("parts", 0, "ordered"): date(2026, 11, 2)},
            "wheel bearings: wanted → ordered; ordered 2026-11-02",
        ),
        (
            {("tasks", 1, "state"): "done", ("tasks", 1, "recorded"): "3,080 lb", ("tasks", 1, "rests"): "2 aaaaaa"},
            "Weigh the truck axle by axle, with everything aboard it will carry (front): done; 3,080 lb",
        ),
        (
            {("changes", 0, "sets", "axles.front.steering.stop_angle"): "26 deg"},
            "longer stop screws: front stop angle 27 deg → 26 deg",
        ),
        (
            {("readings", 0): {"of": "axles.rear.brake.radius", "value": "7 1/8 in", "by": "neighbor"}},
            "reading of the rear brake radius: 7 1/8 in, by neighbor",
        ),
        (
            {("changes", 1): {"name": "lower", "sets": {"axles.rear.brake.radius": "7 in"}}},
            "lower: rear brake radius 7 in",
        ),
        ({("parts", 0): DELETE}, "wheel bearings: taken out"),
    ],
)
def test_each_thing_goes_by_its_name_with_its_value_before_and_after(path, changes, says):
    change(path, changes)
    assert last(path) == says


def test_a_row_goes_by_the_name_that_it_had_though_its_place_is_another_row_s_now(path):
    change(path, {("tasks", 0, "note"): "two coats"})
    change(path, {("tasks", 0): DELETE})  # the weighing moves up to its place
    change(path, {("tasks", 0, "note"): "with a full tank"})
    one, two, three = (entry.told for entry in told(path)[-3:])
    assert one == ("paint the hubs: note two coats",)
    assert two == ("paint the hubs: taken out",)
    assert three[0].endswith("carry (front): note with a full tank")


def test_a_list_that_began_with_an_entry_is_told_row_by_row(path):
    path.write_text(TRUCK.partition("[[changes]]")[0], encoding="utf-8")
    change(path, {("plan", "currency"): "USD"})
    text = path.read_text(encoding="utf-8") + '[[decisions]]\nquestion = "which width?"\nchosen = "9 in"\n'
    path.write_text(text, encoding="utf-8")
    catch_up(load(path))
    assert last(path) == "which width?: 9 in"


def test_a_reason_that_stands_beside_is_not_told_twice(path):
    change(path, {("tasks", 0, "because"): "no paint left"}, because="no paint left")
    entry = told(path)[-1]
    assert "no paint left" not in "; ".join(entry.told) and entry.because == "no paint left"


def test_an_undo_names_the_entry_that_it_speaks_of(path):
    from planner.project.diary import undo

    change(path, {("fitments", "tall", "wheel", "backspace"): "4 3/4 in"})
    undo(load(path))
    entry = told(path)[-1]
    assert entry.what == "undo of entry 2" and entry.told == ("tall set's wheel backspace: 4 3/4 in → 5 in",)


def test_only_the_last_are_told_and_many_things_of_one_entry_are_counted(path):
    change(path, {("use", f"note_{n}"): str(n) for n in range(12)})
    change(path, {("plan", "currency"): "USD"})
    assert [entry.number for entry in told(path, 2)] == [2, 3]
    assert told(path, 2)[0].told[-1] == "and 4 more"


def test_a_diary_whose_text_cannot_be_made_is_told_by_what_the_file_says(path):
    change(path, {("tasks", 0, "note"): "two coats"})
    lines = diary_path(path).read_bytes().splitlines(keepends=True)
    diary_path(path).write_bytes(lines[-1])
    assert last(path) == "paint the hubs: note two coats"


def test_a_name_cannot_break_out_of_its_line(path):
    change(path, {("tasks", 0, "title"): "paint\n\x1b[31m the hubs"})
    assert "\x1b" not in last(path) and "\n" not in last(path)


@pytest.mark.parametrize(
    "moved",
    [
        KeyChange((), {"a": 1}, None),
        KeyChange(("tasks", 99, "note"), "a", "b"),
        KeyChange(("tasks", -7), None, {"title": "x"}),
        KeyChange(("tasks", "own"), 1, 2),
        KeyChange(("tasks",), "no list", 3),
        KeyChange(("parts", 0), None, "no table"),
        KeyChange(("readings", 0), None, {"of": "[[["}),
        KeyChange(("changes", 0, "sets", ""), "1", None),
        KeyChange((0, 1), None, {"deep": {"er": [1, {"x": None}]}}),
    ],
)
def test_an_entry_that_nobody_would_write_is_told_in_some_words_and_breaks_nothing(path, moved):
    change(path, {("plan", "currency"): "USD"})
    diary = read_diary(path)
    spoiled = diary.entries[-1]._replace(moved=(moved,))
    entries = [*diary.entries[:-1], spoiled, *diary.entries[-1:]]
    found = told_entries(open_project(path, date(2026, 11, 25)), diary._replace(entries=entries), 60)
    assert len(found) == 3 and found[-1].told == ("plan currency: nothing → USD",)
