"""What a whole truck is told of its turning circle, its heights and its scrub: by hand, through the project file."""

from datetime import date
from math import radians, sin, tan

import pytest

from planner.plan.answers.flagging import flags
from planner.plan.answers.open_project import work_out
from planner.project.reading import understand
from planner.project.source import parse

DAY = date(2026, 11, 25)

TRUCK = """\
format = 2
[vehicle]
units = "metric"
wheelbase = "2600 mm ± 0 mm"
overall_height = "2000 mm ± 0 mm"
overall_height_position = "650 mm ± 0 mm"
[vehicle.lift_test]
weight = "20 kN ± 0 kN"
level_front_load = "10 kN ± 0 kN"
raised_front_load = "10.5 kN ± 0 kN"
lifted_by = "1000 mm ± 0 mm"
loaded_radius = "350 mm ± 0 mm"
[axles.front]
load = "12 kN ± 0 kN"
face_to_face = "1462 mm ± 0 mm"
[axles.rear]
load = "8 kN ± 0 kN"
[axles.front.kingpin]
inset = "56 mm ± 1 mm"
inclination = "8 deg ± 0 deg"
track = "1350 mm ± 0 mm"
[axles.front.steering]
stop_angle = "32 deg ± 0 deg"
stop_angle_out = "26 deg ± 0 deg"
[fitments.found.tire]
overall_diameter = "830 mm ± 0 mm"
loaded_radius = "400 mm ± 0 mm"
[fitments.found.wheel]
offset = "0 mm ± 1 mm"
"""

NEW = """
[fitments.new.tire]
overall_diameter = "960 mm"
[fitments.new.front.tire]
loaded_radius = "420 mm"
[fitments.new.rear.tire]
loaded_radius = "460 mm"
[fitments.new.wheel]
offset = "0 mm ± 1 mm"
[plan]
chosen = "new"
"""


def opened(tmp_path, text):
    return work_out(understand(parse(tmp_path / "truck.toml", text.encode())), DAY)


def value(project, node, **place):
    return project.sheet.value(project.spot(node, **place))


def test_the_heights_go_by_what_stands_where(tmp_path):
    project = opened(tmp_path, TRUCK + NEW)
    assert value(project, "overall_height", fitment="new") == pytest.approx(2.000 + 0.020 + 0.040 / 4)
    # 0.156 above the axles (2.6 × 0.5 × 2.4 / 20), which stand 0.4 high as found and not 0.35 as in the test
    assert value(project, "found_cg_height") == pytest.approx(0.556)
    # 8 of 20 kN behind: two fifths of the way back
    assert value(project, "cg_height", fitment="new") == pytest.approx(0.556 + 0.020 + 0.040 * 0.4)


def test_the_turning_circle_is_the_measured_outer_wheels_about_the_ground_points(tmp_path):
    project = opened(tmp_path, TRUCK)
    scrub = 0.056 - 0.400 * tan(radians(8))
    at = {"fitment": "found", "axle": "front"}
    assert value(project, "turning_radius", **at) == pytest.approx(2.6 / sin(radians(26)) + scrub)
    assert value(project, "kingpin_ground_track", **at) == pytest.approx(1.350 + 0.800 * tan(radians(8)))
    unmeasured = opened(tmp_path, TRUCK.replace('stop_angle_out = "26 deg ± 0 deg"\n', ""))
    across = 2.6 / tan(radians(32)) + 1.350 + 0.800 * tan(radians(8))
    assert value(unmeasured, "turning_radius", **at) == pytest.approx((2.6**2 + across**2) ** 0.5 + scrub)


def sign_flags(project):
    return {flag.verdict.answer for flag in flags(project) if flag.rule.name == "steering.scrub_radius_changed_sign"}


def test_no_scrub_has_changed_its_sign_on_an_unchanged_truck(tmp_path):
    # 56 − 56.2 mm: so near to nothing that its sign is not known, and the same as it was
    assert sign_flags(opened(tmp_path, TRUCK)) == {"clear"}


def test_the_same_wheel_entered_again_has_changed_no_sign(tmp_path):
    tire = '[fitments.same.tire]\noverall_diameter = "830 mm"\nloaded_radius = "400 mm ± 0 mm"\n'
    wheel = '[fitments.same.wheel]\noffset = "0 mm ± 1 mm"\n'
    answers = sign_flags(opened(tmp_path, f'{TRUCK}\n{tire}{wheel}[plan]\nchosen = "same"\n'))
    assert answers and answers <= {"clear", "too close to call"}


def test_a_wheel_on_the_other_side_of_the_kingpins_line_has(tmp_path):
    near = TRUCK.replace('inset = "56 mm', 'inset = "80 mm').replace('face_to_face = "1462', 'face_to_face = "1510')
    tire = '\n[fitments.far.tire]\noverall_diameter = "830 mm"\nloaded_radius = "400 mm ± 0 mm"\n'
    text = near + tire + '[fitments.far.wheel]\noffset = "60 mm ± 1 mm"\n[plan]\nchosen = "far"\n'
    assert sign_flags(opened(tmp_path, text)) == {"raised"}
