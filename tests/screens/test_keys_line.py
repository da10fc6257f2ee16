"""The line of keys: what does something here stands in it, and a click on it does it."""

from screens_visit import copied, sit, visit

from planner.screens.dialogs.help import Help


def test_a_click_on_a_key_does_what_the_key_does(tmp_path):
    path = copied(tmp_path, "just-begun")

    async def story():
        async with visit(path) as here:
            line = here.screen.splitlines()[-1]
            await here.pilot.click("KeysLine", offset=(line.index("help"), 0))
            await here.settle()
            assert isinstance(here.app.screen, Help)
            await here.press("escape")
            await here.pilot.click("KeysLine", offset=(line.index("search") + 2, 0))
            await here.settle()
            assert type(here.app.screen).__name__ == "Search"

    sit(story())


def test_a_key_that_does_nothing_here_is_not_offered(tmp_path):
    path = copied(tmp_path, "just-begun")

    async def story():
        async with visit(path) as here:
            for place, offered, not_offered in (
                ("diary", "bring back", "picture"),
                ("wheel", "picture", "bring back"),
                ("tasks", "tick", "why"),
            ):
                await here.go(place)
                line = here.screen.splitlines()[-1]
                assert offered in line and not_offered not in line
                assert len(line) <= 80

    sit(story())


def test_while_a_person_writes_only_the_keys_of_the_field_are_offered(tmp_path):
    path = copied(tmp_path, "just-begun")

    async def story():
        async with visit(path) as here:
            await here.go("vehicle")
            here.point_at("body width")
            await here.press("enter")
            line = here.screen.splitlines()[-1]
            assert "accept" in line and "leave" in line and "search" not in line

    sit(story())
