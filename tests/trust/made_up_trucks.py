"""Small made-up trucks for the promise: axles that steer, sides apart, changes planned, pairs."""

import random
import re

from planner.project.models.project import FORMAT

_TRUCK = f"""\
format = {FORMAT}

[vehicle]
units = "metric"
wheelbase = "2900 mm ± 5 mm"
gross_weight = "5500 kg"
cg_height = "900 mm ± 30 mm"
overall_height = "2385 mm ± 10 mm"
body_width = "2000 mm ± 5 mm"
lamp_height = "1015 mm ± 10 mm"

[vehicle.ends]
point_ahead = "820 mm ± 10 mm"
point_ahead_height = "640 mm ± 10 mm"
point_behind = "1100 mm ± 10 mm"
point_behind_height = "700 mm ± 10 mm"
lowest_between = "430 mm ± 10 mm"
lowest_between_position = "1600 mm ± 20 mm"

[use]
top_speed = "75 km/h"
cruise_speed = "65 km/h"
lowest_cruise_engine_speed = "1500 rpm"
highest_cruise_engine_speed = "2400 rpm"
wanted_crawl_speed = "2 km/h"
wanted_grade = "45 %"
door_height = "2460 mm"
wanted_approach_angle = "35 deg"
wanted_departure_angle = "33 deg"
wanted_breakover_angle = "30 deg"

[legal]
overall_width = "2200 mm"
lamp_lowest = "500 mm"
lamp_highest = "1100 mm"
greatest_poke = "20 mm"

[axles.front]
load = "2240 kg ± 20 kg"
laden_load = "2295 kg"
bearing_rating = "1600 kg"
rating = "2700 kg"
tires = 2
face_to_face = "1700 mm ± 3 mm"
ratio = "6.53"
bearing_setback = "85 mm ± 3 mm"

[axles.front.hub]
pilot = "161.2 mm ± 0.1 mm"
centring = "hub"

[axles.front.studs]
count = 6
adjacent_spacing = "102.5 mm ± 0.5 mm"
skip_spacing = "205 mm ± 0.5 mm"
skip = 3
diameter = "18 mm"
pitch = "1.5 mm"
length = "54 mm ± 1 mm"
torque = "300 N·m"
proof_stress = "600 MPa"

[axles.front.nuts]
seat = "ball"

[axles.front.kingpin]
inset = "130 mm ± 3 mm"
inclination = "8 deg ± 0.5 deg"
caster = "2 deg ± 0.5 deg"
track = "1440 mm ± 5 mm"

[axles.front.steering]
stop_angle = "30 deg ± 1 deg"
stop_angle_out = "26 deg ± 1 deg"

[axles.front.travel]
bump = "90 mm ± 5 mm"
droop = "110 mm ± 10 mm"

[axles.front.brake]
radius = "205 mm ± 2 mm"
face = "-5 mm ± 1 mm"

[axles.front.fender]
axle_to_fender = "650 mm ± 5 mm"
face_to_edge = "170 mm ± 3 mm"
clearance = "50 mm"
wanted_poke = "-10 mm"
greatest_poke = "20 mm"

[axles.rear]
load = "2080 kg ± 20 kg"
laden_load = "3190 kg"
rating = "3200 kg"
tires = 2
face_to_face = "1640 mm ± 4 mm"
ratio = "6.53"
bearing_setback = "70 mm ± 3 mm"

[axles.rear.studs]
count = 6
skip_spacing = "205 mm ± 1 mm"
skip = 3

[axles.rear.travel]
bump = "120 mm ± 5 mm"
droop = "130 mm ± 10 mm"

[axles.rear.fender]
axle_to_fender = "725 mm ± 5 mm"
face_to_edge = "180 mm ± 3 mm"
clearance = "50 mm"

[drivetrain]
part_time = "yes"

[drivetrain.engine]
torque = "255 N·m"
idle = "650 rpm ± 30 rpm"
top_speed = "2800 rpm"

[drivetrain.gearbox]
"1" = "6.10"
"4" = "1"

[drivetrain.transfer]
road = "1"
forest = "1.95"

[fitments.found.tire]
designation = "9.00-16 10PR"
overall_diameter = "895 mm ± 5 mm"
section_width = "255 mm ± 3 mm"
loaded_radius = "423 mm ± 3 mm"
load_capacity = "1650 kg"
rated_pressure = "4.5 bar"
mass = "47 kg ± 1 kg"

[fitments.found.wheel]
rim_diameter = "16"
rim_width = "6.5 in"
offset = "30 mm ± 2 mm"
pieces = "one"
mass = "38 kg ± 1 kg"

[fitments.new]

[fitments.new.tire]
designation = "335/65R20 147K"
section_width = "338 mm ± 4 mm"
tread_width = "270 mm ± 5 mm"
load_capacity = "3075 kg"
rated_pressure = "5.5 bar"
least_pressure = "2 bar"
mass = "64 kg ± 1 kg"

[fitments.new.front.tire]
overall_diameter = "950 mm ± 4 mm"
loaded_radius = "450 mm ± 4 mm"

[fitments.new.rear.tire]
overall_diameter = "955 mm ± 4 mm"
loaded_radius = "452 mm ± 4 mm"

[fitments.new.wheel]
rim_diameter = "20"
rim_width = "11 in"
offset = "10 mm ± 2 mm"
bore = "161.4 mm ± 0.1 mm"
stud_count = 6
stud_circle = "205 mm ± 0.2 mm"
load_rating = "1605 kg"
greatest_pressure = "4.2 bar"
seat = "ball"
seat_height = "8 mm"
disc_thickness = "12 mm ± 1 mm"
disc_inner_face = "10 mm ± 2 mm"
barrel_radius = "218 mm ± 2 mm"
mass = "52 kg ± 1 kg"
pieces = "one"

[fitments.new.spare]
designation = "335/65R20"
load_capacity = "1760 kg"
overall_diameter = "952 mm ± 8 mm"
stud_circle = "205 mm ± 0.5 mm"

[plan]
chosen = "new"

[[obstacles]]
name = "spring"
axle = "front"
moves_with = "axle"
kind = "spring"
at = ["-75 mm ± 5 mm", "-330 mm ± 5 mm", "150 mm ± 5 mm"]
to = ["75 mm ± 5 mm", "-330 mm ± 5 mm", "150 mm ± 5 mm"]
wants = "20 mm"

[[obstacles]]
name = "rail"
axle = "front"
moves_with = "body"
kind = "frame"
at = ["-300 mm ± 5 mm", "-430 mm ± 5 mm", "200 mm ± 5 mm"]
wants = "25 mm"

[[obstacles]]
name = "tie rod end"
axle = "front"
moves_with = "knuckle"
kind = "steering"
at = ["-165 mm ± 3 mm", "-215 mm ± 3 mm", "60 mm ± 3 mm"]
wants = "15 mm"

[[obstacles]]
name = "rear rail"
axle = "rear"
moves_with = "body"
kind = "frame"
at = ["0 mm ± 5 mm", "-330 mm ± 5 mm", "330 mm ± 5 mm"]
wants = "20 mm"
"""

_SIDES = """
[[readings]]
of = "axles.front.fender.face_to_edge"
value = "172 mm ± 2 mm"
side = "left"

[[readings]]
of = "axles.front.fender.face_to_edge"
value = "165 mm ± 3 mm"
side = "right"

[[readings]]
of = "axles.front.travel.bump"
value = "88 mm ± 4 mm"
side = "left"

[[readings]]
of = "axles.front.travel.bump"
value = "95 mm ± 5 mm"
side = "right"
"""

_CHANGES = """
[[changes]]
name = "longer stop screws"
state = "decided"
sets."axles.front.steering.stop_angle" = "27 deg ± 0.5 deg"
sets."axles.front.steering.stop_angle_out" = "24 deg ± 1 deg"

[[changes]]
name = "longer bump stops"
state = "done"
sets = { "axles.rear.travel.bump" = "100 mm" }
measured."axles.rear.travel.bump".value = "98 mm"

[[changes]]
name = "lift"
kind = "lift"
state = "decided"
sets."axles.front.lift" = "30 mm ± 5 mm"
sets."axles.front.travel.bump" = "90 mm ± 5 mm"
sets."axles.front.travel.droop" = "95 mm ± 5 mm"
sets."axles.front.travel.most_cross_travel" = "200 mm ± 10 mm"
sets."axles.front.travel.side_shift" = "10 mm ± 3 mm"
sets."axles.front.kingpin.caster" = "2 deg ± 1 deg"
sets."axles.front.steering.drag_link_angle" = "9 deg ± 1.5 deg"
sets."axles.front.driveshaft_angle" = "4 deg ± 1 deg"
sets."axles.front.brake.hose_slack" = "15 mm ± 5 mm"
sets."obstacles.spring.at" = ["-75 mm", "-330 mm", "165 mm"]
sets."obstacles.spring.to" = ["75 mm", "-330 mm", "165 mm"]

[[changes]]
name = "spacers"
kind = "spacer or adapter"
state = "decided"
sets."axles.rear.spacer.thickness" = "6 mm ± 0.5 mm"
sets."axles.rear.spacer.own_studs" = false
"""

_REAR_STEERS = """
[axles.rear.kingpin]
inset = "120 mm ± 3 mm"
inclination = "7 deg ± 0.5 deg"
track = "1400 mm ± 5 mm"

[axles.rear.steering]
stop_angle = "15 deg ± 1 deg"
stop_angle_out = "14 deg ± 1 deg"
"""

_PAIRED = {
    'inclination = "7 deg ± 0.5 deg"': 'inclination = "7 deg ± 0.5 deg"\ncaster = "1 deg ± 0.5 deg"',
    "tires = 2": "tires = 4",
    'track = "1400': 'track = "1160',
    'face_to_face = "1640': 'face_to_face = "1400',
    'face_to_edge = "180': 'face_to_edge = "390',
    '"-330 mm ± 5 mm", "330': '"-475 mm ± 5 mm", "330',
    'bump = "120 mm ± 5 mm"': 'bump = "120 mm ± 5 mm"\nstops_apart = "1100 mm ± 5 mm"\ndroop_apart = "1000 mm ± 5 mm"',
}

_PAIRS = """
[fitments.found.rear.wheel]
offset = "140 mm ± 2 mm"
offset_face = "hub"
disc_thickness = "12 mm ± 1 mm"

[fitments.found.rear.pair]
held_by = "inner nuts"
spacing = "304 mm ± 4 mm"
diameter_difference = "4 mm ± 2 mm"

[fitments.new.rear.wheel]
offset = "200 mm ± 2 mm"
offset_face = "disc"

[fitments.new.rear.pair]
held_by = "long studs"

[[obstacles]]
name = "hose between the tires"
axle = "rear"
moves_with = "axle"
kind = "brake"
at = ["-60 mm ± 3 mm", "11 mm ± 2 mm", "260 mm ± 3 mm"]
to = ["60 mm ± 3 mm", "11 mm ± 2 mm", "260 mm ± 3 mm"]
wants = "10 mm"

[[obstacles]]
name = "bracket over the gap"
axle = "rear"
moves_with = "body"
at = ["40 mm ± 4 mm", "15 mm ± 4 mm", "755 mm ± 4 mm"]
wants = "15 mm"

[[obstacles]]
name = "bed's lip"
axle = "rear"
moves_with = "body"
kind = "sheet metal"
at = ["-300 mm ± 5 mm", "330 mm ± 5 mm", "750 mm ± 5 mm"]
to = ["300 mm ± 5 mm", "330 mm ± 5 mm", "750 mm ± 5 mm"]
wants = "20 mm"
"""

_MEASURED = re.compile(r"(-?\d+(?:\.\d+)?) (mm|deg|kg|rpm) ± (\d+(?:\.\d+)?) \2")


def truck(number: int) -> str:
    """The text of one of them: each reading a little other, its tolerance finer or far coarser."""
    pick = random.Random(number)
    text = _TRUCK
    if number % 3 == 1:  # what was read on each side has no entry of its own
        text = text.replace('face_to_edge = "170 mm ± 3 mm"\n', "").replace('bump = "90 mm ± 5 mm"\n', "") + _SIDES
    if number % 3 == 2:
        text += _CHANGES
    if number % 4 == 3:
        text = text.replace("[axles.rear]\n", "[axles.rear]\nsteered = true\n") + _REAR_STEERS

    if number % 5 == 4:
        before, rear = text.split("[axles.rear]\n")
        for one, other in _PAIRED.items():
            rear = rear.replace(one, other)
        text = f"{before}[axles.rear]\n{rear}{_PAIRS}"

    def moved(found: re.Match[str]) -> str:
        middle, unit, off = float(found[1]), found[2], float(found[3])
        moved = middle + off * pick.uniform(-2, 2)
        return f"{moved:.2f} {unit} ± {off * pick.choice((0.2, 0.5, 1, 1, 2, 3)):.3f} {unit}"

    return _MEASURED.sub(moved, text)
