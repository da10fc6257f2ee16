"""The motion of the wheel against hand sums and against poses built as matrices."""

from math import cos, degrees, radians, sin, sqrt, tan

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.trade.fit.motion import Motion, SweepPlace, SweptObstacle
from planner.trade.fit.swing import leg_of, legs, measured_direction, swing, wheel_point

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
    up = SweepPlace(rise=0.1, far_rise=0.1)
    assert wheel_point(FRONT, SweptObstacle("a", (0.1, 0.2, 0.5)), up) == about(0.1, 0.2, 0.4)
    assert wheel_point(FRONT, SweptObstacle("a", (0.1, 0.2, 0.5), rides="axle"), up) == about(0.1, 0.2, 0.5)


def test_crossed_the_axle_rolls_about_the_middle_of_the_face_to_face_line():
    # Ends at +75 mm and −75 mm, 1.5 m apart: sine of the roll 0.1. A body point 0.4 m above the middle, at y = −0.75:
    # seen from the axle it leans outboard by 0.4 × 0.1 and stands 0.4 × √0.99 above.
    motion = Motion(1.5, bump=0.075, droop=0.075)
    point = wheel_point(motion, SweptObstacle("a", (0.0, -0.75, 0.4)), SweepPlace(rise=0.075, far_rise=-0.075))
    assert point == about(0.0, -0.75 + 0.04, 0.4 * sqrt(0.99))


def test_the_axle_rolls_about_its_middle_wherever_the_two_ends_stand():
    # This end up 0.1, the other held at −0.05: middle up 0.025, sine of the roll 0.15 / 1.5 = 0.1.
    motion = Motion(1.5, bump=0.1, droop=0.1, other_droop=0.05)
    point = wheel_point(motion, SweptObstacle("a", (0.0, -0.75, 0.425)), SweepPlace(rise=0.1, far_rise=-0.05))
    assert point == about(0.0, -0.75 + 0.04, 0.4 * sqrt(0.99))


def test_with_stops_at_the_hubs_each_wheel_goes_to_its_own_stop_and_no_further():
    motion = Motion(1.5, bump=0.1, droop=0.09, other_bump=0.04, other_droop=0.06)
    ends = [
        (rise, rise - 1.5 * leg_roll)
        for leg in legs(motion, "body")
        for leg_roll in (leg.low, leg.high)
        for least, room in [leg.span(leg_roll)]
        for rise in (least, least + room)
    ]
    assert min(rise for rise, _ in ends) == pytest.approx(-0.09)
    assert max(rise for rise, _ in ends) == pytest.approx(0.1)
    assert min(far for _, far in ends) == pytest.approx(-0.06)
    assert max(far for _, far in ends) == pytest.approx(0.04)


motions = st.builds(
    lambda width, travels, stops, straps, roll: Motion(
        width, travels[0], travels[1], other_bump=travels[2], other_droop=travels[3],
        stops_apart=stops, droop_apart=straps, most_roll=roll,
    ),
    st.floats(1.2, 2.0), st.tuples(*[st.floats(0, 0.25)] * 4), st.none() | st.tuples(*[st.floats(0.2, 1.2)] * 2),
    st.none() | st.tuples(*[st.floats(0.2, 1.2)] * 2), st.floats(0, 0.5),
)  # fmt: skip


@given(motions, st.floats(-0.5, 0.5), st.floats(-0.4, 0.4))
def test_the_legs_are_the_region_that_stops_and_droop_allow_and_no_more(reference, motion, roll, middle):
    half = roll * motion.face_to_face / 2
    place = SweepPlace(rise=middle + half, far_rise=middle - half)
    allowed = reference.heights(motion, roll)
    try:
        leg_of(motion, SweptObstacle("a", (0.0, 0.0, 0.0)), place)
        found = True
    except ValueError:
        found = False
    hair = 1e-8
    if allowed and allowed[0] + hair < middle < allowed[1] - hair and abs(roll) > hair:
        assert found or abs(roll) < 1e-6
    if not allowed or not allowed[0] - hair <= middle <= allowed[1] + hair:
        level = abs(roll) < hair  # where nothing rolls, a place so near to level is taken for it
        near = 0.0 if level else roll * (1 - 1e-6)
        assert not found or (allowed is None and reference.heights(motion, near) is not None)


@given(motions)
def test_the_corners_of_the_legs_meet_and_reach_as_far_as_the_region_does(reference, motion):
    found = legs(motion, "body")
    for lower, upper in zip(found, found[1:], strict=False):
        assert lower.high == upper.low
        assert lower.span(lower.high) == pytest.approx(upper.span(upper.low), abs=1e-9)
    for rise, far in reference.poses(motion):
        leg_of(motion, SweptObstacle("a", (0.0, 0.0, 0.0)), SweepPlace(rise=rise, far_rise=far))


def test_a_knuckle_point_never_moves():
    obstacle = SweptObstacle("a", (0.1, -0.1, 0.2), rides="knuckle")
    assert wheel_point(FRONT, obstacle, SweepPlace(0.4, 0.1, 0.1)) == about(0.1, -0.1, 0.2)


@given(st.data())
def test_every_pose_is_where_a_matrix_built_forwards_and_inverted_puts_it(reference, data):
    def draw(low, high):
        return data.draw(st.floats(low, high))

    motion = Motion(
        draw(1.2, 2.0), draw(0, 0.15), draw(0, 0.15), draw(0, 0.7), draw(0, 0.7),
        draw(-0.1, 0.25), draw(-0.2, 0.3), draw(-0.2, 0.2), draw(0, 0.15), draw(0, 0.15),
        (draw(0.4, 0.8), draw(0.8, 1.1)), (draw(0.4, 0.8), draw(0.8, 1.1)), draw(0, 0.5),
    )  # fmt: skip
    ends = [tuple(draw(-0.8, 0.8) for _ in range(3)) for _ in range(2)]
    rides = data.draw(st.sampled_from(["body", "axle", "knuckle"]))
    obstacle = SweptObstacle("a", ends[0], ends[1], rides)
    rise, far = data.draw(st.sampled_from(reference.poses(motion)))
    place = SweepPlace(draw(-motion.steer_out, motion.steer_in), rise, far, draw(0, 1))
    expected = reference.seen_from_wheel(motion, obstacle, place.steer, rise, far, place.along)[0]
    assert wheel_point(motion, obstacle, place) == pytest.approx(expected, abs=1e-9)
    # A direction taken back to the measured frame keeps its length and its angle to a measured step.
    direction = np.array([0.6, 0.0, 0.8])
    back = np.array(measured_direction(motion, obstacle, place, tuple(direction)))
    step = 1e-3 * np.array([0.3, -0.5, 0.7])
    moved = SweptObstacle("a", tuple(np.add(ends[0], step)), tuple(np.add(ends[1], step)), rides)
    after = reference.seen_from_wheel(motion, moved, place.steer, rise, far, place.along)[0]
    assert np.linalg.norm(back) == pytest.approx(1.0)
    assert back @ step == pytest.approx(direction @ (after - expected), abs=1e-9)


@pytest.mark.parametrize("rides", ["body", "axle", "knuckle"])
def test_every_rate_of_a_point_is_what_its_own_differences_say(rides):
    motion = Motion(1.5, 0.1, 0.08, 0.6, 0.5, 0.09, 0.14, 0.07, 0.06, 0.05, (0.8, 0.9), (0.7, 1.0))
    leg = legs(motion, rides)[-1]
    see = swing(motion, SweptObstacle("a", (0.3, -0.4, 0.35), (-0.2, -0.3, 0.5), rides), leg)
    at, step = np.array([0.2, 0.6, (leg.low + leg.high) / 2 or 0.03, 0.4]), 1e-4
    rates, ways = np.reshape(see(*at), (12, 3)), np.eye(4) * step

    def seen(*by):
        return np.array(see(*(at + sum(by)))[:3])

    for rate, way in zip(rates[1:5], ways, strict=True):
        assert rate == pytest.approx((seen(way) - seen(-way)) / (2 * step), abs=1e-6)
    twice = [(0, 0), (2, 2), (0, 1), (0, 2), (0, 3), (1, 2), (2, 3)]  # of steer, share, roll and along
    for rate, (first, second) in zip(rates[5:], twice, strict=True):
        one, two = ways[first], ways[second]
        change = seen(one, two) - seen(one, -two) - seen(-one, two) + seen(-one, -two)
        assert rate == pytest.approx(change / (4 * step**2), abs=1e-5)


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
        ("stops_apart", {"stops_apart": (0.0, 1.0)}),
        ("droop_apart", {"droop_apart": (0.8, float("nan"))}),
        ("most_roll", {"most_roll": 0.6}),
        ("lean_doubt", {"lean_doubt": -0.1}),
    ],
)
def test_a_motion_that_cannot_be_is_refused_by_the_name_of_its_entry(entry, values):
    with pytest.raises(ValueError, match=f"^{entry}: read"):
        Motion(**{"face_to_face": 1.5, **values})


def test_an_obstacle_that_cannot_be_is_refused_by_its_name():
    nowhere = {"start": (0.0, float("nan"), 0.0)}
    for values in (nowhere, {"rides": "roof"}, {"required": float("inf")}, {"tolerance": (0, -1, 0)}):
        with pytest.raises(ValueError, match="^frame rail: read"):
            SweptObstacle(**{"name": "frame rail", "start": (0.0, 0.0, 0.0), **values})


def test_a_place_out_of_the_wheels_reach_is_refused():
    for place in (SweepPlace(steer=1.0), SweepPlace(rise=0.2, far_rise=0.2), SweepPlace(along=1.1)):
        with pytest.raises(ValueError, match=r"read .* accepted is"):
            wheel_point(FRONT, SweptObstacle("a", (0.0, 0.0, 0.0)), place)
    assert degrees(FRONT.steer_in) == pytest.approx(35)
