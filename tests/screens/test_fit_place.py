"""The fit of the fitment in view: what touches first, what is not known before what is clear, and where it rests."""

from screens_visit import copied, sit, visit

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
                    assert "wants" in row.name + row.value
            row = here.point_at("spring pack, rear half")
            assert row.mark == "CLOSE?"
            assert "at the worst" in row.name
            assert "inner shoulder" in row.name

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
            assert rear["backspace, least"].binds.endswith("binds")
            assert rear["backspace, greatest"].binds.endswith("binds")
            assert "in steps of" in rear["backspace, the maker's step"].value
            assert "binds" in rear["largest tire"].binds

    sit(story())
