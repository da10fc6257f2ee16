"""Where the keys go: the list has them wherever a person comes from, and the row under its cursor can be seen."""

import pytest
from screens_visit import NARROW, WIDE, copied, sit, visit
from textual.widgets import Input

from planner.screens.places.table import NAMES
from planner.screens.widgets.header import SummaryItem
from planner.screens.widgets.row_list import RowList


def cursor_line(here):
    """What stands in the line of the cursor, with how it is set; None where that line is not in sight."""
    row_list = here.app.screen.row_list
    strips = row_list.render_lines(row_list.size.region)
    wanted = row_list.get_component_rich_style("option-list--option-highlighted")
    for strip in strips:
        for text, style, _ in strip:
            if text.strip() and style is not None and style.bgcolor == wanted.bgcolor and style.bold:
                return text
    return None


def keys_go_to_the_list(here):
    shown = here.app.screen
    if shown.PLACE == "ask":
        assert isinstance(here.app.focused, Input) and here.app.focused.id == "answer"
        return
    assert isinstance(here.app.focused, RowList), (shown.PLACE, here.app.focused)
    if any(not row.heading for row in here.rows):
        row = here.app.screen.row_list.current
        assert row is not None
        assert cursor_line(here) is not None, (shown.PLACE, row.name)


@pytest.mark.parametrize("size", [NARROW, WIDE])
def test_in_every_place_the_list_has_the_keys_and_its_cursor_is_in_sight(tmp_path, size):
    async def story():
        async with visit(copied(tmp_path), size) as here:
            for place in NAMES:
                await here.go(place)
                keys_go_to_the_list(here)
                await here.press("end")
                keys_go_to_the_list(here)
                at = here.app.screen.row_list and here.app.screen.row_list.highlighted
                await here.press("f5")
                keys_go_to_the_list(here)
                assert here.app.screen.PLACE == "overview"
                await here.go(place)
                keys_go_to_the_list(here)
                if place != "ask":
                    assert here.app.screen.row_list.highlighted == at, "back where it was left"

    sit(story())


def test_f5_from_a_picture_and_back_finds_the_list(tmp_path):
    async def story():
        async with visit(copied(tmp_path)) as here:
            for place in ("tires", "tasks"):
                await here.go(place)
                await here.press("f6", "f5")
                keys_go_to_the_list(here)
                await here.go(place)
                keys_go_to_the_list(here)

    sit(story())


@pytest.mark.parametrize("place", ["vehicle", "tasks", "ask", "overview"])
def test_a_click_on_a_count_leads_to_the_list_and_so_does_coming_back(tmp_path, place):
    async def story():
        async with visit(copied(tmp_path), WIDE) as here:
            for item in (".cautions", ".unknown", ".next"):
                await here.go(place)
                await here.pilot.click(item)
                await here.settle()
                assert ("tasks" if item == ".next" else "overview") == here.app.screen.PLACE
                keys_go_to_the_list(here)
                await here.go(place)
                keys_go_to_the_list(here)

    sit(story())


def test_enter_on_a_count_leads_there_too(tmp_path):
    async def story():
        async with visit(copied(tmp_path)) as here:
            await here.go("vehicle")
            await here.press("shift+tab")
            assert isinstance(here.app.focused, SummaryItem)
            await here.press("enter")
            keys_go_to_the_list(here)

    sit(story())


def test_a_search_that_jumps_to_an_entry_puts_the_cursor_there_in_sight(tmp_path):
    async def story():
        async with visit(copied(tmp_path)) as here:
            for words in ("mounting faces", "lamp height entry", "plan budget entry", "wheel bearings entry"):
                await here.press("f3")
                await here.type(words)
                await here.press("enter")
                keys_go_to_the_list(here)

    sit(story())


def test_a_field_left_open_is_gone_on_with_on_coming_back(tmp_path):
    async def story():
        async with visit(copied(tmp_path)) as here:
            await here.go("vehicle")
            here.point_at("wheelbase")
            await here.press("1")
            await here.pilot.click(".cautions")
            await here.settle()
            keys_go_to_the_list(here)
            await here.go("vehicle")
            assert here.app.focused.id == "value"

    sit(story())
