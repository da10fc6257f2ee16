"""Axles that are locked together: what they differ by, against what the truck is used for."""

from datetime import date

import pytest

from planner.plan.answers.flagging import flags
from planner.plan.answers.open_project import open_project
from planner.plan.work.task_list import work

TODAY = date(2026, 11, 25)
RATIOS = "[axles.front]\nratio = 4.1\n[axles.rear]\nratio = 4.1\n"


@pytest.fixture
def judged(tmp_path):
    """The flags on a truck whose tires were rolled out: the front ones by so many mm a turn, the rear ones 2,500."""

    def flags_of(front: float, off: str = "exact", locked: str = "", part_time: str = "yes", ends: str = RATIOS):
        use = f'locked_on_hard_road = "{locked}"\n' if locked else ""
        path = tmp_path / "truck.toml"
        path.write_text(
            f'format = 2\n[vehicle]\nunits = "metric"\n[use]\ncruise_speed = "80 km/h"\n{use}'
            "[drivetrain]\ntransfer = { high = 1 }\n"
            + (f'part_time = "{part_time}"\n' if part_time else "")
            + ends
            + f'[fitments.tall.front.tire]\nrolling_circumference = "{front} mm {off}"\n'
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
    assert "the two ends are 2.6 km/h apart" in flag.says  # 0.032 × 80 = 2.56
    assert "roll 3.1 % less" in flag.cure  # 2500 / 2580 = 0.969
    assert judged(2580, locked="yes")["axles_travel_apart"].under.rule.node == "driveline_winds_up"


BOTH = ("driveline_winds_up", "axles_travel_apart")
DRIVEN = '[axles.front]\ndriven = "yes"\n[axles.rear]\ndriven = "yes"\n'


def test_whether_both_driven_axles_lock_is_asked_where_nobody_said_it_and_they_differ(judged):
    found = judged(2580, part_time="")  # 3.2 %
    for node in BOTH:
        assert found[node].verdict.answer == "not known" and "drivetrain.part_time" in found[node].needs
    found = judged(2520, part_time="")  # 0.8 %: whether they lock or not
    assert [found[node].verdict.answer for node in BOTH] == ["clear", "clear"]
    found = judged(2580, part_time="", ends=DRIVEN)  # and nothing of their ratios
    assert [found[node].verdict.answer for node in BOTH] == ["not known", "not known"]


@pytest.mark.parametrize("front", ["", 'driven = "no"\nratio = 4.1\n'])
def test_where_nobody_says_that_both_axles_are_driven_nobody_is_asked_what_locks_them(judged, front):
    found = judged(2580, part_time="", ends=f"[axles.front]\n{front}[axles.rear]\nratio = 4.1\n")
    assert not found.keys() & set(BOTH)
    assert judged(2580, part_time="yes", ends="[axles.rear]\nratio = 4.1\n").keys() >= set(BOTH)


def test_a_clear_says_why(judged):
    assert judged(2580, locked="no")["driveline_winds_up"].says == "Four-wheel drive is never locked on a hard road."
    assert judged(2580, part_time="no")["axles_travel_apart"].says == "Nothing locks the two axles together."
    assert "run 0.8 % ahead" in judged(2520)["driveline_winds_up"].says


DRIVE = """
[vehicle]
gross_weight = "6000 lb"
wheelbase = "118 in"
[drivetrain]
part_time = "yes"
engine.torque = "200 lbf·ft"
gearbox = { first = 5 }
transfer = { low = 2 }
[use]
wanted_grade = "30 %"
[assumptions.tire_grip]
value = "0.8"
"""
AXLE = """
[axles.{0}]
load = "3000 lb exact"
laden_load = "3,000 lb"
tires = 2
shaft_rating = "2500 lbf·ft"
{1}
[fitments.found.{0}.tire]
overall_diameter = "33 in exact"
loaded_radius = "16 in exact"
[fitments.tall.{0}.tire]
overall_diameter = "37 in exact"
loaded_radius = "18 in exact"
"""
RATIO = "ratio = 4.0\n"


@pytest.fixture
def driving(tmp_path):
    def flags_of(front: str = RATIO, rear: str = RATIO):
        path = tmp_path / "truck.toml"
        path.write_text("format = 2\n" + DRIVE + AXLE.format("front", front) + AXLE.format("rear", rear), "utf-8")
        opened = open_project(path, TODAY)
        return opened, {(f.rule.node, *(place[1] for place in f.places)): f for f in flags(opened, worded=True)}

    return flags_of


def test_an_axle_that_the_engine_does_not_drive_is_asked_for_no_gears_and_no_shafts(driving):
    _, found = driving(front='driven = "no"\n')
    asked = {need for flag in found.values() for need in flag.needs}
    assert not [need for need in asked if need.startswith("axles.front.ratio")]
    at_front = {node for node, *ends in found if "front" in ends}
    assert not at_front & {"shaft_torque_past_rating", "shaft_torque_grown", "effective_ratio_moved"}
    whole = {node for node, *_ in found}
    assert not whole & {"axles_travel_apart", "driveline_winds_up"}
    assert ("shaft_torque_past_rating", "rear") in found


@pytest.mark.parametrize(("front", "rolled"), [('driven = "no"\n', False), (RATIO, True)])
def test_nobody_rolls_out_both_axles_of_a_truck_that_is_driven_at_one(driving, front, rolled):
    assert ("check.four_wheel" in work(driving(front=front)[0]).items) is rolled


def test_a_shafts_torque_says_which_differential_it_was_taken_for(driving):
    # by grip 0.8 × 3000 × 18/12 = 3600 lbf·ft, far below the engine's 200 × 40 × 0.85 = 6800
    opened, found = driving(rear=RATIO + 'differential = "open"\n')
    flag = found["shaft_torque_past_rating", "front"]
    assert "taken as a locker, since nobody entered what it is" in flag.says
    front, rear = (
        opened.sheet.value(opened.spot("shaft_torque", fitment="tall", axle=end)) for end in ("front", "rear")
    )
    assert front == pytest.approx(3600 * 1.3558179, rel=1e-6)
    assert rear == pytest.approx(1800 * 1.3558179, rel=1e-6)
    assert found["shaft_torque_past_rating", "rear"].verdict.answer == "clear"
    assert "the differential open: each shaft gets half" in found["shaft_torque_past_rating", "rear"].says


def test_a_reduction_at_the_hub_stands_between_the_wheel_and_its_shaft(driving):
    opened, _ = driving(rear=RATIO + "hub_ratio = 2\n")
    rear = opened.sheet.value(opened.spot("shaft_torque", fitment="tall", axle="rear"))
    assert rear == pytest.approx(1800 * 1.3558179, rel=1e-6)


def test_with_one_axle_driven_its_tires_alone_climb(driving):
    _, found = driving()
    assert "all wheels driven" in found["grade_out_of_reach", ""].says
    # Half the weight on the rear axle, and nobody knows how high the center of gravity stands.
    _, found = driving(front='driven = "no"\n')
    flag = found["grade_out_of_reach", ""]
    assert flag.verdict.answer == "not known" and "vehicle.cg_height" in " ".join(flag.needs)
