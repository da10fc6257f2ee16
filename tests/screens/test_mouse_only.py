"""By mouse alone: going about, opening and leaving every dialog, choosing, and changing what has choices."""

from screens_visit import NARROW, WIDE, copied, sit, visit
from textual.screen import ModalScreen

from planner.screens.dialogs.ask import Choose
from planner.screens.dialogs.help import Help
from planner.screens.dialogs.search import Search


async def click_on(here, words, line=None):
    """A click in the middle of these words, where they stand."""
    lines = here.screen.splitlines()
    row = next(at for at, text in enumerate(lines) if words in text and (line is None or at == line))
    assert await here.pilot.click(offset=(lines[row].index(words) + len(words) // 2, row))
    await here.settle()


async def click_beside(here):
    assert await here.pilot.click(offset=(0, 5))
    await here.settle()


def test_every_dialog_is_opened_by_its_words_below_and_left_by_a_click_beside_it(tmp_path):
    async def story():
        async with visit(copied(tmp_path), WIDE) as here:
            await here.go("vehicle")
            for words, kind in (("f1 help", Help), ("f2 go to", Choose), ("f3 search", Search)):
                await click_on(here, words)
                assert isinstance(here.app.screen, kind)
                await click_beside(here)
                assert here.app.screen.PLACE == "vehicle", words
            await click_on(here, "f3 search")
            box = here.app.screen.query_one("Input")
            await here.pilot.click(box)
            await here.settle()
            assert isinstance(here.app.screen, ModalScreen), "a click in it does not leave it"

    sit(story())


def test_going_to_a_place_a_count_and_the_next_task_by_mouse(tmp_path):
    async def story():
        async with visit(copied(tmp_path), NARROW) as here:
            await click_on(here, "f2 go to")
            await click_on(here, "wheel spec")
            assert here.app.screen.PLACE == "wheel"
            await click_on(here, "8 cautions")
            assert here.app.screen.PLACE == "overview" and here.app.screen.row_list.current.mark == "CAUTION"
            await click_on(here, "next: ")
            assert here.app.screen.PLACE == "tasks"

    sit(story())


def test_an_entry_is_opened_and_left_and_its_effects_read_by_mouse(tmp_path):
    path = copied(tmp_path)
    before = path.read_bytes()

    async def story():
        async with visit(path, NARROW) as here:
            await here.go("vehicle")
            here.point_at("wheelbase")
            await here.settle()
            await click_on(here, "wheelbase")
            assert here.app.screen.editing
            await here.type("90 in")
            await click_on(here, "touches: ")
            assert isinstance(here.app.screen, ModalScreen)
            await click_beside(here)
            await click_on(here, "leave as it was")
            assert not here.app.screen.editing

    sit(story())
    assert path.read_bytes() == before


def test_a_part_goes_on_by_mouse_in_two_clicks(tmp_path):
    path = copied(tmp_path)

    async def story():
        async with visit(path, WIDE) as here:
            await here.go("parts")
            here.point_at("wheel bearings and seals")
            await click_on(here, "next step")
            assert "ordered → arrived" in here.screen
            await click_on(here, "Do it")

    sit(story())
    assert 'state = "arrived"' in path.read_text()
