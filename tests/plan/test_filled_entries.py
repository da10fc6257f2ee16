"""A tick whose value is the reading of an entry: written there with its reading, and never over another unasked."""

import pytest
from work_truck import listed, opened, replace, ticked, written

from planner.plan.truck.recording import RefusedChange
from planner.plan.work.task_words import how_far

LOAD = '[axles.front]\nload = "2,700 lb ± 20 lb"\n'


@pytest.fixture
def truck(tmp_path):
    path = written(tmp_path)
    ticked(path, "safe.local_code", because="asked the clerk")
    return path


def _weighed(path, value, **how):
    ticked(path, "measure.weigh.front", value, because="the quarry's scale", anyway=True, **how)


def test_what_nobody_entered_yet_is_entered_by_the_tick_with_its_reading(truck):
    _weighed(truck, "2,690 lb ± 20 lb")
    project = opened(truck).project
    assert project.axles.front.load.text == "2,690 lb ± 20 lb"
    (reading,) = project.readings
    assert (reading.of, reading.value, str(reading.on)) == ("axles.front.load", "2,690 lb ± 20 lb", "2026-01-05")
    assert "Weigh the truck" in reading.how
    assert listed(truck).items["measure.weigh.front"].state == "done"


def test_a_reading_within_what_the_entry_may_be_off_leaves_it_as_it_is(truck):
    replace(truck, "[axles.front]\n", LOAD)
    _weighed(truck, "2,715 lb")
    project = opened(truck).project
    assert project.axles.front.load.text == "2,700 lb ± 20 lb" and not project.readings
    assert listed(truck).items["measure.weigh.front"].record.recorded == "2,715 lb"


def test_where_they_differ_it_is_asked_which_counts_and_nothing_is_written(truck):
    replace(truck, "[axles.front]\n", LOAD)
    before = truck.read_text(encoding="utf-8")
    with pytest.raises(RefusedChange, match=r"it reads 2,930 lb, and axles\.front\.load is 2,?700 lb") as refused:
        _weighed(truck, "2,930 lb")
    assert refused.value.takes == "which counts" and truck.read_text(encoding="utf-8") == before


def test_the_reading_that_counts_takes_the_entrys_place_and_the_diary_has_the_old_one(truck):
    replace(truck, "[axles.front]\n", LOAD)
    _weighed(truck, "2,930 lb ± 20 lb", counts="this")
    project = opened(truck).project
    assert project.axles.front.load.text == "2,930 lb ± 20 lb" and len(project.readings) == 1
    assert listed(truck).items["measure.weigh.front"].state == "done"


def test_the_entry_that_counts_stays_and_the_tick_keeps_its_own_value(truck):
    replace(truck, "[axles.front]\n", LOAD)
    _weighed(truck, "2,930 lb", counts="entry")
    assert opened(truck).project.axles.front.load.text == "2,700 lb ± 20 lb"
    assert listed(truck).items["measure.weigh.front"].record.recorded == "2,930 lb"


def test_beside_other_readings_the_one_that_counts_is_named_by_its_number(truck):
    readings = "".join(f'[[readings]]\nof = "axles.front.load"\nvalue = "{one}"\n' for one in ("2,700 lb", "2,710 lb"))
    replace(truck, "[plan]\n", f"{readings}[plan]\n")
    _weighed(truck, "2,930 lb ± 20 lb", counts="this")
    project = opened(truck).project
    assert project.which_counts == {"axles.front.load": 3} and project.axles.front.load.text == "2,930 lb ± 20 lb"


def test_a_torque_agreed_on_is_the_studs_torque(truck):
    ticked(truck, "decide.nuts.front", "110 ft·lb", because="by letter", anyway=True)
    assert opened(truck).project.axles.front.studs.torque.text == "110 ft·lb"


def test_a_value_out_of_range_is_marked_in_the_head_of_the_list_until_it_is_settled(truck):
    # The axle is rated for 4,000 lb.
    _weighed(truck, "4,300 lb")
    assert "1 value out of range" in how_far(opened(truck), listed(truck))
    replace(truck, 'rating = "4,000 lb"', 'rating = "4,500 lb"')
    assert "out of range" not in how_far(opened(truck), listed(truck))
