"""The diary on the screens: what is listed, one entry whole, its state brought back, and a diary that is damaged."""

import pytest
from diary_truck import TRUCK, change
from screens_visit import NARROW, WIDE, copied, sit, visit

from planner.project.amending import amend
from planner.project.diary import commit
from planner.project.diary_reading import diary_path, read_diary, read_last
from planner.project.source import load
from planner.screens.places import diary as diary_place


@pytest.fixture
def truck(tmp_path):
    path = tmp_path / "truck.toml"
    path.write_text(TRUCK, encoding="utf-8")
    for value in ("141 in", "142 in", "143 in"):
        change(path, value, because=f"it reads {value}")
    return path


def numbers(here):
    return [row.about for row in here.rows if isinstance(row.about, int)]


def test_entries_stand_newest_first_with_kind_reason_and_what_moved(truck):
    async def story():
        async with visit(truck, (120, 40)) as here:
            await here.go("diary")
            assert numbers(here) == [4, 3, 2, 1]
            first = here.rows[0]
            assert "change" in first.value and "it reads 143 in" in first.note
            assert "wheelbase: 142 in → 143 in" in first.note and "vehicle.wheelbase" not in first.note

    sit(story())


def test_what_an_entry_left_is_brought_back_with_what_changes_shown_first_and_a_reason(truck):
    async def story():
        async with visit(truck) as here:
            await here.go("diary")
            here.point_at("2  ")
            await here.press("enter")
            assert "wheelbase" in here.screen
            await here.press("b")
            assert "changes 1 key" in here.screen and "143 in → 141 in" in here.screen
            assert load(truck).data["vehicle"]["wheelbase"] == "143 in", "nothing is done before it is agreed to"
            await here.type("the first tape was right")
            await here.press("enter")
            assert numbers(here)[0] == 5

    sit(story())
    assert load(truck).data["vehicle"]["wheelbase"] == "141 in"
    last = read_diary(truck).entries[-1]
    assert (last.kind, last.because) == ("restore", "the first tape was right")


@pytest.mark.parametrize("size", [NARROW, WIDE])
def test_an_entry_longer_than_its_room_is_read_on_beside_the_list_with_tab_and_the_arrows(truck, size):
    source = load(truck)
    text = amend(source.text, {("vehicle", f"my_note_{day}"): "rain" for day in range(45)})
    commit(source, text, kind="change")

    async def story():
        async with visit(truck, size) as here:
            await here.go("diary")
            last = read_diary(truck).entries[-1].moved[-1].key[-1].replace("_", " ")
            assert "more below: Tab" in here.screen and f"{last}: nothing" not in here.screen
            await here.press("tab", *["pagedown"] * 10)
            assert f"{last}: nothing" in here.screen and "more below" not in here.screen

    sit(story())


def test_leaving_the_question_changes_nothing(truck):
    before = truck.read_bytes()

    async def story():
        async with visit(truck) as here:
            await here.go("diary")
            here.point_at("2  ")
            await here.press("b", "escape")

    sit(story())
    assert truck.read_bytes() == before


def test_undo_and_redo_work_as_everywhere_and_are_entries(truck):
    async def story():
        async with visit(truck) as here:
            await here.go("diary")
            await here.press("ctrl+z")
            assert "undo" in here.rows[0].value
            await here.press("ctrl+y")

    sit(story())
    assert [one.kind for one in read_diary(truck).entries][-2:] == ["undo", "redo"]
    assert load(truck).data["vehicle"]["wheelbase"] == "143 in"


def test_a_damaged_entry_and_a_hand_edit_are_said(truck):
    rows = diary_path(truck).read_bytes().splitlines(keepends=True)
    rows[1] = rows[1].replace(b"141", b"149", 1)
    diary_path(truck).write_bytes(b"".join(rows))
    truck.write_text(truck.read_text().replace("143 in", "144 in"))

    async def story():
        async with visit(truck) as here:
            await here.go("diary")
            marks = [row.mark for row in here.rows]
            assert "DAMAGED" in marks
            assert any("was edited since the last entry" in row.name for row in here.rows)
            assert numbers(here) == [4, 3, 1]

    sit(story())


def test_a_diary_that_cannot_be_opened_is_said_and_blocks_nothing(truck):
    diary_path(truck).unlink()
    diary_path(truck).mkdir()

    async def story():
        async with visit(truck) as here:
            await here.go("diary")
            assert [row.mark for row in here.rows] == ["CLOSED"]
            await here.go("overview")

    sit(story())


def test_only_the_last_entries_of_a_long_diary_are_read_and_more_on_asking(truck, monkeypatch):
    for number in range(12):
        change(truck, f"{100 + number} in")
    monkeypatch.setattr(diary_place, "FEW", 5)
    monkeypatch.setattr(diary_place, "WHOLE", 0)

    async def story():
        async with visit(truck) as here:
            await here.go("diary")
            assert numbers(here) == [16, 15, 14, 13, 12]
            assert here.rows[-1].name == "… 11 earlier entries: Enter lists more"
            here.point_at("earlier")
            await here.press("enter")
            assert numbers(here) == list(range(16, 6, -1))

    sit(story())


@pytest.mark.parametrize("few", [1, 2, 4, 9])
def test_the_last_lines_are_found_whatever_stands_at_the_end(truck, few):
    assert [one.number for one in read_last(truck, few).entries] == [1, 2, 3, 4][-few:]
    with diary_path(truck).open("ab") as file:
        file.write(b'{"sum":"half a line')
    torn = read_last(truck, few)
    assert [one.number for one in torn.entries] == [1, 2, 3, 4][-few:] and torn.torn


def test_what_is_hostile_in_a_diary_drives_no_terminal(truck):
    change(truck, "144 in", because="\x1b]0;owned\x07 \x9b2J")

    async def story():
        async with visit(truck) as here:
            await here.go("diary")
            await here.press("enter")
            assert "\x1b" not in here.screen and "\x9b" not in here.screen

    sit(story())


def test_the_county_trucks_diary_opens(tmp_path):
    async def story():
        async with visit(copied(tmp_path)) as here:
            await here.go("diary")
            assert numbers(here)[-1] == 1 and numbers(here) == sorted(numbers(here), reverse=True)

    sit(story())
