"""Parts on their way: when each is to come, what slips by name when one is late, and a candidate's own lead time."""

from datetime import date, timedelta

import pytest
from work_truck import TODAY, listed, opened, replace, written

from planner.plan.answers.flagging import flags
from planner.plan.change.changing import Setting, make, try_settings
from planner.plan.revisit.plan_flags import all_flags
from planner.plan.work.slips import late_words
from planner.project.faults import Faulty

# An hour a day; what the paint waits for takes 2 weeks from the Monday that the plan begins on.
OWN = """
[[tasks]]
id = "own.strip"
title = "strip"
takes = "1 h"

[[tasks]]
id = "own.paint"
title = "paint"
takes = "{paint} h"
after = ["own.strip"]

[[tasks]]
id = "own.dry"
title = "dry"
takes = "1 h"
after = ["own.paint"]

[[parts]]
id = "primer"
lead_time = "2 weeks"
state = "ordered"
ordered = 2026-01-05
used_for = ["own.paint"]
{more}
"""


def newest(folder, more=""):
    path = written(folder, more)
    replace(path, "format = 1", "format = 2")
    return path


def truck(folder, more="", paint=1):
    path = newest(folder, OWN.format(more=more, paint=paint))
    replace(path, 'lead_time = "4 weeks"\n', "")
    return path


def coming(path, today=TODAY):
    return listed(path, today).dates.coming["primer"]


def test_what_comes_as_it_was_ordered_moves_nothing(tmp_path):
    one = coming(truck(tmp_path))
    assert (one.agreed, one.expected) == (date(2026, 1, 19), date(2026, 1, 19))
    assert not one.days_late and not one.tasks


def test_a_promise_for_a_later_day_moves_by_name_what_waits_for_it(tmp_path):
    one = coming(truck(tmp_path, "promised = 2026-01-29"))
    # ten days after 19 January: the paint begins when it is there, an hour, and what is to dry the day after that
    assert one.days_late == 10
    moved = {each.id: (each.was, each.now) for each in one.tasks}
    assert moved == {
        "own.paint": (date(2026, 1, 19), date(2026, 1, 29)),
        "own.dry": (date(2026, 1, 20), date(2026, 1, 30)),
    }


def test_the_finish_moves_only_by_what_the_work_cannot_spare(tmp_path):
    path = truck(tmp_path, "promised = 2026-01-29")
    was, now = coming(path).finish
    assert was == now  # all else takes months
    # A thousand hours of paint are the longest chain there is: they end a thousand days after the primer came.
    path = truck(tmp_path, "promised = 2026-01-29", paint=1000)
    was, now = coming(path).finish
    assert now == date(2026, 1, 29) + timedelta(1000) and now - was == timedelta(10)


def test_what_should_be_here_and_is_not_can_come_today_at_the_earliest(tmp_path):
    path = truck(tmp_path)
    assert coming(path, date(2026, 1, 19)).days_late == 0
    one = coming(path, date(2026, 1, 22))
    assert (one.expected, one.days_late) == (date(2026, 1, 22), 3)
    replace(path, 'state = "ordered"', 'state = "arrived"')
    assert "primer" not in listed(path, date(2026, 1, 22)).dates.coming


def test_without_a_lead_time_the_promise_is_what_was_agreed(tmp_path):
    path = truck(tmp_path, "promised = 2026-01-29")
    replace(path, 'lead_time = "2 weeks"\n', "")
    assert coming(path).agreed == date(2026, 1, 29) and not coming(path).tasks
    assert listed(path).dates.ahead.times["own.paint"].starts == date(2026, 1, 29)


def test_what_has_no_dates_is_not_said_to_move_nothing(tmp_path):
    path = truck(tmp_path, "promised = 2026-01-29")
    replace(path, "hours_a_week = 7\n", "")
    assert late_words(coming(path)) == "there is no date for the end of the work"
    path = truck(tmp_path, "promised = 2999-01-29")
    assert "too far out" in late_words(coming(path))


def test_what_is_not_ordered_by_its_day_says_what_slips(tmp_path):
    path = truck(tmp_path, paint=1000)
    replace(path, 'state = "ordered"\nordered = 2026-01-05\n', "")
    by = listed(path).dates.order_by["primer"]
    assert "primer" not in listed(path, by).dates.coming
    one = coming(path, by + timedelta(4))
    assert one.days_late == 4 and one.finish[1] - one.finish[0] == timedelta(4)


@pytest.mark.parametrize(("promised", "answer"), [("2026-01-19", "clear"), ("2026-01-20", "raised")])
def test_a_late_part_is_told_with_what_slips(tmp_path, promised, answer):
    project = opened(truck(tmp_path, f"promised = {promised}"))
    (flag,) = [one for one in all_flags(project, flags(project)) if one.rule.name == "plan.part_comes_late"]
    assert flag.verdict.answer == answer and flag.where == "primer"
    assert ("own.paint starts 2026-01-20, not 2026-01-19" in flag.says) == (answer == "raised")


@pytest.mark.parametrize(
    ("key", "value"),
    [("arrived", "2026-01-04"), ("promised", "2026-01-04"), ("ordered", "2026-02-01")],
)
def test_days_that_run_backward_are_told_by_name_and_nothing_is_written(tmp_path, key, value):
    path = truck(tmp_path, "promised = 2026-01-29")
    before = path.read_bytes()
    with pytest.raises(Faulty, match=r"parts\[0\]\..*not before it was ordered"):
        make(try_settings(opened(path), [Setting(f"parts.primer.{key}", value)]), "a slip")
    assert path.read_bytes() == before


# a candidate's own lead time


def test_a_candidates_lead_time_moves_its_own_date(tmp_path):
    path = newest(tmp_path)
    times = listed(path).dates.planned.times["set tall"]
    assert times.earliest_finish - times.earliest_start == pytest.approx(4 * 7)  # four weeks of seven hours
    before = listed(path).dates.ahead.finish
    replace(path, "4 weeks", "50 weeks")
    moved = listed(path).dates.ahead.finish - before
    assert 0 < moved.days <= 46 * 7
    assert "fitments.tall" in listed(path).dates.order_by


def test_a_nut_that_names_a_candidate_does_not_take_its_lead_time(tmp_path):
    path = newest(tmp_path, '\n[[parts]]\nid = "nuts_left"\nused_for = ["tall"]\n')
    times = listed(path).dates.planned.times["part nuts_left"]
    assert times.earliest_finish == times.earliest_start


def test_a_set_is_waited_for_as_far_as_no_part_of_the_list_is_it(tmp_path):
    own = '\n[[parts]]\nid = "{}"\nkind = "{}"\nlead_time = "1 week"\nused_for = ["tall"]\n'
    path = newest(tmp_path, own.format("rims", "wheels"))
    assert "set tall" in listed(path).dates.ahead.times and "part rims" in listed(path).dates.ahead.times
    path = newest(tmp_path, own.format("rims", "wheels") + own.format("rubber", "tires"))
    assert "set tall" not in listed(path).dates.ahead.times
    path = newest(tmp_path, own.format("lot", "tires and wheels"))
    assert "set tall" not in listed(path).dates.ahead.times


TICKED = """
[[tasks]]
id = "order.wheels"
state = "done"
on = 2026-01-05
rested_on = { "fitments.tall.wheel.backspace" = "5 in ± 1/16 in" }
"""


def test_a_set_whose_order_is_ticked_is_on_its_way_from_that_day(tmp_path):
    path = newest(tmp_path)
    path.write_text(f"{path.read_text()}\n{TICKED}")
    at = listed(path, TODAY + timedelta(21)).dates
    times = at.ahead.times["set tall"]
    assert times.earliest_finish == pytest.approx(7)  # three weeks of the four are behind it
    assert "fitments.tall" not in at.order_by
