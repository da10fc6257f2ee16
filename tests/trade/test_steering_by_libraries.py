"""Steered wheel, wheel and hub, against general libraries: lines met in space, points turned, boxes and circles."""

from math import pi, radians

import numpy as np
import pytest
import shapely
import shapely.affinity
import trimesh
from scipy.spatial.transform import Rotation

from planner.trade.bolts.circle import circle_from_adjacent, circle_from_edges, circle_from_skip
from planner.trade.brakes import radial_clearance
from planner.trade.fender import tire_for_clearance, zero_clearance_diameter
from planner.trade.stance.stability import width_over_tires
from planner.trade.steering import (
    inner_angle,
    kingpin_ground_track,
    limited_turning_radius,
    outer_angle,
    scrub_radius,
    stop_extension,
    turning_radius,
)
from planner.trade.wheel.reach import (
    backspace,
    inboard_reach,
    offset,
    offset_for_poke,
    outboard_reach,
    overall_width,
    poke,
    track,
)

FAR = 500.0  # m: beyond any turning circle
REAR = shapely.LineString([(0.0, -FAR), (0.0, FAR)])  # the rear axle, across the truck
DRAWS = np.random.default_rng(15).uniform(size=(12, 5))
DRAW_IDS = [f"draw {number}" for number in range(len(DRAWS))]


def between(share: float, low: float, high: float) -> float:
    return low + share * (high - low)


def ground_point(inset: float, inclination: float, radius: float) -> float:
    """Where the kingpin's line meets the ground, outboard of the hub's face: a ray on a plane in space."""
    ray = Rotation.from_euler("x", inclination).apply([0.0, 0.0, -1.0])
    points, _ = trimesh.intersections.planes_lines(
        plane_origins=[[0.0, 0.0, -radius]],
        plane_normals=[[0.0, 0.0, 1.0]],
        line_origins=[[0.0, -inset, 0.0]],
        line_directions=[ray],
    )
    return float(points[0][1])


@pytest.mark.parametrize("draw", DRAWS, ids=DRAW_IDS)
def test_the_kingpins_line_meets_the_ground_where_a_ray_meets_a_plane(draw):
    inset, lean, radius = between(draw[0], 0.05, 0.2), radians(between(draw[1], 0, 15)), between(draw[2], 0.33, 0.6)
    offset, across = between(draw[3], -0.1, 0.14), between(draw[4], 1.1, 1.8)
    point = ground_point(inset, lean, radius)
    assert scrub_radius(inset, lean, offset, radius) == pytest.approx(-offset - point, abs=1e-12)
    assert kingpin_ground_track(across, lean, radius) == pytest.approx(across + 2 * (point + inset), abs=1e-12)


def axle_line(place: tuple[float, float], angle: float) -> shapely.LineString:
    """The line square to a steered wheel that stands at a place: [forward, outboard of the truck's middle]."""
    line = shapely.LineString([(place[0], place[1] - FAR), (place[0], place[1] + FAR)])
    return shapely.affinity.rotate(line, angle, origin=place, use_radians=True)


@pytest.mark.parametrize("draw", DRAWS, ids=DRAW_IDS)
def test_lines_square_to_both_wheels_meet_on_the_rear_axles_line(draw):
    wheelbase, across, inner = between(draw[0], 2.3, 3.6), between(draw[1], 1.1, 1.8), radians(between(draw[2], 15, 40))
    middle = axle_line((wheelbase, across / 2), inner).intersection(REAR)
    from_outer = np.arctan2(wheelbase, abs(middle.y) + across / 2)
    assert abs(middle.y) > across / 2
    assert outer_angle(wheelbase, across, inner) == pytest.approx(from_outer, abs=1e-9)
    assert inner_angle(wheelbase, across, from_outer) == pytest.approx(inner, abs=1e-9)
    # The outer tire stands its scrub radius beyond the kingpin, on the line square to it.
    scrub = between(draw[3], -0.05, 0.12)
    to_kingpin = np.hypot(wheelbase, abs(middle.y) + across / 2)
    assert turning_radius(wheelbase, inner, scrub, across) == pytest.approx(to_kingpin + scrub, abs=1e-9)


def outer_by_lines(wheelbase: float, across: float, inner: float) -> float:
    """The outer wheel's angle by the point on the rear axle's line that both wheels turn about."""
    return float(np.arctan2(wheelbase, axle_line((wheelbase, across / 2), inner).intersection(REAR).y + across / 2))


def radius_by_lines(wheelbase: float, outer: float, scrub: float) -> float:
    """How far the outer tire, its scrub radius beyond its kingpin, is from where its line meets the rear axle's."""
    kingpin = (wheelbase, 0.0)
    return shapely.Point(kingpin).distance(axle_line(kingpin, outer).intersection(REAR)) + scrub


@pytest.mark.parametrize("draw", DRAWS, ids=DRAW_IDS)
def test_a_truck_turns_by_the_lesser_lock_and_a_measured_outer_wheel_keeps_its_part_of_its_angle(draw):
    wheelbase, across, scrub = between(draw[0], 2.3, 3.6), between(draw[1], 1.1, 1.8), between(draw[2], -0.05, 0.12)
    stop, limit, then = (radians(between(share, 20, 40)) for share in (draw[3], draw[4], 1 - draw[4]))
    at_stop, at_least, at_then = (outer_by_lines(wheelbase, across, one) for one in (stop, min(stop, limit), then))
    wide = radius_by_lines(wheelbase, at_least, scrub)
    assert limited_turning_radius(wheelbase, stop, limit, scrub, across) == pytest.approx(wide, abs=1e-9)
    measured = 0.9 * at_stop
    told = turning_radius(wheelbase, stop, scrub, across, measured)
    assert told == pytest.approx(radius_by_lines(wheelbase, measured, scrub), abs=1e-9)
    wide = radius_by_lines(wheelbase, measured * at_least / at_stop, scrub)
    assert limited_turning_radius(wheelbase, stop, limit, scrub, across, measured) == pytest.approx(wide, abs=1e-9)
    # It was measured at the stop as found, which has been set otherwise since.
    since = (measured, then, measured)
    told = turning_radius(wheelbase, stop, scrub, across, *since)
    assert told == pytest.approx(radius_by_lines(wheelbase, measured * at_stop / at_then, scrub), abs=1e-9)
    wide = radius_by_lines(wheelbase, measured * at_least / at_then, scrub)
    assert limited_turning_radius(wheelbase, stop, limit, scrub, across, *since) == pytest.approx(wide, abs=1e-9)


@pytest.mark.parametrize("draw", DRAWS, ids=DRAW_IDS)
def test_a_stop_turned_about_the_kingpin_moves_along_its_chord(draw):
    arm, present = between(draw[0], 0.08, 0.2), radians(between(draw[1], 20, 40))
    allowed = present * between(draw[2], 0.2, 1.0)
    screw = shapely.Point(arm, 0.0)
    ends = [shapely.affinity.rotate(screw, angle, origin=(0, 0), use_radians=True) for angle in (present, allowed)]
    assert stop_extension(arm, present, allowed) == pytest.approx(ends[0].distance(ends[1]), abs=1e-12)


@pytest.mark.parametrize("draw", DRAWS, ids=DRAW_IDS)
def test_studs_set_out_around_a_center_give_their_circle_back(draw):
    circle, thread, count = between(draw[0], 0.09, 0.34), between(draw[1], 0.01, 0.022), int(between(draw[2], 3, 11))
    studs = [
        shapely.affinity.rotate(shapely.Point(circle / 2, 0.0), 2 * pi * one / count, origin=(0, 0), use_radians=True)
        for one in range(count)
    ]
    skip = 1 + int(draw[3] * (count // 2))
    assert circle_from_adjacent(studs[0].distance(studs[1]), count) == pytest.approx(circle)
    assert circle_from_skip(studs[0].distance(studs[skip]), count, skip) == pytest.approx(circle)
    discs = [stud.buffer(thread / 2, quad_segs=128) for stud in (studs[0], studs[skip])]
    over = discs[0].hausdorff_distance(discs[1]) + thread  # from one outer edge to the other
    assert circle_from_edges(over, thread, count, skip) == pytest.approx(circle, rel=1e-4)


@pytest.mark.parametrize("draw", DRAWS, ids=DRAW_IDS)
def test_the_tire_for_an_opening_keeps_its_distance_with_the_axle_at_the_stop(draw):
    up, wanted, bump = between(draw[0], 0.5, 0.8), between(draw[1], 0.0, 0.06), between(draw[2], 0.05, 0.15)
    lip = shapely.LineString([(-0.5, up), (0.5, up)])
    tire = shapely.Point(0.0, bump).buffer(tire_for_clearance(up, wanted, bump) / 2, quad_segs=512)
    assert tire.distance(lip) == pytest.approx(wanted, abs=1e-9)
    assert shapely.Point(0.0, 0.0).buffer(zero_clearance_diameter(up) / 2, quad_segs=512).distance(lip) < 1e-9


@pytest.mark.parametrize("draw", DRAWS, ids=DRAW_IDS)
def test_a_wheel_drawn_as_boxes_reaches_and_pokes_as_far_as_told(draw):
    """Seen from behind: rim and tire as boxes about one center plane, the far side mirrored about the middle."""
    seats, flange, wide = between(draw[0], 0.13, 0.28), between(draw[1], 0.008, 0.02), between(draw[2], 0.18, 0.36)
    inset, faces = between(draw[3], -0.1, 0.14), between(draw[4], 1.4, 2.0)
    face = faces / 2
    tire = shapely.affinity.translate(shapely.box(-wide / 2, 0.0, wide / 2, 0.8), face - inset)
    rim = shapely.affinity.translate(shapely.box(-seats / 2, 0.2, seats / 2, 0.6), face - inset).buffer(
        flange, cap_style="square", join_style="mitre"
    )
    low, _, high, _ = rim.bounds
    assert overall_width(seats, flange) == pytest.approx(high - low)
    assert backspace(inset, seats, flange) == pytest.approx(face - low)
    assert offset(face - low, seats, flange) == pytest.approx(inset)
    inner, _, outer, _ = tire.bounds
    assert inboard_reach(wide, inset) == pytest.approx(face - inner)
    assert outboard_reach(wide, inset) == pytest.approx(outer - face)
    edge = face + 0.15
    assert poke(outboard_reach(wide, inset), 0.15) == pytest.approx(outer - edge)
    assert offset_for_poke(outer - edge, wide, 0.15) == pytest.approx(inset)
    both = tire.union(shapely.affinity.scale(tire, xfact=-1, origin=(0, 0)))
    assert width_over_tires(faces, outer - face) == pytest.approx(both.bounds[2] - both.bounds[0])
    far = shapely.affinity.scale(tire, xfact=-1, origin=(0, 0))
    assert track(faces, inset) == pytest.approx(tire.centroid.x - far.centroid.x)


@pytest.mark.parametrize("draw", DRAWS, ids=DRAW_IDS)
def test_a_drum_in_a_barrel_stands_clear_by_the_distance_of_two_circles(draw):
    barrel, drum = between(draw[0], 0.17, 0.24), between(draw[1], 0.13, 0.168)
    around = shapely.Point(0, 0).buffer(barrel, quad_segs=128).exterior
    inside = shapely.Point(0, 0).buffer(drum, quad_segs=128)
    assert radial_clearance(barrel, drum) == pytest.approx(around.distance(inside), abs=1e-5)
