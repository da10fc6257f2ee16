"""Rims, brakes, pairs and what rides on an axle, against a general library: drawn, moved, and measured."""

from math import cos, degrees

import numpy as np
import pytest
import shapely
import shapely.affinity

from planner.quantities.registry import registry
from planner.trade.brakes import face_clearance, valve_clearance
from planner.trade.fit.inputs import crown_drop, flange_radius, inner_radius, tread_width
from planner.trade.fit.travel import bump_spacing, droop_spacing, squeezed_bump
from planner.trade.look import tightest_overhead
from planner.trade.stance.heights import lamp_height, rise
from planner.trade.stance.stability import mean_track, rise_since_test
from planner.trade.wheel.barrel import barrel_radius
from planner.trade.wheel.reach import offset_by_backspace
from planner.trade.wheel.spacing import least_spacing, loaded_width

DRAWS = np.random.default_rng(19).uniform(size=(8, 6))
DRAW_IDS = [f"draw {number}" for number in range(len(DRAWS))]
CENTER = shapely.Point(0.0, 0.0)
SEATS = {15: 380.2, 16: 405.6, 17: 436.6}  # mm across the bead seats, from memory of ISO 4000-2
ROUND = 5e-5  # m: what a circle of 256 corners is off by


def between(share: float, low: float, high: float) -> float:
    return low + share * (high - low)


def around(radius: float) -> shapely.Polygon:
    return CENTER.buffer(radius, quad_segs=64)


def wide(body: shapely.Geometry) -> float:
    return body.bounds[2] - body.bounds[0]


def scaled(wide_: float, share: float) -> float:
    """How long a line about the middle is, drawn to another scale."""
    return shapely.affinity.scale(shapely.LineString([(-wide_ / 2, 0), (wide_ / 2, 0)]), xfact=share).length


def apart(low: shapely.Geometry, high: shapely.Geometry) -> float:
    """How far one lies above the other, below nothing by as much as it reaches into it."""
    both = low.intersection(high)
    return low.distance(high) if both.is_empty else -(both.bounds[3] - both.bounds[1])


@pytest.mark.parametrize("draw", DRAWS, ids=DRAW_IDS)
@pytest.mark.parametrize("code", SEATS)
def test_a_rim_drawn_as_rings_leaves_the_room_inside_that_is_told(draw, code):
    well, steel, flange = between(draw[0], 0.01, 0.03), between(draw[1], 0.003, 0.012), between(draw[2], 0.012, 0.028)
    seats = around(SEATS[code] / 2000)
    barrel = seats.buffer(-well, join_style="mitre").buffer(-steel, join_style="mitre")
    assert barrel_radius(code, well, steel) == pytest.approx(barrel.exterior.distance(CENTER), abs=ROUND)
    measured = between(draw[3], 0.15, 0.2)
    assert barrel_radius(code, well, steel, measured) == measured == inner_radius(well, measured, code)
    tips = seats.buffer(flange, join_style="mitre")
    assert flange_radius(flange, well, 0.0, code) == pytest.approx(wide(tips) / 2, abs=ROUND)
    assert flange_radius(flange, well, 0.0, None, code) == pytest.approx(wide(tips) / 2, abs=ROUND)


@pytest.mark.parametrize("draw", DRAWS, ids=DRAW_IDS)
def test_a_rim_that_only_its_code_is_known_of_is_as_many_inches_across(draw):
    code, deep, flange = 13.5 + int(10 * draw[0]), between(draw[1], 0.02, 0.06), between(draw[2], 0.012, 0.028)
    seats = around((code * registry()("inch")).to("meter").magnitude / 2)
    inside = seats.buffer(-deep, join_style="mitre")
    for known in ((None, code), (code, None), (code, 16.0)):
        assert inner_radius(deep, None, *known) == pytest.approx(inside.exterior.distance(CENTER), abs=ROUND)
    bore = between(draw[3], 0.15, 0.2)
    tips = around(bore).buffer(deep, join_style="mitre").buffer(flange, join_style="mitre")
    assert flange_radius(flange, deep, bore) == pytest.approx(wide(tips) / 2, abs=ROUND)
    if code not in (17.5, 19.5, 22.5):  # the table has these
        tips = seats.buffer(flange, join_style="mitre")
        assert flange_radius(flange, deep, bore, code) == pytest.approx(wide(tips) / 2, abs=ROUND)


@pytest.mark.parametrize("draw", DRAWS, ids=DRAW_IDS)
def test_brake_disc_and_valve_are_as_far_apart_as_drawn_along_the_axle(draw):
    """The axle upward, the hub's face at 0; then from the side, with the valve leant off the line to the hub."""
    brake, disc = between(draw[0], -0.03, 0.03), between(draw[1], -0.02, 0.05)
    drum = shapely.box(-0.15, -0.2, 0.15, brake)
    assert face_clearance(disc, brake) == pytest.approx(apart(drum, shapely.box(-0.2, disc, 0.2, disc + 0.1)))
    hole, reach, lean = between(draw[2], 0.17, 0.22), between(draw[3], 0.01, 0.05), between(draw[4], -1.5, 1.5)
    large = between(draw[5], 0.12, 0.21)
    valve = shapely.affinity.rotate(shapely.LineString([(0, hole), (0, hole - reach)]), degrees(lean), origin=(0, hole))
    over = apart(shapely.box(-1, -1, 1, large), valve.envelope)
    found = valve_clearance(hole, reach, cos(lean), large)
    assert found == pytest.approx(over) if large < hole else found < 0


@pytest.mark.parametrize("draw", DRAWS, ids=DRAW_IDS)
def test_shares_of_a_width_are_that_width_drawn_to_scale(draw):
    share, across, measured = between(draw[0], 0.4, 0.95), between(draw[1], 1.4, 2.0), between(draw[2], 0.5, 1.2)
    for figure in (bump_spacing, droop_spacing):
        assert figure(share, across) == pytest.approx(scaled(across, share))
        assert figure(share, across, measured) == measured
    tire, dip, bulge = between(draw[3], 0.18, 0.36), between(draw[4], 0.01, 0.06), between(draw[5], 1.1, 1.2)
    assert tread_width(tire, share) == pytest.approx(scaled(tire, share))
    assert crown_drop(tire, dip) == pytest.approx(scaled(tire, dip))
    assert least_spacing(tire, bulge) == pytest.approx(scaled(tire, bulge))
    assert least_spacing(tire, bulge, measured) == measured


@pytest.mark.parametrize("draw", DRAWS, ids=DRAW_IDS)
def test_an_axle_raised_by_bump_and_give_presses_as_far_into_its_stop_as_that_gives(draw):
    travel, gives = between(draw[0], 0.03, 0.15), between(draw[1], 0.005, 0.025)
    pad, rubber = shapely.box(0.0, 0.0, 0.1, 0.05), shapely.box(0.0, 0.05 + travel, 0.1, 0.11 + travel)
    raised = shapely.affinity.translate(pad, yoff=squeezed_bump(travel, gives))
    assert apart(rubber, raised) == pytest.approx(-gives)


@pytest.mark.parametrize("draw", DRAWS, ids=DRAW_IDS)
def test_the_least_of_the_readings_up_to_an_opening_is_the_distance_of_what_was_drawn_by_them(draw):
    up = [between(share, 0.5, 0.8) for share in draw[:3]]
    turned = zip(up, (0, -45, 45), strict=True)
    points = [shapely.affinity.rotate(shapely.Point(0, one), turn, origin=CENTER) for one, turn in turned]
    assert tightest_overhead(*up) == pytest.approx(shapely.union_all(points).distance(CENTER))
    assert tightest_overhead(up[0], None, up[2]) == pytest.approx(min(points[0].distance(CENTER), up[2]))
    assert tightest_overhead(up[0], up[1]) == pytest.approx(min(up[0], points[1].distance(CENTER)))


@pytest.mark.parametrize("draw", DRAWS, ids=DRAW_IDS)
def test_two_tires_whose_gap_was_measured_are_as_wide_at_the_road_as_leaves_it(draw):
    """Each as a box at the road; then as new ones that have grown, everything about them to one scale."""
    at_road, spacing, grown = between(draw[0], 0.22, 0.3), between(draw[1], 0.31, 0.36), between(draw[2], 1.0, 1.05)
    section, bulge = at_road / between(draw[3], 1.0, 1.1), between(draw[4], 0.04, 0.1)
    one = shapely.box(-at_road / 2, 0.0, at_road / 2, 0.1)
    gap = one.distance(shapely.affinity.translate(one, spacing))
    larger = wide(shapely.affinity.scale(one, xfact=grown))
    assert loaded_width(section, section * grown, bulge, spacing, gap) == pytest.approx(larger)
    assert loaded_width(section, section * grown, bulge, None, gap, spacing) == pytest.approx(larger)
    assert loaded_width(section, section * grown, bulge, spacing, gap, 2 * spacing) == pytest.approx(larger)
    assert loaded_width(section, section * grown, bulge) == pytest.approx(scaled(section * grown, 1 + bulge))


@pytest.mark.parametrize("draw", DRAWS, ids=DRAW_IDS)
def test_a_backspace_puts_the_face_of_a_drawn_rim_where_its_offset_says(draw):
    seats, flange = between(draw[0], 0.13, 0.28), between(draw[1], 0.008, 0.02)
    rim = shapely.box(-seats / 2, 0.2, seats / 2, 0.6).buffer(flange, cap_style="square", join_style="mitre")
    back = between(draw[2], 0.05, 0.25)
    face = rim.bounds[0] + back
    assert offset_by_backspace(back, seats, flange) == pytest.approx(face - rim.centroid.x)


@pytest.mark.parametrize("draw", DRAWS, ids=DRAW_IDS)
def test_a_truck_drawn_on_other_tires_and_longer_springs_stands_higher_by_its_rise(draw):
    """Standing on the road at 0: wheel, spring, body, and a lamp on the body."""
    radii, spring = [between(share, 0.33, 0.5) for share in draw[:2]], between(draw[2], 0.2, 0.3)
    lift, up = between(draw[3], 0.0, 0.15), between(draw[4], 0.1, 0.6)

    def body(radius: float, springs: float) -> shapely.GeometryCollection:
        hub = shapely.affinity.translate(CENTER, yoff=radius)
        frame = shapely.affinity.translate(shapely.box(-1, 0, 1, 0.1), yoff=hub.y + springs)
        return shapely.GeometryCollection([frame, shapely.Point(0.9, frame.bounds[1] + up)])

    found, planned = body(radii[0], spring), body(radii[1], spring + lift)
    higher = rise(radii[0], radii[1], lift)
    assert higher == pytest.approx(planned.bounds[1] - found.bounds[1])
    assert lamp_height(found.geoms[1].y, higher) == pytest.approx(planned.geoms[1].y)
    assert rise_since_test(radii[1], radii[0]) == pytest.approx(body(radii[1], spring).bounds[1] - found.bounds[1])


@pytest.mark.parametrize("draw", DRAWS, ids=DRAW_IDS)
def test_the_average_track_is_how_far_the_wheels_lines_are_apart_halfway_between_the_axles(draw):
    front, rear, wheelbase = between(draw[0], 1.3, 1.9), between(draw[1], 1.3, 1.9), between(draw[2], 2.3, 3.6)
    ground = shapely.Polygon([(-front / 2, wheelbase), (front / 2, wheelbase), (rear / 2, 0.0), (-rear / 2, 0.0)])
    halfway = shapely.LineString([(-2.0, wheelbase / 2), (2.0, wheelbase / 2)])
    assert mean_track(front, rear) == pytest.approx(ground.intersection(halfway).length)
