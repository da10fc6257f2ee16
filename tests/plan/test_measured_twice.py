"""What a wheel order rests on is measured twice before its drawing is signed: another way, or by somebody else."""

from datetime import date
from pathlib import Path

import pytest
from work_truck import listed, opened, replace, ticked, written

from planner.plan.answers.open_project import open_project
from planner.plan.truck.recording import RefusedChange
from planner.plan.work.measured_twice import measured_once
from planner.plan.work.task_values import why_not_tick
from planner.project.diary_reading import read_diary

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
        ("", "", []),  # what is not entered is asked for elsewhere
    ],
)
def test_two_readings_that_agree_are_by_another_way_or_another_person(tmp_path, studs, more, once):
    assert measured_once(opened(truck(tmp_path, studs, more))) == once


def test_the_obstacle_that_comes_nearest_at_each_end_is_measured_twice():
    county = open_project(ROOT / "projects" / "county-road-4x4.toml", date(2026, 11, 25))
    room = {}
    for spot, least in county.swept.results.items():
        if spot.node == "least_clearance" and spot.place[0] == "tall":
            obstacle = county.obstacles[spot.place[2]]
            wanted = obstacle.required.value if obstacle.required else 0.0
            room.setdefault(obstacle.measured.axle, []).append((least.low - wanted, spot.place[2]))
    once = [key for key in measured_once(county) if key.startswith("obstacles")]
    assert len(once) == 2
    for axle, key in zip(("front", "rear"), once, strict=True):
        assert (county.obstacles[min(room[axle])[1]].measured.name or "") in key


@pytest.mark.parametrize("studs", [ADJACENT, ADJACENT + SKIP])
def test_a_drawing_that_rests_on_one_reading_is_signed_only_all_the_same_with_the_reason(tmp_path, studs):
    path = truck(tmp_path, studs)
    for id_ in ("safe.local_code", "decide.sign"):
        ticked(path, id_, because="looked at all of it", anyway=True)
    project, drawing = opened(path), listed(path).items["order.drawing"]
    against = [
        one for one in why_not_tick(project, drawing, "their letter", "") if one.startswith("measured only once")
    ]
    told = ["measured only once, and the wheels rest on it: axles.front.studs.adjacent_spacing"]
    assert against == (told if studs == ADJACENT else [])
    with pytest.raises(RefusedChange, match="all the same"):
        ticked(path, "order.drawing", "their letter", because="in writing")
    ticked(path, "order.drawing", "their letter", because="in writing", anyway=True)
    assert listed(path).items["order.drawing"].state == "done"
    assert read_diary(path).entries[-1].because == "in writing"
