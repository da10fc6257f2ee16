"""What moved under a record, and one of which nobody knows what it rested on: it is looked at once."""

from pathlib import Path

import pytest
from resting import rested_on
from work_truck import TODAY, listed, opened, replace, ticked, written

from planner.plan.answers.basis import basis, basis_changes
from planner.plan.answers.basis_words import BasisChange
from planner.plan.answers.flagging import flags
from planner.plan.answers.kept_answers import answer_words, kept_answer, kept_words
from planner.plan.answers.open_project import open_project
from planner.plan.change.changing import Setting
from planner.plan.change.task_recordings import make_recording
from planner.plan.revisit.acceptances import accept as accept_flag
from planner.plan.revisit.plan_flags import plan_flags
from planner.plan.revisit.stale_records import stale_records
from planner.plan.state import accept, prepare, read
from planner.plan.truck.wording import shown_value
from planner.plan.work.buying import set_part_state
from planner.plan.work.decisions import WHICH, choose_candidate, decide, decide_again
from planner.plan.work.task_words import about
from planner.project.diary_reading import diary_path
from planner.project.source import load
from planner.quantities.kinds import POSITION
from planner.sheets.kinds import slip
from planner.worksheet.outcome import Known, Spot
from planner.worksheet.verdict import Verdict

EXAMPLE = Path(__file__).parents[2] / "projects" / "county-road-4x4.toml"
SIGNED = "safe.local_code"  # the hold point before it
STANDS = "safe.stands.front"  # asks for the axle's rating
LOOK = "nobody knows what it rested on: look at it once"


@pytest.fixture
def truck(tmp_path):
    path = written(tmp_path)
    replace(path, "format = 1", "format = 2")
    return path


def stale(path):
    return [(one.key, [each.says for each in one.moved]) for one in stale_records(opened(path))]


def looked_at(path):
    ticked(path, SIGNED, because="R. looked")
    ticked(path, STANDS, "5,000 lb", because="R. looked", anyway=True)


def decided(path):
    project = opened(path)
    spots = [project.spot_at("fitments.tall.wheel.backspace")]
    make_recording(project, decide(project, "which rim?", [], "9 in", "it clears", spots))


def by_hand(path, text):
    path.write_text(path.read_text(encoding="utf-8") + text, encoding="utf-8")


def test_without_its_diary_each_record_is_to_be_looked_at_and_says_why(truck):
    looked_at(truck)
    decided(truck)
    assert listed(truck).items[STANDS].state == "done" and not stale(truck)
    diary_path(truck).unlink()
    one = listed(truck).items[STANDS]
    assert (one.state, one.why) == ("look again", LOOK)
    assert stale(truck) == [("decisions[0]", [LOOK]), ("tasks[0]", [LOOK]), ("tasks[1]", [LOOK])]
    project = opened(truck)
    raised = {flag.where: flag.says for flag in plan_flags(project, flags(project)) if flag.counts}
    assert raised["which rim?"] == f"'which rim?': {LOOK}." and raised[STANDS] == f"'{STANDS}': {LOOK}."


def test_what_is_taken_on_of_a_record_lapses_when_its_ground_moves_on_or_is_not_known(truck):
    decided(truck)

    def question():
        project = opened(truck)
        return next(one for one in plan_flags(project, flags(project)) if one.where == "which rim?")

    replace(truck, 'backspace = "5 in ± 1/16 in"', 'backspace = "4 1/2 in"')
    make_recording(opened(truck), accept_flag(opened(truck), question(), "for the trial"))
    assert not question().counts and not question().lapsed
    replace(truck, 'backspace = "4 1/2 in"', 'backspace = "4 in"')
    assert question().lapsed == "tall set's wheel backspace was 4 1/2 in, now 4 in"
    diary_path(truck).unlink()
    assert question().counts and question().lapsed == LOOK


def test_it_is_looked_at_once_and_stands_from_then_on(truck):
    looked_at(truck)
    decided(truck)
    diary_path(truck).unlink()
    looked_at(truck)
    project = opened(truck)
    make_recording(project, decide_again(project, 0, "", "looked at"))
    assert listed(truck).items[STANDS].state == "done" and not stale(truck)
    replace(truck, 'rating = "4,000 lb"', 'rating = "4,500 lb"')
    assert stale(truck) == [("tasks[1]", ["front axle rating was 4,000 lb, now 4,500 lb"])]


def test_the_choice_of_a_candidate_that_is_looked_at_rests_on_what_it_is_made_of_again(truck):
    by_hand(truck, '\n[fitments.low.wheel]\nbackspace = "4 in"\n')
    project = opened(truck)
    make_recording(project, choose_candidate(project, "low", "it clears"))
    diary_path(truck).unlink()
    project = opened(truck)
    make_recording(project, decide_again(project, 0, "", "looked at"))
    (one,) = load(truck).data["decisions"]
    assert one["question"] == WHICH and rested_on(truck, one)["fitments.low.wheel.backspace"] == "4 in"


def test_the_choice_of_a_candidate_is_asked_again_when_a_stop_that_it_cleared_no_longer_is(truck):
    """A wheel's disc and a hub's pilot: the pilot is no entry of the candidate, and no clearance of the sweep."""
    by_hand(truck, '\n[axles.front.hub]\npilot = "4.25 in ± 0.002 in"\n')
    by_hand(truck, '\n[fitments.low.wheel]\nbore = "4.260 in ± 0.002 in"\n')
    project = opened(truck)
    make_recording(project, choose_candidate(project, "low", "it bolts on"))
    replace(truck, '"4.25 in ± 0.002 in"', '"4.251 in ± 0.002 in"')
    assert not stale(truck)  # whatever the margin
    replace(truck, '"4.251 in ± 0.002 in"', '"4.27 in ± 0.002 in"')
    ((which, (said,)),) = stale(truck)
    assert which == "decisions[0]" and said.startswith(
        "wheel.bore_smaller_than_pilot (low, front) was clear, now raised"
    )


@pytest.mark.parametrize(
    ("record", "wanted"),
    [
        (f'[[tasks]]\nid = "{STANDS}"\nstate = "done"\n', True),
        ('[[tasks]]\nid = "decide.sign"\nstate = "done"\n', True),
        ('[[tasks]]\nid = "flag.fit.tire_large_for_opening"\nstate = "done"\n', True),
        ('[[decisions]]\nquestion = "which rim?"\nchosen = "9 in"\n', True),
        ('[[sheets]]\nnumber = 1\nkind = "order"\n', True),
        (f'[[tasks]]\nid = "{STANDS}"\nstate = "done"\nrests = "1 abcdef"\n', True),
        ('[[tasks]]\nid = "own.wash"\nstate = "done"\nrests = "about the paint"\n', True),
        ('[[tasks]]\nid = "own.wash"\nstate = "done"\n', False),
        ('[[tasks]]\nid = "safe.chock"\nstate = "done"\n', False),
        (f'[[tasks]]\nid = "{STANDS}"\n', False),
        ('[[sheets]]\nnumber = 1\nkind = "slip"\n', False),
    ],
)
def test_one_written_by_hand_is_looked_at_where_it_could_rest_on_something(truck, record, wanted):
    by_hand(truck, f"\n{record}")
    assert [said for _, said in stale(truck)] == [[LOOK]] * wanted


def test_a_tick_that_rests_on_nothing_yet_is_done_and_stays_so(truck):
    replace(truck, '[axles.front]\nrating = "4,000 lb"\n', "")
    ticked(truck, SIGNED, because="R. looked")
    ticked(truck, STANDS, "5,000 lb", because="no plate", anyway=True)
    one = next(one for one in load(truck).data["tasks"] if one["id"] == STANDS)
    assert rested_on(truck, one) == {} and listed(truck).items[STANDS].state == "done" and not stale(truck)


def test_a_task_of_ones_own_leaves_nothing_of_it_in_the_file(truck):
    by_hand(truck, '\n[[tasks]]\nid = "own.wash"\ntitle = "wash it"\nrests = "about the paint"\n')
    ticked(truck, "own.wash")
    assert "rest" not in truck.read_text(encoding="utf-8").partition("own.wash")[2]
    assert listed(truck).items["own.wash"].state == "done"


def test_a_task_tells_what_its_tick_rested_on_and_how_much_of_it_moved(truck):
    looked_at(truck)
    found = listed(truck)
    assert ("rested on", "front axle rating = 4,000 lb") in about(opened(truck), found, found.items[STANDS])
    replace(truck, 'rating = "4,000 lb"', 'rating = "4,500 lb"')
    one = listed(truck).items[STANDS]
    assert [(each.name, each.then, each.now) for each in one.moved] == [("front axle rating", "4,000 lb", "4,500 lb")]
    assert one.why == "front axle rating was 4,000 lb, now 4,500 lb"


def test_a_slip_has_one_row_for_a_figure_that_moved_alike_at_both_ends_in_ones_own_units():
    ends = [
        BasisChange("wheel.offset", "1/2 in (12.7 mm)", "1 in (25.4 mm)", f"tall, {end}", ("1/2 in", "1 in"))
        for end in ("front", "rear")
    ]
    assert list(slip._moved(None, ends)) == [("wheel.offset (tall, front; tall, rear)", "1/2 in", "1 in")]


def test_a_figure_that_moved_is_told_briefly_in_ones_own_units(truck):
    project = opened(truck)
    spots = [spot for spot in project.sheet.spots("offset") if spot.place[0] == "tall"]
    replace(truck, 'backspace = "5 in ± 1/16 in"', 'backspace = "4 1/2 in"')
    replace(truck, "[fitments.tall.wheel]", '[fitments.tall.wheel]\nrim_width = "8 in"')
    before = basis(opened(truck), spots)
    replace(truck, 'backspace = "4 1/2 in"', 'backspace = "5 1/2 in"')
    moved = [one for one in basis_changes(opened(truck), before) if one.at]
    assert moved and all("mm" in one.then and "mm" in one.now for one in moved)
    # (8 in + 1 in of flanges) / 2 is 4 1/2 in: the hub face stands in the middle, then 1 in outboard of it
    assert moved[0].at.startswith("tall") and moved[0].briefly[1].startswith("1 in") and "mm" not in moved[0].briefly[1]


def test_what_a_screen_shows_after_a_change_is_the_file_with_its_records_put_away(truck):
    by_hand(
        truck, '\n[[decisions]]\nquestion = "which rim?"\n[decisions.rested_on]\n"axles.front.rating" = "4,000 lb"\n'
    )
    state = read(truck, TODAY)
    then = accept(prepare(state, [Setting("vehicle.wheelbase", "140 in")]))
    assert then.source.text == truck.read_text(encoding="utf-8") and "rested_on" not in then.source.text
    accept(prepare(then, [Setting("vehicle.wheelbase", "141 in")]))


def test_a_part_says_from_its_order_on_what_it_was_ordered_by_without_any_tick(truck):
    by_hand(truck, '\n[[parts]]\nid = "wheels"\nused_for = ["tall"]\n\n[[parts]]\nid = "paint"\n')

    def step(at, state):
        project = opened(truck)
        make_recording(project, set_part_state(project, at, state))

    def asked():
        project = opened(truck)
        rule = "plan.ordered_part_rests_on_changed"
        found = plan_flags(project, flags(project))
        return {one.where: one.says for one in found if one.rule.name == rule and one.counts}

    step(0, "ordered")
    step(1, "ordered")
    wheels, paint = load(truck).data["parts"]
    assert rested_on(truck, wheels)["fitments.tall.wheel.backspace"] == "5 in ± 1/16 in" and "rests" not in paint
    step(0, "arrived")
    assert not asked()
    replace(truck, 'backspace = "5 in ± 1/16 in"', 'backspace = "4 1/2 in"')
    assert list(asked()) == ["wheels"] and "tall set's wheel backspace was 5 in" in asked()["wheels"]
    diary_path(truck).unlink()
    assert LOOK in asked()["wheels"]
    step(0, "wanted")
    assert not asked() and "rests" not in load(truck).data["parts"][0]


def test_a_rule_that_holds_outright_is_kept_without_a_margin_that_nobody_measured():
    county = open_project(EXAMPLE, TODAY)  # its nuts are open: there is nothing to bottom on
    open_nuts = [one.verdict for one in flags(county) if one.rule.node == "closed_nut_bottoms"]
    assert {kept_answer(county, Spot("closed_nut_bottoms", one.place)) for one in open_nuts} == {"clear"}


def test_what_a_record_keeps_of_a_margin_is_told_to_the_pound():
    """A pound is 4.4482216152605 N; with a digit less 924 were told of 925 lb."""
    county = open_project(EXAMPLE, TODAY)
    rule = county.sheet.catalog.rules["rated_below_load"]
    for pounds in (899, 900, 924, 925, 1205):
        newtons = pounds * 4.4482216152605
        kept = kept_words(Verdict(rule, (), "clear", Known(newtons, newtons, newtons)))
        assert answer_words(county, rule.node, kept) == f"clear, {pounds} lb to spare"


def test_what_never_touches_is_not_told_to_by_a_half_that_is_the_other_sides():
    """1.41 in, 0.05 in to 3.08 in: the ± would be 1.67 in, and reach a quarter of an inch past nothing."""
    county, inch = open_project(EXAMPLE, TODAY), 0.0254
    told = shown_value(county, Known(1.41 * inch, 0.05 * inch, 3.08 * inch), POSITION)
    assert told == "1.41 in (0.050 in to 3.08 in)"
    assert "±" in shown_value(county, Known(1.41 * inch, -0.05 * inch, 3.08 * inch), POSITION)
