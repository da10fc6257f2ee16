"""The fender opening's first look: its two figures agree, and nothing is let in where there is no room."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.trade.fender import tire_for_clearance, zero_clearance_diameter
from planner.worksheet.declare import Impossible


@given(st.floats(0.3, 1.0))
def test_with_no_clearance_and_no_travel_the_tire_just_touches(distance):
    assert tire_for_clearance(distance, 0.0, 0.0) == pytest.approx(zero_clearance_diameter(distance))


def test_an_inch_of_clearance_or_of_travel_costs_two_of_diameter():
    assert tire_for_clearance(24.0, 3.0, 3.0) == tire_for_clearance(24.0, 2.0, 4.0) == 36.0
    assert tire_for_clearance(24.0, 2.0, 3.0) == 38.0


@pytest.mark.parametrize("travel", [22.0, 30.0])
def test_an_opening_without_room_lets_no_tire_in(travel):
    with pytest.raises(Impossible) as caught:
        tire_for_clearance(24.0, 2.0, travel)
    assert caught.value.key == "axle_to_fender"
