"""Places, values, keys and moments of the sweep in words, of trucks so small that they are told by hand."""

from math import radians
from types import SimpleNamespace

import pytest
from work_truck import opened, replace, written

from planner.plan.answers.basis import basis, basis_changes
from planner.plan.answers.uncertainty_sources import spread_text, uncertainty_sources
from planner.plan.fit.sweep_text import sweep_location
from planner.plan.state import read
from planner.plan.truck.catalog import entry_key
from planner.plan.truck.forms import field
from planner.plan.truck.wording import place_names, shown
from planner.quantities.grammar import read_value
from planner.quantities.kinds import LENGTH
from planner.quantities.show import Style
from planner.trade.fit.motion import SweepPlace


@pytest.fixture
def truck(tmp_path):
    path = written(tmp_path)
    replace(path, " # as ordered", '\nrim_width = "9 in ± 1/8 in"\nflange_thickness = "1/2 in exact"')
    return opened(path)


def test_what_several_places_have_in_common_is_said_once():
    assert place_names((("tall", "front"), ("tall", "rear")), alone=False) == "tall, front and rear"
    assert place_names((("tall", "front"), ("tall", "rear")), alone=True) == "front and rear"
    assert place_names((("tall", "front"),), alone=False) == "tall, front"


def test_a_value_is_told_with_its_tolerance_and_the_spread_of_several_readings_with_how_far_it_likely_is(truck):
    # 5 in of backspace less half of 9 + 2 × 1/2 in: 0, off by 1/16 for the one and half of 1/8 for the other; 1/8 in at
    # the worst, 1/16 × √2 = 0.0884 in by the root of the squares, rounded up
    offset = truck.spot("offset", fitment="tall", axle="front")
    assert shown(truck, offset).startswith("0 in ± 1/8 in")
    told = spread_text(truck, offset, uncertainty_sources(truck, offset))
    assert told == "up to 0.125 in (3.18 mm) at the worst, 0.089 in (2.25 mm) likely (root-sum-square)"
    backspace = truck.spot("backspace", fitment="tall", axle="front")
    assert spread_text(truck, backspace, uncertainty_sources(truck, backspace)) == ""


def test_a_figure_that_a_record_rests_on_is_kept_with_its_own_tolerance(truck):
    # 9 in and two flanges of 1/2 in are 254 mm, off by 1/8 in as the rim is
    kept = basis(truck, [truck.spot("overall_width", fitment="tall", axle="front")])
    width = read_value(kept["wheel.overall_width (tall, front)"], LENGTH)
    assert (width.value, width.tolerance) == pytest.approx((0.254, 0.003175))


def test_what_a_record_kept_of_a_rule_stands_while_the_rule_says_what_was_known_then(truck):
    # the face half of 10 in from the rim's edges, 127 mm, within the 110 to 130 mm that was known of it, and not in 20
    rule = "wheel.face_outside_rim (tall, front)"
    assert basis_changes(truck, {rule: "clear, 0.12 (0.11 to 0.13)"}) == ()
    (moved,) = basis_changes(truck, {rule: "clear, 0.02 (0.02 to 0.02)"})
    assert "20.0 mm" in moved.then and "127.0 mm" in moved.now


def test_what_nobody_can_read_in_a_record_is_told_as_it_stands_there(truck):
    (moved,) = basis_changes(truck, {"wheel.offset (tall, front)": "a good deal"})
    assert moved.then == "a good deal" and moved.now.startswith("0 in ± 1/8 in")


def test_an_entry_is_asked_for_where_it_serves_most(truck):
    def asked(node):
        return entry_key(truck.spot(node, fitment="tall", axle="front"))

    assert asked("axle_ratio") == "axles.front.ratio"  # of the truck, though a fitment may have its own
    assert asked("rim_width") == "fitments.tall.wheel.rim_width"  # of both axles
    assert asked("hub_pilot") == "axles.front.hub.pilot"


def test_an_entry_that_is_one_of_a_few_words_has_them_to_choose_from(truck):
    units = field(truck, "vehicle.units")
    assert (units.table, units.label, units.choices) == ("vehicle", "units", ("inch", "metric"))
    assert field(truck, "axles.front.steered").choices == ("yes", "no")
    width = field(truck, "fitments.tall.wheel.rim_width")
    assert width.choices == () and width.wants.kind is not None and width.wants.kind.name == "length"


def where(steer: float, rise: float) -> str:
    rail, place = SimpleNamespace(rides="body", name="rail"), SweepPlace(steer=steer, rise=rise, far_rise=rise)
    found = SimpleNamespace(place=place, tire="", part="tread", side=None, finished=True)
    return sweep_location(Style("metric"), "front", "left", True, rail, found)


def test_where_the_wheel_stands_is_told_as_soon_as_it_can_be_read():
    # a twentieth of a degree is the least that rounds to a tenth, and half a millimeter the least that counts
    assert where(radians(0.049), 0.0) == "left front, wheel straight ahead, axle at ride height: tread to rail"
    assert where(radians(0.05), 0.0) == "left front, wheel turned in 0.1°, axle at ride height: tread to rail"
    assert where(0.0, 0.00049) == where(0.0, 0.0)
    assert where(0.0, 0.0006) == "left front, wheel straight ahead, both wheels up 0.60 mm: tread to rail"


def test_what_presses_most_is_the_first_task_that_can_be_done(tmp_path):
    state = read(written(tmp_path))
    assert state.next_task is not None and state.next_task.id == "safe.local_code"
    assert state._replace(work=None).next_task is None
