"""An independent reference for the sweep: poses as matrices, the section as a polygon, a tire made of triangles.

Nothing here uses the planner's sums: poses are built forwards (where the wheel goes) and inverted by NumPy, the
section's tangents are made to meet by NumPy and hulled, drawn apart and together by shapely, the solid is turned by
trimesh.
"""

from functools import lru_cache
from itertools import pairwise
from types import SimpleNamespace

import numpy as np
import pytest
import shapely
import shapely.affinity
import trimesh
from scipy.spatial.transform import Rotation


def heights(motion, roll):
    """Least and greatest rise of the axle's middle at a sine of roll, one stop at a time; None where there is none."""
    other_up = motion.bump if motion.other_bump is None else motion.other_bump
    other_down = motion.droop if motion.other_droop is None else motion.other_droop
    stops = motion.stops_apart or (motion.face_to_face,) * 2
    straps = motion.droop_apart or (motion.face_to_face,) * 2
    up, lean = (0, abs(roll) / 2) if roll >= 0 else (1, abs(roll) / 2)
    mine = (stops[0], -1) if up == 0 else (stops[1], 1)  # the spacing that holds this end, and which way roll takes it
    far = (stops[1], 1) if up == 0 else (stops[0], -1)
    high = min(motion.bump + mine[1] * mine[0] * lean, other_up + far[1] * far[0] * lean)
    mine = (straps[1], -1) if up == 0 else (straps[0], 1)
    far = (straps[0], 1) if up == 0 else (straps[1], -1)
    low = max(-motion.droop + mine[1] * mine[0] * lean, -other_down + far[1] * far[0] * lean)
    return (low, high) if low <= high + 1e-12 and abs(roll) <= motion.most_roll + 1e-12 else None


def most_roll(motion, way):
    """The most that the axle rolls one way, by halving."""
    inside, outside = 0.0, motion.most_roll
    if heights(motion, way * outside):
        return outside
    for _ in range(60):
        middle = (inside + outside) / 2
        inside, outside = (middle, outside) if heights(motion, way * middle) else (inside, middle)
    return inside


def poses(motion, rolls=9, rises=5):
    """Rises of this wheel and the far one over all that the axle can do, the corners of the region among them."""
    found = []
    for way in (-1.0, 1.0):
        for roll in np.linspace(0, most_roll(motion, way), rolls):
            low, high = heights(motion, way * roll)
            for middle in np.linspace(low, high, rises):
                half = way * roll * motion.face_to_face / 2
                found.append((middle + half, middle - half))
    return found


def wheel_pose(motion, steer, rise, far_rise, rides):
    """The 4 × 4 matrix that carries the wheel from rest to where it is, as what the obstacle rides with sees it."""
    pose = np.eye(4)
    if rides != "knuckle":
        foot = np.array([0.0, -motion.kingpin_inset, 0.0])
        along = np.array([-np.tan(motion.caster), -np.tan(motion.inclination), 1.0])
        turn = Rotation.from_rotvec(-steer * along / np.linalg.norm(along)).as_matrix()
        pose[:3, :3], pose[:3, 3] = turn, foot - turn @ foot
    if rides == "body":
        middle = np.array([0.0, -motion.face_to_face / 2, 0.0])
        roll = Rotation.from_euler("x", np.arcsin((rise - far_rise) / motion.face_to_face)).as_matrix()
        axle = np.eye(4)
        axle[:3, :3] = roll
        axle[:3, 3] = middle + [0.0, 0.0, (rise + far_rise) / 2] - roll @ middle
        pose = axle @ pose
    return pose


def seen_from_wheel(motion, obstacle, steer, rise, far_rise, along):
    """Points (one for each `along`) in the wheel's frame."""
    start, end = np.array(obstacle.start), np.array(obstacle.end or obstacle.start)
    points = start + np.atleast_1d(along)[:, None] * (end - start)
    back = np.linalg.inv(wheel_pose(motion, steer, rise, far_rise, obstacle.rides))
    return points @ back[:3, :3].T + back[:3, 3]


@lru_cache(maxsize=8)  # one obstacle is held against several tires
def swept_points(motion, obstacle, steers=9, rolls=7, rises=5, alongs=9):
    """Every point of an even grid over the whole sweep, in the wheel's frame."""
    along = np.linspace(0, 1, alongs if obstacle.end else 1)
    return np.concatenate(
        [
            seen_from_wheel(motion, obstacle, steer, *pose, along)
            for pose in (poses(motion, rolls, rises) if obstacle.rides == "body" else [(0.0, 0.0)])
            for steer in np.linspace(-motion.steer_out, motion.steer_in, steers)
        ]
    )


def outline(section):
    """The solid's half-plane section as a polygon: what tangents of crown and sidewall, and the rim, hull."""
    top, bottom = section.diameter / 2, section.barrel_radius
    tread, half = section.tread_width / 2, section.section_width / 2
    rim = bottom if section.flange_radius is None else section.flange_radius
    widest = (top + rim) / 2
    shoulder = max(top - section.crown_drop, widest)
    points = [(0, top), (tread, shoulder), (half, bottom)]
    if tread and top > shoulder:
        # y = top − drop (x / tread)² touches y = top in the middle, y + 2 drop x / tread = top + drop at the edge.
        drop = top - shoulder
        points.append(np.linalg.solve([[0, 1], [2 * drop / tread, 1]], [top, top + drop]))
    across, up = half - tread, shoulder - widest
    turns = np.radians([0, 22.5, 45, 67.5, 90])
    for one, other in pairwise(turns):
        # The tangent where the ellipse is (a cos t, b sin t) is (x / a) cos t + (y / b) sin t = 1.
        x, y = np.linalg.solve([[np.cos(one), np.sin(one)], [np.cos(other), np.sin(other)]], [1, 1])
        points.append((tread + across * x, widest + up * y))
    if section.flange_radius is not None:
        points += [(section.rim_width / 2 + section.weights, y) for y in (rim, bottom)]
    whole = shapely.MultiPoint([(way * x, y) for x, y in points for way in (1, -1)]).convex_hull
    apart = [shapely.affinity.translate(whole, way * section.stretch / 2) for way in (1, -1)]
    whole = apart[0].union(apart[1]).convex_hull if section.stretch >= 0 else apart[0].intersection(apart[1])
    return shapely.affinity.translate(whole, -section.offset, 0)


def section_distance(section, axial, radial):
    """Signed distance by shapely, negative inside."""
    polygon = outline(section)
    points = shapely.points(np.atleast_1d(axial), np.atleast_1d(radial))
    inside = shapely.contains(polygon, points)
    return np.where(inside, -shapely.distance(polygon.exterior, points), shapely.distance(polygon, points))


def swept_distance(motion, obstacle, section, **grid):
    """The least distance over an even grid: never less than the true one."""
    points = swept_points(motion, obstacle, **grid)
    return float(section_distance(section, points[:, 1], np.hypot(points[:, 0], points[:, 2])).min())


def tire_mesh(section, turns):
    """The tire turned by trimesh about its own axle, which lies along y."""
    ring = np.array(outline(section).exterior.coords)
    mesh = trimesh.creation.revolve(ring[:, ::-1], sections=turns)  # trimesh turns (radius, height) about z
    mesh.apply_transform(np.array([[1, 0, 0, 0], [0, 0, 1, 0], [0, -1, 0, 0], [0, 0, 0, 1.0]]))
    return mesh


def mesh_distance(mesh, point):
    """Distance from a point outside to the nearest triangle."""
    spots = trimesh.triangles.closest_point(mesh.triangles, np.tile(point, (len(mesh.triangles), 1)))
    return float(np.linalg.norm(spots - point, axis=1).min())


@pytest.fixture(scope="session")
def reference():
    return SimpleNamespace(
        heights=heights,
        poses=poses,
        seen_from_wheel=seen_from_wheel,
        swept_points=swept_points,
        section_distance=section_distance,
        swept_distance=swept_distance,
        tire_mesh=tire_mesh,
        mesh_distance=mesh_distance,
    )
