"""Another entry tried on a copy, with toy declarations: it says what the worksheet would, and leaves it alone."""

import pytest

from planner.quantities.grammar import read_value
from planner.quantities.kinds import LENGTH, Length, Position
from planner.quantities.quantity import Quantity
from planner.sources.citing import COMMON_PRACTICE
from planner.sources.reasoning import GEOMETRY
from planner.worksheet.catalog import Catalog, Fact, make
from planner.worksheet.declare import figure, rule
from planner.worksheet.layout import lay_out
from planner.worksheet.outcome import Barred, Known, Spot, Waiting
from planner.worksheet.sheet import Worksheet

AXES = {"truck": ("old", "new"), "end": ("front", "back")}
AS_FOUND = ("truck", "old")


def fact(name: str, *scopes: set[str]) -> Fact:
    return Fact(name, LENGTH, name, "", "", tuple(map(frozenset, scopes)), (name,))


@figure(means="left part", ground=GEOMETRY)
def left(right: Position, whole: Length) -> Position:
    return whole - right


@figure(means="right part", ground=GEOMETRY)
def right(left: Position, whole: Length) -> Position:
    return whole - left


@figure(means="both ends", ground=GEOMETRY)
def both(front_right: Position, back_right: Position) -> Position:
    return front_right + back_right


@rule(
    severity="note", notices="moved", says="Moved.", clear_says="Still.", cure="Back.", ground=COMMON_PRACTICE,
    holds={}, fails={}, bounds="the move",
)  # fmt: skip
def moved(old_right: Position, right: Position, room: Length) -> Position:
    return room - abs(right - old_right)


def catalog() -> Catalog:
    facts = [fact("left", {"truck"}, {"truck", "end"}), fact("right", {"truck", "end"}), fact("whole", set())]
    facts.append(fact("room", set()))
    prefixes = {"old_": AS_FOUND, "front_": ("end", "front"), "back_": ("end", "back")}
    return make(facts, [one.declared for one in (left, right, both, moved)], prefixes)


def sheet(**entries: str) -> Worksheet:
    made = {}
    for name, text in entries.items():
        node, *place = name.split("_")
        made[Spot(node, (*place, "", "")[:2])] = read_value(text, LENGTH)
    return Worksheet(lay_out(catalog(), AXES), made)


BASE = {"whole": "10 m ± 0.1 m", "room": "1 m ± 0.2 m", "right_old_front": "3 m ± 0.3 m"}
AT = Spot("right", ("new", "front"))
RULE = Spot("moved", ("new", "front"))


def ends(outcome) -> tuple[float, float, float]:
    assert isinstance(outcome, Known)
    return pytest.approx((outcome.value, outcome.low, outcome.high))


def test_a_try_says_what_the_worksheet_says_with_that_entry_and_leaves_it_as_it_was():
    made = sheet(**BASE, left_new_front="6 m ± 0.5 m")
    before = made.outcome(RULE)
    tried = made.what_if([AT], [Spot("left", AT.place)], AS_FOUND)
    # by hand: 1 ± 0.2 less 3.5 − (3 ± 0.3); the whole's own tolerance has no part where the right side is entered
    assert ends(tried.outcome(RULE, 3.5)) == (0.5, 0.0, 1.0)
    assert made.outcome(RULE) == before
    made.change({AT: Quantity(3.5), Spot("left", AT.place): None})
    assert ends(tried.outcome(RULE, 3.5)) == tuple(made.outcome(RULE)[:3])


def test_a_try_needs_no_entry_where_two_formulas_wait_for_each_other():
    made = sheet(**BASE)
    assert isinstance(made.outcome(RULE), Waiting)
    assert ends(made.what_if([AT], [Spot("left", AT.place)], AS_FOUND).outcome(RULE, 4.0)) == (0.0, -0.5, 0.5)


def test_what_was_found_stays_where_it_is_itself_the_entry_that_is_tried():
    made = sheet(**BASE)
    old = Spot("right", ("old", "front"))
    tried = made.what_if([old], [Spot("left", old.place)], AS_FOUND)
    # the old right side stays at 3 ± 0.3 while another is tried in its place
    assert ends(tried.outcome(Spot("moved", old.place), 3.6)) == (0.4, -0.1, 0.9)


def test_one_entry_that_serves_both_ends_is_tried_at_both():
    made = sheet(**BASE, left_new="6 m")
    spots = [Spot("right", ("new", end)) for end in AXES["end"]]
    tried = made.what_if(spots, [Spot("left", spot.place) for spot in spots], AS_FOUND)
    assert ends(tried.outcome(Spot("both", ("new", "")), 2.0)) == (4.0, 4.0, 4.0)


def test_what_waits_for_an_entry_that_is_not_known_still_does():
    made = sheet(**BASE)
    lost = Spot("room", ("", ""))
    made.change({lost: Barred(lost)})
    outcome = made.what_if([AT], [], AS_FOUND).outcome(RULE, 3.0)
    assert isinstance(outcome, Waiting) and outcome.barred == (lost,)
