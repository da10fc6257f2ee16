"""Names that only a computer can tell apart are one name: two of them are a fault, one finds the other."""

import json
import tomllib
from unicodedata import normalize

import pytest
from calling import call

from planner.plan.answers.open_project import open_project
from planner.plan.change.task_recordings import find_task
from planner.plan.truck.keys import find_key
from planner.plan.work.task_list import work
from planner.project.faults import Faulty, as_line
from planner.project.reading import raise_faults, read_project
from planner.quantities.text import normal_name, same_name

COMPOSED, DECOMPOSED = normalize("NFC", "größer"), normalize("NFD", "größer")
ALIKE = [
    (COMPOSED, DECOMPOSED),
    ("tall", "tall "),
    ("tall one", "tall  one"),
    ("tall one", "tall\u00a0one"),
    ("tall one", "tall\u2009one"),
    ("tall", "ta\u200bll"),
    ("tall", "ta\u00adll"),
    ("tall", "\ufefftall"),
    ("tall", "tall\ufe0f"),
]


@pytest.mark.parametrize(("one", "other"), ALIKE)
def test_names_that_look_alike_are_one(one, other):
    assert one != other and same_name(one, other) and normal_name(normal_name(other)) == normal_name(other)


@pytest.mark.parametrize(("one", "other"), [("R", "r"), ("1st", "2nd"), ("tall one", "tallone"), ("37½", "37 1/2")])
def test_names_that_a_person_can_tell_apart_are_two(one, other):
    assert not same_name(one, other)


TABLES = [
    ("fitments", '[fitments."{}"]\ndescription = "x"\n'),
    ("gears", '[drivetrain.gearbox]\n"{}" = "4:1"\n'),
    ("ranges", '[drivetrain.transfer]\n"{}" = "2:1"\n'),
    ("tasks", '[[tasks]]\nid = "{}"\ntitle = "x"\n'),
    ("parts", '[[parts]]\nid = "{}"\ntitle = "x"\n'),
]


@pytest.mark.parametrize(("one", "other"), ALIKE[:4])
@pytest.mark.parametrize(("what", "table"), TABLES)
def test_two_names_alike_are_a_fault_that_names_both_lines(tmp_path, what, table, one, other):
    path = tmp_path / "truck.toml"
    heading, *rest = table.splitlines(keepends=True)
    twice = "".join([heading, *(row.format(one) for row in rest), *(row.format(other) for row in rest)])
    listed = table.format(one) + table.format(other)
    path.write_text("format = 1\n" + (twice if what in ("gears", "ranges") else listed), encoding="utf-8")
    lines = [
        at for at, row in enumerate(path.read_text("utf-8").split("\n"), 1) if f'"{one}"' in row or f'"{other}"' in row
    ]
    with pytest.raises(Faulty) as raised:
        raise_faults(read_project(path))
    told = [as_line(path, fault) for fault in raised.value.faults]
    assert any(f":{lines[1]}: " in row and f"first on line {lines[0]}" in row for row in told), told


@pytest.fixture
def truck(tmp_path):
    path = tmp_path / "truck.toml"
    path.write_text(
        f"""format = 1
[plan]
chosen = "{DECOMPOSED}"
[fitments.found.tire]
designation = "31x10.50R15LT"
[fitments."{COMPOSED}"]
price = 100
[fitments."{COMPOSED}".tire]
designation = "37x12.50R17LT"
[drivetrain.gearbox]
"{COMPOSED}" = "4:1"
[[tasks]]
id = "own.{COMPOSED}"
title = "paint"
[[tasks]]
id = "own.after"
title = "dry"
after = ["own.{DECOMPOSED}", "safe.chock\u00a0"]
[[parts]]
id = "paint {COMPOSED}"
title = "a can"
used_for = ["{DECOMPOSED}"]
price = 5
[[parts]]
title = "brush"
used_for = ["own.{DECOMPOSED}"]
""",
        encoding="utf-8",
    )
    return path


def test_a_reference_in_another_composition_means_the_name_that_is_there(truck):
    opened = open_project(truck)
    assert opened.planned == (COMPOSED,)
    listed = work(opened)
    assert listed.items["own.after"].after[:2] == (f"own.{COMPOSED}", "safe.chock")
    assert opened.project.parts[0].used_for == [COMPOSED]
    assert [need.part.title for need in listed.items[f"own.{COMPOSED}"].parts] == ["brush"]
    assert find_task(listed, f"own.{DECOMPOSED} ").id == f"own.{COMPOSED}"


@pytest.mark.parametrize(
    ("typed", "key"),
    [
        (f"fitments.{DECOMPOSED}.tire.designation", ("fitments", COMPOSED, "tire", "designation")),
        (f'drivetrain.gearbox."{DECOMPOSED} "', ("drivetrain", "gearbox", COMPOSED)),
        (f"parts.paint\u00a0{DECOMPOSED}.price", ("parts", 0, "price")),
        (f"tasks.own.{DECOMPOSED}.note", ("tasks", 0, "note")),
    ],
)
def test_a_key_typed_in_another_composition_finds_the_entry_that_is_there(truck, typed, key):
    assert find_key(read_project(truck), typed).key == key


def test_commands_take_a_name_in_another_composition(capsys, truck):
    assert call(capsys, "change", truck, f"fitments.{DECOMPOSED}.price=120", "--apply")[0] in (0, 1)
    assert tomllib.loads(truck.read_text("utf-8"))["fitments"].keys() == {"found", COMPOSED}
    code, out, err = call(capsys, "task", truck, "tick", f"own.{DECOMPOSED}", "--anyway", "--because", "dry day")
    assert (code, err) == (0, ""), err
    assert tomllib.loads(truck.read_text("utf-8"))["tasks"][0]["state"] == "done"
    code, out, err = call(capsys, "compare", truck, DECOMPOSED, "found")
    assert code in (0, 1) and err == "", err
    code, out, err = call(capsys, "why", truck, "tire.overall_diameter", "--fitment", f"{DECOMPOSED} ", "--json")
    assert code == 0 and json.loads(out)[0]["place"]["fitment"] == COMPOSED, err
    code, out, err = call(capsys, "task", truck, "add", "again", "--id", f"own.{DECOMPOSED}")
    assert code == 2 and "already" in err


def test_an_acceptance_and_what_it_rested_on_hold_in_another_composition(capsys, truck):
    assert call(capsys, "accept", truck)[0] == 0
    offered = json.loads(call(capsys, "accept", truck, "--json")[1])["can be"]
    one = next(each for each in offered if each["where"])
    code, _, err = call(capsys, "accept", truck, one["flag"], normalize("NFD", one["where"]), "--because", "seen")
    assert code == 0, err
    text = truck.read_text("utf-8")
    head, mark, tail = text.partition("[[acceptances]]")
    truck.write_text(head + mark + normalize("NFD", tail), encoding="utf-8")
    taken = json.loads(call(capsys, "accept", truck, "--json")[1])["is"]
    assert {(each["flag"], each["lapsed"]) for each in taken} == {(one["flag"], None)}


def test_obstacles_that_look_alike_are_told_apart_like_those_of_one_name(truck):
    with truck.open("a", encoding="utf-8") as file:
        for side, name in (("left", COMPOSED), ("right", DECOMPOSED)):
            file.write(f'[[obstacles]]\nname = "{name}"\naxle = "front"\nside = "{side}"\nmoves_with = "body"\n')
    assert list(open_project(truck).obstacles) == [f"left front {COMPOSED}", f"right front {DECOMPOSED}"]
