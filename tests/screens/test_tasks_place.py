"""The list of tasks by keyboard: what is ticked, reopened, dropped, added and noted ends in the file and the diary."""

import re
import tomllib

import pytest
from screens_visit import WIDE, copied, sit, visit

from planner.project.diary_reading import read_diary
from planner.screens.dialogs.tick_task import TickTask


@pytest.fixture
def truck(tmp_path):
    return copied(tmp_path)


def task(path, id_):
    return next((one for one in tomllib.loads(path.read_text())["tasks"] if one.get("id") == id_), {})


def last(path):
    return read_diary(path).entries[-1]


def test_a_task_is_ticked_with_a_note_and_the_next_can_be_done(truck):
    async def ticks():
        async with visit(truck) as here:
            await here.press("f10")
            assert "TASKS" in here.screen and here.app.screen._item().id == "safe.chock"
            await here.press("space")
            assert "CAUTION: A parking brake on the driveshaft holds nothing" in here.screen
            await here.type("steel plates under the front")
            await here.press("enter")
            assert here.app.screen._item().state == "done"
            assert "front: Get out a jack" in next(row.name for row in here.rows if row.mark.startswith("[ ]"))

    sit(ticks())
    kept = task(truck, "safe.chock")
    assert (kept["state"], kept["note"], str(kept["on"])) == ("done", "steel plates under the front", "2026-11-25")
    assert (last(truck).kind, last(truck).details["task"]) == ("tick", "safe.chock")


def test_a_value_is_held_against_its_range_as_it_is_typed_and_one_outside_goes_in_only_with_a_reason(truck):
    async def records():
        async with visit(truck) as here:
            await here.press("f10", "space", "enter")
            here.point_at("front: Get out a jack")
            await here.press("space")
            assert "at least 3500 lb" in here.screen
            await here.type("3 things")
            assert "✗" in here.screen
            await here.type("3,000 lb")
            assert "OUTSIDE the range" in here.screen and "Tick it all the same?" in here.screen
            await here.press("enter", "enter", "enter")
            assert "say why you tick it all the same" in here.screen and isinstance(here.app.screen, TickTask)
            await here.type("both stands share it")
            await here.press("enter")
            assert not isinstance(here.app.screen, TickTask)

    sit(records())
    kept = task(truck, "safe.stands.front")
    assert (kept["state"], kept["recorded"], kept["because"]) == ("done", "3,000 lb", "both stands share it")
    assert last(truck).details["stands"] == "outside"


def test_a_tick_out_of_range_keeps_a_mark_in_the_list_and_on_the_way_until_it_is_in_range(truck):
    async def records():
        async with visit(truck, WIDE) as here:
            await here.press("f10", "space", "enter")
            assert not here.point_at("front: Get out a jack").mark.startswith("[x]")
            await here.press("space")
            await here.type("3,000 lb")
            await here.press("enter", "enter", "enter")
            await here.type("both stands share it")
            await here.press("enter")
            row = here.point_at("front: Get out a jack")
            assert (row.mark[:4], row.value, row.tone) == ("[x]!", "OUTSIDE 3,000 lb", "warning")
            line = next(line for line in here.screen.splitlines() if row.name in line)
            assert "[x]!" in line and "OUTSIDE 3,000 lb" in line
            assert re.search(r"tasks +16/\d+ !", here.screen)  # 14 stood before, and the truck is chocked
            await here.go("vehicle")
            await here.go("tasks")
            assert here.point_at("front: Get out a jack").mark.startswith("[x]!")
            await here.press("o")
            await here.type("heavier stands")
            await here.press("enter")
            assert here.point_at("front: Get out a jack").mark.startswith("[ ]!")  # what is on record is still out
            await here.press("space")
            await here.type("4,000 lb")
            await here.press("enter", "enter")
            row = here.point_at("front: Get out a jack")
            assert (row.mark[:4].rstrip(), row.value) == ("[x]", "4,000 lb")
            assert re.search(r"tasks +16/\d+ [^!]", here.screen)

    sit(records())


def test_the_legend_of_the_tasks_takes_one_line(truck):
    async def looks():
        async with visit(truck) as here:
            await here.go("tasks")
            (legend,) = [line for line in here.screen.splitlines() if "[x] done" in line]
            assert all(sign in legend for sign in ("[ ] now", "[-] waits", "[!] again", "▲ caution", "● critical"))

    sit(looks())


def test_a_value_within_its_range_needs_no_reason(truck):
    async def records():
        async with visit(truck) as here:
            await here.press("f10", "space", "enter")
            here.point_at("front: Get out a jack")
            await here.press("space")
            await here.type("6,000 lb")
            assert "within the range" in here.screen and "because" not in here.screen
            await here.press("enter", "enter")

    sit(records())
    assert task(truck, "safe.stands.front")["recorded"] == "6,000 lb"
    assert "because" not in task(truck, "safe.stands.front")


def test_where_the_scale_reads_otherwise_than_the_entry_it_is_asked_beside_the_box_which_counts(truck):
    async def weighs():
        async with visit(truck) as here:
            await here.press("f10")
            here.point_at("front: Weigh the truck axle")
            await here.press("space")
            await here.type("2,000 lb")
            lines = here.screen.splitlines()
            box = next(at for at, one in enumerate(lines) if "counts      this, or entry" in one)
            assert "Which counts?" in " ".join(lines[box - 2 : box])
            assert any("against it:" in one for one in lines[box:])

    sit(weighs())


def test_escape_leaves_a_task_as_it_was(truck):
    before = truck.read_bytes()

    async def leaves():
        async with visit(truck) as here:
            await here.press("f10", "space", "escape")

    sit(leaves())
    assert truck.read_bytes() == before


def test_a_hold_point_asks_who_looked_and_nothing_behind_it_goes_past(truck):
    async def signs():
        async with visit(truck) as here:
            await here.go("tasks")
            here.point_at("Read the local code")
            await here.press("o")
            await here.type("the clerk was new")
            await here.press("enter")
            here.point_at("Order hoses")
            await here.press("space")
            assert any("comes after the hold point safe.local_code" in said for said in here.said)
            here.point_at("Read the local code")
            await here.press("space")
            assert [box.id for box in here.app.screen.query("Input")] == ["because", "note"], "who looked comes first"
            await here.press("enter")
            assert "say who looked, and that it's right" in here.screen and here.app.focused.id == "because"
            await here.type("R. asked the clerk again")
            await here.press("enter", "enter")

    sit(signs())
    assert task(truck, "safe.local_code")["because"] == "R. asked the clerk again"
    assert [one.kind for one in read_diary(truck).entries[-2:]] == ["reopen", "tick"]


def test_a_task_is_dropped_with_a_reason_and_a_hold_point_never(truck):
    async def drops():
        async with visit(truck) as here:
            await here.go("tasks")
            here.point_at("take the old rims")
            await here.press("d")
            await here.type("the shop fetches them")
            await here.press("enter")
            here.point_at("Read the local code")
            await here.press("d")
            assert any("can't be dropped" in said for said in here.said)

    sit(drops())
    assert task(truck, "own.rims_away")["state"] == "dropped"
    assert (last(truck).kind, last(truck).because) == ("drop", "the shop fetches them")


def test_ones_own_task_is_added_to_the_phase_that_was_chosen(truck):
    async def adds():
        async with visit(truck) as here:
            await here.press("f10", "n")
            await here.type("paint the wheels")
            await here.press("enter")
            assert "Which phase?" in here.screen
            await here.press("down", "enter")  # from the phase under the cursor to the one after it
            await here.type("no idea")
            await here.press("enter")
            assert "accepted: a number of hours" in here.screen
            await here.type("3")
            await here.press("enter")
            assert "it waits on nothing" in here.screen
            await here.press("enter")
            assert here.app.screen._item().id == "own.paint_the_wheels"

    sit(adds())
    kept = task(truck, "own.paint_the_wheels")
    assert (kept["title"], kept["phase"], kept["takes"]) == ("paint the wheels", "measure", "3 h")


def test_ones_own_task_waits_on_what_is_picked_by_its_words(truck):
    async def adds():
        async with visit(truck) as here:
            await here.press("f10", "n")
            await here.type("bleed it again")
            await here.press("enter", "enter", "enter")
            await here.type("chock wheels")
            await here.press("enter", "down", "down", "enter")
            assert [row.mark for row in here.rows[:3]] == ["", "picked", "picked"]
            await here.press("enter")
            item = here.app.screen._item()
            assert item.id == "own.bleed_it_again" and item.state == "waiting"

    sit(adds())
    after = task(truck, "own.bleed_it_again")["after"]
    assert after[0] == "safe.chock" and len(after) == 2


def test_what_a_task_waits_on_is_said_later_and_taken_away_and_a_circle_is_refused_in_plain_words(truck):
    async def story():
        async with visit(truck) as here:
            for title in ("first thing", "second thing"):
                await here.press("f10", "n")
                await here.type(title)
                await here.press("enter", "enter", "enter", "enter")
            await here.press("a")
            await here.type("first thing")
            await here.press("enter", "enter")
            assert task(truck, "own.second_thing")["after"] == ["own.first_thing"]
            here.point_at("first thing")
            await here.press("a")
            await here.type("second thing")
            await here.press("enter", "enter")
            assert "can't be put in order like that: " in here.said[-1]
            assert "own.first_thing waits on own.second_thing" in here.said[-1]
            here.point_at("second thing")
            await here.press("a", "down", "enter", "enter")
            assert "after" not in task(truck, "own.second_thing")

    sit(story())
    assert "after" not in task(truck, "own.first_thing") and last(truck).kind == "waits"


def test_a_note_is_written_and_taken_away(truck):
    async def notes():
        async with visit(truck) as here:
            await here.press("f10", "e")
            await here.type("chocks are in the shed")
            await here.press("enter")
            assert task(truck, "safe.chock")["note"] == "chocks are in the shed"
            assert "note: chocks are in the shed" in here.screen
            await here.press("e")
            await here.type("")
            await here.press("enter")

    sit(notes())
    assert "note" not in task(truck, "safe.chock")


def test_a_photo_is_named_with_what_it_shows_and_one_from_elsewhere_is_refused(truck):
    async def names():
        async with visit(truck) as here:
            await here.press("f10", "h")
            await here.type("../secret.jpg")
            await here.press("enter")
            assert "photo: read '../secret.jpg'; accepted: a JPEG or PNG" in here.screen
            await here.press("escape", "h")
            await here.type("chocks.jpg: both ways")
            await here.press("enter")
            await here.press("enter")
            assert "photo: chocks.jpg: both ways" in here.screen

    sit(names())
    assert task(truck, "safe.chock")["photos"] == ["chocks.jpg: both ways"]
    assert last(truck).kind == "photo"


def test_only_some_are_shown_and_the_next_task_is_found_whatever_is_shown(truck):
    async def filters():
        async with visit(truck) as here:
            await here.go("tasks")
            await here.press("f", "home", "down", "down", "down", "enter")
            assert here.screen.splitlines()[2].strip().startswith("HOLD POINTS")
            assert all("HOLD" in row.mark for row in here.rows if not row.heading)
            await here.press("f10")
            assert here.app.screen._item().id == "safe.chock"

    sit(filters())


def test_a_task_that_rests_on_what_has_moved_says_what_moved(truck):
    text = truck.read_text()
    assert text.count('backspace = "4 3/4 in ± 1/32 in"') == 1
    truck.write_text(text.replace('backspace = "4 3/4 in ± 1/32 in"', 'backspace = "4 1/4 in ± 1/32 in"'))

    async def looks():
        async with visit(truck) as here:
            await here.go("tasks")
            here.point_at("[!]")
            await here.press("down", "up")
            assert "look again:" in here.screen and "LOOK AGAIN" in here.screen
            await here.press("enter")
            assert "LOOK AGAIN:" in here.screen
            await here.press("escape")

    sit(looks())


def test_the_tasks_over_time_are_a_picture_and_the_critical_path_is_told_apart(truck):
    async def draws():
        async with visit(truck, WIDE) as here:
            await here.go("tasks")
            await here.press("p")
            assert "█ on the critical path" in here.screen and "delivery: five 37x12.50R17LT" in here.screen
            await here.press("p")
            assert "HOLD" in here.screen

    sit(draws())


def test_a_task_under_the_cursor_is_shown_whole_at_its_side_where_there_is_room(truck):
    async def reads():
        async with visit(truck, WIDE) as here:
            await here.press("f10")
            assert "Concrete if you have it" in here.screen

    sit(reads())


def test_hostile_text_in_a_task_of_ones_own_is_harmless(truck):
    async def types():
        async with visit(truck) as here:
            await here.press("f10", "n")
            here.app.focused.value = "[red]x[/] \x1b]0;gone\x07 ${HOME}"
            await here.press("enter", "enter", "enter", "enter")
            assert "[red]x[/]" in here.screen and "\x1b" not in here.screen

    sit(types())
    assert last(truck).kind == "task"
