"""The brakes behind the new wheel: force, room, and heat."""

import pytest

from planner.trade.brakes import (
    pedal_effort_ratio,
    retarding_force_ratio,
    smallest_rim_code,
    stop_energy,
    stop_energy_ratio,
)
from planner.trade.wheel.barrel import barrel_radius, rim_diameters
from planner.worksheet.declare import Impossible


def test_what_is_lost_at_the_road_is_what_the_pedal_must_make_good():
    assert retarding_force_ratio(0.37, 0.43) * pedal_effort_ratio(0.37, 0.43) == pytest.approx(1.0)


def test_the_same_tire_changes_nothing():
    assert retarding_force_ratio(0.4, 0.4) == pedal_effort_ratio(0.4, 0.4) == 1.0


def test_the_smallest_code_clears_and_the_next_smaller_does_not():
    brake, gap, well, barrel = 0.171, 0.003, 0.022, 0.006
    code = smallest_rim_code(brake, gap, well, barrel)
    smaller = max(one for one in rim_diameters(5) if one < code)
    assert barrel_radius(code, well, barrel) - brake >= gap
    assert barrel_radius(smaller, well, barrel) - brake < gap


def test_a_gap_met_exactly_is_met():
    """Code 15: 380.2 / 2 = 190.1 mm = 161 + 3 + 20 + 6.1."""
    assert smallest_rim_code(0.161, 0.003, 0.02, 0.0061) == 15


def test_codes_of_another_bead_seat_are_not_offered():
    """16.5 would do with 419.1 / 2 = 209.55 mm, but its tires fit no other wheel of the truck: 17 is the answer."""
    assert smallest_rim_code(0.178, 0.003, 0.02, 0.006) == 17


def test_a_brake_larger_than_every_rim_is_refused():
    with pytest.raises(Impossible) as refused:
        smallest_rim_code(0.3, 0.003, 0.02, 0.006)
    assert refused.value.key == "brake_radius"


def test_energy_grows_with_the_square_of_speed_and_rolling_adds_to_it():
    at_ten = stop_energy(2000.0, 1.5, 4, 0.4, 10.0)
    assert stop_energy(2000.0, 1.5, 4, 0.4, 20.0) == pytest.approx(4 * at_ten)
    assert at_ten > stop_energy(2000.0, 0.0, 4, 0.4, 10.0) == pytest.approx(100_000.0)


def test_a_ring_that_rolls_carries_twice_its_energy():
    """All the mass at the radius: I = m r², so the turning half equals the moving half."""
    assert stop_energy(30.0, 30.0 * 0.4**2, 1, 0.4, 12.0) == pytest.approx(30.0 * 12.0**2)


def test_energy_as_found_is_the_measure():
    assert stop_energy_ratio(5.0, 5.0) == 1.0
