"""The drawings as data: places, words and what is lacking, against numbers worked out beside them."""

from datetime import date
from math import pi

import pytest
from drawn_truck import TODAY, drawn_truck

from planner.plan.answers.open_project import open_project
from planner.plan.drawings.backspace_window import backspace_window
from planner.plan.drawings.backspace_window import size as window_size
from planner.plan.drawings.clearance_map import clearance_map
from planner.plan.drawings.engine_speed import engine_speed_chart
from planner.plan.drawings.fender_opening import fender_opening
from planner.plan.drawings.steered_tire import steered_tire
from planner.plan.drawings.stud_circle import stud_circle
from planner.plan.drawings.task_bars import size as bars_size
from planner.plan.drawings.task_bars import task_bars
from planner.plan.drawings.wheel_section import wheel_section
from planner.plan.truck.keys import find_key


@pytest.fixture
def truck(tmp_path):
    return drawn_truck(tmp_path)


def dimension(scene, begins):
    return next(one for one in scene.dimensions if one.text.startswith(begins))


def test_the_backspace_is_drawn_from_the_rims_inboard_edge_to_the_mounting_face(truck):
    scene = wheel_section(truck, "found", "front")
    # rim 160 + 2 × 12 = 184 mm overall, backspace 102: offset 102 − 92 = 10, so the center plane lies at −10 mm
    backspace, offset = dimension(scene, "backspace"), dimension(scene, "offset")
    assert (backspace.start[0], backspace.end[0]) == pytest.approx((-0.102, 0.0))
    assert (offset.start[0], offset.end[0]) == pytest.approx((-0.010, 0.0))
    overall = dimension(scene, "overall")
    assert (overall.start[0], overall.end[0]) == pytest.approx((-0.102, 0.082))
    assert backspace.text == "backspace 102.0 mm (4.02 in)"


def test_the_tire_reaches_from_its_tread_to_its_widest(truck):
    tire = wheel_section(truck, "found", "front").lines[0]
    assert max(y for _, y in tire.points) == pytest.approx(0.400)
    assert min(x for x, _ in tire.points) == pytest.approx(-0.110)
    assert max(x for x, _ in tire.points) == pytest.approx(0.090)


def test_a_brake_with_room_is_hidden_behind_the_rim_and_one_without_is_danger(tmp_path):
    def brake(opened):
        scene = wheel_section(opened, "found", "front")
        return scene, scene.lines[-1]

    scene, line = brake(drawn_truck(tmp_path))
    assert line.weight == "hidden" and "10.0 mm (0.394 in) inside the barrel" in scene.words
    scene, line = brake(drawn_truck(tmp_path, brake="189 mm"))  # 1 mm left, 3 mm is the least by default
    assert line.weight == "danger" and "too close" in scene.words
    assert dimension(scene, "TOO CLOSE")


def test_the_studs_stand_evenly_on_their_circle(truck):
    scene = stud_circle(truck, "found", "front")
    studs = [arc for arc in scene.arcs if arc.radius == pytest.approx(0.008)]
    assert len(studs) == 6
    assert all(arc.center[0] ** 2 + arc.center[1] ** 2 == pytest.approx(0.01) for arc in studs)
    # six on a circle are as far apart as its radius
    (x0, y0), (x1, y1) = studs[0].center, studs[1].center
    assert (x1 - x0) ** 2 + (y1 - y0) ** 2 == pytest.approx(0.1**2)
    assert any(label.text == "seats: cone, 60.0°" for label in scene.labels)


def test_the_circles_line_stands_clear_of_the_disc_around_it(truck):
    # a circle of 100 mm radius, the disc 30 mm more, and its line 20 mm beside that
    assert dimension(stud_circle(truck, "found", "front"), "circle").away == pytest.approx(0.150)


def test_an_opening_of_which_nobody_measured_an_edge_is_an_arc_over_the_tire(tmp_path):
    arc = fender_opening(drawn_truck(tmp_path, "at = ", "to = "), "found", "front").arcs[2]
    assert (arc.center, arc.radius) == ((0.0, 0.0), pytest.approx(0.560))
    assert (arc.start * 180 / pi, arc.end * 180 / pi) == pytest.approx((36, 144))  # 54° to both sides of straight up


def test_the_opening_shows_the_tire_at_rest_and_risen_by_the_bump(truck):
    scene = fender_opening(truck, "found", "front")
    rest, bump = scene.arcs[:2]
    assert (rest.center, bump.center) == ((0.0, 0.0), (0.0, pytest.approx(0.080)))
    # 560 − 400 = 160 mm at rest, 80 less at bump, 50 wanted
    assert dimension(scene, "at rest").text == "at rest 160.0 mm (6.30 in)"
    assert dimension(scene, "at bump").text == "at bump 80.0 mm (3.15 in)"
    assert bump.weight == "hidden"
    # the tire stands on the ground at its loaded radius: 400 sin(flat) = 380
    assert rest.start == pytest.approx(-1.2532, abs=1e-3) and rest.end == pytest.approx(pi + 1.2532, abs=1e-3)


def test_the_steered_tire_shows_the_way_in_which_it_is_stopped_first(tmp_path):
    scene = steered_tire(drawn_truck(tmp_path, travel="0 mm"), "found", "front")
    # front inboard, the rail at (300, −250) comes within 20 mm of a sidewall 110 mm inboard where
    # 390.5 sin(39.806° − s) = 130: s = 39.806° − 19.446° = 20.36°
    assert "front inboard" in scene.words and "20.4°" in scene.words
    assert [line.weight for line in scene.lines[:3]] == ["thin", "danger", "outline"]
    assert ("a", "rail") in scene.legend
    assert next(line for line in scene.lines if line.weight == "danger" and len(line.points) == 5)


def test_the_steered_tire_is_as_long_as_its_diameter_and_as_wide_as_its_section(truck):
    ahead = steered_tire(truck, "found", "front").lines[0].points
    # 800 mm tall and 200 wide around a center plane 10 mm inboard, square since its tread is as wide
    assert (min(x for x, _ in ahead), max(x for x, _ in ahead)) == pytest.approx((-0.4, 0.4))
    assert (min(y for _, y in ahead), max(y for _, y in ahead)) == pytest.approx((-0.11, 0.09))


def test_an_axle_that_does_not_steer_says_so(truck):
    assert steered_tire(truck, "found", "rear").missing


def test_the_map_has_the_rails_clearance_straight_ahead_and_marks_what_is_too_near(truck):
    grid = clearance_map(truck, "found", "front", rows=5, columns=5)
    assert grid.columns == ("30°", "15°", "0", "15°", "30°")
    assert grid.rows == ("+160 mm", "+80 mm", "level", "−80 mm", "−160 mm")
    # straight ahead on a level axle, at any height: 250 − 110 = 140 mm to the sidewall
    # the rail stays 140 off, but on the stops the lip, 80 mm lower, is 60 outboard of the tread's edge, which is 3.5 %
    # of its 200 mm lower than the crown, and 80 above the crown: √(60² + 87²) = 105.7 mm
    assert grid.values[2][2] == pytest.approx(0.1057, abs=1e-4)
    assert grid.cells[2][2] == "106a"
    # front in 15°: 390.5 sin(39.806° − 15°) = 163.8 mm inboard, less 110; in 30° the point is inside the tire
    assert grid.values[2][3] == pytest.approx(0.0538, abs=2e-4)
    assert "×" in grid.cells[2][4] and grid.tones[2][4] == "bad"
    assert grid.worst is not None and grid.worst[1] == 4
    assert "rail" in grid.words


def test_what_turns_with_the_wheel_is_told_beside_the_map_and_not_on_it(truck, tmp_path):
    # 5 mm inboard of the sidewall however the wheel is turned, and nearer to what it must keep than the rail is
    rod = 'name = "tie rod"\naxle = "front"\nmoves_with = "knuckle"\nat = ["300 mm", "-115 mm", "0 mm"]\n'
    path = tmp_path / "truck.toml"
    path.write_text(f'{path.read_text()}\n[[obstacles]]\n{rod}wants = "60 mm"\n')
    grid = clearance_map(open_project(path, TODAY), "found", "front", rows=5, columns=5)
    assert {name for mark, name in grid.legend if mark in "abc"} == {"lip", "rail"}
    assert (
        "Not on the map, since it turns with the wheel and stays just as close: tie rod 5.00 mm (0.197 in)"
        in grid.words
    )


def test_a_picture_has_as_many_rows_and_columns_as_there_is_room_for():
    # seven lines go to words and axes, and twelve columns to the names; of tasks three lines, and a third to titles
    assert window_size(80, 30) == (23, 68) and window_size(10, 10) == (5, 11)
    assert bars_size(60, 20) == (17, 38) and bars_size(9, 2) == (1, 10)


def test_the_window_reaches_up_to_the_largest_tire_that_fits(truck, tmp_path):
    path = tmp_path / "truck.toml"
    path.write_text(path.read_text().replace('"-250 mm"', '"-600 mm"'))  # only the lip is in the way
    opened = open_project(path, TODAY)
    largest = opened.sheet.value(opened.spot("largest_tire", fitment="found", axle="front"))
    assert 0.960 < largest < 1.000  # a fifth to a quarter taller than it is
    assert "980" in backspace_window(opened, "found", "front", rows=25, columns=21).rows


def test_the_window_has_a_letter_for_each_limit_and_marks_what_is_planned(truck):
    grid = backspace_window(truck, "found", "front", rows=9, columns=21)
    row, column = grid.worst
    # 52 to 152 mm in at most 21 columns: steps of 5 mm from 55, of which those of 50 have their names
    assert [(at, name) for at, name in enumerate(grid.columns) if name] == [(9, "100"), (19, "150")]
    assert column == 9 and grid.rows[row] == "800"  # 102 mm is nearest to 100
    # the rail cannot be kept through the whole lock at this backspace
    letters = {mark: name for mark, name in grid.legend}
    assert letters[grid.cells[row][column]] == "rail"
    assert letters["·"] == "fits"


def test_the_engine_speed_at_cruise_is_the_textbooks(truck):
    chart = engine_speed_chart(truck, "found")
    # 80 km/h = 1333.3 m/min over 2.4 m, times 5: 2,778 rpm
    assert chart.marks[0].at == (pytest.approx(80), pytest.approx(2777.8, abs=0.1))
    assert "2778 rpm" in chart.words
    # in low the engine is at its 3,000 rpm by 3000/20 × 2.4 × 60/1000 = 21.6 km/h
    low = dict(chart.curves)["low"]
    assert low[-1] == (pytest.approx(21.6), pytest.approx(3000))


def test_without_both_ends_of_what_you_want_the_engine_speeds_wanted_are_not_told(tmp_path):
    assert "you want 1500 to 2500" in engine_speed_chart(drawn_truck(tmp_path), "found").words
    chart = engine_speed_chart(drawn_truck(tmp_path, "highest_cruise"), "found")
    assert "you want" not in chart.words and chart.curves[-1][1] == ((68.8, 1500.0), (88.0, 1500.0))


def test_tasks_stand_over_their_days_and_the_critical_path_is_marked():
    grid = task_bars(
        [("drain", date(2026, 3, 2), date(2026, 3, 3), True), ("look", date(2026, 3, 5), date(2026, 3, 5), False)],
        rows=2,
        columns=4,
    )
    assert grid.cells == (("█", "█", " ", " "), (" ", " ", " ", "░"))
    assert grid.columns == ("2 Mar", "3 Mar", "4 Mar", "5 Mar")
    assert "2 tasks from 2 Mar to 5 Mar; 1 on the critical path" in grid.words


def test_a_title_of_34_letters_is_whole_and_one_of_more_is_cut():
    names = task_bars([(letter * many, 0.0, 1.0, True) for letter, many in (("a", 34), ("b", 35))], 2, 4).rows
    assert names[0] == "a" * 34 and names[1] != "b" * 35 and len(names[1]) == 34 and names[1].endswith("…")


def test_where_there_is_little_room_the_critical_path_stays():
    tasks = [(f"task {at}", float(at), float(at + 1), at % 3 == 0) for at in range(9)]
    assert task_bars(tasks, rows=3, columns=9).rows == ("task 0", "task 3", "task 6")


def test_what_cannot_be_drawn_names_the_entries_that_it_lacks(tmp_path):
    path = tmp_path / "bare.toml"
    path.write_text("format = 1\n")
    bare = open_project(path, date(2026, 11, 25))
    assert "found rim width" in wheel_section(bare, "found", "front").missing
    assert stud_circle(bare, "found", "front").missing[0] == "number of front studs"
    assert "front axle center to fender" in fender_opening(bare, "found", "front").missing
    assert "front stop angle" in steered_tire(bare, "found", "front").missing
    assert "front bump travel" in clearance_map(bare, "found", "front").missing
    assert backspace_window(bare, "found", "front").missing
    assert "drivetrain.gearbox, a ratio for each gear" in engine_speed_chart(bare, "found").missing
    assert task_bars([], 1, 10).missing


def test_where_nothing_is_known_of_the_studs_their_circle_is_told_without_a_gap(tmp_path):
    path = tmp_path / "bare.toml"
    path.write_text('format = 1\n[axles.front.studs]\ncount = 5\ncircle = "5 1/2 in"\n')
    words = stud_circle(open_project(path, date(2026, 11, 25)), "found", "front").words
    assert words == "From outside: 5 studs on a circle of 5 1/2 in (139.7 mm), the hub's."


def test_what_a_drawing_lacks_is_an_entry_of_the_file_and_never_a_name_of_our_own(tmp_path):
    path = tmp_path / "bare.toml"
    for text in ("format = 1\n", 'format = 1\n[fitments.tall.tire]\ndesignation = "37x12.50R17LT"\n'):
        path.write_text(text)
        bare = open_project(path, date(2026, 11, 25))
        for fitment in (*bare.project.fitments, "found"):
            for axle in ("front", "rear"):
                made = (stud_circle, fender_opening, wheel_section, steered_tire, clearance_map, backspace_window)
                lacks = [key for make in made for key in make(bare, fitment, axle).missing]
                assert lacks
                for name in lacks:  # each can be typed as it is told
                    assert name.startswith("obstacles, ") or find_key(bare.opened, name.partition(", a ratio")[0]), name


def test_without_obstacles_the_map_asks_for_them(tmp_path):
    opened = drawn_truck(tmp_path)
    assert clearance_map(opened, "found", "rear").missing


def test_an_obstacle_that_is_not_measured_is_named_in_what_the_map_lacks(tmp_path):
    opened = drawn_truck(tmp_path, "at = ", "to = ", rail="spring pack")
    assert clearance_map(opened, "found", "front").missing == ("front spring pack's position", "front lip's position")
