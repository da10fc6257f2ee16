"""`truck` and `truck.toml` are one project: one lock, one diary, one draft, one place in the list of the last."""

import os

import pytest
from calling import call
from diary_truck import TRUCK
from filelock import FileLock

from planner.project import saving
from planner.project.diary import commit
from planner.project.diary_reading import diary_path, read_diary
from planner.project.drafts import drafts_path, keep, kept
from planner.project.faults import Faulty
from planner.project.project_path import beside, project_file
from planner.project.recent import opened, recent
from planner.project.saving import Busy, CannotSave, write
from planner.project.source import load


@pytest.fixture
def truck(tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    monkeypatch.chdir(tmp_path)
    path = tmp_path / "truck.toml"
    path.write_text(TRUCK, encoding="utf-8")
    (tmp_path / "link").symlink_to("truck")
    (tmp_path / "other link").symlink_to("truck.toml")
    (tmp_path / "garage").mkdir()
    return path


NAMES = ("truck", "truck.toml", "./truck", "garage/../truck", "link", "other link")


@pytest.mark.parametrize("name", NAMES)
def test_every_way_to_name_a_project_leads_to_one_file_one_lock_one_diary_and_one_draft(truck, name):
    source = load(truck.parent / name)
    assert source.path == truck
    commit(source, TRUCK + "# more\n", kind="change")
    keep(source.path, "vehicle.wheelbase", "112")
    opened(source.path)
    assert len(read_diary(truck).entries) == 2 and [one.text for one in kept(truck)] == ["112"]
    assert recent() == [truck]
    assert {one.name for one in truck.parent.iterdir() if one.is_file() and not one.is_symlink()} == {
        "truck.toml", "truck.diary.jsonl", ".truck.toml.lock", ".truck.toml.typed.json",
    }  # fmt: skip


def test_a_project_as_deep_in_folders_as_linux_goes_is_among_the_last(truck):
    deep = truck.parent / "/".join("x" * 200 for _ in range(18))  # a path has less than 4,096 characters (limits.h)
    deep.mkdir(parents=True)
    path = deep / f"{'y' * 200}.toml"
    path.write_text(TRUCK)
    opened(path)
    assert len(str(path)) > 3800 and recent() == [path]


def test_commands_take_the_name_without_its_ending(capsys, truck):
    truck.write_text("format = 1\n")
    assert call(capsys, "change", "truck", "vehicle.name=old one", "--apply")[0] == 0
    assert 'name = "old one"' in truck.read_text()
    code, out, _ = call(capsys, "diary", "truck")
    assert code == 0 and "old one" in out
    code, _, err = call(capsys, "truck")  # isn't a terminal here: it was going to be opened
    assert code == 2 and "isn't a terminal" in err


def test_a_folder_of_the_same_name_is_no_project(truck):
    os.mkdir(truck.with_name("truck"))
    assert load(truck.with_name("truck")).path == truck


def test_where_both_files_are_there_the_short_name_asks_and_the_whole_one_is_taken(capsys, truck):
    truck.with_name("truck").write_text(TRUCK)
    with pytest.raises(Faulty) as raised:
        load(truck.with_name("truck"))
    assert "truck and truck.toml are both there" in str(raised.value)
    assert load(truck).path == truck
    code, out, err = call(capsys, "check", "truck")
    assert (code, out) == (2, "") and err.count("\n") == 1 and "truck.toml, or truck under another name" in err


def test_one_file_under_both_names_is_no_question(truck):
    os.link(truck, truck.with_name("truck"))
    assert project_file(truck.with_name("truck")) == truck


def test_a_project_without_the_ending_has_the_lock_and_draft_that_it_would_have_with_it(truck, monkeypatch):
    alone = truck.with_name("van")
    alone.write_text(TRUCK)
    source = load(alone)
    assert source.path == alone and drafts_path(alone) == drafts_path(truck.with_name("van.toml"))
    monkeypatch.setattr(saving, "PATIENCE", 0.05)
    with FileLock(beside(truck.with_name("van.toml"), "lock")), pytest.raises(Busy):
        commit(source, TRUCK + "# more\n", kind="change")


def test_a_new_project_takes_no_name_whose_diary_is_anothers(capsys, truck):
    alone = truck.with_name("van")
    alone.write_text(TRUCK)
    commit(load(alone), TRUCK + "# more\n", kind="change")
    with pytest.raises(CannotSave, match="with the same diary"):
        write(truck.with_name("van.toml"), TRUCK, expected_digest=None)
    assert len(read_diary(alone).entries) == 2 and diary_path(alone) == diary_path(truck.with_name("van.toml"))


def test_a_new_project_gets_the_ending(capsys, truck):
    assert call(capsys, "new", "pickup")[0] == 0
    assert truck.with_name("pickup.toml").is_file() and not truck.with_name("pickup").exists()
