"""Axles that are locked together: what they differ by, against what the truck is used for."""

from datetime import date

import pytest

from planner.plan.answers.flagging import flags
from planner.plan.answers.open_project import open_project

TODAY = date(2026, 11, 25)


@pytest.fixture
def judged(tmp_path):
    """The flags on a truck whose tires were rolled out: the front ones by so many mm a turn, the rear ones 2,500."""

    def flags_of(front: float, off: str = "exact", locked: str = "", part_time: str = "yes"):
        use = f'locked_on_hard_road = "{locked}"\n' if locked else ""
        path = tmp_path / "truck.toml"
        path.write_text(
            f'format = 2\n[vehicle]\nunits = "metric"\n[use]\ncruise_speed = "80 km/h"\n{use}'
            "[drivetrain]\ntransfer = { high = 1 }\n"
            f'part_time = "{part_time}"\n[axles.front]\nratio = 4.1\n[axles.rear]\nratio = 4.1\n'
            f'[fitments.tall.front.tire]\nrolling_circumference = "{front} mm {off}"\n'
            '[fitments.tall.rear.tire]\nrolling_circumference = "2500 mm exact"\n',
            encoding="utf-8",
        )
        return {flag.rule.node: flag for flag in flags(open_project(path, TODAY), worded=True)}

    return flags_of


@pytest.mark.parametrize(
    ("front", "locked", "stop", "caution"),
    [
        (2570, "yes", "clear", "raised"),  # 70 / 2500 = 2.8 %
        (2580, "yes", "raised", "raised"),  # 80 / 2500 = 3.2 %
        (2420, "yes", "raised", "raised"),
        (2580, "no", "clear", "raised"),
        (2580, "", "not known", "raised"),
        (2520, "", "clear", "clear"),  # 0.8 %: no use makes that a fault, so nobody is asked for it
    ],
)
def test_what_the_ends_differ_by_is_judged_by_the_use(judged, front, locked, stop, caution):
    found = judged(front, locked=locked)
    assert found["driveline_winds_up"].verdict.answer == stop
    assert found["axles_travel_apart"].verdict.answer == caution


def test_a_stop_that_rests_on_the_use_asks_for_it(judged):
    assert judged(2580)["driveline_winds_up"].needs == ("use.locked_on_hard_road",)


def test_only_what_is_past_the_limit_for_certain_is_a_stop(judged):
    assert judged(2580, "± 4 mm", "yes")["driveline_winds_up"].verdict.answer == "raised"  # 76 / 2500 = 3.04 %
    assert judged(2580, "± 6 mm", "yes")["driveline_winds_up"].verdict.answer == "too close to call"  # 74: 2.96 %
    assert judged(2500, "± 90 mm", "yes")["driveline_winds_up"].verdict.answer == "too close to call"


def test_what_it_does_is_told_with_the_speed_and_the_tire_that_would_agree(judged):
    flag = judged(2580, locked="yes")["driveline_winds_up"]
    assert "run 3.2 % ahead" in flag.says and "breaks a joint" in flag.says
    assert "part by 2.6 km/h" in flag.says  # 0.032 × 80 = 2.56
    assert "roll 3.1 % less" in flag.cure  # 2500 / 2580 = 0.969
    assert judged(2580, locked="yes")["axles_travel_apart"].under.rule.node == "driveline_winds_up"


def test_a_clear_says_why(judged):
    assert judged(2580, locked="no")["driveline_winds_up"].says == "Four-wheel drive is never locked on a hard road."
    assert judged(2580, part_time="no")["axles_travel_apart"].says == "Nothing locks the two axles together."
    assert "run 0.8 % ahead" in judged(2520)["driveline_winds_up"].says
