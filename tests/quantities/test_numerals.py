"""Numbers as people write them, and as the shortest decimals."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.quantities.numerals import decimal, number


@given(st.integers(0, 10**9))
def test_a_whole_number_is_read_plain_and_in_groups(value):
    for text in (str(value), f"{value:,}", f"{value:,}".replace(",", " "), f"{value}.0"):
        assert number(text) == (value, len(text))


@given(st.integers(0, 999), st.integers(1, 63))
def test_a_mixed_number_is_read_exactly(whole, sixty_fourths):
    for text in (f"{whole} {sixty_fourths}/64", f"{whole}-{sixty_fourths}/64", f"{64 * whole + sixty_fourths}/64"):
        assert number(text) == (whole + Fraction(sixty_fourths, 64), len(text))


@given(st.fractions(), st.integers(1, 25))
def test_a_decimal_is_off_by_half_of_its_last_figure_at_most(value, figures):
    assert abs(Fraction(decimal(value, figures)) - value) <= abs(value) / Fraction(10) ** (figures - 1) / 2


@pytest.mark.parametrize(("value", "figures", "text"), [
    (Fraction(0), 5, "0"), (Fraction(999, 100), 2, "10"), (Fraction(-1, 3), 3, "-0.333"), (Fraction(10**16), 3, "1e16"),
    (Fraction(1, 10**5), 2, "0.00001"), (Fraction(1, 10**6), 2, "1e-6"), (Fraction(123_456), 3, "123000"),
])  # fmt: skip
def test_a_decimal_is_as_short_as_it_goes(value, figures, text):
    assert decimal(value, figures) == text


@pytest.mark.parametrize("text", ["", "x", "1/0", "1,25,0", "5.5 1/2", "5 3/2", "1e5½", "e5", ",5", "-5"])
def test_what_is_no_number_is_refused(text):
    with pytest.raises(ValueError):
        number(text)
