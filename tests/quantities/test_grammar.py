"""Values of every form, from a text or from what TOML makes of one."""

import pytest

from planner.quantities.grammar import Unreadable, bare, read_value
from planner.quantities.kinds import COUNT, LENGTH, POINT, POINTS, RATIO, RATIOS, TEXT, YES_NO
from planner.quantities.quantity import Quantity

TWO_POINTS = ((0.0, 0.06985), (0.06985, 0.0))


@pytest.mark.parametrize("given", [
    "0 in, 2.75 in; 2.75 in, 0 in",
    "0 in, 2 3/4 in; 2 3/4 in, 0 in;",
    "(0 in, 2.75 in), (2.75 in, 0 in)",
    "(0 in, 2.75 in); (2.75 in, 0 in)",
    '[["0 in","2.75 in"], ["2.75 in", "0 in"]]',
    "[['0 in', '2.75 in'], ['2.75 in', '0 in']]",
    "[[0 in, 2.75 in], [2.75 in, 0 in]]",
    '(0, 2.75"), (2.75", 0)',
    "0, 69.85 mm; 69,85 mm, 0",
    [["0 in", "2.75 in"], ["2.75 in", "0 in"]],
    [[0, "2.75 in"], ["2.75", "0 in"]],
    (("0 in", "2.75 in"), ("2.75 in", 0.0)),
])  # fmt: skip
def test_points_are_read_from_lists_and_from_texts(given):
    assert bare(read_value(given, POINTS)) == TWO_POINTS


def test_a_coordinate_may_be_negative_and_have_a_tolerance():
    ((x, y),) = read_value("-1 ± 1/8, 2 in ± 1/16", POINTS)
    assert (x.value, x.tolerance, y.value, y.tolerance) == (-0.0254, 0.003175, 0.0508, 0.0015875)


@pytest.mark.parametrize("given", [
    "1 in, 2 in", "(1 in, 2 in)", "1, 2 in", ["1 in", "2"], ("1 in", "2 in"), "[1 in, 2 in]",
])  # fmt: skip
def test_one_point_is_read_from_a_pair(given):
    assert bare(read_value(given, POINT)) == (0.0254, 0.0508)


@pytest.mark.parametrize("given", [
    "1 in, 2 in; 3 in, 4 in", "1 in", [], ["1 in"], [["1 in", "2 in"]], 1, None, "", "0, 0",
])  # fmt: skip
def test_what_is_no_single_point_is_unreadable(given):
    with pytest.raises(Unreadable):
        read_value(given, POINT)


@pytest.mark.parametrize("given", [
    "0, 0", "1 in", "(1 in, 2 in, 3 in)", "1 in, 2 in x (3 in, 4 in)", "[[[[", "", [], [["1 in"]], [["1 in", None]],
    [[True, "1 in"]], 5, None, {"x": 1}, [["1 in", "2 psi"]], ["1 in", "2 in"], "(" * 4000, "(1 in, 2 in)" * 400,
    [["1 in", "1 in"]] * 401, [["9" * 1_000_000, "1 in"]],
])  # fmt: skip
def test_what_is_no_list_of_points_is_unreadable(given):
    with pytest.raises(Unreadable):
        read_value(given, POINTS)


@pytest.mark.parametrize("given", [
    "3.54, 3.73, 4.10", "3.54,3.73,4.10", "3,54; 3,73; 4,10", "[3.54, 3.73, 4.10]", [3.54, "3.73", "4.10:1"],
])  # fmt: skip
def test_ratios_are_read_from_lists_and_from_texts(given):
    assert bare(read_value(given, RATIOS)) == (3.54, 3.73, 4.1)


@pytest.mark.parametrize("given", ["", [], "a", "3.54, -1", [True], [[1.0]], "3.54 in", None])
def test_what_is_no_list_of_ratios_is_unreadable(given):
    with pytest.raises(Unreadable):
        read_value(given, RATIOS)


@pytest.mark.parametrize(("given", "count"), [("8", 8), (8, 8), (8.0, 8), ("8.0", 8), ("1,000", 1000), ("+8", 8)])
def test_a_count_is_whole(given, count):
    found = read_value(given, COUNT)
    assert found == count and type(found) is int


@pytest.mark.parametrize("given", [
    "8.5", 8.5, "8 studs", "0", 0, -8, "eight", True, None, [], float("nan"), float("inf"), 10**400, 10**16, "8 ± 1",
    "",
])  # fmt: skip
def test_what_is_no_count_is_unreadable(given):
    with pytest.raises(Unreadable):
        read_value(given, COUNT)


@pytest.mark.parametrize(("given", "ratio"), [(4.1, 4.1), (4, 4.0), ("4.10", 4.1), (1e-9, 1e-9)])
def test_a_ratio_may_be_a_number_of_toml(given, ratio):
    assert read_value(given, RATIO) == Quantity(ratio)


@pytest.mark.parametrize("given", [True, None, float("nan"), float("-inf"), -1.0, 10**400, [4.1], 1e300])
def test_what_is_no_ratio_is_unreadable(given):
    with pytest.raises(Unreadable):
        read_value(given, RATIO)


@pytest.mark.parametrize("given", [24, 24.0, 0, True, None, ["24 in"]])
def test_a_length_is_never_a_bare_number(given):
    with pytest.raises(Unreadable, match="write a number with in, ft, mm, cm or m"):
        read_value(given, LENGTH)


def test_yes_and_no_are_read_in_words():
    assert [read_value(given, YES_NO) for given in ("yes", "Y", "true", True)] == [True] * 4
    assert [read_value(given, YES_NO) for given in ("no", "N", "FALSE", False)] == [False] * 4
    for given in ("maybe", "", 1, None):
        with pytest.raises(Unreadable, match="write yes or no"):
            read_value(given, YES_NO)


def test_a_text_is_made_harmless():
    assert read_value("37x12.50R17LT", TEXT) == "37x12.50R17LT"
    assert read_value("a\x1b[31mb", TEXT) == "a\\x1b[31mb"
    for given in (37, None, "x" * 5000):
        with pytest.raises(Unreadable):
            read_value(given, TEXT)


def test_a_value_is_bared_to_what_a_formula_takes():
    assert bare(Quantity(1.5, 0.1)) == 1.5
    assert bare(8) == 8 and bare("8") == "8" and bare(True) is True
    assert bare(()) == ()
