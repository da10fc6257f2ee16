"""A truck drawn whole from what was entered, in one frame of its own, and measured: every figure of it stands there.

Seen from behind, x across from the truck's middle and z up from the road, the right side drawn and the left one its
mirror. It knows no offset's sign but the entry's own: the face outboard of the center plane.
"""

import tomllib
from copy import deepcopy
from datetime import date
from itertools import product
from math import cos, hypot, pi, radians, sin, tan
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest
import shapely
import tomli_w
from plain_truck import PLAIN
from scipy.optimize import minimize
from scipy.spatial.transform import Rotation
from shapely.affinity import scale

from planner.plan.answers.open_project import open_project, work_out
from planner.project.reading import understand
from planner.project.source import parse

QUARRY = tomllib.loads((Path(__file__).parents[2] / "projects" / "quarry-flatbed.toml").read_text("utf-8"))
DAY = date(2026, 11, 25)
NOT_GROWN = {name: {"value": "0 %"} for name in ("radial_growth", "radial_width_growth")}
ROAD = shapely.LineString([(-9, 0), (9, 0)])
DRAWS = np.random.default_rng(22).uniform(size=(3, 16))


def drawn_at_random(draw, taken_to: str, held_by: str) -> SimpleNamespace:
    """Lengths in m: a wheel, what it stands on, and what is around it."""
    low_high = {
        "offset": (-0.06, 0.15), "rim": (0.15, 0.25), "flange": (0.008, 0.02), "disc": (0.006, 0.016),
        "section": (0.2, 0.3), "radius": (0.4, 0.45), "front": (1.5, 2.0), "rear": (1.4, 1.8),
        "edge": (0.0, 0.3), "inset": (0.03, 0.2), "setback": (0.02, 0.12), "face": (-0.02, 0.02),
        "drum": (-0.03, 0.02), "bulge": (0.04, 0.1), "stud": (0.04, 0.07), "lean": (2.0, 12.0),
    }  # fmt: skip
    found = {
        name: low + float(share) * (high - low)
        for (name, (low, high)), share in zip(low_high.items(), draw, strict=True)
    }
    return SimpleNamespace(**found, taken_to=taken_to, held_by=held_by, seat=0.003, wheelbase=3.5, stop=radians(28))


def opened_with(one: SimpleNamespace):
    """The flatbed with these entered, and neither obstacles nor work."""
    data = deepcopy({key: value for key, value in QUARRY.items() if key not in ("obstacles", "readings", "tasks")})
    wide, told = data["fitments"]["wide"], lambda length: f"{length * 1000!r} mm"
    offset = one.offset + one.disc if one.taken_to == "disc" else one.offset
    del wide["wheel"]["offset"], wide["wheel"]["offset_face"]
    wide["wheel"] |= {
        "rim_width": told(one.rim), "seat_height": told(one.seat),
        "flange_thickness": told(one.flange), "disc_thickness": told(one.disc), "disc_inner_face": told(one.face),
    }  # fmt: skip
    wide["tire"] |= {"section_width": told(one.section), "loaded_radius": told(one.radius)}
    wide["front"] = {"wheel": {"offset": told(one.offset)}}
    wide["rear"] |= {"wheel": {"offset": told(offset), "offset_face": one.taken_to}}
    wide["rear"]["pair"]["held_by"] = one.held_by
    data["vehicle"]["wheelbase"] = told(one.wheelbase)
    for name in ("front", "rear"):
        axle = data["axles"][name]
        axle |= {"face_to_face": told(getattr(one, name)), "bearing_setback": told(one.setback)}
        axle["fender"]["face_to_edge"] = told(one.edge)
        axle["brake"]["face"] = told(one.drum)
        axle["studs"]["length"] = told(one.stud)
    data["axles"]["front"]["kingpin"] = {
        "inset": told(one.inset), "inclination": f"{one.lean!r} deg", "caster": "0 deg",
        "track": told(one.front - 2 * one.inset),
    }  # fmt: skip
    data["axles"]["front"]["steering"] = {"stop_angle": f"{one.stop * 180 / pi!r} deg"}
    data["assumptions"] = NOT_GROWN | {"road_bulge": {"value": f"{one.bulge * 100!r} %"}}
    return work_out(understand(parse(Path("truck.toml"), tomli_w.dumps(data).encode())), DAY)


def box(middle: float, wide: float, low: float = 0.0, high: float = 0.9) -> shapely.Polygon:
    return shapely.box(middle - wide / 2, low, middle + wide / 2, high)


def mirrored(body: shapely.Geometry, about: float = 0.0) -> shapely.Geometry:
    return scale(body, xfact=-1, origin=(about, 0))


def wide(*bodies: shapely.Geometry) -> float:
    """From the outermost to the outermost."""
    low, _, high, _ = shapely.union_all(bodies).bounds
    return high - low


def told_at(opened, axle: str):
    return lambda node: opened.sheet.value(opened.spot(node, fitment="wide", axle=axle))


@pytest.mark.parametrize("draw", DRAWS, ids=["one", "another", "a third"])
def test_a_wheel_that_stands_alone_in_front_is_where_a_drawing_of_the_whole_axle_has_it(draw):
    one = drawn_at_random(draw, "hub", "inner nuts")
    told = told_at(opened_with(one), "front")
    face = one.front / 2
    tire = box(face - one.offset, one.section)
    rim = box(face - one.offset, one.rim).buffer(one.flange, cap_style="square", join_style="mitre")
    assert told("backspace") == pytest.approx(face - rim.bounds[0])
    assert told("overall_width") == pytest.approx(wide(rim))
    assert told("inboard_reach") == pytest.approx(face - tire.bounds[0])
    assert told("poke") == pytest.approx(tire.bounds[2] - (face + one.edge))
    assert told("width_over_tires") == pytest.approx(wide(tire, mirrored(tire)))
    assert told("track") == pytest.approx(tire.centroid.x - mirrored(tire).centroid.x)
    assert told("bearing_arm") == pytest.approx(abs(tire.centroid.x - (face - one.setback)))
    assert told("face_clearance") == pytest.approx((face + one.face) - (face + one.drum))
    # The kingpin leans inboard at its top: down to the road it goes outboard.
    at_hub = (face - one.inset, one.radius)
    low, high = ((at_hub[0] - up * tan(radians(one.lean)), at_hub[1] + up) for up in (-1.0, 1.0))
    ground = shapely.LineString([low, high]).intersection(ROAD)
    assert told("scrub_radius") == pytest.approx(tire.centroid.x - ground.x)
    assert told("kingpin_ground_track") == pytest.approx(ground.x - mirrored(ground).x)
    # From above, to the right: the line square to the right wheel meets the rear axle's where the truck turns about.
    about = ground.x + one.wheelbase / tan(one.stop)
    outer = hypot(about - mirrored(ground).x, one.wheelbase)
    assert told("turning_radius") == pytest.approx(outer + tire.centroid.x - ground.x)
    stud = box(0.0, 0.02, 0.0, one.stud).intersection(box(0.0, 0.04, one.disc + one.seat, 1.0))
    assert told("engaged_length") == pytest.approx(stud.bounds[3] - stud.bounds[1])


@pytest.mark.parametrize(("taken_to", "held_by"), [("hub", "inner nuts"), ("disc", "long studs")])
@pytest.mark.parametrize("draw", DRAWS, ids=["one", "another", "a third"])
def test_a_pair_behind_is_where_a_drawing_of_the_whole_axle_has_it(draw, taken_to, held_by):
    one = drawn_at_random(draw, taken_to, held_by)
    one.offset = one.section / 2 + 0.02 + abs(one.offset) / 5  # so that the two stand clear of each other
    told = told_at(opened_with(one), "rear")
    face = one.rear / 2
    disc = shapely.box(face, 0.3, face + one.disc, 0.6)
    inner = box(face - one.offset, one.section)
    outer, second = (mirrored(body, about=disc.bounds[2]) for body in (inner, disc))
    both = shapely.union_all([inner, outer])
    assert told("dual_spacing") == pytest.approx(outer.centroid.x - inner.centroid.x)
    assert told("inboard_reach") == pytest.approx(face - both.bounds[0])
    assert told("poke") == pytest.approx(both.bounds[2] - (face + one.edge))
    assert told("width_over_tires") == pytest.approx(wide(both, mirrored(both)))
    assert told("track") == pytest.approx(both.centroid.x - mirrored(both).centroid.x)
    assert told("bearing_arm") == pytest.approx(abs(both.centroid.x - (face - one.setback)))
    at_road = [scale(body, xfact=1 + one.bulge) for body in (inner, outer)]
    assert told("sidewall_gap") == pytest.approx(at_road[1].bounds[0] - at_road[0].bounds[2])
    held = wide(disc, second) if held_by == "long studs" else wide(disc)
    assert told("engaged_length") == pytest.approx(one.stud - held - one.seat)


STEERED = """
format = 2
[vehicle]
units = "metric"
[axles.front]
face_to_face = "{wide!r} mm exact"
[axles.front.travel]
bump = "{bump!r} mm exact"
droop = "{droop!r} mm exact"
[axles.front.kingpin]
inset = "{inset!r} mm exact"
inclination = "{lean!r} deg exact"
caster = "{trail!r} deg exact"
[axles.front.steering]
stop_angle = "{stop!r} deg exact"
stop_angle_out = "{less!r} deg exact"
[fitments.found.tire]
overall_diameter = "{across!r} mm exact"
section_width = "{section!r} mm exact"
tread_width = "{section!r} mm exact"
crown_drop = "0 mm exact"
[fitments.found.wheel]
rim_width = "150 mm exact"
rim_diameter = 16
barrel_radius = "190 mm exact"
offset = "{offset!r} mm exact"
[[obstacles]]
name = "rail"
axle = "front"
side = "right"
moves_with = "body"
at = ["{x!r} mm exact", "{y!r} mm exact", "{z!r} mm exact"]
wants = "{wants!r} mm"
"""


@pytest.mark.parametrize("over", [False, True], ids=["beside it", "over it"])
@pytest.mark.parametrize("seed", [31, 37])
def test_a_wheel_steered_on_a_crossed_axle_comes_as_near_a_rail_as_a_search_of_all_poses_finds(seed, over, tmp_path):
    """In the truck's frame, forward, to the right and up: the right wheel turned about its kingpin, the axle about its
    middle, each end between its stop and its strap. Past its rim the tire, with a square tread, is a plain cylinder."""
    draw = np.random.default_rng(seed).uniform
    one = SimpleNamespace(
        wide=draw(1400, 1800), bump=draw(40, 90), droop=draw(40, 110), inset=draw(30, 150), lean=draw(0, 12),
        trail=draw(-2, 8), stop=draw(20, 34), across=draw(700, 850), section=draw(180, 260), offset=draw(-40, 60),
    )  # fmt: skip
    one.less = one.stop - draw(4, 8)
    one.y = draw(-40, 40) - one.offset if over else draw(-390, -330)
    away, turned = one.across / 2 + one.bump + draw(30, 60) if over else draw(220, 300), draw(-0.9, 0.9)
    one.x, one.z = away * sin(turned), away * cos(turned)
    face = one.wide / 2
    kingpin = np.array([-tan(radians(one.trail)), -tan(radians(one.lean)), 1.0])  # back and inboard at its top
    kingpin /= np.linalg.norm(kingpin)
    rail, foot = np.array([one.x, face + one.y, one.z]), np.array([0.0, face - one.inset, 0.0])

    def room(pose: np.ndarray) -> float:
        steer, right, left = pose  # a turn about what stands upright takes what is ahead to the right
        tilt = Rotation.from_euler("x", np.arcsin((right - left) / one.wide))
        on_axle = tilt.inv().apply(rail - [0.0, 0.0, (right + left) / 2])
        ahead, out, up = Rotation.from_rotvec(radians(steer) * kingpin).inv().apply(on_axle - foot) + foot
        beside = max(0.0, abs(out - (face - one.offset)) - one.section / 2)
        return hypot(beside, max(0.0, hypot(ahead, up) - one.across / 2))

    ends = [
        (-one.less, one.stop),  # as the inner wheel of a right turn it turns further
        (-one.droop, one.bump),
        (-one.droop, one.bump),
    ]
    starts = sorted(product(*(np.linspace(low, high, 5) for low, high in ends)), key=room)[:4]
    least = min(minimize(room, start, bounds=ends, method="Powell", options={"xtol": 1e-6}).fun for start in starts)
    # What is far from being too near is looked at less closely: so it is, to two millimeters, as near as that.
    path = tmp_path / "truck.toml"
    path.write_text(STEERED.format(**vars(one), wants=least - 2.0) + PLAIN, encoding="utf-8")
    opened = open_project(path, DAY)
    found = opened.sheet.outcome(opened.spot("least_clearance", fitment="found", obstacle="rail"))
    assert found.low * 1000 <= least and found.value * 1000 == pytest.approx(least, abs=0.05)
