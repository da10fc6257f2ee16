"""Ranges of recorded values: worked by hand in SI, with tolerances never rounded toward danger."""

import csv
from pathlib import Path

import pytest

from planner.quantities.kinds import DISTANCE, LENGTH, TORQUE
from planner.quantities.quantity import Quantity
from planner.sources.citing import COMMON_PRACTICE
from planner.tasks.acceptable import Range, acceptable, stands
from planner.tasks.kind import Bound, Record
from planner.tasks.sequence import standing

RECORDS = {task.id: task.records for task in standing() if task.records}


def bound(of, **more):
    return Bound(of, COMMON_PRACTICE, **more)


def test_a_bound_is_a_share_of_a_node_with_something_more_and_something_less():
    # 100 N·m: 0.96 × 100 = 96 and 1.04 × 100 + 5 - 2 = 107.
    record = Record("torque", TORQUE, bound("torque", times=0.96), bound("torque", times=1.04, more="5 N·m", less="b"))
    found = acceptable(record, {"torque": (100.0, 100.0), "b": (2.0, 2.0)}.get)
    assert found.least == pytest.approx((96.0, 96.0))
    assert found.most == pytest.approx((107.0, 107.0))


def test_what_a_nodes_tolerance_leaves_open_is_not_acceptable_for_sure():
    # A pilot of 130 mm ± 0.1 mm: a bore of 130.1 mm clears it for sure, one of 129.8 mm never.
    found = acceptable(Record("bore", LENGTH, least=bound("pilot")), {"pilot": (0.1299, 0.1301)}.get)
    assert found.sure == (0.1301, None)
    assert stands(0.1301, found) == "within"
    assert stands(0.1300, found) == "too close to call"
    assert stands(0.1298, found) == "outside"


def test_the_recorded_values_own_tolerance_counts_too():
    found = Range(most=(0.0012, 0.0012))
    assert stands(Quantity(0.0011, 0.0001), found) == "within"
    assert stands(Quantity(0.0011, 0.0002), found) == "too close to call"
    assert stands(Quantity(0.0015, 0.0002), found) == "outside"


def test_what_was_ordered_with_a_tolerance_is_held_to_its_middle():
    # 127 mm ± 1.6 mm ordered: 1/16 in is 1.5875 mm to either side.
    record = Record(
        "backspace",
        LENGTH,
        bound("backspace", less="1/16 in", nominal=True),
        bound("backspace", more="1/16 in", nominal=True),
    )
    found = acceptable(record, {"backspace": (0.1254, 0.1286)}.get)
    assert found.sure == pytest.approx((0.1254125, 0.1285875))


def test_something_missing_lets_nothing_pass_and_hides_no_miss():
    record = Record("gap", DISTANCE, bound("wanted"), bound("10 mm"))
    found = acceptable(record, lambda node: None)
    assert found.missing == ("wanted",)
    assert stands(0.009, found) == "not known"
    assert stands(0.011, found) == "outside"


def test_a_value_exactly_at_the_end_is_within():
    assert stands(0.0012, Range(most=(0.0012, 0.0012))) == "within"
    assert stands(0.3 - 0.1 - 0.2, Range(least=(0.0, 0.0))) == "within"


def test_a_record_without_ends_takes_anything():
    assert stands(1.0, acceptable(Record("angle", DISTANCE), lambda node: None)) == "within"


def test_a_new_wheels_runout_is_held_to_the_published_limit():
    # Rules for the use of vehicle tires (Russian Federation), Annex 17, Table 1; tests/tasks/rim_runout.csv. Read.
    with (Path(__file__).parent / "rim_runout.csv").open(encoding="utf-8", newline="") as file:
        rows = {row["rim_class"]: row for row in csv.DictReader(file)}
    row = rows["truck/bus/trailer 12..16 in (OST 37.001.429-86)"]
    limit = min(float(row["radial_runout_mm"]), float(row["axial_runout_mm"])) / 1000
    assert acceptable(RECORDS["receive.runout"], lambda node: None).sure == (None, pytest.approx(limit))


def test_runout_on_the_truck_is_held_to_the_federal_limit():
    # 49 CFR Part 570 Subpart A, wheel assemblies: 1/8 in total, lateral and radial. Read. 1/8 in = 3.175 mm.
    assert acceptable(RECORDS["check.runout"], lambda node: None).sure == (None, pytest.approx(0.003175))


@pytest.mark.parametrize(("true_kmh", "highest"), [(50, 59), (70, 81), (110, 125), (130, 147)])
def test_the_speedometer_is_held_to_the_published_band(true_kmh, highest):
    # UN R39 para 5.3: 0 <= V1 - V2 <= 0.1 V2 + 4 km/h, with its rounded rows from a page that quotes it.
    speeds = {"cruise_speed": (true_kmh / 3.6,) * 2, "speedometer_high_allowance": (4 / 3.6,) * 2}
    least, most = acceptable(RECORDS["road.speedometer"], speeds.get).sure
    assert least * 3.6 == pytest.approx(true_kmh)
    assert most * 3.6 == pytest.approx(highest)
