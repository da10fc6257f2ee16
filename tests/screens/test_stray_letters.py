"""Letters typed where nobody meant to write: they begin a field that takes words, and nothing is written or undone."""

import string
import tomllib

import pytest
from screens_visit import MARKS, copied, sit, visit
from textual.screen import ModalScreen

from planner.screens.actions import ACTIONS
from planner.screens.places.table import NAMES

EVERY = [one for one in string.printable if one.isprintable()]
NO_REST = 60.0  # seconds: what a field is given is not worked out on the way, which writes nothing
SENTENCE = "Measure the rear, 7.5 in? (by Sam's tape) & undo it!"


def on_the_disk(folder):
    """All that is there but what is typed and not accepted, which is kept apart for the next start."""
    return {path.name: path.read_bytes() for path in folder.iterdir() if "typed" not in path.name}


def bound(*where):
    """The printable keys of the actions there."""
    keys = {"slash": "/", "question_mark": "?", "space": " "}
    found = [keys.get(key, key) for one in ACTIONS if one.at in where for key in one.keys.split(",")]
    return [key for key in dict.fromkeys(found) if len(key) == 1]


BEGINS = ["x", "7", "."]  # what does nothing but begin a field


def bare(place):
    """The printable keys that do something at a place, and three that do nothing but begin a field."""
    return [*dict.fromkeys([*bound("", "facts", place), "?", *BEGINS])]


def kinds_of_rows(rows):
    """The first row of each kind that a place lists: what can be done differs from kind to kind."""
    firsts = {}
    for at, row in enumerate(rows):
        about = row.about[0] if type(row.about) is tuple and row.about else type(row.about).__name__
        if row.spot is not None and about == row.spot.node:
            about = "figure"  # whichever it is
        if not row.heading:
            firsts.setdefault((about, bool(row.key), row.spot is not None), at)
    return list(firsts.values())


async def back_to_rest(here, place):
    """Whatever the keys opened is left without Enter."""
    while isinstance(here.app.screen, ModalScreen) or here.app.screen.editing:
        here.post("escape")
        await here.settle(tried=False)
    if place != here.app.screen.PLACE:
        await here.go(place)


async def nothing_is_written(here, folder, place, keys, then="", most=None):
    keys = [key for key in keys if (place, key) != ("proposals", "f")]  # a search of a minute, which writes nothing
    before, state = on_the_disk(folder), here.app.state
    await here.go(place)
    rows = kinds_of_rows(here.rows) if here.app.screen.row_list is not None else [None]
    for at in rows[:most]:
        for key in keys:
            if at is not None and at < len(here.rows):
                here.app.screen.row_list.highlighted = at
                here.app.screen.row_list.focus()
            here.post(key, *then)
            await here.settle(tried=False)
            await back_to_rest(here, place)
            assert here.app.state is state, (place, at, key)
    assert on_the_disk(folder) == before, place


@pytest.mark.parametrize("place", NAMES)
def test_a_sentence_typed_at_the_wrong_place_writes_and_undoes_nothing(tmp_path, place):
    path = copied(tmp_path)

    async def story():
        async with visit(path, rest=NO_REST) as here:
            await nothing_is_written(here, tmp_path, place, bare(place), " b n", most=1)
            await nothing_is_written(here, tmp_path, place, "E", SENTENCE, most=2)

    sit(story())


async def free_keys_do_nothing(here, place):
    """Keys that no action of the place has, one behind the other on each kind of row: at most they begin a field."""
    await here.go(place)
    state = here.app.state
    for at in kinds_of_rows(here.rows) if here.app.screen.row_list is not None else []:
        here.app.screen.row_list.highlighted = at
        here.app.screen.row_list.focus()
        await here.settle(tried=False)
        has = {MARKS.get(key, key) for key in here.app.screen.active_bindings}
        here.post(*sorted((key for key in EVERY if key not in has), key=str.isdigit))  # a digit begins most fields
        await here.settle(tried=False)
        assert not isinstance(here.app.screen, ModalScreen), (place, at)
        await back_to_rest(here, place)
        assert here.app.state is state, (place, at)


@pytest.mark.slow
@pytest.mark.parametrize("place", NAMES)
def test_no_printable_key_by_itself_writes_or_undoes_anything(tmp_path, place):
    path = copied(tmp_path)

    async def story():
        async with visit(path, rest=NO_REST) as here:
            await nothing_is_written(here, tmp_path, place, [*bound("facts", place), "?", *BEGINS])  # by kind of row
            await nothing_is_written(here, tmp_path, place, bound(""), most=2)
            before = on_the_disk(tmp_path)
            await free_keys_do_nothing(here, place)
            assert on_the_disk(tmp_path) == before

    sit(story())


@pytest.mark.slow
@pytest.mark.parametrize("place", ["gearing", "others", "tasks"])  # a form, a folded one and a list: each kind of place
def test_nor_does_any_where_each_is_the_first(tmp_path, place):
    path = copied(tmp_path)

    async def story():
        async with visit(path, rest=NO_REST) as here:
            await nothing_is_written(here, tmp_path, place, EVERY, most=2)

    sit(story())


def test_a_letter_on_a_text_and_on_a_choice_opens_the_field_with_it(tmp_path):
    path = copied(tmp_path)

    async def story():
        async with visit(path) as here:
            await here.go("vehicle")
            for entry, text in (("vehicle.name", "Unit 15"), ("vehicle.units", "metric"), ("vehicle.fractions", "no")):
                here.point_at(entry)
                here.post(*text)
                await here.settle()
                assert here.app.screen.query_one("#value").value == text, entry
                await here.press("enter")

    sit(story())
    vehicle = tomllib.loads(path.read_text())["vehicle"]
    assert (vehicle["name"], vehicle["units"], vehicle["fractions"]) == ("Unit 15", "metric", False)


def test_a_letter_on_a_number_is_a_key_of_the_place(tmp_path):
    path = copied(tmp_path)

    async def story():
        async with visit(path) as here:
            await here.go("vehicle")
            here.point_at("wheelbase")
            await here.press("g")
            assert isinstance(here.app.screen, ModalScreen), "going to another place"
            assert not here.app.get_screen("vehicle").editing

    sit(story())


def test_what_is_new_is_begun_on_any_row(tmp_path):
    path = copied(tmp_path)

    async def story():
        async with visit(path) as here:
            await here.go("wheel")
            here.point_at("wheel.rim_material")
            await here.press("ctrl+n")
            assert "A new candidate: its name" in here.screen

    sit(story())
