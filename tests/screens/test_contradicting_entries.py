"""Two entries that contradict each other on the screens: a stop in their place, saved all the same, and cured there."""

import tomllib

from screens_visit import copied, sit, visit

RATIO = "axles.front.ratio"


def test_a_ratio_that_the_teeth_do_not_give_is_saved_stops_and_is_cured_where_it_is_entered(tmp_path):
    path = copied(tmp_path)

    async def enter(here, text):
        await here.go("gearing")
        here.point_at(RATIO)
        await here.press("enter")
        await here.type(text)
        await here.press("enter")

    async def story():
        async with visit(path, (120, 40)) as here:
            await enter(here, "4.10")
            assert tomllib.loads(path.read_text(encoding="utf-8"))["axles"]["front"]["ratio"] == "4.10"
            stop = here.point_at("the axle ratio and the tooth counts contradict each other")
            assert stop.mark == "STOP"
            row = here.point_at(RATIO)
            assert row.tone == "error" and row.value == "4.10"
            await here.settle()
            assert "it contradicts" in here.screen
            await enter(here, "5.22")
            assert not any("contradict" in row.name for row in here.rows) and here.point_at(RATIO).tone != "error"

    sit(story())
