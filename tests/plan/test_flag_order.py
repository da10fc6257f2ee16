"""The order of flags: within a severity what hurts most comes first, and only then the name."""

import pytest
from plan.test_false_clears import truck

from planner.plan.answers.flagging import ANSWERS, flags, of_plan
from planner.plan.truck.catalog import catalog
from planner.worksheet.declare import DANGERS

RULES = catalog().rules


def before(first: str, then: str) -> bool:
    return RULES[first].order < RULES[then].order


@pytest.mark.parametrize(
    ("first", "then"),
    [
        ("rim_diameters_differ", "disc_near_brake"),  # a bead that bursts before what can be seen on the stand
        ("rim_diameters_differ", "thread_engagement_short"),
        ("carries_less_than_load", "lamps_out_of_band"),
        ("rated_below_load", "poke_past_local_code"),
        ("tire_too_near", "poke_past_local_code"),
        ("multi_piece_rims", "braking_force_lost"),
        ("multi_piece_rims", "found_tires_too_old"),
        ("rim_diameters_differ", "carries_less_than_load"),
        ("planned_multi_piece_rims", "rim_outside_usual_band"),
        ("axle_overloaded", "tire_touches"),
        ("braking_force_lost", "effective_ratio_moved"),
        ("wider_than_legal", "multi_piece_rims"),  # a stop stays before a caution
    ],
)
def test_what_hurts_more_stands_first_whatever_it_is_called(first, then):
    assert before(first, then)


def test_what_hurts_alike_stands_by_its_name():
    assert before("barrel_near_brake", "disc_near_brake")


def test_every_stop_says_what_can_come_of_it():
    assert [one.name for one in RULES.values() if one.severity == "stop" and not one.danger and not of_plan(one)] == []


def test_the_flags_of_a_truck_stand_in_that_order():
    heavy = {"axles__front__load": "12,000 lb ± 20 lb", "axles__front__laden_load": "12,100 lb"}
    found = flags(truck(legal__greatest_poke="-4 in", **heavy))
    for severity in ("stop", "caution"):
        for answer in ANSWERS[:2]:
            same = [one for one in found if (one.rule.severity, one.verdict.answer) == (severity, answer)]
            dangers = [DANGERS.index(one.rule.danger) for one in same if one.acceptance is None and one.under is None]
            assert dangers == sorted(dangers)
    stops = [one.rule.node for one in found if one.rule.severity == "stop" and one.verdict.answer == "raised"]
    told = list(dict.fromkeys(stops))
    assert told[:3] == ["carries_less_than_load", "axle_overloaded", "rated_below_load"]
    assert told[-1] == "poke_past_local_code"
