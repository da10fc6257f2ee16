"""A change to a whole project, tried and then made: what it touches, and that all or nothing of it is written."""

from datetime import date
from decimal import Decimal

import pytest
from changing_truck import BACKSPACE, DAY, write

from planner.plan.answers.flagging import flags
from planner.plan.answers.open_project import open_project
from planner.plan.change.changing import Setting, make, tried, try_changes, try_settings
from planner.plan.change.figure_changes import MATTERS, distance
from planner.plan.revisit.stale_records import decisions, stale_records
from planner.plan.truck.keys import BadValue, UnknownKey, find_key, known_keys, value_as_data
from planner.plan.truck.project import OpenProject
from planner.plan.truck.recording import RefusedChange
from planner.project import amending, migrating
from planner.project.changes import DELETE
from planner.project.diary import undo
from planner.project.diary_reading import diary_path, read_diary
from planner.project.faults import Faulty
from planner.project.saving import NotSaved
from planner.project.source import load
from planner.worksheet.outcome import Known, Waiting


@pytest.fixture(scope="module")
def county(tmp_path_factory) -> OpenProject:
    return open_project(write(tmp_path_factory.mktemp("county")), DAY)


@pytest.fixture
def truck(tmp_path) -> OpenProject:
    return open_project(write(tmp_path), DAY)


def attempt(opened: OpenProject, *pairs: str, because: str = ""):
    return try_settings(opened, [Setting(*one.split("=", 1)) for one in pairs], because)


def refusal(opened: OpenProject, *pairs: str) -> str:
    with pytest.raises((RefusedChange, Faulty)) as caught:
        attempt(opened, *pairs)
    return str(caught.value)


# figures


def test_half_an_inch_less_backspace_puts_the_wheel_half_an_inch_out_and_the_track_an_inch_wider(county):
    moved = {(row.name, row.where): row for row in attempt(county, f"{BACKSPACE}=4 1/2 in ± 1/16 in").effects.figures}
    before, after = moved["wheel.offset", "front and rear"].numbers
    assert after - before == pytest.approx(-0.0127)
    before, after = moved["stance.mean_track", ""].numbers
    assert after - before == pytest.approx(0.0254)


def test_the_scrub_radius_grows_by_what_the_wheel_moves_out(county):
    rows = attempt(county, f"{BACKSPACE}=4 1/2 in ± 1/16 in").effects.figures
    scrub = next(row for row in rows if row.name == "steering.scrub_radius")
    before, after = scrub.numbers
    assert after - before == pytest.approx(0.0127, abs=1e-6)
    assert scrub.where == "front"
    assert scrub.beyond  # ± 0.37 in on the found reading of it, and 1/2 in is more


def test_figures_come_worst_first_and_those_within_their_tolerance_last(county):
    rows = attempt(county, f"{BACKSPACE}=4 3/4 in ± 1/16 in").effects.figures
    beyond = [row.beyond for row in rows]
    assert beyond == sorted(beyond, reverse=True)
    sizes = [row.size for row in rows if row.beyond]
    assert sizes == sorted(sizes, reverse=True)
    # 1/4 in out is 4 times the wheel shop's 1/16 in, and less than the 0.37 in that the scrub radius is known to.
    scrub = next(row for row in rows if row.name == "steering.scrub_radius")
    offset = next(row for row in rows if row.name == "wheel.offset")
    assert not scrub.beyond and offset.size == pytest.approx(4)


def test_a_speed_that_moves_alike_in_every_gear_is_one_row(county):
    rows = attempt(county, "fitments.tall.tire.overall_diameter=35.5 in ± 0.1 in").effects.figures
    speeds = [row for row in rows if row.name == "gearing.road_speed"]
    assert len(speeds) == 1
    assert len(speeds[0].places) + speeds[0].more == 16  # four gears, two ranges, two axles
    before, after = speeds[0].numbers
    assert after / before == pytest.approx(35.5 / 36.8, rel=1e-3)


def test_another_chosen_candidate_is_held_against_the_one_chosen_before(county):
    rows = attempt(county, "plan.chosen=modest").effects.figures
    width = next(row for row in rows if row.name == "wheel.overall_width")
    assert width.numbers == pytest.approx((0.254, 0.2159))  # 9 in and 7 1/2 in, and two flanges of 1/2 in


def test_an_entry_itself_is_not_told_as_a_figure_too(county):
    rows = attempt(county, f"{BACKSPACE}=4 1/2 in").effects.figures
    assert "wheel.backspace" not in {row.name for row in rows}


@pytest.mark.parametrize(
    ("one", "other", "told"),
    [
        (Known(10.0, 9.0, 11.0), Known(13.0, 12.0, 14.0), (3.0, True)),
        (Known(10.0, 9.0, 11.0), Known(10.5, 9.5, 11.5), (0.5, False)),
        (Known(10.0, 10.0, 10.0), Known(11.0, 11.0, 11.0), (pytest.approx(10.0), True)),  # tenths of itself
        (Known(10.0, 10.0, 10.0), Known(10.0 + MATTERS, 10.0, 10.0), (0.0, False)),
        (Known(100.0, 100.0, 100.0), Known(100.09, 100.09, 100.09), (pytest.approx(0.09), False)),  # less than a tenth
        (Known(100.0, 100.0, 100.0), Known(100.01, 100.01, 100.01), (pytest.approx(0.01), False)),
        (Known(0.0, 0.0, 0.0), Known(1.0, 1.0, 1.0), (float("inf"), True)),
        (Waiting(()), Known(1.0, 1.0, 1.0), (float("inf"), True)),
        (Waiting(()), None, (0.0, False)),
        (Known("grip"), Known("engine"), (1.0, True)),
    ],
)
def test_how_far_a_value_moved_is_counted_in_its_own_tolerance_or_in_hundredths_of_itself(one, other, told):
    assert distance(one, other) == told


# flags


def test_larger_studs_on_the_front_hub_stop_the_wheel_and_question_the_nuts_that_came(county):
    found = attempt(county, "axles.front.studs.diameter=5/8 in").effects
    stops = [flag for flag in found.up if flag.rule.severity == "stop"]
    assert [(flag.rule.name, flag.where) for flag in stops] == [
        ("wheel.nut_thread_differs", "front"),
        ("wheel.stud_circle_differs", "front"),
    ]
    assert [part.id for part in found.parts] == ["nuts"]  # the only part here already that is for a fitment
    assert "front stud diameter was" in found.parts[0].why[0]


def test_a_lighter_tire_clears_what_its_mass_raised(county):
    # 62 + 52 = 114 lb were found; 1.15 times that is 131.1 lb. 75 + 57 = 132 lb is more, 70 + 57 = 127 lb is not.
    found = attempt(county, "fitments.tall.tire.mass=70 lb").effects
    assert [(flag.rule.name, flag.where) for flag in found.cleared] == [("wheel.unsprung_mass_grown", "front and rear")]
    assert (found.cleared[0].was.verdict.answer, found.cleared[0].now.verdict.answer) == ("raised", "clear")
    assert not found.up


def test_an_acceptance_lapses_with_what_it_rested_on_and_its_flag_comes_up(county):
    found = attempt(county, f"{BACKSPACE}=4 1/2 in ± 1/16 in").effects
    up = [flag for flag in found.up if flag.rule.name == "steering.bearing_moment_grown"]
    assert {flag.where for flag in up} == {"front", "rear"}
    assert all(flag.was.acceptance and not flag.was.lapsed and flag.now.lapsed for flag in up)
    assert ("acceptance", "acceptances[0]") in {(one.record, one.key) for one in found.again}


def test_an_acceptance_given_for_one_candidate_is_not_taken_for_another(county):
    after = attempt(county, "plan.chosen=modest").after
    moment = [flag for flag in flags(after) if flag.rule.name == "steering.bearing_moment_grown"]
    assert moment and all(flag.verdict.answer != "clear" and flag.acceptance is None for flag in moment)


def test_what_is_only_words_moves_no_figure_and_no_flag(county):
    found = attempt(county, "vehicle.name=Unit 14").effects
    assert not found.figures and not found.flags and not found.again and not found.parts


def test_setting_what_stands_there_already_changes_nothing(county):
    trial = attempt(county, f"{BACKSPACE}=5 in ± 1/16 in")
    assert not trial.moved and trial.after is trial.before


# records, parts, money, dates


def test_the_decision_on_the_gears_is_to_be_looked_at_again_when_a_ratio_moves(county):
    trial = attempt(county, "axles.front.ratio=5.86")
    again = [one for one in trial.effects.again if one.record == "decision"]
    assert [one.name for one in again] == ["regear with the 37s?"]
    assert [(one.name, one.then, one.now) for one in again[0].moved] == [("front axle ratio", "5.22", "5.86")]
    assert not any(moved for _, moved in decisions(county))
    assert [bool(moved) for _, moved in decisions(trial.after)] == [True, False]


def test_what_was_to_be_looked_at_before_is_not_told_again_unless_more_moved(county):
    first = attempt(county, "axles.front.ratio=5.86").after
    assert stale_records(first)
    assert not attempt(first, "vehicle.name=Unit 14").effects.again
    assert [one.name for one in attempt(first, "use.cruise_speed=45 mph").effects.again] == ["regear with the 37s?"]


def test_a_ticked_task_and_a_printed_sheet_are_told_when_what_they_rested_on_moves(truck):
    rested = '{ "axles.front.hub.pilot" = "5.122 in ± 0.003 in" }'
    noted = attempt(
        truck, f"tasks.own.hub_marks.rested_on={rested}", f"sheets=[{{ number = 3, rested_on = {rested} }}]"
    )
    found = attempt(noted.after, "axles.front.hub.pilot=5.2 in").effects
    assert [(one.record, one.name) for one in found.again] == [("task", "stamp L and R on hubs")]
    assert [one.name for one in found.sheets] == ["number 3"]
    assert found.sheets[0].moved[0].then == "5.122 in ± 0.003 in"


def test_another_price_moves_the_cost_and_questions_no_part(county):
    found = attempt(county, "parts.wheels.price=310", "fitments.tall.price=4000").effects
    before, after = found.cost
    assert after.total - before.total == Decimal(5 * (310 - 285))
    assert not found.parts and not found.up


def test_a_longer_wait_for_the_wheels_moves_the_day_on_which_the_work_is_done(county):
    before, after = attempt(county, "parts.wheels.lead_time=20 weeks").effects.finish
    assert (after - before).days == pytest.approx(7 * (20 - 9), abs=7)


def test_bearings_that_come_late_move_dates_by_name_and_nothing_else(county):
    county = attempt(county, "parts.bearings.ordered=2026-11-02", "parts.bearings.lead_time=6 weeks").after
    found = attempt(county, "parts.bearings.promised=2027-12-01").effects
    assert [flag.rule.name for flag in found.up] == ["plan.part_comes_late"]
    assert "fit.bearings.front starts 2027-12-0" in found.up[0].now.says
    before, after = found.finish
    assert before < after and f"the work ends {after}, not {before}" in found.up[0].now.says
    assert not found.again and not found.parts and not found.sheets and not found.figures


def test_a_part_bought_for_a_candidate_that_is_dropped_is_in_question_unless_the_other_needs_it_too(truck):
    bought = attempt(truck, "parts.wheels.state=ordered").after
    parts = attempt(bought, "plan.chosen=modest").effects.parts
    assert [(part.id, part.why) for part in parts] == [("wheels", ("tall is no longer planned",))]


def test_a_part_is_in_question_when_its_task_is_dropped_and_not_when_it_is_done(county):
    assert not attempt(county, "tasks.own.bearings.state=done").effects.parts
    parts = attempt(county, "tasks.own.bearings.state=dropped").effects.parts
    assert [(part.id, part.state) for part in parts] == [("bearings", "ordered")]


def test_a_part_ordered_without_a_tick_is_in_question_when_what_its_order_rests_on_moves(truck):
    bought = attempt(truck, "parts.wheels.state=ordered").after
    (part,) = [one for one in attempt(bought, "fitments.tall.wheel.bore=5.2 in").effects.parts if one.id == "wheels"]
    (why,) = part.why
    assert why.startswith("it was ordered by values that have changed: tall set's wheel bore was")
    assert "now 5.2 in" in why
    # what the order does not rest on leaves it alone
    for other in ("vehicle.lamp_height=40 in", "use.top_speed=62 mph"):
        assert not [one for one in attempt(bought, other).effects.parts if one.id == "wheels"]


# keys and values


@pytest.mark.parametrize(
    ("written", "key"),
    [
        (BACKSPACE, ("fitments", "tall", "wheel", "backspace")),
        ("parts[1].state", ("parts", 1, "state")),
        ("parts.tires.state", ("parts", 1, "state")),
        ("tasks.own.hub_marks.note", ("tasks", 0, "note")),
        ('obstacles."bump stop bracket".at[1]', ("obstacles", 4, "at", 1)),
        ("obstacles.shock.wants", ("obstacles", 5, "wants")),
        ('decisions[0].rested_on."axles.front.ratio"', ("decisions", 0, "rested_on", "axles.front.ratio")),
        ("drivetrain.gearbox.5th", ("drivetrain", "gearbox", "5th")),
        ("parts[4].title", ("parts", 4, "title")),
        ("fitments.snow.tire.mass", ("fitments", "snow", "tire", "mass")),
    ],
)
def test_a_key_leads_to_its_place(county, written, key):
    assert find_key(county.opened, written).key == key


@pytest.mark.parametrize(
    ("written", "near"),
    [
        ("fitments.tall.wheel.backspac", "fitments.tall.wheel.backspace"),
        ("wheelbas", "wheelbase"),
        ("axles.front.pilot", "axles.front.hub.pilot"),
        ("parts.whels.price", "parts.wheels.price"),
        ("plan.choosen", "plan.chosen"),
        ("vehicle.wheelbase.length", "vehicle.wheelbase"),
    ],
)
def test_a_key_that_is_not_there_names_the_nearest(county, written, near):
    with pytest.raises(UnknownKey, match="there's no such key") as caught:
        find_key(county.opened, written)
    assert near in str(caught.value)


@pytest.mark.parametrize("written", ["", ".", "a..b", "parts[", "parts[x]", "parts[99].id", "[0]", '"', "x" * 5000])
def test_what_is_no_key_is_one_harmless_line(county, written):
    with pytest.raises(UnknownKey) as caught:
        find_key(county.opened, written)
    assert "\n" not in str(caught.value) and len(str(caught.value)) < 400


def test_every_key_that_is_listed_leads_somewhere(county):
    listed = list(known_keys(county.opened))
    assert len(listed) == len(set(listed)) > 500
    for key in listed:
        find_key(county.opened, key)


@pytest.mark.parametrize(
    ("key", "written", "value"),
    [
        (BACKSPACE, " 4 1/2 in ", "4 1/2 in"),
        ("axles.front.studs.count", "6", 6),
        ("axles.front.steered", "no", False),
        ("vehicle.fractions", "false", False),
        ("vehicle.year", "1955", 1955),
        ("plan.start", "2027-01-02", date(2027, 1, 2)),
        ("plan.start", "soon", "soon"),
        ("plan.hours_a_week", "7.5", 7.5),
        ("parts.wheels.price", "6.50", 6.5),
        ("parts.wheels.used_for", "tall, modest", ["tall", "modest"]),
        ("parts.wheels.used_for", '["tall"]', ["tall"]),
        ("axles.front.gear_sets", "4.56, 5.86", ["4.56", "5.86"]),
        ("obstacles.shock.at", "1 in, 2 in, 3 in", ["1 in", "2 in", "3 in"]),
        ("fitments.tall.tire.date_code", "0126", "0126"),
        ("fitments.tall.price", "3,900", "3,900"),
        ("fitments.tall.price", "3900", 3900),
        ("vehicle.name", "a = b", "a = b"),
        ("fitments.tall.spare", '{ designation = "x" }', {"designation": "x"}),
        ("plan.chosen", "  ", DELETE),
    ],
)
def test_a_value_becomes_what_the_file_wants_there(county, key, written, value):
    _, wants, standing = find_key(county.opened, key)
    read = value_as_data(written, wants, standing)
    assert read == value and type(read) is type(value)


@pytest.mark.parametrize(
    ("key", "written"), [("vehicle", "5"), ("parts", "x"), ("parts.wheels.used_for", "[oops"), ("fitments.tall", "{")]
)
def test_a_table_or_list_that_is_none_is_refused_with_what_is_accepted(county, key, written):
    _, wants, standing = find_key(county.opened, key)
    with pytest.raises(BadValue, match="accepted"):
        value_as_data(written, wants, standing)


# making it


def test_a_change_is_written_with_its_reason_and_undone_to_the_byte(truck):
    path = truck.opened.source.path
    make(attempt(truck, "vehicle.name=unit 14"), "")  # what its records rest on is in the diary from here on
    truck, old = open_project(path, DAY), path.read_bytes()
    done = make(attempt(truck, f"{BACKSPACE}=4 1/2 in ± 1/16 in"), "the shop makes no other")
    assert path.read_text("utf-8") == old.decode().replace(
        'backspace = "5 in ± 1/16 in"', 'backspace = "4 1/2 in ± 1/16 in"', 1
    )
    entry = read_diary(path).entries[-1]
    assert entry.number == done.entries[-1].number
    assert (entry.kind, entry.because) == ("change", "the shop makes no other")
    assert [(one.key, one.now) for one in entry.moved] == [
        (("fitments", "tall", "wheel", "backspace"), "4 1/2 in ± 1/16 in")
    ]
    assert "steering.bearing_moment_grown" in entry.details["raised"]
    undo(load(path))
    assert path.read_bytes() == old


def test_a_key_in_no_table_yet_makes_its_table(truck):
    trial = attempt(truck, "fitments.snow.wheel.backspace=4 in", "fitments.snow.description=for winter")
    assert trial.begun == ("fitments.snow",)
    make(trial, "")
    assert load(truck.opened.source.path).data["fitments"]["snow"]["wheel"] == {"backspace": "4 in"}


def test_an_empty_value_takes_an_entry_or_a_table_away(truck):
    make(attempt(truck, "use.door_height=", "limits.least_door_gap="), "")
    data = load(truck.opened.source.path).data
    assert "door_height" not in data["use"] and "least_door_gap" not in data["limits"]


def test_a_limit_is_set_aside_with_the_reason_of_the_change(truck):
    name = next(
        node for node, one in truck.sheet.catalog.assumed.items() if one.limit and node not in truck.project.limits
    )
    text = truck.sheet.catalog.assumed[name].text
    assert "reason" in refusal(truck, f"limits.{name}.value={text}")
    make(attempt(truck, f"limits.{name}.value={text}", because="as it stands"), "as it stands")
    assert load(truck.opened.source.path).data["limits"][name]["because"] == "as it stands"


def test_what_another_program_wrote_meanwhile_is_not_written_over(truck):
    path = truck.opened.source.path
    trial = attempt(truck, f"{BACKSPACE}=4 1/2 in")
    path.write_bytes(path.read_bytes() + b"# by hand\n")
    theirs = path.read_bytes()
    with pytest.raises(NotSaved, match="changed by another program"):
        make(trial, "")
    assert path.read_bytes() == theirs and not diary_path(path).exists()


def test_where_the_project_cannot_be_written_the_diary_is_not_either(truck, monkeypatch):
    path = truck.opened.source.path
    make(attempt(truck, "vehicle.name=first"), "")
    opened = open_project(path, DAY)
    project, diary = path.read_bytes(), diary_path(path).read_bytes()

    def broken(*_):
        raise OSError(28, "no space")

    monkeypatch.setattr("os.replace", broken)
    with pytest.raises(NotSaved):
        make(attempt(opened, "vehicle.name=second"), "")
    assert path.read_bytes() == project and diary_path(path).read_bytes() == diary


@pytest.mark.parametrize(
    ("pairs", "words"),
    [
        (["vehicle.wheelbase=12 parsecs", "plan.start=soon"], ["vehicle.wheelbase", "plan.start"]),  # both at once
        (["parts.wheels.price=-5"], ["parts[0].price", "-5"]),
        (["parts.wheels.state=eaten"], ["'wanted'"]),
        (["plan.chosen=talll"], ["tall or modest"]),
        (["fitments.tall="], ["plan.chosen", "modest"]),
        (["limits.poke_alowance.value=1 in"], ["poke_allowance"]),
        (["vehicle.name=\ud800"], ["half a character"]),
        (["use.door_height=86 in", "use.door_height=87 in"], ["given twice"]),
        (["limits.least_door_gap=", "limits.least_door_gap.value=1 in"], ["given twice"]),
        (["fitments.modest.wheel.offset="], ["nothing to delete"]),
        (["tasks.own.bearings.after=own.brake_shop"], ["own.bearings waits on own.brake_shop"]),
        (["tasks.own.bearings.after=own.nobody"], ["own.nobody"]),
        (["format=99"], ["newer program"]),
    ],
)
def test_what_would_make_a_wrong_file_is_refused_whole(county, pairs, words):
    told = refusal(county, *pairs)
    assert all(word in told for word in words)


def test_changes_may_also_be_given_as_data_as_the_screens_do(county):
    trial = try_changes(county, {("fitments", "tall", "wheel", "backspace"): "4 1/2 in ± 1/16 in"})
    assert trial.effects.figures == attempt(county, f"{BACKSPACE}=4 1/2 in ± 1/16 in").effects.figures


def test_two_states_of_a_project_are_held_against_each_other_as_a_change_is(county):
    trial = attempt(county, f"{BACKSPACE}=4 1/2 in ± 1/16 in")
    assert tried(county, trial.after).effects == trial.effects
    back = tried(trial.after, county).effects
    assert {flag.rule.name for flag in back.up} <= {
        flag.rule.name for flag in (*trial.effects.cleared, *trial.effects.changed)
    }


def test_where_the_text_cannot_be_amended_it_is_written_anew_and_the_old_one_kept(truck, monkeypatch):
    def cannot(*_):
        raise amending.CannotAmend("no")

    monkeypatch.setattr(migrating, "amend", cannot)
    path = truck.opened.source.path
    old = path.read_bytes()
    trial = attempt(truck, "vehicle.name=Unit 14")
    assert trial.comments_lost
    done = make(trial, "")
    assert done.written.kept is not None and done.written.kept.read_bytes() == old
    assert load(path).data["vehicle"]["name"] == "Unit 14"


def test_several_new_entries_of_a_list_are_begun_by_one_change(truck):
    at = len(truck.project.parts)
    pairs = [f"parts[{at}].title=a", f"parts[{at + 1}].title=b", f"parts[{at + 1}].payments[0].amount=1"]
    trial = attempt(truck, *pairs, f"parts[{at + 1}].payments[1].amount=2")
    added = trial.after.project.parts[at:]
    assert [one.title for one in added] == ["a", "b"]
    assert [one.amount for one in added[1].payments] == [Decimal(1), Decimal(2)]
    with pytest.raises(RefusedChange, match=r"parts\[\d+\].title: there's no such key"):
        attempt(truck, f"parts[{at + 1}].title=b", f"parts[{at}].title=a")  # one after the other
