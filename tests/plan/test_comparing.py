"""Candidates of a whole project side by side, each judged as if it were chosen."""

import pytest
from changing_truck import DAY, write
from work_truck import opened, replace, written

from planner.plan.answers.flagging import flags
from planner.plan.answers.open_project import as_if_chosen, open_project, work_out
from planner.plan.change.changing import Setting, try_settings
from planner.plan.change.comparing import compare, costs
from planner.plan.revisit.plan_flags import all_flags
from planner.plan.truck.recording import RefusedChange
from planner.project.reading import understand


@pytest.fixture(scope="module")
def county(tmp_path_factory):
    return open_project(write(tmp_path_factory.mktemp("county")), DAY)


@pytest.fixture(scope="module")
def all_three(county):
    return compare(county)


def test_the_truck_as_found_and_every_candidate_are_compared_unless_some_are_named(county, all_three):
    assert [one.name for one in all_three.candidates] == ["found", "tall", "modest"]
    assert [one.name for one in compare(county, ["modest", "tall"]).candidates] == ["modest", "tall"]


@pytest.mark.parametrize(
    ("names", "words"),
    [(["tal"], "tall"), (["x"], "accepted"), (["tall", "tall"], "given twice"), (["a\x1b[31m"], "\\x1b")],
)
def test_a_candidate_that_is_not_there_is_refused_with_those_that_are(county, names, words):
    with pytest.raises(RefusedChange) as caught:
        compare(county, names)
    assert words in str(caught.value) and "\x1b" not in str(caught.value)


def test_a_project_without_fitments_has_nothing_to_compare(county, tmp_path):
    path = tmp_path / "bare.toml"
    path.write_text("format = 1\n")
    with pytest.raises(RefusedChange, match="nothing to compare"):
        compare(open_project(path, DAY))


@pytest.mark.parametrize("name", ["tall", "modest"])
def test_a_candidate_is_judged_just_as_it_is_once_it_is_chosen(county, all_three, name):
    chosen = try_settings(county, [Setting("plan.chosen", name)]).after
    # Worked out on a sheet of its own, not on the one that the candidates share.
    own = work_out(understand(chosen.opened.source), DAY)
    alone = as_if_chosen(county, name)
    assert [(f.rule.name, f.where, f.verdict.answer, f.by) for f in flags(alone)] == [
        (f.rule.name, f.where, f.verdict.answer, f.by) for f in flags(own)
    ]
    counted = next(one.tally for one in all_three.candidates if one.name == name)
    standing = [f.rule.severity for f in all_flags(own, flags(own)) if f.counts]
    assert (counted.stops, counted.cautions) == (standing.count("stop"), standing.count("caution"))


def test_comparing_leaves_the_project_as_it_was(county):
    def answers():
        return [(f.rule.name, f.where, f.verdict.answer, f.by) for f in flags(county)]

    before = answers()
    compare(county)
    assert answers() == before and county.planned == ("tall",)


def test_only_entries_that_differ_are_listed_as_written(county):
    rows = {row.key: row.written for row in compare(county, ["tall", "modest"]).entries}
    assert rows["wheel.rim_width"] == ("9 in", "7 1/2 in")
    assert rows["price"] == ("3895", "3120")
    assert "wheel.stud_count" not in rows
    everything = {row.key: row.written for row in compare(county, ["tall", "modest"], everything=True).entries}
    assert everything["wheel.stud_count"] == ("6", "6")


def test_an_entry_that_one_does_not_have_is_shown_as_nothing(all_three):
    rows = {row.key: row.written for row in all_three.entries}
    assert rows["lead_time"] == ("-", "9 weeks", "7 weeks")


def test_only_figures_that_differ_by_more_than_the_first_ones_tolerance_are_listed(county):
    rows = {(row.name, row.where): row for row in compare(county, ["tall", "modest"]).figures}
    assert rows["wheel.overall_width", "front and rear"].numbers == pytest.approx((0.254, 0.2159))  # + 2 × 1/2 in
    # 9 in and 7 1/2 in rims, both with 5 in of backspace: the middle of the lesser lies 3/4 in further in, and with
    # it each of the two wheels on an axle.
    low, high = rows["stance.mean_track", ""].numbers
    assert low - high == pytest.approx(2 * 0.75 * 0.0254)
    assert all(row.beyond for row in rows.values())


def test_only_flags_with_different_answers_are_listed_by_severity(county, all_three):
    rows = compare(county, ["tall", "modest"]).flags
    order = [("stop", "caution", "note").index(row.rule.severity) for row in rows]
    assert order == sorted(order)
    assert all(len(set(row.answers)) > 1 for row in rows)
    # that a rule is clear for one and asks nothing of another is no difference
    assert not [row.rule.name for row in (*rows, *all_three.flags) if set(row.answers) == {"clear", "does not apply"}]
    # 132 lb and 100 lb, where 131.1 lb is the most.
    mass = next(row for row in rows if row.rule.name == "wheel.unsprung_mass_grown")
    assert (mass.where, mass.answers) == ("front and rear", ("raised", "clear"))


def test_what_was_accepted_for_one_candidate_is_not_accepted_for_another(county):
    rows = {(row.rule.name, row.where): row.answers for row in compare(county, ["tall", "modest"]).flags}
    assert rows["steering.bearing_moment_grown", "front and rear"] == ("accepted", "too close to call")


def test_money_and_waiting_are_each_candidates_own(all_three):
    by_name = {one.name: one for one in all_three.candidates}
    shared = 6.5 * 28 + 640  # nuts and bearings are bought whichever is chosen
    assert by_name["found"].cost.total == pytest.approx(shared)
    assert by_name["tall"].cost.total == pytest.approx(shared + 5 * 285 + 5 * 472)
    assert by_name["tall"].lead_time == "9 weeks" and by_name["modest"].lead_time == "7 weeks"
    assert by_name["modest"].finish < by_name["tall"].finish


@pytest.mark.parametrize(
    ("wheels", "tires", "longest"),
    [
        ('state = "arrived"\nlead_time = "9 weeks"', 'lead_time = "2 weeks"', "2 weeks"),  # the wheels are here
        ("", 'lead_time = "2 weeks"', "4 weeks"),  # the wheels have no time of their own: the set's
        ('state = "arrived"', 'state = "arrived"', "-"),
        ('state = "arrived"', None, "4 weeks"),  # the tires are no part of the list, and in the set
    ],
)
def test_the_longest_lead_time_is_of_what_is_still_wanted(tmp_path, wheels, tires, longest):
    parts = f'\n[[parts]]\nkind = "wheels"\n{wheels}\n' + (f'[[parts]]\nkind = "tires"\n{tires}\n' if tires else "")
    path = written(tmp_path, parts)  # its candidate's set takes 4 weeks
    replace(path, "format = 1", "format = 2")
    rows = {label: cells for label, *cells in costs(compare(opened(path), ["tall"]).candidates)}
    assert rows["longest lead time"] == [longest]


def test_a_candidates_lead_time_moves_the_day_of_its_own_column_alone(tmp_path):
    path = written(tmp_path, '[fitments.low]\nlead_time = "4 weeks"\n')
    before = {one.name: one.finish for one in compare(opened(path), ["tall", "low"]).candidates}
    assert before["tall"] == before["low"]
    replace(path, '[fitments.low]\nlead_time = "4 weeks"', '[fitments.low]\nlead_time = "60 weeks"')
    after = {one.name: one.finish for one in compare(opened(path), ["tall", "low"]).candidates}
    assert after["tall"] == before["tall"] and after["low"] > before["low"]
