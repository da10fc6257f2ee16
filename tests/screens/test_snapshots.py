"""Every screen as it looks, narrow and wide, in color and without: a text and a picture of each.

After a change that is meant: `python -m pytest tests/screens/test_snapshots.py -m "" --snapshot-update`, and look at
them.
"""

from functools import cache

import pytest
from screens_visit import NARROW, WIDE, copied, sit, visit

from planner.screens.places.table import NAMES

SIZES = {"80x24": NARROW, "120x40": WIDE}


async def _seen(here):
    """The screen at rest, with nothing that comes and goes on it."""
    here.app.clear_notifications()
    await here.settle()
    return here.screen + "\n", here.app.export_screenshot(title="planner")


@pytest.mark.parametrize(
    ("size", "color"),
    [
        *(("80x24", "color"), ("120x40", "color"), ("80x24", "no-color")),
        pytest.param("120x40", "no-color", marks=pytest.mark.slow),
    ],
)
def test_every_place_looks_as_it_did(tmp_path, monkeypatch, picture, text, size, color):
    if color == "no-color":
        monkeypatch.setenv("NO_COLOR", "1")
    path = copied(tmp_path)

    async def story():
        seen = {}
        async with visit(path, SIZES[size]) as here:
            for name in NAMES:
                await here.go(name)
                seen[name] = await _seen(here)
        return seen

    for name, (lines, svg) in sit(story()).items():
        if color == "color":
            assert lines == text(name=f"{name}-{size}")
        assert svg == picture(name=f"{name}-{size}-{color}")


DIALOGS = {
    "task": ("tasks", "Park on hard", ["enter"]),
    "tick": ("tasks", "Park on hard", ["space"]),
    "print": ("sheets", "checklist", ["enter"]),
    "entry-of-the-diary": ("diary", "29", ["enter"]),
    "editor": ("wheel", "tall.wheel.backspace", ["enter", "4", "space", "i", "n"]),
    "editor-fault": ("wheel", "tall.wheel.backspace", ["enter", "4", "space", "p", "a", "r", "s", "e", "c", "s"]),
    "why": ("wheel", "poke", ["question_mark"]),
    "help": ("wheel", "poke", ["f1"]),
    "search": ("wheel", "poke", ["slash", "f", "e", "n", "d", "e", "r"]),
    "places": ("wheel", "poke", ["f2"]),
}


@pytest.fixture(scope="module")
def dialogs_seen(tmp_path_factory):
    """All of them in one visit of each size, one after the other."""

    async def story(size):
        seen = {}
        async with visit(copied(tmp_path_factory.mktemp(size)), SIZES[size]) as here:
            for dialog, (place, row, keys) in DIALOGS.items():
                await here.go(place)
                here.point_at(row)
                await here.press(*keys)
                for field in here.app.screen.query("Input"):
                    field.cursor_blink = False
                seen[dialog] = await _seen(here)
                await here.press("escape")
        return seen

    return cache(lambda size: sit(story(size)))


@pytest.mark.parametrize("size", ["80x24", pytest.param("120x40", marks=pytest.mark.slow)])
@pytest.mark.parametrize("dialog", DIALOGS)
def test_every_dialog_looks_as_it_did(dialogs_seen, picture, text, dialog, size):
    lines, svg = dialogs_seen(size)[dialog]
    assert lines == text(name=f"{dialog}-{size}")
    assert svg == picture(name=f"{dialog}-{size}")
