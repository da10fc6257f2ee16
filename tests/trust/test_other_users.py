"""Two users on one project, root and its owner: what the one makes beside it never locks the other out."""

import os
import stat
import sys
from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from calling import call, one_line

from planner.project.drafts import drafts_path, keep
from planner.screens.places.saved_lists import save_list

ROOT = Path(__file__).parents[2]
OWNER = 54321
as_root = pytest.mark.skipif(os.name == "nt" or os.geteuid() != 0, reason="only root gives files away")
as_owner = pytest.mark.skipif(os.name == "nt" or os.geteuid() == 0, reason="root may open everything")
LOCK = ".truck.toml.lock"


@pytest.fixture
def truck(tmp_path: Path) -> Path:
    path = tmp_path / "truck.toml"
    path.write_bytes((ROOT / "projects" / "just-begun.toml").read_bytes())
    return path


def everything(truck: Path, capsys: pytest.CaptureFixture[str]) -> set[str]:
    """Has all made that saving makes beside a project; gives the names."""
    assert call(capsys, "change", truck, "vehicle.wheelbase=113 in", "--apply")[0] in (0, 1)
    with open(truck.with_name("truck.diary.jsonl"), "ab") as diary:
        diary.write(b'{"half')
    assert call(capsys, "task", truck, "add", "paint the wheels", "--phase", "fit")[0] == 0
    assert call(capsys, "print", truck, "checklist", "--text", "-o", truck.with_name("list.txt"))[0] == 0
    assert keep(truck, "vehicle.wheelbase", "114 in") == ""
    assert save_list(truck, "tasks", "a list\n").startswith("saved")
    made = {one.name for one in truck.parent.iterdir()}
    assert {LOCK, "truck.diary.jsonl", "list.txt", drafts_path(truck).name, "truck-tasks.txt"} < made
    assert any(".torn-" in name for name in made)
    return made


def as_them(truck: Path, *words: str) -> tuple[int, str]:
    """A command that the owner runs, with what root loaded before: the interpreter may be in root's own folder."""
    into, out = os.pipe()
    child = os.fork()
    if child == 0:
        from planner.commands.table import main

        try:
            os.dup2(out, 2)
            os.dup2(os.open(os.devnull, os.O_WRONLY), 1)
            sys.stdout, sys.stderr = os.fdopen(1, "w", closefd=False), os.fdopen(2, "w", closefd=False)
            os.setgroups([])
            os.setgid(OWNER)
            os.setuid(OWNER)
            os._exit(main([words[0], str(truck), *words[1:]]))
        finally:
            os._exit(99)
    os.close(out)
    with os.fdopen(into) as told:
        said = told.read()
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]), said


@pytest.fixture
def theirs() -> Iterator[Path]:
    """The project in a folder of its owner's."""
    with TemporaryDirectory() as folder:
        path = Path(folder) / "truck.toml"
        path.write_bytes((ROOT / "projects" / "just-begun.toml").read_bytes())
        for one in (path, path.parent):
            os.chown(one, OWNER, OWNER)
        yield path


@as_root
def test_what_root_makes_beside_a_project_belongs_to_its_owner(theirs, capsys):
    theirs.chmod(0o640)
    for name in everything(theirs, capsys):
        status = theirs.with_name(name).stat()
        assert (status.st_uid, status.st_gid) == (OWNER, OWNER), name
        assert stat.S_IMODE(status.st_mode) == 0o640, name


@as_root
def test_the_owner_goes_on_after_root(theirs, capsys):
    everything(theirs, capsys)
    code, said = as_them(theirs, "change", "vehicle.wheelbase=115 in", "--apply")
    assert code in (0, 1), said
    assert '"115 in ± 1/2 in"' in theirs.read_text()
    assert as_them(theirs, "print", "checklist", "--text", "-o", str(theirs.with_name("list.txt")))[0] == 0


@as_root
def test_a_lock_that_is_anothers_is_named_and_mended_by_roots_next_run(theirs, capsys):
    everything(theirs, capsys)
    lock = theirs.with_name(LOCK)
    os.chown(lock, 0, 0)  # as an earlier version left it
    code, said = as_them(theirs, "change", "vehicle.wheelbase=115 in", "--apply")
    assert code == 2 and one_line(said)
    assert f"you don't have permission for its lock {LOCK}" in said and "delete that" in said
    assert call(capsys, "change", theirs, "vehicle.wheelbase=114 in", "--apply")[0] in (0, 1)
    assert as_them(theirs, "change", "vehicle.wheelbase=115 in", "--apply")[0] in (0, 1)


@as_root
def test_a_lock_with_a_second_name_is_given_to_nobody(theirs, capsys):
    """The owner of the folder could have linked a file of root's there."""
    other = theirs.with_name("other")
    other.touch(0o600)
    os.link(other, theirs.with_name(LOCK))
    assert call(capsys, "change", theirs, "vehicle.wheelbase=114 in", "--apply")[0] in (0, 1)
    assert other.stat().st_uid == 0


@pytest.mark.parametrize("mode", [0o600, 0o640, 0o664])
def test_what_saving_makes_may_be_read_and_locked_by_whoever_may_read_and_write_the_project(truck, capsys, mode):
    truck.chmod(mode)
    for name in everything(truck, capsys):
        assert stat.S_IMODE(truck.with_name(name).stat().st_mode) == mode, name


@as_owner
def test_a_lock_that_may_not_be_opened_is_named(truck, capsys):
    truck.with_name(LOCK).touch(0o000)
    code, _, err = call(capsys, "change", truck, "vehicle.wheelbase=114 in", "--apply")
    assert code == 2 and one_line(err) and f"you don't have permission for its lock {LOCK}" in err


def test_a_pipe_in_place_of_what_is_being_typed_keeps_nobody_waiting(truck):
    os.mkfifo(drafts_path(truck).with_suffix(".new"))
    assert keep(truck, "vehicle.wheelbase", "114 in") == ""
    assert drafts_path(truck).is_file()
