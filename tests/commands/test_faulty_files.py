"""A project with faults at the commands: they stand first, the rest is answered, and nothing is written."""

import json

import pytest
from calling import call

from planner.project.diary import commit
from planner.project.diary_reading import diary_path, read_diary
from planner.project.source import load

SOUND = """\
format = 1

[vehicle]
wheelbase = "126 in"

[axles.front]
face_to_face = "60 in"
load = "3,000 lb ± 20 lb"

[fitments.tall.tire]
designation = "37x12.50R17LT"

[[tasks]]
id = "own.paint"
title = "paint the wheels"
"""
FAULTY = SOUND.replace('"126 in"', '"12 parsecs"')


@pytest.fixture
def truck(tmp_path):
    """A truck that was changed twice by the planner, and then by hand so that it has a fault."""
    path = tmp_path / "truck.toml"
    path.write_text(SOUND.replace("126 in", "118 in"), encoding="utf-8")
    commit(load(path), SOUND.replace("126 in", "120 in"), kind="change")
    commit(load(path), SOUND, kind="change")
    path.write_text(FAULTY, encoding="utf-8")
    return path


READS = [("check",), ("task",), ("task", "next"), ("task", "show", "own.paint"), ("task", "parts"), ("compare",),
         ("why", "wheelbase"), ("accept",), ("again",)]  # fmt: skip


@pytest.mark.parametrize("command", READS, ids=" ".join)
def test_what_only_looks_answers_with_the_faults_first_and_exit_code_2(capsys, truck, command):
    name, *more = command
    code, out, err = call(capsys, name, truck, *more)
    accepted = "write a number with in, ft, mm, cm or m, such as 126 in ± 1/4 in"
    fault = f"vehicle.wheelbase: it is not a length; read '12 parsecs'; accepted: {accepted}"
    assert code == 2 and err == f"{truck}:4: {fault}\n"
    assert out.startswith("1 FAULT IN THE FILE\n  line 4: vehicle.wheelbase\n") and out.count("\n") > 3
    told = call(capsys, name, truck, *more, "--json")[1]
    (told_fault,) = json.loads(told)["faults"]
    assert (told_fault["line"], told_fault["key"], told_fault["read"]) == (4, "vehicle.wheelbase", "12 parsecs")
    assert truck.read_text(encoding="utf-8") == FAULTY


@pytest.mark.parametrize("command", READS, ids=" ".join)
def test_a_file_without_faults_has_none_in_its_json(capsys, truck, command):
    truck.write_text(SOUND, encoding="utf-8")
    told = json.loads(call(capsys, command[0], truck, *command[1:], "--json")[1])
    assert not isinstance(told, dict) or told["faults"] == []


def test_what_is_not_known_for_a_fault_says_to_enter_it_again(capsys, truck):
    out = call(capsys, "why", truck, "wheelbase")[1]
    assert "wheelbase (enter it again: line 4)" in out
    assert "(enter it again: line 4)" in " ".join(call(capsys, "check", truck, "--waiting")[1].split())


WRITES = [
    ("task", "tick", "own.paint"),
    ("task", "add", "wax it"),
    ("task", "drop", "own.paint", "--because", "no time"),
    ("change", "axles.front.load=3,100 lb", "--apply"),
    ("diary", "bring-back", "4"),
]


@pytest.mark.parametrize("command", WRITES, ids=" ".join)
def test_nothing_is_written_while_a_fault_stands(capsys, truck, command):
    if command[0] == "diary":  # what the fourth left has a fault of its own
        truck.write_text(SOUND.replace("126 in", "wide"), encoding="utf-8")
        call(capsys, "diary", truck, "catch-up")
        truck.write_text(FAULTY, encoding="utf-8")
    before = {path.name: path.read_bytes() for path in truck.parent.iterdir()}
    code, out, err = call(capsys, command[0], truck, *command[1:])
    assert code == 2 and not out
    assert err.startswith("nothing is written: the file has faults, and would still have these") and "wheelbase" in err
    assert {path.name: path.read_bytes() for path in truck.parent.iterdir() if path.suffix != ".lock"} == {
        name: raw for name, raw in before.items() if not name.endswith(".lock")
    }


@pytest.mark.parametrize(
    ("command", "wheelbase"),
    [
        (("change", "vehicle.wheelbase=127 in", "--apply"), "127 in"),
        (("diary", "undo"), "126 in"),
        (("diary", "bring-back", "1"), "118 in"),
    ],
)
def test_a_cure_is_written(capsys, truck, command, wheelbase):
    assert call(capsys, command[0], truck, *command[1:])[0] == 0
    assert f'wheelbase = "{wheelbase}"' in truck.read_text(encoding="utf-8")
    assert "hand edit" in {entry.kind for entry in read_diary(truck).entries}  # what was done by hand is kept as well


def test_undoing_what_leaves_another_fault_is_no_cure(capsys, truck):
    commit(load(truck), SOUND, kind="change")
    commit(load(truck), SOUND.replace("126 in", "still wide"), kind="change")  # by hand, say, and then by the planner
    before, diary = truck.read_bytes(), diary_path(truck).read_bytes()
    truck.write_text(FAULTY.replace("paint the wheels", "wax the wheels"), encoding="utf-8")
    code, _, err = call(capsys, "diary", truck, "undo")
    assert code == 2 and "nothing is written" in err and "still wide" in err
    assert diary_path(truck).read_bytes() == diary and truck.read_bytes() != before
