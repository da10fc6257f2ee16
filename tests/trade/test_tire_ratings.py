"""What a tire may carry and how fast; the pressure for a load; its age; and the rules about all that."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.flags.tire import (
    carries_less_than_rating,
    rim_diameters_differ,
    rim_outside_tires_range,
    tube_and_rim_mismatched,
)
from planner.trade.loads import tire_margin
from planner.trade.tire.loading import derated_load_capacity, pressure_for_load, rated_load
from planner.trade.tire.ratings import dual_load_capacity, load_capacity, spare_construction, speed_limit, tire_age
from planner.worksheet.declare import Impossible

INCH = 0.0254
SHARES = st.floats(0.05, 1.0)
EXPONENTS = st.floats(0.4, 1.0)


@pytest.mark.parametrize("index", [201, -1, 120.5, 10**9])
def test_a_load_index_that_is_not_in_the_table_is_impossible(index):
    with pytest.raises(Impossible) as caught:
        load_capacity(index)
    assert caught.value.key == "load_index"
    with pytest.raises(Impossible) as caught:
        dual_load_capacity(index)
    assert caught.value.key == "load_index_dual"


@pytest.mark.parametrize("symbol", ["", "I", "O", "X", "Z", "A9", "QQ", "x" * 1000])
def test_a_speed_symbol_that_is_not_in_the_table_is_impossible(symbol):
    with pytest.raises(Impossible) as caught:
        speed_limit(symbol)
    assert caught.value.key == "speed_symbol"


def test_a_passenger_tire_loses_a_tenth_of_what_is_left():
    # 49 CFR 571.120 S5.1.2 as NHTSA interpretation nht76-1.47 quotes it: not more than 91 percent (read).
    assert derated_load_capacity(100.0, True) == pytest.approx(91, abs=0.1)
    assert derated_load_capacity(100.0, True) * 1.10 == pytest.approx(100)
    assert derated_load_capacity(100.0, False) == 100


def test_two_tires_whose_sum_is_95_percent_of_the_rating_are_not_enough():
    # NHTSA interpretation 77-3.29 (15 Jul 1977), read.
    assert carries_less_than_rating(0.95, 1.0) < 0
    assert carries_less_than_rating(1.0, 1.0) == 0


def test_a_passenger_tire_can_turn_enough_into_too_little():
    axle = 1950 * 9.80665  # N; two tires of 1,060 kg (index 110) carry 2,120 kg, derated 1,927 kg
    as_truck, as_car = (rated_load(derated_load_capacity(load_capacity(110), passenger)) for passenger in (False, True))
    assert tire_margin(axle, 2, as_car) < 1 < tire_margin(axle, 2, as_truck)


@given(SHARES, SHARES, EXPONENTS)
def test_more_load_never_asks_for_less_pressure(one, other, exponent):
    light, heavy = sorted((one, other))
    assert pressure_for_load(light, 1.0, 4e5, exponent) <= pressure_for_load(heavy, 1.0, 4e5, exponent) <= 4e5


@given(SHARES, EXPONENTS, st.floats(1e5, 4e5))
def test_the_pressure_never_falls_under_the_makers_least(share, exponent, least):
    assert pressure_for_load(share, 1.0, 4e5, exponent, least) >= least


@given(SHARES, st.floats(0.4, 0.95))
def test_the_higher_exponent_asks_the_higher_pressure(share, exponent):
    assert pressure_for_load(share, 1.0, 4e5, exponent + 0.05) >= pressure_for_load(share, 1.0, 4e5, exponent)


@pytest.mark.parametrize(
    ("key", "values"),
    [
        ("load", (1001.0, 1000.0, 4e5, 0.8)),
        ("exponent", (900.0, 1000.0, 4e5, 0.39)),
        ("exponent", (900.0, 1000.0, 4e5, 1.01)),
        ("least_pressure", (900.0, 1000.0, 4e5, 0.8, 5e5)),
    ],
)
def test_above_the_rated_load_no_pressure_is_given(key, values):
    with pytest.raises(Impossible) as caught:
        pressure_for_load(*values)
    assert caught.value.key == key


@pytest.mark.parametrize(
    ("code", "today", "key"),
    [
        ("125", "2026-01-01", "date_code"),
        ("0025", "2026-01-01", "date_code"),
        ("5425", "2026-01-01", "date_code"),
        ("2626", "2026-01-01", "date_code"),
        ("abcd", "2026-01-01", "date_code"),
        ("0125", "yesterday", "today"),
        ("0125", None, "today"),
    ],
)
def test_a_date_code_that_cannot_be_is_refused(code, today, key):
    with pytest.raises(Impossible) as caught:
        tire_age(code, today)
    assert caught.value.key == key


def test_the_spares_size_is_refused_under_the_spares_own_key():
    with pytest.raises(Impossible) as caught:
        spare_construction("round")
    assert caught.value.key == "spare_designation"


def test_a_rim_exactly_at_the_end_of_the_range_is_within_it():
    assert rim_outside_tires_range(8.5 * INCH, 8.5 * INCH, 11 * INCH).margin == 0
    assert rim_outside_tires_range(8.0 * INCH, 8.5 * INCH, 11 * INCH).words["way"] == "too narrow"
    assert rim_outside_tires_range(12 * INCH, 8.5 * INCH, 11 * INCH).words["way"] == "too wide"


@pytest.mark.parametrize(
    ("tube", "tubeless_rim", "belong"),
    [("tubeless", True, True), ("tube", False, True), ("tubeless", False, False), ("tube", True, True)],
)
def test_a_tubeless_tire_needs_a_rim_made_for_it_and_a_tube_goes_on_either(tube, tubeless_rim, belong):
    assert tube_and_rim_mismatched(tube, tubeless_rim).margin is belong


@pytest.mark.parametrize("rim", [16.5, 15.0, 17.0])
def test_half_an_inch_between_tire_and_rim_is_never_let_pass(rim):
    assert rim_diameters_differ(16.0, 16.0).margin is True
    assert rim_diameters_differ(16.0, rim).margin is False
