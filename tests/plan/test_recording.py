"""Ticking, reopening, adding and dropping: what is written, what is refused and why, and what a tick rests on."""

import tomllib

import pytest
from resting import rested_on
from work_truck import listed, opened, replace, ticked, written

from planner.plan.change.task_recordings import (
    add_task,
    drop_task,
    make_recording,
    reopen_task,
    set_dependencies,
    tick_task,
)
from planner.plan.revisit.tick_basis import tick_basis
from planner.plan.truck.recording import RefusedChange
from planner.plan.work.task_list import work
from planner.plan.work.task_values import recorded_stands
from planner.project.diary_reading import read_diary


@pytest.fixture
def truck(tmp_path):
    """A truck whose first hold point is signed and whose wheels are chocked."""
    path = written(tmp_path)
    ticked(path, "safe.local_code", because="signed")
    ticked(path, "safe.chock")
    return path


def record(path, id_):
    tasks = tomllib.loads(path.read_text(encoding="utf-8")).get("tasks", [])
    return next((task for task in tasks if task["id"] == id_), None)


def refused(path, id_, value=None, **how):
    before = path.read_bytes(), read_diary(path).size
    project = opened(path)
    with pytest.raises(RefusedChange) as caught:
        make_recording(project, tick_task(project, work(project), id_, value, **how))
    assert "\n" not in str(caught.value)
    assert (path.read_bytes(), read_diary(path).size) == before
    return str(caught.value)


def test_a_tick_is_written_with_its_value_its_day_and_what_it_rested_on(truck):
    ticked(truck, "safe.stands.front", "5,000 lb", note="red ones")
    told = record(truck, "safe.stands.front")
    assert told["state"] == "done" and told["recorded"] == "5,000 lb" and told["note"] == "red ones"
    assert str(told["on"]) == "2026-01-05"
    assert rested_on(truck, told) == {"axles.front.rating": "4,000 lb"}


def test_a_tick_and_its_entry_in_the_diary_are_written_together_and_comments_stay(truck):
    ticked(truck, "safe.stands.front", "5,000 lb")
    entry = read_diary(truck).entries[-1]
    assert (entry.kind, entry.details["task"], entry.details["stands"]) == ("tick", "safe.stands.front", "within")
    assert "# as ordered" in truck.read_text(encoding="utf-8")


def test_a_value_outside_of_its_range_is_refused_with_the_range(truck):
    said = refused(truck, "safe.stands.front", "3,000 lb")
    assert "outside" in said and "at least 4000 lb" in said and "all the same" in said
    assert "give a reason" in refused(truck, "safe.stands.front", "3,000 lb", anyway=True)


def test_a_value_outside_of_its_range_goes_in_anyway_with_a_reason_and_stays_marked(truck):
    ticked(truck, "safe.stands.front", "3,000 lb", anyway=True, because="two under each end")
    told = record(truck, "safe.stands.front")
    assert told["recorded"] == "3,000 lb" and told["because"] == "two under each end"
    project = opened(truck)
    assert recorded_stands(project, work(project).items["safe.stands.front"]) == "outside"


def test_a_value_that_is_not_surely_within_is_too_close_to_call(truck):
    assert "too close to call" in refused(truck, "safe.stands.front", "4,010 lb ± 50 lb")


def test_a_value_exactly_at_the_end_of_its_range_is_within(truck):
    ticked(truck, "safe.stands.front", "4,000 lb")
    assert record(truck, "safe.stands.front")["state"] == "done"


def test_a_range_that_is_not_known_names_the_entry_that_makes_it_known(truck):
    assert "rear axle rating" in refused(truck, "safe.stands.rear", "5,000 lb")


@pytest.mark.parametrize("value", ["banana", "-5 lb", "nan lb", "5,000 mm", "9**9**9 lb", "", "\x1b[31m lb"])
def test_a_value_that_cannot_be_read_is_refused_with_what_is_accepted(truck, value):
    said = refused(truck, "safe.stands.front", value, anyway=True, because="x")
    assert "accepted" in said and "\x1b" not in said


def test_a_value_that_is_to_be_written_down_is_asked_for(truck):
    assert "rating of one stand" in refused(truck, "safe.stands.front")


def test_a_hold_point_is_signed_with_a_reason(tmp_path):
    assert "hold point" in refused(written(tmp_path), "safe.local_code")


def test_nothing_is_ticked_behind_a_hold_point_that_is_not_signed_whatever_the_reason(tmp_path, truck):
    fresh = written(tmp_path, name="fresh.toml")
    assert "safe.local_code" in refused(fresh, "decide.gears", anyway=True, because="in a hurry")
    assert "decide.sign" in refused(truck, "order.drawing", anyway=True, because="in a hurry")


def test_a_tick_before_its_time_needs_a_reason(truck):
    assert "safe.stands.front" in refused(truck, "safe.look_over", "nothing")
    ticked(truck, "safe.look_over", "nothing", anyway=True, because="on a lift at the shop")
    assert record(truck, "safe.look_over")["because"] == "on a lift at the shop"


def test_a_task_whose_parts_are_not_there_needs_a_reason(tmp_path):
    part = '\n[[tasks]]\nid = "own.a"\ntitle = "a"\n\n[[parts]]\nid = "paint"\nused_for = ["own.a"]\n'
    assert "paint (wanted)" in refused(written(tmp_path, part), "own.a")


def test_what_is_done_is_not_ticked_twice_and_what_is_unknown_names_the_nearest(truck):
    assert "already done" in refused(truck, "safe.chock")
    assert "safe.chock" in refused(truck, "safe.chok")
    assert "measure.hub.front" in refused(truck, "measure.hub")


def test_what_is_to_be_looked_at_again_is_ticked_again_on_its_new_ground(truck):
    ticked(truck, "safe.stands.front", "5,000 lb")
    replace(truck, 'rating = "4,000 lb"\n\n[fitments.found.wheel]', 'rating = "4,500 lb"\n\n[fitments.found.wheel]')
    assert listed(truck).items["safe.stands.front"].state == "look again"
    ticked(truck, "safe.stands.front", "5,000 lb")
    assert listed(truck).items["safe.stands.front"].state == "done"
    assert rested_on(truck, record(truck, "safe.stands.front")) == {"axles.front.rating": "4,500 lb"}


def test_reopening_needs_a_reason_and_keeps_value_and_note(truck):
    ticked(truck, "safe.stands.front", "5,000 lb", note="red ones")
    project = opened(truck)
    with pytest.raises(RefusedChange, match="reason"):
        reopen_task(project, work(project), "safe.stands.front", "")
    make_recording(project, reopen_task(project, work(project), "safe.stands.front", "one is bent"))
    told = record(truck, "safe.stands.front")
    assert told["state"] == "open" and "on" not in told and "rests" not in told and "rested_on" not in told
    assert (told["recorded"], told["note"], told["because"]) == ("5,000 lb", "red ones", "one is bent")


def test_dropping_needs_a_reason_and_a_hold_point_is_never_dropped(truck):
    project = opened(truck)
    with pytest.raises(RefusedChange, match="reason"):
        drop_task(project, work(project), "measure.lift_test", "")
    with pytest.raises(RefusedChange, match="can't be dropped"):
        drop_task(project, work(project), "decide.sign", "no time")
    make_recording(project, drop_task(project, work(project), "measure.lift_test", "no lift for miles"))
    assert listed(truck).items["measure.lift_test"].state == "dropped"


def added(path, title, **how):
    project = opened(path)
    make_recording(project, add_task(project, work(project), title, **how))


def test_a_task_of_ones_own_gets_a_name_for_good(truck):
    added(truck, "Paint the  wheels", phase="fit", after=["fit.wheels"], hours=3, note="grey")
    told = record(truck, "own.paint_the_wheels")
    assert told == {
        "id": "own.paint_the_wheels",
        "title": "Paint the wheels",
        "phase": "fit",
        "after": ["fit.wheels"],
        "takes": "3 h",
        "note": "grey",
    }
    added(truck, "Paint the wheels")
    assert record(truck, "own.paint_the_wheels_2")


@pytest.mark.parametrize(
    ("how", "named"),
    [
        ({"title": "  "}, "title"),
        ({"phase": "fot"}, "fit"),
        ({"hours": float("nan")}, "hours: "),
        ({"hours": -1.0}, "hours: "),
        ({"hours": 10_001.0}, "no more than 10000"),
        ({"after": ["own.nobody"]}, "own.nobody"),
        ({"id_": "safe.chock"}, "already"),
        ({"id_": "fit.gears.front"}, "standing"),
        ({"id_": "flag.tire.too_old"}, "standing"),
        ({"id_": "own. x"}, "without spaces"),
        ({"id_": "own.\x1bx"}, "plain"),
        ({"id_": "x" * 100}, "plain"),
    ],
)
def test_a_task_of_ones_own_that_cannot_be_is_refused(truck, how, named):
    project, before = opened(truck), truck.read_bytes()
    with pytest.raises(RefusedChange) as caught:
        add_task(project, work(project), **({"title": "t"} | how))
    assert named in str(caught.value) and "\n" not in str(caught.value) and "\x1b" not in str(caught.value)
    assert truck.read_bytes() == before


def test_no_refusal_names_an_option_of_the_command_line_since_the_screens_show_it_too(truck):
    project = opened(truck)
    work_now = work(project)
    ticked(truck, "safe.stands.front", "5,000 lb")
    later = opened(truck)
    said = [
        refused(truck, "safe.look_over.nowhere"),
        refused(truck, "decide.sign"),
        refused(truck, "safe.stands.rear", "3,000 lb"),
        refused(truck, "safe.stands.rear", "3,000 lb", anyway=True),
    ]
    for make_it in (
        lambda: reopen_task(later, work(later), "safe.stands.front", ""),
        lambda: drop_task(project, work_now, "safe.look_over", ""),
        lambda: add_task(project, work_now, "t", phase="fot"),
        lambda: add_task(project, work_now, "t", hours=-1.0),
        lambda: add_task(project, work_now, "t", id_="own. x"),
    ):
        with pytest.raises(RefusedChange) as caught:
            make_it()
        said.append(str(caught.value))
    assert [one for one in said if "--" in one or "FILE" in one] == []


def test_what_a_task_waits_on_is_said_anew_and_a_wait_on_a_task_that_does_not_apply_stays(tmp_path):
    path = written(tmp_path, '\n[[tasks]]\nid = "own.cams"\ntitle = "cams"\nafter = ["safe.air_out", "safe.stands"]\n')
    project = opened(path)
    assert "safe.air_out" not in work(project).items
    make_recording(project, set_dependencies(project, work(project), "own.cams", ["safe.stands.rear"]))
    assert record(path, "own.cams")["after"] == ["safe.air_out", "safe.stands.rear"]


def test_an_own_task_without_an_id_gets_one_with_its_tick(tmp_path):
    path = written(tmp_path, '\n[[tasks]]\ntitle = "stamp the cans"\n')
    ticked(path, "own.stamp_the_cans")
    assert record(path, "own.stamp_the_cans")["state"] == "done"


def basis_of(path, id_):
    project = opened(path)
    items = work(project).items
    return tick_basis(project, items, items[id_])


def test_a_signature_rests_on_what_was_settled_in_its_phase_and_an_order_on_what_was_signed(truck):
    entry = {"fitments.tall.wheel.backspace": "5 in ± 1/16 in"}
    for id_ in ("decide.wheel", "decide.sign", "order.drawing", "order.wheels", "mock_up.sign"):
        assert entry.items() <= basis_of(truck, id_).items(), id_
    assert "fitments.tall.wheel.backspace" not in basis_of(truck, "decide.gears")


def test_a_task_rests_on_its_own_axle_only(truck):
    assert set(basis_of(truck, "safe.stands.front")) == {"axles.front.rating"}
