"""Back from an open project to the start menu, and on to another: nothing of the first is lost, or in the way."""

import asyncio
import time
import tomllib

import pytest
from screens_visit import LOOKS, copied, sit, visit

from planner.plan.change.changing import Setting
from planner.plan.state import accept, prepare
from planner.project.drafts import kept
from planner.screens.app.start_screen import StartScreen
from planner.screens.places.table import NAMES


@pytest.fixture
def path(tmp_path):
    return copied(tmp_path, "just-begun")


def test_a_key_leads_back_to_the_start_menu_where_the_project_is_the_first_of_those_opened_last(path):
    before = path.read_bytes()

    async def story():
        async with visit(path) as here:
            await here.press("ctrl+o")
            assert isinstance(here.app.screen, StartScreen) and here.app.state is None
            listed = [row.about for row in here.rows if row.about == path]
            assert listed == [path]
            here.point_at(path.name)
            await here.press("enter")
            assert here.app.screen.PLACE == "overview" and here.app.state.source.path == path

    sit(story())
    assert path.read_bytes() == before


@pytest.mark.parametrize(
    "names",
    [
        pytest.param(NAMES[::4], marks=pytest.mark.shortened, id="some"),
        pytest.param(NAMES, marks=pytest.mark.slow, id="all"),
    ],
)
def test_another_project_has_every_place_of_its_own(path, tmp_path, names):
    other = copied(tmp_path, "county-road-4x4")

    async def story():
        async with visit(path) as here:
            for name in names:
                await here.go(name)
            await here.press("ctrl+o")
            here.app.open(other)
            await here.settle()
            for name in names:
                await here.go(name)
                assert "County road truck" in here.screen
            assert len(here.app.screen_stack) == 2

    sit(story())


def test_what_is_being_typed_stays_kept_and_is_offered_when_the_project_is_opened_again(path):
    async def story():
        async with visit(path) as here:
            await here.go("vehicle")
            here.point_at("wheelbase")
            await here.press("enter")
            await here.type("111 m")
            assert here.app.screen.query_one("#value").value == "111 m", "a letter in a field is a letter"
            await here.press("ctrl+o")
            assert isinstance(here.app.screen, StartScreen)
            here.point_at(path.name)
            await here.press("enter")
            assert "You were typing" in here.screen and "111 m" in here.screen

    sit(story())
    assert [one.key for one in kept(path)] == ["vehicle.wheelbase"]


def test_what_is_being_saved_is_saved_before_the_project_is_closed(path):
    async def story():
        async with visit(path) as here:

            def slowly(state):
                time.sleep(0.5)
                return accept(prepare(state, [Setting("vehicle.wheelbase", "111 in")]))

            here.app.start_job("saving", slowly)
            await here.pilot.pause()
            await here.press("ctrl+o")
            assert isinstance(here.app.screen, StartScreen)

    sit(story())
    assert tomllib.loads(path.read_text())["vehicle"]["wheelbase"] == "111 in ± 1/2 in"  # kept from before


def test_the_program_is_left_while_something_is_being_worked_out_and_nothing_is_at_fault(path):
    async def story():
        async with visit(path) as here:
            await here.go("vehicle")
            here.point_at("wheelbase")
            await here.press("enter")
            here.post(*"111 in")
            while not here.app.busy:
                await asyncio.sleep(0)

    sit(story())  # what went wrong in the program would be raised


def test_nobody_looks_after_the_file_of_a_project_that_is_closed(path, tmp_path):
    other = copied(tmp_path, "forestry-4x4")

    async def story():
        async with visit(path) as here:
            await here.press("ctrl+o")
            path.write_bytes(path.read_bytes() + b"# by hand\n")
            await here.pilot.pause(6 * LOOKS)
            assert isinstance(here.app.screen, StartScreen)
            here.app.open(other)
            await here.settle()
            path.write_bytes(path.read_bytes() + b"# again\n")
            await here.pilot.pause(6 * LOOKS)
            assert here.app.screen.PLACE == "overview"
            other.write_bytes(other.read_bytes() + b"# by hand\n")
            await here.pilot.pause(6 * LOOKS)
            assert type(here.app.screen).__name__ == "ExternalChange"

    sit(story())


def test_the_palette_and_the_help_tell_of_it(path):
    async def story():
        async with visit(path, (120, 40)) as here:
            await here.press("f1")
            assert "^o  " in here.screen and "Close this project" in here.screen
            await here.press("escape", "ctrl+p")
            await here.press(*"start", "space", *"menu")
            assert "Close this project" in here.screen
            await here.press("enter")
            assert isinstance(here.app.screen, StartScreen)

    sit(story())
