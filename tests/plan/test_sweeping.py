"""The sweep of a whole project: from readings in the file to words that a person can go and look at."""

from datetime import date
from math import degrees
from pathlib import Path

import pytest
from plain_truck import PLAIN

from planner.plan.answers.flagging import flags
from planner.plan.answers.open_project import open_project, open_sound
from planner.plan.drawings.backspace_window import window_picture
from planner.project.faults import Faulty
from planner.project.reading import raise_faults
from planner.trade.fit.window import evenly
from planner.worksheet.outcome import Known

TODAY = date(2026, 11, 25)
COUNTY = Path(__file__).parents[2] / "projects" / "county-road-4x4.toml"
STANDS = ("raised", "too close to call")
TRUCK = """
format = 1
[vehicle]
units = "metric"
[axles.rear]
face_to_face = "1500 mm"
[axles.rear.travel]
bump = "{bump}"
droop = "0 mm"
[axles.front]
face_to_face = "1500 mm"
[axles.front.travel]
bump = "0 mm"
droop = "0 mm"
[axles.front.kingpin]
inset = "0 mm"
inclination = "0 deg"
caster = "0 deg"
[axles.front.steering]
stop_angle = "{stop}"
stop_arm = "150 mm"
[fitments.found.tire]
overall_diameter = "{diameter}"
section_width = "{section}"
tread_width = "{section}"
[fitments.found.wheel]
rim_width = "160 mm"
rim_diameter = 16
barrel_radius = "190 mm"
offset = "{offset}"
"""
STANDING = {"bump": "0 mm", "stop": "30 deg", "diameter": "800 mm", "section": "200 mm", "offset": "0 mm"}


@pytest.fixture
def truck(tmp_path):
    def make(*obstacles: str, **entries: str):
        path = tmp_path / "truck.toml"
        path.write_text(
            TRUCK.format(**{**STANDING, **entries}) + PLAIN + "\n".join(f"[[obstacles]]\n{one}" for one in obstacles)
        )
        return open_project(path, TODAY)

    return make


def rear(at: str, name: str = "stone", more: str = "") -> str:
    return f'name = "{name}"\naxle = "rear"\nside = "left"\nmoves_with = "body"\nat = {at}\n{more}'


def front(at: str, name: str = "rail", more: str = "") -> str:
    return f'name = "{name}"\naxle = "front"\nside = "left"\nmoves_with = "body"\nat = {at}\n{more}'


def clearance(opened, name="stone") -> Known:
    outcome = opened.sheet.outcome(opened.spot("least_clearance", fitment="found", obstacle=name))
    assert isinstance(outcome, Known)
    return outcome


def flag_of(opened, rule: str):
    return next(flag for flag in flags(opened, worded=True) if flag.rule.name.endswith(rule))


def test_a_point_above_the_tread_is_its_height_less_the_radius(truck):
    # 0.500 m above the axle, tire of 0.400 m radius, no travel: 100 mm by hand
    opened = truck(rear('["0 mm", "0 mm", "500 mm"]'))
    assert clearance(opened).value == pytest.approx(0.100, abs=1e-4)


def test_bump_takes_the_axle_up_to_the_point(truck):
    # Both ends up 60 mm leave 40 mm of the 100. Crossed, the far end held at no droop, the axle rolls about its middle
    # by sin φ = 60/1500: 470 cos φ − 750 sin φ = 469.624 − 30 = 439.624 mm above the hub, 39.624 mm of room, the less.
    opened = truck(rear('["0 mm", "0 mm", "500 mm"]'), bump="60 mm")
    assert clearance(opened).value == pytest.approx(0.039624, abs=1e-4)
    flag = flag_of(opened, "tire_too_near")
    assert flag.verdict.answer == "clear"
    place = opened.sheet.value(opened.spot("clearance_place", fitment="found", obstacle="stone"))
    assert place == "left rear, this wheel up 60.0 mm, the far one at ride height: tread to stone"
    assert place in flag.says


def test_a_point_beside_the_sidewall_is_its_distance_less_half_the_section(truck):
    # 130 mm inboard of the face, offset nothing, half the section 100 mm: 30 mm
    opened = truck(rear('["0 mm", "-130 mm", "0.25 m"]'))
    assert clearance(opened).value == pytest.approx(0.030, abs=1e-4)
    # and 20 mm more offset brings the sidewall 20 mm further inboard
    opened = truck(rear('["0 mm", "-130 mm", "0.25 m"]'), offset="20 mm")
    assert clearance(opened).value == pytest.approx(0.010, abs=1e-4)


def test_steer_about_an_upright_kingpin_through_the_hub_is_the_textbook_turn(truck):
    # A point 300 mm ahead, 250 mm inboard comes within 20 mm of a sidewall 100 mm inboard where
    # 0.3905 sin(39.806° − s) = 0.120, s = 21.91°: the front of the wheel turned in.
    opened = truck(front('["300 mm", "-250 mm", "0 mm"]', more='wants = "20 mm"'))
    limit = opened.sheet.value(opened.spot("outer_steer_limit", fitment="found", axle="front"))
    assert degrees(limit) == pytest.approx(21.91, abs=0.02)


def test_the_stop_screw_that_goes_with_a_lesser_lock_is_a_chord(truck):
    # the mirrored point, 300 mm behind, stops the inner wheel (front outboard) at the same 21.91°
    opened = truck(front('["-300 mm", "-250 mm", "0 mm"]', more='wants = "20 mm"'))
    extension = opened.sheet.value(opened.spot("stop_extension", fitment="found", axle="front"))
    # 2 × 150 mm × sin((30° − 21.91°)/2) = 21.16 mm
    assert extension == pytest.approx(0.02116, abs=1e-4)
    flag = flag_of(opened, "locks_too_wide")
    assert flag.verdict.answer == "raised" and "rail" in flag.says


def test_a_measuring_tolerance_takes_off_what_the_normal_lets_through(truck):
    opened = truck(rear('["0 mm", "0 mm", "500 mm ± 5 mm"]'))
    outcome = clearance(opened)
    assert outcome.low <= 0.095 and outcome.high >= 0.105 - 1e-9
    # a reading that is only uncertain along the tread hardly matters
    along = clearance(truck(rear('["0 mm", "0 mm ± 5 mm", "500 mm"]')))
    assert along.high == pytest.approx(0.100, abs=2e-4)


def test_a_tire_that_may_be_larger_has_less_room_at_the_worst(truck):
    opened = truck(rear('["0 mm", "0 mm", "500 mm"]'), diameter="800 mm ± 10 mm")
    assert clearance(opened).low == pytest.approx(0.095, abs=2e-4)
    assert clearance(opened).high == pytest.approx(0.105, abs=2e-4)


@pytest.mark.parametrize("y", ["-130 mm", "130 mm"])
def test_an_offset_that_may_be_off_takes_as_much_off_on_either_side(truck, y):
    # 130 − 100 = 30 mm to the sidewall, and the wheel may stand 10 mm further that way: 20 mm at the worst
    opened = truck(rear(f'["0 mm", "{y}", "0.25 m"]'), offset="0 mm ± 10 mm")
    assert clearance(opened).low == pytest.approx(0.020, abs=6e-4)


def test_a_tire_whose_tread_is_narrower_than_its_section_has_room_at_its_shoulder(truck):
    # A stone as high as the crown, where the section ends: a tread as wide comes within a few millimeters, that which
    # its crown drops; beside one half as wide the shoulder falls away round.
    opened = truck(rear('["0 mm", "-100 mm", "400 mm"]'))
    path = opened.opened.source.path
    path.write_text(path.read_text().replace('tread_width = "200 mm"', 'tread_width = "100 mm"'))
    assert clearance(opened).low < 0.003 and clearance(open_project(path, TODAY)).low > 0.020


def test_an_unmeasured_obstacle_is_not_known_and_says_how_to_measure_it(truck):
    opened = truck('name = "hose"\naxle = "rear"\nmoves_with = "body"\nmeasure = "to its bend"\n')
    flag = flag_of(opened, "tire_too_near")
    assert flag.verdict.answer == "not known" and flag.needs == ("obstacles[0].at",)


def test_what_the_sweep_lacks_is_named_by_its_key(truck, tmp_path):
    path = tmp_path / "bare.toml"
    path.write_text("format = 1\n[[obstacles]]\n" + rear('["0 mm", "0 mm", "500 mm"]'))
    flag = flag_of(open_project(path, TODAY), "tire_too_near")
    assert {"axles.rear.face_to_face", "axles.rear.travel.bump", "fitments.found.tire.designation"} <= set(flag.needs)


def test_an_obstacle_inside_the_tire_found_is_a_wrong_reading_with_its_place(truck):
    opened = truck(rear('["0 mm", "0 mm", "300 mm"]'))
    with pytest.raises(Faulty, match=r"truck.toml:\d+: obstacles\[0\].at: stone is inside the tire"):
        raise_faults(opened.opened)


def test_a_tread_wider_than_its_section_is_named(truck, tmp_path):
    with pytest.raises(Faulty, match="tread_width"):
        path = tmp_path / "wide.toml"
        text = TRUCK.format(**STANDING).replace('tread_width = "200 mm"', 'tread_width = "210 mm"')
        path.write_text(text)
        open_sound(path, TODAY)


def test_an_impossible_kingpin_is_named(tmp_path):
    path = tmp_path / "lean.toml"
    path.write_text(TRUCK.format(**STANDING).replace('inclination = "0 deg"', 'inclination = "50 deg"'))
    with pytest.raises(Faulty, match="axles.front.kingpin.inclination: read '50 deg'"):
        open_sound(path, TODAY)


def test_the_window_ends_where_an_obstacle_keeps_just_what_it_wants(truck):
    # A point 130 mm inboard beside the sidewall, wanting 10 mm: the sidewall may come to 120 mm inboard.
    # Half section 100 mm, so offset at most 20 mm; overall width 160 + 2 × 12.7, so backspace at most 20 + 92.7 mm.
    opened = truck(rear('["0 mm", "-130 mm", "0.25 m"]', more='wants = "10 mm"'))
    high = opened.sheet.value(opened.spot("window_high", fitment="found", axle="rear"))
    assert high == pytest.approx(0.1127, abs=1.1e-4)
    assert high <= 0.1127
    assert opened.sheet.value(opened.spot("window_high_binds", fitment="found", axle="rear")) == "stone"


def test_two_limits_that_leave_no_backspace_are_named_with_their_distance(truck):
    # A frame 110 mm inboard and a lip 100 mm outboard, each wanting 25 mm, half a section of 95 mm:
    # offset at most 110 − 25 − 95 = −10 mm for the one, at least 95 − (100 − 25) = 20 mm for the other: 30 mm apart.
    frame = rear('["0 mm", "-110 mm", "0.25 m"]', "frame", 'wants = "25 mm"')
    lip = rear('["0 mm", "100 mm", "0.25 m"]', "lip", 'wants = "25 mm"')
    opened = truck(frame, lip, section="190 mm")
    width = opened.sheet.value(opened.spot("window_width", fitment="found", axle="rear"))
    assert width == pytest.approx(-0.030, abs=1.1e-3)
    for name in ("no_backspace_fits", "no_backspace_clears"):
        flag = flag_of(opened, name)
        assert flag.verdict.answer == "raised" and "frame" in flag.says and "lip" in flag.says


def test_a_window_that_is_too_close_to_call_names_the_obstacles_that_would_settle_it(truck):
    # As above, but each measured to 16 mm: at the best the offset may be up to 6 mm and must be at least 4 mm.
    frame = rear('["0 mm", "-110 mm ± 16 mm", "0.25 m"]', "frame", 'wants = "25 mm"')
    lip = rear('["0 mm", "100 mm ± 16 mm", "0.25 m"]', "lip", 'wants = "25 mm"')
    opened = truck(frame, lip, section="190 mm")
    for name in ("no_backspace_fits", "no_backspace_clears"):
        flag = flag_of(opened, name)
        assert flag.verdict.answer == "too close to call"
        assert flag.settles == ("the rear frame's position and the rear lip's position",)


def test_a_wish_that_leaves_no_backspace_is_a_decision_and_no_stop(truck):
    # The frame alone lets the offset be −10 mm at the most (above). The sidewall 25 mm proud of an edge 50 mm out,
    # give or take half an inch, wants it at least 95 − 50 − 25 − 12.7 = 7.3 mm: 17.3 mm apart, but that is a wish.
    frame = rear('["0 mm", "-110 mm", "0.25 m"]', "frame", 'wants = "25 mm"')
    wish = '[axles.rear.fender]\nface_to_edge = "50 mm"\nwanted_poke = "25 mm"'
    opened = truck(f"{frame}\n{wish}", section="190 mm")
    assert flag_of(opened, "no_backspace_fits").verdict.answer == "raised"
    assert flag_of(opened, "no_backspace_fits").rule.severity == "caution"
    stop = next(
        flag for flag in flags(opened) if flag.rule.name.endswith("no_backspace_clears") and "rear" in flag.where
    )
    assert stop.rule.severity == "stop" and stop.verdict.answer == "clear"


def test_a_lock_past_which_the_tire_touches_is_a_stop(truck):
    # 21.91° is the most (above); the stop lets it turn 30°: nobody may drive it so
    opened = truck(front('["-300 mm", "-250 mm", "0 mm"]', more='wants = "20 mm"'))
    flag = flag_of(opened, "locks_too_wide")
    assert flag.verdict.answer == "raised" and flag.rule.severity == "stop"


def test_a_lock_is_not_known_while_an_obstacle_is_entered_halfway_but_too_wide_it_stays(truck):
    half = 'name = "post"\naxle = "front"\nmoves_with = "body"\n'
    rail = front('["-300 mm", "-250 mm", "0 mm"]', more='wants = "20 mm"')
    assert flag_of(truck(rail, stop="20 deg"), "locks_too_wide").verdict.answer == "clear"
    within = flag_of(truck(rail, half, stop="20 deg"), "locks_too_wide")
    assert within.verdict.answer == "not known" and within.wants == ("front post's position",)
    # 21.91° is the most by the rail alone, and nothing that comes beside it makes it more
    assert flag_of(truck(rail, half), "locks_too_wide").verdict.answer == "raised"


def test_the_largest_tire_keeps_what_the_obstacle_wants(truck):
    # 500 mm up, wants 25 mm: radius 475 mm at most
    opened = truck(rear('["0 mm", "0 mm", "500 mm"]', more='wants = "25 mm"'))
    largest = opened.sheet.value(opened.spot("largest_tire", fitment="found", axle="rear"))
    assert largest == pytest.approx(0.950, abs=2e-4) and largest <= 0.950


def test_a_rear_axle_that_does_not_steer_is_not_asked_how_far_it_does(truck):
    opened = truck(rear('["0 mm", "0 mm", "500 mm"]'))
    assert not any(flag.rule.name.endswith("locks_too_wide") and "rear" in flag.where for flag in flags(opened))


def test_the_picture_of_the_window_names_the_limit_that_each_cell_breaks(truck):
    opened = truck(rear('["0 mm", "0 mm", "500 mm"]', more='wants = "25 mm"'))
    picture = window_picture(opened, "found", "rear", evenly(0.7, 1.1, 9), evenly(0.05, 0.13, 5))
    for diameter, row in zip(picture.diameters, picture.broken, strict=True):
        assert all((name == "stone") == (diameter > 0.950) for name in row)


def test_a_lock_is_no_surer_than_the_reading_that_binds_it(truck):
    # At 21.91° by the reading as it stands (above), with the stop at 20°: it fits, if the reading is right.
    sure = truck(front('["-300 mm", "-250 mm", "0 mm"]', more='wants = "20 mm"'), stop="20 deg")
    assert flag_of(sure, "locks_too_wide").verdict.answer == "clear"
    unsure = truck(
        front('["-300 mm ± 20 mm", "-250 mm ± 20 mm", "0 mm ± 20 mm"]', more='wants = "20 mm"'), stop="20 deg"
    )
    flag = flag_of(unsure, "locks_too_wide")
    assert flag.verdict.answer == "too close to call" and "the front rail's position" in flag.settles[0]


def test_stops_that_are_too_close_to_call_stand_before_cautions():
    found = flags(open_project(COUNTY, TODAY))
    shown = [(flag.rule.severity, flag.verdict.answer) for flag in found if flag.verdict.answer in STANDS]
    last_stop = max(at for at, (severity, _) in enumerate(shown) if severity == "stop")
    first_caution = min(at for at, (severity, _) in enumerate(shown) if severity == "caution")
    assert last_stop < first_caution


STONE = rear('["100 mm", "250 mm", "300 mm"]')
RAIL = front('["-430 mm", "-250 mm", "0 mm"]')


def test_a_travel_that_cannot_be_is_told_by_its_key_as_written_and_in_the_persons_units(truck):
    # the sine of 30° of 1500 mm between the faces, half of it to each side of the middle: 375 mm
    opened = truck(STONE, bump="370 mm ± 10 mm")
    said = " ".join(opened.swept.troubles.values())
    assert "axles.rear.travel.bump: read 370 mm ± 10 mm; 380.0 mm (14.96 in) is impossible" in said
    assert "accepted: from 0 to 375.0 mm (14.76 in), a roll of 30°" in said
    assert "0.38" not in said and "0.375" not in said


def test_what_only_a_tolerance_makes_impossible_is_told_so_too(truck, tmp_path):
    path = truck(RAIL).opened.source.path
    path.write_text(path.read_text().replace('inclination = "0 deg"', 'inclination = "44 deg ± 2 deg"'))
    said = " ".join(open_project(path, TODAY).swept.troubles.values())
    assert "axles.front.kingpin.inclination: read 44 deg ± 2 deg; 46.0° is" in said
    assert "less than 45° either way" in said and "rad" not in said


def test_no_trouble_of_the_sweep_is_in_bare_meters(truck):
    for entries in ({"bump": "370 mm ± 10 mm"}, {"stop": "80 deg ± 20 deg"}):
        troubles = truck(STONE, RAIL, **entries).swept.troubles
        assert troubles, entries
        for said in troubles.values():
            assert " m," not in said and " m " not in said and not said.endswith(" m") and "read 0." not in said
            assert "axles." in said, said


def test_a_travel_that_cannot_be_is_told_while_the_backspace_is_open(tmp_path):
    path = tmp_path / "truck.toml"
    path.write_text(
        'format = 2\n[axles.rear]\nface_to_face = "66 in"\n[axles.rear.travel]\nbump = "42 in"\ndroop = "3 in"\n'
        '[fitments.new.tire]\ndesignation = "37x12.50R17LT"\n[fitments.new.wheel]\nrim_width = "9 in"\n'
        '[[obstacles]]\nname = "spring"\naxle = "rear"\nmoves_with = "body"\nat = ["0 in", "-9 in", "8 in"]\n',
        encoding="utf-8",
    )
    opened = open_project(path)
    assert "42 in" in opened.trouble(opened.spot("window_width", fitment="new", axle="rear"))
