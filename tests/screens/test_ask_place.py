"""Being asked on the screens, by keyboard alone: from nothing to a first wheel, slips, second thoughts, and later."""

import threading

import pytest
from screens_visit import NARROW, WIDE, copied, sit, visit

from planner.plan.answers.open_project import open_project
from planner.plan.asking.interview import hear
from planner.project.saving import NotSaved
from planner.screens.places import ask

EMPTY = 'format = 2\n[vehicle]\nname = "an old truck"\nunits = "inch"\n'
TWELVE = (
    "7.50-17", "multi", "6, 4 3/8", "26 tape", "3 1/2 guess", "9", "7", "spring pack: 0, 9, 8", "2", "-1/2",
    "37x12.50R17LT", "middle",
)  # fmt: skip


@pytest.fixture
def path(tmp_path):
    path = tmp_path / "truck.toml"
    path.write_text(EMPTY, encoding="utf-8")
    return path


async def say(here, *answers):
    for one in answers:
        await here.type(one)
        await here.press("enter")


@pytest.mark.parametrize("size", [NARROW, WIDE])
def test_a_bare_project_opens_on_the_first_question_and_comes_to_a_first_wheel(path, size):
    async def story():
        async with visit(path, size) as here:
            assert here.app.screen.PLACE == "ask" and "question 1 of about 12" in here.screen
            await say(here, *TWELVE[:4])
            assert "Read as 26 in ± 1/16 in (660.4 mm)." in here.screen
            assert "How much bump is left at the rear?" in here.screen and "this" in here.screen
            assert any("\u2801" <= mark <= "\u28ff" for mark in here.screen)  # where the tape goes, in dots
            await say(here, *TWELVE[4:])
            assert "A FIRST WHEEL, REAR" in here.screen and "largest tire, rear: about 41 in" in here.screen
            await here.press("escape")
            assert "more to the front wheel" in here.screen

    sit(story())
    assert open_project(path).project.asking.guesses


def test_what_is_no_answer_stays_in_its_field_beside_an_example(path):
    async def story():
        async with visit(path) as here:
            await say(here, *TWELVE[:3], "abc")
            assert "'abc' is not a length; write it such as 24 in ± 1/8 in" in here.screen
            assert here.app.focused.value == "abc" and "question 4 of about 12" in here.screen

    sit(story())


def test_skip_back_not_there_tool_and_way_have_keys(path):
    async def story():
        async with visit(path) as here:
            await here.press("ctrl+s")
            assert "One-piece or multi-piece rims?" in here.screen
            await say(here, "one")
            await here.press("ctrl+g")
            assert "> 2" in here.screen
            await here.press("ctrl+b")
            assert "One-piece or multi-piece rims?" in here.screen and "now: one" in here.screen
            await here.press("enter", "ctrl+t")
            assert "read with tape, ± 1/16 in" in here.screen
            await here.press("ctrl+n")
            assert "How far is it from the rear axle center" in here.screen

    sit(story())
    asking = open_project(path).project.asking
    assert asking.not_there == ["axles.rear.studs.circle"]


def test_one_says_where_one_stands_and_is_asked_what_can_be_answered_there(path):
    async def story():
        async with visit(path) as here:
            await here.press("ctrl+l", "down", "down", "enter")
            assert "WHEEL OFF" in here.screen and "rear brake reach" in here.screen

    sit(story())


def test_it_is_taken_up_again_where_it_was_left_off(path):
    async def left():
        async with visit(path) as here:
            await say(here, "7.50-17")
            await here.press("ctrl+s", "escape")
            assert "BECAME KNOWN" in here.screen and "tires on the truck: 7.50-17" in here.screen
            await here.press("escape", "f5")
            assert here.app.screen.PLACE == "overview"

    async def again():
        async with visit(path) as here:
            assert "How many studs at the rear" in here.screen

    sit(left())
    assert open_project(path).project.asking.skipped == ["fitments.found.wheel.pieces"]
    sit(again())


@pytest.mark.parametrize("key", ["ctrl+q", "ctrl+o"])
def test_what_is_put_off_is_kept_when_the_program_or_the_project_is_left(path, key):
    async def story():
        async with visit(path) as here:
            await say(here, "7.50-17")
            await here.press("ctrl+s")
            here.post(key)
            await here.pilot.pause(0.5)
            if key == "ctrl+o":
                await here.settle()

    sit(story())
    assert open_project(path).project.asking.skipped == ["fitments.found.wheel.pieces"]


def test_the_next_question_is_there_before_what_the_answer_decides_is_worked_out(path, monkeypatch):
    """The job is held back; meanwhile the next question shows, is marked, and is answered."""
    go_on = threading.Event()

    def slowly(interview, text):
        go_on.wait(20)
        return hear(interview, text)

    async def in_sight(here, words):
        for _ in range(200):
            await here.pilot.pause(0.01)
            if words in here.screen:
                return
        raise AssertionError(here.screen)

    async def story():
        async with visit(path) as here:
            await say(here, *TWELVE[:3])
            monkeypatch.setattr(ask, "hear", slowly)
            here.app.focused.value = "26 tape"
            here.post("enter")
            await in_sight(here, "How much bump is left at the rear?")
            assert ask.WAITING in here.screen and here.app.focused.value == ""
            here.app.focused.value = "3 1/2 guess"
            here.post("enter")
            await in_sight(here, "the rear fender edge?")
            go_on.set()
            await here.settle()
            assert ask.WAITING not in here.screen and "question 6 of about 12" in here.screen

    sit(story())
    project = open_project(path).project
    assert str(project.axles.rear.fender.axle_to_fender.text).startswith("26")
    assert "axles.rear.travel.bump" in project.asking.guesses


def test_an_answer_that_cannot_be_saved_comes_back_into_its_field_with_its_question(path, monkeypatch):
    def refused(interview, text):
        raise NotSaved(path, "the disk is full")

    async def story():
        async with visit(path) as here:
            await say(here, *TWELVE[:3])
            asked = here.screen.splitlines()[4]
            monkeypatch.setattr(ask, "hear", refused)
            await say(here, "26 tape")
            assert "the disk is full" in here.screen and here.app.focused.value == "26 tape"
            assert asked in here.screen

    sit(story())


def test_an_answer_is_taken_back_and_its_question_stands_again(path):
    async def story():
        async with visit(path) as here:
            await say(here, *TWELVE[:2])
            await here.press("ctrl+z")
            assert "One-piece or multi-piece rims?" in here.screen

    sit(story())


def test_a_project_with_everything_in_it_has_nothing_to_ask(tmp_path):
    path = copied(tmp_path)
    text = path.read_text(encoding="utf-8")
    wheel = "[fitments.tall.wheel]\n"
    path.write_text(text.replace(wheel, f'{wheel}greatest_pressure = "80 psi"\n'), encoding="utf-8")

    async def story():
        async with visit(path) as here:
            assert here.app.screen.PLACE == "overview"
            await here.press("f7")
            assert here.app.screen.PLACE == "ask" and "Nothing left to ask." in here.screen
            await say(here, "3")

    sit(story())
