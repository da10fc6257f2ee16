"""The project's one list of tasks: where they come from, how each stands, what is kept, and when it can be done."""

from datetime import date, timedelta
from pathlib import Path
from time import process_time

import pytest
from work_truck import TODAY, listed, opened, replace, ticked, written

from planner.plan.answers.flagging import flags
from planner.plan.answers.open_project import open_project
from planner.plan.work.dependencies import own_id
from planner.plan.work.schedule_error import CircularWaits, NoSuchJob
from planner.plan.work.task_list import next_up, work
from planner.project.models.work import Task
from planner.tasks.kind import PHASES

PROJECTS = Path(__file__).parents[2] / "projects"
OWN = '\n[[tasks]]\nid = "own.{id}"\ntitle = "{id}"\ntakes = "{takes}"\nafter = [{after}]\n'


def own(id_: str, *after: str, takes: str = "1 h", more: str = "") -> str:
    return OWN.format(id=id_, takes=takes, after=", ".join(f'"{one}"' for one in after)) + more


def test_the_list_holds_the_standing_sequence_flags_and_the_persons_own(tmp_path):
    path = written(tmp_path, own("paint"))
    found = listed(path).items
    assert {"standing", "own"} <= {one.origin for one in found.values()}
    assert {"safe.local_code", "measure.hub.front", "measure.hub.rear", "own.paint"} <= set(found)
    assert "safe.air_out" not in found  # the rims are of one piece
    assert "fit.gears.front" not in found  # nobody changes the gears


def test_a_multi_piece_rim_brings_its_hold_point_back(tmp_path):
    path = written(tmp_path)
    replace(path, 'pieces = "one"', 'pieces = "multi"')
    assert listed(path).items["safe.air_out"].hold


def test_at_first_the_local_code_is_read_and_what_harms_nobody_and_the_truck_is_chocked(tmp_path):
    found = listed(written(tmp_path))
    free = [one.id for one in next_up(found)]
    assert free[0] == "safe.local_code" and {"safe.chock", "measure.plates", "measure.found_tires"} <= set(free)
    assert found.items["safe.stands.front"].waits == ("safe.chock",)
    assert "safe.local_code" in found.items["decide.tires"].waits


def test_a_hold_point_stops_everything_behind_it_and_not_only_what_waits_on_it(tmp_path):
    gears = listed(written(tmp_path)).items["decide.gears"]
    assert "safe.local_code" not in gears.waits and "safe.local_code" in gears.holds and gears.state == "waiting"


def test_a_task_of_the_persons_own_comes_behind_the_hold_points_of_its_phase(tmp_path):
    path = written(tmp_path, own("springs", more='phase = "fit"\n') + own("stamp", more='phase = "make safe"\n'))
    found = listed(path).items
    assert "mock_up.sign" in found["own.springs"].waits
    assert found["own.stamp"].state == "ready"


@pytest.mark.parametrize(
    ("phase", "hold"),
    [
        ("measure", "decide.sign"),
        ("decide", "decide.sign"),
        ("receive", "mock_up.sign"),
        ("mock up", "mock_up.sign"),
        ("fit", "check.sign"),
        ("check", "check.sign"),
        ("road test", "road.qualified"),
        ("check again", "again.inspection"),
    ],
)
def test_a_hold_point_waits_for_a_persons_tasks_of_its_phase_and_stands_below_them(tmp_path, phase, hold):
    path = written(tmp_path, own("paint", more=f'phase = "{phase}"\n'))
    found = listed(path).items
    order = list(found)
    assert "own.paint" in found[hold].waits and order.index("own.paint") < order.index(hold)
    replace(path, f'phase = "{phase}"\n', f'phase = "{phase}"\nstate = "dropped"\n')
    assert "own.paint" not in listed(path).items[hold].waits


def test_a_hold_point_does_not_wait_for_what_comes_behind_it_nor_for_what_is_of_no_phase(tmp_path):
    behind = own("later", "check.sign", more='phase = "check"\n') + own("last", "own.later", more='phase = "fit"\n')
    found = listed(written(tmp_path, behind + own("some_day"))).items
    assert not {"own.later", "own.last", "own.some_day"} & set(found["check.sign"].after)
    assert "check.sign" in found["own.later"].waits


@pytest.mark.parametrize("name", ["county-road-4x4", "quarry-flatbed", "forestry-4x4", "just-begun"])
def test_a_phase_is_gone_through_from_the_top_and_both_ends_of_a_task_stay_together(name):
    found = work(open_project(PROJECTS / f"{name}.toml", TODAY)).items
    order = list(found)
    place = {id_: at for at, id_ in enumerate(order)}
    assert [PHASES.index(one.phase) for one in found.values() if one.phase] == sorted(
        PHASES.index(one.phase) for one in found.values() if one.phase
    )
    for one in found.values():
        ahead, seen = list(one.after), set()
        while ahead:
            id_ = ahead.pop()
            if id_ not in seen:
                seen.add(id_)
                ahead += found[id_].after
        assert not [id_ for id_ in seen if found[id_].phase == one.phase and place[id_] > place[one.id]], one.id
        if one.id.endswith(".front") and one.task and f"{one.task.id}.rear" in found:
            assert order[place[one.id] + 1] == f"{one.task.id}.rear"


def test_waits_in_a_circle_are_one_error_that_names_it(tmp_path):
    path = written(tmp_path, own("a", "own.c") + own("b", "own.a") + own("c", "own.b"))
    with pytest.raises(CircularWaits) as caught:
        listed(path)
    assert str(caught.value) == "own.a waits on own.c, own.c waits on own.b, own.b waits on own.a"


def test_a_standing_task_that_is_made_to_wait_on_what_waits_for_it_is_a_circle(tmp_path):
    record = '\n[[tasks]]\nid = "safe.chock"\nafter = ["safe.look_over"]\n'
    with pytest.raises(CircularWaits, match=r"safe\.chock waits on safe\.look_over"):
        listed(written(tmp_path, record))


def test_a_wait_on_a_task_that_is_not_there_names_both(tmp_path):
    with pytest.raises(NoSuchJob, match=r"own\.a names own\.nobody"):
        listed(written(tmp_path, own("a", "own.nobody")))


def test_a_wait_on_a_task_at_both_axles_waits_on_each_and_one_that_does_not_apply_on_none(tmp_path):
    found = listed(written(tmp_path, own("a", "measure.hub", "fit.gears", "flag.tire.too_old"))).items
    assert found["own.a"].after == ("measure.hub.front", "measure.hub.rear")


def test_what_waits_on_a_dropped_task_waits_on_what_that_one_waited_on(tmp_path):
    path = written(tmp_path, own("a") + own("b", "own.a", more='state = "dropped"\n') + own("c", "own.b"))
    assert listed(path).items["own.c"].waits == ("own.a",)


def test_a_hold_point_that_was_dropped_by_hand_still_holds(tmp_path):
    path = written(tmp_path, '\n[[tasks]]\nid = "safe.local_code"\nstate = "dropped"\n')
    assert listed(path).items["safe.local_code"].state == "ready"
    assert "safe.local_code" in listed(path).items["decide.tires"].waits


def test_a_tick_whose_ground_moved_is_to_be_looked_at_again_and_says_why(tmp_path):
    path = written(tmp_path)
    ticked(path, "safe.local_code", because="signed")
    ticked(path, "safe.chock")
    ticked(path, "safe.stands.front", "5,000 lb")
    assert listed(path).items["safe.stands.front"].state == "done"
    replace(path, '[axles.front]\nrating = "4,000 lb"', '[axles.front]\nrating = "5,500 lb"')
    stands = listed(path).items["safe.stands.front"]
    assert stands.state == "look again" and stands.why == "front axle rating was 4,000 lb, now 5,500 lb"
    assert stands.record.state == "done" and stands.record.recorded == "5,000 lb"  # the file is as it was


def test_writing_the_same_value_otherwise_moves_nothing(tmp_path):
    path = written(tmp_path)
    ticked(path, "safe.local_code", because="signed")
    ticked(path, "safe.chock")
    ticked(path, "safe.stands.front", "5,000 lb")
    replace(path, '[axles.front]\nrating = "4,000 lb"', '[axles.front]\nrating = "4000 lb"')
    assert listed(path).items["safe.stands.front"].state == "done"


def test_a_hold_point_to_be_looked_at_again_holds_again(tmp_path):
    path = written(tmp_path, '\n[[tasks]]\nid = "safe.local_code"\nstate = "look again"\nbecause = "moved house"\n')
    found = listed(path).items
    assert (found["safe.local_code"].state, found["safe.local_code"].why) == ("look again", "moved house")
    assert "safe.local_code" in found["decide.tires"].waits


KEPT = '\n[[tasks]]\nid = "safe.air_out"\nstate = "done"\nrecorded = "0 psi"\nnote = "wired open"\nrested_on = {}\n'


def test_what_was_recorded_on_a_task_that_no_longer_applies_is_kept_and_comes_back_with_it(tmp_path):
    path = written(tmp_path, KEPT)
    found = listed(path)
    assert "safe.air_out" not in found.items
    (kept,) = found.kept
    assert (kept.id, kept.record.recorded, kept.record.note) == ("safe.air_out", "0 psi", "wired open")
    assert "doesn't apply" in kept.why
    replace(path, 'pieces = "one"', 'pieces = "multi"')
    found = listed(path)
    assert not found.kept
    assert found.items["safe.air_out"].state == "done" and found.items["safe.air_out"].record.recorded == "0 psi"


def test_a_flags_task_has_the_rules_name_and_keeps_its_tick_while_the_flag_is_clear(tmp_path):
    name = "flag.fit.tire_large_for_opening"
    path = written(tmp_path, f'\n[[tasks]]\nid = "{name}"\nstate = "done"\nnote = "trimmed"\n')
    found = listed(path)
    assert name not in found.items
    assert [(one.id, one.record.note) for one in found.kept] == [(name, "trimmed")]


def test_every_raised_flag_is_served_by_a_task_in_the_list(tmp_path):
    project = opened(written(tmp_path))
    raised = [flag for flag in flags(project) if flag.counts]
    found = work(project).items.values()
    for flag in raised:
        served = [one for one in found if one.task and flag.rule.name in one.task.for_rules]
        assert served or any(one.id == f"flag.{flag.rule.name}" for one in found)


def test_a_flag_that_no_standing_task_serves_has_a_task_before_the_plan_is_signed(tmp_path):
    project = opened(written(tmp_path))
    flag = next(one for one in flags(project) if one.counts)
    orphan = flag._replace(verdict=flag.verdict._replace(rule=flag.rule._replace(name="odd.rule", severity="stop")))
    found = work(project, [orphan]).items
    assert found["flag.odd.rule"].how == flag.cure and found["flag.odd.rule"].caution
    assert "flag.odd.rule" in found["decide.sign"].after


WHEELS = '\n[[parts]]\nid = "wheels"\nstate = "{state}"\nprice = 100\n{more}used_for = ["{used}"]\n'


@pytest.mark.parametrize(
    ("state", "there"),
    [("wanted", False), ("ordered", False), ("returned", False), ("arrived", True), ("fitted", True)],
)
def test_a_task_waits_for_the_parts_that_it_needs(tmp_path, state, there):
    count = listed(written(tmp_path, WHEELS.format(state=state, more="", used="tall"))).items["receive.count"]
    assert [need.id for need in count.parts] == ["wheels"]
    assert bool(count.lacks) != there


def test_a_part_of_another_candidate_holds_nothing_up(tmp_path):
    other = '\n[fitments.low]\ndescription = "low"\n'
    count = listed(written(tmp_path, other + WHEELS.format(state="wanted", more="", used="low"))).items["receive.count"]
    assert count.parts == ()


def test_a_part_that_names_a_task_is_needed_by_it(tmp_path):
    part = '\n[[parts]]\nid = "primer"\nused_for = ["own.paint"]\n'
    assert [need.id for need in listed(written(tmp_path, own("paint") + part)).items["own.paint"].lacks] == ["primer"]


def test_dates_follow_from_hours_a_week(tmp_path):
    """7 hours a week is one a day: 3 h from Monday the 5th end on the 7th, and 2 h more on the 9th."""
    path = written(tmp_path, own("a", takes="3 h") + own("b", "own.a", takes="2 h"))
    times = listed(path).dates.ahead.times
    assert (times["own.a"].starts, times["own.a"].ends) == (date(2026, 1, 5), date(2026, 1, 7))
    assert (times["own.b"].starts, times["own.b"].ends) == (date(2026, 1, 8), date(2026, 1, 9))


def test_without_hours_a_week_there_are_no_dates_and_it_says_so(tmp_path):
    path = written(tmp_path)
    replace(path, "hours_a_week = 7\n", "")
    found = listed(path).dates
    assert found.ahead.finish is None and "plan.hours_a_week" in found.undated and not found.order_by


def test_work_that_is_left_begins_today_when_the_start_has_passed(tmp_path):
    path = written(tmp_path, own("a", takes="1 h"))
    assert listed(path, TODAY + timedelta(days=30)).dates.ahead.times["own.a"].starts == date(2026, 2, 4)
    replace(path, "start = 2026-01-05", "start = 2026-03-02")
    assert listed(path).dates.ahead.times["own.a"].starts == date(2026, 3, 2)


def test_a_part_is_to_be_ordered_its_lead_time_before_the_task_that_needs_it_must_begin(tmp_path):
    part = '\n[[parts]]\nid = "primer"\nlead_time = "2 days"\nused_for = ["own.paint"]\n'
    found = listed(written(tmp_path, own("paint") + part)).dates
    by = found.planned.times["own.paint"].starts_by
    assert found.order_by["primer"] == by - timedelta(days=2)


def test_the_lead_time_of_a_part_is_its_fitments_where_it_has_none(tmp_path):
    found = listed(written(tmp_path, WHEELS.format(state="wanted", more="", used="tall"))).dates
    times = found.planned.times["part wheels"]
    assert times.earliest_finish - times.earliest_start == pytest.approx(4 * 7)  # four weeks of seven hours


def test_ordered_and_arrived_parts_have_no_order_by_date(tmp_path):
    for state in ("ordered", "arrived"):
        more = "ordered = 2026-01-02\n"
        found = listed(written(tmp_path, WHEELS.format(state=state, more=more, used="tall"))).dates
        assert "wheels" not in found.order_by


def test_a_task_of_ones_own_without_a_time_is_said_to_have_none(tmp_path):
    path = written(tmp_path, '\n[[tasks]]\nid = "own.a"\ntitle = "a"\n')
    assert listed(path).dates.untimed == ("own.a",)


def test_an_own_task_without_an_id_is_known_by_its_title(tmp_path):
    path = written(
        tmp_path, '\n[[tasks]]\ntitle = "Paint: the (inner) rims"\n\n[[tasks]]\ntitle = "paint the inner rims"\n'
    )
    assert [id_ for id_ in listed(path).items if id_.startswith("own.")] == [
        "own.paint_the_inner_rims",
        "own.paint_the_inner_rims_2",
    ]
    assert own_id("½", ()) == "own.task"


def test_ten_thousand_tasks_are_listed_in_about_ten_times_the_time_of_a_thousand(tmp_path):
    project = opened(written(tmp_path))
    spent = []
    for many in (1_000, 10_000):
        tasks = [
            Task.model_construct(id=f"own.t{at}", title="t", after=[f"own.t{at - 1}"] if at % 10 else [])
            for at in range(many)
        ]
        large = project.project.model_copy(update={"tasks": tasks})
        crowded = project._replace(opened=project.opened._replace(project=large))
        begun = process_time()
        assert len(work(crowded, []).items) > many
        spent.append(process_time() - begun)
    assert spent[1] < 25 * spent[0] + 0.5
