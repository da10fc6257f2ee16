"""What fits, by keyboard: tried, stopped, read, and taken as a candidate with its reason."""

import tomllib

import pytest
import screens_visit
from screens_visit import NARROW, copied, sit, visit

from planner.plan.proposing.search import FitSearch
from planner.project.diary_reading import read_diary


@pytest.fixture
def truck(tmp_path, monkeypatch):
    """The first example, with a wish that few tires come near."""
    monkeypatch.setattr(screens_visit, "PATIENCE", 120.0)
    path = copied(tmp_path)
    path.write_text(path.read_text().replace("[wishes]\n", '[wishes]\nsection_width = "8 in to 8 1/2 in"\n'))
    return path


def proposals(here):
    return [row for row in here.rows if isinstance(row.about, int)]


def test_nothing_is_tried_before_it_is_asked_for(truck):
    async def reads():
        async with visit(truck, NARROW) as here:
            await here.go("proposals")
            assert "nothing is tried yet" in here.screen and not proposals(here)

    sit(reads())


def test_what_fits_is_listed_with_why_and_what_ruled_out_the_rest_and_the_map(truck):
    async def tries():
        async with visit(truck, NARROW) as here:
            await here.go("proposals")
            await here.press("f")
            names = [row.name for row in here.rows]
            assert proposals(here) and any(name.startswith("Tried ") for name in names)
            assert any("front: the barrel" in name for name in names)
            assert any(name.strip().startswith("32 in") for name in names)  # of the map
            first = proposals(here)[0]
            here.point_at(first.name)
            await here.press("enter")
            assert "least room: " in here.screen and "first flag" in here.screen

    sit(tries())


def test_taking_one_writes_a_candidate_with_its_reason_in_one_change(truck):
    async def takes():
        async with visit(truck, NARROW) as here:
            await here.go("proposals")
            await here.press("f")
            here.point_at(proposals(here)[0].name)
            await here.press("space")
            await here.type("low")
            await here.press("enter")
            await here.type("most room")
            await here.press("enter")
            table = tomllib.loads(truck.read_text())["fitments"]["low"]
            assert table["tire"]["designation"] in proposals(here)[0].name and table["wheel"]["backspace"]
            last = read_diary(truck).entries[-1]
            assert last.because == "most room" and {one.key[:2] for one in last.moved} == {("fitments", "low")}
            assert "as it was before" in here.screen

    sit(takes())


def test_a_search_that_is_stopped_says_so_of_what_it_lists(truck, monkeypatch):
    run = FitSearch.run

    def stopped(self):
        for at, tried in enumerate(run(self)):
            if at == 3:
                from planner.plan.truck.progress import NoLongerWanted

                raise NoLongerWanted
            yield tried

    monkeypatch.setattr(FitSearch, "run", stopped)

    async def stops():
        async with visit(truck, NARROW) as here:
            await here.go("proposals")
            await here.press("f")
            assert "then STOPPED" in here.screen

    sit(stops())


def test_a_truck_too_little_measured_is_told_what_would_open_it(tmp_path):
    async def tries():
        async with visit(copied(tmp_path, "forestry-4x4"), NARROW) as here:
            await here.go("proposals")
            await here.press("f")
            assert "not enough is measured" in here.screen

    sit(tries())
