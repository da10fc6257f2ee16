"""A project with faults on the screens: it opens, they stand first, and nothing is saved but their cure."""

import tomllib

import pytest
from screens_visit import copied, sit, visit

from planner.project.diary_reading import diary_path
from planner.screens.error_text import STILL


@pytest.fixture
def faulty(tmp_path):
    """The county truck with a wheelbase that nobody can read."""
    path = copied(tmp_path)
    text = path.read_text(encoding="utf-8")
    at = text.index('wheelbase = "')
    path.write_text(text[:at] + 'wheelbase = "12 parsecs"' + text[text.index("\n", at) :], encoding="utf-8")
    return path


def test_it_opens_with_the_faults_first_and_what_they_stop_is_not_known(faulty):
    async def story():
        async with visit(faulty, (120, 40)) as here:
            first, row = here.rows[:2]
            assert first.heading and "faults in the file" in first.name
            assert row.mark == "FAULT" and "vehicle.wheelbase" in row.name and "12 parsecs" in row.name
            assert "line " in row.name and "enter goes to the entry" in here.screen.lower()
            unknown = {one.about.rule.name for one in here.rows if one.mark == "unknown" and hasattr(one.about, "rule")}
            assert "fit.locks_too_wide" in unknown

    sit(story())


def test_nothing_is_saved_but_what_mends_it(faulty):
    before, diary = faulty.read_bytes(), diary_path(faulty).read_bytes()

    async def story():
        async with visit(faulty) as here:
            await here.go("vehicle")
            here.point_at("body_width")
            await here.press("enter")
            await here.type("70 in")
            await here.press("enter")
            assert any(STILL in said for said in (here.screen.replace("\n", " "), *here.said))
            assert faulty.read_bytes() == before and diary_path(faulty).read_bytes() == diary
            await here.press("escape", "escape")
            await here.go("overview")
            here.point_at("vehicle.wheelbase")
            await here.press("enter")
            assert here.app.screen.PLACE == "vehicle"
            await here.press("enter")
            await here.type("118 in")
            await here.press("enter")
            await here.go("overview")
            assert not any(row.mark == "FAULT" for row in here.rows)

    sit(story())
    assert tomllib.loads(faulty.read_text(encoding="utf-8"))["vehicle"]["wheelbase"].startswith("118 in")


def test_taking_the_hand_edit_back_is_a_cure(faulty):
    async def story():
        async with visit(faulty) as here:
            assert any(row.mark == "FAULT" for row in here.rows)
            await here.press("ctrl+z")
            assert not any(row.mark == "FAULT" for row in here.rows)

    sit(story())


@pytest.mark.parametrize("raw", [b"[half a", None])
def test_what_is_gone_or_cut_short_is_brought_back_by_a_key(tmp_path, raw):
    path = copied(tmp_path)
    before = path.read_bytes()
    path.unlink() if raw is None else path.write_bytes(raw)

    async def story():
        async with visit(path) as here:
            assert "the diary brings back the last good state" in " ".join(here.screen.split())
            await here.press("enter")
            assert here.app.screen.PLACE == "overview"

    sit(story())
    assert path.read_bytes() == before
