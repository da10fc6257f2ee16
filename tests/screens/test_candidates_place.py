"""Candidates side by side by keyboard: choosing one writes what is planned and the decision, in one change."""

import tomllib

import pytest
from resting import rested_on
from screens_visit import NARROW, copied, sit, visit

from planner.project.diary_reading import read_diary


@pytest.fixture
def truck(tmp_path):
    return copied(tmp_path)


def data(path):
    return tomllib.loads(path.read_text())


def last(path):
    return read_diary(path).entries[-1]


def test_each_candidate_has_its_verdict_on_top_and_a_column_that_reads_at_80_by_24(truck):
    async def reads():
        async with visit(truck, NARROW) as here:
            await here.go("candidates")
            lines = here.screen.splitlines()
            head, *rows = here.rows[:4]
            assert [row.name.split()[-1] for row in rows] == ["found", "tall", "modest"]
            assert (head.table[1], rows[1].table[1]) == ("may be stops", "2")
            planned = next(line for line in lines if "planned   ▸ tall" in line)
            end = next(line for line in lines if "may be stops  cautions" in line).index("may be stops") + 12
            assert planned[:end].endswith(" 2")
            weeks = next(line for line in lines if "longest lead time" in line)
            assert "2 weeks" in weeks and "7 weeks" in weeks and len(weeks) <= 80  # of tall the wheels are here

    sit(reads())


def test_no_stop_is_never_said_above_what_may_be_one(truck):
    async def reads():
        async with visit(truck, NARROW) as here:
            await here.go("overview")
            close = sum(row.mark == "STOP?" for row in here.rows)
            assert close and f"{close} may be {'a stop' if close == 1 else 'stops'}" in here.screen.splitlines()[1]
            assert "0 stops" not in here.screen
            await here.go("candidates")
            told = next(row for row in here.screen.splitlines() if "▸ tall" in row)
            assert told.split()[3:5] == ["-", str(close)]  # and not: 0 stops

    sit(reads())


def test_choosing_shows_what_it_touches_and_writes_plan_and_decision_in_one_change(truck):
    async def chooses():
        async with visit(truck) as here:
            await here.go("candidates")
            here.point_at("modest")
            await here.press("space")
            assert "touches: " in here.screen and "the engine turns too fast at cruise" in here.screen
            before = len(read_diary(truck).entries)
            await here.type("nothing to regear, nothing to trim")
            await here.press("enter")
            assert len(read_diary(truck).entries) == before + 1
            assert "planned: modest" in here.screen
            assert here.point_at("modest").mark == "planned"

    sit(chooses())
    made = data(truck)["decisions"][-1]
    assert data(truck)["plan"]["chosen"] == "modest"
    assert (made["question"], made["chosen"], made["options"]) == ("which candidate?", "modest", ["tall", "modest"])
    assert (made["because"], str(made["on"])) == ("nothing to regear, nothing to trim", "2026-11-25")
    assert rested_on(truck, made)["fitments.modest.wheel.backspace"] == "5 in ± 1/16 in"
    assert any("clearance" in name for name in rested_on(truck, made))
    assert (last(truck).kind, last(truck).details["chosen"]) == ("decision", "modest")


def test_escape_chooses_nothing_and_what_is_on_the_truck_is_no_candidate(truck):
    before = truck.read_bytes()

    async def leaves():
        async with visit(truck) as here:
            await here.go("candidates")
            here.point_at("modest")
            await here.press("space")
            await here.press("escape")
            here.point_at("found")
            await here.press("space")
            assert any("what's on the truck" in said for said in here.said)

    sit(leaves())
    assert truck.read_bytes() == before


def test_the_candidate_that_the_arrows_put_at_hand_is_the_one_that_space_chooses(truck):
    async def chooses():
        async with visit(truck) as here:
            await here.go("candidates")
            here.point_at("found")
            await here.press("right")
            assert here.app.fitment == "modest"
            await here.press("space")
            assert "modest is the plan from now on" in here.screen
            await here.press("escape")

    sit(chooses())


def test_a_candidate_is_begun_as_a_copy_of_another_and_removed_again(truck):
    async def begins():
        async with visit(truck) as here:
            await here.go("candidates")
            here.point_at("modest")
            await here.press("n", "enter")
            await here.type("tall")
            await here.press("enter")
            assert "there is already a tall" in here.screen
            await here.type("narrow")
            await here.press("enter")
            await here.type("as modest, an inch less of rim")
            await here.press("enter")
            made = data(truck)["fitments"]
            assert made["narrow"]["wheel"] == made["modest"]["wheel"]
            assert made["narrow"]["description"] == "as modest, an inch less of rim"
            assert here.app.fitment == "narrow", "the copy is the one at hand"
            assert here.app.screen.at_hand() == "narrow" and "▸ narrow" in here.screen
            here.point_at("narrow")
            await here.press("delete")
            await here.type("nobody makes it")
            await here.press("enter")

    sit(begins())
    assert "narrow" not in data(truck)["fitments"]
    assert last(truck).because == "nobody makes it"


def test_what_is_planned_cannot_be_removed(truck):
    async def refuses():
        async with visit(truck) as here:
            await here.go("candidates")
            here.point_at("tall")
            await here.press("delete")
            assert any("choose another first" in said for said in here.said)

    sit(refuses())


def test_what_is_the_same_is_shown_only_when_asked_for(truck):
    async def shows():
        async with visit(truck) as here:
            await here.go("candidates")
            few = len(here.rows)
            await here.press("e")
            assert len(here.rows) > few and "all rows" in here.screen
            await here.press("e")
            assert len(here.rows) == few

    sit(shows())


def test_the_candidate_at_hand_moves_with_the_keys_and_enter_leads_to_its_entry(truck):
    async def moves():
        async with visit(truck) as here:
            await here.go("candidates")
            await here.press("right")
            assert here.app.fitment == "modest"
            here.point_at("wheel.rim width")
            await here.press("enter")
            assert "WHEEL SPEC" in here.screen and "candidate modest" in here.screen

    sit(moves())


def test_a_candidate_with_nothing_in_it_leads_to_its_tire(tmp_path):
    truck = copied(tmp_path, "just-begun")

    async def begins():
        async with visit(truck) as here:
            await here.go("candidates")
            await here.press("n", "home", "enter")
            await here.type("shorter")
            await here.press("enter")
            await here.type("35 in on 17x8")
            await here.press("enter")
            assert "TIRE CHOICE" in here.screen

    sit(begins())
    assert data(truck)["fitments"]["shorter"] == {"description": "35 in on 17x8"}
