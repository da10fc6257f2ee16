"""Candidates begun, named and chosen: what is written, and what is refused and why."""

import pytest
from work_truck import opened, written

from planner.plan.truck.recording import RefusedChange
from planner.plan.work.decisions import begin_candidate, choose_candidate, no_name


@pytest.fixture
def truck(tmp_path):
    return opened(written(tmp_path))


def test_a_candidate_that_nobody_described_is_described_by_its_name(truck):
    begun = begin_candidate(truck, "narrow", " ")
    assert begun.changes == {("fitments", "narrow"): {"description": "narrow"}}
    told = begin_candidate(truck, "narrow", "on the old rims")
    assert told.changes == {("fitments", "narrow"): {"description": "on the old rims"}}


def test_a_name_has_no_more_than_24_letters_so_that_a_column_holds_it(truck):
    assert no_name(truck, "x" * 24) == ""
    assert "at most 24 plain characters" in no_name(truck, "x" * 25)
    assert no_name(truck, "Tall") == "" and no_name(truck, "tall") == "there is already a tall"


def test_what_is_found_on_the_truck_is_not_chosen_and_no_more_is_what_nobody_entered(truck):
    with pytest.raises(RefusedChange, match="found is what's on the truck: it counts until you choose a candidate"):
        choose_candidate(truck, "found", "it runs")
    with pytest.raises(RefusedChange, match="taler is no candidate"):
        choose_candidate(truck, "taler", "it runs")
