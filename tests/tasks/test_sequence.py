"""The standing sequence: names for good, waits, cautions where the danger is, and only nodes and rules that exist."""

import pytest

from planner.plan.truck.catalog import catalog
from planner.plan.work.schedule import Job, schedule
from planner.quantities.grammar import read_value
from planner.quantities.kinds import LENGTH, TEXT
from planner.tasks.kind import PHASES, Only, StandingTask
from planner.tasks.sequence import applies, asked_by, asked_for, id_at, placed, standing

# Ticks, notes and recorded values in people's files stand under these. One that is gone from here was renamed.
IDS = [
    "safe.local_code",
    "safe.chock",
    "safe.stands",
    "safe.rim_pieces",
    "safe.air_out",
    "safe.thread_hand",
    "safe.look_over",
    "safe.pair_air",
    "measure.studs",
    "measure.hub",
    "measure.play",
    "measure.kingpin",
    "measure.travel",
    "measure.brake",
    "measure.obstacles",
    "measure.plates",
    "measure.weigh",
    "measure.lift_test",
    "measure.stance",
    "measure.found_tires",
    "measure.found_wheels",
    "measure.axle_ratio",
    "measure.speedometer_drive",
    "measure.pair",
    "decide.tires",
    "decide.wheel",
    "decide.gears",
    "decide.nuts",
    "decide.brakes",
    "decide.sign",
    "decide.pair",
    "order.drawing",
    "order.wheels",
    "order.gears",
    "order.small",
    "receive.count",
    "receive.bore",
    "receive.circle",
    "receive.backspace",
    "receive.runout",
    "receive.welds_seats",
    "mock_up.trial_fit",
    "mock_up.brake_clay",
    "mock_up.mount_tires",
    "mock_up.cycle",
    "mock_up.full_lock",
    "mock_up.clay",
    "mock_up.sign",
    "fit.bearings",
    "fit.studs",
    "fit.gears",
    "fit.brakes",
    "fit.tires",
    "fit.wheels",
    "fit.old_rims",
    "fit.spare",
    "fit.flares",
    "fit.match",
    "fit.inner_wheels",
    "adjust.stops",
    "adjust.toe",
    "adjust.bleed",
    "adjust.pressures",
    "adjust.pressure_card",
    "adjust.speedometer",
    "adjust.lamps",
    "check.steer",
    "check.hoses",
    "check.runout",
    "check.width",
    "check.poke",
    "check.four_wheel",
    "check.sign",
    "road.yard",
    "road.low_speed",
    "road.bed_brakes",
    "road.speedometer",
    "road.qualified",
    "again.torque_50",
    "again.marks",
    "again.gear_oil",
    "again.torque_500",
    "again.inspection",
    "again.insurer",
    "use.nuts",
    "use.tires",
    "use.bearings",
    "use.wheels",
    "use.spacers",
    "use.lift",
    "use.brakes",
    "use.steering",
    "again.inner_nuts",
]

DANGEROUS = {
    "multi-piece rims": ("safe.rim_pieces", "safe.air_out", "measure.found_tires", "fit.old_rims"),
    "jacking": ("safe.chock", "safe.stands", "measure.lift_test", "measure.travel", "mock_up.cycle"),
    "brakes": ("measure.brake", "decide.brakes", "fit.brakes", "adjust.bleed", "check.hoses", "road.bed_brakes"),
    "steering": ("measure.play", "measure.kingpin", "mock_up.full_lock", "adjust.stops", "adjust.toe", "check.steer"),
    "wheel nuts": ("safe.thread_hand", "decide.nuts", "fit.studs", "fit.wheels", "again.torque_50", "again.torque_500"),
    "in use": tuple(task.id for task in standing() if task.id.startswith("use.")),
    "pairs": ("safe.pair_air", "measure.pair", "decide.pair", "fit.match", "fit.inner_wheels", "again.inner_nuts"),
    "weld-up wheels": ("order.drawing", "receive.welds_seats"),
    "inflating": ("mock_up.mount_tires", "fit.tires", "adjust.pressures", "adjust.pressure_card"),
    "driving": ("check.sign", "road.yard", "road.low_speed", "road.qualified"),
    "gears": ("fit.gears", "measure.axle_ratio"),
}
TASKS = standing()
BY_ID = {task.id: task for task in TASKS}
each_task = pytest.mark.parametrize("task", TASKS, ids=lambda task: task.id)


def test_the_names_are_those_that_stand_in_peoples_files():
    assert [task.id for task in TASKS] == IDS


def test_there_are_enough_of_them_in_every_phase_and_in_the_order_of_the_phases():
    assert len(TASKS) >= 50
    phases = [task.phase for task in TASKS]
    assert set(phases) == set(PHASES)
    assert phases == sorted(phases, key=PHASES.index)


def test_the_room_holds_no_task_that_is_not_found():
    from planner.tasks import fitting, making_safe

    assert set(making_safe.TASKS) | set(fitting.TASKS) <= set(TASKS)


@each_task
def test_a_name_has_one_dot_so_that_an_axle_can_be_added(task):
    first, _, second = task.id.partition(".")
    assert first.isidentifier() and second.isidentifier()
    assert second not in ("front", "rear")


@each_task
def test_a_title_fits_a_line_on_the_wall(task):
    assert 0 < len(task.title) <= 70
    assert not task.title.endswith(".")


@each_task
def test_what_to_do_is_a_few_sentences_and_takes_some_time(task):
    assert task.how.endswith(".") and 20 < len(task.how) < 500
    assert len(task.caution) < 400
    assert 0 < task.hours <= 16


@each_task
def test_it_waits_on_tasks_that_there_are(task):
    assert set(task.after) <= set(IDS)
    assert len(set(task.after)) == len(task.after)


# Nothing loosened or lifted, and the truck rolled one turn by hand at most: no other task has to come first.
READING_ONLY = {"measure.plates", "measure.found_tires", "safe.rim_pieces", "safe.thread_hand"}


def test_what_is_only_read_waits_for_nothing_and_what_is_decided_and_done_for_the_local_code():
    assert "safe.local_code" in before("decide.tires") and "safe.local_code" in before("fit.bearings")
    for task in TASKS:
        assert task.phase not in ("make safe", "measure") or "safe.local_code" not in before(task.id), task.id


def test_wheels_come_off_on_stands_with_the_air_out_and_the_threads_read():
    for id_ in ("measure.studs", "measure.hub", "measure.brake", "measure.obstacles", "measure.found_wheels"):
        assert {"safe.chock", "safe.stands", "safe.air_out", "safe.thread_hand"} <= before(id_), id_


def test_waits_make_no_circle_and_hang_together_from_first_to_last():
    schedule([Job(task.id, task.hours, task.after) for task in TASKS])
    free = {task.id for task in TASKS if not task.after}
    assert free == READING_ONLY | {"safe.local_code", "safe.chock"}
    waited_on = {earlier for task in TASKS for earlier in task.after}
    once = [task.id for task in TASKS if task.every is None or task.every.once]  # what comes again has no end
    assert [id_ for id_ in once if id_ not in waited_on] == ["again.insurer"]


@each_task
def test_every_node_that_it_names_is_there(task):
    names = [*task.asks, *([task.torque] if task.torque else []), *(task.records.nodes if task.records else ())]
    names += [name for only in task.applies for name in (only.reads, only.other) if name]
    for name in names:
        catalog().edge(name)


@each_task
def test_what_it_asks_for_are_facts(task):
    assert {catalog().edge(name).node for name in task.asks} <= set(catalog().facts)


@each_task
def test_the_rules_that_ask_for_it_are_there(task):
    assert set(task.for_rules) <= {rule.name for rule in catalog().rules.values()}
    assert task.for_rules or not task.if_raised


@each_task
def test_a_recorded_value_and_its_bounds_are_of_one_kind_and_have_a_ground(task):
    if task.records is None:
        return
    bounds = [bound for bound in (task.records.least, task.records.most) if bound]
    assert not bounds or task.records.kind.form != "text"
    assert bounds or task.records.kind is TEXT or task.records.kind.name == "angle"
    for bound in bounds:
        assert str(bound.ground)
        for part in (bound.of, bound.more, bound.less):
            if part.isidentifier():
                kind = catalog().kind(catalog().edge(part).node)
                assert kind is not None
                assert kind.name == task.records.kind.name or {kind.form, task.records.kind.form} == {"ratio"}
            elif part:
                read_value(part, task.records.kind)


@pytest.mark.parametrize(("danger", "ids"), DANGEROUS.items(), ids=DANGEROUS)
def test_where_it_can_hurt_somebody_there_is_a_caution(danger, ids):
    assert not [id_ for id_ in ids if not BY_ID[id_].caution]


@pytest.mark.parametrize("word", ["jack", "multi-piece", "weld", "cage", "bead seat", "springs out", "bleed"])
def test_no_task_that_speaks_of_something_dangerous_is_without_a_caution(word):
    assert not [task.id for task in TASKS if word in f"{task.title} {task.how}".lower() and not task.caution]


def test_local_codes_and_licensed_practice_come_first():
    first = TASKS[0]
    assert first.hold and "local codes and licensed practice" in first.how.lower()


def before(id_):
    """Everything that must be done before a task."""
    found, ahead = set(), list(BY_ID[id_].after)
    while ahead:
        at = ahead.pop()
        if at not in found:
            found.add(at)
            ahead.extend(BY_ID[at].after)
    return found


def test_air_is_out_of_multi_piece_rims_before_a_wheel_nut_is_touched():
    assert BY_ID["safe.air_out"].hold
    for id_ in ("measure.studs", "measure.hub", "measure.found_wheels", "measure.brake", "mock_up.trial_fit"):
        assert "safe.air_out" in before(id_)


def test_both_tires_of_a_pair_are_down_before_a_nut_is_touched_and_measured_before_that():
    for id_ in ("measure.studs", "measure.hub", "measure.found_wheels", "measure.brake", "mock_up.trial_fit"):
        assert "safe.pair_air" in before(id_)
    assert {"measure.pair", "measure.weigh"} <= before("safe.pair_air")


def test_inner_nuts_are_torqued_before_the_outer_wheels_go_on_and_again_before_the_outer_nuts():
    assert {"fit.match", "fit.inner_wheels"} <= before("fit.wheels")
    assert "again.inner_nuts" in before("again.torque_50")
    assert {task.id for task in TASKS if task.torque == "inner_nut_torque"} == {"fit.inner_wheels", "again.inner_nuts"}


def test_nothing_rolls_on_rims_that_have_lost_their_air():
    for id_ in ("measure.weigh", "measure.stance", "measure.lift_test", "measure.found_tires"):
        assert "safe.air_out" not in before(id_)
        assert id_ in before("safe.air_out")


SURVEYED = {"order.small"}  # what the surveys asked for is no worse for another wheel: linings, hoses, bearings, screws


def test_nothing_is_ordered_before_the_plan_is_signed_and_nothing_driven_before_the_truck_is():
    for task in TASKS:
        if task.orders and task.id not in SURVEYED:
            assert "decide.sign" in before(task.id)
        if task.phase in ("road test", "check again"):
            assert task.id == "check.sign" or "check.sign" in before(task.id)


def test_a_part_is_ordered_before_it_is_needed():
    for task in TASKS:
        ordered = {part for id_ in before(task.id) for part in BY_ID[id_].orders}
        assert set(task.parts) <= ordered, task.id


def test_stops_are_set_and_hoses_looked_at_before_it_moves_and_nuts_torqued_twice_after():
    for id_ in ("adjust.stops", "check.steer", "check.hoses", "adjust.bleed", "adjust.lamps", "fit.wheels"):
        assert id_ in before("road.yard")
    assert before("again.torque_500") >= {"again.torque_50", "road.low_speed", "road.bed_brakes", "road.qualified"}
    assert before("road.qualified") >= {"road.yard", "road.low_speed"}


@pytest.mark.parametrize("task", [task for task in TASKS if task.every], ids=lambda task: task.id)
def test_an_interval_is_a_distance_and_months_with_a_ground_and_its_first_is_sooner(task):
    every = task.every
    distance = read_value(every.distance, LENGTH).value
    assert 0 < distance < 100_000 * 1609.344 and 0 < every.months <= 24 and str(every.ground)
    assert not every.first or read_value(every.first, LENGTH).value < distance
    assert task.phase == "check again" and (task.records is not None or every.once)


def test_wheel_nuts_are_torqued_to_the_projects_torque_each_time():
    assert {task.id for task in TASKS if task.torque == "nut_torque"} == {
        "fit.wheels",
        "again.torque_50",
        "again.torque_500",
        "use.nuts",
    }


def a_task(id_, after=(), per="truck", **more):
    return StandingTask(id=id_, phase="fit", title="t", how="h", hours=1, after=after, per=per, **more)


def waits(tasks, **how):
    return {one.id: one.after for one in placed(tasks, **how)}


def test_a_task_at_an_axle_waits_at_its_own_axle_and_the_whole_truck_waits_for_both():
    tasks = [a_task("a"), a_task("b", ("a",), "axle"), a_task("c", ("b",), "axle"), a_task("d", ("c",))]
    assert waits(tasks) == {
        "a": (),
        "b.front": ("a",),
        "b.rear": ("a",),
        "c.front": ("b.front",),
        "c.rear": ("b.rear",),
        "d": ("c.front", "c.rear"),
    }


def test_what_waits_on_a_task_that_does_not_apply_waits_on_what_that_one_waited_on():
    tasks = [a_task("a"), a_task("b", ("a",), "axle"), a_task("c", ("b",)), a_task("d", ("c",))]
    found = waits(tasks, wanted=lambda task, axle: task.id not in ("b", "c"))
    assert found == {"a": (), "d": ("a",)}
    found = waits(tasks, wanted=lambda task, axle: (task.id, axle) != ("b", "rear"))
    assert found["c"] == ("b.front", "a")


def test_work_at_an_axle_that_does_not_steer_waits_for_the_steering_of_the_one_that_does():
    tasks = [a_task("a", per="steered axle"), a_task("b", ("a",), "axle")]
    assert waits(tasks) == {"a.front": (), "b.front": ("a.front",), "b.rear": ("a.front",)}
    assert waits(tasks, steered=()) == {"b.front": (), "b.rear": ()}


def test_the_whole_sequence_at_two_axles_can_be_scheduled():
    everything = placed(TASKS)
    assert len({one.id for one in everything}) == len(everything)
    schedule([Job(one.id, one.task.hours, one.after) for one in everything])
    plain = placed(TASKS, wanted=lambda task, axle: not task.applies and not task.if_raised)
    schedule([Job(one.id, one.task.hours, one.after) for one in plain])
    assert len(plain) < len(everything)


def test_a_condition_holds_by_value_by_difference_and_where_not_known():
    multi = a_task("a", applies=(Only("pieces", ("multi",)),))
    regeared = a_task("b", applies=(Only("planned", other="found", unknown=False),))
    locked = a_task("c", applies=(Only("locked", ("yes",)),))
    known = {"pieces": "Multi", "planned": 5.86, "found": 5.22, "locked": False}
    assert [applies(task, known.get) for task in (multi, regeared, locked)] == [True, True, False]
    assert [applies(task, {}.get) for task in (multi, regeared, locked)] == [True, False, True]
    known = {"pieces": "one", "planned": 5.22, "found": 5.22, "locked": True}
    assert [applies(task, known.get) for task in (multi, regeared, locked)] == [False, False, True]


def test_a_missing_entry_and_a_raised_flag_find_their_tasks():
    assert [task.id for task in asked_for("hub_pilot", found=False)] == ["measure.hub"]
    assert [task.id for task in asked_for("backspace", found=True)] == ["measure.found_wheels"]
    assert [task.id for task in asked_for("backspace", found=False)] == ["decide.wheel"]
    assert [task.id for task in asked_for("found_cg_height", found=True)] == ["measure.lift_test"]
    assert {task.id for task in asked_by("wheel.multi_piece_rims")} >= {"safe.air_out", "fit.old_rims"}
    assert asked_by("nothing.of_the_kind") == ()


def test_an_axle_is_added_to_a_name_and_the_whole_truck_keeps_it():
    task = BY_ID["fit.wheels"]
    assert (id_at(task, ""), id_at(task, "rear")) == ("fit.wheels", "fit.wheels.rear")
