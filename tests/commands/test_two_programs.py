"""Two programs change one file at once: both changes are made, or the second is refused for what the first did."""

import ast
import subprocess
import sys
import tomllib
from functools import cache
from pathlib import Path
from subprocess import DEVNULL, PIPE

import pytest
from calling import call
from changing_truck import COUNTY

from planner.plan.change import changing
from planner.project.amending import amend
from planner.project.changes import DELETE
from planner.project.diary import commit
from planner.project.diary_reading import read_diary, text_at
from planner.project.source import load

FEW = 3
CHANGES = 10


@cache
def bare() -> str:
    """The county truck without what is swept: here it takes time, and says nothing."""
    return amend(COUNTY.read_text(), {("obstacles",): DELETE})


@pytest.fixture
def truck(tmp_path: Path) -> Path:
    path = tmp_path / "truck.toml"
    path.write_text(bare())
    return path


# From 30 on: nothing in the county truck has such a value, so that each of them moves something.
_MANY = """
import sys
from planner.commands.table import main
from planner.project import saving
saving.PATIENCE = 60  # a busy machine is no refusal
path, key, many = sys.argv[1:]
values = [f"{key}={30 + number} mm exact" for number in range(int(many))]
print([main(["change", path, value, "--apply"]) for value in values], file=sys.stderr)
"""


@pytest.mark.parametrize(
    "many", [pytest.param(FEW, marks=pytest.mark.shortened), pytest.param(CHANGES, marks=pytest.mark.slow)]
)
def test_two_programs_make_many_changes_each_and_none_is_lost_or_refused(tmp_path, many):
    truck = tmp_path / "truck.toml"
    keys = ("axles.front.travel.bump", "axles.rear.travel.bump")
    begun = COUNTY.with_name("just-begun.toml").read_text()  # little is worked out, so that the two meet more often
    truck.write_text(amend(begun, {tuple(key.split(".")): "3 in" for key in keys}))
    before = len(read_diary(truck).entries)
    run = [sys.executable, "-c", _MANY, truck]
    both = [subprocess.Popen([*run, key, str(many)], stdout=DEVNULL, stderr=PIPE) for key in keys]
    told = [one.communicate(timeout=400)[1].decode() for one in both]
    for each in told:
        assert set(ast.literal_eval(each)) <= {0, 1}, each  # 1 where a flag comes up; 2 is a refusal, with its words
    diary = read_diary(truck)
    assert diary.troubles == []
    made = [entry for entry in diary.entries[before:] if entry.kind == "change"]
    for key in keys:
        own = [one.now for entry in made for one in entry.moved if list(one.key) == key.split(".")]
        assert own == [f"{30 + number} mm exact" for number in range(many)]
    assert len(made) == 2 * many
    assert text_at(diary, diary.entries[-1].number) == truck.read_text()


def _meanwhile(monkeypatch, path: Path, changes: dict) -> None:
    """Another program saves between this one's reading and its saving, once."""
    own, left = changing.commit, [changes]

    def late(source, *given, **more):
        if left:
            now = load(path)
            commit(now, amend(now.text, left.pop()), kind="change", because="the other program")
        return own(source, *given, **more)

    monkeypatch.setattr(changing, "commit", late)
    monkeypatch.setattr("planner.plan.change.task_recordings.commit", late)


def test_a_change_that_another_program_was_quicker_than_is_made_on_what_stands_there_now(capsys, monkeypatch, truck):
    _meanwhile(monkeypatch, truck, {("axles", "rear", "travel", "bump"): "31 mm"})
    code, out, err = call(capsys, "change", truck, "axles.front.travel.bump=32 mm exact", "--apply")
    assert code in (0, 1) and err == "" and "made" in out
    axles = tomllib.loads(truck.read_text())["axles"]
    assert (axles["front"]["travel"]["bump"], axles["rear"]["travel"]["bump"]) == ("32 mm exact", "31 mm")


def test_a_change_of_what_another_program_has_just_changed_is_refused_by_its_key(capsys, monkeypatch, truck):
    _meanwhile(monkeypatch, truck, {("axles", "front", "travel", "bump"): "31 mm"})
    code, out, err = call(capsys, "change", truck, "axles.front.travel.bump=32 mm exact", "--apply")
    assert (code, out) == (2, "")
    assert "axles.front.travel.bump: another program has just changed it" in err
    assert tomllib.loads(truck.read_text())["axles"]["front"]["travel"]["bump"] == "31 mm"


def test_a_part_by_its_number_is_not_changed_where_another_program_put_one_before_it(capsys, monkeypatch, truck):
    parts = [{"id": "jack", "title": "jack", "price": 80}, {"id": "tube", "title": "tube", "price": 80}]
    now = load(truck)
    commit(now, amend(now.text, {("parts",): parts}), kind="change")
    _meanwhile(monkeypatch, truck, {("parts",): [{"id": "valve", "title": "valve", "price": 80}, *parts]})
    code, _, err = call(capsys, "change", truck, "parts[1].price=90", "--apply")
    assert code == 2 and "parts[1].price: another program has just changed it" in err
    assert [one["price"] for one in tomllib.loads(truck.read_text())["parts"]] == [80, 80, 80]


def test_two_tasks_added_at_once_are_both_in_the_list(capsys, monkeypatch, truck):
    standing = tomllib.loads(truck.read_text()).get("tasks", [])
    other = {("tasks", len(standing)): {"id": "own.other", "title": "wash it"}}
    _meanwhile(monkeypatch, truck, other)
    code, _, err = call(capsys, "task", truck, "add", "paint the inside")
    assert (code, err) == (0, "")
    ids = [one["id"] for one in tomllib.loads(truck.read_text())["tasks"][len(standing) :]]
    assert ids == ["own.other", "own.paint_the_inside"]


@pytest.mark.parametrize(
    ("other", "code", "left"),
    [({("axles", "rear", "travel", "bump"): "31 mm"}, 0, 2), ({("axles", "front", "hub", "pilot"): "131 mm"}, 2, 0)],
)
def test_readings_come_in_beside_another_change_and_not_where_their_entry_has_moved(
    capsys, monkeypatch, truck, other, code, left
):
    csv = truck.with_name("r.csv")
    csv.write_text("entry,value,by\nfront hub pilot,5.121 in ± 0.002 in,neighbor\n")
    standing = len(tomllib.loads(truck.read_text()).get("readings", []))
    _meanwhile(monkeypatch, truck, other)
    told, _, err = call(capsys, "import", truck, csv, "--apply")
    assert (told == 2) == (code == 2), err
    assert code == 0 or "an entry of r.csv: another program has just changed it" in err
    data = tomllib.loads(truck.read_text())
    assert len(data["readings"]) == standing + left
