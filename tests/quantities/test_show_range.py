"""A range that is finer than a tape's fractions: never shown as empty, or the wrong way round."""

import pytest

from planner.quantities.grammar import read_value
from planner.quantities.kinds import ANGLE, LENGTH
from planner.quantities.show import Style
from planner.quantities.show_range import show_end, show_range

ENDS = LENGTH.smallest(), LENGTH.greatest()
INCH = 0.0254


def test_a_range_between_two_sixteenths_stands_in_decimals():
    # 7.593 in goes up to 7 5/8 in and 7.622 in down to 7 9/16 in: in sixteenths nothing would be left
    assert show_range(7.593 * INCH, 7.622 * INCH, ENDS, Style()) == ("7.60 in", "7.62 in")


def test_a_range_of_less_than_a_hundredth_takes_as_many_decimals_as_it_needs():
    assert show_range(7.5931 * INCH, 7.5969 * INCH, ENDS, Style()) == ("7.594 in", "7.596 in")


def test_a_range_that_sixteenths_tell_apart_keeps_them():
    assert [end.split(" (")[0] for end in show_range(7.5 * INCH, 8 * INCH, ENDS, Style())] == ["7 1/2 in", "8 in"]


def test_sixteenths_that_would_hide_most_of_what_is_good_give_way_to_decimals():
    # 7.57 goes up to 7 5/8 and 7.74 down to 7 11/16: a sixteenth of nearly three would be left
    assert show_range(7.57 * INCH, 7.74 * INCH, ENDS, Style()) == ("7.57 in", "7.74 in")
    # 7.57 to 7.68 would be one sixteenth twice
    assert show_range(7.57 * INCH, 7.68 * INCH, ENDS, Style()) == ("7.57 in", "7.68 in")


@pytest.mark.parametrize(
    ("inches", "kind", "says"),
    [
        # to the safe side of the sixteenths: 0.12 down to 0.0625 is half of it gone, 0.57 down to 0.5625 hardly any
        (0.12, LENGTH.greatest(), "0.120 in"),
        (0.57, LENGTH.greatest(), "9/16 in"),
        (0.09, LENGTH.smallest(), "0.090 in"),
        (0.118, LENGTH.smallest(), "1/8 in"),
        (0.047, LENGTH.greatest(), "0.047 in"),
        (4.93, LENGTH.smallest(), "4 15/16 in"),
        # a bore of 6.540 is good on a pilot of 6.505: at least 6 9/16 would send it back
        (6.505, LENGTH.smallest(), "6.51 in"),
    ],
)
def test_an_end_that_stands_alone_is_in_decimals_where_a_sixteenth_would_be_much_too_strict(inches, kind, says):
    assert show_end(inches * INCH, kind, Style(), beside=False) == says


@pytest.mark.parametrize("style", [Style(), Style(fractions=False), Style("metric", False)])
@pytest.mark.parametrize("kind", [LENGTH, ANGLE])
@pytest.mark.parametrize("width", [1e-5, 1e-4, 1e-3, 0.1])
def test_what_is_shown_lies_within_and_in_order(kind, style, width):
    low, high = 0.1934, 0.1934 + width
    shown = show_range(low, high, (kind.smallest(), kind.greatest()), style, beside=False)
    ends = [read_value(text, kind).value for text in shown]
    assert low - 1e-12 <= ends[0] < ends[1] <= high + 1e-12
