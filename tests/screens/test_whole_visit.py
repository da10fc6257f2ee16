"""One build, from an empty folder to the wall sheet, by keyboard alone: months of evenings, in one visit."""

import tomllib

import pytest
from pypdf import PdfReader
from screens_visit import sit, visit

from planner.project.diary_reading import read_diary
from planner.screens.widgets.editor import Editor

MEASURED = {
    "axles.front.face_to_face": "58 in ± 1/8 in",
    "axles.front.kingpin.inset": "4 1/4 in ± 1/8 in",
    "axles.front.kingpin.inclination": "8 deg ± 0.5 deg",
    "axles.front.kingpin.caster": "3 deg ± 0.5 deg",
    "axles.front.kingpin.track": "50 in ± 1/4 in",
    "axles.front.steering.stop_angle": "29 deg ± 1 deg",
    "axles.front.steering.stop_angle_out": "26 deg ± 1 deg",
    "axles.front.travel.bump": "3 in ± 1/4 in",
    "axles.front.travel.droop": "3 1/2 in ± 1/4 in",
    "axles.front.fender.face_to_edge": "6 1/2 in ± 1/8 in",
}
CHOSEN = {
    "fitments.tall.tire.overall_diameter": "36.8 in ± 0.2 in",
    "fitments.tall.tire.section_width": "12.5 in ± 0.2 in",
    "fitments.tall.tire.tread_width": "10 in ± 1/4 in",
    "fitments.tall.wheel.rim_diameter": "17",
    "fitments.tall.wheel.rim_width": "9 in",
    "fitments.tall.wheel.flange_thickness": "1/2 in",
    "fitments.tall.wheel.backspace": "4 1/2 in",
}


@pytest.fixture(autouse=True)
def own_folder(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    return tmp_path


async def find(here, words):
    """Goes to an entry, a figure or a task by searching for it."""
    await here.press("slash")
    here.app.focused.value = words  # as it would be pasted: the keys of a field have tests of their own
    await here.press("enter")


async def enter(here, key, value):
    """Goes to an entry and writes it."""
    await find(here, key)
    assert here.app.screen.row_list.current.key == key
    await here.press("enter")
    field = here.app.focused
    field.value = value
    await here.press("enter")
    assert not here.app.screen.query_one(Editor).is_open, here.screen


async def to(here, place):
    """Goes to a place by the list of places."""
    await here.press("g")
    here.point_at(place)
    await here.press("enter")


@pytest.mark.slow
def test_a_build_from_an_empty_folder_to_the_wall_sheet(own_folder):
    path = own_folder / "the-dump-truck.toml"

    def said():
        return tomllib.loads(path.read_text())

    async def story():
        async with visit(None) as here:
            # begin a truck
            await here.press("enter")
            await here.type("The dump truck")
            await here.press("enter")
            assert here.app.screen.PLACE == "ask"  # whoever knows what to enter goes on to the whole
            await here.press("f2")
            here.point_at("overview")
            await here.press("enter")
            assert here.app.screen.PLACE == "overview"

            # measure
            for key, value in MEASURED.items():
                await enter(here, key, value)

            # choose a tire: a candidate of one's own
            await to(here, "tire choice")
            await here.press("ctrl+n")
            await here.type("tall")
            await here.press("enter")
            await here.type("37x12.50R17LT")
            await here.press("enter")
            for key, value in CHOSEN.items():
                await enter(here, key, value)

            # an obstacle, and whether the tire clears it
            await to(here, "measurements")
            await here.press("ctrl+n")
            here.point_at("obstacle")
            await here.press("enter")
            await here.type("spring pack")
            await here.press("enter")
            at = len(said()["obstacles"]) - 1
            for name, value in (
                ("axle", "front"),
                ("moves_with", "body"),
                ("at", "2 in ± 1/8 in, -9 in ± 1/8 in, 6 in ± 1/8 in"),
            ):
                await enter(here, f"obstacles[{at}].{name}", value)
            await to(here, "fit")
            assert "spring pack" in here.screen

            # see the window
            await here.press("p")
            while "diameter and backspace that fit (tall, front)" not in here.screen:
                assert "next" in here.screen, "the window is among the pictures"
                await here.press("p")
            assert "front shock's position" in here.screen, "what is to be measured still may leave no room at all"
            await here.press("escape")

            # choose it, with the reason
            await to(here, "candidates")
            here.point_at("tall")
            await here.press("space")
            await here.type("it clears the spring and looks right")
            await here.press("enter")
            assert said()["plan"]["chosen"] == "tall"

            # order the wheel: looked at first, and not for order while so much is not known
            await to(here, "sheets")
            here.point_at("Wheel order")
            await here.press("enter")
            assert "NOT FOR ORDER" in here.screen
            await here.press("escape")

            # tick a task, with what was found
            await to(here, "tasks")
            here.point_at("Read the local code")
            await here.press("space")
            await here.type("the clerk at the county office; a new wheel needs no permit")
            await here.press("enter", "enter")
            assert [one["state"] for one in said()["tasks"]] == ["done"]

            # a part arrives different: what rested on it is to be looked at again
            await enter(here, "fitments.tall.wheel.backspace", "4 3/4 in ± 1/32 in")
            assert any("REVISIT" in row.mark for row in await rows_of(here, "parts and decisions"))

            # print what goes on the wall
            await to(here, "sheets")
            here.point_at("Step cards")
            await here.press("enter", "enter")

    async def rows_of(here, place):
        await to(here, place)
        return here.rows

    sit(story())
    assert said()["fitments"]["tall"]["wheel"]["backspace"] == "4 3/4 in ± 1/32 in"
    assert said()["decisions"][0]["chosen"] == "tall"
    [sheet] = said()["sheets"]
    assert (sheet["number"], sheet["kind"]) == (1, "checklist")
    [pdf] = own_folder.glob("*.pdf")
    assert "Park on hard" in " ".join(PdfReader(pdf).pages[0].extract_text().split())
    kinds = [entry.kind for entry in read_diary(path).entries]
    assert kinds[0] == "began" and kinds[-1] == "print" and {"decision", "tick", "change"} <= set(kinds)
