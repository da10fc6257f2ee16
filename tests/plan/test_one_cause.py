"""One cause, one flag: what follows from a cause stands under it, is counted with it, and is lost nowhere."""

import json
from functools import cache

import pytest
from plan.test_false_clears import truck
from work_truck import TODAY

from planner.commands.check import as_data, page, summary
from planner.plan.answers.flagging import flags, tally
from planner.plan.revisit.acceptances import accept, why_not
from planner.plan.truck.catalog import catalog
from planner.plan.work.hold_points import open_stops
from planner.screens.places.overview import STOPS, group_of
from planner.screens.widgets.flag_rows import flag_mark, flag_text
from planner.sheets.blocks import Rows
from planner.sheets.kind import Asked, Subject, stops
from planner.sheets.kinds.record import KIND
from planner.worksheet.declare import SEVERITIES

RULES = catalog().rules

TALL = {
    "fitments__tall__wheel__backspace": "7 in ± 1/32 in",
    "fitments__tall__tire__designation": "40x12.50R17LT",
    "fitments__tall__tire__overall_diameter": "40 in ± 0.1 in",
}


@cache
def tall():
    """A tire of 40 in on a backspace of 7 in: too near to much, and steered further than it may be."""
    return truck(**TALL)


@cache
def found():
    return flags(tall())


def one(node, where=None):
    return next(flag for flag in found() if flag.rule.node == node and where in (None, flag.where))


@pytest.mark.parametrize("rule", RULES.values(), ids=lambda one: one.name)
def test_a_rule_follows_from_rules_that_there_are_and_from_itself_by_no_way(rule):
    ahead, seen = [*rule.follows], set()
    while ahead:
        node = ahead.pop()
        assert node in RULES and node != rule.node
        ahead += [] if node in seen else RULES[node].follows
        seen.add(node)


def test_a_lock_that_an_obstacle_sets_stands_under_that_obstacle_and_no_other():
    for rule, node in (("locks_too_wide", "inner_steer_binds"), ("outer_lock_too_wide", "outer_steer_binds")):
        binds = tall().swept.results[tall().spot(node, fitment="tall", axle="front")]
        assert one(rule).under is one("tire_touches", binds)
    assert one("locks_too_wide").under is not one("outer_lock_too_wide").under


def test_what_follows_is_not_raised_where_its_cause_is_only_too_close_to_call():
    near = one("tire_near", "spring pack, rear half")
    assert (near.verdict.answer, near.under.verdict.answer) == ("raised", "too close to call")
    assert near.stands and not near.counts
    assert group_of(near) == STOPS  # with its cause, where both raised and close stops are


def test_nearness_to_one_thing_is_told_once_and_to_another_by_itself():
    assert one("tire_near", "spring pack, rear half").under is one("tire_touches", "spring pack, rear half")
    assert one("tire_near", "inner fender, rear, at the cab step").under is None


def test_nothing_is_gathered_under_what_is_less_grave():
    gathered = [flag for flag in found() if flag.under is not None]
    assert gathered
    for flag in gathered:
        assert SEVERITIES.index(flag.under.rule.severity) <= SEVERITIES.index(flag.rule.severity)
        assert flag.under.under is None


def test_what_follows_stands_right_after_its_cause():
    listed = found()
    for at, flag in enumerate(listed):
        if flag.under is not None:
            assert listed[at - 1] is flag.under or listed[at - 1].under is flag.under


def test_it_is_counted_with_its_cause_and_said_to_be():
    gathered = sum(flag.under is not None for flag in found())
    told = tally(found())
    sums = told.stops + told.cautions + told.notes + told.too_close + told.not_known + told.clear + told.accepted
    assert (told.following, sums) == (gathered, len(found()) - gathered)
    assert summary(found()).endswith(f"{gathered} more that follow from these")


def test_the_page_tells_it_below_its_cause_with_what_to_do():
    text = " ".join(" ".join(page(tall(), found())).split())
    below = text[text.index("also: front: the wheel gets too close before it reaches its steering stop") :]
    assert "set the steering stop to no more than" in below[:800] and "fit.locks_too_wide" in below[:1500]


def test_json_has_every_one_with_what_it_follows_from():
    data = json.loads(json.dumps(as_data(tall(), list(found()))))["flags"]
    assert len(data) == len(found())
    lock = next(flag for flag in data if flag["rule"] == "fit.locks_too_wide")
    assert lock["follows_from"] == {"rule": "fit.tire_touches", "where": "spring pack, rear half"}
    assert next(flag for flag in data if flag["rule"] == "fit.tire_touches")["follows_from"] is None


def taken_on(*nodes):
    """The tall truck with flags accepted, each as `accept` writes it."""
    fields = [value for node in nodes for value in accept(tall(), one(node), "a card beside it").changes.values()]
    return {flag.rule.node: flag for flag in flags(truck(**TALL, acceptances=fields))}


def test_what_follows_stands_by_itself_once_its_cause_is_accepted():
    assert one("off_at_highway_speed").under is one("reads_low")
    left = taken_on("reads_low")
    assert left["reads_low"].accepted
    assert left["off_at_highway_speed"].under is None and left["off_at_highway_speed"].counts


def test_what_follows_can_be_accepted_while_its_cause_stands():
    assert not why_not(tall(), one("off_at_highway_speed"))
    left = taken_on("off_at_highway_speed")
    assert left["off_at_highway_speed"].accepted and left["reads_low"].counts


def test_without_the_cause_it_is_a_flag_like_any_other():
    alone = truck(limits={"speedometer_low_share": {"value": "20 %", "because": "a card beside it"}})
    left = {flag.rule.node: flag for flag in flags(alone)}
    assert left["reads_low"].verdict.answer == "clear"
    assert left["off_at_highway_speed"].under is None


def test_a_hold_point_that_guards_only_what_follows_is_held_by_it():
    assert one("locks_too_wide").under is not None
    assert one("locks_too_wide") in open_stops(found(), ("fit.locks_too_wide",))


def test_lists_mark_it_as_also_and_say_what_it_follows_from():
    lock = one("locks_too_wide")
    assert flag_mark(lock) == "also" and flag_mark(lock.under) == "STOP?"
    assert "too close to call; it follows from: spring pack, rear half: the tire or wheel touches" in flag_text(lock)


def test_the_build_record_tells_it_among_what_its_cause_stands_among():
    record = KIND.build(Subject(tall(), Asked(), TODAY))
    cells = [row for block in record.blocks if isinstance(block, Rows) for row in block.rows]
    (said,) = {row[1] for row in cells if row[0].startswith("also, front: the wheel gets too close before")}
    assert "Do: " in said


def test_the_order_and_the_head_of_a_sheet_name_its_cause_alone():
    named = stops(list(found()))
    assert not [line for line in named if "fit.locks_too_wide" in line]
