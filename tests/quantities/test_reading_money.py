"""Amounts of money: read as people write numbers, to a hundredth of a cent, and refused where nothing costs that."""

from decimal import Decimal

import pytest

from planner.quantities.money import read_money
from planner.quantities.unreadable import Unreadable


@pytest.mark.parametrize(
    ("given", "value"),
    [
        (285, "285"),
        (6.5, "6.5"),
        ("6.50", "6.50"),
        ("1,425", "1425"),
        ("1 250,75", "1250.75"),
        (0, "0"),
        ("0e99", "0"),
        (999_999_999_999, "999999999999"),
        ("0.00005", "0"),  # half a hundredth of a cent goes to the even one
        ("1e-99", "0"),
        (0.1 + 0.2, "0.3"),
    ],
)
def test_an_amount_is_read_with_plain_digits(given, value):
    read = read_money(given)
    assert read == Decimal(value) and "E" not in str(read)


HUGE = ["1e99999999", "1e400", "1e12", 1e12, 10**12, 10**5000, "5" * 65, float("inf"), float("nan"), "nan", "inf"]
BELOW = [-1, "-0.01", 1e-320]
WORDS = ["", " ", "dear", "$5", "5 USD", "5 ± 1", "9**9", "1/0", "\udcff", "٣", True, None, [], {}]


@pytest.mark.parametrize("given", HUGE + BELOW + WORDS, ids=lambda given: repr(type(given)))
def test_anything_else_is_refused_with_an_example(given):
    with pytest.raises(Unreadable) as told:
        read_money(given)
    assert "1,425 or 6.50" in told.value.accepted and str(told.value).isprintable()
