"""A metric truck of round numbers, whose drawings can be worked out by hand."""

from datetime import date

from plain_truck import PLAIN

from planner.plan.answers.open_project import open_project
from planner.plan.truck.project import OpenProject

TODAY = date(2026, 11, 25)
TRUCK = (
    """
format = 1
[vehicle]
units = "metric"
"""
    + PLAIN
    + """
[use]
cruise_speed = "80 km/h"
top_speed = "90 km/h"
lowest_cruise_engine_speed = "1,500 rpm"
highest_cruise_engine_speed = "2,500 rpm"
[axles.rear]
ratio = 5
[axles.front]
face_to_face = "1500 mm"
ratio = 5
[axles.front.travel]
bump = "{travel}"
droop = "{travel}"
[axles.front.kingpin]
inset = "0 mm"
inclination = "0 deg"
caster = "0 deg"
[axles.front.steering]
stop_angle = "30 deg"
stop_angle_out = "30 deg"
stop_arm = "150 mm"
[axles.front.studs]
count = 6
circle = "200 mm"
diameter = "16 mm"
[axles.front.hub]
pilot = "140 mm"
[axles.front.brake]
radius = "{brake}"
face = "-10 mm"
[axles.front.fender]
axle_to_fender = "560 mm"
clearance = "50 mm"
[drivetrain.engine]
top_speed = "3,000 rpm"
[drivetrain.gearbox]
low = 4
top = 1
[drivetrain.transfer]
high = 1
[fitments.found.tire]
overall_diameter = "800 mm"
section_width = "200 mm"
tread_width = "200 mm"
crown_drop = "0 mm"
loaded_radius = "380 mm"
rolling_circumference = "2400 mm"
[fitments.found.wheel]
rim_width = "160 mm"
rim_diameter = 16
barrel_radius = "190 mm"
flange_thickness = "12 mm"
backspace = "102 mm"
bore = "141 mm"
stud_count = 6
stud_circle = "200 mm"
seat = "cone"
seat_angle = "60 deg"
[[obstacles]]
name = "{rail}"
axle = "front"
side = "left"
moves_with = "body"
at = ["300 mm", "-250 mm", "0 mm"]
wants = "20 mm"
[[obstacles]]
name = "lip"
axle = "front"
moves_with = "body"
at = ["-100 mm", "150 mm", "560 mm"]
to = ["100 mm", "150 mm", "560 mm"]
wants = "20 mm"
"""
)


def drawn_truck(
    tmp_path, *lines_out: str, brake: str = "180 mm", rail: str = "rail", travel: str = "80 mm"
) -> OpenProject:
    """The truck, without the lines that begin so."""
    text = TRUCK.format(brake=brake, rail=rail, travel=travel)
    kept = [line for line in text.splitlines() if not line.startswith(lines_out)] if lines_out else text.splitlines()
    path = tmp_path / "truck.toml"
    path.write_text("\n".join(kept), encoding="utf-8")
    return open_project(path, TODAY)
