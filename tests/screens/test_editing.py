"""Editing an entry on the screens: what was understood, what it touches, accepting it and leaving it."""

import tomllib

import pytest
from screens_visit import NAMES, copied, sit, visit
from textual import events

from planner.project.diary_reading import read_diary
from planner.screens.widgets.editor import Editor


def test_an_entry_is_changed_with_the_effect_shown_before_it_is_accepted(tmp_path):
    path = copied(tmp_path)

    async def story():
        async with visit(path) as here:
            await here.go("vehicle")
            here.point_at("wheelbase")
            await here.press("enter")
            await here.type("117 1/2 in")
            assert "= 117 1/2 in ± 1/4 in = 2984.5 mm ± 6.4 mm" in here.screen
            assert "stance" in here.screen and "within tolerance" not in path.read_text()
            assert "118 in" in path.read_text(), "nothing is written before it is accepted"
            await here.press("enter")
            assert not here.app.screen.query_one(Editor).is_open

    sit(story())
    assert 'wheelbase = "117 1/2 in ± 1/4 in"' in path.read_text()
    last = read_diary(path).entries[-1]
    assert (last.kind, [one.key for one in last.moved]) == ("change", [("vehicle", "wheelbase")])


def test_escape_leaves_the_entry_as_it_was(tmp_path):
    path = copied(tmp_path)
    before = path.read_bytes()

    async def story():
        async with visit(path) as here:
            await here.go("vehicle")
            here.point_at("wheelbase")
            await here.press("enter")
            await here.type("12 in")
            await here.press("escape")
            assert here.app.focused is here.app.screen.query_one("#rows")

    sit(story())
    assert path.read_bytes() == before


CANNOT_BE_READ = (
    ("wheelbase", "118 horses", "accepted"),
    ("wheelbase", "-3 in", "more than 0"),
    ("units", "cubits", "accepted: inch, metric"),
    ("fractions", "perhaps", "accepted: write yes or no"),
)


def test_what_cannot_be_read_is_said_beside_the_field_and_is_not_accepted(tmp_path):
    path = copied(tmp_path)
    before = path.read_bytes()

    async def story():
        async with visit(path) as here:
            await here.go("vehicle")
            for entry, text, told in CANNOT_BE_READ:
                here.point_at(entry)
                await here.press("enter")
                here.app.screen.query_one("#tolerance").value = ""
                await here.type(text)
                assert here.screen.count(told) == 1, "under the field, and not once more in what it touches"
                await here.press("enter")
                assert here.app.screen.query_one(Editor).is_open, "the field stays open"
                await here.press("escape")

    sit(story())
    assert path.read_bytes() == before


@pytest.mark.parametrize("typed", ["111 1/2 in", "12 unicorns"])
def test_what_is_typed_in_one_go_on_an_entry_is_all_in_its_field(tmp_path, typed):
    path = copied(tmp_path)

    async def story():
        async with visit(path) as here:
            await here.go("vehicle")
            here.point_at("wheelbase")
            for mark in typed:  # as a terminal hands over what comes in one piece
                here.app.post_message(events.Key(NAMES.get(mark, mark), mark))
            await here.settle()
            assert here.app.screen.PLACE == "vehicle"
            assert here.app.screen.query_one("#value").value == typed

    sit(story())


def test_a_tolerance_goes_in_a_box_of_its_own(tmp_path):
    path = copied(tmp_path)

    async def story():
        async with visit(path) as here:
            await here.go("vehicle")
            here.point_at("body width")
            await here.press("enter")
            await here.type("77 in")
            await here.press("tab")
            await here.type("1/8 in")
            await here.press("enter")

    sit(story())
    assert 'body_width = "77 in ± 1/8 in"' in path.read_text()


def test_a_digit_on_an_entry_begins_to_write_it(tmp_path):
    path = copied(tmp_path, "just-begun")

    async def story():
        async with visit(path) as here:
            await here.go("vehicle")
            here.point_at("body width")
            await here.press("7")
            await here.press("6", "space", "i", "n", "enter")

    sit(story())
    assert 'body_width = "76 in"' in path.read_text()


def test_undo_takes_a_change_back_and_redo_makes_it_again(tmp_path):
    path = copied(tmp_path)
    before = path.read_text()

    async def story():
        async with visit(path) as here:
            await here.go("vehicle")
            here.point_at("body width")
            await here.press("enter")
            await here.type("77 in")
            await here.press("enter")
            changed = path.read_text()
            await here.go("sheets")
            await here.press("ctrl+z")
            assert path.read_text() == before
            assert here.said[-1].startswith("Undone; ^y redoes it: body width: 77 in ± 1/4 in → ")
            await here.press("ctrl+y")
            assert path.read_text() == changed
            assert here.said[-1].startswith("Redone; ^z undoes it: body width: ")
            await here.press("ctrl+y")
            assert here.said[-1].startswith("there is nothing to redo")

    sit(story())


def test_delete_shows_what_goes_with_an_entry_and_enter_takes_it_away(tmp_path):
    path = copied(tmp_path)

    async def story():
        async with visit(path) as here:
            await here.go("vehicle")
            here.point_at("lamp height")
            await here.press("delete")
            assert "is deleted" in here.screen
            await here.press("enter")

    sit(story())
    assert "lamp_height" not in tomllib.loads(path.read_text())["vehicle"]


def test_why_leads_from_a_number_to_the_fact_behind_it(tmp_path):
    path = copied(tmp_path)

    async def story():
        async with visit(path) as here:
            await here.go("wheel")
            here.point_at("poke")
            await here.press("question_mark")
            assert "formula" in here.screen and "ground" in here.screen
            row = here.point_at("front.fender.face_to_edge")
            await here.press("enter")
            assert here.app.screen.PLACE == "measurements"
            assert here.app.screen.row_list.current.key == row.key

    sit(story())


def test_search_finds_the_bolt_circle_under_the_name_of_its_key_too(tmp_path):
    path = copied(tmp_path)

    async def story():
        async with visit(path) as here:
            found = []
            for called in ("bolt circle", "stud circle"):
                await here.press("slash")
                await here.type(called)
                found.append({row.name for row in here.rows})
                await here.press("escape")
            assert found[0] == found[1] and any("bolt circle" in name for name in found[0])

    sit(story())


def test_search_finds_an_entry_by_what_it_means_and_goes_there(tmp_path):
    path = copied(tmp_path)

    async def story():
        async with visit(path) as here:
            await here.press("slash")
            await here.type("mounting faces")
            await here.press("enter")
            assert here.app.screen.row_list.current.key.endswith("face_to_face")

    sit(story())


def test_a_limit_is_set_aside_only_with_a_reason(tmp_path):
    path = copied(tmp_path)

    async def story():
        async with visit(path) as here:
            await here.go("limits")
            here.point_at("limits.least_brake_gap.value")
            await here.press("enter")
            await here.type("5 mm")
            await here.press("enter")
            assert "without a reason" in here.screen
            await here.press("tab", "tab")
            await here.type("the maker says so")
            await here.press("enter")

    sit(story())
    limits = tomllib.loads(path.read_text())["limits"]
    assert limits["least_brake_gap"] == {"value": "5 mm", "because": "the maker says so"}


def test_a_point_is_written_as_three_lengths(tmp_path):
    path = copied(tmp_path)

    async def story():
        async with visit(path) as here:
            await here.go("measurements")
            here.point_at("obstacles[0].at")
            await here.press("enter")
            await here.type("1 in, 2 in")
            assert "3 values" in here.screen
            await here.type("-8 in ± 1/8 in, -15 1/4 in, 4 1/4 in")
            await here.press("enter")

    sit(story())
    at = tomllib.loads(path.read_text())["obstacles"][0]["at"]
    assert at == ["-8 in ± 1/8 in", "-15 1/4 in ± 1/8 in", "4 1/4 in ± 1/8 in"]  # kept from before
