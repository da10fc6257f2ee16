"""Wherever a save is cut off or fails, project and diary were both written or neither, and the next one knows."""

import errno
import multiprocessing
import os
import shutil
import tomllib
from pathlib import Path
from typing import Any

import pytest
from diary_truck import TRUCK, change, sound, three
from trust.cut_off import counted

from planner.project import diary, diary_reading, diary_writing
from planner.project.diary import commit
from planner.project.diary_reading import Diary, diary_path, read_diary
from planner.project.faults import Faulty
from planner.project.saving import Busy, CannotSave, ChangedOutside, NotSaved
from planner.project.source import load


@pytest.fixture
def truck(tmp_path: Path) -> Path:
    path = tmp_path / "truck.toml"
    path.write_text(TRUCK, encoding="utf-8")
    return path


BEGUN = ["none", "begun", "torn", "unended", "hand edit"]


@pytest.mark.parametrize(
    "apart", [pytest.param(5 * len(BEGUN), marks=pytest.mark.shortened), pytest.param(2, marks=pytest.mark.slow)]
)
@pytest.mark.parametrize("begun", BEGUN)
def test_wherever_the_program_is_killed_the_next_one_knows_what_was_done(
    tmp_path: Path, begun: str, apart: int
) -> None:
    for turn in range(BEGUN.index(begun) % apart, 200, apart):  # so that each call is tried with two of them or three
        truck, old = prepared(tmp_path / str(turn), begun)
        child = os.fork()
        if child == 0:
            try:
                for name, call in counted(lambda name: os._exit(9), turn).items():
                    setattr(os, name, call)
                change(truck, "9 in", because="why")
                os._exit(0)
            finally:
                os._exit(1)
        _, status = os.waitpid(child, 0)
        assert os.waitstatus_to_exitcode(status) in (0, 9), turn
        now = truck.read_text()
        assert now in (old, old.replace("1 in", "9 in")), turn
        read_diary(truck)
        change(truck, "10 in")
        diary = sound(truck)
        ours = [at for at, entry in enumerate(diary.entries) if entry.because == "why"]
        if now != old:
            assert len(ours) == 1
        for at in ours:
            undone = diary.entries[at + 1].kind == "not done"
            assert undone == (now == old), turn
        if os.waitstatus_to_exitcode(status) == 0:
            break
    else:
        pytest.fail("the save never came to its end")
    assert turn > 20


def prepared(folder: Path, begun: str) -> tuple[Path, str]:
    """The truck in a folder of its own: a copy of the one that was made so first."""
    first = folder.parent / "first"
    if not first.exists():
        _prepare(first, begun)
    shutil.copytree(first, folder)
    truck = folder / "truck.toml"
    return truck, truck.read_text()


def _prepare(folder: Path, begun: str) -> None:
    folder.mkdir()
    truck = folder / "truck.toml"
    truck.write_text(TRUCK.replace("145 in ± 1/2 in", "1 in"))
    diary = diary_path(truck)
    if begun != "none":
        change(truck, "2 in")
        change(truck, "1 in")
    if begun == "torn":
        diary.write_bytes(diary.read_bytes() + b'{"sum":"12')
    if begun == "unended":
        diary.write_bytes(diary.read_bytes()[:-1])
    if begun == "hand edit":
        truck.write_text(truck.read_text() + "# by hand\n")


@pytest.mark.parametrize(
    "code", [errno.ENOSPC, *(pytest.param(code, marks=pytest.mark.slow) for code in (errno.EIO, errno.EACCES))]
)
@pytest.mark.parametrize("begun", ["none", "begun", "torn", "hand edit"])
def test_whichever_call_fails_both_files_are_written_or_neither(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, begun: str, code: int
) -> None:
    def fails(name: str) -> None:
        failed.append(name)
        raise OSError(code, os.strerror(code))

    failed: list[str] = []
    for turn in range(200):
        truck, old = prepared(tmp_path / str(turn), begun)
        entries = read_diary(truck).entries
        before, problem = len(failed), None
        with monkeypatch.context() as patch:
            for name, call in counted(fails, turn).items():
                patch.setattr(os, name, call)
            try:
                change(truck, "9 in")
            except (NotSaved, Faulty) as error:
                problem = error
        assert truck.read_text() == (old if problem else old.replace("1 in", "9 in")), (turn, failed[-1:])
        assert problem is None or str(problem).isprintable()
        after = read_diary(truck).entries
        if problem:
            assert after == entries, (turn, failed[-1:])
        else:
            assert after[-1].kind == "change"
        change(truck, "10 in")
        sound(truck)
        if len(failed) == before:
            break
    else:
        pytest.fail("the save never came to its end")
    assert {"open", "write", "fsync", "close", "replace"} <= set(failed)


def test_an_interrupted_save_takes_its_entry_back(truck: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def interrupted(*rest: object) -> None:
        raise KeyboardInterrupt

    raw, _ = three(truck)
    with monkeypatch.context() as patch:
        patch.setattr(os, "replace", interrupted)
        with pytest.raises(KeyboardInterrupt):
            change(truck, "4 in")
    assert diary_path(truck).read_bytes() == raw
    sound(truck)


def test_a_change_by_another_program_meanwhile_is_noticed_and_the_entry_taken_back(
    truck: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    raw, _ = three(truck)
    real = os.fsync

    def meanwhile(handle: int) -> None:
        real(handle)
        truck.write_text("mine = 1\n")

    with monkeypatch.context() as patch:
        patch.setattr(os, "fsync", meanwhile)
        with pytest.raises(ChangedOutside):
            change(truck, "4 in")
    assert (truck.read_text(), diary_path(truck).read_bytes()) == ("mine = 1\n", raw)
    assert {found.name for found in truck.parent.iterdir()} == {"truck.toml", "truck.diary.jsonl", ".truck.toml.lock"}


def test_what_a_program_adds_without_asking_for_the_lock_is_never_cut_off(
    truck: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    raw, _ = three(truck)

    def meanwhile(path: Path, end: Diary, target: Path) -> None:
        diary_path(truck).write_bytes(raw + b"mine\n")

    with monkeypatch.context() as patch:
        patch.setattr(diary, "set_aside", meanwhile)
        with pytest.raises(CannotSave, match="its diary was changed by another program"):
            change(truck, "4 in")
    assert diary_path(truck).read_bytes() == raw + b"mine\n"
    assert '"3 in"' in truck.read_text()


def test_the_entry_is_on_the_disk_before_the_project_is_touched(truck: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    change(truck, "1 in")
    done = []
    replace, fsync = os.replace, os.fsync

    def replaced(*given: Any) -> None:
        done.append("replace")
        replace(*given)

    def synced(handle: int) -> None:
        done.append(os.path.basename(os.readlink(f"/proc/self/fd/{handle}")))
        fsync(handle)

    with monkeypatch.context() as patch:
        patch.setattr(os, "replace", replaced)
        patch.setattr(os, "fsync", synced)
        change(truck, "2 in")
    assert done.index("truck.diary.jsonl") < done.index("replace")


def test_a_diary_that_cannot_be_written_leaves_the_project_alone(
    truck: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    diary = diary_path(truck)
    diary.mkdir()
    with pytest.raises(CannotSave, match="isn't an ordinary file"):
        change(truck, "1 in")
    diary.rmdir()
    os.mkfifo(diary)
    with pytest.raises(CannotSave, match="isn't an ordinary file"):
        change(truck, "1 in")
    diary.unlink()
    precious = tmp_path / "precious"
    precious.write_text("mine\n")
    diary.symlink_to(precious)
    with pytest.raises(CannotSave, match="is a link"):
        change(truck, "1 in")
    assert precious.read_text() == "mine\n"
    diary.unlink()
    change(truck, "1 in")
    monkeypatch.setattr(diary_writing, "LARGEST_DIARY", 1000)
    with pytest.raises(CannotSave, match="its diary is full"):
        change(truck, "2 in")
    monkeypatch.setattr(diary_reading, "LARGEST_DIARY", 100)
    with pytest.raises(CannotSave, match="too large"):
        change(truck, "2 in")
    assert '"1 in"' in truck.read_text()


def count_up(path: Path, times: int) -> None:
    done = 0
    while done < times:
        source = load(path)
        try:
            commit(
                source, f"count = {tomllib.loads(source.text)['count'] + 1}\n", kind="change", because=str(os.getpid())
            )
            done += 1
        except (ChangedOutside, Busy):
            continue


def test_two_programs_on_one_project_lose_neither_a_change_nor_an_entry(tmp_path: Path) -> None:
    truck = tmp_path / "truck.toml"
    truck.write_text("count = 0\n")
    context = multiprocessing.get_context("spawn")
    programs = [context.Process(target=count_up, args=(truck, 40)) for _ in range(2)]
    for program in programs:
        program.start()
    for program in programs:
        program.join(120)
    assert [program.exitcode for program in programs] == [0, 0]
    entries = sound(truck).entries
    assert [entry.kind for entry in entries] == ["began"] + ["change"] * 80
    assert [entry.moved[0].now for entry in entries[1:]] == list(range(1, 81))
