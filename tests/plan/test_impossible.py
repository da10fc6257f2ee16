"""What cannot be together is told with both keys, and with the values as the person wrote them."""

from datetime import date

import pytest
from calling import call

from planner.plan.answers.flagging import flags
from planner.plan.answers.open_project import open_project, open_sound
from planner.project.faults import Faulty, as_line

TODAY = date(2026, 11, 25)


@pytest.fixture
def truck(tmp_path):
    def write(text: str):
        path = tmp_path / "truck.toml"
        path.write_text("format = 1\n" + text, encoding="utf-8")
        return path

    return write


def faults(path) -> list[str]:
    with pytest.raises(Faulty) as found:
        open_sound(path, TODAY)
    return [as_line(path, fault) for fault in found.value.faults]


@pytest.mark.parametrize("given", ["400 mm", "-150 mm"])  # the face 260 mm and 290 mm from the middle of a 254 mm rim
def test_a_backspace_that_no_wheel_has_is_a_fault_of_its_own_with_both_keys(truck, given):
    wheel = f'[fitments.found.wheel]\nbackspace = "{given}"\nrim_width = "254 mm"\nflange_thickness = "12.7 mm"\n'
    obstacle = '[[obstacles]]\nname = "rail"\naxle = "front"\nmoves_with = "body"\nat = ["0 m", "-0.4 m", "0 m"]\n'
    (line,) = faults(truck(wheel + obstacle))
    assert f"truck.toml:3: fitments.found.wheel.backspace: read '{given}'" in line
    assert "fitments.found.wheel.rim_width = 254 mm" in line and "obstacles" not in line


def test_a_deep_dished_wheel_made_to_run_in_pairs_is_no_fault_but_asked_about(truck):
    # 19.5 × 6.75 with an offset of 144 mm, as such wheels are listed: common practice
    path = truck('[fitments.found.wheel]\noffset = "144 mm"\nrim_width = "6.75 in"\nflange_thickness = "1/2 in"\n')
    told = {flag.rule.name: flag for flag in flags(open_project(path, TODAY))}
    assert told["wheel.face_outside_rim"].verdict.answer == "raised"


def test_a_barrel_larger_than_its_tire_is_a_fault_though_only_the_size_is_known(truck):
    # 7.50-16 stands about 32 in tall
    line, *_ = faults(
        truck('[fitments.found.tire]\ndesignation = "7.50-16"\n[fitments.found.wheel]\nbarrel_radius = "17 in"\n')
    )
    assert "truck.toml:5: fitments.found.wheel.barrel_radius: read '17 in'" in line
    assert "fitments.found.tire.designation = 7.50-16" in line


def test_a_tire_wider_than_it_is_tall_is_a_fault_though_only_its_size_says_how_tall(truck):
    # 33x12.50R15LT stands 33 in tall: the size gives it in inches
    (line,) = faults(truck('[fitments.found.tire]\ndesignation = "33x12.50R15LT"\nsection_width = "36 in"\n'))
    assert "fitments.found.tire.section_width: read '36 in'" in line and "designation = 33x12.50R15LT" in line


def test_a_barrel_that_the_bead_seat_would_not_hold_is_a_fault(truck):
    # the bead seat of a 16 in rim is 405.6 mm across, by the tables of ISO 4000-2
    (line,) = faults(truck('[fitments.found.wheel]\nrim_diameter = 16\nbarrel_radius = "203 mm"\n'))
    assert "fitments.found.wheel.barrel_radius: read '203 mm'" in line
    assert "fitments.found.wheel.rim_diameter = 16" in line
    open_project(truck('[fitments.found.wheel]\nrim_diameter = 16\nbarrel_radius = "202 mm"\n'), TODAY)


def test_at_the_bench_both_values_stand_as_they_were_written(capsys):
    code, _, err = call(capsys, "figure", "tire.static_loaded_radius", "overall_diameter=800 mm", "loaded_radius=18 in")
    assert code == 2 and "loaded_radius: 18 in is impossible" in err and "overall_diameter, 800 mm" in err


def test_in_a_project_both_go_by_their_keys_in_the_file(truck):
    path = truck(
        '[axles.front.fender]\naxle_to_fender = "5 in"\nclearance = "3 in"\n[axles.front.travel]\nbump = "100 mm"\n'
        '[fitments.found.tire]\noverall_diameter = "30 in"\nsection_width = "8 in"\n'
    )
    told = {(flag.rule.name, flag.where): flag.verdict.trouble for flag in flags(open_project(path, TODAY))}
    assert told["fit.tire_large_for_opening", "front"] == (
        "axles.front.fender.axle_to_fender: 5 in is impossible; more than axles.front.fender.clearance, 3 in, "
        "and axles.front.travel.bump, 100 mm, together"
    )


@pytest.mark.parametrize(
    ("table", "entry", "text", "accepted"),
    [
        ("axles.rear.nuts", "thread", "the big ones", "5/8-18"),
        ("axles.rear.studs", "right_thread", "M14", "M14 x 1.5"),
        ("fitments.found.tire", "tube_size", "large", "7.50-16"),
        ("fitments.found.tire", "flap", "wide", "16x6.00"),
        ("fitments.found.tire", "load_index", "300", "from 0 to 200"),
        ("fitments.found.tire", "load_index_dual", "300", "from 0 to 200"),
    ],
)
def test_a_thread_or_a_mark_that_cannot_be_read_is_told_by_name(truck, table, entry, text, accepted):
    path = truck("")
    path.write_text(f'format = 2\n[{table}]\n{entry} = "{text}"\n', encoding="utf-8")
    (line,) = faults(path)
    assert f"truck.toml:3: {table}.{entry}: read '{text}'" in line and accepted in line
