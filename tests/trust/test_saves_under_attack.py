"""Whole commands against disks that are full, read-only or on a network, and against each other: both files or neither.

Every single call that can fail is gone through in tests/project/test_saving.py and test_diary_crashes.py.
"""

import errno
import os
import resource
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from calling import call, one_line
from trust.judging import standing

from planner.commands.table import main
from planner.project.diary import standing as stands
from planner.project.diary_reading import diary_path, read_diary
from planner.project.source import load

ROOT = Path(__file__).parents[2]
KEYS = ("body_width", "overall_height", "cg_height", "lamp_height")
WHEELBASE = "vehicle.wheelbase=113 in"


@pytest.fixture(scope="module")
def begun(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A truck with one change in its diary."""
    path = tmp_path_factory.mktemp("begun") / "truck.toml"
    path.write_bytes((ROOT / "projects" / "just-begun.toml").read_bytes())
    assert main(["change", str(path), "vehicle.wheelbase=112 1/2 in", "--apply"]) in (0, 1)
    return path


@pytest.fixture
def truck(tmp_path: Path, begun: Path) -> Path:
    """A copy of it, its lock too."""
    for one in begun.parent.iterdir():
        shutil.copy2(one, tmp_path)
    return tmp_path / begun.name


def in_step(truck: Path) -> bool:
    diary = read_diary(truck)
    return not diary.troubles and stands(diary, load(truck)) == "in step"


def refused(capsys: pytest.CaptureFixture[str], truck: Path, *words: str) -> str:
    """What a command that cannot save says; nothing but an empty lock may be there afterwards that was not before."""
    before = standing(truck.parent)
    code, out, err = call(capsys, *words)
    err = "".join(row for row in err.splitlines(True) if not row.startswith("printing "))  # it takes its time: progress
    assert code == 2 and one_line(err), (code, err)
    after = standing(truck.parent)
    assert {name: held for name, held in after.items() if not name.endswith(".lock")} == {
        name: held for name, held in before.items() if not name.endswith(".lock")
    }
    assert in_step(truck)
    return err


def saving(truck: Path) -> Iterator[list[str]]:
    """Every command that writes to the project."""
    yield ["change", str(truck), WHEELBASE, "--apply"]
    yield ["task", str(truck), "add", "paint the wheels", "--phase", "fit"]
    yield ["diary", str(truck), "undo"]
    yield ["print", str(truck), "measuring", "--text", "-o", str(truck.parent / "sheet.txt")]


def failing(code: int, when: Callable[..., bool], name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    real = getattr(os, name)

    def call_(*given: Any, **named: Any) -> Any:
        if when(*given):
            raise OSError(code, os.strerror(code))
        return real(*given, **named)

    monkeypatch.setattr(os, name, call_)


@pytest.mark.parametrize("code", [errno.EROFS, errno.EACCES, errno.EDQUOT])
def test_in_a_folder_that_cannot_be_written_all_is_read_and_nothing_saved(
    truck: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, code: int
) -> None:
    writing = os.O_WRONLY | os.O_RDWR | os.O_CREAT
    with monkeypatch.context() as patch:
        failing(code, lambda path, flags, *more: bool(flags & writing), "open", patch)
        for words in saving(truck):
            said = refused(capsys, truck, *words)
            assert any(why in said for why in ("is read-only", "don't have permission", "your share of the disk")), said
        assert call(capsys, "check", truck)[0] == 1
        assert call(capsys, "diary", truck)[0] == 0
    assert call(capsys, "change", truck, WHEELBASE, "--apply")[0] in (0, 1)


def test_a_disk_that_is_full_after_any_number_of_bytes_leaves_both_files_as_they_were(
    truck: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The system's own limit on a file's size: it takes what still fits and refuses the rest, as a full disk does."""
    before = standing(truck.parent)
    diary, project = diary_path(truck).stat().st_size, truck.stat().st_size
    for most in (0, 1, project - 1, project, diary, diary + 1, diary + 100, diary + 300):
        child = os.fork()
        if child == 0:
            resource.setrlimit(resource.RLIMIT_FSIZE, (most, most))
            quiet = os.open(os.devnull, os.O_WRONLY)
            os.dup2(quiet, 1)
            os.dup2(quiet, 2)
            os._exit(main(["change", str(truck), WHEELBASE, "--apply"]))
        code = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
        assert code == 2, most
        assert standing(truck.parent) == before, most
    assert in_step(truck)


@pytest.mark.parametrize("code", [errno.EBUSY, errno.ESTALE, errno.EXDEV, errno.ETIMEDOUT])
def test_a_rename_that_a_network_share_refuses_leaves_both_files_as_they_were(
    truck: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, code: int
) -> None:
    with monkeypatch.context() as patch:
        failing(code, lambda old, new: True, "replace", patch)
        for words in list(saving(truck))[:3]:
            refused(capsys, truck, *words)
    assert call(capsys, "change", truck, WHEELBASE, "--apply")[0] in (0, 1)


def test_a_rename_that_was_done_though_the_network_share_says_no_is_taken_as_done(
    truck: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    real = os.replace

    def done_twice(old: Path, new: Path) -> None:
        real(old, new)
        real(old, new)  # the answer was lost, and it is asked again: there is no such file any more

    monkeypatch.setattr(os, "replace", done_twice)
    code, out, _ = call(capsys, "change", truck, WHEELBASE, "--apply")
    assert code in (0, 1) and "Done: " in out
    assert '"113 in ± 1/2 in"' in truck.read_text() and in_step(truck)


def odd_lock(lock: Path, odd: str, other: Path) -> None:
    lock.unlink(missing_ok=True)
    match odd:
        case "a link":
            lock.symlink_to(other)
        case "a link to nothing":
            lock.symlink_to(other.with_name("nothing"))
        case "a pipe":
            os.mkfifo(lock)
        case "a folder":
            lock.mkdir()
        case "second name":
            os.link(other, lock)


@pytest.mark.parametrize("odd", ["a link", "a link to nothing", "a pipe", "a folder", "second name"])
def test_a_lock_that_is_none_is_named_and_what_it_points_to_is_left_alone(
    truck: Path, capsys: pytest.CaptureFixture[str], odd: str
) -> None:
    other, lock = truck.with_name("other.txt"), truck.with_name(".truck.toml.lock")
    other.write_text("keep me")
    odd_lock(lock, odd, other)
    for words in saving(truck):
        said = refused(capsys, truck, *words)
        assert "its lock .truck.toml.lock is" in said and odd.removesuffix(" to nothing") in said, said
    assert other.read_text() == "keep me" and not other.with_name("nothing").exists()


def test_a_link_that_comes_in_place_of_the_lock_in_the_last_moment_is_not_followed(
    truck: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    other, lock = truck.with_name("other.txt"), truck.with_name(".truck.toml.lock")
    other.write_text("keep me")
    odd_lock(lock, "a link", other)
    with monkeypatch.context() as patch:
        patch.setattr(os, "lstat", os.stat)  # the look before saw something else
        assert call(capsys, "change", truck, WHEELBASE, "--apply")[0] == 2
    assert other.read_text() == "keep me" and in_step(truck)


def test_of_many_programs_that_change_one_file_none_overwrites_another_unseen(truck: Path) -> None:
    entries = len(read_diary(truck).entries)
    told = [sys.executable, "-m", "planner", "change", str(truck)]
    programs = [
        subprocess.Popen([*told, f"vehicle.{name}=71 in", "--apply"], cwd=ROOT, stdout=-3, stderr=subprocess.PIPE)
        for name in KEYS
    ]
    said = [program.communicate(timeout=120)[1].decode() for program in programs]
    made = [program.returncode != 2 for program in programs]
    for name, was_made, words in zip(KEYS, made, said, strict=True):
        assert (f'{name} = "71 in"' in truck.read_text()) == was_made
        assert was_made or "changed by another program" in words or "another program is saving" in words
    assert any(made) and len(read_diary(truck).entries) == entries + sum(made)
    assert in_step(truck)


def test_what_was_typed_between_reading_and_saving_is_not_written_over(
    truck: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """An editor takes no lock: it saves while the change is being tried."""
    from planner.commands import change as command

    real = command.make

    def meanwhile(*given: Any) -> Any:
        truck.write_bytes(truck.read_bytes() + b"# typed meanwhile\n")
        return real(*given)

    monkeypatch.setattr(command, "make", meanwhile)
    code, _, err = call(capsys, "change", truck, WHEELBASE, "--apply")
    assert code == 2 and "changed by another program" in err
    assert truck.read_text().endswith("# typed meanwhile\n") and "113 in" not in truck.read_text()


@pytest.mark.parametrize("year", [1970, 1999, 9000])
def test_a_clock_that_is_wrong_stops_no_save(
    truck: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, year: int
) -> None:
    import datetime as real

    class Clock(real.datetime):
        @classmethod
        def now(cls, tz: real.tzinfo | None = None) -> "Clock":
            return cls(year, 1, 1, tzinfo=tz)

    monkeypatch.setattr("planner.project.diary_writing.datetime.datetime", Clock)
    assert call(capsys, "change", truck, WHEELBASE, "--apply")[0] in (0, 1)
    monkeypatch.undo()
    assert in_step(truck)
    assert call(capsys, "diary", truck, "undo")[0] == 0
    assert in_step(truck) and '"112 1/2 in ± 1/2 in"' in truck.read_text()
