"""A reading that is added or changed, by command or on the screens: its entry goes with it, and nothing is lost."""

import pytest
from work_truck import TODAY, opened, replace, written

from planner.plan.change.changing import Setting, make, try_settings
from planner.plan.work.measured_twice import measured_once

PILOT = "axles.front.hub.pilot"
COUNTS = f'which_counts."{PILOT}"'


@pytest.fixture
def truck(tmp_path):
    path = written(tmp_path, '[axles.front.hub]\npilot = "5.000 in ± 0.002 in"\n')
    replace(path, "format = 1", "format = 2")
    return path


def read(path, at, value, by=""):
    settings = [Setting(f"readings[{at}].of", PILOT), Setting(f"readings[{at}].value", value)]
    settings += [Setting(f"readings[{at}].by", by)] if by else []
    make(try_settings(opened(path), settings), "")


def values(path):
    return [(one.value, one.by) for one in opened(path).project.readings]


def entry(path):
    return opened(path).project.axles.front.hub.pilot


def test_an_entry_that_nobody_read_becomes_a_reading_beside_the_first_that_differs(truck):
    read(truck, 0, "5.001 in ± 0.002 in", "neighbor")
    assert values(truck) == [("5.001 in ± 0.002 in", "neighbor"), ("5.000 in ± 0.002 in", None)]
    # while nobody says which counts the entry reaches from the lowest end to the highest: 4.998 to 5.003 in
    assert entry(truck).low == pytest.approx(4.998 * 0.0254) and entry(truck).high == pytest.approx(5.003 * 0.0254)
    assert [one.key for one in measured_once(opened(truck))] == [PILOT]  # nobody says who read the first
    make(try_settings(opened(truck), [Setting("readings[1].by", "owner")]), "")
    assert not measured_once(opened(truck))


def test_who_measured_the_entry_keeps_it_as_his_reading(truck):
    who = f'[[readings]]\nof = "{PILOT}"\nby = "owner"\nhow = "caliper, four ways"\n'
    truck.write_text(truck.read_text("utf-8") + who, "utf-8")
    read(truck, 1, "5.001 in ± 0.002 in", "neighbor")
    assert values(truck) == [("5.000 in ± 0.002 in", "owner"), ("5.001 in ± 0.002 in", "neighbor")]
    assert not measured_once(opened(truck))


def test_a_reading_that_says_the_same_stands_alone(truck):
    read(truck, 0, "5.000 in ± 0.002 in", "owner")
    assert values(truck) == [("5.000 in ± 0.002 in", "owner")]


@pytest.mark.parametrize(
    ("which", "value"),
    # of 5.001 and 5.000 the middle is 5.0005, from the lowest end to the highest it is that too
    [("middle", 5.0005), ("worse", 5.0005), ("1", 5.001), ("2", 5.000)],
)
def test_which_reading_counts_is_set_by_one_change_and_the_entry_follows(truck, which, value):
    read(truck, 0, "5.001 in ± 0.002 in")
    make(try_settings(opened(truck), [Setting(f"which_counts.{PILOT}", which)]), "")  # without quotes too
    assert entry(truck).value == pytest.approx(value * 0.0254)
    make(try_settings(opened(truck), [Setting("readings[0].value", "5.003 in ± 0.002 in")]), "looked again")
    moved = {"1": 5.003, "2": 5.000}.get(which, 5.0015)
    assert entry(truck).value == pytest.approx(moved * 0.0254)


def test_of_three_readings_the_middle_is_left_to_them(truck):
    read(truck, 0, "5.001 in ± 0.002 in")
    read(truck, 2, "5.001 in ± 0.002 in")
    make(try_settings(opened(truck), [Setting(COUNTS, "middle")]), "")  # 15.002 thirds of an inch
    assert entry(truck).value == pytest.approx(15.002 / 3 * 0.0254)
    assert "pilot" not in opened(truck).opened.data["axles"]["front"]["hub"]


@pytest.mark.parametrize(("which", "out", "left"), [("2", 0, 1), ("1", 1, 1), ("1", 0, None), ("middle", 0, "middle")])
def test_the_number_of_the_reading_that_counts_goes_with_it(truck, which, out, left):
    read(truck, 0, "5.001 in ± 0.002 in")
    read(truck, 2, "5.003 in ± 0.002 in")
    make(try_settings(opened(truck), [Setting(COUNTS, which)]), "")
    make(try_settings(opened(truck), [Setting(f"readings[{out}]", "")]), "a slip")
    assert opened(truck).project.which_counts.get(PILOT) == left and len(opened(truck).project.readings) == 2


LIP = """
[[obstacles]]
name = "lip"
axle = "front"
moves_with = "body"
at = ["0 in ± 1/4 in", "7 in ± 1/8 in", "24 in ± 1/4 in"]
"""


def test_a_mock_up_reading_is_taken_by_the_key_of_what_it_is_of_as_by_its_name(truck):
    taken = {"of": "axles.front.brake", "value": "1/2 in ± 1/32 in", "fitment": "tall", "side": "left"}
    settings = [Setting(f"readings[0].{name}", value) for name, value in taken.items()]
    make(try_settings(opened(truck), settings), "clay on the drum")
    assert opened(truck).project.readings[0].of == "axles.front.brake"


@pytest.mark.parametrize("typed", ["0 in ± 1/8 in, 7 in, 24 1/8 in", '["0 in ± 1/8 in", "7 in", "24 1/8 in"]'])
def test_where_an_obstacle_is_can_be_read_a_second_time(truck, typed):
    truck.write_text(truck.read_text("utf-8") + LIP, "utf-8")
    settings = [Setting("readings[0].of", 'obstacles."lip".at'), Setting("readings[0].value", typed)]
    make(try_settings(opened(truck), settings), "")
    read_, stood = (one.value for one in opened(truck).project.readings)
    assert read_ == ["0 in ± 1/8 in", "7 in", "24 1/8 in"]
    assert stood == ["0 in ± 1/4 in", "7 in ± 1/8 in", "24 in ± 1/4 in"]
    assert opened(truck).project.obstacles[0].at[2].high == pytest.approx(24.25 * 0.0254)


def test_an_entry_that_is_set_over_its_readings_is_read_once_more_and_that_one_counts(truck):
    """What `check` asks to be measured better is entered as it is asked for, and nobody's reading is lost."""
    read(truck, 0, "5.001 in ± 0.002 in", "neighbor")
    make(try_settings(opened(truck), [Setting(PILOT, "5.0004 in ± 0.0005 in")]), "a better tool")
    project = opened(truck).project
    assert [one.value for one in project.readings] == [
        "5.001 in ± 0.002 in", "5.000 in ± 0.002 in", "5.0004 in ± 0.0005 in",
    ]  # fmt: skip
    assert project.which_counts == {PILOT: 3} and project.readings[2].on == TODAY
    assert entry(truck).tolerance == pytest.approx(0.0005 * 0.0254)
    make(try_settings(opened(truck), [Setting(PILOT, "5.001 in ± 0.002 in")]), "no, as the neighbor had it")
    project = opened(truck).project
    assert len(project.readings) == 3 and project.which_counts == {PILOT: 1}


def test_an_entry_set_against_its_readings_is_written_beside_them_and_all_count(truck):
    read(truck, 0, "5.001 in ± 0.002 in", "neighbor")
    make(try_settings(opened(truck), [Setting(COUNTS, "1")]), "his")
    make(try_settings(opened(truck), [Setting(PILOT, "5.020 in ± 0.002 in")]), "measured again")
    assert [one.value for one in opened(truck).project.readings][2] == "5.020 in ± 0.002 in"
    assert not opened(truck).project.which_counts
    assert (entry(truck).low, entry(truck).high) == pytest.approx((4.998 * 0.0254, 5.022 * 0.0254))
    make(try_settings(opened(truck), [Setting(PILOT, "5.020 in ± 0.002 in")]), "and it is so")
    assert len(opened(truck).project.readings) == 3 and opened(truck).project.which_counts == {PILOT: 3}
