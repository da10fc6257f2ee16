"""The kingpin's line, the two wheels' angles, and the stop screw."""

from math import atan, degrees, pi, radians, sin, tan

import pytest

from planner.trade.steering import (
    inner_angle,
    kingpin_ground_track,
    limited_turning_radius,
    outer_angle,
    scrub_radius,
    stop_extension,
    turning_radius,
)
from planner.worksheet.declare import Impossible


def test_offset_moves_the_scrub_radius_one_for_one():
    before = scrub_radius(0.1, 0.14, 0.02, 0.4)
    assert scrub_radius(0.1, 0.14, -0.03, 0.4) == pytest.approx(before + 0.05)


def test_a_taller_tire_on_a_leaning_kingpin_scrubs_less():
    assert scrub_radius(0.1, 0.14, 0.0, 0.45) < scrub_radius(0.1, 0.14, 0.0, 0.4)


def test_the_kingpins_line_meets_the_ground_under_the_tire_where_scrub_is_nothing():
    """Drawn out: from -inset at hub height outboard to the ground, where the tire's center plane is -offset."""
    inset, lean, radius = 0.1, radians(8), 0.4
    ground_point = -inset + radius * tan(lean)
    assert scrub_radius(inset, lean, -ground_point, radius) == pytest.approx(0.0, abs=1e-15)


def test_the_outer_wheel_turns_less_and_each_angle_gives_the_other_back():
    for turned in (0.02, 0.3, 0.6):
        outer = outer_angle(3.2, 1.35, turned)
        assert 0 < outer < turned
        assert inner_angle(3.2, 1.35, outer) == pytest.approx(turned)


def test_ackermann_holds_as_the_exam_key_states_it():
    """cot φ − cot θ = c / b: theory-of-machines exam key."""
    inner = 0.55
    outer = outer_angle(3.2, 1.35, inner)
    assert 1 / tan(outer) - 1 / tan(inner) == pytest.approx(1.35 / 3.2)


def test_an_outer_angle_past_what_the_inner_can_follow_is_impossible():
    """Track as long as the wheelbase: at 45° outside the inner wheel stands square."""
    with pytest.raises(Impossible) as refused:
        inner_angle(2.0, 2.0, radians(46))
    assert refused.value.key == "outer_angle"


@pytest.mark.parametrize("angle", [0.0, -0.1])
def test_straight_ahead_has_no_turning_radius(angle):
    with pytest.raises(Impossible) as refused:
        turning_radius(3.2, angle, 0.05, 1.35)
    assert refused.value.key == "steer_angle"


def test_the_outer_front_tire_runs_about_the_point_that_both_wheels_are_square_to():
    """Drawn out: the turning point lies L / tan(inner) beyond the inner kingpin, so track more from the outer one."""
    wheelbase, track, inner = 3.2, 1.35, radians(29)
    across = wheelbase / tan(inner) + track
    assert turning_radius(wheelbase, inner, 0.07, track) == pytest.approx((wheelbase**2 + across**2) ** 0.5 + 0.07)


def test_the_kingpins_meet_the_ground_further_apart_than_they_stand_at_the_hubs():
    """Drawn out: both lines from hub height down by the radius, each leaning inboard at the top."""
    track, lean, radius = 1.35, radians(8), 0.4
    left, right = (-track / 2 - radius * tan(lean), track / 2 + radius * tan(lean))
    assert kingpin_ground_track(track, lean, radius) == pytest.approx(right - left)


def test_a_measured_outer_angle_comes_before_ackermanns():
    """3.2 / sin 30° = 6.4, whatever the inner wheel does."""
    assert turning_radius(3.2, radians(40), 0.07, 1.35, radians(30)) == pytest.approx(6.47)


def test_an_outer_angle_measured_at_another_stop_keeps_its_part_of_ackermanns():
    """Track as long as the wheelbase: cot outer is 2 at 45° inside, 1 + √3 at 30°; measured was 9/10 of the first."""
    measured = 0.9 * atan(1 / 2)
    now = turning_radius(1.0, radians(30), 0.0, 1.0, measured, radians(45), measured)
    assert now == pytest.approx(1 / sin(0.9 * atan(1 / (1 + 3**0.5))))
    anew = turning_radius(1.0, radians(30), 0.0, 1.0, radians(15), radians(45), measured)
    assert anew == pytest.approx(1 / sin(radians(15)))


def test_a_limited_turn_keeps_the_part_of_ackermanns_angle_that_was_measured():
    """Track as long as the wheelbase: cot outer is 2 at 45° inside and 1 + √3 at 30°; measured is 9/10 of the first."""
    stop, limit = atan(1 / 2), atan(1 / (1 + 3**0.5))
    found = limited_turning_radius(1.0, radians(45), radians(30), 0.0, 1.0, 0.9 * stop)
    assert found == pytest.approx(1 / sin(0.9 * limit))
    at_the_stop = limited_turning_radius(1.0, radians(45), radians(60), 0.0, 1.0, 0.9 * stop)
    assert at_the_stop == pytest.approx(1 / sin(0.9 * stop))


def test_more_steer_turns_tighter():
    assert turning_radius(3.2, 0.6, 0.05, 1.35) < turning_radius(3.2, 0.5, 0.05, 1.35)


def test_a_stop_that_is_far_enough_out_needs_nothing_and_one_past_it_less():
    assert stop_extension(0.14, 0.5, 0.5) == 0.0
    assert stop_extension(0.14, 0.45, 0.5) == pytest.approx(-stop_extension(0.14, 0.5, 0.45))


def test_a_small_step_of_the_stop_is_the_arm_times_the_angle():
    assert stop_extension(0.14, 0.501, 0.5) == pytest.approx(0.14 * 0.001, rel=1e-6)
    assert stop_extension(0.1, pi / 3, 0.0) == pytest.approx(2 * 0.1 * sin(pi / 6))


def test_equal_track_and_wheelbase_at_45_degrees():
    """cot outer = 1 + 1: arctan ½."""
    assert degrees(outer_angle(1.0, 1.0, pi / 4)) == pytest.approx(degrees(atan(0.5)))
