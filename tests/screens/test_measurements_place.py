"""What to measure next stands first and is written where it stands; new things lead on to their next entry."""

from screens_visit import copied, sit, visit

from planner.plan.answers.measure_next import WantedEntry
from planner.screens.widgets.editor import Editor
from planner.screens.widgets.side_panel import SidePanel


def wanted(rows):
    return [row.about for row in rows if isinstance(row.about, WantedEntry)]


def test_what_decides_most_is_asked_for_first_and_is_written_right_there(tmp_path):
    path = copied(tmp_path, "just-begun")

    async def story():
        async with visit(path) as here:
            await here.go("measurements")
            first, second = wanted(here.rows)[:2]
            assert here.rows[1].about == first
            await here.press("2")
            assert here.app.screen.query_one(Editor).field.key == first.key
            await here.press("enter")
            assert first.key not in [one.key for one in wanted(here.rows)]
            row_list = here.app.screen.query_one("#rows")
            assert row_list.current.about.key == second.key

    sit(story())


def test_the_words_beside_say_how_it_is_measured_and_what_to_beware_of(tmp_path):
    path = copied(tmp_path, "just-begun")

    async def story():
        async with visit(path) as here:
            await here.go("measurements")
            here.point_at("axles.front.brake.radius")
            await here.settle()
            words = here.app.screen.query_one("#side-panel", SidePanel).words
            assert "how: Big caliper" in words
            assert "asbestos" in words

    sit(story())


def test_words_longer_than_their_room_are_read_on_with_tab_and_the_arrows(tmp_path):
    path = copied(tmp_path, "just-begun")

    async def story():
        async with visit(path) as here:
            await here.go("measurements")
            here.point_at("axles.front.brake.radius")
            await here.settle()
            assert "more below" in here.screen
            last = here.app.screen.query_one("#side-panel", SidePanel).words.split()[-1]
            await here.press("tab", *["down"] * 12)
            assert isinstance(here.app.focused, SidePanel)
            assert last in here.screen
            assert "more below" not in here.screen

    sit(story())


def test_a_new_obstacle_has_its_axle_next_under_the_cursor(tmp_path):
    path = copied(tmp_path, "just-begun")

    async def story():
        async with visit(path) as here:
            await here.go("measurements")
            await here.press("ctrl+n", "enter")
            await here.type("rod end")
            await here.press("enter")
            assert here.app.screen.query_one("#rows").current.key == "obstacles[0].axle"
            assert "obstacle: rod end" in here.screen
            await here.press("enter")
            await here.type("front")
            await here.press("enter")
            assert here.app.screen.query_one("#rows").current.key == "obstacles[0].side"

    sit(story())
    assert 'name = "rod end"' in path.read_text(encoding="utf-8")


def test_a_new_gear_is_written_with_its_ratio_and_then_stands_under_the_cursor(tmp_path):
    path = copied(tmp_path, "just-begun")

    async def story():
        async with visit(path) as here:
            await here.go("axles")
            await here.press("ctrl+n", "enter")
            await here.type("fifth")
            await here.press("enter")
            await here.type("0.8")
            await here.press("enter")
            assert here.app.screen.query_one("#rows").current.key == "drivetrain.gearbox.fifth"

    sit(story())


def test_a_new_candidate_is_in_view_once_its_tire_is_entered_and_not_before(tmp_path):
    path = copied(tmp_path, "just-begun")

    async def story():
        async with visit(path) as here:
            await here.go("tires")
            before = here.app.fitment
            await here.press("ctrl+n")
            await here.type("mine")
            await here.press("enter", "escape")
            assert here.app.fitment == before
            await here.press("ctrl+n")
            await here.type("mine")
            await here.press("enter")
            await here.type("235/85R16")
            await here.press("enter")
            assert here.app.fitment == "mine"

    sit(story())


def test_a_mock_up_reading_is_of_the_planned_wheel_and_is_told_beside_what_is_predicted(tmp_path):
    path = copied(tmp_path, "county-road-4x4")

    async def story():
        async with visit(path) as here:
            await here.go("measurements")
            await here.press("n", "down", "down", "enter")
            await here.type("tie rod end")
            await here.press("enter")
            reading = here.app.state.opened.project.readings[-1]
            assert (reading.of, reading.fitment) == ("tie rod end", "tall")
            await here.press("enter")
            await here.type("1.4 in")
            await here.press("enter")
            words = here.app.screen.query_one("#side-panel", SidePanel).words
            assert "measured 1.4 in" in words and "predicted 1.41 in" in words and "its side isn't given" in words
            labels = [row.about.key for row in here.rows if getattr(row.about, "key", "").startswith("readings[")]
            assert "readings[12].reached" in labels and "readings[0].reached" not in labels

    sit(story())
