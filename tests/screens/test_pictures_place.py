"""Every form place shows its pictures with their words, in whatever room there is."""

import asyncio
from textwrap import wrap
from threading import Event

import pytest
from screens_visit import NARROW, WIDE, copied, sit, visit
from textual.app import App

from planner.plan.drawings.scene import Line, Scene
from planner.screens.widgets.picture_view import DRAWING, Picture, PictureView

# How many each offers on a truck with two axles of which one steers.
OFFERED = {"axles": 3, "measurements": 4, "tires": 4, "wheel": 4, "fit": 7, "gearing": 1, "brakes": 2, "look": 6}


def is_shown(drawing, screen):
    """The picture asked for is drawn, with its words under it, inside its room."""
    assert drawing.drawn == drawing.asked
    room = drawing.size
    lines = drawing.render().plain.split("\n")
    assert len(lines) <= room.height
    assert max(map(len, lines)) <= room.width
    first = wrap(drawing.words, room.width)[0]
    assert first in screen
    assert DRAWING not in screen


def test_in_a_narrow_window_p_turns_from_the_list_to_each_picture_and_back(tmp_path):
    path = copied(tmp_path)

    async def story():
        async with visit(path, NARROW) as here:
            for name, count in OFFERED.items():
                await here.go(name)
                drawing = here.app.screen.query_one(PictureView)
                seen = []
                await here.press("p")
                while here.app.focused is drawing:
                    is_shown(drawing, here.screen)
                    seen.append(drawing.drawn)
                    await here.press("p")
                assert len(seen) == len(set(seen)) == count
                assert here.app.focused.id == "rows"

    sit(story())


def test_in_a_wide_window_the_picture_stands_beside_the_list_and_p_goes_to_the_next(tmp_path):
    path = copied(tmp_path)

    async def story():
        async with visit(path, WIDE) as here:
            for name, count in list(OFFERED.items())[::2]:  # the others were drawn in the narrow one
                await here.go(name)
                drawing = here.app.screen.query_one(PictureView)
                seen = []
                for _ in range(count):
                    is_shown(drawing, here.screen)
                    seen.append(drawing.drawn)
                    await here.press("p")
                assert len(set(seen)) == count
                assert drawing.drawn == seen[0]
                assert here.app.focused.id == "rows"

    sit(story())


def test_escape_leads_from_a_picture_back_to_the_list(tmp_path):
    path = copied(tmp_path)

    async def story():
        async with visit(path) as here:
            await here.go("wheel")
            await here.press("p")
            assert isinstance(here.app.focused, PictureView)
            await here.press("escape")
            assert here.app.focused.id == "rows"

    sit(story())


def test_another_fitment_in_view_is_another_picture_under_the_same_name(tmp_path):
    path = copied(tmp_path)

    async def story():
        async with visit(path, WIDE) as here:
            await here.go("wheel")
            drawing = here.app.screen.query_one(PictureView)
            name, words = drawing.drawn, drawing.words
            await here.press("f9")
            assert drawing.drawn == name
            assert drawing.words != words

    sit(story())


@pytest.mark.parametrize("project", ["just-begun", "forestry-4x4"])
def test_what_cannot_be_drawn_yet_says_which_entries_it_takes(tmp_path, project):
    path = copied(tmp_path, project)

    async def story():
        async with visit(path, WIDE) as here:
            await here.go("fit")
            assert "not drawn" in here.screen
            assert "front kingpin caster" in here.screen

    sit(story())


class Alone(App):
    """A drawing by itself."""

    def compose(self):
        yield PictureView()


def test_while_a_picture_is_being_drawn_the_last_one_stays_and_it_says_so():
    let = Event()
    square = Scene("a square", "Four sides.", (Line(((0, 0), (1, 0), (1, 1), (0, 1)), closed=True),))

    def slow(width, height):
        let.wait(20)
        return Scene("a line", "One side.", (Line(((0, 0), (1, 0))),))

    async def story():
        app = Alone()
        async with app.run_test(size=(60, 20)) as pilot:
            drawing = app.query_one(PictureView)
            drawing.offer([Picture("square", lambda width, height: square), Picture("line", slow)])
            await app.workers.wait_for_complete()
            assert drawing.drawn == "square"
            drawing.next()
            await pilot.pause(0.1)
            meanwhile = drawing.render().plain
            assert DRAWING in meanwhile
            assert "Four sides." in meanwhile
            let.set()
            await app.workers.wait_for_complete()
            assert "One side." in drawing.render().plain
            assert DRAWING not in drawing.render().plain

    asyncio.run(story())
