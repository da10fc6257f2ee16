"""Pairs of wheels, bearings and axles locked together, against general libraries: bodies stacked, moments, units."""

import numpy as np
import pytest
import shapely
import shapely.affinity

from planner.quantities.registry import registry
from planner.trade.bolts.thread_marks import stud_pitch
from planner.trade.gearing.axle import axle_mismatch, axle_ratio, axle_speed_difference, nearest_gear_sets, tooth_ratio
from planner.trade.loads import bearing_arm, bearing_load, bearing_moment, bearing_moment_ratio, side_load
from planner.trade.speedometer.drive import driven_gear_teeth
from planner.trade.steering import kingpin_track_by_inset
from planner.trade.wheel.pairs import (
    clamped_thickness,
    inner_center_plane,
    middle_offset,
    offset_to_hub,
    outer_center_plane,
    outer_offset,
    paired_disc,
)
from planner.trade.wheel.spacing import dual_spacing, offset_for_spacing, sidewall_gap

DRAWS = np.random.default_rng(17).uniform(size=(12, 6))
DRAW_IDS = [f"draw {number}" for number in range(len(DRAWS))]


def between(share: float, low: float, high: float) -> float:
    return low + share * (high - low)


def wheel(dish: float, disc: float, wide: float) -> tuple[shapely.Polygon, shapely.Polygon]:
    """Disc and tire of a wheel that lies on a face at 0: the disc outboard of it, the tire by its dish inboard."""
    return shapely.box(0.0, 0.0, disc, 0.2), shapely.box(-dish - wide / 2, 0.2, -dish + wide / 2, 0.4)


def outboard_end(body: shapely.Polygon) -> float:
    return body.bounds[2]


@pytest.mark.parametrize("draw", DRAWS, ids=DRAW_IDS)
def test_two_wheels_of_one_kind_stacked_dish_to_dish_stand_where_the_planes_say(draw):
    """The outer wheel is the inner one mirrored and pushed on until its disc lies on the other."""
    disc, dish, wide = between(draw[0], 0.006, 0.016), between(draw[1], 0.1, 0.18), between(draw[2], 0.18, 0.3)
    inner_disc, inner_tire = wheel(dish, disc, wide)
    turned = [shapely.affinity.scale(one, xfact=-1, origin=(0, 0)) for one in (inner_disc, inner_tire)]
    push = outboard_end(inner_disc) - turned[0].bounds[0]
    outer_disc, outer_tire = (shapely.affinity.translate(one, push) for one in turned)
    assert outer_disc.distance(inner_disc) == pytest.approx(0, abs=1e-12)

    assert paired_disc(4, disc, "inner nuts") == disc
    planes = inner_center_plane(dish), outer_center_plane(dish, disc, 4)
    assert planes == pytest.approx((inner_tire.centroid.x, outer_tire.centroid.x))
    assert outer_offset(planes[1]) == pytest.approx(-outer_tire.centroid.x)
    assert middle_offset(*planes) == pytest.approx(-inner_tire.union(outer_tire).centroid.x)
    spacing = dual_spacing(*planes)
    assert spacing == pytest.approx(outer_tire.centroid.x - inner_tire.centroid.x)
    assert sidewall_gap(spacing, wide) == pytest.approx(outer_tire.bounds[0] - inner_tire.bounds[2])
    # Taken to the face between the discs the same wheel's offset is a disc more.
    to_disc = outboard_end(inner_disc) - inner_tire.centroid.x
    assert offset_to_hub(to_disc, disc, 4, "disc") == pytest.approx(dish)
    assert offset_for_spacing(spacing, disc, "hub") == pytest.approx(dish)
    assert offset_for_spacing(spacing, disc, "disc") == pytest.approx(to_disc)
    assert clamped_thickness(disc, 4, "long studs") == pytest.approx(outboard_end(outer_disc.union(inner_disc)))


@pytest.mark.parametrize("draw", DRAWS, ids=DRAW_IDS)
def test_the_road_bends_the_bearings_by_its_moments_about_their_middle(draw):
    """Seen from behind, the hub's face at 0; the worse of both ways around a corner."""
    setback, inset = between(draw[0], 0.02, 0.1), between(draw[1], -0.1, 0.14)
    radius, load, share = between(draw[2], 0.33, 0.6), between(draw[3], 4e3, 30e3), between(draw[4], 0.1, 0.5)

    def bending(at: float, height: float) -> float:
        arm = np.array([at + setback, -height])  # from the middle of the bearings to where the tire stands on the road
        return max(abs(np.linalg.det([arm, [side * share * load, load]])) for side in (-1, 1))

    arm = bearing_arm(setback, inset)
    assert arm == pytest.approx(abs(-inset + setback))
    assert bearing_moment(arm, load, radius, share) == pytest.approx(bending(-inset, radius))
    # A load over the middle of the bearings, on the tires as found, that bends them as much.
    found = between(draw[5], 0.33, 0.5)
    alike = bending(-inset, radius) / (bending(-setback, found) / load)
    assert bearing_load(2 * load, arm, radius, found, share) == pytest.approx(alike)
    alike = bending(-inset, radius) / (bending(-0.03, found) / load)  # on the wheels found it stood 0.03 inboard
    stood = bearing_arm(setback, 0.03)
    assert bearing_load(2 * load, arm, radius, found, share, stood) == pytest.approx(alike)
    before = bearing_moment(bearing_arm(setback, 0.0), load, found, share)
    assert bearing_moment_ratio(before, bearing_moment(arm, load, radius, share)) == pytest.approx(
        bending(-inset, radius) / bending(0.0, found)
    )
    # Both ends of the axle stand alike, and hold its load up without tipping it.
    ends = np.linalg.solve([[1.0, 1.0], [-1.0, 1.0]], [2 * load, 0.0])
    assert [side_load(2 * load)] * 2 == pytest.approx(ends)


@pytest.mark.parametrize("draw", DRAWS, ids=DRAW_IDS)
def test_axles_locked_together_travel_what_their_wheels_roll_in_as_many_turns_of_the_shafts(draw):
    units = registry()
    ratios, ways = (
        (between(draw[0], 3, 7), between(draw[1], 3, 7)),
        (between(draw[2], 1.9, 3.2), between(draw[3], 1.9, 3.2)),
    )
    shafts = 1000.0
    rolled = [shafts / ratio * way * units("meter") for ratio, way in zip(ratios, ways, strict=True)]
    ahead = (rolled[0] / rolled[1]).to("").magnitude - 1
    assert axle_mismatch(*ratios, *ways, 1.0) == axle_mismatch(*ratios, *ways, 1.1) == pytest.approx(ahead, abs=1e-12)
    # Of one size at both axles one may still be a little larger.
    larger = (rolled[0] / ways[0] * 1.004 / (rolled[1] / ways[1])).to("").magnitude - 1
    assert axle_mismatch(*ratios, ways[0], ways[0], 1.004) == pytest.approx(larger, abs=1e-12)
    speed = between(draw[4], 5, 25) * units("mile / hour")
    slips = abs(ahead) * speed.to("meter / second").magnitude
    assert axle_speed_difference(ahead, speed.to("meter / second").magnitude) == pytest.approx(slips)


@pytest.mark.parametrize("draw", DRAWS, ids=DRAW_IDS)
def test_the_nearest_gears_are_found_in_a_list_by_bisection_and_by_trying_all(draw):
    sets = np.sort(np.round(3 + 4 * draw[:4], 2))
    wanted = float(np.median(sets)) + 0.001
    place = int(np.searchsorted(sets, wanted))
    found = nearest_gear_sets(tuple(map(float, sets)), wanted)
    assert (found.below, found.above) == pytest.approx((sets[place - 1], sets[place]))
    drive, ratio, way, cable = int(between(draw[4], 5, 10)), between(draw[5], 3, 6), 2.4, 1000 / 1609.344
    teeth, adapter = np.arange(1, 100), between(draw[0], 0.8, 1.2)
    for by, needed in ((1.0, drive * ratio / way / cable), (adapter, drive * ratio * adapter / way / cable)):
        best = teeth[np.argmin(np.abs(teeth - needed))]
        gear = driven_gear_teeth(drive, ratio, way, cable, by)
        assert (gear.exact, gear.nearest) == (pytest.approx(needed), best)
        assert gear.error == pytest.approx(needed / best - 1)


@pytest.mark.parametrize(("ring", "pinion", "hub"), [(41, 10, (1, 1)), (37, 9, (1, 1)), (40, 13, (32, 15))])
def test_gears_turn_as_often_as_their_teeth_go_by(ring, pinion, hub):
    """Meshed tooth by tooth until all stand as they began; a hub's reduction is one more pair of gears."""
    meshed = np.arange(ring * pinion * hub[0] * hub[1] + 1)
    driveshaft = np.count_nonzero(meshed % pinion == 0) - 1
    shaft = np.count_nonzero(meshed % ring == 0) - 1
    at_hub = np.arange(shaft * hub[1] + 1)  # the teeth of the hub's small gear that have gone by
    wheel = np.count_nonzero(at_hub % hub[0] == 0) - 1
    assert tooth_ratio(ring, pinion, hub[0] / hub[1]) == pytest.approx(driveshaft / wheel)
    assert axle_ratio(tooth_ratio(ring, pinion, hub[0] / hub[1])) == pytest.approx(driveshaft / wheel)


def test_a_pitch_is_an_inch_over_the_threads_in_it():
    units = registry()
    for threads in (10, 11, 16, 18, 20, 24):
        pitch = (units("inch") / threads).to("meter").magnitude
        assert stud_pitch(None, threads) == pytest.approx(pitch, rel=1e-12)
        assert stud_pitch(pitch) == pitch


@pytest.mark.parametrize("draw", DRAWS, ids=DRAW_IDS)
def test_kingpins_set_in_from_both_faces_stand_as_far_apart_as_told(draw):
    faces, inset = between(draw[0], 1.4, 2.0), between(draw[1], 0.05, 0.2)
    ends = shapely.MultiPoint([(-faces / 2 + inset, 0), (faces / 2 - inset, 0)])
    assert kingpin_track_by_inset(faces, inset) == pytest.approx(ends.bounds[2] - ends.bounds[0])
