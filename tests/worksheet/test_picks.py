"""What is picked from a list: no ± of its own, other picks within the tolerances, and rules that see it flip."""

from math import floor
from typing import NamedTuple

import pytest

from planner.quantities.grammar import read_value
from planner.quantities.kinds import LENGTH, Length, Position
from planner.sources.citing import COMMON_PRACTICE
from planner.sources.reasoning import GEOMETRY
from planner.worksheet.bench import work
from planner.worksheet.catalog import Fact, make
from planner.worksheet.declare import figure, rule
from planner.worksheet.layout import lay_out
from planner.worksheet.outcome import Spot
from planner.worksheet.sheet import Worksheet
from planner.worksheet.verdict import judge


@figure(means="nearest listed", ground=GEOMETRY, form="the nearest of 1, 2, 3 m", picks=("",))
def nearest(reading: Length) -> Length:
    return min((1.0, 2.0, 3.0), key=lambda one: abs(one - reading))


class Step(NamedTuple):
    below: Length
    twice: Length


@figure(
    means="meters below",
    ground=GEOMETRY,
    form="the whole meters, and twice all of it",
    picks=("below",),
    publishes={"meter_below": "below", "twice_the_reading": "twice"},
)
def step(reading: Length) -> Step:
    return Step(float(floor(reading)), 2.0 * reading)


@rule(severity="note", notices="off", says="", clear_says="", cure="", ground=COMMON_PRACTICE, holds={}, fails={})
def smaller_than_listed(nearest: Length) -> Position:
    return 2.0 - nearest


def catalog():
    facts = [Fact("reading", LENGTH, "reading", "", "", (frozenset(),), ("reading",))]
    return make(facts, [nearest.declared, step.declared, smaller_than_listed.declared], {})


def sheet(reading):
    return Worksheet(lay_out(catalog(), {}), {Spot("reading", ()): read_value(reading, LENGTH)})


def test_a_pick_has_no_spread_and_names_what_else_it_might_be():
    known = sheet("2.4 m ± 0.2 m").outcome(Spot("nearest", ()))
    assert (known.value, known.low, known.high, known.instead) == (2.0, 2.0, 3.0, (3.0,))
    assert known.likely == 0


def test_of_a_result_of_several_parts_what_is_picked_jumps_and_what_is_not_has_its_spread():
    ours = sheet("2.1 m ± 0.2 m")
    below, twice = (ours.outcome(Spot(name, ())) for name in ("meter_below", "twice_the_reading"))
    assert (below.low, below.high, below.instead, below.likely) == (1.0, 2.0, (1.0,), 0.0)
    assert (twice.low, twice.high, twice.instead) == (pytest.approx(3.8), pytest.approx(4.6), ())


def test_a_pick_that_no_tolerance_flips_stands_alone():
    assert sheet("2.1 m ± 0.2 m").outcome(Spot("nearest", ())).instead == ()


@pytest.mark.parametrize(
    ("reading", "answer"), [("2.1 m ± 0.2 m", "clear"), ("2.4 m ± 0.2 m", "too close to call"), ("2.9 m", "raised")]
)
def test_a_rule_on_a_pick_is_too_close_to_call_where_the_pick_could_flip(reading, answer):
    ours = sheet(reading)
    declared = ours.catalog.rules["smaller_than_listed"]
    assert judge(declared, (), ours.outcome(Spot("smaller_than_listed", ()))).answer == answer


def test_the_bench_names_the_other_picks_too():
    ours = catalog()
    outcome = work(ours, ours.figures["nearest"], {"reading": "2.4 m ± 0.2 m"}).outcome
    assert (outcome.low, outcome.high, outcome.instead) == (2.0, 3.0, (3.0,))
