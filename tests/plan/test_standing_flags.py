"""The flags of the plan itself: each record judged by its rule, beside the flags of the worksheet."""

from datetime import date, timedelta

import pytest
from work_truck import TODAY, listed, opened, replace, ticked, written

from planner.plan.answers.flagging import flags
from planner.plan.revisit.plan_flags import all_flags, plan_flags

DECISION = """
[[decisions]]
question = "which backspace?"
chosen = "5 in"

[decisions.rested_on]
"fitments.tall.wheel.backspace" = "{was}"
"""
SHEET = '\n[[sheets]]\nnumber = 3\nkind = "order"\n[sheets.rested_on]\n"fitments.tall.wheel.backspace" = "{was}"\n'


def answers(path, today=TODAY):
    project = opened(path, today)
    return {(one.rule.name, one.where): one.verdict.answer for one in plan_flags(project, flags(project))}


def said(path, rule, today=TODAY):
    project = opened(path, today)
    return next(one for one in plan_flags(project, flags(project)) if one.rule.name == f"plan.{rule}")


@pytest.mark.parametrize(
    ("text", "rule", "where"),
    [
        (DECISION, "decision_rests_on_changed", "which backspace?"),
        (SHEET, "printed_sheet_out_of_date", "sheet 3 (order)"),
    ],
)
def test_a_record_is_clear_while_its_ground_stands_and_raised_when_it_moved(tmp_path, text, rule, where):
    assert answers(written(tmp_path, text.format(was="5 in ± 1/16 in")))[f"plan.{rule}", where] == "clear"
    moved = written(tmp_path, text.format(was="4 1/2 in"))
    assert answers(moved)[f"plan.{rule}", where] == "raised"
    assert "tall set's wheel backspace was 4 1/2 in, now 5 in ± 1/16 in" in said(moved, rule).says


def signed(tmp_path, more=""):
    path = written(tmp_path, more)
    for id_ in ("safe.local_code", "decide.sign", "order.drawing"):
        ticked(path, id_, "in writing" if id_ == "order.drawing" else None, because="signed", anyway=True)
    return path


def test_an_ordered_part_is_in_question_when_what_it_was_ordered_by_moves(tmp_path):
    part = '\n[[parts]]\nid = "wheels"\nstate = "ordered"\nordered = 2026-01-05\nused_for = ["tall"]\n'
    path = signed(tmp_path, part)
    ticked(path, "order.wheels")
    assert answers(path)["plan.ordered_part_rests_on_changed", "wheels"] == "clear"
    replace(path, 'backspace = "5 in ± 1/16 in" # as ordered', 'backspace = "4 3/4 in" # as it came')
    found = answers(path)
    assert found["plan.ordered_part_rests_on_changed", "wheels"] == "raised"
    assert found["plan.finished_task_rests_on_changed", "order.wheels"] == "raised"
    assert found["plan.finished_task_rests_on_changed", "decide.sign"] == "raised"
    assert ("plan.finished_task_rests_on_changed", "safe.local_code") not in found  # it rests on nothing entered
    assert listed(path).items["order.wheels"].state == "look again"


def test_a_part_without_an_id_is_told_by_its_title_and_not_by_its_place_in_the_file(tmp_path):
    part = '\n[[parts]]\ntitle = "five wheels"\nstate = "ordered"\nordered = 2026-01-05\nused_for = ["tall"]\n'
    path = signed(tmp_path, part)
    ticked(path, "order.wheels")
    replace(path, 'backspace = "5 in ± 1/16 in" # as ordered', 'backspace = "4 3/4 in" # as it came')
    assert answers(path)["plan.ordered_part_rests_on_changed", "five wheels"] == "raised"


TIRES = '\n[[parts]]\nid = "tires"\nlead_time = "2 weeks"\nused_for = ["tall"]\n'


def test_an_order_by_date_is_passed_on_the_day_after_it_and_says_by_how_much(tmp_path):
    path = written(tmp_path, TIRES)
    by = listed(path).dates.order_by["tires"]
    assert answers(path, by)["plan.order_by_date_passed", "tires"] == "clear"
    late = by + timedelta(days=5)
    assert answers(path, late)["plan.order_by_date_passed", "tires"] == "raised"
    flag = said(path, "order_by_date_passed", late)
    assert by.isoformat() in flag.says and "late by 5 days" in flag.by
    assert said(path, "order_by_date_passed", by + timedelta(days=1)).by == "late by 1 day"


def test_a_task_that_only_waits_for_a_part_that_is_not_ordered_says_so(tmp_path):
    own = '\n[[tasks]]\nid = "own.a"\ntitle = "a"\n\n[[parts]]\nid = "paint"\nstate = "{}"\nused_for = ["own.a"]\n'
    name = ("plan.work_waits_for_part_not_ordered", "own.a")
    assert answers(written(tmp_path, own.format("wanted")))[name] == "raised"
    assert name not in answers(written(tmp_path, own.format("ordered")))


@pytest.mark.parametrize(("budget", "answer"), [("99.99", "raised"), ("100", "clear"), ("0", "raised")])
def test_the_parts_are_held_against_the_budget(tmp_path, budget, answer):
    path = written(tmp_path, f'budget = {budget}\ncurrency = "USD"\n\n[[parts]]\nid = "a"\nprice = 25\nquantity = 4\n')
    assert answers(path)["plan.cost_past_budget", ""] == answer
    assert "100 USD" in said(path, "cost_past_budget").says


def test_tasks_in_a_circle_do_not_keep_the_other_flags_from_being_told(tmp_path):
    circle = '\n[[tasks]]\nid = "own.a"\nafter = ["own.b"]\n\n[[tasks]]\nid = "own.b"\nafter = ["own.a"]\n'
    path = written(tmp_path, DECISION.format(was="4 1/2 in") + circle + TIRES)
    assert answers(path)["plan.decision_rests_on_changed", "which backspace?"] == "raised"


def test_a_caution_of_the_plan_can_be_accepted_like_any_other(tmp_path):
    accepted = '\n[[acceptances]]\nflag = "plan.cost_past_budget"\nbecause = "worth it"\n'
    path = written(tmp_path, 'budget = 10\n\n[[parts]]\nid = "a"\nprice = 25\n' + accepted)
    flag = said(path, "cost_past_budget")
    assert flag.acceptance is not None and not flag.counts


def test_they_stand_among_the_others_the_worst_first(tmp_path):
    project = opened(written(tmp_path, DECISION.format(was="4 1/2 in")), date(2026, 1, 5))
    found = all_flags(project, flags(project))
    order = ["raised", "too close to call", "not known", "clear"]
    places = [order.index(one.verdict.answer) for one in found]
    assert places == sorted(places)
    assert any(one.rule.name.startswith("plan.") for one in found[: places.count(0)])
