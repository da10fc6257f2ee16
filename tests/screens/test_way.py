"""The way through the build at the left of a wide window: what it shows of each place, and where a click leads."""

import tomllib
from functools import cache

import pytest
from screens_visit import PROJECTS, TODAY, copied, sit, visit

from planner.plan.state import read
from planner.plan.truck.forms import fields
from planner.screens.places import place_screen
from planner.screens.places.table import NAMES, PLACES
from planner.screens.places.way_states import entered_at, place_states
from planner.screens.widgets.way import DONE, HERE, NOT_YET, OPEN, RAISED, WIDTH

BROAD, HUGE = (120, 40), (200, 50)
EXAMPLES = ("county-road-4x4", "forestry-4x4", "just-begun", "quarry-flatbed")


def way(screen):
    """The first lines of a screen, as far as the way goes, by the title of their place."""
    lines = [line[:WIDTH] for line in screen.splitlines()[: len(PLACES)]]
    return {one.short_title: line for one, line in zip(PLACES, lines, strict=True)}


@cache
def signs(name):
    return {place: state.text for place, state in place_states(read(PROJECTS / f"{name}.toml", TODAY)).items()}


def test_from_110_columns_on_every_place_stands_at_the_left_in_the_order_of_the_build(tmp_path):
    path = copied(tmp_path)

    async def story():
        async with visit(path, (110, 24)) as here:
            sizes = [(110, 24), BROAD, HUGE]
            for name in ("ask", "fit", "candidates", "tasks"):
                await here.go(name)
                for size in sizes:
                    await here.pilot.resize_terminal(*size)
                    await here.settle()
                    shown = way(here.screen)
                    for title, line in shown.items():
                        assert line[1 : 1 + len(title)] == title, size
                        assert line[1 + len(title)] == " ", "nothing runs into it"
                    present = next(one.short_title for one in PLACES if one.name == name)
                    assert [title for title, line in shown.items() if line.startswith(HERE)] == [present], size
                sizes.reverse()  # the next is laid out first as wide as this was last

    sit(story())


def test_below_110_columns_there_is_no_way_and_f2_goes_to_a_place(tmp_path):
    path = copied(tmp_path)

    async def story():
        async with visit(path, (109, 30)) as here:
            assert here.screen.splitlines()[0].startswith(" OVERVIEW")
            assert HERE not in here.screen
            await here.press("f2")
            assert "Go to" in here.screen

    sit(story())


def test_a_click_on_a_place_goes_there_and_one_below_them_nowhere(tmp_path):
    path = copied(tmp_path)

    async def story():
        async with visit(path, BROAD) as here:
            for name in ("fit", "diary", "ask"):
                await here.pilot.click("BuildWay", offset=(5, NAMES.index(name)))
                await here.settle()
                assert here.app.screen.name == name
            await here.pilot.click("BuildWay", offset=(5, len(NAMES) + 1))
            await here.settle()
            assert here.app.screen.name == "ask"

    sit(story())


def test_the_place_under_the_pointer_is_marked(tmp_path):
    path = copied(tmp_path)

    async def story():
        async with visit(path, BROAD) as here:
            shown = here.app.screen.query_one("BuildWay")
            await here.pilot.hover("BuildWay", offset=(5, 3))
            assert shown.under == 3
            await here.pilot.hover("#rows")
            assert shown.under == -1

    sit(story())


def test_the_present_place_and_every_sign_are_told_without_color(tmp_path, monkeypatch):
    monkeypatch.setenv("NO_COLOR", "1")
    path = copied(tmp_path)

    async def story():
        async with visit(path, BROAD) as here:
            await here.go("fit")
            assert way(here.screen)["fit"] == f"{HERE}{'fit':<{WIDTH - 3}}{RAISED} "
            legend = "\n".join(line[:WIDTH] for line in here.screen.splitlines()[len(PLACES) :])
            for sign, meaning in ((RAISED, "raised"), (OPEN, "open"), (DONE, "nothing open"), (NOT_YET, "not yet")):
                assert f"{sign} {meaning}" in legend

    sit(story())


def test_no_key_works_a_state_out_anew(tmp_path, monkeypatch):
    path = copied(tmp_path)

    async def story():
        async with visit(path, BROAD) as here:
            await here.go("vehicle")
            made = []
            monkeypatch.setattr(place_screen, "place_states", lambda state: made.append(state) or {})
            await here.press("down", "down", "up", "end", "home", "f6", "slash", "escape")
            assert not made

    sit(story())


def test_what_is_raised_or_may_be_a_stop_is_told_where_its_flags_are_listed():
    state = read(PROJECTS / "county-road-4x4.toml", TODAY)
    told = place_states(state)
    for place in (one for one in PLACES if one.subjects and one.name != "parts"):
        listed = [
            flag
            for flag in state.flags
            if flag.rule.name.partition(".")[0] in place.subjects
            and flag.under is None
            and (
                (flag.stands and flag.rule.severity in ("stop", "caution"))
                or (flag.verdict.answer == "too close to call" and flag.rule.severity == "stop")
            )
        ]
        assert (RAISED in told[place.name].text) == bool(listed), place.name
        assert (told[place.name].tone == "error") == any(flag.rule.severity == "stop" for flag in listed)
    assert told["wheel"].tone == told["brakes"].tone == "error"  # two may be stops
    assert told["vehicle"].text == OPEN  # two cautions too close to call, and nothing raised


def test_what_is_missing_is_counted_where_it_is_entered(tmp_path):
    told = signs("quarry-flatbed")
    # the height of the center of gravity, and two entries of the pair: three, as `check` lists them
    assert (told["vehicle"], told["wheel"]) == (f"1{OPEN} {RAISED}", f"2{OPEN} {RAISED}")
    assert told["measurements"] == f"1{OPEN}"  # the first of them is measured, and listed there too
    assert told["ask"] == OPEN
    county = signs("county-road-4x4")  # what pressure its wheels take
    assert county["ask"] == OPEN and county["wheel"].startswith(f"1{OPEN}")


def test_a_place_without_an_answer_is_not_yet_and_one_with_nothing_against_it_is_done():
    told = signs("just-begun")
    assert told["fit"] == NOT_YET  # no obstacle is measured
    assert {told[name] for name in ("changes", "sheets", "diary", "limits")} == {NOT_YET}
    assert signs("quarry-flatbed")["fit"] == DONE
    assert signs("quarry-flatbed")["brakes"] == DONE


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_place_has_its_sign(name):
    assert set(signs(name)) == set(NAMES)
    assert all(signs(name).values())


def test_counts_stand_where_they_say_more():
    told = signs("county-road-4x4")
    project = tomllib.loads((PROJECTS / "county-road-4x4.toml").read_text("utf-8"))
    there = sum(part["state"] in ("arrived", "fitted") for part in project["parts"])
    assert told["parts"] == f"{there}/{len(project['parts'])}"
    assert told["candidates"] == "2"
    lines = (PROJECTS / "county-road-4x4.diary.jsonl").read_text("utf-8").splitlines()
    assert told["diary"] == str(len(lines))
    done, _, of = told["tasks"].partition("/")
    assert 0 < int(done) < int(of)


def test_an_accepted_change_moves_the_signs(tmp_path):
    path = copied(tmp_path, "quarry-flatbed")

    async def story():
        async with visit(path, BROAD) as here:
            await here.go("vehicle")
            assert f"1{OPEN} {RAISED}" in way(here.screen)["vehicle"]
            assert NOT_YET in way(here.screen)["diary"]
            here.point_at("vehicle.cg_height")
            await here.press("enter")
            await here.type("36 in")
            await here.press("enter")
            assert f"1{OPEN}" not in way(here.screen)["vehicle"]
            assert way(here.screen)["measurements"].rstrip().endswith(DONE)
            entries = path.with_suffix(".diary.jsonl").read_text("utf-8").splitlines()
            assert way(here.screen)["diary"].split() == ["diary", str(len(entries))]

    sit(story())


@pytest.mark.parametrize("name", EXAMPLES)
def test_an_entry_is_counted_at_the_place_that_a_search_for_it_leads_to(tmp_path, name):
    """By the table of ways, and by what each place says that it has."""
    path = copied(tmp_path, name)

    async def story():
        async with visit(path) as here:
            places = {place: here.app.place(place) for place in NAMES}
            for one in fields(here.app.state.opened):
                there = next((place for place, shown in places.items() if shown.has(one.key)), "")
                if there != "parts":  # nothing waits for an entry of those
                    assert entered_at(one.key) == there, one.key

    sit(story())


def test_a_place_is_laid_out_for_its_window_from_the_first(tmp_path, monkeypatch):
    """Nothing is painted first as in a narrow window, and moved aside then."""
    path = copied(tmp_path)
    begun = []
    mounted = place_screen.PlaceScreen.on_mount

    def seen(self):
        begun.append(self.is_wide)
        mounted(self)

    monkeypatch.setattr(place_screen.PlaceScreen, "on_mount", seen)

    async def story():
        for size in (BROAD, (109, 30)):
            async with visit(path, size) as here:
                await here.go("fit")

    sit(story())
    assert begun == [True, True, False, False]  # overview and fit, in each


@pytest.mark.parametrize(("place", "key"), [("vehicle", "vehicle.wheelbase"), ("wheel", "tall.wheel.backspace")])
def test_no_room_is_left_empty_where_an_entry_is_written(tmp_path, place, key):
    """Below the list at a place without pictures, the words make room for it; beside a picture they stay."""
    path = copied(tmp_path)

    async def story():
        async with visit(path, BROAD) as here:
            await here.go(place)
            here.point_at(key)
            await here.press("enter")
            rows, side, editor = (here.app.screen.query_one(one) for one in ("#rows", "#side", "Editor"))
            if place == "vehicle":
                assert rows.region.bottom == editor.region.y
            else:
                assert rows.region.bottom == side.region.y and side.region.bottom == editor.region.y
                assert here.app.screen.query_one("#side-panel-wide").region.right == side.region.right
            await here.press("escape")
            assert side.region.height >= 14

    sit(story())
