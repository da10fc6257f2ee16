"""What a cure says in numbers: by how much, to which angle, with which gears; each by a sum beside it."""

import re
from datetime import date

import pytest
from plain_truck import PLAIN
from plan.test_false_clears import truck
from plan.test_one_cause import TALL

from planner.plan.answers.flagging import flags
from planner.plan.answers.open_project import open_project
from planner.plan.truck.catalog import catalog
from planner.worksheet.declare import TO_CLEAR

TODAY = date(2026, 11, 25)
POKE = """
[axles.front.fender]
face_to_edge = "6 in ± 1/8 in"
greatest_poke = "0 in"
[fitments.tall.tire]
section_width = "{}"
construction = "bias"
[fitments.tall.wheel]
offset = "0 in exact"
"""
GEARS = """
[axles.rear]
ratio = "{}"
[drivetrain]
gearbox = {{ top = 1 }}
transfer = {{ high = 1 }}
[drivetrain.engine]
top_speed = "3000 rpm"
[use]
top_speed = "60 mph"
[fitments.tall.tire]
rolling_circumference = "88 in exact"
"""


@pytest.fixture
def cure(tmp_path):
    def cure_of(text: str, node: str) -> str:
        path = tmp_path / "truck.toml"
        path.write_text(f"format = 2\n{text}{PLAIN}", encoding="utf-8")
        found = {flag.rule.node: flag for flag in flags(open_project(path, TODAY), worded=True)}
        return found[node].cure

    return cure_of


def test_more_backspace_is_asked_for_by_what_it_takes_at_the_worst(cure):
    # 14 / 2 − 6 = 1 in past the edge; the edge may stand 1/8 in further in
    assert "by at least 1 1/8 in" in cure(POKE.format("14 in exact"), "poke_past_greatest")


def test_where_nothing_is_wanting_no_number_is_told(cure):
    told = cure(POKE.format("10 in exact"), "poke_past_greatest")
    assert "at least" not in told and TO_CLEAR not in told


def test_gears_are_told_by_the_ratio_that_would_do(cure):
    # 60 mph is 63,360 in a minute, 720 turns of 88 in; at 4.5 that is 3,240 rpm, and 3,000 / 720 is 4.1667
    assert "no more than about 4.17" in cure(GEARS.format("4.5"), "engine_past_its_top_speed")


def lock(**changed):
    return next(flag for flag in flags(truck(changes=[], **changed)) if flag.rule.node == "locks_too_wide")


def test_the_stop_is_told_by_its_angle_and_the_backspace_by_one():
    told = lock().cure  # without the longer stop screws of the plan
    assert re.match(r"Before anybody drives it, set the steering stop to no more than \d+\.\d+°", told)
    bought = told.partition("A backspace of ")[2].partition(" would")[0]
    assert " to " not in bought


def test_no_stop_is_advised_where_there_is_no_room_straight_ahead():
    for node in ("locks_too_wide", "outer_lock_too_wide"):
        words = catalog().rules[node].call(0.0, 0.5, "the spring").words
        assert words["advice"].startswith("No steering stop helps")


def test_what_is_to_be_done_is_told_by_one_value():
    told = lock(**TALL).cure
    assert re.search(r"set the steering stop to no more than [\d.]+°: [^()]+ in \([^()]*mm\) more stop screw", told)
