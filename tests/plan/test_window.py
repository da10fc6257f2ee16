"""The window of backspaces of a whole project: what it says before a backspace is chosen, and where it says nothing.

Each truck here is one of which a clear would be false.
"""

from datetime import date
from pathlib import Path

import pytest
from plain_truck import PLAIN

from planner.commands.check import by_table
from planner.plan.answers.fit_words import backspaces
from planner.plan.answers.flagging import Flag, flags
from planner.plan.answers.measure_next import measure_next
from planner.plan.answers.open_project import open_project
from planner.plan.drawings.backspace_window import backspace_window, round_values
from planner.plan.fit.backspace_limits import backspace_limits
from planner.plan.fit.fit_limits import diameter_limits
from planner.plan.truck.project import OpenProject
from planner.quantities.show import Style

TODAY = date(2026, 11, 25)
TRUCK = """
format = 1
[vehicle]
units = "metric"
[axles.rear]
face_to_face = "1500 mm"
[axles.rear.travel]
bump = "0 mm"
droop = "0 mm"
[fitments.found.tire]
overall_diameter = "800 mm"
section_width = "200 mm"
tread_width = "200 mm"
[fitments.found.wheel]
rim_width = "160 mm"
flange_thickness = "10 mm"
rim_diameter = 16
barrel_radius = "190 mm"
{wheel}
{more}
"""
# A rim 180 mm wide over its flanges: backspace = offset + 90 mm. The sidewalls stand 100 mm to either side of −offset.
FRAME = ("frame", '["0 mm", "-150 mm", "250 mm"]')  # offset at most 150 − 20 − 100 = 30 mm: backspace at most 120 mm
LIP = ("lip", '["0 mm", "140 mm", "250 mm"]')  # offset at least 100 − (140 − 20) = −20 mm: backspace at least 70 mm


@pytest.fixture
def truck(tmp_path: Path):
    def make(*obstacles: tuple[str, str], offset: str = "0 mm", more: str = "") -> OpenProject:
        path = tmp_path / "truck.toml"
        wheel = f'offset = "{offset} ± 0 mm"' if offset else ""
        text = TRUCK.format(wheel=wheel, more=more) + PLAIN
        for name, at in obstacles:
            text += f'[[obstacles]]\nname = "{name}"\naxle = "rear"\nmoves_with = "body"\nat = {at}\nwants = "20 mm"\n'
        path.write_text(text, encoding="utf-8")
        return open_project(path, TODAY)

    return make


def value(opened: OpenProject, node: str) -> float | None:
    return opened.sheet.value(opened.spot(node, fitment="found", axle="rear"))


def flag_of(opened: OpenProject, rule: str) -> Flag:
    named = [flag for flag in flags(opened) if flag.rule.name == f"fit.{rule}"]
    return next(flag for flag in named if any("rear" in place for place in flag.places))


def test_the_window_answers_before_any_backspace_is_chosen(truck):
    chosen, asked = truck(FRAME, LIP), truck(FRAME, LIP, offset="")
    for opened in (chosen, asked):
        assert value(opened, "window_low") == pytest.approx(0.070, abs=1.1e-4)
        assert value(opened, "window_high") == pytest.approx(0.120, abs=1.1e-4)
        assert flag_of(opened, "no_backspace_clears").verdict.answer == "clear"
    assert flag_of(chosen, "backspace_outside_window").verdict.answer == "clear"
    outside = flag_of(asked, "backspace_outside_window")
    assert outside.verdict.answer == "not known" and set(outside.needs) == {
        "fitments.found.wheel.backspace", "fitments.found.wheel.offset",
    }  # fmt: skip
    # what is of one backspace waits for it
    assert value(asked, "largest_tire") is None and value(chosen, "largest_tire") is not None
    near = [flag.verdict.answer for flag in flags(asked) if flag.rule.name == "fit.tire_too_near"]
    assert near == ["not known"]
    assert backspace_window(asked, "found", "rear", 7, 21).worst is None


@pytest.mark.parametrize(
    ("left_out", "named"),
    [("moves_with", "rear post's mounting"), ("axle =", "post's axle"), ("at =", "rear post's position")],
)
def test_an_obstacle_entered_halfway_leaves_no_window_and_names_what_it_lacks(truck, left_out, named):
    # One that stands between frame and lip may take all of the room, wherever it turns out to be.
    opened = truck(FRAME, LIP, ("post", '["0 mm", "-120 mm", "300 mm"]'))
    assert flag_of(opened, "no_backspace_clears").verdict.answer == "clear"  # it takes 30 mm of the room
    whole = f'[[obstacles]]\nname = "post"\naxle = "rear"\nmoves_with = "body"\nat = {FRAME[1]}\n'
    lacking = "\n".join(line for line in whole.splitlines() if not line.startswith(left_out))
    half = truck(FRAME, LIP, more=lacking)
    for rule in ("no_backspace_clears", "no_backspace_fits", "backspace_outside_window"):
        flag = flag_of(half, rule)
        assert flag.verdict.answer == "not known", rule
        assert flag.wants == (named,), rule
    assert value(half, "window_low") is None and value(half, "largest_tire") is None
    assert backspace_window(half, "found", "rear", 7, 21).missing == (named,)


def test_what_fails_without_the_obstacle_entered_halfway_fails_with_it(truck):
    # A frame 110 mm in and a lip 105 mm out, each wanting 20 mm, leave 175 mm to a tire of 200. More takes more.
    near = ("frame", '["0 mm", "-110 mm", "250 mm"]'), ("lip", '["0 mm", "105 mm", "250 mm"]')
    half = '[[obstacles]]\nname = "post"\naxle = "rear"\nmoves_with = "body"\n'
    assert flag_of(truck(*near, more=half), "no_backspace_clears").verdict.answer == "raised"


def test_toward_where_nobody_measured_no_backspace_is_advised_and_none_is_clear(truck):
    # Only the lip is measured: there may be a spring 10 mm inside the sidewall.
    opened = truck(LIP, offset="60 mm")
    assert value(opened, "window_low") == pytest.approx(0.070, abs=1.1e-4)
    assert value(opened, "window_high") is None and value(opened, "window_choice") is None
    for rule in ("no_backspace_clears", "no_backspace_fits", "backspace_outside_window"):
        flag = flag_of(opened, rule)
        assert flag.verdict.answer == "not known", rule
        assert flag.wants == ("an obstacle inboard of the tire at the rear axle",), rule
    lines = {line.name: line for line in backspaces(opened, flags(opened), "found", "rear")}
    assert lines["greatest"].value == "not known" and "inboard of the tire" in lines["greatest"].binds
    assert lines["least"].binds == "lip sets the limit" and "maker's step" not in str(list(lines))
    grid = backspace_window(opened, "found", "rear", 7, 21)
    marks = {mark for line in grid.cells for mark in line}
    assert "·" not in marks and "?" in marks and "inboard of the tire" in dict(grid.legend)["?"]


def test_what_nobody_measured_is_among_what_is_to_be_measured_in_words(truck):
    opened = truck(LIP)
    wanted = {one.key: one.spoken for one in measure_next(opened, flags(opened))}
    assert wanted["obstacles.rear.inboard"] == "an obstacle inboard of the tire at the rear axle"
    rows = dict(by_table(wanted))
    assert "an obstacle inboard of the tire at the rear axle" in rows["[[obstacles]]"]


def test_a_backspace_past_the_side_that_is_known_is_raised_all_the_same(truck):
    opened = truck(LIP, offset="-40 mm")  # 20 mm further out than the lip lets it stand
    flag = flag_of(opened, "backspace_outside_window")
    assert flag.verdict.answer == "raised" and flag.verdict.margin.value == pytest.approx(-0.020, abs=1.1e-4)
    assert "lip sets the low end, nothing inboard of the tire is measured" in flag.says
    assert "the most is" not in flag.says


def test_a_window_that_is_too_close_to_call_names_the_reading_behind_the_rule_that_binds_it(truck):
    # The sidewall no further out than an edge 60 ± 15 mm out: offset at least 40 ± 15, backspace 130 ± 15 mm; the frame
    # lets it be 120 at most. By the tape it misses by 10 mm, at the worst by 25, and at the best 5 are left.
    more = '[axles.rear.fender]\nface_to_edge = "60 mm ± 15 mm"\ngreatest_poke = "0 mm"'
    flag = flag_of(truck(FRAME, more=more), "no_backspace_fits")
    assert flag.verdict.answer == "too close to call" and flag.settles == ("the rear hub face to fender edge",)
    assert flag.verdict.margin.value == pytest.approx(-0.025, abs=6e-4)
    assert flag.verdict.margin.high == pytest.approx(0.005, abs=2e-4)
    # Only a wish is in the way: told beside it is where the frame and the lip leave room.
    assert value(truck(FRAME, LIP, more=more), "hard_window_low") == pytest.approx(0.070, abs=1.1e-4)


def test_outboard_a_frame_alone_tells_nothing(truck):
    opened = truck(FRAME)
    assert value(opened, "window_high") == pytest.approx(0.120, abs=1.1e-4) and value(opened, "window_low") is None
    (want,) = flag_of(opened, "backspace_outside_window").wants
    assert want.startswith("an obstacle outboard of the tire at the rear axle")
    assert "backspaces from" not in backspace_window(opened, "found", "rear", 7, 21).words


@pytest.mark.parametrize("more", [
    # The sidewall no further out than an edge 130 mm out: offset at least −30 mm, backspace at least 60 mm.
    '[axles.rear.fender]\nface_to_edge = "130 mm ± 0 mm"\ngreatest_poke = "0 mm"',
    # 1500 + 2 × (100 − offset) at most 1760 mm wide: the same.
    '[legal]\noverall_width = "1760 mm"',
])  # fmt: skip
def test_outboard_the_fenders_edge_and_the_width_that_binds_tell_how_far_it_may_stand(truck, more):
    opened = truck(FRAME, more=more)
    low = value(opened, "window_low")
    assert low is not None and low == pytest.approx(0.060, abs=2e-3)
    assert value(opened, "hard_window_low") is None  # what the stops alone leave is told where nothing else is left
    assert flag_of(opened, "backspace_outside_window").verdict.answer == "clear"


def test_what_is_planned_is_told_with_what_it_leaves_to_both_ends_or_by_how_much_it_is_outside(truck):
    # 90 mm of backspace in a window from 70 to 120 mm, proven to a tenth of a millimeter; 60 mm is 10 mm outside
    for offset, left in (("0 mm", "19.9 mm, 29.9 mm from the ends"), ("-30 mm", "outside by 10.1 mm")):
        opened = truck(FRAME, LIP, offset=offset)
        chosen = next(one for one in backspaces(opened, flags(opened), "found", "rear") if one.name == "chosen")
        assert chosen.binds == left


def test_the_door_lets_a_tire_be_taller_by_twice_the_room_that_is_surely_left(truck):
    # 2000 − 1900 − 10 = 90 mm ± 5 mm of room, and the truck rises by half of what its tires grow: 800 + 2 × 85 = 970 mm
    # at the worst, 990 at the kindest
    more = '[use]\ndoor_height = "2000 mm exact"\n[limits.least_door_gap]\nvalue = "10 mm"\nbecause = "a low door"\n'
    opened = truck(more=more)
    path = opened.opened.source.path
    path.write_text(path.read_text().replace("[vehicle]\n", '[vehicle]\noverall_height = "1900 mm ± 5 mm"\n'))
    limits = diameter_limits(open_project(path, TODAY), "found", "rear")
    assert [one.high for one in (*limits.worst, *limits.kindest)] == pytest.approx([0.970, 0.990])


def test_the_choice_is_the_makers_step_nearest_to_where_the_tire_stood(truck):
    # Found at an offset of 25 mm: 115 mm of backspace keeps its center plane; 114.3 mm is the nearest quarter of an
    # inch in a window from 70 to 120 mm, of which the middle is 95.
    opened = truck(FRAME, LIP, offset="25 mm")
    assert value(opened, "window_choice") == pytest.approx(4.5 * 0.0254)


def test_the_choice_keeps_what_the_wheels_maker_does_not_hold(truck):
    # 4.5 in is 5.7 mm off the upper end, 4 1/4 in (107.95 mm) is 12 mm off: a maker who holds 8 mm has the second.
    text = 'backspace = "115 mm ± 8 mm"'
    opened = truck(FRAME, LIP, offset="", more="")
    path = opened.opened.source.path
    written = path.read_text().replace("barrel_radius", f"{text}\nbarrel_radius")
    path.write_text(written)
    assert value(open_project(path, TODAY), "window_choice") == pytest.approx(4.25 * 0.0254)


def test_the_width_of_a_rim_not_known_well_counts_in_the_window(truck):
    # The wheel's backspace is what is ordered: 4 mm more or less of rim put the tire 2 mm further in or out.
    opened = truck(FRAME, LIP)
    path = opened.opened.source.path
    path.write_text(path.read_text().replace('"160 mm"', '"160 mm ± 4 mm"'))
    wide = open_project(path, TODAY)
    assert value(wide, "window_low") == pytest.approx(0.072, abs=1.1e-4)
    assert value(wide, "window_high") == pytest.approx(0.118, abs=1.1e-4)
    low = wide.sheet.outcome(wide.spot("window_low", fitment="found", axle="rear"))
    assert low.low == pytest.approx(0.068, abs=2.2e-4)  # the last doubt of either end counts for it


def test_a_caution_accepted_at_one_axle_still_bounds_the_other(truck):
    county = Path(__file__).parents[2] / "projects" / "county-road-4x4.toml"
    opened = open_project(county, TODAY)
    for axle in ("front", "rear"):
        taken = {one.rule.node for one in backspace_limits(opened, "tall", axle, 0.254).limits if one.taken_on}
        assert taken == {"bearing_moment_grown"}
    acceptances = [one for one in opened.project.acceptances if one.at == "front"]
    alone = opened._replace(
        opened=opened.opened._replace(project=opened.project.model_copy(update={"acceptances": acceptances}))
    )
    taken = {one.rule.node for one in backspace_limits(alone, "tall", "rear", 0.254).limits if one.taken_on}
    assert taken == set()


def test_the_axes_of_its_picture_stand_at_round_numbers(truck):
    inches = round_values((0.053, 0.171), 61, Style("inch"))
    assert inches.names[:3] == ("2.1", "2.2", "2.3") and inches.names[-1] == "6.7" and len(inches.values) <= 61
    assert [name for name in inches.marked if name] == ["2.5", "3", "3.5", "4", "4.5", "5", "5.5", "6", "6.5"]
    assert inches.values[0] == pytest.approx(2.1 * 0.0254)
    grid = backspace_window(truck(FRAME, LIP), "found", "rear", 9, 41)
    assert all(float(name) % 10 == 0 for name in grid.rows)
    assert all(float(name) % 10 == 0 for name in grid.columns if name)
