"""`planner accept` as a person calls it: what can be accepted, accepting it with a reason, taking that back."""

import json
import tomllib

import pytest
from calling import call, one_line
from changing_truck import write
from resting import rested_on

from planner.plan.answers.flagging import flags
from planner.plan.answers.open_project import open_project
from planner.project.diary_reading import diary_path, read_diary

MOMENT = "steering.bearing_moment_grown"


@pytest.fixture
def truck(tmp_path):
    return write(tmp_path)


def acceptances(path):
    return tomllib.loads(path.read_text(encoding="utf-8")).get("acceptances", [])


def can_be(capsys, path):
    return json.loads(call(capsys, "accept", path, "--json")[1])["can be"]


def with_values(path, one):
    return {name: value for name, value in one.items() if name != "rests"} | {"rested_on": rested_on(path, one)}


def one_that_can_be(capsys, path):
    """A caution that stands at one place, by its name."""
    names = [one["flag"] for one in can_be(capsys, path)]
    return next(name for name in names if names.count(name) == 1)


def test_what_can_be_accepted_and_what_is_are_listed(capsys, truck):
    code, out, err = call(capsys, "accept", truck)
    assert code == 0 and not err
    can, _, accepted = out.partition("\nAccepted\n")
    assert "You can accept these, with a reason" in can and MOMENT in accepted


def test_what_was_accepted_of_a_flag_that_there_is_no_longer_is_told_and_not_lost(capsys, truck):
    text = truck.read_text(encoding="utf-8")
    one = '\n[[acceptances]]\nflag = "brakes.gone_since"\nat = "rear"\nbecause = "tried in the yard"\n'
    truck.write_text(text + one, encoding="utf-8")
    told = call(capsys, "accept", truck)[1]
    assert "no flag of that name" in told and "brakes.gone_since (rear)" in told and "tried in the yard" in told
    (gone,) = json.loads(call(capsys, "accept", truck, "--json")[1])["of no flag"]
    assert gone == {"flag": "brakes.gone_since", "where": "rear", "because": "tried in the yard"}


def test_a_caution_is_accepted_with_its_reason_and_no_longer_counts(capsys, truck):
    name, before = one_that_can_be(capsys, truck), len(acceptances(truck))
    code, out, err = call(capsys, "accept", truck, name, "--because", "50 mph and weekends")
    assert code == 0 and not err and one_line(out) and "accepted" in out
    made = acceptances(truck)
    assert len(made) > before and made[-1]["flag"] == name and made[-1]["because"] == "50 mph and weekends"
    assert rested_on(truck, made[-1]), "it knows what it rests on, so that it can lapse"
    assert not any(one.counts for one in flags(open_project(truck)) if one.rule.name == name)
    last = read_diary(truck).entries[-1]
    assert (last.kind, last.because) == ("acceptance", "50 mph and weekends")
    assert name not in [one["flag"] for one in can_be(capsys, truck)]


def test_who_accepted_is_kept_and_is_nobody_once_it_is_accepted_again_without_a_name(capsys, truck):
    name = one_that_can_be(capsys, truck)
    call(capsys, "accept", truck, name, "--because", "weekends", "--by", "the owner")
    assert acceptances(truck)[-1]["by"] == "the owner"
    text = truck.read_text(encoding="utf-8")
    truck.write_text(text.replace(f'rests = "{acceptances(truck)[-1]["rests"]}"\n', ""), encoding="utf-8")  # it lapses
    call(capsys, "accept", truck, name, "--because", "looked again")
    assert acceptances(truck)[-1]["because"] == "looked again" and "by" not in acceptances(truck)[-1]


def test_one_of_which_nobody_knows_what_it_rested_on_counts_until_it_is_accepted_again(capsys, truck):
    name = one_that_can_be(capsys, truck)
    call(capsys, "accept", truck, name, "--because", "50 mph and weekends")
    diary_path(truck).unlink()
    taken = [one for one in flags(open_project(truck)) if one.rule.name == name and one.acceptance]
    assert taken and all(one.counts for one in taken)
    assert {one.lapsed for one in taken} == {"nobody knows what it rested on: look at it once"}
    where = taken[0].where.split(", ")[-1]
    assert call(capsys, "accept", truck, name, where, "--because", "looked at")[0] == 0
    (one,) = (one for one in flags(open_project(truck)) if one.rule.name == name and one.where == taken[0].where)
    assert not one.counts and not one.lapsed


def test_what_was_accepted_is_taken_back_with_a_reason_and_counts_again(capsys, truck):
    name, before = one_that_can_be(capsys, truck), acceptances(truck)
    call(capsys, "accept", truck, name, "--because", "50 mph and weekends")
    made = acceptances(truck)[len(before) :]
    for one in made:  # one for each end at which it stands
        at = one.get("at", "").split(", ")[-1]
        code, _, err = call(capsys, "accept", truck, name, at, "--take-back")
        assert code == 2 and one_line(err) and "--because" in err
        assert call(capsys, "accept", truck, name, at, "--take-back", "--because", "it wanders")[0] == 0
    assert [with_values(truck, one) for one in acceptances(truck)] == before
    assert any(one.counts for one in flags(open_project(truck)) if one.rule.name == name)
    code, _, err = call(capsys, "accept", truck, name, "--take-back", "--because", "once more")
    assert code == 2 and "is not accepted" in err


def test_nothing_is_accepted_without_a_reason(capsys, truck):
    kept = truck.read_bytes()
    code, out, err = call(capsys, "accept", truck, one_that_can_be(capsys, truck))
    assert code == 2 and not out and one_line(err) and '--because "why"' in err
    assert truck.read_bytes() == kept


def test_a_stop_is_never_accepted(capsys, truck):
    stops = [one for one in flags(open_project(truck)) if one.rule.severity == "stop" and one.verdict.answer != "clear"]
    assert stops
    kept = truck.read_bytes()
    for one in stops:
        code, _, err = call(capsys, "accept", truck, one.rule.name, one.where, "--because", "I dare")
        assert code == 2 and one_line(err)
    assert truck.read_bytes() == kept


def test_a_name_or_a_place_that_is_not_there_is_told_with_those_that_are(capsys, truck):
    code, _, err = call(capsys, "accept", truck, "steering.nonsense", "--because", "why not")
    assert code == 2 and one_line(err) and one_that_can_be(capsys, truck) in err
    code, _, err = call(capsys, "accept", truck, MOMENT, "roof", "--because", "why not")
    assert code == 2 and one_line(err) and "it's raised at" in err


def test_a_caution_that_rests_on_nothing_entered_is_not_offered_and_says_why(capsys, tmp_path):
    path = tmp_path / "bare.toml"
    path.write_text('format = 2\n[fitments.found.tire]\ndesignation = "7.50-16"\n', encoding="utf-8")
    assert "wheel.multi_piece_rims" not in {one["flag"] for one in can_be(capsys, path)}
    code, _, err = call(capsys, "accept", path, "wheel.multi_piece_rims", "--because", "they look whole")
    assert code == 2 and "doesn't rest on any entry" in err
