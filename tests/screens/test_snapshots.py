"""Every screen as it looks, narrow and wide, in color and without: a text and a picture of each.

After a change that is meant: `python -m pytest tests/screens/test_snapshots.py -m "" --snapshot-update`, and look at
them.
"""

import re
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


async def _seen_in(here, sizes, anew=()):
    """The screen in each of these sizes, back in the first at the end; `anew`: keys that make it in another size."""
    seen = {sizes[0]: await _seen(here)}
    for size in sizes[1:]:
        await here.pilot.resize_terminal(*SIZES[size])
        await here.press(*anew)
        seen[size] = await _seen(here)
    if sizes[1:]:
        await here.pilot.resize_terminal(*SIZES[sizes[0]])
        await here.settle()
    return seen


def _sizes_wanted(request, **by):
    """The sizes in which this run looks at what a test looks at."""
    asked = [
        item.callspec.params
        for item in request.session.items
        if getattr(item, "originalname", "") == request.node.originalname and item.path == request.node.path
    ]
    return tuple(size for size in SIZES if any(one == one | {"size": size} | by for one in asked))


@pytest.fixture(scope="module")
def places_seen(tmp_path_factory):
    """All places in one visit, each in every size that is looked at."""

    async def story(sizes):
        seen = {}
        async with visit(copied(tmp_path_factory.mktemp("places")), SIZES[sizes[0]]) as here:
            for name in NAMES:
                await here.go(name)
                seen[name] = await _seen_in(here, sizes)
        return seen

    return cache(lambda color, sizes: sit(story(sizes)))


@pytest.mark.parametrize(
    ("size", "color"),
    [
        ("80x24", "color"),
        pytest.param("120x40", "color", marks=pytest.mark.slow),
        *(pytest.param(size, "no-color", marks=pytest.mark.slow) for size in SIZES),
    ],
)
def test_every_place_looks_as_it_did(request, places_seen, monkeypatch, picture, text, size, color):
    if color == "no-color":
        monkeypatch.setenv("NO_COLOR", "1")
    for name, seen in places_seen(color, _sizes_wanted(request, color=color)).items():
        lines, svg = seen[size]
        if color == "color":
            assert lines == text(name=f"{name}-{size}")
        assert svg == picture(name=f"{name}-{size}-{color}")


COLORS = re.compile(r'(?:-r\d+ \{ fill: |rect fill=")#([0-9a-f]{2})([0-9a-f]{2})([0-9a-f]{2})')
GRAY = 4  # of 255 between a gray's red, green and blue, as in the one that pictures have for plain text


def far_apart(svg):
    """Of each color in a picture, how far its red, green and blue are apart."""
    return [max(parts) - min(parts) for parts in ([int(one, 16) for one in color] for color in COLORS.findall(svg))]


def test_without_color_all_is_gray(tmp_path, monkeypatch):
    async def story():
        async with visit(path) as here:
            await here.go("fit")
            return await _seen(here)

    path = copied(tmp_path)
    assert max(far_apart(sit(story())[1])) > GRAY
    monkeypatch.setenv("NO_COLOR", "1")
    assert max(far_apart(sit(story())[1])) <= GRAY


DIALOGS = {
    "task": ("tasks", "Park on hard", ["enter"]),
    "tick": ("tasks", "Park on hard", ["space"]),
    "print": ("sheets", "Step cards", ["enter"]),
    "entry-of-the-diary": ("diary", "29  ", ["enter"]),
    "editor": ("wheel", "tall.wheel.backspace", ["enter", "4", "space", "i", "n"]),
    "editor-fault": ("wheel", "tall.wheel.backspace", ["enter", "4", "space", "p", "a", "r", "s", "e", "c", "s"]),
    "why": ("wheel", "poke", ["question_mark"]),
    "help": ("wheel", "poke", ["f1"]),
    "search": ("wheel", "poke", ["slash", "f", "e", "n", "d", "e", "r"]),
    "places": ("wheel", "poke", ["f2"]),
}


@pytest.fixture(scope="module")
def dialogs_seen(tmp_path_factory):
    """All of them in one visit, one after the other, in every size that is looked at."""

    async def story(sizes):
        seen = {}
        async with visit(copied(tmp_path_factory.mktemp("dialogs")), SIZES[sizes[0]]) as here:
            for dialog, (place, row, keys) in DIALOGS.items():
                await here.go(place)
                here.point_at(row)
                await here.press(*keys)
                for field in here.app.screen.query("Input"):
                    field.cursor_blink = False
                anew = ("escape", *keys) if dialog == "help" else ()  # it lies as it did where it was opened
                seen[dialog] = await _seen_in(here, sizes, anew)
                await here.press("escape")
        return seen

    return cache(lambda sizes: sit(story(sizes)))


@pytest.mark.parametrize("size", ["80x24", pytest.param("120x40", marks=pytest.mark.slow)])
@pytest.mark.parametrize("dialog", DIALOGS)
def test_every_dialog_looks_as_it_did(request, dialogs_seen, picture, text, dialog, size):
    lines, svg = dialogs_seen(_sizes_wanted(request))[dialog][size]
    assert lines == text(name=f"{dialog}-{size}")
    assert svg == picture(name=f"{dialog}-{size}")
