"""The gearing: identities between its figures, what cannot be, and values worked by hand or published."""

from math import atan, cos, degrees, pi, radians, sin, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.trade.gearing.axle import (
    axle_mismatch,
    effective_axle_ratio,
    nearest_gear_sets,
    regear_ratio,
    restoring_axle_ratio,
    tooth_ratio,
)
from planner.trade.gearing.speeds import crawl_speed, cruise_engine_speed, engine_speed, road_speed, top_engine_speed
from planner.trade.gearing.thrust import axle_shaft_torque, gradeability, grip_limited_grade, tractive_effort
from planner.trade.gearing.train import (
    crawl_ratio,
    cruise_ratio,
    high_range_ratio,
    low_range_ratio,
    lowest_gear_ratio,
    overall_ratio,
    top_gear_ratio,
)
from planner.worksheet.declare import Impossible

RATIOS = st.floats(0.4, 120.0)
LENGTHS = st.floats(0.5, 6.0)
POUND_FORCE = 4.4482216152605
INCH = 0.0254


@given(RATIOS, LENGTHS, LENGTHS)
def test_the_restoring_ratio_on_the_planned_tires_feels_like_the_found_ratio(ratio, found, planned):
    restoring = restoring_axle_ratio(ratio, found, planned)
    assert effective_axle_ratio(restoring, found, planned) == pytest.approx(ratio)


def test_the_same_tires_leave_the_ratio_as_it_is():
    assert effective_axle_ratio(4.89, 2.31, 2.31) == pytest.approx(4.89)
    assert regear_ratio(4.89, 4.89) == 1


def test_gears_that_nobody_counted_are_taken_to_stay_and_new_ones_need_the_old():
    assert regear_ratio() == 1
    assert regear_ratio(4.89) is None


def test_a_portal_axle_gears_down_once_more_at_the_hub():
    # by hand: 40 / 13 = 3.0769; × 2.13 = 6.5538
    assert tooth_ratio(40, 13, 2.13) == pytest.approx(6.5538, abs=1e-4)
    assert tooth_ratio(40, 13) == tooth_ratio(40, 13, 1.0)


def test_larger_tires_make_the_gears_feel_taller():
    assert effective_axle_ratio(4.10, 2.3, 2.6) < 4.10 < restoring_axle_ratio(4.10, 2.3, 2.6)


def test_swapped_tooth_counts_are_noticed():
    with pytest.raises(Impossible) as caught:
        tooth_ratio(9, 44)
    assert caught.value.key == "pinion_teeth"


def test_a_listed_set_that_restores_exactly_stands_on_both_sides():
    sets = nearest_gear_sets((4.10, 4.56, 4.88), 4.56)
    assert (sets.below, sets.above, sets.below_change, sets.above_change) == (4.56, 4.56, 0, 0)


def test_the_order_of_the_list_does_not_matter():
    assert nearest_gear_sets((5.38, 4.10, 4.88, 4.56), 4.7) == nearest_gear_sets((4.10, 4.56, 4.88, 5.38), 4.7)


@pytest.mark.parametrize(("restoring", "end"), [(3.0, 4.10), (6.0, 5.38)])
def test_beyond_the_list_its_end_stands_on_both_sides_and_the_sign_says_so(restoring, end):
    sets = nearest_gear_sets((4.10, 4.56, 4.88, 5.38), restoring)
    assert sets.below == sets.above == end
    assert sets.below_change == sets.above_change == pytest.approx(end / restoring - 1)


def test_an_empty_list_of_gear_sets_is_impossible():
    with pytest.raises(Impossible) as caught:
        nearest_gear_sets((), 4.5)
    assert caught.value.key == "gear_sets"


@pytest.mark.parametrize("pick", [lowest_gear_ratio, top_gear_ratio, low_range_ratio, high_range_ratio])
def test_a_train_without_gears_has_no_lowest_or_highest(pick):
    with pytest.raises(Impossible):
        pick(())


def test_an_overdrive_is_the_top_gear():
    assert top_gear_ratio((4.0, 2.2, 1.0, 0.73)) == 0.73


def test_the_crawl_and_cruise_ratios_are_overall_ratios():
    # TM 9-2520-246-34, p. 4-2: transfer case of 1.980 and 1.000; 6.4 × 1.98 × 4.89 = 61.96608 by hand
    assert crawl_ratio(6.4, 1.980, 4.89) == overall_ratio(6.4, 1.980, 4.89) == pytest.approx(61.96608)
    assert cruise_ratio(1.0, 1.000, 4.89) == pytest.approx(4.89)


def test_axles_that_match_do_not_run_apart():
    assert axle_mismatch(4.89, 4.89, 2.31, 2.31, 1.0) == 0


def test_larger_front_tires_run_ahead_and_lower_front_gears_drag():
    assert axle_mismatch(4.10, 4.10, 2.4, 2.3, 1.0) > 0
    assert axle_mismatch(4.11, 4.10, 2.3, 2.3, 1.0) == pytest.approx(-0.01 / 4.11)


@given(st.floats(0.1, 60.0), LENGTHS, RATIOS)
def test_engine_speed_and_road_speed_undo_each_other(speed, circumference, ratio):
    assert road_speed(engine_speed(speed, circumference, ratio), circumference, ratio) == pytest.approx(speed)


def test_engine_speed_agrees_with_the_rule_of_336():
    # common practice: rpm = mph × ratio × 336 / tire diameter in inches; its 336 is a rounded 1056/π = 336.135
    by_rule = 55 * 4.89 * 336 / 33
    by_kinematics = engine_speed(55 * 0.44704, pi * 33 * INCH, 4.89) * 60 / (2 * pi)
    assert by_kinematics == pytest.approx(by_rule, rel=0.0005)


def test_cruise_and_top_speed_read_the_same_kinematics():
    assert cruise_engine_speed(25.0, 2.3, 4.89) == engine_speed(25.0, 2.3, 4.89) == top_engine_speed(25.0, 2.3, 4.89)


def test_a_lower_train_crawls_slower():
    assert crawl_speed(60.0, 2.4, 90.0) < crawl_speed(60.0, 2.4, 45.0)


def test_a_truck_at_rest_turns_no_engine():
    assert engine_speed(0.0, 2.3, 4.89) == 0


def test_gradeability_agrees_with_the_published_sheet():
    # engineering formula sheet "Gradeability": 1000 lbf·in, ratio 12, radius 15 in, 10,000 lb: 8.0 % less 1.5 % = 6.5 %
    thrust = tractive_effort(1000 * POUND_FORCE * INCH, 12, 1.0, 15 * INCH)
    assert thrust / POUND_FORCE == pytest.approx(800)  # 100 T R / (r W) = 8.0 %
    slope = gradeability(thrust, 0.015, 10_000 * POUND_FORCE)
    assert slope == pytest.approx(atan(0.065), abs=0.0005)


@given(st.floats(0.0, 72.0), st.floats(0.0, 0.3), st.floats(1e3, 1e5))
def test_gradeability_solves_the_balance_of_forces_on_the_slope(angle, drag, weight):
    slope = radians(angle)
    thrust = weight * sin(slope) + drag * weight * cos(slope)
    assert gradeability(thrust, drag, weight) == pytest.approx(slope, abs=1e-6)


def test_too_little_thrust_to_roll_on_the_level_is_a_slope_downhill():
    assert gradeability(0.0, 0.02, 20_000.0) == pytest.approx(-atan(0.02))
    assert gradeability(0.02 * 20_000.0, 0.02, 20_000.0) == pytest.approx(0.0, abs=1e-12)


def test_thrust_beyond_any_slope_gives_upright_and_never_an_error():
    for thrust in (20_000.0, 20_000.0 * sqrt(1 + 0.02**2), 1e9):
        slope = gradeability(thrust, 0.0, 20_000.0)
        assert slope == pytest.approx(pi / 2)
        assert slope <= pi / 2


def test_a_backward_thrust_is_impossible():
    with pytest.raises(Impossible) as caught:
        gradeability(-1.0, 0.02, 20_000.0)
    assert caught.value.key == "tractive_effort"


def test_grip_ends_where_a_block_slides():
    # textbook: a block slides where the tangent of the slope is the friction; 0.75 is a 3-4-5 triangle, 36.87 deg
    assert degrees(grip_limited_grade(0.75)) == pytest.approx(36.8699, abs=1e-4)


def test_efficiency_above_one_is_impossible():
    for call in (
        lambda: tractive_effort(200.0, 30.0, 1.01, 0.4),
        lambda: axle_shaft_torque(200.0, 30.0, 1.01, 10_000.0, 0.8, 0.4),
    ):
        with pytest.raises(Impossible) as caught:
            call()
        assert caught.value.key == "efficiency"


def test_the_lesser_of_engine_and_grip_governs_the_shaft():
    # by hand: engine 200 × 10 × 0.9 = 1800 N·m, or 200 × 40 × 0.9 = 7200; grip 0.8 × 10,000 × 0.4 = 3200
    low = axle_shaft_torque(200.0, 40.0, 0.9, 10_000.0, 0.8, 0.4)
    high = axle_shaft_torque(200.0, 10.0, 0.9, 10_000.0, 0.8, 0.4)
    assert (low.torque, low.governed_by) == (pytest.approx(3200), "grip")
    assert (high.torque, high.governed_by) == (pytest.approx(1800), "engine")


@given(st.floats(50, 800), RATIOS, st.floats(0.3, 1.0), st.floats(3e3, 1e5), st.floats(0.1, 1.2), st.floats(0.25, 0.8))
def test_a_larger_tire_never_spares_the_shaft(torque, ratio, efficiency, load, friction, radius):
    small = axle_shaft_torque(torque, ratio, efficiency, load, friction, radius).torque
    assert axle_shaft_torque(torque, ratio, efficiency, load, friction, 1.1 * radius).torque >= small
