"""The projects that come with the planner: they open, and what they raise is what a careful owner should hear."""

from datetime import date
from pathlib import Path

import pytest

from planner.plan.answers.flagging import flags
from planner.plan.answers.open_project import open_project

PROJECTS = Path(__file__).parents[1] / "projects"
TODAY = date(2026, 11, 25)


def opened(name):
    return open_project(PROJECTS / f"{name}.toml", today=TODAY)


def answers(found, rule):
    """What one rule says, by place."""
    return {flag.where: flag.verdict.answer for flag in found if flag.rule.name == rule}


@pytest.fixture(scope="module")
def county():
    return opened("county-road-4x4")


@pytest.fixture(scope="module")
def county_flags(county):
    return flags(county)


@pytest.fixture(scope="module")
def forestry_flags():
    return flags(opened("forestry-4x4"))


@pytest.fixture(scope="module")
def quarry_flags():
    return flags(opened("quarry-flatbed"))


@pytest.fixture(scope="module")
def begun_flags():
    return flags(opened("just-begun"))


@pytest.mark.parametrize("path", sorted(PROJECTS.glob("*.toml")), ids=lambda path: path.stem)
def test_each_project_opens_without_faults_or_notices(path):
    assert not open_project(path, today=TODAY).opened.notices


@pytest.mark.parametrize("path", sorted(PROJECTS.glob("*.toml")), ids=lambda path: path.stem)
def test_no_rule_stumbles_over_what_was_entered(path):
    assert not [
        (flag.rule.name, flag.verdict.trouble)
        for flag in flags(open_project(path, today=TODAY))
        if flag.verdict.trouble
    ]


@pytest.mark.parametrize("path", sorted(PROJECTS.glob("*.toml")), ids=lambda path: path.stem)
def test_readings_and_records_speak_of_entries_that_are_there_as_they_are_written(path):
    found = open_project(path, today=TODAY)
    project = found.project
    assert not [one.of for one in project.readings if found.text_of(one.of) == "not entered"]
    for record in (*project.decisions, *project.acceptances, *project.tasks):
        rested_on = found.rested_on(record) or {}
        assert {key: found.text_of(key) for key in rested_on} == rested_on


@pytest.mark.parametrize("path", sorted(PROJECTS.glob("*.toml")), ids=lambda path: path.stem)
def test_every_obstacle_says_where_it_is_and_what_it_moves_with(path):
    for obstacle in open_project(path, today=TODAY).project.obstacles:
        assert obstacle.name and obstacle.axle and obstacle.moves_with and obstacle.at and obstacle.wants, obstacle


def test_the_county_truck_weighs_two_candidates_and_has_chosen_one(county):
    assert county.candidates == ("tall", "modest")
    assert county.planned == ("tall",)


def test_the_county_truck_raises_its_rims_its_speedometer_and_its_gearing_among_others(county_flags):
    raised = {flag.rule.name for flag in county_flags if flag.verdict.answer == "raised"}
    assert {
        "wheel.multi_piece_rims",
        "speedometer.reads_low",
        "gearing.effective_ratio_moved",
        "brakes.braking_force_lost",
        "wheel.unsprung_mass_grown",
    } <= raised


def test_the_county_truck_clears_what_its_owner_took_care_of(county_flags):
    clear = {flag.rule.name for flag in county_flags if flag.verdict.answer == "clear"}
    assert {
        "tire.rim_outside_tires_range",
        "tire.carries_less_than_rating",
        "wheel.seat_angle_differs",
        "wheel.thread_engagement_short",
        "stance.cg_not_measured",
    } <= clear


def test_gears_between_a_bias_and_a_radial_tire_wait_for_a_roll_out(county_flags):
    sets = next(flag for flag in county_flags if flag.rule.name == "gearing.no_gear_set_restores")
    assert sets.verdict.answer == "too close to call"
    assert sets.settles == ("the tires' roll-out over the floor (tire.rolling_circumference)",)


def test_a_clear_rule_does_not_print_the_sentence_meant_for_raised(county):
    says = {flag.rule.name: flag.says for flag in flags(county, worded=True) if flag.verdict.answer == "clear"}
    assert "not known" not in says["stance.cg_not_measured"]
    # 118 × 150 / 5820 / tan(asin(24 / 118)) = 14.64 above the axles, which stand at 15 5/8 in on the tires as found
    assert "30.27 in" in says["stance.cg_not_measured"]


@pytest.mark.parametrize("path", sorted(PROJECTS.glob("*.toml")), ids=lambda path: path.stem)
def test_every_clear_answer_says_something_with_every_value_in_it(path):
    for flag in flags(open_project(path, today=TODAY), worded=True):
        if flag.verdict.answer == "clear":
            assert flag.says.endswith("."), flag.rule.name
            assert not set("{}[]…") & set(flag.says) and "not known" not in flag.says, (flag.rule.name, flag.says)


def test_the_county_trucks_speedometer_is_judged_by_its_teeth(county_flags):
    low = next(flag for flag in county_flags if flag.rule.name == "speedometer.reads_low")
    assert "by the teeth of its drive" in low.says


def test_old_tires_count_where_they_are_and_new_ones_only_with_their_date(county_flags, begun_flags):
    assert set(answers(county_flags, "tire.found_tires_too_old").values()) == {"raised"}
    assert not answers(begun_flags, "tire.too_old")


def test_a_measured_barrel_is_not_asked_for_its_well(forestry_flags):
    asked = {need for flag in forestry_flags if flag.verdict.answer == "not known" for need in flag.needs}
    assert not [need for need in asked if need.endswith(("well_depth", "barrel_thickness"))]


def test_ball_seats_are_not_asked_for_an_angle(forestry_flags):
    assert answers(forestry_flags, "wheel.seat_angle_differs")["front"] == "clear"
    asked = {need for flag in forestry_flags if flag.verdict.answer == "not known" for need in flag.needs}
    assert "fitments.soft.wheel.seat_angle" not in asked


def test_the_county_truck_has_cautions_that_were_accepted_with_a_reason_and_still_hold(county_flags):
    accepted = [flag for flag in county_flags if flag.acceptance is not None]
    assert {(flag.rule.name, flag.where) for flag in accepted} == {
        ("steering.bearing_moment_grown", "front"),
        ("steering.bearing_moment_grown", "rear"),
    }
    assert not any(flag.lapsed or flag.counts for flag in accepted)


def test_the_rear_drum_of_the_county_truck_is_too_close_to_call_until_it_is_measured_better(county_flags):
    assert answers(county_flags, "brakes.barrel_near_brake") == {"front": "clear", "rear": "too close to call"}
    rear = next(flag for flag in county_flags if flag.rule.name == "brakes.barrel_near_brake" and flag.where == "rear")
    assert rear.settles and rear.settles[0].startswith("the rear brake radius to ±")


def test_the_same_studs_are_sure_by_caliper_and_too_close_to_call_by_steel_rule(county_flags):
    assert answers(county_flags, "wheel.stud_circle_differs") == {"front": "clear", "rear": "too close to call"}


def test_the_county_trucks_owner_set_limits_of_their_own_with_reasons(county):
    assert county.project.limits
    assert all(change.because for change in county.project.limits.values())


def test_the_forestry_truck_is_judged_differently_at_its_two_axles(forestry_flags):
    assert answers(forestry_flags, "fit.poke_past_local_code") == {"front": "raised", "rear": "clear"}
    assert answers(forestry_flags, "fit.tire_large_for_opening") == {"front": "raised", "rear": "clear"}


def test_half_worn_tires_in_front_drag_behind_new_ones_in_four_wheel_drive(forestry_flags):
    assert answers(forestry_flags, "gearing.axles_travel_apart") == {"": "raised"}


def test_what_the_forestry_trucks_owner_has_not_measured_is_asked_for(forestry_flags):
    assert answers(forestry_flags, "steering.bearing_moment_grown") == {"front": "raised", "rear": "not known"}
    asked = {need for flag in forestry_flags if flag.verdict.answer == "not known" for need in flag.needs}
    assert {"axles.rear.bearing_setback", "axles.rear.brake.radius"} <= asked
    assert any(need.endswith("wheel.load_rating") for need in asked)


def test_the_quarry_flatbeds_pairs_are_judged_as_pairs_and_its_front_wheels_alone(quarry_flags):
    for rule in ("wheel.spacing_below_makers", "wheel.sidewalls_too_near", "wheel.inner_valve_out_of_reach"):
        assert set(answers(quarry_flags, rule)) == {"rear"}, rule
    assert answers(quarry_flags, "wheel.spacing_below_makers") == {"rear": "clear"}
    assert answers(quarry_flags, "wheel.sidewalls_too_near") == {"rear": "clear"}
    assert answers(quarry_flags, "wheel.spare_for_each_axle") == {"": "clear"}
    assert answers(quarry_flags, "fit.backspace_outside_window") == {"front": "clear", "rear": "clear"}


def test_what_cannot_be_known_of_a_pair_before_it_is_there_is_asked_for(quarry_flags):
    asked = {need for flag in quarry_flags if flag.verdict.answer == "not known" for need in flag.needs}
    pair = "fitments.wide.pair"
    assert {f"{pair}.diameter_difference", f"{pair}.inner_valve_reached"} <= asked


def test_nothing_on_the_quarry_flatbed_is_a_stop_and_its_owner_hears_of_rims_and_threads(quarry_flags):
    raised = {flag.rule.name for flag in quarry_flags if flag.verdict.answer == "raised"}
    assert {"wheel.multi_piece_rims", "wheel.left_hand_threads", "tire.found_tires_too_old"} <= raised
    assert not [flag for flag in quarry_flags if flag.verdict.answer == "raised" and flag.rule.severity == "stop"]


def test_the_truck_just_begun_is_mostly_not_known_and_raises_nothing_false(begun_flags):
    assert sum(flag.verdict.answer == "not known" for flag in begun_flags) > len(begun_flags) / 2
    raised = {flag.rule.name for flag in begun_flags if flag.verdict.answer == "raised"}
    # Nobody has weighed it or looked at its rims, and two tire sizes alone say which way the speedometer goes.
    assert raised == {"stance.cg_not_measured", "wheel.multi_piece_rims", "speedometer.reads_low"}
