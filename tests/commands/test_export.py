"""`planner export`: what stands in the tables, that they come out the same, and what they never replace."""

import csv
import os
import stat
from pathlib import Path

import pytest
from calling import call, one_line
from changing_truck import COUNTY

PROJECTS = Path(__file__).parents[2] / "projects"
FILES = ["figures.csv", "flags.csv", "parts.csv", "readings.csv", "tasks.csv"]
NOON = "1795608000"  # 25 November 2026


@pytest.fixture
def truck(tmp_path, monkeypatch) -> Path:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", NOON)
    path = tmp_path / "truck.toml"
    path.write_bytes((PROJECTS / "just-begun.toml").read_bytes())
    return path


def rows(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8-sig", newline="") as file:
        return list(csv.DictReader(file))


def standing(folder: Path) -> dict[str, bytes]:
    return {one.name: one.read_bytes() for one in sorted(folder.iterdir())}


def refused(capsys, truck: Path, folder: Path, words: str) -> None:
    before = standing(folder) if folder.is_dir() else None
    code, out, err = call(capsys, "export", truck, "-o", folder)
    assert (code, out) == (2, "") and one_line(err) and words in err, err
    assert before is None or standing(folder) == before


def test_the_first_example_comes_out_in_five_tables(capsys, tmp_path, monkeypatch):
    monkeypatch.setenv("SOURCE_DATE_EPOCH", NOON)
    code, out, err = call(capsys, "export", COUNTY, "-o", tmp_path / "t")
    assert (code, err) == (0, "") and "figures.csv: " in out and sorted(standing(tmp_path / "t")) == FILES
    figures = rows(tmp_path / "t" / "figures.csv")
    front = next(one for one in figures if one["figure"] == "wheel.backspace" and one["axle"] == "front")
    # 4 3/4 in ± 1/32 in
    assert [float(front[name]) for name in ("low", "value", "high")] == pytest.approx([4.71875, 4.75, 4.78125])
    assert (front["unit"], front["fitment"]) == ("in", "tall")
    poke = next(one for one in figures if one["figure"] == "wheel.poke" and one["axle"] == "rear")
    assert float(poke["value"]) < 0  # as a number, with no mark before it
    flags = rows(tmp_path / "t" / "flags.csv")
    brake = next(one for one in flags if one["rule"] == "brakes.barrel_near_brake" and one["where"] == "rear")
    assert (brake["severity"], brake["answer"], brake["unit"]) == ("stop", "too close to call", "in")
    assert float(brake["margin low"]) < 0 < float(brake["margin"]) < float(brake["margin high"])
    tasks = rows(tmp_path / "t" / "tasks.csv")
    assert {"id": "safe.local_code", "state": "done", "hold point": "yes"}.items() <= tasks[0].items()
    parts = rows(tmp_path / "t" / "parts.csv")
    # five wheels at 285 USD
    assert (parts[0]["id"], parts[0]["total"], parts[0]["currency"]) == ("wheels", "1425", "USD")
    readings = rows(tmp_path / "t" / "readings.csv")
    assert {
        "entry": "wheelbase", "key": "vehicle.wheelbase", "value": "118 in ± 1/4 in", "by": "owner", "on": "2026-04-11"
    }.items() <= readings[0].items()  # fmt: skip


def test_the_same_project_on_the_same_day_comes_out_in_the_same_bytes_over_its_own_files(capsys, truck):
    folder = truck.with_name("truck-export")
    assert call(capsys, "export", truck)[0] == 0
    first = standing(folder)
    assert sorted(first) == FILES
    assert call(capsys, "export", truck.with_name("truck"))[0] == 0
    assert standing(folder) == first


def test_a_file_that_was_changed_since_or_is_another_is_not_replaced(capsys, truck):
    folder = truck.with_name("truck-export")
    call(capsys, "export", truck)
    readings = folder / "readings.csv"
    readings.write_bytes(readings.read_bytes().replace(b"112 in", b"113 in"))
    refused(capsys, truck, folder, "readings.csv: it was changed since it was exported; nothing is exported")
    readings.unlink()
    (folder / "parts.csv").write_text("mine,too\n")
    refused(capsys, truck, folder, "parts.csv: another file is there")


def test_nothing_goes_through_a_link_or_to_a_device(capsys, truck, tmp_path):
    folder, aim = tmp_path / "t", tmp_path / "aim"
    folder.mkdir()
    aim.write_text("mine")
    (folder / "tasks.csv").symlink_to(aim)
    refused(capsys, truck, folder, "tasks.csv: that is a link")
    (folder / "tasks.csv").unlink()
    os.mkfifo(folder / "tasks.csv")
    code, _, err = call(capsys, "export", truck, "-o", folder)
    assert code == 2 and one_line(err) and "a pipe, a socket or a device" in err
    assert aim.read_text() == "mine" and sorted(one.name for one in folder.iterdir()) == ["tasks.csv"]
    (folder / "tasks.csv").unlink()
    (tmp_path / "linked").symlink_to(folder)
    refused(capsys, truck, tmp_path / "linked", "there's a link there")


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("no/such/place", "there is no such file or folder"),
        ("truck.toml", "that isn't a folder"),
        ("a\0b", "file name"),
    ],
)
def test_a_folder_that_cannot_be_written_is_told_in_one_line(capsys, truck, tmp_path, name, words):
    refused(capsys, truck, tmp_path / name, words)


def test_a_disk_that_fails_leaves_no_half_of_a_file_and_no_folder(capsys, truck, tmp_path, monkeypatch):
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("planner.commands.export.put_file", full)
    refused(capsys, truck, tmp_path / "t", "the disk is full")
    assert not (tmp_path / "t").exists()


def test_a_project_with_a_fault_is_not_exported_as_if_it_were_whole(capsys, truck, tmp_path):
    truck.write_text(truck.read_text() + '[axles.rear]\nrating = "12 parsecs"\n')
    code, out, err = call(capsys, "export", truck, "-o", tmp_path / "t")
    assert (code, out) == (2, "") and "axles.rear.rating" in err and not (tmp_path / "t").exists()


def test_an_empty_project_gives_tables_too(capsys, tmp_path):
    path = tmp_path / "bare.toml"
    path.write_text("format = 2\n")
    assert call(capsys, "export", path)[0] == 0
    assert rows(tmp_path / "bare-export" / "readings.csv") == rows(tmp_path / "bare-export" / "parts.csv") == []


def test_what_a_person_wrote_starts_no_formula_and_drives_no_terminal(capsys, truck, tmp_path):
    odd = '[[parts]]\nid = "a"\ntitle = "=cmd|\'/c calc\'!A0"\nsource = "\\u001b[2J"\nnote = "-1+1"\n'
    truck.write_text(truck.read_text() + odd)
    assert call(capsys, "export", truck, "-o", tmp_path / "t")[0] == 0
    part = rows(tmp_path / "t" / "parts.csv")[0]
    assert (part["title"], part["source"], part["note"]) == ("'=cmd|'/c calc'!A0", "\\x1b[2J", "'-1+1")


@pytest.mark.skipif(os.name == "nt", reason="permissions are others there")
def test_what_stands_beside_a_private_project_is_private(capsys, truck):
    truck.chmod(0o600)
    call(capsys, "export", truck)
    for path in truck.with_name("truck-export").iterdir():
        assert stat.S_IMODE(path.stat().st_mode) == 0o600
