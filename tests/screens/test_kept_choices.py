"""What is kept from one start to the next: colors, paper and place; and that paper follows the units."""

import json

import pytest
from screens_visit import copied, sit, visit
from textual import events

from planner.project.kept_choices import CHOICES, keep_choice, keep_place, kept_choice, kept_place
from planner.project.recent import state_file


async def say(here, name):
    """A command by its name, from the palette."""
    await here.press("ctrl+p")
    here.app.focused.value = ""
    here.post(*name)
    await here.settle()
    await here.pilot.pause(0.2)
    await here.press("enter")


def test_colors_and_place_are_those_of_the_last_time(tmp_path):
    path = copied(tmp_path)

    async def first():
        async with visit(path) as here:
            assert (here.app.screen.PLACE, here.app.theme) == ("overview", "bench")
            here.app.use_colors("paper")
            await here.go("brakes")
            await here.press("f1", "ctrl+q")

    async def again():
        async with visit(path) as here:
            assert (here.app.screen.PLACE, here.app.theme) == ("brakes", "paper")
            await here.press("ctrl+o")
        other = copied(tmp_path, "just-begun")
        async with visit(other) as here:
            assert here.app.screen.PLACE == "overview", "another project has a place of its own"

    sit(first())
    sit(again())


def test_colors_are_chosen_by_their_name_in_the_palette(tmp_path):
    async def story():
        async with visit(copied(tmp_path)) as here:
            await say(here, "colors: paper")
            assert here.app.theme == "paper" and kept_choice("colors") == "paper"

    sit(story())


PAPERS = (("inch", "letter"), ("metric", "a4"))


@pytest.mark.parametrize("units, paper", PAPERS)
def test_paper_follows_the_units_until_it_is_chosen_and_stays_chosen(tmp_path, units, paper):
    path = copied(tmp_path)
    path.write_text(path.read_text().replace('units = "inch"', f'units = "{units}"'))
    other = next(one for _, one in PAPERS if one != paper)

    async def opens(expected, chooses=False):
        async with visit(path) as here:
            await here.go("sheets")
            here.point_at("Measuring sheet")
            await here.press("enter")
            row = here.point_at("paper")
            assert row.value == expected
            if chooses:
                await here.press("enter")
                assert here.app.screen.query_one("#rows").current.value == other

    sit(opens(paper, chooses=True))
    sit(opens(other))


def test_what_somebody_else_put_there_is_passed_over():
    file = state_file(CHOICES)
    file.parent.mkdir(parents=True, exist_ok=True)
    for text in ("[1, 2]", '{"colors": 3, "places": "x"}', "{" * 5000, "\0"):
        file.write_text(text)
        assert kept_choice("colors") == "" and kept_place(file) == ""
        keep_choice("colors", "paper")
        keep_place(file, "brakes")
        assert (kept_choice("colors"), kept_place(file)) == ("paper", "brakes")


def test_only_the_places_of_the_last_projects_are_kept(tmp_path):
    for at in range(30):
        keep_place(tmp_path / f"{at}.toml", "brakes")
    assert len(json.loads(state_file(CHOICES).read_text())["places"]) == 12
    assert kept_place(tmp_path / "29.toml") == "brakes" and not kept_place(tmp_path / "3.toml")


@pytest.mark.parametrize(
    "keys, stands", [(["enter"], "118 in left 117 in right"), (["down", "enter"], "118 in left"), (["escape"], "")]
)
def test_several_lines_pasted_into_a_field_of_one_are_asked_about(tmp_path, keys, stands):
    async def story():
        async with visit(copied(tmp_path)) as here:
            await here.go("vehicle")
            here.point_at("wheelbase")
            await here.press("enter")
            box = here.app.focused
            box.value = ""
            here.app.post_message(events.Paste("118 in left\n117 in right\n"))
            await here.settle()
            assert "You pasted 2 lines" in here.screen
            await here.press(*keys)
            assert box.value == stands and here.app.focused is box

    sit(story())


def test_one_line_with_its_end_is_pasted_as_it_is(tmp_path):
    async def story():
        async with visit(copied(tmp_path)) as here:
            await here.press("f3")
            here.app.post_message(events.Paste("front fender\n"))
            await here.settle()
            assert here.app.focused.value == "front fender"

    sit(story())
