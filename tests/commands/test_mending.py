"""A faulty file mended by `planner change`: shown first, made with its reason, and never made by halves."""

import json

import pytest
from calling import call

from planner.project.diary_reading import diary_path, read_diary

FAULTY = """\
format = 1
# my truck
[vehicle]
weelbase = "126 in" # taped twice

[axles.front]
rating = "12 parsecs" # off the plate
"""
RATING = "axles.front.rating=4,500 lb"
WHEELBASE = ("vehicle.weelbase=", "vehicle.wheelbase=126 in")


@pytest.fixture
def truck(tmp_path):
    path = tmp_path / "truck.toml"
    path.write_text(FAULTY, encoding="utf-8")
    return path


def test_a_mending_is_shown_with_the_faults_that_go_and_is_not_made(capsys, truck):
    code, out, err = call(capsys, "change", truck, RATING, *WHEELBASE)
    assert code == 0 and not err and "not made" in out
    assert "front axle rating: 12 parsecs → 4,500 lb" in out and "is not a weight" in " ".join(out.split())
    assert truck.read_text(encoding="utf-8") == FAULTY and not diary_path(truck).exists()


def test_a_mending_is_made_in_place_with_its_reason_and_can_be_undone(capsys, truck):
    code, out, _ = call(capsys, "change", truck, RATING, *WHEELBASE, "--because", "slips of the pen", "--apply")
    assert code == 0 and "diary" in out
    text = truck.read_text(encoding="utf-8")
    assert 'rating = "4,500 lb" # off the plate' in text and "# my truck" in text and "weelbase =" not in text
    assert read_diary(truck).entries[-1].because == "slips of the pen"
    assert call(capsys, "check", truck)[0] in (0, 1)
    assert call(capsys, "diary", truck, "undo")[0] == 0
    assert truck.read_text(encoding="utf-8") == FAULTY


def test_what_would_leave_a_fault_is_refused_and_names_what_is_left(capsys, truck):
    code, out, err = call(capsys, "change", truck, RATING, "--apply")
    assert code == 2 and not out and "truck.toml:4: vehicle.weelbase" in err and "12 parsecs" not in err
    assert truck.read_text(encoding="utf-8") == FAULTY


def test_a_mending_with_another_wrong_value_is_refused(capsys, truck):
    code, _, err = call(capsys, "change", truck, "axles.front.rating=heavy", *WHEELBASE, "--apply")
    assert code == 2 and "'heavy'" in err and truck.read_text(encoding="utf-8") == FAULTY


def test_entries_that_no_truck_has_together_are_mended_so_too(capsys, truck):
    truck.write_text('format = 1\n[fitments.found.wheel]\nrim_width = "254 mm"\nbackspace = "400 mm"\n')
    code, out, _ = call(capsys, "change", truck, "fitments.found.wheel.backspace=100 mm", "--json")
    told = json.loads(out)
    assert code == 0 and told["made"] is False and len(told["mends"]) == 1
    assert told["changes"] == [{"key": "fitments.found.wheel.backspace", "was": "400 mm", "now": "100 mm"}]


def test_a_text_that_is_no_toml_is_left_to_an_editor(capsys, truck):
    truck.write_text("format = 1\n[vehicle\n")
    code, out, err = call(capsys, "change", truck, RATING, "--apply")
    assert code == 2 and not out and "truck.toml:2" in err and "must take away" not in err
