"""Cautions that are taken on: an acceptance is of one fitment, whatever is planned beside it then and afterwards."""

from itertools import product

import pytest
from changing_truck import DAY, write

from planner.plan.answers.flagging import flags
from planner.plan.answers.open_project import open_project
from planner.plan.change.changing import Setting, try_settings
from planner.plan.change.task_recordings import make_recording
from planner.plan.revisit.acceptances import accept
from planner.project.amending import amend
from planner.project.changes import DELETE

MASS = "wheel.unsprung_mass_grown"
AMENDED: dict[tuple[str, str], str] = {}


def changed(path, changes):
    text = _amended(path.read_bytes().decode("utf-8"), *changes.items())
    path.write_bytes(text.encode("utf-8"))
    return open_project(path, DAY)


def _amended(text, *changes):
    """Amended once for all tests that do the same."""
    known = text, repr(changes)
    if known not in AMENDED:
        AMENDED[known] = amend(text, dict(changes))
    return AMENDED[known]


def planning(path, name):
    """The truck with this fitment chosen, or with none."""
    return changed(path, {("plan", "chosen"): name or DELETE})


def counts(opened, rule, fitment):
    return any(one.counts for one in flags(opened) if one.rule.name == rule and one.verdict.place[0] == fitment)


def accepted(path, opened, rule, fitment):
    raised = [one for one in flags(opened) if one.rule.name == rule and one.verdict.place[0] == fitment and one.counts]
    for flag in raised:  # one for both ends, but two where each end has an acceptance of its own that has lapsed
        make_recording(opened, accept(opened, flag, "seen and weighed"))
        opened = open_project(path, DAY)


@pytest.fixture
def truck(tmp_path):
    path = write(tmp_path)
    # Heavy enough that both candidates raise the same caution.
    changed(path, {("fitments", "modest", "tire", "mass"): "95 lb", ("acceptances",): DELETE})
    return path


@pytest.mark.parametrize(("then", "now"), list(product(("", "tall"), repeat=2)))
def test_what_was_accepted_holds_whether_its_fitment_is_chosen_yet_or_not(truck, then, now):
    accepted(truck, planning(truck, then), MASS, "tall")
    assert not counts(planning(truck, now), MASS, "tall")


@pytest.mark.parametrize(("then", "now"), list(product(("", "tall"), ("", "modest"))))
def test_what_was_accepted_for_one_fitment_never_holds_for_another(truck, then, now):
    accepted(truck, planning(truck, then), MASS, "tall")
    assert counts(planning(truck, now), MASS, "modest")


def test_accepting_again_what_has_lapsed_makes_no_second_record(truck):
    accepted(truck, planning(truck, ""), MASS, "tall")
    moved = changed(truck, {("fitments", "tall", "tire", "mass"): "80 lb", ("plan", "chosen"): "tall"})
    accepted(truck, moved, MASS, "tall")
    after = open_project(truck, DAY)
    assert not counts(after, MASS, "tall")
    assert sorted(one.at for one in after.project.acceptances) == ["tall, front", "tall, rear"]


def written(path, at, rested_on):
    """The truck with an acceptance as somebody wrote it, for the front alone."""
    one = {"flag": MASS, "at": at, "because": "weighed", "rested_on": rested_on}
    return changed(path, {("acceptances",): [one]})


def front(opened, fitment):
    return next(
        one
        for one in flags(opened)
        if one.rule.name == MASS and any(place[:2] == (fitment, "front") for place in one.places)
    )


OF_TALL = {"fitments.found.tire.mass": "62 lb", "fitments.tall.tire.mass": "75 lb"}


@pytest.mark.parametrize("chosen", ["", "tall"])
def test_one_that_names_no_fitment_is_of_that_on_which_it_rested(truck, chosen):
    written(truck, "front", OF_TALL)
    assert front(planning(truck, chosen), "tall").acceptance is not None


@pytest.mark.parametrize("chosen", ["", "tall", "modest"])
@pytest.mark.parametrize(
    "rested_on",
    [{}, {"fitments.found.tire.mass": "62 lb"}, OF_TALL | {"fitments.modest.tire.mass": "95 lb"}],
    ids=["nothing", "what was found", "both"],
)
def test_one_of_which_it_cannot_be_known_for_what_it_was_given_is_not_accepted(truck, chosen, rested_on):
    written(truck, "front", rested_on)
    opened = planning(truck, chosen)
    for fitment in opened.planned:
        assert front(opened, fitment).counts and front(opened, fitment).acceptance is None  # it has not merely lapsed


def test_an_acceptance_does_not_come_up_as_a_flag_when_its_fitment_is_chosen(truck):
    opened = planning(truck, "")
    accepted(truck, opened, MASS, "tall")
    trial = try_settings(open_project(truck, DAY), [Setting("plan.chosen", "tall")])
    assert MASS not in {one.rule.name for one in trial.effects.up}


def test_what_was_raised_of_a_candidate_does_not_come_up_when_it_is_chosen(truck):
    opened = planning(truck, "")
    trial = try_settings(opened, [Setting("plan.chosen", "tall")])
    stood = {one.rule.name for one in flags(opened) if one.counts and one.verdict.place[0] == "tall"}
    assert stood and not stood & {one.rule.name for one in trial.effects.up}
