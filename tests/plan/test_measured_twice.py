"""What a wheel order rests on is measured twice before its drawing is signed: another way, or by somebody else."""

from datetime import date
from pathlib import Path

import pytest
from work_truck import TODAY, listed, opened, replace, ticked, written

from planner.plan.answers.open_project import open_project
from planner.plan.change.changing import Setting, make, try_settings
from planner.plan.truck.recording import RefusedChange
from planner.plan.work.measured_twice import measured_once
from planner.plan.work.task_words import stands
from planner.sheets.kind import Asked, Subject
from planner.sheets.kinds.order import KIND

ROOT = Path(__file__).parents[2]

# Six studs on 8 in: a neighbor is half of that, 4 in, and two spaces are 8 × sin 60°, 6.9282 in.
ADJACENT = 'adjacent_spacing = "4 in ± 0.005 in"\n'
SKIP = 'skip_spacing = "6.928 in ± 0.005 in"\nskip = 2\n'


def truck(folder, studs, more=""):
    path = written(folder, f"[axles.front.studs]\ncount = 6\n{studs}{more}")
    replace(path, "format = 1", "format = 2")
    return path


def reading(value, **said):
    words = "".join(f'{name} = "{text}"\n' for name, text in said.items())
    return f'\n[[readings]]\nof = "axles.front.studs.adjacent_spacing"\nvalue = "{value}"\n{words}'


FIRST = reading("4 in ± 0.005 in", by="owner", tool="caliper")
CIRCLE = ["axles.front.studs.adjacent_spacing"]


@pytest.mark.parametrize(
    ("studs", "more", "once"),
    [
        (ADJACENT, "", CIRCLE),
        (ADJACENT + SKIP, "", []),  # two ways to one circle
        ("", FIRST, CIRCLE),
        ("", FIRST + reading("4.002 in ± 0.005 in", by="owner", tool="caliper"), CIRCLE),  # the same again
        ("", FIRST + reading("4.002 in ± 0.005 in"), CIRCLE),  # nobody says that it was otherwise
        ("", FIRST + reading("4.002 in ± 0.005 in", by="neighbor"), []),
        ("", FIRST + reading("4.002 in ± 0.005 in", by="owner", tool="steel rule"), []),
        ("", FIRST + reading("4.006 in ± 0.005 in", by="neighbor"), CIRCLE),  # further apart than either states
        ('circle = "8 in"\n', "", ["axles.front.studs.circle"]),  # a plate is no reading of this hub
        ("", "", []),  # what is not entered is asked for elsewhere
    ],
)
def test_two_readings_that_agree_are_by_another_way_or_another_person(tmp_path, studs, more, once):
    assert [one.key for one in measured_once(opened(truck(tmp_path, studs, more)))] == once


def test_the_obstacle_that_comes_nearest_at_each_end_is_measured_twice():
    county = open_project(ROOT / "projects" / "county-road-4x4.toml", date(2026, 11, 25))
    room = {}
    for spot, least in county.swept.results.items():
        if spot.node == "least_clearance" and spot.place[0] == "tall":
            obstacle = county.obstacles[spot.place[2]]
            wanted = obstacle.required.value if obstacle.required else 0.0
            room.setdefault(obstacle.measured.axle, []).append((least.low - wanted, spot.place[2]))
    once = [one.key for one in measured_once(county) if one.key.startswith("obstacles")]
    assert len(once) == 2
    for axle, key in zip(("front", "rear"), once, strict=True):
        assert (county.obstacles[min(room[axle])[1]].measured.name or "") in key


def test_a_drawing_that_rests_on_one_reading_is_not_signed_whatever_the_reason(tmp_path):
    path = truck(tmp_path, ADJACENT)
    for id_ in ("safe.local_code", "decide.sign"):
        ticked(path, id_, because="looked at all of it", anyway=True)
    told = "order.drawing can't be signed yet: measured only once, and the wheels depend on it: bolt circle, front"
    with pytest.raises(RefusedChange, match=told):
        ticked(path, "order.drawing", "their letter", because="in writing", anyway=True)
    at = len(opened(path).project.tasks)
    by_hand = {"id": "order.drawing", "state": "done", "because": "in writing"}
    with pytest.raises(RefusedChange, match=told):
        make(try_settings(opened(path), [Setting(f"tasks[{at}].{key}", value) for key, value in by_hand.items()]), "")
    one = listed(path).items["order.drawing"]
    assert one.state == "waiting" and "1 measured only once" in stands(one)
    replace(path, ADJACENT, ADJACENT + SKIP)
    ticked(path, "order.drawing", "their letter", because="in writing", anyway=True)
    assert listed(path).items["order.drawing"].state == "done"


def test_a_wheel_order_is_not_for_order_before_all_that_it_rests_on_was_measured_twice_signed_or_not(tmp_path):
    signed = '[[tasks]]\nid = "order.drawing"\nstate = "done"\nbecause = "in writing"\n'
    for studs, said in ((ADJACENT, True), (ADJACENT + SKIP, False)):
        sheet = KIND.build(Subject(opened(truck(tmp_path, studs, signed)), Asked(), TODAY))
        assert (
            any("measured only once" in reason and "bolt circle, front" in reason for reason in sheet.reasons) == said
        )
