"""Bytes that are no text, where a text belongs: refused at the door in one line; only a file may be named so."""

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest
from calling import call, one_line
from trust.hostile_files import BASES

ROOT = Path(__file__).parents[2]
ODD = os.fsdecode(b"caf\xe9 \xff")
EVERY = [
    ["accept", "FILE", ODD],
    ["accept", "FILE", "tire.age", ODD, "--because", "x"],
    ["accept", "FILE", "tire.age", "--because", ODD],
    ["again", "FILE", ODD],
    ["again", "FILE", "decisions[0]", "--because", ODD],
    ["change", "FILE", f"vehicle.name={ODD}", "--apply"],
    ["change", "FILE", f"vehicle.{ODD}=3 in", "--apply"],
    ["change", "FILE", "vehicle.wheelbase=113 in", "--because", ODD, "--apply"],
    ["compare", "FILE", ODD],
    ["diary", "FILE", "undo", "--because", ODD],
    ["figure", "wheel.offset", f"backspace={ODD}"],
    ["figure", ODD],
    ["new", "NEW", "--name", ODD],
    ["print", "FILE", ODD],
    ["print", "FILE", "checklist", "--phase", ODD],
    ["task", "FILE", "add", ODD, "--phase", "fit"],
    ["task", "FILE", "add", "x", "--phase", "fit", "--note", ODD],
    ["task", "FILE", "add", "x", "--phase", "fit", "--after", ODD],
    ["task", "FILE", "add", "x", "--phase", "fit", "--id", ODD],
    ["task", "FILE", "tick", "measure.wheelbase", ODD],
    ["task", "FILE", "tick", "measure.wheelbase", "--note", ODD],
    ["why", "FILE", ODD],
    [ODD],
]


@pytest.mark.parametrize("words", EVERY, ids=lambda words: re.sub(r"\W+", "_", " ".join(map(ascii, words))))
def test_what_is_no_text_is_refused_in_one_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], words: list[str]
) -> None:
    path, new = tmp_path / "truck.toml", tmp_path / "new.toml"
    path.write_bytes(BASES["just-begun"])
    code, out, err = call(capsys, *(word.replace("FILE", str(path)).replace("NEW", str(new)) for word in words))
    assert code == 2 and not out and one_line(err) and err.isascii(), (code, err)
    assert r"\udcff" in err and (len(words) == 1 or "planner" in err)
    assert os.listdir(tmp_path) == ["truck.toml"] and path.read_bytes() == BASES["just-begun"]


def test_it_is_so_from_a_shell_too(tmp_path: Path) -> None:
    path = tmp_path / "truck.toml"
    path.write_bytes(BASES["just-begun"])
    told = [sys.executable, "-m", "planner", "task", str(path), "add", b"x", "--phase", "fit", "--note", b"\xff"]
    done = subprocess.run(told, cwd=ROOT, capture_output=True, timeout=120)
    assert done.returncode == 2 and b"has bytes that aren't text" in done.stderr and not done.stdout


@pytest.mark.skipif(os.name == "nt", reason="names of files are text there")
def test_a_file_may_have_any_name_that_the_disk_gives_it(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path, sheet = tmp_path / os.fsdecode(b"\xff.toml"), tmp_path / os.fsdecode(b"\xfe.txt")
    assert call(capsys, "new", path)[0] == 0
    assert call(capsys, "change", path, "vehicle.wheelbase=113 in", "--apply")[0] in (0, 1)
    assert call(capsys, "print", path, "measuring", "--text", "-o", sheet)[0] == 0
    assert call(capsys, "diary", path)[0] == 0
    assert sheet.exists()


@pytest.mark.parametrize("fault", [KeyError("x"), ValueError("x"), UnicodeEncodeError("utf-8", "x", 0, 1, "x")])
def test_a_fault_of_our_own_is_called_so_and_exits_with_70(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, fault: Exception
) -> None:
    import planner.commands.check as command

    def broken(*_: object) -> None:
        raise fault

    monkeypatch.delenv("PLANNER_TRACEBACK", raising=False)
    monkeypatch.setattr(command, "as_data", broken)
    (tmp_path / "truck.toml").write_bytes(BASES["just-begun"])
    code, out, err = call(capsys, "check", tmp_path / "truck.toml", "--json")
    assert code == 70 and not out and one_line(err) and f"a bug in the planner ({type(fault).__name__}: " in err


def test_only_named_exceptions_are_caught_but_at_the_outermost_door() -> None:
    """What cleans up and raises again catches all there is, and nothing else does."""
    caught = re.compile(r"^( *)except(?: \(?(?:Base)?Exception\b.*)?:.*\n((?:\1 +.*\n|\n)*)", re.MULTILINE)
    swallowed = [
        (path.relative_to(ROOT).as_posix(), found[0])
        for path in sorted((ROOT / "planner").rglob("*.py"))
        for found in caught.finditer(path.read_text(encoding="utf-8"))
        if not re.search(rf"^{found[1]}    raise$", found[2], re.MULTILINE)
    ]
    assert not [one for one in swallowed if one[0] != "planner/commands/table.py"]
