"""The file changed by another program while it is open: noticed, shown, and settled as the person says."""

import pytest
from screens_visit import LOOKS, copied, sit, visit

from planner.plan.external_change import KEPT
from planner.project.diary_reading import read_diary, text_at
from planner.project.source import load

OLD, NEW = '"112 in ± 1/2 in"', '"110 in ± 1/4 in"'


@pytest.fixture
def path(tmp_path):
    return copied(tmp_path, "just-begun")


def changed(path):
    path.write_bytes(path.read_bytes().replace(OLD.encode(), NEW.encode()))


async def noticed(here):
    """Until a dialog says so."""
    for _ in range(200):
        await here.pilot.pause(LOOKS)
        if type(here.app.screen).__name__ == "ExternalChange":
            await here.settle()
            return
    raise AssertionError("nobody noticed")


def test_a_change_by_another_program_is_shown_and_taken(path):
    async def story():
        async with visit(path) as here:
            changed(path)
            await noticed(here)
            assert "112 in ± 1/2 in → 110 in ± 1/4 in" in here.screen
            await here.press("enter")
            assert here.app.state.source.digest == load(path).digest

    sit(story())
    assert NEW in path.read_text()


def test_what_was_here_is_put_back_and_the_diary_keeps_both(path):
    before = path.read_bytes()

    async def story():
        async with visit(path) as here:
            changed(path)
            await noticed(here)
            await here.press("down", "enter")

    sit(story())
    assert path.read_bytes() == before
    diary = read_diary(path)
    assert diary.entries[-1].kind == "put back"
    assert NEW in text_at(diary, diary.entries[-2].number), "what was written by hand can be brought back"


def test_put_off_it_is_not_asked_again_and_nothing_is_saved_over_it(path):
    async def story():
        async with visit(path) as here:
            changed(path)
            await noticed(here)
            await here.press("escape")
            await here.pilot.pause(6 * LOOKS)
            assert here.app.screen.PLACE == "overview"
            await here.go("vehicle")
            here.point_at("wheelbase")
            await here.press("enter")
            await here.type("111 in")
            await here.press("enter")
            assert "another program" in here.screen
            await here.press("escape", "ctrl+r")
            assert here.app.state.source.digest == load(path).digest

    sit(story())
    assert NEW in path.read_text()


def test_a_file_that_became_unreadable_is_told_with_its_faults_and_what_is_in_sight_stays(path):
    before = path.read_bytes()

    async def story():
        async with visit(path) as here:
            path.write_bytes(before + b"\nhalf a [ line \x1b[31m\n")
            await noticed(here)
            assert "cannot be read" in here.screen and "just-begun.toml:" in here.screen
            assert "take the file" not in here.screen and "\x1b" not in here.screen
            assert here.app.state is not None
            await here.press("enter")

    sit(story())
    assert path.read_bytes() == before
    kept = path.with_name(path.name + KEPT)
    assert b"half a [ line" in kept.read_bytes(), "nobody's writing is thrown away"


def test_a_file_with_a_fault_in_an_entry_is_put_back_with_the_fault_in_the_diary(path):
    before = path.read_bytes()

    async def story():
        async with visit(path) as here:
            path.write_bytes(before.replace(OLD.encode(), b'"110 parsecs"'))
            await noticed(here)
            assert "110 parsecs" in here.screen
            await here.press("enter")

    sit(story())
    assert path.read_bytes() == before
    diary = read_diary(path)
    assert "110 parsecs" in text_at(diary, diary.entries[-2].number)


def test_a_file_that_vanished_is_told_and_put_back(path):
    before = path.read_bytes()

    async def story():
        async with visit(path) as here:
            path.unlink()
            await noticed(here)
            assert "gone" in here.screen and "there is no such file" in here.screen
            await here.press("enter")

    sit(story())
    assert path.read_bytes() == before


def test_what_is_saved_here_is_no_news(path):
    async def story():
        async with visit(path) as here:
            await here.go("vehicle")
            here.point_at("wheelbase")
            await here.press("enter")
            await here.type("111 in")
            await here.press("enter")
            await here.pilot.pause(6 * LOOKS)
            assert here.app.screen.PLACE == "vehicle"

    sit(story())


def test_a_file_that_is_as_it_was_again_asks_nothing_more(path):
    before = path.read_bytes()

    async def story():
        async with visit(path) as here:
            changed(path)
            await noticed(here)
            path.write_bytes(before)
            await here.pilot.pause(6 * LOOKS)
            assert here.app.screen.PLACE == "overview"

    sit(story())
