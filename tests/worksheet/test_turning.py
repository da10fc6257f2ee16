"""What turns back within a tolerance: its least and greatest by hand, whatever stands on either side of the middle."""

from math import sqrt
from typing import NamedTuple

import pytest

from planner.quantities.grammar import read_value
from planner.quantities.kinds import LENGTH, POSITION, Length, Position
from planner.sources.citing import COMMON_PRACTICE
from planner.sources.reasoning import GEOMETRY
from planner.worksheet.catalog import Fact, make
from planner.worksheet.declare import figure, rule
from planner.worksheet.layout import lay_out
from planner.worksheet.outcome import Spot
from planner.worksheet.sheet import Worksheet
from planner.worksheet.spread import between
from planner.worksheet.turning import Turned, along, greatest, least, magnitude, moved, where
from planner.worksheet.verdict import judge


def declared(function, **more):
    return figure(means="toy", ground=GEOMETRY, form="toy", **more)(function).declared


def toy(*figures, **entries):
    """The low end, the value and the high end of the last figure."""
    facts = [Fact(name, POSITION, name, "", "", (frozenset(),), (name,)) for name in entries]
    sheet = Worksheet(
        lay_out(make(facts, figures, {}), {}),
        {Spot(name, ()): read_value(text, POSITION) for name, text in entries.items()},
    )
    known = sheet.outcome(Spot(figures[-1].node, ()))
    return pytest.approx((known.low, known.value, known.high), abs=1e-9)


def distance(a: Position) -> Position:
    return magnitude(a)


def apart(a: Position, b: Position) -> Position:
    return magnitude(a - b)


def test_a_distance_turns_at_nothing_wherever_its_middle_is():
    # |x| with x from -4 to 24: from nothing to 24
    assert toy(declared(distance), a="10 m ± 14 m") == (0, 10, 24)
    assert toy(declared(distance), a="-10 m ± 14 m") == (0, 10, 24)
    assert toy(declared(distance), a="0 m ± 3 m") == (0, 0, 3)
    assert toy(declared(distance), a="10 m ± 2 m") == (8, 10, 12)


def test_two_entries_together_reach_the_turn_that_neither_reaches_alone():
    # a from 4 to 16, b from -6 to 6: they may be equal, and are 22 apart at the most
    assert toy(declared(apart), a="10 m ± 6 m", b="0 m ± 6 m") == (0, 10, 22)


def test_of_two_the_lesser_moves_where_both_must_move():
    def lesser(a: Position, b: Position) -> Position:
        return least(a, b)

    # 10 ± 5 and 11 ± 5: no less than 5, and no more than the 15 that the first reaches when the second is past it
    assert toy(declared(lesser), a="10 m ± 5 m", b="11 m ± 5 m") == (5, 10, 15)


def test_the_greater_of_two_distances_from_one_thing():
    def worse(s: Position, f: Position, r: Position) -> Position:
        return greatest(magnitude(s - f), magnitude(s - r))

    # s -1 to 1, f 0 to 6, r -6 to 0: all at nothing it is nothing; the furthest are 1 and -6
    assert toy(declared(worse), s="0 m ± 1 m", f="3 m ± 3 m", r="-3 m ± 3 m") == (0, 3, 7)


def test_a_formula_that_reads_what_turns_turns_with_it():
    def margin(distance: Position, room: Position) -> Position:
        return room - distance

    def twice(margin: Position) -> Position:
        return sqrt(margin + 100.0) * 2

    own = declared(distance), declared(margin)
    assert toy(*own, a="10 m ± 14 m", room="5 m ± 1 m") == (-20, -5, 6)
    assert toy(*own, declared(twice), a="10 m ± 14 m", room="4 m") == (2 * sqrt(80), 2 * sqrt(94), 2 * sqrt(104))


def test_a_turn_below_a_floor_comes_up_through_it():
    def heavier(a: Position, b: Position, d: Position) -> Position:
        return greatest(a, b + d)

    def wanted(heavier: Position, c: Position) -> Position:
        return greatest(heavier * c, 100.0)

    # The greater of 20 and 18 ± 1 1/2 with 1 1/2 more is 21 at the most, to which neither of the two comes alone; times
    # 4 ± 1 that is 105, above a floor that holds in the middle.
    given = {"a": "20 m", "b": "18 m ± 1.5 m", "c": "4 m ± 1 m", "d": "0 m ± 1.5 m"}
    assert toy(declared(heavier), declared(wanted), **given) == (100, 100, 105)


def test_a_size_times_something_turns_at_nothing_all_the_same():
    def slip(a: Position, c: Position) -> Position:
        return magnitude(a) * c

    def part(a: Position, c: Position) -> Position:
        return -magnitude(a) / c

    # |x| from nothing to 5, times 1 to 3; and over 1 to 3, below nothing
    assert toy(declared(slip), a="1 m ± 4 m", c="2 m ± 1 m") == (0, 2, 15)
    assert toy(declared(part), a="1 m ± 4 m", c="2 m ± 1 m") == (-5, -0.5, 0)


def test_two_that_hurt_at_one_end_each_and_more_at_both_others_are_tried_together():
    def rise(a: Position, b: Position) -> Position:
        return 1 + (a - 1) * b

    # 1 + (a - 1) b with a from -1.5 to 7.5 and b from -0.625 to 0.125: 1 + 2.5 × 0.625 and 1 - 6.5 × 0.625 at the most
    assert toy(declared(rise), a="3 m ± 4.5 m", b="-0.25 m ± 0.375 m") == (-3.0625, 0.5, 2.5625)


class Two(NamedTuple):
    """Two numbers of one formula."""

    whole: Position
    half: Position


def test_what_turns_is_followed_into_each_part_of_a_result_of_several():
    def heavier(a: Position, b: Position, d: Position) -> Position:
        return greatest(a, b + d)

    def shared(heavier: Position) -> Two:
        return Two(least(heavier, 30.0), heavier / 2)

    def last(half: Position) -> Position:
        return half

    # The greater of 20 and 18 ± 1 1/2 ± 1 1/2, from 20 to 21, halved
    both = declared(shared, publishes={"whole": "whole", "half": "half"})
    assert toy(declared(heavier), both, declared(last), a="20 m", b="18 m ± 1.5 m", d="0 m ± 1.5 m") == (10, 10, 10.5)


def test_one_or_the_other_by_a_sign_that_may_be_either():
    def kept(a: Position, b: Position) -> Position:
        return where(a, b, -b)

    assert toy(declared(kept), a="3 m ± 1 m", b="5 m ± 1 m") == (4, 5, 6)
    assert toy(declared(kept), a="-3 m ± 1 m", b="5 m ± 1 m") == (-6, -5, -4)
    assert toy(declared(kept), a="1 m ± 2 m", b="5 m ± 1 m") == (-6, 5, 6)


def test_what_jumps_along_another_number_says_where():
    def tooth(a: Position) -> Position:
        return along(a, round(a), lambda low, high: (round(low), round(high)))

    # each alone stays at 20; both at their ends do not: 20.3 + 0.15 + 0.15 = 20.6
    def gear(a: Position, b: Position) -> Position:
        return tooth(a + b)

    assert toy(declared(gear), a="20.3 m ± 0.15 m", b="0 m ± 0.15 m") == (20, 20, 21)


def test_a_smooth_turn_is_searched_for_on_either_side_of_the_middle():
    def valley(a: Position) -> Position:
        return a * a

    # the square from -1 to 5: nothing at nothing, though both ends lie to either side of the middle's 4
    assert toy(declared(valley, turns=("a",)), a="2 m ± 3 m") == (0, 4, 25)


@pytest.mark.parametrize(("share", "there"), [(0.0, "low"), (0.45, "low"), (0.55, "high"), (1.0, "high")])
def test_between_two_texts_the_nearer_one_stands(share, there):
    assert between(("low", "high"), share) == there


def test_a_factor_of_nothing_counts_once_the_other_moves():
    def product(a: Position, b: Position) -> Position:
        return 7 + a * b

    assert toy(declared(product), a="0 m ± 1 m", b="10 m ± 2 m") == (-5, 7, 19)


def test_an_entry_that_matters_little_alone_hurts_at_its_other_end_beside_the_others():
    def slope(a: Position, b: Position) -> Position:
        return (a + 1) * (b + 10)

    # at a = 0 the second factor counts once; at a = -5 four times, the other way: (-4) × 12, not (-4) × 8
    assert toy(declared(slope), a="0 m ± 5 m", b="0 m ± 2 m") == (-48, 10, 72)


@rule(severity="stop", notices="off", says="", clear_says="", cure="", ground=COMMON_PRACTICE, holds={}, fails={})
def off(poke: Position, wanted: Position, slack: Length) -> Position:
    return slack - magnitude(poke - wanted)


@pytest.mark.parametrize(("wanted", "answer"), [("10 mm ± 14 mm", "too close to call"), ("10 mm ± 5 mm", "raised")])
def test_a_wheel_that_may_be_exactly_right_is_not_raised(wanted, answer):
    facts = [Fact(name, POSITION, name, "", "", (frozenset(),), (name,)) for name in ("poke", "wanted")]
    facts.append(Fact("slack", LENGTH, "slack", "", "", (frozenset(),), ("slack",)))
    entries = {"poke": "0 mm", "wanted": wanted, "slack": "3 mm"}
    sheet = Worksheet(
        lay_out(make(facts, [off.declared], {}), {}),
        {Spot(name, ()): read_value(text, POSITION) for name, text in entries.items()},
    )
    assert judge(off.declared, (), sheet.outcome(Spot("off", ()))).answer == answer


def test_a_turned_number_is_a_number():
    found = 5 - magnitude(-2.0)
    assert isinstance(found, Turned) and found == 3.0 and found + 1 == 4.0 and hash(found) == hash(3.0)
    assert found == 5 - magnitude(2.0) and moved(found, 5 - magnitude(2.0))  # the same number of other pieces
    assert least(2.0, 1.0) == 1.0 and -greatest(2.0, 1.0) == -2.0
