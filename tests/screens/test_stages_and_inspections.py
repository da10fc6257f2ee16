"""By keyboard: a stage of the build read by itself, and an inspection ticked with what the odometer shows."""

import tomllib

from screens_visit import sit, visit

STAGED = """\
format = 2
[fitments.found.tire]
construction = "bias"
[fitments.tall.tire]
construction = "radial"
[plan]
chosen = "tall"
[[plan.stages]]
name = "rear first"
rear = "tall"
"""
DRIVEN = """\
format = 2
[fitments.tall.wheel]
backspace = "5 in"
[plan]
chosen = "tall"
[[tasks]]
id = "road.qualified"
state = "done"
on = 2026-10-01
odometer = "52,000 mi"
"""


def written(folder, text):
    path = folder / "truck.toml"
    path.write_text(text, encoding="utf-8")
    return path


def test_enter_on_a_stages_caution_tells_each_of_its_flags_with_the_cure(tmp_path):
    async def reads():
        async with visit(written(tmp_path, STAGED)) as here:
            here.point_at("rear first: a stage of the build drives differently")
            await here.press("enter")
            assert "Stage rear first, as a truck of its own" in here.screen
            assert "CAUTION  radial tires at one axle and bias tires at the other" in here.screen
            assert "do: " in here.screen
            await here.press("escape")
            await here.press("f10")
            here.point_at("Before you drive stage 'rear first'")
            assert "HOLD" in next(row.mark for row in here.rows if row.name.startswith("Before you drive stage"))

    sit(reads())


def test_an_overdue_inspection_is_ticked_with_the_odometer_and_the_next_is_told(tmp_path):
    path = written(tmp_path, DRIVEN)

    async def ticks():
        async with visit(path) as here:
            await here.press("f10")
            here.point_at("front: Tires: tread, wear")
            assert "OVERDUE since 2026-11-01" in here.screen
            row = next(row for row in here.rows if row.name.startswith("front: Tires: tread, wear"))
            assert "OVERDUE" in str(row) and "by 1 Nov" in str(row)
            await here.press("space")
            await here.type("9/32 in")
            await here.press("enter")
            await here.type("52,700")
            await here.press("enter", "enter")
            here.point_at("front: Tires: tread, wear")
            assert here.app.screen._item().due.says == "due by 2026-12-25 or at 53,700 mi, whichever comes first"

    sit(ticks())
    data = tomllib.loads(path.read_text("utf-8"))
    one = next(each for each in data["tasks"] if each["id"] == "use.tires.front")
    assert (one["recorded"], one["odometer"]) == ("9/32 in", "52,700 mi")
    assert data["vehicle"]["odometer"] == "52,700 mi"
