"""The fit of the fitment in view: what touches first, what is not known before what is clear, and where it rests."""

import re

import pytest
from screens_visit import NARROW, WIDE, copied, sit, visit

from planner.plan.answers.fit_words import ORDER, FitLine, ObstacleClearance


def undecided(folder):
    """The county truck before it was decided to turn the stops in: some obstacles are too close to call."""
    path = copied(folder)
    text = path.read_text("utf-8")
    assert text.count('state = "decided"') == 1
    path.write_text(text.replace('state = "decided"', 'state = "considered"'), "utf-8")
    return path


def clears(rows):
    return [row.about for row in rows if isinstance(row.about, ObstacleClearance)]


def test_what_is_too_near_comes_first_and_what_is_clear_last(tmp_path):
    path = undecided(tmp_path)

    async def story():
        async with visit(path) as here:
            await here.go("fit")
            shown = clears(here.rows)
            places = [ORDER.index(one.stands) for one in shown]
            assert places == sorted(places)
            for stands in ORDER:
                spare = [one.spare for one in shown if one.stands == stands]
                assert spare == sorted(spare)
            first = here.rows[1].about
            assert isinstance(first, ObstacleClearance)
            assert first.stands != "clear"
            assert {one.label for one in shown} == set(here.app.state.opened.obstacles)

    sit(story())


def test_each_clearance_says_what_it_is_at_the_worst_and_what_is_wanted(tmp_path):
    path = undecided(tmp_path)

    async def story():
        async with visit(path) as here:
            await here.go("fit")
            for row in here.rows:
                if isinstance(row.about, ObstacleClearance) and row.about.stands != "not known":
                    assert len(row.table) == 4
            heads = [row for row in here.rows if row.heading and row.table]
            assert {row.table for row in heads} == {("least", "at worst", "wanted", "where")}
            row = here.point_at("spring pack, rear half")
            await here.settle()
            assert row.mark == "CLOSE?"
            assert "inner shoulder" in here.app.screen.query_one("#side-panel").words

    sit(story())


@pytest.mark.parametrize("size", [NARROW, WIDE, (200, 50)], ids=str)
def test_the_columns_of_obstacles_line_up_and_each_obstacle_has_one_line(tmp_path, size):
    path = undecided(tmp_path)

    async def story():
        async with visit(path, size) as here:
            await here.go("fit")
            lines = here.screen.splitlines()
            head = next(line for line in lines if "at worst" in line)
            ends = [head.index(name) + len(name) for name in ("least", "at worst", "wanted")]
            close = [row for row in here.rows if row.mark == "CLOSE?"]
            assert len(close) > 2
            for at, row in enumerate(close, lines.index(head) + 1):
                assert row.name in lines[at]
                for end, figure in zip(ends, row.table, strict=False):
                    assert lines[at][:end].endswith(f" {figure}")  # and blank before it
                if size == WIDE:
                    start = head.index("where")
                    assert lines[at][start:].startswith(row.table[3])

    sit(story())


def test_where_an_obstacle_is_nearest_is_told_in_a_few_words(tmp_path):
    path = copied(tmp_path)

    async def story():
        async with visit(path) as here:
            await here.go("fit")
            where = {one.label: one.stance for one in clears(here.rows)}
            assert where["tie rod end"] == "turns with the wheel"
            assert re.fullmatch(r"\d+° out, up [\d.]+ in", where["fender lip, top"])
            assert not any("the far one" in one for one in where.values())

    sit(story())


def test_nothing_too_near_is_said_with_how_many_are_not_known(tmp_path):
    path = copied(tmp_path, "forestry-4x4")  # its front kingpin's caster was never measured

    async def story():
        async with visit(path) as here:
            await here.go("fit")
            assert here.rows[1].mark == "unknown"
            assert "5 not known" in here.rows[1].name
            unknown = [one for one in clears(here.rows) if one.stands == "not known"]
            assert len(unknown) == 5
            here.point_at("coil spring")
            await here.settle()
            assert "caution: Hold the axle end at ride height" in here.app.screen.query_one("#side-panel").words

    sit(story())


def test_without_obstacles_nothing_says_that_the_tire_clears(tmp_path):
    path = copied(tmp_path, "just-begun")

    async def story():
        async with visit(path) as here:
            await here.go("fit")
            assert "no obstacle is measured yet" in here.rows[1].name
            assert here.rows[1].mark == "unknown"

    sit(story())


def test_another_fitment_is_swept_as_if_it_were_chosen_and_why_asks_of_that(tmp_path):
    path = copied(tmp_path)

    async def story():
        async with visit(path) as here:
            await here.go("fit")
            planned = {one.label: one.least for one in clears(here.rows)}
            await here.press("f9")
            assert here.rows[0].name.startswith("modest, as if it were chosen")
            other = {one.label: one.least for one in clears(here.rows)}
            assert planned.keys() == other.keys()
            assert planned != other
            here.point_at("exhaust pipe")
            await here.press("question_mark")
            assert "modest" in here.screen
            assert here.app.state.opened.project.plan.chosen == "tall"

    sit(story())


def test_the_window_names_what_binds_at_each_end_and_the_maker_s_step_with_its_margins(tmp_path):
    path = copied(tmp_path)

    async def story():
        async with visit(path) as here:
            await here.go("fit")
            said = [row.about for row in here.rows if isinstance(row.about, FitLine)]
            names = [one.name for one in said]
            assert "inner wheel, front outboard" in names
            assert "backspace, none fits" in names  # at the front two limits fight
            rear = {one.name: one for one in said if "rear" in one.spot.place}
            assert rear["backspace, least"].binds.endswith("sets the limit")
            assert rear["backspace, greatest"].binds.endswith("sets the limit")
            assert "falls inside" in rear["backspace, the maker's step"].value
            assert "sets the limit" in rear["largest tire"].binds

    sit(story())
