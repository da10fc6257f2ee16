"""What tires, axles and bearings carry: identities, sides, and what cannot be compared."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.trade.loads import bearing_arm, bearing_moment, bearing_moment_ratio, per_tire, tire_margin, wheel_inertia

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
    moment = bearing_moment(arm, load, 0.4, 0.3)
    assert bearing_moment_ratio(moment, moment) == pytest.approx(1)


def test_the_moment_is_that_of_the_two_forces_of_the_road_in_the_corner_that_bends_more():
    # Forces of the road at the contact: 6 kN up, 1.8 kN to the side either way; their moment about the middle of the
    # bearings by the cross product, the contact 19 mm outboard and 400 mm below: 114 ± 720 N·m.
    moments = [np.cross((0.0, 0.019, -0.4), (0.0, aside, 6000.0))[0] for aside in (1800.0, -1800.0)]
    assert bearing_moment(0.019, 6000.0, 0.4, 0.3) == pytest.approx(max(map(abs, moments)))
    assert sorted(moments) == [pytest.approx(114 - 720), pytest.approx(114 + 720)]


def test_an_inch_more_on_a_short_arm_is_a_sixth_more_moment_and_no_multiple_of_it():
    # 3/4 in found, 1 3/4 in planned; 0.3 of the load at 15 in of loaded radius is as 4.5 in more: 5.25 to 6.25 in.
    found, planned = (bearing_moment(arm * 0.0254, 6000.0, 15 * 0.0254, 0.3) for arm in (0.75, 1.75))
    assert bearing_moment_ratio(found, planned) == pytest.approx(6.25 / 5.25)


def test_less_offset_moves_the_tire_outboard_and_lengthens_the_arm():
    # Bearings 60 mm inboard; the tire from 50 mm inboard to 20 mm outboard of the face: 10 mm, then 80 mm.
    found, planned = bearing_arm(0.060, 0.050), bearing_arm(0.060, -0.020)
    assert (found, planned) == (pytest.approx(0.010), pytest.approx(0.080))


def test_inertia_grows_with_the_square_of_the_radius():
    assert wheel_inertia(50.0, 0.8, 0.6) == pytest.approx(4 * wheel_inertia(50.0, 0.4, 0.6))
