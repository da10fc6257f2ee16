"""`planner again` as a person calls it: what wants another look, a decision made anew, a caution accepted again."""

import json
import tomllib

import pytest
from calling import call, one_line
from changing_truck import write
from resting import rested_on
from work_truck import replace

from planner.plan.answers.flagging import flags
from planner.plan.answers.open_project import open_project
from planner.project.diary_reading import read_diary

MOMENT = "steering.bearing_moment_grown"


@pytest.fixture
def truck(tmp_path):
    return write(tmp_path)


def data(path):
    return tomllib.loads(path.read_text(encoding="utf-8"))


def slower(path):
    replace(path, 'cruise_speed = "50 mph"', 'cruise_speed = "45 mph"')


def test_nothing_that_stands_wants_another_look(capsys, truck):
    code, out, err = call(capsys, "again", truck)
    assert code == 0 and not err and one_line(out) and "Nothing" in out


def test_what_moved_is_listed_with_what_to_do_about_it(capsys, truck):
    slower(truck)
    code, out, _ = call(capsys, "again", truck)
    assert code == 1 and "decision: regear with the 37s?" in out
    assert "cruise speed was 50 mph, now 45 mph" in out and 'planner again FILE "decisions[0]"' in out
    _, out, _ = call(capsys, "again", truck, "--json")
    assert json.loads(out)[0]["key"] == "decisions[0]"


@pytest.mark.parametrize("named", ["regear with the 37s?", "decisions[0]"])
def test_a_decision_is_made_anew_in_its_place_and_rests_on_things_as_they_are_now(capsys, truck, named):
    slower(truck)
    code, out, err = call(capsys, "again", truck, named, "--because", "slower still: it holds")
    assert code == 0 and not err and "regear with the 37s? keep 5.22" in out
    made = data(truck)["decisions"]
    assert len(made) == 2 and made[0]["chosen"] == "keep 5.22" and made[0]["because"] == "slower still: it holds"
    assert rested_on(truck, made[0])["use.cruise_speed"] == "45 mph"
    last = read_diary(truck).entries[-1]
    assert (last.kind, last.because) == ("decision", "slower still: it holds")
    assert call(capsys, "again", truck)[0] == 0


def test_something_else_can_be_chosen(capsys, truck):
    assert call(capsys, "again", truck, "which rim?", "8 in", "--because", "lighter")[0] == 0
    assert data(truck)["decisions"][1]["chosen"] == "8 in"
    assert data(truck)["decisions"][1]["options"] == ["8 in"]


def test_a_lapsed_acceptance_is_given_again_and_the_caution_no_longer_counts(capsys, truck):
    moved = "fitments.tall.wheel.backspace=4 7/8 in ± 1/16 in"
    call(capsys, "change", truck, moved, "--because", "the maker's drawing", "--apply")
    code, out, _ = call(capsys, "again", truck)
    assert code == 1 and "acceptances[0]" in out and "acceptances[1]" in out
    code, out, err = call(capsys, "again", truck, MOMENT, "--because", "looked at")
    assert code == 2 and one_line(err) and "acceptances[0] and acceptances[1]" in err
    for key in ("acceptances[0]", "acceptances[1]"):
        code, out, err = call(capsys, "again", truck, key, "--because", "new bearings are in")
        assert code == 0 and not err, err
    made = data(truck)["acceptances"]
    assert len(made) == 2 and {one["because"] for one in made} == {"new bearings are in"}
    assert rested_on(truck, made[0])["fitments.tall.wheel.backspace"] == "4 7/8 in ± 1/16 in"
    assert [one.counts for one in flags(open_project(truck)) if one.rule.name == MOMENT] == [False, False]
    assert "acceptances" not in call(capsys, "again", truck)[1]


@pytest.mark.parametrize(
    ("given", "says"),
    [
        (("decisions[0]",), '--because "why"'),
        (("decisions[7]", "--because", "x"), "there's no decision"),
        (("a \x1b[31m", "--because", "x"), "there's no decision"),
        (("acceptances[0]", "--because", "x"), "already accepted"),
        (("acceptances[0]", "yes", "--because", "x"), "nothing else"),
    ],
)
def test_what_cannot_be_done_is_one_harmless_line_and_nothing_is_written(capsys, truck, given, says):
    before = truck.read_bytes()
    code, out, err = call(capsys, "again", truck, *given)
    assert code == 2 and not out and one_line(err) and says in err and "\x1b" not in err
    assert truck.read_bytes() == before


def test_the_choice_of_a_candidate_is_decided_anew_with_all_that_it_is(capsys, truck):
    text = truck.read_text(encoding="utf-8")
    one = '\n[[decisions]]\nquestion = "which candidate?"\nchosen = "tall"\n'
    truck.write_text(text + one, encoding="utf-8")
    assert call(capsys, "again", truck, "which candidate?", "--because", "weighed again")[0] == 0
    assert data(truck)["decisions"][2]["because"] == "weighed again" and data(truck)["plan"]["chosen"] == "tall"
    assert call(capsys, "again", truck, "which candidate?", "modest", "--because", "the 37s rub")[0] == 0
    made = data(truck)
    assert made["plan"]["chosen"] == "modest" and made["decisions"][2]["chosen"] == "modest"
    assert any(key.startswith("fitments.modest.") for key in rested_on(truck, made["decisions"][2]))
