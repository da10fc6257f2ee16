"""Parts, decisions and accepted cautions by keyboard: what is done there ends in the file and the diary."""

import tomllib

import pytest
from resting import rested_on
from screens_visit import copied, sit, visit

from planner.project.diary_reading import read_diary


@pytest.fixture
def truck(tmp_path):
    return copied(tmp_path)


def data(path):
    return tomllib.loads(path.read_text())


def part(path, id_):
    return next(one for one in data(path)["parts"] if one["id"] == id_)


def last(path):
    return read_diary(path).entries[-1]


def test_a_part_goes_on_to_its_next_state_with_the_day(truck):
    async def arrives():
        async with visit(truck) as here:
            await here.go("parts")
            here.point_at("wheel bearings and seals")
            await here.press("space")
            assert "ordered → arrived" in here.screen
            await here.press("enter")

    sit(arrives())
    assert (part(truck, "bearings")["state"], str(part(truck, "bearings")["arrived"])) == ("arrived", "2026-11-25")
    assert (last(truck).kind, last(truck).details["state"]) == ("part", "arrived")


def test_a_part_whose_order_still_waits_is_ordered_only_with_a_reason(truck):
    text = truck.read_text()
    for id_ in ("decide.wheel", "order.wheels"):
        assert text.count(f'id = "{id_}"\nstate = "done"') == 1
        text = text.replace(f'id = "{id_}"\nstate = "done"', f'id = "{id_}"\nstate = "open"')
    assert text.count("7 3/16 in ± 1/16 in") == 1
    truck.write_text(text.replace("7 3/16 in ± 1/16 in", "7 3/16 in ± 1/64 in"))  # no stop would make tires wrong

    async def orders():
        async with visit(truck) as here:
            await here.go("parts")
            here.point_at("five 37x12.50R17LT")
            await here.press("space")
            assert "against it: order.wheels, which orders it, " in here.screen
            await here.press("escape")
            assert part(truck, "tires")["state"] == "wanted"
            await here.press("space")
            await here.type("the shop holds them for us")
            await here.press("enter")

    sit(orders())
    assert (part(truck, "tires")["state"], str(part(truck, "tires")["ordered"])) == ("ordered", "2026-11-25")
    assert last(truck).because == "the shop holds them for us"


def test_a_part_that_came_wrong_is_sent_back_with_a_reason(truck):
    async def returns():
        async with visit(truck) as here:
            await here.go("parts")
            here.point_at("five wheels 17x9")
            await here.press("b")
            await here.type("two are out of round")
            await here.press("enter")

    sit(returns())
    assert part(truck, "wheels")["state"] == "returned"
    assert last(truck).because == "two are out of round"


CAME = """
[[wheels]]
mark = "W3"
position = "rear left"
backspace = "4 3/4 in ± 1/64 in"
bore = "5.02 in ± 0.002 in"
"""


def test_what_comes_late_and_the_wheels_that_came_are_told_in_the_list_and_beside_it(truck):
    text = truck.read_text().replace("ordered = 2026-11-02", "ordered = 2026-11-02\npromised = 2027-05-01", 1)
    truck.write_text(text + CAME)

    async def looks():
        async with visit(truck) as here:
            await here.go("parts")
            # six weeks from 2 November are 14 December; from there to 1 May it is 138 days
            assert here.point_at("wheel bearings and seals").mark == "LATE"
            await here.press("down", "up")
            assert "LATE by 138 days" in " ".join(here.screen.split())
            row = here.point_at("wheel W3")
            assert (row.mark, row.value) == ("NOT HERE", "rear left")
            await here.press("enter")
            assert "bore is smaller than the hub's pilot" in " ".join(here.screen.split())

    sit(looks())


def test_a_quote_a_payment_and_a_wheel_that_came_are_entered_by_keyboard(truck):
    async def enters():
        async with visit(truck) as here:
            await here.go("parts")
            here.point_at("five 37x12.50R17LT")
            await here.press("n", "down", "down", "down", "enter")
            await here.type("tire shop in town")
            await here.press("enter")
            words = here.app.screen._words(*here.point_at("five 37x12.50R17LT").about)
            assert "quotes: tire shop in town no price yet" in words
            here.point_at("quote 1")
            await here.press("down", "down", "enter")
            await here.type("455")
            await here.press("enter")
            names = [row.name.strip() for row in here.rows]
            quote = names.index("quote 1")
            assert names.count("price") == 2 and names.index("price") < quote < names.index("price", quote)
            here.point_at("five 37x12.50R17LT")
            await here.press("n", "down", "down", "down", "down", "enter")
            await here.type("100")
            await here.press("enter")
            await here.press("n", "down", "down", "enter")
            await here.type("W1")
            await here.press("enter")
            assert here.point_at("wheel W1").value == " "

    sit(enters())
    tires = part(truck, "tires")
    assert tires["quotes"] == [{"from": "tire shop in town", "price": 455}]
    assert [float(one["amount"]) for one in tires["payments"]] == [100]
    assert data(truck)["wheels"] == [{"mark": "W1"}]


def test_a_new_part_unfolds_and_its_price_is_entered_at_once(truck):
    async def enters():
        async with visit(truck) as here:
            await here.go("parts")
            await here.press("n", "enter")
            await here.type("wheel cleaning brush")
            await here.press("enter")
            await here.press("enter")
            await here.type("12.50")
            await here.press("enter")
            assert "12.50" in here.screen

    sit(enters())
    assert part(truck, "wheel_cleaning_brush")["price"] == 12.5
    assert part(truck, "wheel_cleaning_brush")["state"] == "wanted"


def test_a_decision_is_entered_with_what_it_rests_on(truck):
    async def decides():
        async with visit(truck) as here:
            await here.go("parts")
            await here.press("n", "down", "enter")
            await here.type("which rim?")
            await here.press("enter")
            await here.type("8 in; 9 in")
            await here.press("enter")
            await here.press("down", "enter")
            await here.type("it is what the tire asks for")
            await here.press("enter")
            await here.type("fitments.tall.wheel.rim width")
            await here.press("enter")
            assert "picked" in here.screen
            await here.press("enter")

    sit(decides())
    made = data(truck)["decisions"][-1]
    assert (made["question"], made["options"], made["chosen"]) == ("which rim?", ["8 in", "9 in"], "9 in")
    assert made["because"] == "it is what the tire asks for"
    assert rested_on(truck, made) == {"fitments.tall.wheel.rim_width": "9 in"}
    assert last(truck).kind == "decision"


def test_a_decision_whose_ground_moved_is_marked_and_decided_anew_in_its_place(truck):
    text = truck.read_text()
    truck.write_text(text.replace('cruise_speed = "50 mph"', 'cruise_speed = "45 mph"', 1))

    async def decides():
        async with visit(truck) as here:
            await here.go("parts")
            assert here.point_at("REVISIT").name == "regear with the 37s?"
            await here.press("down", "up")
            assert "changed since: cruise speed was 50 mph, now 45 mph" in here.screen
            await here.press("enter")
            assert "It rests on:" in here.screen and "front axle ratio" in here.screen
            await here.press("escape")
            await here.press("space")
            await here.press("enter")
            await here.type("slower still: it holds")
            await here.press("enter")
            assert not any(row.mark == "REVISIT" for row in here.rows)

    sit(decides())
    made = data(truck)["decisions"]
    assert len(made) == 2 and made[0]["because"] == "slower still: it holds"
    assert rested_on(truck, made[0])["use.cruise_speed"] == "45 mph"
    assert str(made[0]["on"]) == "2026-11-25"


def test_what_a_decision_rested_on_is_not_known_without_the_diary_and_that_is_said(truck):
    truck.with_name("county-road-4x4.diary.jsonl").unlink()

    async def looks():
        async with visit(truck) as here:
            await here.go("parts")
            assert here.point_at("REVISIT").name == "regear with the 37s?"
            await here.press("down", "up")
            assert "nobody knows what it rested on: look at it once" in here.screen
            assert "changed since:" not in here.screen and "nobody would notice" not in here.screen

    sit(looks())


def test_a_caution_is_accepted_where_it_stands_and_lapses_when_what_it_rests_on_moves(truck):
    async def accepts():
        async with visit(truck) as here:
            here.point_at("the speedometer reads low")
            await here.press("a")
            assert "It comes up again" in here.screen
            await here.type("the gear is on its way")
            await here.press("enter")
            assert here.point_at("the speedometer reads low").mark == "accepted"

    sit(accepts())
    made = data(truck)["acceptances"][-1]
    assert made["flag"].startswith("speedometer.") and made["because"] == "the gear is on its way"
    assert "fitments.tall.tire.overall_diameter" in rested_on(truck, made)
    assert last(truck).kind == "acceptance"
    text = truck.read_text()
    truck.write_text(text.replace('overall_diameter = "36.8 in ± 0.1 in"', 'overall_diameter = "37.6 in ± 0.1 in"', 1))

    async def lapses():
        async with visit(truck) as here:
            await here.go("parts")
            assert here.point_at("the speedometer reads low").mark == "LAPSED"

    sit(lapses())


def test_a_stop_is_never_accepted_and_the_reason_is_told(truck):
    before = truck.read_bytes()

    async def refuses():
        async with visit(truck) as here:
            here.point_at("STOP?")
            await here.press("a")
            assert any("You can't accept a stop" in said for said in here.said)

    sit(refuses())
    assert truck.read_bytes() == before


def test_an_acceptance_is_taken_back_and_the_caution_stands_again(truck):
    async def takes_back():
        async with visit(truck) as here:
            await here.go("parts")
            here.point_at("front: the moment on the wheel bearings has grown")
            await here.press("b")
            await here.type("play was found")
            await here.press("enter")
            await here.go("overview")
            assert here.point_at("front: the moment on the wheel bearings has grown").mark == "CAUTION"

    sit(takes_back())
    assert [one["at"] for one in data(truck)["acceptances"]] == ["rear"]
    assert last(truck).because == "play was found"


def test_sums_and_the_budget_stand_over_the_parts(truck):
    async def reads():
        async with visit(truck) as here:
            await here.go("parts")
            assert "budget 6,500 USD" in " ".join(row.name for row in here.rows if row.heading)

    sit(reads())


def test_a_photo_of_a_part_and_of_a_decision_is_named_where_they_stand(truck):
    async def names():
        async with visit(truck) as here:
            await here.go("parts")
            here.point_at("wheel bearings and seals")
            await here.press("h")
            await here.type("box.jpg: the number on the box")
            await here.press("enter")
            here.point_at("regear with the 37s?")
            await here.press("h")
            await here.type("hill.png")
            await here.press("enter")
            here.point_at("the moment on the wheel bearings")
            await here.press("h")
            assert "isn't on a part" in here.said[-1]

    sit(names())
    assert part(truck, "bearings")["photos"] == ["box.jpg: the number on the box"]
    assert data(truck)["decisions"][0]["photos"] == ["hill.png"]
