"""What becomes of a command's output: onto a full disk, into a closed pipe, as JSON that a terminal may show."""

import json
import os
import subprocess
import sys
from datetime import date
from pathlib import Path

import pytest
from calling import call, one_line

from planner.commands.page import as_json

ROOT = Path(__file__).parents[2]
PROJECTS = ROOT / "projects"
COUNTY = PROJECTS / "county-road-4x4.toml"
BEGUN = PROJECTS / "just-begun.toml"


def planner(words: str, **streams: object) -> subprocess.CompletedProcess[str]:
    told = [sys.executable, "-m", "planner", *words.split()]
    return subprocess.run(told, text=True, cwd=ROOT, timeout=60, **streams)  # type: ignore[call-overload]


@pytest.mark.skipif(not os.path.exists("/dev/full"), reason="no such device here")
@pytest.mark.parametrize("words", [f"check {COUNTY}", f"check {BEGUN} --json", "--help", "check --help"])
def test_a_full_disk_is_told_in_one_line(words):
    with open("/dev/full", "w") as full:
        done = planner(words, stdout=full, stderr=subprocess.PIPE)
    assert done.returncode == 2
    assert done.stderr == "planner: can't write the output: the disk is full\n"


def test_whoever_stops_reading_is_told_nothing():
    read, write = os.pipe()
    os.close(read)
    done = planner(f"check {COUNTY}", stdout=write, stderr=subprocess.PIPE)
    os.close(write)
    assert (done.returncode, done.stderr) == (0, "")


def test_where_nobody_can_be_told_the_exit_code_still_says_it():
    with open("/dev/full", "w") as full:
        assert planner("check nowhere.toml", stderr=full).returncode == 2


@pytest.mark.parametrize("closed", ["<&-", ">&-", "2>&-", ">&- 2>&-"])
def test_closed_streams_stop_no_command(closed):
    told = f"'{sys.executable}' -m planner check '{BEGUN}' {closed}"
    assert subprocess.run(["sh", "-c", told], capture_output=True, timeout=60, cwd=ROOT).returncode == 1


def test_json_is_read_back_as_it_was_written_and_drives_no_terminal():
    odd = "½ \x1b[31m \x9b2J \u202e \U000e0041 \x7f é\u0301 \U0001f600"
    shown = as_json({odd: [odd, date(2026, 3, 14)]})
    assert json.loads(shown) == {odd: [odd, "2026-03-14"]}
    assert all(row.isprintable() for row in shown.split("\n"))
    assert "½" in shown and "é\u0301 \U0001f600" in shown  # what is legible stays so


def test_a_day_is_written_in_json_as_in_the_file(capsys, tmp_path):
    path = tmp_path / "truck.toml"
    path.write_text("format = 1\n", encoding="utf-8")
    call(capsys, "change", path, "plan.start=2026-03-14", "--apply", "--because", "spring")
    _, out, _ = call(capsys, "diary", path, "--json")
    assert "2026-03-14" in str(json.loads(out))


def test_more_candidates_than_anybody_reads_are_not_compared(capsys, tmp_path):
    path = tmp_path / "truck.toml"
    path.write_text("format = 1\n" + "".join(f"[fitments.f{n}]\n" for n in range(9)), encoding="utf-8")
    code, _, err = call(capsys, "compare", path)
    assert code == 2 and one_line(err) and "name no more than 8" in err
    assert call(capsys, "compare", path, "f1", "f2")[0] == 0
