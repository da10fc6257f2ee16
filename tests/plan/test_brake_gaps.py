"""The gap to the brake, with clay on it and the bare wheel turned all around: what a reading of it proves."""

import pytest
from mocked_truck import TALL, TODAY, TWICE, Truck, answer, read

from planner.plan.answers.flagging import flags
from planner.plan.answers.open_project import open_project
from planner.plan.change.tick_filling import filled_by
from planner.plan.work.task_list import work


@pytest.fixture
def truck(tmp_path):
    return Truck(tmp_path)


BRAKE = """
[axles.front]
face_to_face = "1500 mm exact"
[axles.front.brake]
radius = "186 mm ± 2 mm"
face = "100 mm exact"
[limits.least_brake_gap]
value = "3 mm"
because = "as it stands"
"""


def gap(value, side="", fitment="found"):
    text = read(value, "[]", fitment).replace('"stone"', '"axles.front.brake"')
    return text + (f'side = "{side}"\n' if side else "")


def brake(opened):
    own = (flag for flag in flags(opened) if flag.rule.name == "brakes.barrel_near_brake" and flag.where != "rear")
    return next(flag.verdict.answer for flag in own)


def test_a_gap_that_was_read_on_both_sides_settles_the_barrel(truck):
    """190 mm of barrel over 186 ± 2 mm of drum leave 4 ± 2 mm: 3 are wanted."""
    assert brake(truck(more=BRAKE)) == "too close to call"
    both = [gap("3.8 mm ± 0.2 mm", side) for side in ("left", "right")]
    assert brake(truck(*both, more=BRAKE)) == "clear"
    assert brake(truck(*[one.replace("axles.front.brake", "front brake") for one in both], more=BRAKE)) == "clear"
    assert brake(truck(both[0], more=BRAKE)) == "too close to call"  # the other drum may be another one
    assert brake(truck(gap("3.8 mm ± 0.2 mm"), more=BRAKE)) == "too close to call"
    assert brake(truck(*[one.replace("3.8", "3.1") for one in both], more=BRAKE)) == "too close to call"


def test_a_gap_read_too_small_is_a_stop_whatever_the_figures_say(truck):
    opened = truck(gap("2.5 mm ± 0.2 mm", "left"), more=BRAKE)
    assert answer(opened, "measured_near_brake") == "raised" and brake(opened) == "too close to call"
    assert answer(truck(gap("3.1 mm ± 0.2 mm", "left"), more=BRAKE), "measured_near_brake") == "too close to call"


def test_a_gap_that_the_readings_cannot_leave_differs_and_the_barrel_is_not_known(truck):
    opened = truck(*(gap("7 mm ± 0.5 mm", side) for side in ("left", "right")), more=BRAKE)
    assert answer(opened, "brake_gap_differs") == "raised" and brake(opened) == "not known"
    near = next(flag for flag in flags(opened) if flag.rule.name == "brakes.barrel_near_brake")
    assert near.wants == ("readings[0].value, measured at the mock-up (it contradicts front brake radius)",)
    # less than the barrel leaves may be at a part of the brake that nobody measured, such as the face
    assert answer(truck(gap("1 mm ± 0.5 mm", "left"), more=BRAKE), "brake_gap_differs") == "clear"


def test_a_gap_of_another_candidates_wheel_or_of_a_drum_that_was_turned_since_proves_nothing(truck):
    both = [gap("3.8 mm ± 0.2 mm", side) for side in ("left", "right")]
    assert brake(truck(*[one.replace("found", "tall") for one in both], more=TALL + BRAKE)) == "too close to call"
    truck(*both, more=BRAKE)
    assert brake(truck.later(("186 mm ± 2 mm", "186.5 mm ± 2 mm"))) == "too close to call"
    assert brake(truck.later(("186.5 mm ± 2 mm", "186 mm ± 2 mm"))) == "clear"
    assert (
        brake(truck.later(('barrel_radius = "190 mm exact"', 'barrel_radius = "189 mm exact"'))) == "too close to call"
    )


def test_a_tick_of_the_clay_on_the_brake_writes_its_gap_and_proves_neither_side(truck):
    truck(*(TWICE.format(by=by) for by in ("owner", "neighbor")), more=BRAKE, rested=False)
    opened = open_project(truck.path, TODAY)
    one = work(opened).items["mock_up.brake_clay.front"]
    filled = filled_by(opened, work(opened), one, "3.8 mm ± 0.2 mm", "", TODAY)
    (reading,) = filled.changes.values()
    assert (reading["of"], reading["fitment"], reading["value"]) == ("axles.front.brake", "found", "3.8 mm ± 0.2 mm")
    assert "front brake, measured 3.8 mm ± 0.2 mm, predicted 4.00 mm" in filled.says
    assert filled.says.endswith("its side isn't given")


def test_where_nothing_was_mocked_up_nothing_is_asked_of_it(truck):
    opened = truck(more=BRAKE)
    bare = truck.later(("[[obstacles]]", "[[my_obstacles]]"))  # which is not even swept
    rules = ("measured_near_brake", "brake_gap_differs", "mock_up_differs")
    assert [answer(one, rule) for one in (opened, bare) for rule in rules] == ["not asked"] * 6
