"""The truck as found is judged too, in the same flag: what was always so is told from what this build does."""

from datetime import date

import pytest

from planner.commands.check import as_data, page
from planner.plan.answers.flagging import flags
from planner.plan.answers.open_project import open_project
from planner.plan.truck.catalog import catalog

TODAY = date(2026, 11, 25)
TRUCK = """
[use]
top_speed = "65 mph"
[fitments.found.tire]
{}
[fitments.tall.tire]
speed_symbol = "{}"
"""


@pytest.fixture
def judged(tmp_path):
    def opened_and_flag(found: str, planned: str):
        path = tmp_path / "truck.toml"
        path.write_text("format = 2\n" + TRUCK.format(found, planned), encoding="utf-8")
        opened = open_project(path, TODAY)
        return opened, next(one for one in flags(opened) if one.rule.node == "slower_than_top_speed")

    return opened_and_flag


def test_what_this_build_does_was_clear_as_found(judged):
    # F is 80 km/h, or 49.7 mph; J is 100 km/h, or 62.1 mph; N is 140 km/h, or 87.0 mph
    opened, flag = judged('speed_symbol = "N"', "J")
    assert flag.verdict.answer == "raised" and flag.as_found == "clear, 21.9 mph to spare"
    assert "as found: clear, 21.9 mph to spare" in " ".join(" ".join(page(opened, flags(opened))).split())
    told = next(one for one in as_data(opened, flags(opened))["flags"] if one["rule"] == flag.rule.name)
    assert told["as_found"] == flag.as_found


def test_what_was_always_so_says_by_how_much(judged):
    _, flag = judged('speed_symbol = "F"', "J")
    assert flag.as_found.startswith("raised, short by 15.3 mph")


def test_of_a_found_truck_that_nobody_measured_nothing_is_told(judged):
    assert judged("", "J")[1].as_found == ""


def test_what_is_clear_is_not_held_against_the_truck_found(judged):
    assert judged('speed_symbol = "F"', "N")[1].as_found == ""


@pytest.mark.parametrize(
    "node",
    [
        "carries_less_than_load", "carries_less_than_rating", "rated_below_load", "slower_than_top_speed",
        "engine_slow_at_cruise", "engine_fast_at_cruise", "engine_past_its_top_speed",
    ],
)  # fmt: skip
def test_load_speed_and_engine_speed_are_judged_as_found(node):
    assert catalog().rules[node].as_found


def test_no_rule_that_compares_with_the_truck_found_is_judged_against_itself():
    for rule in catalog().rules.values():
        if rule.as_found:
            assert not [taken.name for taken in rule.inputs if (taken.reads or "").startswith("found_")], rule.name
