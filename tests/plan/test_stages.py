"""A build that goes one axle at a time: each stage that is driven is judged as a truck of its own, and signed for."""

import tomllib
from datetime import date
from pathlib import Path

import pytest
import tomli_w
from calling import call
from work_truck import listed, opened, replace, ticked

from planner.plan.answers.flagging import flags
from planner.plan.answers.open_project import work_out
from planner.plan.answers.stage_words import stage_lines
from planner.plan.answers.stages import OF_AN_ORDER, judged_stages
from planner.plan.change.changing import Setting, make, try_settings
from planner.plan.revisit.plan_flags import all_flags
from planner.plan.truck.project import OpenProject
from planner.plan.truck.recording import RefusedChange
from planner.project.reading import understand
from planner.project.source import parse
from planner.project.staged_truck import stages
from planner.tasks.sequence import standing

ROOT = Path(__file__).parents[2]
DAY = date(2026, 11, 28)

TRUCK = """\
format = 2
[axles.front]
ratio = 4.10
driven = true
[axles.front.steering]
stop_angle = "31 deg ± 1 deg"
[axles.rear]
ratio = 4.10
driven = true
[drivetrain]
part_time = true
[use]
locked_on_hard_road = true
[fitments.found.tire]
rolling_circumference = "2500 mm"
construction = "bias"
[fitments.found.wheel]
stud_count = 6
[fitments.tall.tire]
rolling_circumference = "2750 mm"
construction = "radial"
[fitments.tall.wheel]
stud_count = 6
[axles.front.studs]
count = 6
[axles.rear.studs]
count = 6
[plan]
chosen = "tall"
"""
FIVE = ("[fitments.found.wheel]\nstud_count = 6", "[fitments.found.wheel]\nstud_count = 5")  # the old ones, in front
REAR_FIRST = '[[plan.stages]]\nname = "rear first"\nrear = "tall"\n'
STOPS = """
[[changes]]
name = "longer stop screws"
state = "{}"
[changes.sets]
"axles.front.steering.stop_angle" = "27 deg"
"""
BOTH = REAR_FIRST + 'changes = ["longer stop screws"]\n'


def truck(text: str) -> OpenProject:
    return work_out(understand(parse(ROOT / "truck.toml", text.encode())), DAY)


def judged(text: str, number: int = 0):
    project = truck(text)
    return judged_stages(project, flags(project))[number]


def value(text: str, node: str, axle: str, number: int = 0):
    staged = judged(text, number)
    return staged.truck.sheet.value(staged.truck.spot(node, fitment=staged.stage.name, axle=axle))


def told(text: str, rule: str):
    project = truck(text)
    return next((one for one in all_flags(project, flags(project)) if one.rule.node == rule), None)


def test_half_old_and_half_new_is_judged_with_each_ends_own_wheels():
    project = truck(TRUCK + REAR_FIRST)
    finished = {one.rule.name for one in flags(project) if one.stands}
    own = {one.rule.name for one in judged(TRUCK + REAR_FIRST).own}
    assert {"gearing.driveline_winds_up", "tire.radial_and_bias_on_one_truck"} <= own - finished


def test_by_how_much_the_axles_part_is_what_a_hand_works_out():
    staged = judged(TRUCK + REAR_FIRST)
    mismatch = staged.truck.sheet.value(staged.truck.spot("axle_mismatch", fitment="rear first"))
    assert mismatch == pytest.approx(2500 / 2750 - 1)  # both 4.10: a turn takes the front 2500 mm, the rear 2750 mm


@pytest.mark.parametrize(("front", "rear"), [("found", "tall"), ("tall", "found")])
def test_a_stage_answers_as_a_candidate_would_whose_ends_were_copied_by_hand(front, rear):
    """A file in which somebody wrote the half-built truck down as a candidate of its own, without any stage."""
    data = tomllib.loads((ROOT / "projects" / "quarry-flatbed.toml").read_text("utf-8"))
    data = {key: one for key, one in data.items() if key not in ("changes", "sheets", "obstacles", "acceptances")}
    new = next(name for name in data["fitments"] if name != "found")
    sets = data["fitments"] = {"found": data["fitments"]["found"], "tall": data["fitments"][new]}

    def end(name: str, axle: str) -> dict:
        both = {key: one for key, one in sets[name].items() if key not in ("front", "rear", "spare", "price")}
        own = sets[name].get(axle, {})
        merged = {
            key: {**both.get(key, {}), **own.get(key, {})} for key in ("tire", "wheel") if key in both or key in own
        }
        return {key: one for key, one in {**both, **own, **merged}.items() if key not in ("description", "lead_time")}

    half = {"front": end(front, "front"), "rear": end(rear, "rear"), "spare": sets["found"].get("spare", {})}
    by_hand = data | {"fitments": sets | {"half": half}, "plan": {"chosen": "half"}}
    staged = data | {"plan": {"chosen": "tall", "stages": [{"name": "half", "front": front, "rear": rear}]}}
    own = {(one.rule.name, place[1:]): one for one in judged(tomli_w.dumps(staged)).flags for place in one.places}
    other = {(one.rule.name, place[1:]): one for one in flags(truck(tomli_w.dumps(by_hand))) for place in one.places}
    assert len(other) > 100 and own.keys() <= other.keys()
    assert {rule for rule, _ in other.keys() - own.keys()} <= {f"fit.{rule}" for rule in OF_AN_ORDER}
    # What an end has as it was found it shares with the truck found, tolerances too, and the copy does not.
    differ = {
        key: (own[key].verdict.answer, other[key].verdict.answer)
        for key in own
        if own[key].verdict.answer != other[key].verdict.answer
    }
    assert all("too close to call" in pair for pair in differ.values()), differ


def test_an_end_that_is_as_found_is_not_changed_at_all():
    tolerant = TRUCK.replace('"2500 mm"', '"2500 mm ± 30 mm"')
    staged = judged(tolerant + '[[plan.stages]]\nname = "spare only"\nspare = "tall"\n')
    moved = staged.truck.sheet.outcome(staged.truck.spot("speedometer_error", fitment=staged.stage.name))
    assert (moved.low, moved.value, moved.high) == (0, 0, 0)


def test_what_a_stage_leaves_out_is_as_in_the_one_above_it():
    text = TRUCK + STOPS.format("decided") + BOTH + '[[plan.stages]]\nspare = "tall"\n[[plan.stages]]\nfront = "tall"\n'
    assert [(one.name, one.front, one.rear, one.spare, one.changes) for one in stages(truck(text).project)] == [
        ("rear first", "found", "tall", "found", (0,)),
        ("stage 2", "found", "tall", "tall", (0,)),
        ("stage 3", "tall", "tall", "tall", (0,)),
    ]


def test_a_change_that_goes_with_the_new_wheels_is_not_done_before_the_stage_that_names_it():
    decided = TRUCK + STOPS.format("decided")
    found, planned = 31, 27
    assert value(decided + REAR_FIRST, "stop_angle", "front") == pytest.approx(found * 3.14159265 / 180)
    assert value(decided + BOTH, "stop_angle", "front") == pytest.approx(planned * 3.14159265 / 180)


def test_what_is_decided_and_not_yet_done_is_named_with_what_is_on():
    text = TRUCK + STOPS.format("decided")
    without, with_ = (told(text + one, "stage_unlike_finished").says for one in (REAR_FIRST, BOTH))
    assert "spare found, without longer stop screws" in without and "spare found, with longer stop screws" in with_


def test_what_is_done_is_on_the_truck_at_every_stage():
    assert value(TRUCK + STOPS.format("done") + REAR_FIRST, "stop_angle", "front") == pytest.approx(0.47124, abs=1e-5)


@pytest.mark.parametrize("state", ["considered", "given up"])
def test_a_stage_that_counts_on_a_change_that_nobody_decided_is_not_clear(state):
    text = TRUCK + STOPS.format(state) + BOTH
    staged = judged(text)
    assert value(text, "stop_angle", "front") is None, "neither as found nor as it would be"
    assert staged.counts_on == (f"it counts on 'longer stop screws', which is {state}",)
    flag = told(text, "stage_not_to_be_driven")
    assert flag is not None and flag.verdict.answer == "raised" and f"which is {state}" in flag.says


def test_a_stage_that_is_not_driven_is_not_judged():
    assert judged(TRUCK + REAR_FIRST + "driven = false\n").flags == ()
    assert told(TRUCK + REAR_FIRST + "driven = false\n", "stage_not_to_be_driven") is None
    assert told(TRUCK + REAR_FIRST, "stage_not_to_be_driven").stands


def test_a_stage_whose_stops_nobody_can_judge_is_not_known_and_never_clear():
    text = TRUCK.replace("locked_on_hard_road = true", "").replace("[use]", "") + REAR_FIRST
    every = all_flags(project := truck(text), flags(project))
    flag = next(one for one in every if one.rule.node == "stage_not_to_be_driven")
    assert flag.verdict.answer == "not known" and "use.locked_on_hard_road" in flag.needs


def test_what_is_missing_is_asked_for_where_it_is_entered():
    text = TRUCK.replace('rolling_circumference = "2500 mm"', "") + REAR_FIRST
    wants = {need for flag in judged(text).flags for need in flag.needs}
    assert any(need.startswith("fitments.found.tire.") for need in wants)
    assert not any("rear first" in need for need in wants)


@pytest.mark.parametrize("chosen", ['chosen = "tall"', ""])
def test_the_last_stage_is_the_finished_truck_and_told_with_that(chosen):
    last = '[[plan.stages]]\nname = "all"\nfront = "tall"\nspare = "tall"\n'
    project = truck(TRUCK.replace('chosen = "tall"', chosen) + REAR_FIRST + last)
    found = [one for one in all_flags(project, flags(project)) if one.rule.node.startswith("stage_")]
    assert {one.where for one in found} == {"rear first"}
    assert list(stage_lines(project, judged_stages(project, ())))[1].endswith("driven: the finished truck")


def test_wheels_that_are_neither_found_nor_chosen_are_told():
    other = '[fitments.wide.tire]\nconstruction = "radial"\n'
    text = TRUCK.replace('chosen = "tall"', 'chosen = "wide"').replace("[plan]", other + "[plan]") + REAR_FIRST
    flag = told(text, "stage_unlike_finished")
    assert flag.stands and "it has the wheels of 'tall', and 'wide' is chosen" in flag.says


def test_a_stage_by_the_name_of_a_fitment_does_not_take_its_place():
    staged = judged(TRUCK + REAR_FIRST.replace("rear first", "tall"))
    assert staged.stage.name == "stage 1: tall" and staged.stage.front == "found"


def test_a_stage_that_cannot_be_ready_by_its_day_is_told_with_the_day_of_its_parts(tmp_path):
    planned = "start = 2026-11-28\nhours_a_week = 40\n"
    wheels = '[[parts]]\nid = "wheels"\nused_for = ["tall"]\nlead_time = "20 weeks"\n'
    text = TRUCK + planned + REAR_FIRST + "on = {}\n" + wheels
    early, late = (told(text.format(day), "stage_unlike_finished").says for day in ("2026-12-24", "2028-01-01"))
    assert "it is to begin 2026-12-24, and its work ends 2027-" in early and "it is to begin" not in late


# the hold point before it


@pytest.fixture
def path(tmp_path):
    text = (TRUCK + REAR_FIRST).replace("part_time = true", "").replace("[use]", "[use.none]")
    path = tmp_path / "truck.toml"
    path.write_text(text.replace("[use.none]\nlocked_on_hard_road = true\n", ""), encoding="utf-8")
    return path


def sign(path, **how):
    items = listed(path).items
    for id_ in items["stage.rear_first"].holds:
        if items[id_].state != "done":
            ticked(path, id_, because="looked", anyway=True)
    ticked(path, "stage.rear_first", because="walked around it, both of us", anyway=True, **how)


def test_a_stage_is_a_hold_point_behind_its_own_wheels_and_no_others(path):
    one = listed(path).items["stage.rear_first"]
    assert one.hold and "fit.wheels.rear" in one.after and "check.runout.rear" in one.after
    assert not any(id_.endswith(".front") or id_ == "check.sign" for id_ in one.after)
    assert "radial tires at one axle and bias tires at the other" in one.caution


def test_a_stage_waits_on_what_its_lift_asks_for_before_the_road_and_not_on_the_other_ends_wheels_or_the_road(path):
    replace(path, 'rear = "tall"', 'front = "tall"\nchanges = ["lift"]')
    lift = '[[changes]]\nname = "lift"\nkind = "lift"\nstate = "decided"\nsets = {"axles.front.lift" = "2 in"}\n'
    path.write_text(path.read_text("utf-8") + lift, "utf-8")
    items = listed(path).items
    assert {"change.lift", "change.lift.shafts", "change.lift.caster"} <= set(items["stage.rear_first"].after)
    ahead, seen = ["stage.rear_first"], set[str]()
    while ahead:
        seen.add(id_ := ahead.pop())
        ahead += items[id_].after
    assert "fit.wheels.front" in seen and not seen & {"fit.wheels.rear", "change.lift.u_bolts"}


def test_the_finished_truck_has_its_own_signature(path):
    replace(path, 'rear = "tall"', 'rear = "tall"\nfront = "tall"\nspare = "tall"')
    assert "stage.rear_first" not in listed(path).items


def test_a_stage_with_a_stop_is_signed_by_no_reason(path):
    replace(path, *FIVE)
    with pytest.raises(RefusedChange, match=r"stage\.rear_first can't be signed while there's a stop: front: .*stud"):
        sign(path)


def test_a_stage_that_counts_on_an_undecided_change_is_signed_by_no_reason(path):
    text = path.read_text("utf-8")
    path.write_text(text.replace(REAR_FIRST, BOTH) + STOPS.format("considered"), "utf-8")
    with pytest.raises(RefusedChange, match="it counts on 'longer stop screws', which is considered"):
        sign(path)


def test_a_signature_written_by_hand_over_a_stop_is_refused_by_the_recording_step(path):
    replace(path, *FIVE)
    settings = [Setting("tasks[0]", '{ id = "stage.rear_first", state = "done" }')]
    with pytest.raises((RefusedChange, ValueError), match="can't be signed"):
        make(try_settings(opened(path, DAY), settings), "x")


def test_a_signed_stage_lapses_when_a_stop_comes_up_and_is_asked_again_when_other_wheels_go_on(path):
    sign(path)
    assert listed(path).items["stage.rear_first"].state == "done"
    replace(path, *FIVE)
    again = listed(path).items["stage.rear_first"]
    assert again.state == "look again" and "its signature has lapsed" in again.why
    replace(path, "stud_count = 5", "stud_count = 6")
    replace(path, 'rear = "tall"', 'front = "tall"')
    again = listed(path).items["stage.rear_first"]
    assert again.state == "look again" and "plan.stages[0].front was found, now tall" in again.why


def test_a_stage_is_over_once_the_other_end_has_the_chosen_wheels(path):
    sign(path)
    with path.open("a", encoding="utf-8") as file:
        file.write('[[tasks]]\nid = "fit.wheels.front"\nstate = "done"\n')
    work = listed(path)
    assert "stage.rear_first" not in work.items
    assert [one.why for one in work.kept if one.id == "stage.rear_first"] == ["its stage is over, or isn't driven"]
    project = opened(path, DAY)
    found = all_flags(project, flags(project))
    assert not [one for one in found if one.rule.node.startswith("stage_")], "it is not judged any more"


# told


def test_check_names_each_stage_and_judges_one_alone(path, capsys):
    code, page, _ = call(capsys, "check", path)
    told = " ".join(page.split())
    assert "stage rear first: front found, rear tall, spare found; driven, judged as a truck" in told
    assert "CAUTION rear first: a stage of the build drives differently from the finished truck" in told
    code, alone, _ = call(capsys, "check", path, "--stage", "rear  first")
    assert code == 1 and "radial tires at one axle and bias tires at the other" in alone
    assert "planned rear first: front found, rear tall" in alone
    code, _, refused = call(capsys, "check", path, "--stage", "front")
    assert code == 2 and "--stage: read 'front'; accepted: rear first" in refused


def test_the_wall_has_the_hold_point_before_the_finished_trucks(path, capsys):
    _, wall, _ = call(capsys, "print", path, "checklist", "--text", "--phase", "check")
    last = next(task.title for task in standing() if task.id == "check.sign")
    assert wall.index("Before you drive stage 'rear first'") < wall.index(last)
    _, record, _ = call(capsys, "print", path, "record", "--text")
    assert "Stage rear first: front found, rear tall, spare found; driven, judged" in " ".join(record.split())


def test_a_stage_with_another_candidates_wheels_is_not_over_by_what_was_ticked_of_them(path):
    text = (
        path.read_text("utf-8")
        .replace('chosen = "tall"', 'chosen = "wide"')
        .replace('rear = "tall"', 'rear = "tall"\nfront = "tall"')
    )
    text = text.replace("[plan]", '[fitments.wide.tire]\nconstruction = "radial"\n[plan]')
    path.write_text(text + '[[tasks]]\nid = "fit.wheels.front"\nstate = "done"\n', "utf-8")
    project = opened(path, DAY)
    (one,) = judged_stages(project, flags(project))
    assert one.judged and not one.over
