"""`planner task` as a person or a script calls it: the list, one task, ticking, own tasks, parts and money."""

import json
from pathlib import Path

import pytest
from calling import call, one_line
from work_truck import written

COUNTY = Path(__file__).parents[2] / "projects" / "county-road-4x4.toml"
HOSTILE = "a \x1b[31m\u202e\u200b [red]b[/red]"


def test_the_list_stands_by_phase_in_eighty_columns_with_boxes_and_words(capsys):
    code, out, err = call(capsys, "task", COUNTY, "--all")
    assert code == 0 and not err
    assert max(map(len, out.splitlines())) <= 80
    assert out.index("MAKE SAFE") < out.index("MEASURE") < out.index("CHECK AGAIN")
    assert "[ ] " in out and "[-] " in out and "[x] " in out and "can be done now" in out
    assert "HOLD POINT" in out and "local codes" in out.lower()


def test_without_more_words_it_is_what_can_be_done_now_and_what_stands_behind_it(capsys):
    _, every, _ = call(capsys, "task", COUNTY, "--json")
    tasks = {one["id"]: one for one in json.loads(every)["tasks"]}
    code, out, _ = call(capsys, "task", COUNTY)
    assert code == 0 and len(out.splitlines()) <= 45 and max(map(len, out.splitlines())) <= 80
    _, _, rest = out.partition("CAN BE DONE NOW\n")
    now, behind = " ".join(rest.split()).split("NEXT AFTER THAT")
    for id_, task in tasks.items():
        assert (task["state"] == "ready") == (f" {id_};" in now or f" {id_} " in now), id_
    named = [id_ for id_ in tasks if f" {id_} " in behind]
    # safe.chock is open: the stands wait for it alone, and jacking the truck up waits for the stands
    assert {"safe.stands.front", "safe.stands.rear"} <= set(named)
    assert all({*tasks[id_]["waits"], *tasks[id_]["held_by"]} <= {*tasks} - {*named} for id_ in named)
    assert not any(tasks[one]["state"] == "waiting" for id_ in named for one in tasks[id_]["waits"])
    assert "MAKE SAFE" in call(capsys, "task", COUNTY, "--all")[1]


def test_a_task_goes_by_the_beginning_of_its_title_where_only_one_begins_so(capsys):
    _, out, _ = call(capsys, "task", COUNTY, "show", "park on hard, level ground")
    assert out.startswith("[ ] Park on hard, level ground") and "safe.chock" in out
    code, _, err = call(capsys, "task", COUNTY, "show", "Get out a jack and stands")
    assert code == 2 and "safe.stands.front, safe.stands.rear" in err


def test_cautions_stand_short_in_the_list_and_whole_on_the_task(capsys):
    _, out, _ = call(capsys, "task", COUNTY, "--phase", "fit")
    assert "CAUTION: Your life hangs on these nuts." in out and "cheater pipe" not in " ".join(out.split())
    _, out, _ = call(capsys, "task", COUNTY, "show", "fit.wheels.front")
    assert "never use a cheater pipe in place of a torque wrench." in " ".join(out.split())


def test_a_task_tells_its_torque_its_range_its_parts_and_what_holds_it(capsys):
    code, out, _ = call(capsys, "task", COUNTY, "show", "fit.wheels.front")
    words = " ".join(out.split())
    assert code == 0
    # 110 ft·lb, 4 percent either way: 105.6 to 114.4, rounded inward
    assert "110 lbf·ft" in words and "106 lbf·ft to 114 lbf·ft" in words
    assert "part wheels: arrived" in words and "mock_up.sign" in words


def test_only_a_phase_or_only_what_is_open_is_listed_on_demand(capsys):
    _, out, _ = call(capsys, "task", COUNTY, "--phase", "make safe", "--open")
    assert "MAKE SAFE" in out and "\nFIT" not in out and "[x]" not in out.split("MAKE SAFE")[1]
    _, out, _ = call(capsys, "task", COUNTY, "--phase", "receive", "--open")
    assert "receive.backspace" not in out


def test_the_list_is_given_as_data(capsys):
    code, out, _ = call(capsys, "task", COUNTY, "--json")
    told = json.loads(out)
    assert code == 0
    by_id = {one["id"]: one for one in told["tasks"]}
    assert by_id["decide.sign"]["hold"] and by_id["decide.sign"]["state"] == "waiting"
    assert by_id["receive.backspace.front"]["record"]["stands"] == "within"
    assert told["money"]["parts"] and told["critical"]


def test_what_can_be_done_next_puts_hold_points_first(capsys, tmp_path):
    more = '\n[[tasks]]\nid = "own.a"\ntitle = "sweep"\nphase = "make safe"\n'
    _, out, _ = call(capsys, "task", written(tmp_path, more), "next", "--json")
    ids = [one["id"] for one in json.loads(out)]
    assert ids[0] == "safe.local_code" and {"own.a", "safe.chock"} <= set(ids)


def test_a_tick_from_the_shell_is_written_and_seen_in_the_list(capsys, tmp_path):
    path = written(tmp_path)
    code, out, _ = call(capsys, "task", path, "tick", "safe.local_code", "--because", "signed")
    assert code == 0 and "safe.local_code is done" in out
    call(capsys, "task", path, "tick", "safe.chock")
    code, out, _ = call(capsys, "task", path, "tick", "safe.stands.front", "5,000 lb", "--note", "the red ones")
    assert code == 0 and "recorded 5,000 lb" in out
    _, out, _ = call(capsys, "task", path, "show", "safe.stands.front")
    assert "the red ones" in out and "front axle rating = 4,000 lb" in " ".join(out.split())


def test_a_value_out_of_range_is_marked_in_the_list(capsys, tmp_path):
    path = written(tmp_path)
    call(capsys, "task", path, "tick", "safe.local_code", "--because", "signed")
    call(capsys, "task", path, "tick", "safe.chock")
    call(capsys, "task", path, "tick", "safe.stands.front", "1,000 lb", "--anyway", "--because", "x")
    _, out, _ = call(capsys, "task", path, "--phase", "make safe")
    assert "1,000 lb (OUTSIDE the range)" in " ".join(out.split())


@pytest.mark.parametrize(
    "given",
    [
        ["tick", "safe.chok"],
        ["tick", "safe.stands.front", "5,000 lb"],
        ["tick", "safe.local_code"],
        ["tick", "measure.weigh.front", "banana"],
        ["tick", "order.small", "--anyway", "--because", "now"],
        ["reopen", "safe.chock", "--because", "x"],
        ["drop", "decide.sign", "--because", "x"],
        ["drop", "safe.chock"],
        ["add", ""],
        ["add", "x", "--hours", "many"],
        ["add", "x", "--hours", "-1"],
        ["add", "x", "--after", "own.nobody"],
        ["add", "x", "--phase", "fot"],
        ["show", "own.nobody"],
        ["tik", "safe.chock"],
        ["--phase", "fot"],
    ],
)
def test_what_is_asked_wrongly_is_one_line_and_nothing_is_written(capsys, tmp_path, given):
    path = written(tmp_path)
    before = sorted((one.name, one.read_bytes()) for one in tmp_path.iterdir())
    code, out, err = call(capsys, "task", path, *given)
    assert code == 2 and not out and one_line(err)
    assert sorted((one.name, one.read_bytes()) for one in tmp_path.iterdir()) == before


def test_tasks_that_wait_on_each_other_are_one_line_that_names_the_circle(capsys, tmp_path):
    circle = '\n[[tasks]]\nid = "own.a"\nafter = ["own.b"]\n\n[[tasks]]\nid = "own.b"\nafter = ["own.a"]\n'
    code, out, err = call(capsys, "task", written(tmp_path, circle))
    assert code == 2 and not out and one_line(err)
    assert "own.a waits on own.b, own.b waits on own.a" in err


def test_parts_come_with_their_sums_and_their_order_by_dates(capsys, tmp_path):
    part = '\n[[parts]]\nid = "tires"\nprice = 100\nquantity = 5\nlead_time = "2 weeks"\nused_for = ["tall"]\n'
    path = written(tmp_path, 'budget = 400\ncurrency = "USD"\n' + part)
    _, out, _ = call(capsys, "task", path, "parts")
    words = " ".join(out.split())
    assert "5 × 100 USD = 500 USD" in words and "OVER BY 100 USD" in words and "order by 20" in words
    code, out, _ = call(capsys, "task", path, "parts", "--json")
    assert code == 0 and json.loads(out)["over"] == "100"


CAME = """
[[parts]]
id = "primer"
title = "primer, two tins"
price = 40
state = "ordered"
ordered = 2026-01-05
lead_time = "2 weeks"
promised = 2099-01-01
used_for = ["own.paint"]
[[parts.quotes]]
from = "paint shop"
price = 45
lead_time = "3 weeks"
[[parts.payments]]
amount = 10
on = 2026-01-05

[[tasks]]
id = "own.paint"
title = "paint"
takes = "1 h"

[[wheels]]
mark = "W3"
position = "rear left"
backspace = "5 3/32 in ± 1/64 in"
bore = "4.9 in ± 0.002 in"

[axles.front.hub]
pilot = "5.0 in ± 0.005 in"
[axles.rear.hub]
pilot = "4.8 in ± 0.005 in"
"""


def test_parts_tell_quotes_payments_what_slips_and_every_wheel_that_came(capsys, tmp_path):
    path = written(tmp_path, CAME)
    path.write_text(path.read_text().replace("format = 1", "format = 2"))
    code, out, _ = call(capsys, "task", path, "parts")
    words = " ".join(out.split())
    assert code == 0 and max(map(len, out.splitlines())) <= 80
    assert "quotes: paint shop 45, 3 weeks the price you entered counts, 40, and no quote" in words
    assert "paid 10, 30 still to pay" in words
    assert "LATE by" in words and "own.paint starts 2099-01-01, not" in words
    assert "wheel W3 rear left, received, outside the order's tolerance" in words
    assert "NOT at the front: the wheel's bore is smaller than the hub's pilot" in words
    assert "at the rear it raises no stop" in words
    told = json.loads(call(capsys, "task", path, "parts", "--json")[1])
    (wheel,) = told["wheels"]
    assert (wheel["as_ordered"], wheel["does_at"]) == ("outside", ["rear"])
    assert wheel["ends"][0]["against"] == ["wheel.bore_smaller_than_pilot"]
    (part,) = told["parts"]
    assert (part["paid"], part["owed"]) == ("10", "30") and part["coming"]["expected"] == "2099-01-01"
    assert part["coming"]["agreed"] <= part["coming"]["expected"]
    assert [one["id"] for one in part["coming"]["moves"]] == ["own.paint"]


def test_a_tick_that_is_out_of_date_is_told_in_the_list_with_its_reason(capsys, tmp_path):
    path = written(
        tmp_path, '\n[[tasks]]\nid = "decide.wheel"\nstate = "done"\n[tasks.rested_on]\n"axles.front.rating" = "1 lb"\n'
    )
    _, out, _ = call(capsys, "task", path, "--phase", "decide")
    assert "[!] Choose rim width" in out and "LOOK AGAIN" in out
    assert "front axle rating was 1 lb, now 4,000 lb" in " ".join(out.split())


def test_hostile_text_is_shown_harmlessly_and_kept_harmless(capsys, tmp_path):
    own = f'\n[[tasks]]\nid = "own.a"\ntitle = {json.dumps(HOSTILE)}\nnote = {json.dumps(HOSTILE)}\n'
    part = f'\n[[parts]]\nid = {json.dumps(HOSTILE)}\ntitle = {json.dumps(HOSTILE)}\nused_for = ["own.a"]\n'
    path = written(tmp_path, own + part)
    for given in (
        [],
        ["--all", "--parts"],
        ["show", "own.a"],
        ["next"],
        ["parts"],
        ["tick", "own.a"],
        ["add", HOSTILE],
    ):
        _, out, err = call(capsys, "task", path, *given)
        assert not set(out + err) & {"\x1b", "\u202e", "\u200b"}, given


def test_a_file_with_a_fault_is_told_as_check_tells_it(capsys, tmp_path):
    path = written(tmp_path, '\n[[parts]]\nid = "a"\nprice = -3\n\n[[tasks]]\non = "soon"\n')
    code, out, err = call(capsys, "task", path)
    assert code == 2 and out.startswith("2 FAULTS IN THE FILE\n")
    assert "parts[0].price" in err and "tasks[0].on" in err
