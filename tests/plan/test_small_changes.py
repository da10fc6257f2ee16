"""Changes tried on a small truck: what they come to in money, and which parts they put in question."""

from decimal import Decimal

import pytest
from work_truck import opened, replace, written

from planner.plan.change.changing import Setting, try_settings
from planner.plan.change.effect_words import money_and_time
from planner.plan.work.money import money

PARTS = """
budget = 4000
[[tasks]]
id = "own.bearings"
title = "new bearings"
[[parts]]
id = "wheels"
price = 285
quantity = 5
state = "ordered"
[[parts]]
id = "tires"
price = 472
quantity = 5
[[parts]]
id = "bearings"
title = "front wheel bearings"
state = "arrived"
used_for = ["own.bearings"]
[[parts]]
id = "seals"
state = "arrived"
used_for = ["own.bearings"]
"""


@pytest.fixture
def truck(tmp_path):
    return opened(written(tmp_path, PARTS))


def effects(truck, key, value):
    return try_settings(truck, [Setting(key, value)], "tried").effects


def test_a_price_that_moves_is_told_with_what_the_budget_leaves(truck):
    # 5 × 285 + 5 × 472 = 3785, and 5 × 300 + 2360 = 3860: 140 of 4000 are left
    assert money(truck).over == Decimal(-215)
    told = dict(money_and_time(effects(truck, "parts[0].price", "300")))
    assert "3,785" in told["the whole build"] and "3,860" in told["the whole build"]
    assert "1,425" in told["spent so far"] and "1,500" in told["spent so far"]
    assert told["budget"].endswith("140 left")
    assert "60 over" in dict(money_and_time(effects(truck, "plan.budget", "3725")))["budget"]


def test_of_a_change_that_moves_no_money_the_budget_says_nothing(truck):
    assert money_and_time(effects(truck, "vehicle.name", "Old Red")) == []


def test_parts_bought_for_a_task_that_is_dropped_are_in_question_by_title_or_else_by_name(truck):
    found = effects(truck, "tasks.own.bearings.state", "dropped").parts
    assert [(one.id, one.title) for one in found] == [("bearings", "front wheel bearings"), ("seals", "seals")]
    assert {one.why for one in found} == {("own.bearings changes: its task",)}


def test_a_note_on_a_task_puts_no_part_in_question(truck):
    assert not effects(truck, "tasks.own.bearings.note", "by hand").parts


def test_what_a_change_sets_is_called_as_what_was_found_is_and_by_the_change(tmp_path):
    change = '[[changes]]\nname = "stronger axle"\nkind = "other"\nstate = "decided"\n'
    path = written(tmp_path, f'{change}[changes.sets]\n"axles.front.rating" = "5,000 lb"\n')
    replace(path, "format = 1", "format = 2")
    truck = opened(path)
    told = truck.spoken('changes[0].sets."axles.front.rating"')
    assert told == f"{truck.spoken('axles.front.rating')} (by the change 'stronger axle', decided)"
