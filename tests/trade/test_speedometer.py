"""The speedometer: identities between its figures, and the band at its published corners."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.trade.speedometer.drive import driven_gear_teeth, fitted_gear_error, geared_circumference, pulses_per_mile
from planner.trade.speedometer.reading import (
    adapter_ratio,
    odometer_factor,
    speedometer_circumference,
    speedometer_error,
    true_reading,
    true_speed,
    within_un_r39,
)
from planner.worksheet.declare import Impossible

LENGTHS = st.floats(1.0, 5.0)
KMH = 1 / 3.6
MILE = 1609.344
SHARE, ALLOWANCE = 0.1, 4 * KMH


@given(st.floats(1.0, 40.0), LENGTHS, LENGTHS)
def test_the_error_is_what_the_indicated_speed_is_off_by(indicated, found, planned):
    real = true_speed(indicated, found, planned)
    assert indicated / real - 1 == pytest.approx(speedometer_error(found, planned), abs=1e-12)


def test_larger_tires_read_low_and_smaller_ones_high():
    assert speedometer_error(2.3, 2.6) < 0 < speedometer_error(2.6, 2.3)


def test_unchanged_tires_and_gears_leave_no_error_at_all():
    assert speedometer_error(2.31, speedometer_circumference(2.31, 1.0)) == 0


def test_gears_that_restore_the_feel_restore_the_speedometer_too():
    found, planned = 2.3, 2.6
    assert speedometer_error(found, speedometer_circumference(planned, planned / found)) == pytest.approx(0, abs=1e-12)


@given(LENGTHS, LENGTHS)
def test_the_adapter_undoes_the_error_and_the_odometer_counts_by_the_same_factor(found, planned):
    assert (1 + speedometer_error(found, planned)) * adapter_ratio(found, planned) == pytest.approx(1)
    assert odometer_factor(found, planned) == adapter_ratio(found, planned)


# UN R39, paragraph 5.3, as two publications quote it alike: 0 ≤ V1 − V2 ≤ 0.1 V2 + 4 km/h; the pairs are published
@pytest.mark.parametrize(("true", "high"), [(50, 59), (70, 81), (110, 125), (130, 147)])
def test_the_band_has_its_published_corners_and_they_hold(true, high):
    for indicated in (true, high):
        band = within_un_r39(indicated * KMH, true * KMH, SHARE, ALLOWANCE)
        assert band.holds is True
        assert (band.low / KMH, band.high / KMH) == (pytest.approx(true), pytest.approx(high))


@pytest.mark.parametrize("indicated", [49.9, 59.1])
def test_just_outside_the_band_does_not_hold(indicated):
    assert within_un_r39(indicated * KMH, 50 * KMH, SHARE, ALLOWANCE).holds is False


def test_the_driven_gear_by_hand():
    # 700 wheel turns a mile × 4.0 = 2800 shaft turns; × 6 drive teeth / 1000 cable turns = 16.8 teeth;
    # 17 teeth turn the cable 16.8/17 as often as they should: reads 1.176 % low
    gear = driven_gear_teeth(6, 4.0, MILE / 700, 1000 / MILE)
    assert (gear.exact, gear.nearest, gear.error) == (pytest.approx(16.8), 17, pytest.approx(-0.0117647, abs=1e-7))


@given(st.integers(3, 30), st.integers(6, 30), st.floats(2.0, 9.0), st.floats(2.0, 9.0), LENGTHS)
def test_against_its_own_teeth_the_error_is_that_of_the_gear_fitted(drive, driven, found_ratio, ratio, circumference):
    true_on = true_reading(2.4, geared_circumference(drive, driven, found_ratio, 1000 / MILE)).circumference
    seen = speedometer_circumference(circumference, ratio / found_ratio)
    fitted = fitted_gear_error(drive, driven, ratio, circumference, 1000 / MILE)
    assert speedometer_error(true_on, seen) == pytest.approx(fitted, abs=1e-9)


def test_without_teeth_the_found_truck_is_taken_to_read_true():
    assert true_reading(2.4) == (2.4, "taken as true on the tires as found")


@given(st.integers(3, 30), st.floats(2.0, 9.0), LENGTHS)
def test_the_error_left_is_that_of_the_nearest_gear_once_fitted(drive, ratio, circumference):
    gear = driven_gear_teeth(drive, ratio, circumference, 1000 / MILE)
    fitted = fitted_gear_error(drive, gear.nearest, ratio, circumference, 1000 / MILE)
    assert gear.error == pytest.approx(fitted, abs=1e-12)
    assert abs(gear.exact - gear.nearest) <= 0.5


def test_one_tooth_less_on_the_driven_gear_reads_higher():
    assert fitted_gear_error(6, 16, 4.0, 2.3, 1000 / MILE) > fitted_gear_error(6, 17, 4.0, 2.3, 1000 / MILE)


def test_a_drive_that_would_need_less_than_half_a_tooth_is_impossible():
    with pytest.raises(Impossible) as caught:
        driven_gear_teeth(1, 1.0, 5.0, 1.0)
    assert caught.value.key == "drive_teeth"


def test_pulses_are_counted_along_the_road_and_not_by_the_hour():
    # 8 pulses a turn, 4.0 gears, 700 wheel turns a mile: 8 × 4 × 700 = 22,400 a mile
    assert pulses_per_mile(8, 4.0, MILE / 700) * MILE == pytest.approx(22_400)
