"""Parts and money: what is promised, spent and over, by hand calculation."""

from datetime import timedelta
from decimal import Decimal

import pytest
from work_truck import TODAY, listed, opened, written

from planner.plan.work.money import amount, money

PARTS = """
[[parts]]
id = "wheels"
price = 285
quantity = 5
state = "ordered"
used_for = ["tall"]

[[parts]]
id = "nuts"
price = 3.25
quantity = 14
state = "arrived"

[[parts]]
id = "tires"
price = 472
quantity = 5
lead_time = "2 weeks"
used_for = ["tall"]

[[parts]]
id = "seals"
price = 80
state = "returned"

[[parts]]
id = "hoses"
"""


def told(path, today=TODAY):
    return money(opened(path, today), listed(path, today))


def test_spent_is_what_is_ordered_here_or_fitted_and_promised_what_is_wanted(tmp_path):
    found = told(written(tmp_path, "budget = 3800\n" + PARTS))
    # 5 × 285 + 14 × 3.25 = 1425 + 45.50; 5 × 472 = 2360; together 3830.50, 30.50 over
    assert found.spent == Decimal("1470.5")
    assert found.promised == 2360
    assert found.over == Decimal("30.5")
    assert found.unpriced == ("hoses",)


def test_without_a_budget_nothing_is_over(tmp_path):
    assert told(written(tmp_path, PARTS)).over is None


def test_what_came_back_costs_nothing_and_is_still_listed(tmp_path):
    row = next(row for row in told(written(tmp_path, PARTS)).rows if row.id == "seals")
    assert not row.counts and row.total == 80


@pytest.mark.parametrize(("state", "spent", "promised"), [("wanted", 0, 0), ("arrived", 50, 0)])
def test_a_part_of_another_candidate_counts_only_when_it_was_bought(tmp_path, state, spent, promised):
    part = f'[[parts]]\nid = "a"\nprice = 50\nstate = "{state}"\nused_for = ["low"]\n'
    found = told(written(tmp_path, '\n[fitments.low]\ndescription = "low"\n' + part))
    assert (found.spent, found.promised) == (spent, promised)


def test_a_fitments_own_price_stands_in_until_its_parts_are_listed(tmp_path):
    path = written(tmp_path)
    path.write_text(path.read_text().replace('lead_time = "4 weeks"', 'lead_time = "4 weeks"\nprice = 3895'))
    assert told(path).promised == 3895
    path.write_text(path.read_text() + '\n[[parts]]\nid = "wheels"\nprice = 10\nused_for = ["tall"]\n')
    assert told(path).promised == 10


def test_a_part_is_late_the_day_after_its_order_by_date(tmp_path):
    path = written(tmp_path, PARTS)
    by = listed(path).dates.order_by["tires"]
    late = {day: {row.id: row.late for row in told(path, day).rows}["tires"] for day in (by, by + timedelta(days=1))}
    assert list(late.values()) == [False, True]


def test_amounts_are_written_with_cents_only_where_there_are_any():
    assert amount(Decimal("1234.5"), "USD") == "1,234.50 USD"
    assert amount(Decimal("1234")) == "1,234"
