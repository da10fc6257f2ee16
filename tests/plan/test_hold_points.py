"""Hold points guard rules: no signature over a stop, whatever reason is given; one that a stop overtakes lapses."""

from pathlib import Path

import pytest
from work_truck import TODAY, listed, opened, replace, ticked, written

from planner.plan.answers.flagging import flags
from planner.plan.answers.open_project import open_project
from planner.plan.change.changing import Setting, make, mend, try_mending, try_settings
from planner.plan.change.cure import bring_state_back, make_change_again, take_back_change
from planner.plan.change.task_recordings import make_recording, no_reason_helps, reopen_task, tick_task
from planner.plan.revisit.plan_flags import all_flags
from planner.plan.truck.recording import RefusedChange
from planner.plan.work import buying
from planner.plan.work.decisions import decide, decide_anew
from planner.plan.work.parts import NeededPart, matching_parts
from planner.plan.work.task_list import work
from planner.plan.work.task_values import why_not_tick
from planner.project.diary_reading import read_diary
from planner.project.models.work import Part
from planner.project.saving import NotSaved

ROOT = Path(__file__).parents[2]

STUDS = """
[axles.front.studs]
count = 6
[axles.rear.studs]
count = 6
[[parts]]
id = "wheels"
used_for = ["tall"]
[[parts]]
id = "nuts_left"
used_for = ["tall"]
"""
HOLES = "[fitments.tall.wheel]\nstud_count = {}\n"


@pytest.fixture
def truck(tmp_path):
    path = written(tmp_path, STUDS)
    replace(path, "[fitments.tall.wheel]\n", HOLES.format(6))
    ticked(path, "safe.local_code", because="asked the clerk")
    return path


def _sign(path, id_="decide.sign"):
    ticked(path, id_, because="looked at all of it", anyway=True)


def _five_holes(path):
    replace(path, "stud_count = 6", "stud_count = 5")


def test_a_plan_is_not_signed_while_a_stop_stands_whatever_the_reason(truck):
    _five_holes(truck)
    with pytest.raises(RefusedChange, match=r"decide\.sign can't be signed while there's a stop: .*stud"):
        _sign(truck)
    replace(truck, "stud_count = 5", "stud_count = 6")
    _sign(truck)
    assert listed(truck).items["decide.sign"].state == "done"


def test_a_signature_lapses_loudly_when_a_stop_comes_up_later_and_holds_again_when_it_is_cured(truck):
    _sign(truck)
    _five_holes(truck)
    work = listed(truck)
    signed = work.items["decide.sign"]
    assert signed.state == "look again" and signed.why.startswith("its signature has lapsed: ")
    assert "decide.sign" in work.items["order.wheels"].holds
    project = opened(truck)
    lapsed = next(one for one in all_flags(project, flags(project)) if one.rule.node == "signature_lapsed")
    assert (lapsed.rule.severity, lapsed.verdict.answer, lapsed.where) == ("stop", "raised", "decide.sign")
    assert "no longer counts" in lapsed.says and "stud" in lapsed.says
    replace(truck, "stud_count = 5", "stud_count = 6")
    assert listed(truck).items["decide.sign"].state == "done"


def test_a_lapsed_signature_cannot_be_given_again_before_the_stop_is_cured(truck):
    _sign(truck)
    _five_holes(truck)
    work = listed(truck)
    assert "can't be signed while there's a stop" in no_reason_helps(work, work.items["decide.sign"])


def test_no_signature_is_written_by_hand_over_a_stop_nor_comes_back_by_undo(truck):
    _sign(truck)
    at = next(at for at, one in enumerate(opened(truck).project.tasks) if one.id == "decide.sign")
    project = opened(truck)
    make(try_settings(project, [Setting(f"tasks[{at}].state", "open")]), "looked once more")
    make(try_settings(opened(truck), [Setting("fitments.tall.wheel.stud_count", "5")]), "")
    with pytest.raises(RefusedChange, match="can't be signed"):
        make(try_settings(opened(truck), [Setting(f"tasks[{at}].state", "done")]), "")
    take_back_change(opened(truck).opened.source)  # the five holes
    take_back_change(opened(truck).opened.source)  # and the signature stands again
    assert listed(truck).items["decide.sign"].state == "done"


def test_over_a_stop_that_is_not_known_a_plan_is_signed_only_all_the_same_with_the_reason(truck):
    for id_ in listed(truck).items["decide.sign"].waits:
        ticked(truck, id_, because="done long ago", anyway=True)
    one = listed(truck).items["decide.sign"]
    assert not one.waits and not one.stops and "wheel.closed_nut_bottoms" in {flag.rule.name for flag in one.not_known}
    with pytest.raises(RefusedChange, match=r"decide\.sign: \d+ stops it guards against can't be judged yet: enter "):
        ticked(truck, "decide.sign", because="looked at all of it")
    project = opened(truck)
    signed = tick_task(project, work(project), "decide.sign", because="looked at all of it", anyway=True)
    assert "can't be judged yet" in signed.says
    make_recording(project, signed)
    assert listed(truck).items["decide.sign"].state == "done"


def test_over_what_is_clear_a_plan_is_signed_without_more_words():
    quarry = open_project(ROOT / "projects" / "quarry-flatbed.toml", TODAY)
    sign = work(quarry).items["decide.sign"]
    assert not sign.not_known
    assert list(why_not_tick(quarry, sign._replace(waits=()), None, "")) == []


def test_what_a_hold_point_does_not_guard_lets_it_be_signed(truck):
    # Lamps too low for the law are the plan's business; the maker's drawing is none the worse for them.
    tire = 'loaded_radius = "14 in ± 0 in"\noverall_diameter = "30 in ± 0 in"\n'
    law = '[vehicle]\nlamp_height = "20 in"\n[legal]\nlamp_lowest = "22 in"\nlamp_highest = "54 in"\n'
    tires = f"[fitments.found.tire]\n{tire}[fitments.tall.tire]\n{tire}"
    replace(truck, "[plan]", f"{law}{tires}[plan]")
    found = listed(truck).items
    assert found["decide.sign"].stops and not found["order.drawing"].stops


def test_a_stop_holds_back_the_part_that_it_would_make_wrong_and_not_another(truck):
    _sign(truck)
    _five_holes(truck)
    project = opened(truck)
    assert "wheels would be ordered wrong while there's a stop" in buying.stopped_by(project, 0, flags(project))
    with pytest.raises(RefusedChange, match="wheels would be ordered wrong"):
        make_recording(project, buying.set_part_state(project, 0, "ordered"))
    with pytest.raises(RefusedChange, match="wheels would be ordered wrong"):
        make(try_settings(project, [Setting("parts.wheels.state", "ordered")]), "")
    with pytest.raises(RefusedChange, match="wheels would be ordered wrong"):
        make(try_settings(project, [Setting("parts.wheels.state", "arrived")]), "")


def test_a_part_without_an_id_is_held_back_by_its_title(truck):
    replace(truck, 'id = "wheels"\n', 'title = "five wheels"\n')
    _sign(truck)
    _five_holes(truck)
    project = opened(truck)
    assert buying.stopped_by(project, 0, flags(project)).startswith("five wheels ")
    assert not buying.stopped_by(project, 1, flags(project))
    make_recording(project, buying.set_part_state(project, 1, "ordered"))
    assert opened(truck).project.parts[1].state == "ordered"


@pytest.mark.parametrize(
    ("title", "kind", "wheels"),
    [
        ("seven wheels", "", True),
        ("17x9, spare wheel", "", True),
        ("old rims, blasted", "", True),
        ("nuts for the wheels", "", False),
        ("wheel bearings", "", False),
        ("black paint (for wheels)", "", False),
        ("chocks, four wheels' worth", "other", False),
        ("wheels of the jack", "other", False),
        ("seven", "wheels", True),
        ("five 17x9", "", True),
        ("17 x 9, spare", "", True),
        ("24 lug nuts, 14x1.5", "", False),
        ("five 14x1.5", "", False),
        ("floor boards 16x6", "", False),
    ],
)
def test_wheels_by_their_title_alone_are_not_ordered_over_a_stop_either(truck, title, kind, wheels):
    said = f'kind = "{kind}"\n' if kind else ""
    replace(truck, 'id = "wheels"\n', f'id = "from_town"\ntitle = "{title}"\n{said}')
    _five_holes(truck)
    project = opened(truck)
    against = buying.stopped_by(project, 0, flags(project))
    assert bool(against) is wheels
    assert ("enter its kind if it is something else" in against) is (wheels and not kind)
    if wheels:
        with pytest.raises(RefusedChange, match="from_town .*would be ordered wrong"):
            make(try_settings(project, [Setting("parts.from_town.state", "ordered")]), "")


@pytest.mark.parametrize(
    ("title", "tires"),
    [
        ("five 37x12.50R17LT", True),
        ("37x12.50R17LT", True),
        ("LT235/85R16, load range E", True),
        ("six 9.00-20 bias", True),
        ("33x10.50R15 mud terrains", True),
        ("tubes 9.00-20", False),
        ("two tire chains 37x12.50R17", False),
        ("speedometer gear for 37x12.50R17", False),
        ("six 5.00 hose clamps, 1-20", False),
    ],
)
def test_tires_are_known_by_their_size_alone(title, tires):
    assert bool(matching_parts([NeededPart("", Part(title=title))], ("tires",))) is tires


def test_the_part_that_cures_a_stop_does_not_wait_for_the_signature_that_the_stop_holds_up(truck):
    _five_holes(truck)  # from the first, so that no decision has to be looked at again
    for id_ in listed(truck).items["decide.sign"].waits:
        ticked(truck, id_, because="done long ago", anyway=True)
    project, work = opened(truck), listed(truck)
    assert work.items["decide.sign"].stops and not work.items["decide.sign"].waits
    assert buying.why_not_order(project, work, 1) == ""


def test_a_plan_is_not_signed_while_a_decision_behind_it_wants_another_look(truck):
    ticked(truck, "decide.wheel", because="as the shop says", anyway=True)
    replace(truck, '"5 in ± 1/16 in"', '"4 3/4 in ± 1/16 in"')
    assert listed(truck).items["decide.wheel"].state == "look again"
    with pytest.raises(RefusedChange, match=r"decide\.sign can't be signed until you look at .*decide\.wheel"):
        _sign(truck)


def _lapsed_and_reopened(path):
    """A signed plan that a stop overtook, and whose signature was taken back then."""
    _sign(path)
    make(try_settings(opened(path), [Setting("fitments.tall.wheel.stud_count", "5")]), "")
    project = opened(path)
    make_recording(project, reopen_task(project, work(project), "decide.sign", "a stop stands"))
    return len(read_diary(path).entries)


def test_a_signature_does_not_come_back_over_a_stop_by_undo_redo_or_an_earlier_state(truck):
    last = _lapsed_and_reopened(truck)
    for back in (take_back_change, lambda source: bring_state_back(source, last - 1)):
        with pytest.raises(RefusedChange, match=r"decide\.sign can't be signed while there's a stop"):
            back(opened(truck).opened.source)
    bring_state_back(opened(truck).opened.source, last - 2)  # before the stop came up
    assert listed(truck).items["decide.sign"].state == "done"
    assert len(read_diary(truck).entries) == last + 1


def test_a_signature_does_not_come_again_by_redo_over_a_stop(truck):
    _sign(truck)
    take_back_change(opened(truck).opened.source)
    _five_holes(truck)  # by hand, and out of the diary: nothing is left to redo
    with pytest.raises((RefusedChange, NotSaved)):
        make_change_again(opened(truck).opened.source)
    assert listed(truck).items["decide.sign"].state == "waiting"


def test_an_order_does_not_come_back_over_a_stop_by_undo(truck):
    project = opened(truck)
    make(try_settings(project, [Setting("parts.wheels.state", "ordered")]), "")
    make(try_settings(opened(truck), [Setting("fitments.tall.wheel.stud_count", "5")]), "")
    make(try_settings(opened(truck), [Setting("parts.wheels.state", "wanted")]), "the maker was called")
    with pytest.raises(RefusedChange, match="wheels would be ordered wrong"):
        take_back_change(opened(truck).opened.source)


def test_the_cure_of_a_fault_brings_no_signature_over_a_stop_with_it(truck):
    _lapsed_and_reopened(truck)
    at = next(at for at, one in enumerate(opened(truck).project.tasks) if one.id == "decide.sign")
    replace(truck, "hours_a_week = 7", 'hours_a_week = "many"')
    project = opened(truck)
    cure = [Setting("plan.hours_a_week", "7"), Setting(f"tasks[{at}].state", "done")]
    with pytest.raises(RefusedChange, match=r"decide\.sign can't be signed while there's a stop"):
        mend(try_mending(project, cure), "")
    assert "many" in truck.read_text("utf-8")


def test_a_signature_by_change_waits_for_the_decisions_behind_it_and_says_who_looked(truck):
    ticked(truck, "decide.wheel", because="as the shop says", anyway=True)
    at = len(opened(truck).project.tasks)
    signed = [Setting(f"tasks[{at}].id", "decide.sign"), Setting(f"tasks[{at}].state", "done")]
    with pytest.raises(RefusedChange, match=r"decide\.sign is a hold point: whoever looked has to sign it"):
        make(try_settings(opened(truck), signed), "")
    signed.append(Setting(f"tasks[{at}].because", "I looked"))
    replace(truck, '"5 in ± 1/16 in"', '"4 3/4 in ± 1/16 in"')
    with pytest.raises(RefusedChange, match=r"decide\.sign can't be signed until you look at .*decide\.wheel"):
        make(try_settings(opened(truck), signed), "")


def test_an_ordered_part_without_an_id_is_not_ordered_anew_when_one_before_it_goes(truck):
    replace(truck, 'id = "wheels"\n', 'title = "paint"\n[[parts]]\ntitle = "five wheels"\n')
    make(try_settings(opened(truck), [Setting("parts[1].state", "ordered")]), "")
    _five_holes(truck)
    make(try_settings(opened(truck), [Setting("parts[0]", "")]), "no paint")
    assert opened(truck).project.parts[0].state == "ordered"


def test_a_plan_is_not_signed_while_a_decision_on_record_wants_another_look(truck):
    project = opened(truck)
    spot = next(one for one, key in project.keys.items() if key == ("fitments", "tall", "wheel", "backspace"))
    make_recording(project, decide(project, "which backspace?", ["5 in"], "5 in", "it clears", [spot]))
    assert not listed(truck).items["decide.sign"].undecided
    replace(truck, '"5 in ± 1/16 in"', '"4 1/2 in ± 1/16 in"')
    held = listed(truck).items["decide.sign"]
    assert held.undecided == ("which backspace?",) and held.state == "waiting"
    with pytest.raises(RefusedChange, match=r"decide\.sign can't be signed until .* 'which backspace\?' again"):
        _sign(truck)
    project = opened(truck)
    make_recording(project, decide_anew(project, 0, "4 1/2 in", "it clears by more"))
    _sign(truck)
    assert listed(truck).items["decide.sign"].state == "done"
