"""The backspace window against hand sums, and its ends and its map against the sweep itself."""

from dataclasses import replace
from math import inf

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from planner.trade.fit.limits import Limit, largest_tire
from planner.trade.fit.motion import Motion, SweptObstacle
from planner.trade.fit.section import TireSection
from planner.trade.fit.sweep import BUDGET, YES_OR_NO, keeps, least_clearance
from planner.trade.fit.trace import trace
from planner.trade.fit.window import (
    STEP,
    Fight,
    Interval,
    Placing,
    Window,
    at_backspace,
    backspace_window,
    choose,
    clear_backspaces,
    evenly,
    window_map,
)

# 250 mm wide on a rim 200 mm over its flanges: offset = backspace − 0.1, the inboard sidewall 0.025 + backspace inboard
# of the mounting face, the outboard one 0.225 − backspace outboard of it.
TIRE = TireSection(0.250, 0.200, 0.800, 0.0, 0.190, rim_width=0.200)
STILL = Motion(1.5)
INBOARD = SweptObstacle("spring", (0.0, -0.200, 0.300), required=0.020)  # backspace ≤ 0.2 − 0.02 − 0.025 = 0.155
OUTBOARD = SweptObstacle("fender", (0.0, 0.150, 0.300), required=0.020)  # backspace ≥ 0.225 − (0.15 − 0.02) = 0.095


def ends(window):
    return [(interval.low, interval.high) for interval in window.intervals]


def test_the_window_lies_between_what_stands_inboard_and_what_stands_outboard():
    window = backspace_window([trace(STILL, INBOARD), trace(STILL, OUTBOARD)], TIRE, 0.0, 0.3)
    (interval,) = window.intervals
    assert 0.095 <= interval.low <= 0.095 + STEP
    assert 0.155 - STEP <= interval.high <= 0.155
    assert (interval.low_binds, interval.high_binds, window.fight) == ("fender", "spring", None)


def test_limits_passed_in_bind_where_they_are_the_tighter():
    window = backspace_window(
        [trace(STILL, INBOARD)], TIRE, 0.0, 0.3, [Limit("poke", low=0.11), Limit("brake face", high=0.2)]
    )
    (interval,) = window.intervals
    assert (interval.low, interval.low_binds, interval.high_binds) == (0.11, "poke", "spring")


def test_where_nothing_binds_the_search_range_is_told_without_a_name():
    assert backspace_window([], TIRE, 0.0, 0.3) == Window((Interval(0.0, 0.3, None, None),), None)


def test_a_point_that_the_tire_can_pass_on_either_side_leaves_two_intervals():
    # At y = 0: clear with the center plane 0.145 to either side, backspace ≤ −0.045 or ≥ 0.245.
    post = SweptObstacle("post", (0.0, 0.0, 0.300), required=0.020)
    window = backspace_window([trace(STILL, post)], TIRE, -0.1, 0.4)
    assert [value for pair in ends(window) for value in pair] == pytest.approx([-0.1, -0.045, 0.245, 0.4], abs=STEP)
    assert [interval.high_binds for interval in window.intervals] == ["post", None]
    assert window.intervals[0].high <= -0.045 and window.intervals[1].low >= 0.245


def test_an_empty_window_names_the_two_that_fight_and_by_how_much():
    # The fender 80 mm nearer wants backspace ≥ 0.175, the spring at most 0.155.
    nearer = replace(OUTBOARD, start=(0.0, 0.070, 0.300))
    paths = [trace(STILL, INBOARD), trace(STILL, nearer)]
    window = backspace_window(paths, TIRE, 0.0, 0.3, [Limit("poke", low=0.05)])
    assert window.intervals == ()
    assert {window.fight.first, window.fight.second} == {"spring", "fender"}
    assert window.fight.by == pytest.approx(0.020, abs=2 * STEP)


def test_of_several_fights_the_worst_is_told():
    window = backspace_window(
        [], TIRE, 0.0, 0.3, [Limit("a", high=0.10), Limit("b", low=0.12), Limit("c", low=0.15), Limit("d", high=0.2)]
    )
    assert window.fight == Fight("a", "c", pytest.approx(0.05))


def test_two_intervals_and_a_limit_between_them_fight_too():
    post = SweptObstacle("post", (0.0, 0.0, 0.300), required=0.020)
    window = backspace_window([trace(STILL, post)], TIRE, -0.1, 0.4, [Limit("poke", 0.05, 0.2)])
    assert window.fight.second is not None
    assert {window.fight.first, window.fight.second} == {"post", "poke"}
    assert window.fight.by == pytest.approx(0.045, abs=2 * STEP)  # 0.245 − 0.2, nearer than 0.05 + 0.045


def test_a_limit_that_no_backspace_meets_fights_alone():
    plate = SweptObstacle("lip", (0.0, -0.5, 0.40), (0.0, 0.5, 0.40))
    assert backspace_window([trace(STILL, plate)], TIRE, 0.0, 0.3).fight == Fight("lip", None, None)
    assert backspace_window([], TIRE, 0.0, 0.3, [Limit("poke", 0.4, 0.5)]).fight == Fight("poke", None, None)


points = st.tuples(st.floats(-0.5, 0.5), st.floats(-0.5, 0.25), st.floats(-0.2, 0.5))


@given(
    points, st.none() | points, st.sampled_from(["body", "axle", "knuckle"]), st.floats(0.0, 0.1), st.floats(0.0, 0.6),
    st.sampled_from([(0.2, None), (0.2, 0.22), (0.29, 0.23)]),
)  # fmt: skip
def test_the_ends_of_a_window_are_those_of_a_sweep_just_inside_and_just_outside(start, end, rides, travel, lock, rim):
    motion = Motion(1.6, travel, travel, lock, 0.8 * lock, 0.08, 0.1, 0.03)
    path = trace(motion, SweptObstacle("a", start, end, rides, required=0.015))
    section = replace(TIRE, rim_width=rim[0], flange_radius=rim[1])

    def least(backspace):
        return least_clearance(path, at_backspace(section, backspace), bound=1e-6)

    stretches = clear_backspaces(path, section, -0.05, 0.35, budget=BUDGET)
    for low, high in stretches:
        for inside in (low, (low + high) / 2, high):
            assert least(inside).distance >= 0.015
        for outside in (low - 1.5 * STEP, high + 1.5 * STEP):
            if -0.05 <= outside <= 0.35:
                assert least(outside).proven < 0.015 + 2e-6
    for index in range(9):
        backspace = -0.05 + 0.05 * index
        if not any(low - STEP <= backspace <= high + STEP for low, high in stretches):
            assert least(backspace).proven < 0.015 + 2e-6


def test_the_choice_is_a_makers_step_inside_the_window_with_what_is_left_to_each_end():
    window = Window((Interval(0.095, 0.155, "fender", "spring"),), None)
    choice = choose(window)
    # Quarter inches inside: 4 (101.6 mm) to 6 (152.4 mm); the middle is 125 mm, 5 in is 127.
    assert choice.backspace == pytest.approx(0.127)
    assert (choice.to_low, choice.to_high) == (pytest.approx(0.032), pytest.approx(0.028))
    assert choose(window, wanted=0.09).backspace == pytest.approx(0.09525)
    assert choose(window, wanted=0.3).backspace == pytest.approx(0.1524)


def test_a_window_between_two_steps_offers_none():
    assert choose(Window((Interval(0.1020, 0.1070),), None)) is None
    assert choose(Window((), None)) is None


@pytest.mark.parametrize(
    ("rows", "columns"), [pytest.param(6, 8, marks=pytest.mark.shortened), pytest.param(12, 15, marks=pytest.mark.slow)]
)
def test_each_cell_of_the_map_is_what_the_sweep_says_there(rows, columns):
    motion = Motion(1.6, 0.08, 0.09, 0.55, 0.5, 0.09, 0.12, 0.05)
    obstacles = [
        SweptObstacle("rail", (-0.5, -0.42, 0.3), (0.5, -0.42, 0.3), required=0.025),
        SweptObstacle("lip", (-0.4, 0.1, 0.5), (0.4, 0.1, 0.5), required=0.02),
        SweptObstacle("spring", (-0.3, -0.28, 0.0), (0.3, -0.28, 0.0), "axle", 0.01),
    ]
    paths = [trace(motion, obstacle) for obstacle in obstacles]
    diameters, backspaces = evenly(0.6, 1.0, rows), evenly(0.02, 0.2, columns)
    found = window_map(paths, TIRE, diameters, backspaces, [Limit("poke", low=0.04)])
    named = {obstacle.name: path for obstacle, path in zip(obstacles, paths, strict=True)}
    assert {name for row in found.broken for name in row} == {None, "poke", "spring", "lip"}
    for row, diameter in enumerate(diameters):
        for column, backspace in enumerate(backspaces):
            name = found.broken[row][column]
            tire = at_backspace(replace(TIRE, diameter=diameter), backspace)
            if name == "poke":
                assert backspace < 0.04
            elif name is None:
                assert all(least_clearance(path, tire).distance >= path.obstacle.keep for path in paths)
            else:
                assert least_clearance(named[name], tire, bound=1e-6).proven < named[name].obstacle.keep + 2e-6


def test_the_map_names_what_the_largest_tire_at_that_backspace_names():
    motion = Motion(1.6, 0.08, 0.09, 0.55, 0.5, 0.09, 0.12, 0.05)
    paths = [
        trace(motion, SweptObstacle("rail", (-0.5, -0.42, 0.3), (0.5, -0.42, 0.3), required=0.025)),
        trace(motion, SweptObstacle("lip", (-0.4, 0.1, 0.5), (0.4, 0.1, 0.5), required=0.02)),
    ]
    diameters, backspaces = evenly(0.5, 1.0, 26), evenly(0.05, 0.15, 5)
    found = window_map(paths, TIRE, diameters, backspaces)
    for column, backspace in enumerate(backspaces):
        largest = largest_tire(paths, at_backspace(TIRE, backspace), 0.5, 1.0)
        clear = [diameter for row, diameter in enumerate(diameters) if found.broken[row][column] is None]
        assert clear == [diameter for diameter in diameters if largest.diameter and diameter <= largest.diameter]
        assert found.broken[-1][column] == largest.binds


def test_questions_that_have_no_sense_are_refused():
    bare = replace(TIRE, rim_width=0.0)
    for call in (
        lambda: backspace_window([], bare, 0.0, 0.3),
        lambda: backspace_window([], TIRE, 0.3, 0.0),
        lambda: backspace_window([], TIRE, 0.0, inf),
        lambda: backspace_window([], TIRE, 0.0, 0.3, step=0.0),
        lambda: window_map([], TIRE, [], [0.1]),
        lambda: window_map([], TIRE, [0.9, 0.8], [0.1]),
        lambda: choose(Window((), None), step=0.0),
    ):
        with pytest.raises(ValueError, match="read"):
            call()


# Two such tires dish to dish, the discs 10 mm thick: the inner one's center plane stands at 0.1 − backspace, the outer
# one's at backspace − 0.1 + 0.02, where a lone tire stands at a backspace of 0.18 − backspace.
PAIR = (Placing(), Placing(0.18, -1.0))


def test_between_the_tires_of_a_pair_a_post_asks_for_more_backspace_and_beside_them_for_less():
    # A post at the hub's face: the inner tire's outboard sidewall at 0.225 − backspace, the outer one's inboard one at
    # backspace − 0.205; 20 mm from either is a backspace of 0.245. The spring: 0.155 − 0.045 … inboard as for one tire.
    post = SweptObstacle("post", (0.0, 0.0, 0.300), required=0.020)
    spring = SweptObstacle("spring", (0.0, -0.335, 0.300), required=0.020)  # 0.335 − 0.02 − 0.025 = 0.29
    fender = SweptObstacle("fender", (0.0, 0.345, 0.300), required=0.020)  # outer sidewall 0.045 + b ≤ 0.325: 0.28
    window = backspace_window([trace(STILL, one) for one in (post, spring, fender)], TIRE, 0.1, 0.4, tires=PAIR)
    (interval,) = window.intervals
    assert 0.245 <= interval.low <= 0.245 + STEP and 0.28 - STEP <= interval.high <= 0.28
    assert (interval.low_binds, interval.high_binds) == ("post", "fender")
    # As one wide tire it would stand in rubber at every backspace, and as the outer tire alone the spring is nowhere.
    alone = backspace_window([trace(STILL, spring)], TIRE, 0.1, 0.4, tires=PAIR[1:])
    assert alone.intervals == (Interval(0.1, 0.4),)


def test_what_is_not_known_of_where_the_outer_tire_stands_is_taken_off_at_both_ends():
    post = SweptObstacle("post", (0.0, 0.0, 0.300), required=0.020)
    fender = SweptObstacle("fender", (0.0, 0.345, 0.300), required=0.020)
    for aside in (0.004, -0.004):
        tires = (PAIR[0], PAIR[1]._replace(aside=aside))
        window = backspace_window([trace(STILL, one) for one in (post, fender)], TIRE, 0.1, 0.4, tires=tires)
        # The outer tire asks 0.205 + 0.02 of the post, the inner one 0.245: it binds, and knows where it stands.
        assert ends(window) == [(pytest.approx(0.245, abs=STEP), pytest.approx(0.28 - aside, abs=2 * STEP))]


@pytest.mark.parametrize("by", [step * 0.00037 for step in range(8)])
def test_a_limit_that_takes_nothing_away_is_not_named_for_an_end(by):
    spring = SweptObstacle("spring", (0.0, -0.435, 0.300), required=0.020)
    fender = SweptObstacle("fender", (0.0, 0.345 + by, 0.300), required=0.020)
    aside = (2 * round(0.0015875 * 2**54) + 1) * 2**-55  # half way between two numbers at 0.28, so that sums round
    tires = [tire._replace(aside=aside) for tire in PAIR]
    window = backspace_window([trace(STILL, one) for one in (fender, spring)], TIRE, 0.1 + by, 0.35, tires=tires)
    assert [one.high_binds for one in window.intervals] == ["fender"]


@settings(max_examples=settings().max_examples // 3)  # each looks at a dense grid some twenty times
@given(
    points, st.none() | points, st.floats(0.0, 0.1), st.floats(0.0, 0.5), st.floats(0.1, 0.3),
    st.sampled_from([(0.2, None), (0.29, 0.23)]),
)  # fmt: skip
@example(start=(-0.4375, 0.0, 0.0), end=(-0.4375, -0.4375, 0.0), travel=0.0625, lock=0.25, start_of_outer=0.125,
         rim=(0.29, 0.23))  # fmt: skip
def test_the_ends_of_a_pairs_window_are_those_of_a_dense_grid_over_both_tires(
    reference, start, end, travel, lock, start_of_outer, rim
):
    motion = Motion(1.6, travel, travel, lock, 0.8 * lock, 0.08, 0.1, 0.03)
    obstacle = SweptObstacle("a", start, end, required=0.015)
    section = replace(TIRE, rim_width=rim[0], flange_radius=rim[1])
    tires = (Placing(), Placing(start_of_outer, -1.0))
    window = backspace_window([trace(motion, obstacle)], section, 0.0, 0.35, tires=tires)

    def least(backspace):
        planes = (rim[0] / 2 - backspace, backspace + rim[0] / 2 - start_of_outer)  # outboard of the hub's face
        swept = [replace(section, offset=-plane) for plane in planes]
        grid = {"steers": 7, "rolls": 5, "rises": 3, "alongs": 7}
        return min(reference.swept_distance(motion, obstacle, one, **grid) for one in swept)

    for low, high in ends(window):
        for inside in {low, (low + high) / 2, high}:
            assert least(inside) >= 0.015 - 1e-9
    outside = [end + by for low, high in ends(window) for end, by in ((low, -1.5 * STEP), (high, 1.5 * STEP))]
    for backspace in outside or [0.0, 0.1, 0.2, 0.35]:
        if 0.0 <= backspace <= 0.35:
            there = [at_backspace(section, tire.alone(backspace)) for tire in tires]
            path = trace(motion, obstacle)
            short = min(least_clearance(path, one, 1e-6).distance for one in there) < 0.015 + 2e-6
            # Where an edge keeps just that much over a long way, the sweep says no when its patience is at its end.
            assert short or not all(keeps(path, one, 0.015, YES_OR_NO) for one in there)


def test_a_pairs_map_and_its_window_agree():
    post = SweptObstacle("post", (0.0, 0.0, 0.300), required=0.020)
    fender = SweptObstacle("fender", (0.0, 0.346, 0.300), required=0.020)
    paths = [trace(STILL, one) for one in (post, fender)]
    found = window_map(paths, TIRE, (0.5, 0.8), evenly(0.2, 0.3, 11), tires=PAIR)
    assert found.broken[1] == ("post",) * 5 + (None,) * 4 + ("fender",) * 2
