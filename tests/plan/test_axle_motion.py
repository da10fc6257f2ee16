"""What the axle's motion means for a whole project: obstacles by kind, spacings not measured, and what is not known.

Each truck here is one of which a clear would be false, or a stop too much.
"""

from datetime import date
from pathlib import Path

import pytest
from plain_truck import PLAIN

from planner.plan.answers.flagging import flags
from planner.plan.answers.open_project import open_project

TODAY = date(2026, 11, 28)
# A tire of 400 mm radius, 200 mm wide, no offset. Stops and straps 750 mm apart on an axle of 1,500 mm, 60 mm up and
# down: rolled as far as it goes, sin φ = 120/750 = 0.16, this wheel stands 750 × 0.16 = 120 mm up.
TRUCK = """format = 2
[vehicle]
units = "metric"
[axles.{axle}]
face_to_face = "1500 mm"
{more}
[axles.{axle}.travel]
bump = "60 mm"
droop = "60 mm"
{travel}
[axles.front.kingpin]
inset = "0 mm"
inclination = "0 deg"
caster = "0 deg"
[axles.front.steering]
stop_angle = "30 deg"
[fitments.found.tire]
overall_diameter = "800 mm"
section_width = "200 mm"
tread_width = "200 mm"
[fitments.found.wheel]
rim_width = "160 mm"
rim_diameter = 16
barrel_radius = "190 mm"
offset = "0 mm"
"""
HALF = PLAIN.replace('stops_share]\nvalue = "1"', 'stops_share]\nvalue = "0.5"').replace(
    'droop_share]\nvalue = "1"', 'droop_share]\nvalue = "0.5"'
)
UNMEASURED = PLAIN.replace('[assumptions.stops_share]\nvalue = "1"\n', "").replace(
    '[assumptions.droop_share]\nvalue = "1"\n', ""
)
ROAD = '[assumptions.road_cross_travel]\nvalue = "50 mm"\n'


@pytest.fixture
def judged(tmp_path: Path):
    def make(at: str = '["0 mm", "0 mm", "500 mm"]', obstacle: str = "", assumed: str = HALF, axle: str = "rear",
             rides: str = "body", **entries: str):  # fmt: skip
        path = tmp_path / "truck.toml"
        truck = TRUCK.replace('offset = "0 mm"\n', entries.get("offset", 'offset = "0 mm"\n'))
        text = truck.format(axle=axle, travel=entries.get("travel", ""), more=entries.get("more", "")) + assumed
        text += f'[[obstacles]]\nname = "stone"\naxle = "{axle}"\nmoves_with = "{rides}"\nat = {at}\n{obstacle}\n'
        path.write_text(text, encoding="utf-8")
        opened = open_project(path, TODAY)
        found = flags(opened, worded=True)
        return opened, {flag.rule.node: flag for flag in found if "stone" in flag.where or axle in flag.where}

    return make


def told(flag) -> tuple[str, str]:
    return flag.rule.severity, flag.verdict.answer


def test_crossed_as_far_as_its_stops_let_it_a_wheel_goes_higher_than_its_bump(judged):
    # The point stands 500 cos φ − 750 × 0.16 = 493.6 − 120 = 373.6 mm above the axle line and 820 − 750 = 70 outboard.
    # The crown drops by 3.5 % of 200, 7 mm, from (50, 400) to (100, 393): at 70 it is at 397.2, 23.6 above the point,
    # and across its slope of 7 in 50 that is 23.6 × 0.990 = 23.4 mm.
    opened, found = judged(obstacle='kind = "frame"')
    assert opened.sheet.value(opened.spot("least_clearance", fitment="found", obstacle="stone")) == pytest.approx(
        -0.0234, abs=2e-4
    )
    assert told(found["tire_touches"]) == ("stop", "raised")
    assert "this wheel up 120.0 mm, the far one down 120.0 mm" in found["tire_touches"].says
    assert "tire_near" not in found and "tire_too_near" not in found  # one cause, one flag


def test_sheet_metal_that_is_only_touched_off_the_road_is_a_caution_and_can_be_taken_on(judged):
    # A road that asks 50 mm: sin φ = 1/30, the middle up 60 − 12.5, 452.5 × 0.99944 − 25 = 427.2: 27 mm of room.
    _, found = judged(obstacle='kind = "sheet metal"\nwants = "10 mm"', assumed=HALF + ROAD)
    assert told(found["tire_touches"]) == ("stop", "clear")
    assert told(found["tire_touches_off_road"]) == ("caution", "raised")
    assert "only off road" in found["tire_touches_off_road"].says
    assert "this wheel up 72" in found["tire_touches"].says  # where it comes nearest on a road


@pytest.mark.parametrize(
    ("kind", "rule", "severity"),
    [
        ("", "tire_too_near", "stop"),
        ('kind = "brake"', "tire_too_near", "stop"),
        ('kind = "spring"', "tire_near", "caution"),
        ('kind = "sheet metal"', "tire_near", "caution"),
    ],
)
def test_less_room_than_wanted_is_a_stop_for_what_steers_and_brakes_and_for_what_nobody_named(
    judged, kind, rule, severity
):
    _, found = judged('["0 mm", "0 mm", "560 mm"]', f'{kind}\nwants = "60 mm"')  # 560 cos φ − 120 − 400: 33 mm
    assert told(found[rule]) == (severity, "raised")
    assert ("It has no kind" in found[rule].cure) == (not kind)
    others = {"tire_too_near", "tire_near"} - {rule}
    assert not others & set(found)


def test_what_only_an_unmeasured_spacing_keeps_open_is_one_line_of_the_axle_that_asks_for_it(judged):
    opened, found = judged('["0 mm", "0 mm", "500 mm"]', 'kind = "frame"\nwants = "0 mm"', assumed=UNMEASURED)
    assert told(found["roll_not_measured"]) == ("stop", "too close to call")
    assert "stone" in found["roll_not_measured"].says and "tire_touches" not in found
    assert "the rear bump stop spacing" in " ".join(found["roll_not_measured"].settles)
    _, found = judged('["0 mm", "0 mm", "500 mm"]', 'kind = "frame"\nwants = "0 mm"',
                      travel='stops_apart = "1400 mm"\ndroop_apart = "1400 mm"', assumed=UNMEASURED)  # fmt: skip
    assert told(found["tire_touches"]) == ("stop", "clear") and "roll_not_measured" not in found


# With stops 0.8 × 1,500 apart sin φ is 0.1: the bracket stands 430 cos φ − 550 × 0.1 = 373 mm up and 160 inboard, and
# to a wheel turned 30° 250 × 0.866 + 160 × 0.5 = 296 ahead: √(296² + 373²) − 400 = 76 mm of room. At 0.4 × 1,500 sin φ
# is 0.2: 311 up, 125 inboard, 279 ahead, and √(279² + 311²) − 400 = 18 mm are left.
BRACKET = '["250 mm", "-200 mm", "430 mm"]'
TELLS_OF_LOCK = {"locks_too_wide", "outer_lock_too_wide", "backspace_outside_window"}


def test_a_lock_and_a_backspace_that_only_an_unmeasured_spacing_keeps_open_stand_under_the_axles_one_line(judged):
    _, found = judged(BRACKET, 'kind = "steering"\nwants = "50 mm"', assumed=UNMEASURED, axle="front")
    assert told(found["roll_not_measured"]) == ("stop", "too close to call")
    assert "stone" in found["roll_not_measured"].says
    assert not any(found[rule].verdict.answer == "too close to call" for rule in TELLS_OF_LOCK & set(found))


def test_a_lock_that_no_spacing_would_free_is_told_beside_it(judged):
    _, found = judged(BRACKET, 'kind = "steering"\nwants = "120 mm"', assumed=UNMEASURED, axle="front")
    assert told(found["locks_too_wide"]) == ("stop", "raised")
    _, found = judged(BRACKET, 'kind = "steering"\nwants = "50 mm"', assumed=UNMEASURED, axle="front",
                      travel='stops_apart = "600 mm"\ndroop_apart = "600 mm"')  # fmt: skip
    assert "roll_not_measured" not in found and found["locks_too_wide"].verdict.answer != "clear"


def test_where_no_backspace_is_chosen_yet_a_window_that_only_a_spacing_closes_is_that_one_line(judged):
    # A tire 200 mm wide does not pass between two stones 230 apart, and no backspace of a rim 185 mm wide takes it past
    # one of them. Up by 75 it stays 560 - 75 - 400 = 85 mm below them; up by 150 it stands between them.
    both = """kind = "steering"\nwants = "30 mm"
[[obstacles]]\nname = "other stone"\naxle = "rear"\nmoves_with = "body"
kind = "steering"\nwants = "30 mm"\nat = ["0 mm", "115 mm", "560 mm"]"""
    _, found = judged('["0 mm", "-115 mm", "560 mm"]', both, assumed=UNMEASURED, offset="")
    assert told(found["roll_not_measured"]) == ("stop", "too close to call")
    assert "no_backspace_clears" not in found
    _, found = judged('["0 mm", "-115 mm", "560 mm"]', both, assumed=UNMEASURED, offset="",
                      travel='stops_apart = "600 mm"\ndroop_apart = "600 mm"')  # fmt: skip
    assert "roll_not_measured" not in found and found["no_backspace_clears"].verdict.answer != "clear"


def test_independent_suspension_is_not_known_since_a_bar_is_what_is_swept(judged):
    _, found = judged(more='suspension = "independent"')
    assert found["tire_too_near"].verdict.answer == "not known"
    assert "independent suspension" in found["tire_too_near"].verdict.trouble
    assert not {"roll_not_measured", "roll_not_measured_for_wish"} & set(found)


@pytest.mark.parametrize(
    ("travel", "said"),
    [
        ('stops_apart = "2 m"', "axles.rear.travel.stops_apart: read 2 m"),
        ('stops_apart = "60 mm"\ndroop_apart = "60 mm"', "bump and droop roll the axle past 30°"),
    ],
)
def test_spacings_that_cannot_be_are_told_by_name(judged, travel, said):
    opened, found = judged(travel=travel)
    assert any(said in trouble for trouble in opened.swept.troubles.values())
    assert found["tire_too_near"].verdict.answer == "not known"


@pytest.mark.parametrize(
    ("where", "camber", "room"), [("face", "3 deg", 30.0), ("plumb", "3 deg", 42.9), ("plumb", "-3 deg", 16.7)]
)
def test_a_wheel_that_leans_moves_what_was_measured_by_plumb_line(judged, where, camber, room):
    # Beside the sidewall 130 mm inboard and 250 up: seen from a wheel that leans out at the top by 3° it stands at
    # −130 cos 3° − 250 sin 3° = −142.9 mm, and leant in at −116.7; the sidewall stands at −100.
    opened, _ = judged(
        '["0 mm", "-130 mm", "250 mm"]',
        f'measured_from = "{where}"',
        rides="axle",
        more=f'camber = "{camber}"\ntoe = "0 mm"',
    )
    found = opened.sheet.value(opened.spot("least_clearance", fitment="found", obstacle="stone"))
    assert found * 1000 == pytest.approx(room, abs=0.15)


def test_what_a_lean_leaves_in_doubt_is_told_of_the_lean_and_not_of_the_obstacles_own_reading(judged):
    # 250 mm up, a degree of doubt is 250 × sin 1° = 4.4 mm across, where the reading itself is within 2 mm.
    opened, _ = judged(
        '["0 mm", "-130 mm ± 2 mm", "250 mm"]',
        'measured_from = "plumb"',
        rides="axle",
        more='camber = "0 deg ± 1 deg"\ntoe = "0 mm"',
    )
    spot = opened.spot("least_clearance", fitment="found", obstacle="stone")
    brought = dict(opened.swept.tolerance_sources[spot])
    assert brought["obstacles[0].at"] * 1000 == pytest.approx(2.0, abs=0.01)
    assert brought["axles.rear.camber"] * 1000 == pytest.approx(4.4, abs=0.2)


def test_beside_the_lower_third_of_a_tire_its_bulge_and_chains_are_said_not_to_be_swept(judged):
    # The radius is 400 mm: its lower third begins 133 below the axle.
    for up, said in (("-140 mm", True), ("-130 mm", False)):
        _, found = judged(f'["0 mm", "-160 mm", "{up}"]', 'kind = "brake"\nwants = "10 mm"', rides="axle")
        assert told(found["tire_too_near"]) == ("stop", "clear")
        assert ("a loaded tire bulges and chains stick out; the sweep" in found["tire_too_near"].says) == said


def test_a_wheel_with_nothing_measured_inboard_of_it_may_turn_nobody_knows_how_far(judged):
    _, found = judged('["900 mm", "250 mm", "0 mm"]', axle="front")
    assert found["locks_too_wide"].verdict.answer == "not known"
    assert "inboard" in " ".join(found["locks_too_wide"].wants)
    _, found = judged('["-300 mm", "-250 mm", "0 mm"]', axle="front")
    assert found["locks_too_wide"].verdict.answer == "raised"


def test_what_a_road_asks_counts_with_its_tolerance(judged):
    # A road that asks 50 mm or as much as 220: sin φ = 0.147, the middle up 60 − 55, 495 cos φ − 110 = 379.6: touched.
    wide = '[assumptions.road_cross_travel]\nvalue = "135 mm ± 85 mm"\n'
    _, found = judged(obstacle='kind = "sheet metal"\nwants = "10 mm"', assumed=HALF + wide)
    assert told(found["tire_touches"]) == ("stop", "too close to call")


def test_while_what_a_road_asks_cannot_be_read_nothing_that_rests_on_it_is_clear(judged):
    broken = '[assumptions.road_cross_travel]\nvalue = "a curb"\n'
    _, found = judged('["0 mm", "0 mm", "900 mm"]', 'kind = "sheet metal"', assumed=HALF + broken)
    assert found["tire_touches"].verdict.answer == "not known"
    assert "road_cross_travel" in " ".join(found["tire_touches"].needs)


def test_what_turns_with_the_wheel_tells_nothing_of_how_far_it_may_turn(judged):
    _, found = judged('["-150 mm", "-160 mm", "0 mm"]', axle="front", rides="knuckle")
    assert found["locks_too_wide"].verdict.answer == "not known"


def test_where_the_wheel_may_hardly_be_steered_at_all_the_lock_is_judged_all_the_same(tmp_path):
    # The lip of the first example 3 in outboard, in the sweep of the tread itself: some truck within the readings could
    # not be steered, and has no turning circle to tell. That is no reason to know nothing of its lock.
    text = (Path(__file__).parents[2] / "projects" / "county-road-4x4.toml").read_text(encoding="utf-8")
    before, lip, after = text.partition('name = "fender lip, top"')
    path = tmp_path / "truck.toml"
    path.write_text(before + lip + after.replace("7 in ± 1/8 in", "3 in ± 1/8 in", 2), encoding="utf-8")
    opened = open_project(path, TODAY)
    limit = opened.sheet.outcome(opened.spot("inner_steer_limit", fitment="tall", axle="front"))
    assert limit.low == 0.0
    told_of = {flag.rule.node: told(flag) for flag in flags(opened) if flag.where == "front"}
    assert told_of["locks_too_wide"] in {("stop", "raised"), ("stop", "too close to call")}
