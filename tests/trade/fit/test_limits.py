"""The steer limit and the largest tire, against hand sums and against the sweep just this side and just past them."""

from dataclasses import replace
from math import asin, atan2, degrees, hypot, inf, radians

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.trade.fit.limits import DIAMETER_STEP, STEER_STEP, LargestTire, Limit, largest_tire, steer_limit
from planner.trade.fit.motion import Motion, SweptObstacle
from planner.trade.fit.section import TireSection
from planner.trade.fit.sweep import BUDGET, keeps, least_clearance
from planner.trade.fit.swing import wheel_point
from planner.trade.fit.trace import trace

TIRE = TireSection(0.200, 0.200, 0.800, 0.0, 0.190)


def test_the_steer_limit_is_the_angle_at_which_the_sidewall_comes_to_the_required_clearance():
    # About an upright kingpin through the hub a point 0.3 m ahead and 0.25 m inboard is seen at
    # y = 0.3 sin s − 0.25 cos s = 0.3905 sin(s − atan(0.25 / 0.3)); the sidewall at −0.1 wants 0.02.
    rail = SweptObstacle("rail", (0.3, -0.25, 0.0), required=0.02)
    found = steer_limit([trace(Motion(1.5, steer_in=0.6, steer_out=0.6), rail)], TIRE, "in")
    exact = atan2(0.25, 0.3) - asin(0.12 / hypot(0.3, 0.25))
    assert exact - STEER_STEP <= found.angle <= exact
    assert (found.binds, found.kept, found.finished) == ("rail", True, True)
    assert found.place is not None and found.place.steer == pytest.approx(exact, abs=2 * STEER_STEP)


def test_steered_the_other_way_the_same_point_is_left_behind_and_the_lock_is_the_limit():
    rail = SweptObstacle("rail", (0.3, -0.25, 0.0), required=0.02)
    found = steer_limit([trace(Motion(1.5, steer_in=0.6, steer_out=0.5), rail)], TIRE, "out")
    assert (found.angle, found.binds, found.kept) == (0.5, None, True)


def test_of_several_obstacles_the_first_to_come_too_near_binds():
    motion = Motion(1.5, steer_in=0.6)
    near, far = SweptObstacle("near", (0.3, -0.22, 0.0)), SweptObstacle("far", (0.3, -0.25, 0.0))
    for order in ((near, far), (far, near)):
        assert steer_limit([trace(motion, obstacle) for obstacle in order], TIRE, "in").binds == "near"


def test_an_obstacle_too_near_straight_ahead_leaves_no_steer_and_says_so():
    spring = SweptObstacle("spring", (0.1, -0.11, 0.3), rides="axle", required=0.02)
    found = steer_limit([trace(Motion(1.5, steer_in=0.6), spring)], TIRE, "in")
    assert (found.angle, found.kept, found.binds) == (0.0, False, "spring")


def test_an_edge_that_keeps_exactly_what_is_wanted_all_along_is_too_close_to_call_and_soon_said_to_be():
    edge = SweptObstacle("edge", (0.0, 0.120, 0.0), (0.5, 0.120, 0.0), required=0.02)  # the sidewall is at 0.1
    found = steer_limit([trace(Motion(1.5, steer_in=0.5), edge)], TIRE, "in")
    assert (found.angle, found.kept, found.finished) == (0.0, False, True)
    assert found.evaluations < 100
    assert not keeps(trace(Motion(1.5, steer_in=0.5), edge), TIRE, 0.02)


def test_beside_an_axle_that_moves_the_limit_is_known_long_before_the_budget_is_spent():
    motion, rail = Motion(1.5, 0.08, 0.08, steer_in=0.6), SweptObstacle("rail", (0.3, -0.25, 0.0), required=0.02)
    found = steer_limit([trace(motion, rail)], TIRE, "in")
    assert found.finished and found.evaluations < BUDGET / 100


def test_a_wheel_that_does_not_steer_is_still_asked_whether_it_keeps_straight_ahead():
    near, far = (
        SweptObstacle("near", (0.1, -0.11, 0.3), required=0.02),
        SweptObstacle("far", (0.1, -0.15, 0.3), required=0.02),
    )
    assert steer_limit([trace(Motion(1.5), near)], TIRE, "in").kept is False
    assert steer_limit([trace(Motion(1.5), far)], TIRE, "in").kept is True


def test_a_measuring_tolerance_makes_the_limit_smaller_never_larger():
    motion = Motion(1.5, steer_in=0.6)
    sharp = SweptObstacle("rail", (0.3, -0.25, 0.0), required=0.02)
    blurred = replace(sharp, tolerance=(0.003, 0.003, 0.003))
    limits = [steer_limit([trace(motion, obstacle)], TIRE, "in").angle for obstacle in (sharp, blurred)]
    assert limits[1] < limits[0]


points = st.tuples(st.floats(-0.6, 0.6), st.floats(-0.6, 0.2), st.floats(-0.3, 0.6))


@given(
    st.floats(0.1, 0.7), st.floats(0.0, 0.12), st.floats(0.0, 0.2), st.floats(-0.05, 0.2), points, st.none() | points,
    st.sampled_from(["body", "axle"]), st.sampled_from(["in", "out"]), st.sampled_from([None, 0.22, 0.30]),
)  # fmt: skip
def test_up_to_the_limit_everything_is_kept_and_a_hundredth_of_a_degree_past_it_something_is_not(
    lock, travel, inset, lean, start, end, rides, way, tip
):
    motion = Motion(1.5, travel, travel, lock, lock, inset, lean, 0.05)
    obstacle = SweptObstacle("a", start, end, rides, required=0.01)
    section = TireSection(0.25, 0.2, 0.8, 0.01, 0.19, 0.28, tip)
    found = steer_limit([trace(motion, obstacle)], section, way)

    def least(angle):
        inward, outward = (angle, 0.0) if way == "in" else (0.0, angle)
        at = replace(motion, steer_in=inward, steer_out=outward)
        return least_clearance(trace(at, obstacle), section, bound=1e-6)

    if found.kept:
        assert least(found.angle).distance >= 0.01
    if found.binds is not None and found.finished:
        wheel_point(motion, obstacle, found.place)  # a place that the wheel can go to
        past = least(min(lock, found.angle + 1.01 * STEER_STEP))
        assert past.proven < 0.01 + 2e-6
    if found.binds is None:
        assert found.angle == lock


def test_the_largest_tire_under_a_point_is_twice_its_height_less_the_clearance():
    lip = SweptObstacle("lip", (0.0, 0.0, 0.450), required=0.025)
    found = largest_tire([trace(Motion(1.5), lip)], TIRE, 0.6, 1.0)
    assert found.binds == "lip"
    assert 0.850 - DIAMETER_STEP <= found.diameter <= 0.850


def test_a_limit_on_the_diameter_itself_binds_where_it_is_the_smaller():
    lip = SweptObstacle("lip", (0.0, 0.0, 0.450), required=0.025)
    found = largest_tire([trace(Motion(1.5), lip)], TIRE, 0.6, 1.0, [Limit("garage door", high=0.83)])
    assert (found.diameter, found.binds) == (0.83, "garage door")
    assert largest_tire([], TIRE, 0.6, 1.0).binds is None


def test_where_not_even_the_smallest_fits_there_is_no_largest():
    lip = SweptObstacle("lip", (0.0, 0.0, 0.250), required=0.025)
    assert largest_tire([trace(Motion(1.5), lip)], TIRE, 0.6, 1.0) == LargestTire(None, "lip")


@given(points, st.none() | points, st.floats(0.0, 0.1), st.floats(0.0, 0.5))
def test_the_largest_tire_keeps_its_clearance_and_one_step_more_does_not(start, end, travel, lock):
    path = trace(Motion(1.6, travel, travel, lock, lock, 0.08, 0.1), SweptObstacle("a", start, end, required=0.02))
    found = largest_tire([path], TIRE, 0.6, 1.0, budget=BUDGET)
    if found.diameter is None:
        assert least_clearance(path, replace(TIRE, diameter=0.6), bound=1e-6).proven < 0.02 + 2e-6
        return
    assert least_clearance(path, replace(TIRE, diameter=found.diameter)).distance >= 0.02
    if found.binds is None:
        assert found.diameter == 1.0
    else:
        bigger = replace(TIRE, diameter=found.diameter + 1.01 * DIAMETER_STEP)
        assert least_clearance(path, bigger, bound=1e-6).proven < 0.02 + 2e-6


def test_questions_that_have_no_sense_are_refused():
    path = trace(Motion(1.5, steer_in=radians(30)), SweptObstacle("a", (0.0, 0.0, 0.5)))
    other = trace(Motion(1.6, steer_in=radians(20)), SweptObstacle("a", (0.0, 0.0, 0.5)))
    for call in (
        lambda: steer_limit([], TIRE, "in"),
        lambda: steer_limit([path, other], TIRE, "in"),
        lambda: steer_limit([path], TIRE, "in", step=0.0),
        lambda: largest_tire([path], TIRE, 1.0, 0.6),
        lambda: largest_tire([path], TIRE, 0.3, 0.6),
        lambda: largest_tire([], TIRE, 0.6, inf),
    ):
        with pytest.raises(ValueError, match="read"):
            call()
    assert degrees(STEER_STEP) == pytest.approx(0.01)
