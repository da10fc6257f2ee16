"""Every limit against the list of limits, and every rule's examples a hair to either side of its own."""

import csv

import pytest
from flags.test_rules import RULES, outcome
from published_rows import FOLDER

from planner.plan.truck.catalog import catalog
from planner.quantities.grammar import bare, read_value
from planner.quantities.show import in_unit
from planner.worksheet.outcome import number

LIMITS = {one.node: one for one in catalog().assumed.values() if one.limit}
with (FOLDER / "limits.csv").open(encoding="utf-8", newline="") as file:
    ROWS = list(csv.DictReader(file))
LISTED = {row["limit"]: row for row in ROWS}

# How well each standing of a row lets a declaration speak.
GROUNDS = {
    "read": {"read", "read in a secondary page"},
    "from memory": {"from memory", "read in a secondary page"},
    "": {"common practice", "worked by hand"},
}
# What is small for each kind of margin, in SI: no limit is as fine as that.
HAIR = {
    "length": 0.0004,
    "angle": 0.002,
    "ratio": 0.002,
    "share": 0.002,
    "speed": 0.05,
    "turning speed": 0.6,
    "force": 25,
    "weight": 25,
    "mass": 2.5,
    "torque": 2,
    "pressure": 1500,
    "time": 7 * 86400,
}
# What comes in steps of its own: the next speed symbol is 10 km/h away.
STEPS = {"tire.speed_symbol_and_size": 2.8}


def margins(rule):
    return [number(outcome(rule, example).value) for example in (rule.holds, rule.fails)]


MEASURED = [one for one in RULES if one.kind is not None]


def test_each_limit_is_listed_once_and_none_that_is_not_there():
    assert sorted(LIMITS) == sorted(row["limit"] for row in ROWS)


@pytest.mark.parametrize("name", sorted(LISTED))
def test_a_limit_is_what_the_list_says(name):
    limit, row = LIMITS[name], LISTED[name]
    value = bare(read_value(limit.text, limit.kind))
    here = in_unit(value, limit.kind, row["unit"]) if row["unit"] else value
    assert here == pytest.approx(float(row["value"]), rel=1e-9, abs=1e-12)


@pytest.mark.parametrize("name", sorted(LISTED))
def test_a_limit_claims_no_more_than_its_row(name):
    row = LISTED[name]
    assert row["source"] and row["standing"] in GROUNDS[LIMITS[name].ground.standing]


@pytest.mark.parametrize("rule", MEASURED, ids=lambda one: one.name)
def test_a_rules_examples_stand_a_hair_to_either_side_of_its_limit(rule):
    holds, fails = margins(rule)
    hair = STEPS.get(rule.name, HAIR[rule.kind.name])
    assert -1e-12 <= holds <= hair, f"{rule.name} holds by {holds:g} {rule.kind.si}: more than {hair:g}"
    assert 0 < -fails <= hair, f"{rule.name} fails by {-fails:g} {rule.kind.si}: more than {hair:g}"


def test_most_rules_have_a_limit_that_can_be_measured():
    assert len(MEASURED) > len(RULES) / 2
