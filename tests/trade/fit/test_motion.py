"""The motion of the wheel against hand sums and against poses built as matrices."""

from math import cos, degrees, radians, sin, sqrt, tan

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.trade.fit.motion import Motion, SweepPlace, SweptObstacle, legs, measured_direction, wheel_point

FRONT = Motion(1.5, 0.1, 0.08, radians(35), radians(30), 0.09, radians(8), radians(4))


def about(*values):
    return pytest.approx(values, abs=1e-12)


def test_a_point_straight_ahead_at_ride_height_is_seen_where_it_was_measured():
    assert wheel_point(FRONT, SweptObstacle("a", (0.3, -0.2, 0.4)), SweepPlace()) == about(0.3, -0.2, 0.4)


def test_steering_in_brings_the_front_of_the_wheel_inboard_so_a_point_ahead_is_seen_further_outboard():
    point = wheel_point(Motion(1.5, steer_in=0.5), SweptObstacle("a", (0.4, 0.0, 0.0)), SweepPlace(steer=0.5))
    assert point == about(0.4 * cos(0.5), 0.4 * sin(0.5), 0.0)


def test_a_point_on_the_kingpin_axis_which_leans_inboard_and_rearward_at_the_top_does_not_move_with_steer():
    up = 0.3
    on_axis = (-up * tan(radians(4)), -0.09 - up * tan(radians(8)), up)
    assert wheel_point(FRONT, SweptObstacle("a", on_axis, rides="axle"), SweepPlace(steer=0.5)) == about(*on_axis)


def test_bump_of_both_ends_lowers_a_body_point_as_seen_from_the_wheel_and_leaves_an_axle_point():
    assert wheel_point(FRONT, SweptObstacle("a", (0.1, 0.2, 0.5)), SweepPlace(travel=0.1)) == about(0.1, 0.2, 0.4)
    assert wheel_point(FRONT, SweptObstacle("a", (0.1, 0.2, 0.5), rides="axle"), SweepPlace(travel=0.1)) == about(
        0.1, 0.2, 0.5
    )


def test_crossed_the_axle_rolls_about_the_middle_of_the_face_to_face_line():
    # Ends at +75 mm and −75 mm, 1.5 m apart: sine of the roll 0.1. A body point 0.4 m above the middle, at y = −0.75:
    # seen from the axle it leans outboard by 0.4 × 0.1 and stands 0.4 × √0.99 above.
    motion = Motion(1.5, bump=0.075, droop=0.075)
    point = wheel_point(motion, SweptObstacle("a", (0.0, -0.75, 0.4)), SweepPlace(travel=0.075, case="crossed"))
    assert point == about(0.0, -0.75 + 0.04, 0.4 * sqrt(0.99))


def test_crossed_the_other_end_is_held_to_its_own_limit():
    # This end up 0.1, the other held at −0.05: middle up 0.025, sine of the roll 0.15 / 1.5 = 0.1.
    motion = Motion(1.5, bump=0.1, droop=0.1, other_droop=0.05)
    point = wheel_point(motion, SweptObstacle("a", (0.0, -0.75, 0.425)), SweepPlace(travel=0.1, case="crossed"))
    assert point == about(0.0, -0.75 + 0.04, 0.4 * sqrt(0.99))


def test_the_legs_of_the_crossed_case_meet_and_cover_all_travel():
    motion = Motion(1.5, bump=0.1, droop=0.09, other_bump=0.04, other_droop=0.06)
    crossed = [leg for leg in legs(motion, "body") if leg.case == "crossed"]
    assert [(leg.low, leg.high) for leg in crossed] == [(-0.09, -0.04), (-0.04, 0.06), (0.06, 0.1)]
    for lower, upper in zip(crossed, crossed[1:], strict=False):
        for side in ("rise", "roll"):
            (a, b), (c, d) = getattr(lower, side), getattr(upper, side)
            assert a + b * lower.high == pytest.approx(c + d * lower.high, abs=1e-15)


def test_a_knuckle_point_never_moves():
    obstacle = SweptObstacle("a", (0.1, -0.1, 0.2), rides="knuckle")
    assert wheel_point(FRONT, obstacle, SweepPlace(0.4, 0.1)) == about(0.1, -0.1, 0.2)


@given(st.data())
def test_every_pose_is_where_a_matrix_built_forwards_and_inverted_puts_it(reference, data):
    def draw(low, high):
        return data.draw(st.floats(low, high))

    motion = Motion(
        draw(1.2, 2.0), draw(0, 0.15), draw(0, 0.15), draw(0, 0.7), draw(0, 0.7),
        draw(-0.1, 0.25), draw(-0.2, 0.3), draw(-0.2, 0.2), draw(0, 0.15), draw(0, 0.15),
    )  # fmt: skip
    ends = [tuple(draw(-0.8, 0.8) for _ in range(3)) for _ in range(2)]
    rides = data.draw(st.sampled_from(["body", "axle", "knuckle"]))
    obstacle = SweptObstacle("a", ends[0], ends[1], rides)
    case = data.draw(st.sampled_from(["together", "crossed"]))
    place = SweepPlace(draw(-motion.steer_out, motion.steer_in), draw(-motion.droop, motion.bump), case, draw(0, 1))
    expected = reference.seen_from_wheel(motion, obstacle, place.steer, place.travel, case, place.along)[0]
    assert wheel_point(motion, obstacle, place) == pytest.approx(expected, abs=1e-9)
    # A direction taken back to the measured frame keeps its length and its angle to a measured step.
    direction = np.array([0.6, 0.0, 0.8])
    back = np.array(measured_direction(motion, obstacle, place, tuple(direction)))
    step = 1e-3 * np.array([0.3, -0.5, 0.7])
    moved = SweptObstacle("a", tuple(np.add(ends[0], step)), tuple(np.add(ends[1], step)), rides)
    after = reference.seen_from_wheel(motion, moved, place.steer, place.travel, case, place.along)[0]
    assert np.linalg.norm(back) == pytest.approx(1.0)
    assert back @ step == pytest.approx(direction @ (after - expected), abs=1e-9)


@pytest.mark.parametrize(
    ("entry", "values"),
    [
        ("inclination", {"inclination": radians(80)}),
        ("caster", {"caster": float("nan")}),
        ("kingpin_inset", {"kingpin_inset": 0.9}),
        ("face_to_face", {"face_to_face": 0.0}),
        ("steer_in", {"steer_in": -0.1}),
        ("bump", {"bump": 0.6}),
        ("other_droop", {"other_droop": float("inf")}),
    ],
)
def test_a_motion_that_cannot_be_is_refused_by_the_name_of_its_entry(entry, values):
    with pytest.raises(ValueError, match=f"^{entry}: read"):
        Motion(**{"face_to_face": 1.5, **values})


def test_an_obstacle_that_cannot_be_is_refused_by_its_name():
    nowhere = {"start": (0.0, float("nan"), 0.0)}
    for values in (nowhere, {"rides": "roof"}, {"required": -0.01}, {"tolerance": (0, -1, 0)}):
        with pytest.raises(ValueError, match="^frame rail: read"):
            SweptObstacle(**{"name": "frame rail", "start": (0.0, 0.0, 0.0), **values})


def test_a_place_out_of_the_wheels_reach_is_refused():
    for place in (SweepPlace(steer=1.0), SweepPlace(travel=0.2), SweepPlace(along=1.1)):
        with pytest.raises(ValueError, match=r"read .* accepted is from"):
            wheel_point(FRONT, SweptObstacle("a", (0.0, 0.0, 0.0)), place)
    assert degrees(FRONT.steer_in) == pytest.approx(35)
