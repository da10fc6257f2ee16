"""Opened on nothing, on a file that is not there, and on one that cannot be read: how a project is begun or found."""

import json
import os
import pty
import shutil
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest
from calling import call
from screens_visit import PROJECTS, copied, sit, visit

import planner
from planner.project.examples import copied as example_copied
from planner.project.examples import examples
from planner.project.reading import read_project
from planner.project.recent import MOST, opened, recent, state_file
from planner.project.saving import NotSaved
from planner.project.source import LARGEST_FILE

ROOT = Path(__file__).parents[2]


@pytest.fixture(autouse=True)
def own_folder(tmp_path, monkeypatch):
    """A folder to be in, and a state folder, of the test's own."""
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    folder = tmp_path / "here"
    folder.mkdir()
    monkeypatch.chdir(folder)
    return folder


def test_a_project_is_begun_by_keyboard_and_the_file_goes_by_the_trucks_name(own_folder):
    async def story():
        async with visit(None) as here:
            assert "Start a new project" in here.screen
            await here.press("enter")
            await here.type("The dump truck")
            await here.press("tab", "space", "enter")
            assert here.app.screen.PLACE == "ask" and "The dump truck" in here.screen

    sit(story())
    path = own_folder / "the-dump-truck.toml"
    said = tomllib.loads(path.read_text())["vehicle"]
    assert (said["name"], said["units"]) == ("The dump truck", "metric")
    assert recent() == [path]


def test_a_project_is_begun_with_the_mouse(own_folder):
    async def story():
        async with visit(None) as here:
            row_list = here.app.screen.query_one("#rows")
            await here.pilot.click(row_list, offset=(4, 0))
            await here.settle()
            await here.pilot.click("#units")
            await here.pilot.click("#go")
            await here.settle()
            assert here.app.screen.PLACE == "ask"

    sit(story())
    assert tomllib.loads((own_folder / "my-truck.toml").read_text())["vehicle"]["units"] == "metric"


def test_a_file_that_is_there_is_never_begun_over(own_folder):
    (own_folder / "my-truck.toml").write_text("# mine\n")

    async def story():
        async with visit(None) as here:
            await here.press("enter", "enter")
            assert "already a file" in here.screen
            await here.press("escape")

    sit(story())
    assert (own_folder / "my-truck.toml").read_text() == "# mine\n"


def test_a_project_opened_before_is_one_key_away(own_folder):
    path = copied(own_folder, "just-begun")
    opened(path)
    opened(own_folder / "gone.toml")

    async def story():
        async with visit(None) as here:
            assert "gone.toml" not in here.screen
            here.point_at("just-begun.toml")
            await here.press("enter")
            assert "The shed pickup" in here.screen

    sit(story())


def test_a_project_is_opened_by_its_path(own_folder):
    copied(own_folder, "just-begun")

    async def story():
        async with visit(None) as here:
            await here.press("down", "enter")
            await here.type("nowhere.toml")
            await here.press("enter")
            assert "there's no file" in here.screen
            await here.type("just-begun.toml")
            await here.press("enter")
            assert "The shed pickup" in here.screen

    sit(story())


def test_an_example_is_looked_at_as_a_copy_that_is_the_persons_own(own_folder):
    before = {path.name: path.read_bytes() for path in PROJECTS.iterdir()}

    async def story():
        async with visit(None) as here:
            here.point_at("The shed pickup")
            await here.press("enter")
            assert here.app.state.source.path == own_folder / "just-begun.toml"
            assert any("a copy" in one for one in here.said)
            await here.go("vehicle")
            here.point_at("wheelbase")
            await here.press("enter")
            await here.type("111 in")
            await here.press("enter")

    sit(story())
    assert '"111 in ± 1/2 in"' in (own_folder / "just-begun.toml").read_text()
    assert {path.name: path.read_bytes() for path in PROJECTS.iterdir()} == before


def test_a_second_copy_of_an_example_has_a_name_and_a_diary_of_its_own(own_folder):
    county = next(one for one in examples() if one.path.name.startswith("county"))
    (own_folder / "county-road-4x4.diary.jsonl").write_text("somebody's\n")
    path = example_copied(county.path, own_folder)
    assert path.name == "county-road-4x4-2.toml"
    assert sorted(one.name for one in own_folder.iterdir()) == [
        "county-road-4x4-2.diary.jsonl",
        "county-road-4x4-2.toml",
        "county-road-4x4.diary.jsonl",
    ]
    assert read_project(path).project.vehicle.name == county.title
    with pytest.raises(NotSaved, match="no such file or folder"):
        example_copied(county.path, own_folder / "nowhere")


def test_every_example_in_projects_comes_with_an_installed_planner():
    packaged = Path(planner.__file__).parent / "examples"
    assert packaged.is_symlink() and os.readlink(packaged) == "../projects"
    built = tomllib.loads((ROOT / "pyproject.toml").read_text())["tool"]["setuptools"]["package-data"]
    endings = {path.suffix for path in PROJECTS.iterdir()}
    assert endings == {one.removeprefix("*") for one in built["planner.examples"]}
    assert {one.path.name for one in examples()} == {path.name for path in PROJECTS.glob("*.toml")}
    screens = {path.suffix for path in (ROOT / "planner" / "screens").rglob("*") if path.is_file()} - {".py", ".pyc"}
    assert screens <= {one.removeprefix("*") for one in built["*"]}, "the screens' styles are in the wheel too"


def test_a_file_that_is_not_there_is_offered_to_be_begun(own_folder):
    path = own_folder / "new.toml"

    async def story():
        async with visit(path) as here:
            assert "THERE IS NO SUCH FILE" in here.screen
            await here.press("b")
            assert here.app.screen.query_one("#file").value == str(path)
            await here.press("enter")
            assert here.app.screen.PLACE == "ask"

    sit(story())
    assert path.exists()


def test_what_is_wrong_in_a_file_is_told_with_its_line_and_it_is_read_again(own_folder):
    path = copied(own_folder, "just-begun")
    sound = path.read_text()
    path.write_text(sound.replace('"112 in ± 1/2 in"', '"112 in ± 1/2 in'))

    async def story():
        async with visit(path, (120, 24)) as here:
            assert "just-begun.toml:10: the text isn't closed" in " ".join(here.screen.split())
            await here.press("m")
            assert "Start a new project" in here.screen
            await here.press("down", "enter")
            await here.type("just-begun.toml")
            await here.press("enter")
            assert "the text isn't closed" in " ".join(here.screen.split())
            path.write_text(sound)
            await here.press("r")
            assert here.app.screen.PLACE == "overview"

    sit(story())


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"\x00\xff",
        b"[" * 100_000,
        b"[]",
        b'{"projects": {}}',
        b'{"projects": [1, null, "", "relative.toml", "/\\u0000", "/\\ud800", "/nowhere/\\u001b[2J.toml"]}',
        b'{"projects": ["/etc", "/dev/zero", "/' + b"x" * 9000 + b'"]}',
        b"x" * (LARGEST_FILE + 1),
    ],
)
def test_whatever_stands_in_the_list_of_projects_it_harms_nothing(own_folder, content):
    state_file().parent.mkdir(parents=True)
    state_file().write_bytes(content)
    assert recent() == []
    path = copied(own_folder, "just-begun")
    opened(path)
    assert recent() == [path]


def test_the_list_of_projects_is_short_and_has_each_once(own_folder):
    for number in range(2 * MOST):
        path = own_folder / f"{number}.toml"
        path.touch()
        opened(path)
    opened(own_folder / "20.toml")
    assert [one.name for one in recent()][:3] == ["20.toml", "23.toml", "22.toml"]
    assert len(json.loads(state_file().read_text())["projects"]) == MOST


def test_a_state_folder_that_cannot_be_written_stops_nothing(own_folder, monkeypatch, tmp_path):
    (tmp_path / "state").write_text("a file, not a folder")
    opened(own_folder / "truck.toml")
    assert recent() == []
    monkeypatch.setenv("XDG_STATE_HOME", "relative")
    assert state_file().is_relative_to(Path.home())


def test_without_a_terminal_nothing_is_opened_and_the_help_is_printed(capsys):
    code, out, err = call(capsys)
    assert (code, err) == (0, "") and "usage: planner COMMAND" in out


def test_in_a_terminal_the_bare_command_opens_the_menu(own_folder):
    terminal, theirs = pty.openpty()
    environment = {**os.environ, "TERM": "xterm-256color", "PYTHONPATH": str(ROOT)}
    program = subprocess.Popen(
        [sys.executable, "-m", "planner"], stdin=theirs, stdout=theirs, stderr=theirs, env=environment, cwd=own_folder
    )
    os.close(theirs)
    painted = b""
    try:
        while b"Start a new project" not in painted:
            painted += os.read(terminal, 65536)
    finally:
        program.kill()
        program.wait()
        os.close(terminal)
    shutil.rmtree(own_folder)
