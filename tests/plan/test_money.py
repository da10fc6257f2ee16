"""Parts and money: what is promised, spent and over, by hand calculation."""

from datetime import timedelta
from decimal import Decimal

import pytest
from work_truck import TODAY, listed, opened, replace, written

from planner.plan.change.task_recordings import make_recording
from planner.plan.revisit.plan_flags import all_flags
from planner.plan.work import buying
from planner.plan.work.money import amount, money
from planner.plan.work.part_words import bought_words
from planner.project.faults import Faulty

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


def newest(folder, more):
    path = written(folder, more)
    replace(path, "format = 1", "format = 2")
    return path


SET = 'lead_time = "4 weeks"'  # of the candidate tall


def with_set(folder, parts: str, plan: str = "", more: str = ""):
    """The truck with a set that costs 3,895 and another candidate's that costs 3,120, with these parts."""
    path = newest(folder, f"{plan}\n[fitments.low]\nprice = 3120\n{more}{parts}")
    replace(path, SET, f"{SET}\nprice = 3895")
    return path


def part(id_: str, price: str = "", used: str = '"tall"', more: str = "") -> str:
    costs = f"price = {price}\n" if price else ""
    return f'\n[[parts]]\nid = "{id_}"\n{costs}used_for = [{used}]\n{more}'


WHEELS = part("wheels", "285", more="quantity = 5\n")  # 1,425
TIRES = part("tires", "472", more="quantity = 5\n")  # 2,360


@pytest.mark.parametrize(
    ("parts", "total"),
    [
        ("", 3895),
        (part("nuts_left", "6.5", more="quantity = 14\n"), 3895 + 91),  # a nut is none of the set's own
        (part("studs", "4", more='kind = "other"\n'), 3895 + 4),
        (WHEELS, 3895),  # 1,425 of it, and 2,470 for the rest of the set
        (WHEELS + TIRES, 1425 + 2360),
        (part("the lot", "3700", more='kind = "tires and wheels"\n'), 3700),
        (part("rims", "1400", more='kind = "wheels"\n') + part("rubber", "2300", more='kind = "tires"\n'), 3700),
        (part("wheels", "285", more='kind = "other"\n'), 3895 + 285),  # its kind comes before its name
        (WHEELS + part("tires"), 3895),  # the tires' price is not known apart: it is in the set's
        (WHEELS.replace('["tall"]', "[]") + TIRES.replace('["tall"]', "[]"), 3785),  # of whatever is planned
        (WHEELS.replace('"tall"', '"low"'), 3895),  # wheels of the other one
        (WHEELS + TIRES + part("old", "9", more='state = "returned"\nkind = "wheels"\n'), 3785),
        (WHEELS.replace("[[parts]]", '[[parts]]\nstate = "returned"') + TIRES, 3895),  # wheels are wanted again
    ],
)
def test_a_sets_price_counts_but_for_what_its_own_tires_and_wheels_say(tmp_path, parts, total):
    found = told(with_set(tmp_path, parts))
    assert found.total == total and not found.unpriced


def test_parts_that_candidates_share_count_for_each_of_them(tmp_path):
    shared = WHEELS.replace('"tall"', '"tall", "low"') + part("nuts", "100", '"tall", "low"')
    for chosen, total in (("tall", 3895 + 100), ("low", 3120 + 100)):
        path = with_set(tmp_path, shared)
        replace(path, 'chosen = "tall"', f'chosen = "{chosen}"')
        assert told(path).total == total


def test_while_nothing_is_chosen_each_candidate_has_a_sum_of_its_own(tmp_path):
    path = with_set(tmp_path, WHEELS + TIRES + part("nuts", "100", '"tall", "low"'))
    replace(path, 'chosen = "tall"\n', "")
    found = told(path)
    # wheels and tires of tall, 3,785, or the set of low, 3,120, and the nuts with either
    assert {name: one.total for name, one in found.each} == {"tall": 3885, "low": 3220}
    assert found.total == 100


QUOTES = """
[[parts.quotes]]
from = "wheel shop"
price = 285
lead_time = "9 weeks"
{}
[[parts.quotes]]
from = "the other one"
price = 240
lead_time = "3 weeks"
{}
"""


@pytest.mark.parametrize(
    ("price", "taken", "counts", "days"),
    [
        ("", ("", ""), 285, 63),  # none is taken: the dearest and the longest, never both together
        ("", ("", "taken = true"), 240, 21),
        ("", ("taken = true", ""), 285, 63),
        ("250", ("taken = true", ""), 250, 63),
    ],
)
def test_quotes_are_compared_and_never_added(tmp_path, price, taken, counts, days):
    found = told(newest(tmp_path, part("wheels", price) + QUOTES.format(*taken)))
    (row,) = found.rows
    assert (found.total, row.lead_days) == (counts, days)
    told_of_it = list(bought_words(row, "USD"))
    assert told_of_it[0].index("240 USD") < told_of_it[0].index("285 USD")  # the cheapest first
    assert ("none is taken" in told_of_it[-1]) == (taken == ("", ""))
    assert ("the price you entered counts" in told_of_it[-1]) == bool(price)


def paid(amount: int, refund: bool = False) -> str:
    return f"[[parts.payments]]\namount = {amount}\nrefund = {str(refund).lower()}\n"


@pytest.mark.parametrize(
    ("state", "payments", "spent", "promised", "owed"),
    [
        ("ordered", paid(400), 1425, 0, 1025),
        ("arrived", paid(400) + paid(1025), 1425, 0, 0),
        ("arrived", paid(1425) + paid(100, refund=True), 1425, 0, 100),
        ("wanted", paid(400), 400, 1025, None),  # paid down, not ordered yet
        ("returned", paid(1425) + paid(1375, refund=True), 50, 0, None),  # 50 was kept
        ("returned", "", 0, 0, None),
    ],
)
def test_part_payments_and_refunds(tmp_path, state, payments, spent, promised, owed):
    text = part("wheels", "285", more=f'quantity = 5\nstate = "{state}"\n') + payments
    found = told(newest(tmp_path, text))
    assert (found.spent, found.promised, found.owed) == (spent, promised, owed)


def budget_flag(path):
    found = [flag for flag in all_flags(opened(path), []) if flag.rule.name == "plan.cost_past_budget"]
    return [(flag.verdict.answer, flag.wants) for flag in found]


@pytest.mark.parametrize(
    ("budget", "more", "answer"),
    [
        (3785, "", [("clear", ())]),
        (3784, "", [("raised", ())]),
        # What has no price may cost anything: within the budget nobody can say, over it is over.
        (3785, part("hoses"), [("not known", ("the price of hoses",))]),
        (3784, part("hoses"), [("raised", ())]),
    ],
)
def test_the_budget_holds_only_with_every_price(tmp_path, budget, more, answer):
    assert budget_flag(with_set(tmp_path, WHEELS + TIRES + more, plan=f"budget = {budget}")) == answer


@pytest.mark.parametrize(
    ("budget", "answer"), [(3785, "clear"), (3784, "not known"), (3120, "not known"), (3119, "raised")]
)
def test_while_nothing_is_chosen_the_budget_holds_with_the_dearest_candidate(tmp_path, budget, answer):
    path = with_set(tmp_path, WHEELS + TIRES, plan=f"budget = {budget}")
    replace(path, 'chosen = "tall"\n', "")
    ((found, wants),) = budget_flag(path)
    assert found == answer and wants == (("plan.chosen",) if found == "not known" else ())


def test_a_part_is_late_the_day_after_its_order_by_date(tmp_path):
    path = written(tmp_path, PARTS)
    by = listed(path).dates.order_by["tires"]
    late = {day: {row.id: row.late for row in told(path, day).rows}["tires"] for day in (by, by + timedelta(days=1))}
    assert list(late.values()) == [False, True]


def test_amounts_are_written_with_cents_only_where_there_are_any():
    assert amount(Decimal("1234.5"), "USD") == "1,234.50 USD"
    assert amount(Decimal("1234")) == "1,234"


def test_all_that_was_paid_comes_back_in_one_entry(tmp_path):
    # 600 of 600 is paid: a payment more is past the price, and the 600 that come back leave nothing paid
    path = written(tmp_path, part("bearings", "600", more=f'state = "returned"\n{paid(600)}'))
    replace(path, "format = 1", "format = 2")
    with pytest.raises(Faulty, match="you paid more for bearings than it costs"):
        make_recording(opened(path), buying.new_in_part(opened(path), 0, "payments", "600"))
    make_recording(opened(path), buying.new_in_part(opened(path), 0, "payments", "-600"))
    back = opened(path).project.parts[0].payments[1]
    assert (back.amount, back.refund, told(path).spent) == (600, True, 0)
