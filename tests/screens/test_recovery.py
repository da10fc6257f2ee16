"""What is typed and not accepted: it outlives the program, is offered again, and goes when it is done with."""

import json
import os
import pty
import signal
import subprocess
import sys
import time
import tomllib
from contextlib import suppress
from pathlib import Path
from threading import Thread

import pytest
from screens_visit import copied, sit, visit

from planner.project.drafts import MOST, drafts_path, keep, kept, let_go
from planner.project.source import LARGEST_FILE
from planner.screens.widgets.editor import Editor

ROOT = Path(__file__).parents[2]
PATIENCE = 20.0  # seconds


def typed(path):
    return [(one.key, one.text, one.because) for one in kept(path)]


def test_what_is_typed_is_kept_at_every_key_and_goes_when_it_is_accepted(tmp_path):
    path = copied(tmp_path, "just-begun")

    async def story():
        async with visit(path) as here:
            await here.go("vehicle")
            here.point_at("wheelbase")
            await here.press("enter")
            assert not drafts_path(path).exists(), "looking at an entry is no typing"
            await here.type("11")
            assert typed(path) == [("vehicle.wheelbase", "11 ± 1/2 in", "")]
            await here.type("111 in")
            assert typed(path) == [("vehicle.wheelbase", "111 in ± 1/2 in", "")]
            await here.press("enter")
            assert not drafts_path(path).exists()

    sit(story())
    assert tomllib.loads(path.read_text())["vehicle"]["wheelbase"] == "111 in ± 1/2 in"
    assert sorted(one.name for one in tmp_path.iterdir() if "typed" in one.name) == []


def test_what_is_left_with_escape_is_not_offered_again(tmp_path):
    path = copied(tmp_path, "just-begun")

    async def story():
        async with visit(path) as here:
            await here.go("vehicle")
            here.point_at("wheelbase")
            await here.press("enter")
            await here.type("111 in")
            await here.press("escape")
            assert typed(path) == []

    sit(story())


def test_what_was_typed_when_the_program_was_left_is_taken_up_at_the_next_start(tmp_path):
    path = copied(tmp_path, "just-begun")
    keep(path, "vehicle.wheelbase", "111 1/2 in ± 1/8 in", "both sides now")

    async def story():
        async with visit(path) as here:
            assert "You were typing" in here.screen and "111 1/2 in ± 1/8 in" in here.screen
            await here.press("enter")
            assert here.app.screen.PLACE == "vehicle"
            assert here.app.screen.query_one("#value").value == "111 1/2 in"
            assert here.app.screen.query_one("#because").value == "both sides now"
            await here.press("enter")

    sit(story())
    assert tomllib.loads(path.read_text())["vehicle"]["wheelbase"] == "111 1/2 in ± 1/8 in"
    assert typed(path) == []


def test_what_was_typed_can_be_thrown_away_or_left_for_later(tmp_path):
    path = copied(tmp_path, "just-begun")
    keep(path, "vehicle.wheelbase", "1 in")
    keep(path, "vehicle.year", "1949")

    async def story():
        async with visit(path) as here:
            await here.press("delete", "escape")
            assert here.app.screen.PLACE == "overview"

    sit(story())
    assert typed(path) == [("vehicle.year", "1949", "")]


def test_what_was_typed_for_an_entry_that_is_no_more_is_told_and_harms_nothing(tmp_path):
    path = copied(tmp_path, "just-begun")
    keep(path, "vehicle.[[[\x1b[31m", "x \x1b]0;y\x07")

    async def story():
        async with visit(path) as here:
            assert "\x1b" not in here.screen
            await here.press("enter")
            assert here.app.state is not None and "x \\x1b" in "".join(here.said)

    sit(story())


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"\xff\xfe",
        b"[" * 100_000,
        b"[]",
        b'{"typed": 3}',
        b'{"typed": [3]}',
        b'{"typed": [{"key": 1, "text": "a", "because": "", "at": ""}]}',
        b'{"typed": [{"key": "vehicle.year", "text": "' + b"9" * 5000 + b'", "because": "", "at": ""}]}',
        b"x" * (LARGEST_FILE + 1),
    ],
)
def test_what_is_no_file_of_ours_is_passed_over_and_written_over(tmp_path, content):
    project = tmp_path / "truck.toml"
    drafts_path(project).write_bytes(content)
    assert kept(project) == []
    assert keep(project, "vehicle.year", "1949") == ""
    assert typed(project) == [("vehicle.year", "1949", "")]


def test_what_was_typed_never_grows_without_end(tmp_path):
    project = tmp_path / "truck.toml"
    for number in range(3 * MOST):
        assert keep(project, f"k{number}", "x" * 10_000, "\x00" * 10_000) == ""
    assert drafts_path(project).stat().st_size <= LARGEST_FILE
    assert kept(project)[-1].key == f"k{3 * MOST - 1}"
    for one in kept(project):
        let_go(project, one.key)
    assert list(tmp_path.iterdir()) == []


def test_where_nothing_can_be_kept_it_is_said_once_and_typing_goes_on(tmp_path):
    path = copied(tmp_path, "just-begun")
    drafts_path(path).mkdir()  # as good as a folder that is not ours; root may write anywhere
    (drafts_path(path) / "in the way").touch()

    async def story():
        async with visit(path) as here:
            await here.go("vehicle")
            here.point_at("wheelbase")
            await here.press("enter")
            await here.type("111 in")
            assert sum("is lost here" in one for one in here.said) == 1
            await here.press("enter")

    sit(story())
    assert '"111 in ± 1/2 in"' in path.read_text()


def test_where_saving_fails_the_editor_stays_open_and_the_text_is_kept(tmp_path, monkeypatch):
    path = copied(tmp_path, "just-begun")

    def full(*_):
        raise OSError(28, "no space")

    async def story():
        async with visit(path) as here:
            await here.go("vehicle")
            here.point_at("wheelbase")
            await here.press("enter")
            await here.type("111 in")
            monkeypatch.setattr("planner.project.diary_writing._add", full)
            await here.press("enter")
            assert here.app.screen.query_one(Editor).is_open
            assert "the disk is full" in here.screen

    sit(story())
    assert "112 in" in path.read_text()
    assert typed(path) == [("vehicle.wheelbase", "111 in ± 1/2 in", "")]


def test_after_a_kill_what_was_typed_is_there(tmp_path):
    path = copied(tmp_path, "just-begun")
    before = path.read_bytes()
    terminal, theirs = pty.openpty()
    environment = {**os.environ, "TERM": "xterm-256color", "COLUMNS": "80", "LINES": "24", "PYTHONPATH": str(ROOT)}
    command = [sys.executable, "-m", "planner", "open", str(path)]
    program = subprocess.Popen(command, stdin=theirs, stdout=theirs, stderr=theirs, env=environment, cwd=tmp_path)
    os.close(theirs)
    painted = []
    Thread(target=painting, args=(terminal, painted), daemon=True).start()

    def shows(words):
        return until(lambda: words in "".join(painted))

    try:
        shows("not known")
        os.write(terminal, b"\x1b[19~")  # F8: the place after, the vehicle
        shows("VEHICLE")

        def begun():
            """A digit begins to write an entry over; on a flag it does nothing, and the cursor goes on."""
            os.write(terminal, b"\x1b[B1")
            time.sleep(0.5)
            return typed(path)

        until(begun)
        os.write(terminal, b"23 x")
        until(lambda: "23 x" in typed(path)[0][1])
        program.send_signal(signal.SIGKILL)
        program.wait(PATIENCE)
    finally:
        program.kill()
        os.close(terminal)
    assert path.read_bytes() == before
    assert json.loads(drafts_path(path).read_text())["typed"][0]["text"].find("23 x") > 0

    async def story():
        async with visit(path) as here:
            assert "You were typing" in here.screen and "23 x" in here.screen

    sit(story())


def until(so):
    for _ in range(int(PATIENCE / 0.05)):
        if so():
            return
        time.sleep(0.05)
    raise AssertionError("it never comes")


def painting(terminal, painted):
    """Takes what the program paints, which would stop where nobody does."""
    with suppress(OSError):
        while piece := os.read(terminal, 65536):
            painted.append(piece.decode("utf-8", errors="replace"))
