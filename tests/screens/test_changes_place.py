"""Changes to the truck by keyboard: begun, entered, decided, done and measured; what is done there ends in the file."""

import tomllib

import pytest
from screens_visit import copied, sit, visit

from planner.project.diary_reading import read_diary


@pytest.fixture
def truck(tmp_path):
    return copied(tmp_path)


def change(path, at=-1):
    return tomllib.loads(path.read_text())["changes"][at]


def test_a_lift_is_begun_entered_decided_and_given_up_with_a_reason(truck):
    async def story():
        async with visit(truck, (120, 40)) as here:
            await here.go("changes")
            await here.press("n")
            here.point_at("a change")
            await here.press("enter")
            here.point_at("lift")
            await here.press("enter")
            await here.type("2 in lift")
            await here.press("enter")
            assert change(truck) == {"name": "2 in lift", "kind": "lift", "state": "considered"}
            row = here.app.screen.query_one("#rows").current
            assert "axles.front.lift" in row.key, "the cursor is on what it asks first"
            await here.press("enter")
            await here.type("2 in")
            await here.press("enter")
            assert change(truck)["sets"] == {"axles.front.lift": "2 in"}
            assert any(row.key.endswith('"axles.front.steering.drag_link_angle"') for row in here.rows)
            await here.press("space")
            assert "2 in lift: considered → decided" in here.screen
            await here.press("enter")
            assert change(truck)["state"] == "decided"
            await here.press("b")
            await here.type("too tall for the barn")
            await here.press("enter")

    sit(story())
    assert change(truck)["state"] == "given up"
    last = read_diary(truck).entries[-1]
    assert (last.kind, last.because) == ("change", "too tall for the barn")


def test_a_change_is_done_by_its_task_which_says_what_stands_before_it(truck):
    async def story():
        async with visit(truck) as here:
            await here.go("changes")
            here.point_at("longer stop screws")
            await here.press("space")
            assert any("change.longer_stop_screws" in said for said in here.said)

    sit(story())
    assert change(truck, 0)["state"] == "decided"


def test_what_was_measured_after_it_is_written_under_the_change(truck):
    truck.write_text(truck.read_text().replace('state = "decided"\nwith', 'state = "done"\nwith'))

    async def story():
        async with visit(truck, (120, 40)) as here:
            await here.go("changes")
            assert here.point_at("longer stop screws").note == "2 to measure"
            await here.press("enter")
            here.point_at('measured."axles.front.steering.stop_angle".value')
            await here.press("enter")
            await here.type("26 1/2 deg ± 1/4 deg")
            await here.press("enter")

    sit(story())
    assert change(truck, 0)["measured"] == {"axles.front.steering.stop_angle": {"value": "26 1/2 deg ± 1/4 deg"}}
