"""What holds for every rule: its own examples, its words, its ground."""

from string import Formatter

import pytest

from planner.plan.opening import catalog
from planner.quantities.grammar import bare, read_value
from planner.worksheet.declare import Finding
from planner.worksheet.outcome import Known, number
from planner.worksheet.verdict import judge

RULES = sorted(catalog().rules.values(), key=lambda one: one.name)


def outcome(rule, example):
    """The rule's answer on an example written as people write; a limit left out has its default."""
    values = []
    for taken in rule.inputs:
        if taken.name in example:
            values.append(bare(read_value(example[taken.name], taken.kind)))
        elif taken.reads in catalog().assumed:
            standing = catalog().assumed[taken.reads]
            values.append(bare(read_value(standing.text, standing.kind)))
        else:
            assert taken.optional, f"the example of {rule.name} leaves out {taken.name}"
            values.append(taken.default)
    unknown = set(example) - {taken.name for taken in rule.inputs}
    assert not unknown, f"the example of {rule.name} gives {unknown}"
    value = rule.call(*values)
    exact = number(value)
    return Known(value, exact, exact)


@pytest.mark.parametrize("rule", RULES, ids=lambda one: one.name)
def test_a_rule_is_clear_on_its_own_example_that_holds(rule):
    assert judge(rule, (), outcome(rule, rule.holds)).answer == "clear"


@pytest.mark.parametrize("rule", RULES, ids=lambda one: one.name)
def test_a_rule_is_raised_on_its_own_example_that_fails(rule):
    assert judge(rule, (), outcome(rule, rule.fails)).answer == "raised"


@pytest.mark.parametrize("rule", RULES, ids=lambda one: one.name)
def test_a_rule_quotes_only_what_it_reads_or_finds(rule):
    names = {taken.name for taken in rule.inputs}
    found = outcome(rule, rule.fails).value
    words = set(found.words) if isinstance(found, Finding) else set()
    for template in (rule.says, rule.cure):
        quoted = {name for _, name, _, _ in Formatter().parse(template) if name}
        assert quoted <= names | words, f"{rule.name} quotes {quoted - names - words}"


@pytest.mark.parametrize("rule", RULES, ids=lambda one: one.name)
def test_a_rule_says_what_it_notices_what_to_do_and_on_what_ground(rule):
    assert rule.severity in ("stop", "caution", "note")
    assert rule.notices and rule.cure and str(rule.ground)


@pytest.mark.parametrize("limit", [one for one in catalog().assumed.values()], ids=lambda one: one.name)
def test_an_assumed_value_can_be_read_and_has_a_ground(limit):
    read_value(limit.text, limit.kind)
    assert str(limit.ground) and limit.means
