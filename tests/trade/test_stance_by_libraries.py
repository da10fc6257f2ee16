"""How the truck stands, against general libraries that know nothing of trucks: bodies turned, lines and circles met."""

from math import atan2, cos, pi, sin

import numpy as np
import pytest
import shapely
import shapely.affinity
from scipy.optimize import brentq
from scipy.spatial.transform import Rotation

from planner.trade.stance.heights import belly_height, cg_height, front_point_height, overall_height, rear_point_height
from planner.trade.stance.ramps import approach_angle, breakover_angle, departure_angle
from planner.trade.stance.stability import found_cg_height, side_slope, stability_factor

FAR = 50.0  # m: longer than any truck
DRAWS = np.random.default_rng(14).uniform(size=(12, 6))
DRAW_IDS = [f"draw {number}" for number in range(len(DRAWS))]


def between(share: float, low: float, high: float) -> float:
    return low + share * (high - low)


def touching_slope(away: float, height: float, radius: float) -> float:
    """The slope, in rad, of the line through a point that just touches the tire below it, found by trying slopes."""

    def gap(slope: float) -> float:
        line = shapely.LineString(
            [
                (away - FAR * cos(slope), height - FAR * sin(slope)),
                (away + FAR * cos(slope), height + FAR * sin(slope)),
            ]
        )
        return shapely.Point(0.0, radius).distance(line) - radius

    through_the_axle = atan2(height - radius, away)
    return brentq(gap, through_the_axle, through_the_axle + pi / 2, xtol=1e-13)


@pytest.mark.parametrize("draw", DRAWS, ids=DRAW_IDS)
def test_a_ramp_that_just_touches_the_tire_and_the_point_is_the_approach_and_the_departure_angle(draw):
    radius = between(draw[0], 0.33, 0.6)
    away, height = between(draw[1], radius + 0.05, 1.6), between(draw[2], 0.2, 0.6)
    slope = touching_slope(away, height, radius)
    assert approach_angle(away, height, radius) == pytest.approx(slope, abs=1e-6)
    assert departure_angle(away, height, radius) == pytest.approx(slope, abs=1e-6)


@pytest.mark.parametrize("draw", DRAWS, ids=DRAW_IDS)
def test_the_crest_between_two_touching_lines_is_the_breakover_angle(draw):
    front, rear = between(draw[0], 0.33, 0.6), between(draw[1], 0.33, 0.6)
    wheelbase, height = between(draw[2], 2.2, 3.6), between(draw[3], 0.25, 0.5)
    behind = between(draw[4], 0.35, 0.65) * wheelbase
    crest = touching_slope(behind, height, front) + touching_slope(wheelbase - behind, height, rear)
    assert breakover_angle(wheelbase, height, front, behind, rear) == pytest.approx(crest, abs=1e-6)


@pytest.mark.parametrize("draw", DRAWS, ids=DRAW_IDS)
def test_a_body_tips_when_its_center_of_gravity_stands_over_the_lower_tires(draw):
    track, height = between(draw[0], 1.3, 2.2), between(draw[1], 0.6, 1.6)
    center = shapely.Point(0.0, height)

    def inside(slope: float) -> float:
        tilted = shapely.affinity.rotate(center, -slope, origin=(track / 2, 0.0), use_radians=True)
        return track / 2 - tilted.x

    tips_at = brentq(inside, 0.0, pi / 2 - 1e-9, xtol=1e-13)
    assert side_slope(track, height) == pytest.approx(tips_at, abs=1e-9)
    # On the level a side force tips it when its moment about the same tires is the weight's.
    weight, arm = np.array([0.0, -1.0]), np.array([-track / 2, height])
    push = brentq(lambda share: np.linalg.det([arm, weight + np.array([share, 0.0])]), 0.0, 9.0)
    assert stability_factor(track, height) == pytest.approx(push, rel=1e-9)


@pytest.mark.parametrize("draw", DRAWS, ids=DRAW_IDS)
def test_scales_under_a_truck_that_is_lifted_at_one_axle_give_its_center_of_gravity_back(draw):
    """The truck is a rigid body in 3D, turned about the front axle; each scale reads what moments ask of it."""
    wheelbase, radius = between(draw[0], 2.3, 3.6), between(draw[1], 0.33, 0.5)
    back, over = between(draw[2], 0.4, 0.6) * wheelbase, between(draw[3], 0.1, 0.7)
    weight, lift = between(draw[4], 15e3, 60e3), between(draw[5], 0.4, 0.9)

    def front_scale(turn: float) -> float:
        turned = Rotation.from_euler("y", -turn).apply([[back, 0.0, over], [wheelbase, 0.0, 0.0]])
        center, rear = turned
        return weight * (rear[0] - center[0]) / rear[0]

    turn = brentq(lambda angle: Rotation.from_euler("y", -angle).apply([wheelbase, 0, 0])[2] - lift, 0.0, 1.5)
    found = found_cg_height(wheelbase, weight, front_scale(0.0), front_scale(turn), lift, radius)
    assert found == pytest.approx(radius + over, rel=1e-9)
    # Since then it stands on other tires, by which its two axles have risen.
    rises = between(draw[0], -0.05, 0.1), between(draw[1], -0.05, 0.1)
    line = np.polynomial.Polynomial.fit([0.0, wheelbase], rises, 1)
    scales = front_scale(0.0), front_scale(turn)
    since = found_cg_height(wheelbase, weight, *scales, lift, radius, *rises)
    assert since == pytest.approx(radius + over + line(back), rel=1e-9)


@pytest.mark.parametrize("draw", DRAWS, ids=DRAW_IDS)
def test_a_body_raised_at_both_axles_stands_higher_by_the_line_through_them(draw):
    """numpy's line through the two rises, at each place along the truck."""
    wheelbase, front, rear = between(draw[0], 2.3, 3.6), between(draw[1], -0.05, 0.1), between(draw[2], -0.05, 0.1)
    line = np.polynomial.Polynomial.fit([0.0, wheelbase], [front, rear], 1)
    behind, height = between(draw[3], -1.0, 3.0), between(draw[4], 0.3, 2.6)
    beyond = between(draw[5], 0.5, 1.5)
    assert overall_height(height, front, rear, behind, wheelbase) == pytest.approx(height + line(behind))
    assert belly_height(height, front, rear, wheelbase, abs(behind)) == pytest.approx(height + line(abs(behind)))
    assert front_point_height(height, beyond, front, rear, wheelbase) == pytest.approx(height + line(-beyond))
    assert rear_point_height(height, beyond, front, rear, wheelbase) == pytest.approx(height + line(wheelbase + beyond))
    loads = [between(draw[3], 8e3, 20e3), between(draw[4], 8e3, 20e3)]
    place = np.average([0.0, wheelbase], weights=loads)
    assert cg_height(height, front, rear, *loads) == pytest.approx(height + line(place))
    # Where nobody knows how far back it is, it may be wherever that is most.
    most = height + np.max(line(np.linspace(0.0, wheelbase, 11)))
    assert cg_height(height, front, rear) == overall_height(height, front, rear) == pytest.approx(most)
