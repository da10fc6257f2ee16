"""What tires, axles and bearings carry: identities, sides, and what cannot be compared."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.trade.loads import bearing_arm, bearing_moment_ratio, per_tire, tire_margin, wheel_inertia
from planner.worksheet.declare import Impossible

LOADS = st.floats(1e3, 1e5)
ARMS = st.floats(1e-3, 0.5)


@given(LOADS, st.integers(1, 4))
def test_tires_that_each_carry_their_share_carry_the_axle_exactly(load, tires):
    assert tire_margin(load, tires, per_tire(load, tires)) == pytest.approx(1)


@given(st.floats(-0.3, 0.3), st.floats(0, 0.3))
def test_the_arm_is_the_same_to_either_side_of_the_bearings(setback, aside):
    assert bearing_arm(setback, setback + aside) == pytest.approx(bearing_arm(setback, setback - aside))
    assert bearing_arm(setback, setback) == 0


@given(ARMS, LOADS)
def test_an_unchanged_wheel_bends_the_bearings_as_before(arm, load):
    assert bearing_moment_ratio(arm, arm, load, load) == pytest.approx(1)


def test_a_tire_that_stood_over_its_bearings_leaves_nothing_to_compare_with():
    with pytest.raises(Impossible) as caught:
        bearing_moment_ratio(0.0, 0.05, 6000.0, 6000.0)
    assert caught.value.key == "found_arm"


def test_less_offset_moves_the_tire_outboard_and_lengthens_the_arm():
    # Bearings 60 mm inboard; the tire from 50 mm inboard to 20 mm outboard of the face: 10 mm, then 80 mm.
    found, planned = bearing_arm(0.060, 0.050), bearing_arm(0.060, -0.020)
    assert (found, planned) == (pytest.approx(0.010), pytest.approx(0.080))
    assert bearing_moment_ratio(found, planned, 6000.0, 6000.0) == pytest.approx(8)


def test_inertia_grows_with_the_square_of_the_radius():
    assert wheel_inertia(50.0, 0.8, 0.6) == pytest.approx(4 * wheel_inertia(50.0, 0.4, 0.6))
