"""Names that people use in place of keys: each leads back to its entry, and something new is made by its name."""

import json
import shutil
import tomllib

import pytest
from calling import call, one_line
from changing_truck import COUNTY

from planner.plan.answers.open_project import open_project
from planner.plan.truck.entry_names import name_of, said
from planner.plan.truck.keys import below, find_key
from planner.project.faults import as_key
from planner.project.models.project import Project

QUARRY = COUNTY.with_name("quarry-flatbed.toml")


@pytest.mark.parametrize("path", [COUNTY, QUARRY], ids=lambda path: path.stem)
def test_every_name_leads_to_its_own_entry_and_no_other(path):
    opened = open_project(path)
    found = [one for root in Project.model_fields if root != "format" for one in below(opened.opened, root)]
    named = {one.key: name for one in found if (name := name_of(one.key, opened.opened.data))}
    assert len(named) > 800 and len({said(name) for name in named.values()}) == len(named)
    for key in list(named)[::97]:  # each of them goes through all
        assert find_key(opened.opened, named[key]).key == key
        assert find_key(opened.opened, as_key(key)).key == key


@pytest.mark.parametrize(
    ("typed", "key"),
    [
        ("rear brake radius", "axles.rear.brake.radius"),
        ("the radius of the rear brake", "axles.rear.brake.radius"),
        ("Front bolt circle", "axles.front.studs.circle"),
        ("front stud circle", "axles.front.studs.circle"),  # search finds both
        ("front spring pack, front half's position", "obstacles[1].at"),
        ("wheels' price", "parts[0].price"),
        ("tall set's wheel backspace", "fitments.tall.wheel.backspace"),
        ("found tire size", "fitments.found.tire.designation"),
        ("wheelbase", "vehicle.wheelbase"),
    ],
)
def test_a_name_is_taken_as_people_say_it(typed, key):
    opened = open_project(COUNTY).opened
    assert find_key(opened, typed).key == find_key(opened, key).key


def test_what_is_told_names_entries_as_people_do(capsys):
    _, out, _ = call(capsys, "check", COUNTY)
    told = " ".join(out.split())
    assert "Measure the rear brake radius to ±" in told and "axles." not in out and "fitments." not in out
    _, out, _ = call(capsys, "change", COUNTY, "rear brake radius=7 in")
    assert "rear brake radius: 7 3/16 in ± 1/16 in → 7 in ± 1/16 in" in out and "axles.rear.brake" not in out
    code, out, _ = call(capsys, "why", COUNTY, "rear brake radius")
    assert code == 0 and "axles.rear.brake.radius" in out and "front" not in out.partition("read by")[0]


def test_what_is_assumed_is_told_in_words_too():
    assert open_project(COUNTY).the("nut_factor") == "the nut factor"


def test_a_new_obstacle_behind_others_is_told_whole_by_its_name(capsys):
    _, out, _ = call(capsys, "change", COUNTY, "obstacle: new stone=-6 in, -7 in, 3 in")
    assert "  new stone's position: nothing → [-6 in, -7 in, 3 in]" in out and "{" not in out


def test_a_slip_in_a_name_is_told_with_the_nearest_name(capsys):
    code, out, err = call(capsys, "change", COUNTY, "rear brake radus=7 in")
    assert code == 2 and not out and one_line(err) and "near it: rear brake radius" in err


def test_something_new_is_made_by_its_name(capsys, tmp_path):
    path = tmp_path / "truck.toml"
    path.write_text('format = 2\n[[parts]]\nid = "tires"\n', encoding="utf-8")
    settings = (
        "obstacle: rear spring pack=2, -7, 6",
        "obstacle: rear spring pack's room wanted=1/2",
        "obstacle: muffler=9 in, -12 in, 4 in",
        "part: five wheels=285",
        "task: paint the wheels=fit",
    )
    code, out, _ = call(capsys, "change", path, *settings, "--apply")
    data = tomllib.loads(path.read_text(encoding="utf-8"))
    assert code in (0, 1) and "2, -7, 6 is read as 2 in, -7 in, 6 in" in out
    pack, muffler = data["obstacles"]
    assert (pack["name"], pack["axle"], pack["moves_with"], pack["kind"]) == ("spring pack", "rear", "body", "spring")
    assert "plumb line" in pack["measure"] and pack["at"] == ["2 in", "-7 in", "6 in"] and pack["wants"] == "1/2 in"
    assert muffler == {"name": "muffler", "at": ["9 in", "-12 in", "4 in"]}
    assert data["parts"] == [{"id": "tires"}, {"id": "five_wheels", "title": "five wheels", "price": 285}]
    assert data["tasks"] == [{"id": "own.paint_the_wheels", "title": "paint the wheels", "phase": "fit"}]
    # said again it is the same one, and not another; so by its key, as it was called
    again = ("obstacle: muffler's kind=exhaust", "obstacles.rear spring pack.side=left", "part: five wheels=290")
    code, _, _ = call(capsys, "change", path, *again, "--apply")
    data = tomllib.loads(path.read_text(encoding="utf-8"))
    assert code in (0, 1) and [one.get("kind") for one in data["obstacles"]] == ["spring", "exhaust"]
    assert data["obstacles"][0]["side"] == "left"
    assert [one.get("price") for one in data["parts"]] == [None, 290]


def test_a_name_may_have_a_mark_in_it_that_stands_before_an_entry_too(capsys, tmp_path):
    path = tmp_path / "truck.toml"
    path.write_text("format = 2\n", encoding="utf-8")
    bolts = "obstacle: rear spring's U-bolts"
    call(capsys, "change", path, f"{bolts}=0 in, -11 in, 5 in", "part: driver's seat=90", "--apply")
    code, _, err = call(capsys, "change", path, f"{bolts}=0 in, -12 in, 5 in", f"{bolts}'s kind=spring", "--apply")
    data = tomllib.loads(path.read_text(encoding="utf-8"))
    assert code in (0, 1), err
    assert [(one["name"], one["at"][1], one["kind"]) for one in data["obstacles"]] == [
        ("spring's U-bolts", "-12 in", "spring")
    ]
    assert [one["title"] for one in data["parts"]] == ["driver's seat"]


def test_a_wheel_goes_by_its_mark_and_an_obstacle_by_its_end_and_name(capsys, tmp_path):
    path = tmp_path / "truck.toml"
    there = '[[wheels]]\nmark = "W5"\n[[obstacles]]\nname = "spring"\naxle = "front"\n'
    path.write_text(f"format = 2\n{there}", encoding="utf-8")
    call(capsys, "change", path, "wheels.W5.state=sent back", "obstacles.front spring.kind=spring", "--apply")
    data = tomllib.loads(path.read_text(encoding="utf-8"))
    assert data["wheels"][0]["state"] == "sent back" and data["obstacles"][0]["kind"] == "spring"


def test_an_obstacle_of_which_nobody_said_the_end_clears_neither(capsys, tmp_path):
    """Taken to be at the front, it would leave the rear clear of what stands there."""
    path = shutil.copy(COUNTY, tmp_path / "truck.toml")
    call(capsys, "change", path, "obstacle: air tank=-9 in, -12 in, 3 in", "--because", "forgotten", "--apply")
    flags = json.loads(call(capsys, "check", path, "--json")[1])["flags"]
    waits = {one["where"] for one in flags if one["rule"] == "fit.no_backspace_clears" and one["answer"] == "not known"}
    assert waits == {"front and rear"}


@pytest.mark.parametrize(
    "setting", ["obstacle:=1 in, 1 in, 1 in", "part: =3", "obstacle: muffler=", "part: 's price=2"]
)
def test_what_has_no_name_or_no_value_makes_nothing(capsys, tmp_path, setting):
    path = tmp_path / "truck.toml"
    path.write_text("format = 2\n", encoding="utf-8")
    code, out, err = call(capsys, "change", path, setting, "--apply")
    assert code == 2 and not out and one_line(err) and path.read_text(encoding="utf-8") == "format = 2\n"
