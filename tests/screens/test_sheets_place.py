"""Printing from the screens: the kinds, what stands against a sheet, where it goes, and the slip over an old one."""

import tomllib

import pytest
from screens_visit import copied, sit, visit

from planner.project.diary_reading import read_diary
from planner.screens.widgets.side_panel import SidePanel
from planner.sheets.kind import names

NO_REST = 60.0  # seconds: what a field is given is not worked out before it is accepted


def sheets(path):
    return tomllib.loads(path.read_text()).get("sheets", [])


@pytest.mark.parametrize(("name", "title"), [("measuring", "Measuring sheet"), ("order", "Wheel order")])
def test_a_sheet_is_printed_beside_the_project_and_is_in_the_diary(tmp_path, name, title):
    path = copied(tmp_path)
    before = len(sheets(path))

    async def story():
        async with visit(path) as here:
            await here.go("sheets")
            here.point_at(title)
            await here.press("enter")
            await here.press("enter")
            assert here.app.screen.PLACE == "sheets"
            assert any(f"{title}, sheet" in one for one in here.said)
            assert "as it is" in here.screen and "Nothing it rests on has" in here.screen

    sit(story())
    assert len(sheets(path)) == before + 1 and sheets(path)[-1]["kind"] == name
    number = sheets(path)[-1]["number"]
    assert (tmp_path / f"county-road-4x4-{number}-{name}.pdf").read_bytes().startswith(b"%PDF")
    last = read_diary(path).entries[-1]
    assert (last.kind, last.details["sheet"]) == ("print", number)


def test_what_stands_against_an_order_is_said_before_it_is_printed(tmp_path):
    path = copied(tmp_path)

    async def story():
        async with visit(path, (120, 40)) as here:
            await here.go("sheets")
            here.point_at("Wheel order")
            await here.press("enter")
            assert "NOT FOR ORDER" in here.screen and "too close to call" in here.screen
            await here.press("escape")

    sit(story())
    assert list(tmp_path.glob("*.pdf")) == []


def test_a_sheet_is_looked_at_as_text_without_a_number(tmp_path):
    path = copied(tmp_path)
    before = path.read_bytes()

    async def story():
        async with visit(path) as here:
            await here.go("sheets")
            here.point_at("Step cards")
            await here.press("enter", "t")
            assert "not numbered" in here.screen
            await here.press("pagedown", "escape", "escape")
            assert here.app.screen.PLACE == "sheets"

    sit(story())
    assert path.read_bytes() == before


def test_paper_phase_and_place_are_asked_for_where_the_kind_takes_them(tmp_path):
    path = copied(tmp_path)

    async def story():
        async with visit(path) as here:
            await here.go("sheets")
            here.point_at("Step cards")
            await here.press("enter")
            assert here.point_at("paper").value == "letter", "of a project in inches"
            here.point_at("phase")
            await here.press("enter")
            assert here.app.screen._asked.phase
            here.point_at("tasks")
            await here.press("enter")
            assert "only what is not done" in here.screen
            here.point_at("goes to")
            await here.press("enter")
            await here.type("wall.pdf")
            await here.press("enter", "home", "enter")

    sit(story())
    assert b"%PDF" in (tmp_path / "wall.pdf").read_bytes()[:8]
    width = (tmp_path / "wall.pdf").read_bytes()
    assert b"612" in width, "letter paper is 612 points wide"


def test_the_readings_of_a_measuring_sheet_are_what_is_wanted_one_evenings_page_or_all(tmp_path):
    path = copied(tmp_path)

    async def story():
        async with visit(path) as here:
            await here.go("sheets")
            here.point_at("Measuring sheet")
            await here.press("enter")
            assert "only what is not known yet" in here.screen
            here.point_at("readings")
            await here.press("enter")
            assert "one page for the next evening" in here.screen and here.app.screen._asked.next_only
            await here.press("enter")
            asked = here.app.screen._asked
            assert asked.everything and not asked.next_only
            await here.press("enter")
            asked = here.app.screen._asked
            assert not asked.everything and not asked.next_only

    sit(story())


def test_the_distance_that_the_wall_is_read_from_is_asked_for_and_tried(tmp_path):
    path = copied(tmp_path)

    async def story():
        async with visit(path) as here:
            await here.go("sheets")
            here.point_at("Wall sheet")
            await here.press("enter")
            here.point_at("read from")
            assert "4 ft" in here.screen
            await here.press("enter")
            await here.type("0 ft")
            await here.press("enter")
            assert "more than 0" in here.screen
            await here.type("7 ft")
            await here.press("enter")
            assert "Letter can be read from" in here.screen
            here.point_at("paper")
            await here.press("enter")
            assert "a3" in here.screen and "can be read" not in here.screen
            here.point_at("print it")
            await here.press("enter")
            assert here.app.screen.PLACE == "sheets"

    sit(story())
    (raw,) = [one.read_bytes() for one in tmp_path.glob("*-wall.pdf")]
    assert b"1190.55" in raw and sheets(path)[-1]["kind"] == "wall"


def test_a_file_that_is_no_sheet_is_never_printed_over(tmp_path):
    path = copied(tmp_path)
    (tmp_path / "letter.pdf").write_text("to my sister")
    before = path.read_bytes()

    async def story():
        async with visit(path) as here:
            await here.go("sheets")
            here.point_at("Measuring sheet")
            await here.press("enter")
            here.point_at("goes to")
            await here.press("enter")
            await here.type("letter.pdf")
            await here.press("enter", "home", "enter")
            assert "another file is there" in here.screen

    sit(story())
    assert (tmp_path / "letter.pdf").read_text() == "to my sister" and path.read_bytes() == before


def test_a_sheet_out_of_date_says_by_what_and_its_slip_is_printed(tmp_path):
    path = copied(tmp_path)

    async def story():
        async with visit(path, (120, 40)) as here:
            await here.go("sheets")
            here.point_at("Wheel order")
            await here.press("enter", "home", "enter")
            here.app.go_to_entry("fitments.tall.wheel.backspace")
            await here.settle()
            await here.press("enter")
            await here.type("5 in")
            await here.press("enter")
            await here.go("sheets")
            row = here.point_at("old")
            await here.settle()
            assert row.note == "out of date" and "backspace" in here.screen
            assert "Enter prints the change slip" in here.app.screen.query_one("#side-panel-wide", SidePanel).words
            await here.press("l", "enter")

    sit(story())
    assert sheets(path)[-1]["kind"] == "slip"


def test_all_that_a_sheet_is_out_of_date_by_can_be_read_beside_the_list(tmp_path):
    path = copied(tmp_path)

    async def story():
        async with visit(path, rest=NO_REST) as here:
            await here.go("sheets")
            here.point_at("Wheel order")
            await here.press("enter", "home", "enter")
            for key in ("rim_diameter", "backspace", "bore", "disc_thickness", "stud_circle"):
                here.app.go_to_entry(f"fitments.tall.wheel.{key}")
                await here.settle()
                await here.press("delete", "enter")
            await here.go("sheets")
            here.point_at("old")
            await here.settle()
            assert "more below: Tab" in here.screen and "since it" not in here.screen
            await here.press("tab", *["down"] * 9)
            assert isinstance(here.app.focused, SidePanel) and "since it" in here.screen

    sit(story())


def test_every_kind_of_sheet_is_offered(tmp_path):
    async def story():
        async with visit(copied(tmp_path, "just-begun")) as here:
            await here.go("sheets")
            assert {row.about for row in here.rows if isinstance(row.about, str)} == set(names())
            here.point_at("Change slip")
            await here.press("enter")
            assert "no sheet has been printed yet" in here.screen
            await here.press("enter")
            assert "no sheet has been printed yet" in here.screen

    sit(story())
