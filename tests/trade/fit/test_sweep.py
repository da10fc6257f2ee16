"""Swept clearance against closed forms, a tire of triangles, and dense grids that know nothing of our sums."""

from dataclasses import replace
from math import hypot, pi, radians

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.trade.fit.motion import Motion, SweepPlace, SweptObstacle, lean_doubt
from planner.trade.fit.section import TireSection
from planner.trade.fit.sweep import falls, inside_at_rest, keeps, least_clearance, proven_clearance
from planner.trade.fit.swing import wheel_point
from planner.trade.fit.trace import halves, place, swept_region, trace

CYLINDER = TireSection(0.250, 0.250, 0.800, 0.0, 0.190)  # square shoulders
STILL = Motion(1.5)


def clearance(motion, obstacle, section, **options):
    return least_clearance(trace(motion, obstacle), section, **options)


@pytest.mark.parametrize(
    ("point", "distance", "part"),
    [
        ((0.3, 0.0, 0.4), 0.1, "tread"),  # 3, 4, 5: half a meter from the axle
        ((0.0, -0.2, 0.3), 0.075, "sidewall"),
        ((0.0, 0.125 + 0.03, 0.4 + 0.04), 0.05, "tread"),  # 3, 4, 5 from the shoulder's edge
        ((0.09, 0.0, 0.12), 0.04, "barrel"),  # 150 mm from the axle, inside a barrel of 190 mm
    ],
)
def test_without_steer_or_travel_it_is_the_plain_distance_to_a_cylinder(point, distance, part):
    found = clearance(STILL, SweptObstacle("a", point), CYLINDER)
    assert found.distance == pytest.approx(distance, abs=1e-12)
    assert found.part == part
    assert found.finished


def test_an_edge_across_the_tread_is_as_near_as_its_foot():
    # A level edge fore and aft, 0.45 m up: nearest right above the axle.
    found = clearance(STILL, SweptObstacle("a", (-0.5, 0.0, 0.45), (0.3, 0.0, 0.45)), CYLINDER)
    assert found.proven <= 0.05 <= found.distance + 1e-12 <= 0.05 + 1e-4
    assert found.place.along == pytest.approx(0.625, abs=0.02)


def test_steer_alone_about_an_upright_kingpin_through_the_hub_the_tires_edge_sweeps_its_own_circle():
    # The square shoulder's foremost spot is √(0.4² + 0.125²) from the kingpin, and steered 17.35° it points ahead.
    found = clearance(Motion(1.5, steer_in=0.6, steer_out=0.6), SweptObstacle("a", (0.5, 0.0, 0.0)), CYLINDER)
    exact = 0.5 - hypot(0.4, 0.125)
    assert found.proven <= exact <= found.distance <= exact + 1e-4
    assert abs(found.place.steer) == pytest.approx(np.arctan(0.125 / 0.4), abs=0.03)


def test_bump_takes_its_own_height_off_what_is_above():
    # Both ends can only rise, and the stops stand at the hubs: the nearest is this end up and the other down, rolled
    # about it: sine 0.06 / 1.5 = 0.04, the middle up 0.03, and the point, 0.75 m outboard of it and 0.47 above, is at
    # 0.47 √(1 − 0.04²) − 0.75 × 0.04 above the axle: 0.4396.
    found = clearance(Motion(1.5, bump=0.06), SweptObstacle("a", (0.0, 0.0, 0.5)), CYLINDER)
    assert found.distance == pytest.approx(0.47 * np.sqrt(1 - 0.04**2) - 0.03 - 0.4, abs=1e-12)
    assert (found.place.rise, found.place.far_rise) == pytest.approx((0.06, 0.0))
    # An axle that is all but as wide as the world does not roll: what is left is the height itself.
    wide = clearance(Motion(1e7, bump=0.06, droop=0.08), SweptObstacle("a", (0.0, 0.0, 0.5)), CYLINDER)
    assert wide.distance == pytest.approx(0.04, abs=1e-6)


def test_crossed_leans_the_tire_into_what_stands_inboard_above():
    # Ends at ±75 mm, 1.5 m apart: sine ±0.1. The point is 0.3 m outboard of the middle and 0.3 m above it, so the axle
    # sees it at most 0.3 √0.99 + 0.3 × 0.1 outboard of the middle, with this end up; the sidewall is at −0.125.
    motion = Motion(1.5, bump=0.075, droop=0.075)
    found = clearance(motion, SweptObstacle("a", (0.0, -0.45, 0.3)), CYLINDER)
    exact = -0.125 - (0.3 * np.sqrt(0.99) + 0.03 - 0.75)
    assert found.proven <= exact <= found.distance + 1e-12 <= exact + 1e-4
    assert (found.place.rise, found.place.far_rise) == pytest.approx((0.075, -0.075), abs=1e-3)


def test_stops_that_stand_inboard_of_the_wheels_let_a_wheel_rise_by_more_than_its_bump():
    # Stops and straps 0.75 m apart on an axle of 1.5, 60 mm up and 60 mm down at each: rolled until one end is on its
    # stop and the other on its strap, sin phi = 0.12 / 0.75 = 0.16, and the wheel is up by 0.75 × 0.16 = 0.12.
    motion = Motion(1.5, 0.06, 0.06, stops_apart=(0.75, 0.75), droop_apart=(0.75, 0.75))
    found = clearance(motion, SweptObstacle("a", (0.0, 0.0, 0.6)), CYLINDER)
    assert (found.place.rise, found.place.far_rise) == pytest.approx((0.12, -0.12))
    assert found.distance == pytest.approx(0.6 * np.sqrt(1 - 0.16**2) - 0.75 * 0.16 - 0.4, abs=1e-4)


def test_one_wheel_over_the_other_by_no_more_than_was_measured():
    motion = Motion(1.5, 0.06, 0.06, stops_apart=(0.75, 0.75), droop_apart=(0.75, 0.75), most_roll=0.15 / 1.5)
    found = clearance(motion, SweptObstacle("a", (0.0, 0.0, 0.6)), CYLINDER)
    assert found.place.rise - found.place.far_rise == pytest.approx(0.15)


def test_a_mixture_of_heave_and_roll_may_be_nearer_than_either_alone():
    # What stands outboard of the sidewall above the axle line: rolled the other way, this end down, it leans in, and
    # at the greatest heave that the roll leaves it is also lowest. Neither level nor evenly crossed is as near.
    motion = Motion(1.5, 0.08, 0.08)
    lip = SweptObstacle("lip", (0.0, 0.135, 0.42))
    found = clearance(motion, lip, CYLINDER)
    level = clearance(replace(motion, most_roll=0.0), lip, CYLINDER)
    assert found.distance < level.distance - 1e-3
    even = [pose for pose in ((0.08, -0.08), (-0.08, 0.08))]
    for rise, far in even:
        x, y, z = wheel_point(motion, lip, SweepPlace(0.0, rise, far))
        assert found.distance < np.hypot(max(0.0, y - 0.125), max(0.0, np.hypot(x, z) - 0.4)) - 1e-3


def test_the_place_told_is_where_the_distance_told_is_found(reference):
    motion = Motion(1.6, 0.09, 0.1, radians(36), radians(30), 0.1, radians(8), radians(3))
    rail = SweptObstacle("rail", (-0.5, -0.35, 0.25), (0.5, -0.35, 0.3))
    section = TireSection(0.27, 0.23, 0.84, -0.02, 0.19, 0.22, 0.215)
    found = clearance(motion, rail, section)
    x, y, z = wheel_point(motion, rail, found.place)
    assert reference.section_distance(section, y, hypot(x, z))[0] == pytest.approx(found.distance, abs=1e-6)
    assert found.point == pytest.approx(tuple(np.array(rail.start) + found.place.along * np.array(rail.edge)))
    assert np.linalg.norm(found.normal) == pytest.approx(1.0)
    # A millimeter along the normal takes the measured point a millimeter away, to the first order.
    step = 1e-3 * np.array(found.normal)
    moved = replace(rail, start=tuple(rail.start + step), end=tuple(rail.end + step))
    x, y, z = wheel_point(motion, moved, found.place)
    assert reference.section_distance(section, y, hypot(x, z))[0] == pytest.approx(found.distance + 1e-3, abs=1e-5)


def test_a_tolerance_takes_off_what_the_normal_lets_through_and_for_the_whole_sweep_its_full_length():
    stone = SweptObstacle("stone", (0.0, 0.0, 0.45), tolerance=(0.012, 0.009, 0.004), required=0.01)
    found = clearance(STILL, stone, CYLINDER)
    assert found.taken == pytest.approx(0.004)  # straight above: only the height counts
    assert stone.reach == pytest.approx(hypot(0.012, 0.009, 0.004))
    assert found.sure == pytest.approx(found.proven - stone.reach)
    assert found.sure <= found.distance - found.taken
    assert stone.keep == pytest.approx(0.01 + stone.reach)


spacings = st.tuples(st.floats(0.4, 1.1), st.floats(0.4, 1.1))
random_motions = st.builds(
    Motion, st.floats(1.2, 2.0), st.floats(0, 0.15), st.floats(0, 0.15), st.floats(0, 0.7), st.floats(0, 0.7),
    st.floats(-0.1, 0.25), st.floats(-0.1, 0.3), st.floats(-0.1, 0.2), st.floats(0, 0.15), st.floats(0, 0.15),
    st.none() | spacings, st.none() | spacings, st.floats(0.0, 0.5),
)  # fmt: skip
points = st.tuples(st.floats(-0.6, 0.6), st.floats(-0.6, 0.3), st.floats(-0.3, 0.7))
obstacles = st.builds(
    lambda start, end, rides: SweptObstacle("a", start, end, rides),
    points, st.none() | points, st.sampled_from(["body", "body", "axle", "knuckle"]),
)  # fmt: skip
random_sections = st.builds(
    lambda width, share, barrel, high, offset, rim, tip, drop: TireSection(
        width, share * width, 2 * (barrel + high), offset, barrel, rim, None if tip is None else barrel + tip * high,
        drop * width,
    ),
    st.floats(0.15, 0.4), st.floats(0.3, 1.0), st.floats(0.12, 0.25), st.floats(0.05, 0.3), st.floats(-0.15, 0.15),
    st.floats(0.1, 0.5), st.none() | st.floats(0.02, 0.6), st.just(0.0) | st.floats(0.0, 0.1),
)  # fmt: skip


@settings(max_examples=settings().max_examples * 4 // 3)  # trucks: two hundred where all tests run
@given(random_motions, obstacles, random_sections)
def test_the_proven_bound_is_never_broken_by_a_dense_grid(reference, motion, obstacle, section):
    found = clearance(motion, obstacle, section)
    dense = reference.swept_distance(motion, obstacle, section, steers=11, rolls=7, rises=5, alongs=13)
    assert found.proven <= dense + 1e-6
    assert found.proven <= found.distance
    wheel_point(motion, obstacle, found.place)  # a place that the wheel can go to
    if found.finished:
        assert found.gap <= 1e-4
        assert found.distance <= dense + 1e-4 + 1e-6


@given(random_motions, obstacles, random_sections, st.integers(1, 60))
def test_the_bound_holds_when_the_budget_runs_out_and_says_so(reference, motion, obstacle, section, budget):
    found = clearance(motion, obstacle, section, budget=budget)
    dense = reference.swept_distance(motion, obstacle, section, steers=7, rolls=5, rises=4, alongs=7)
    assert found.proven <= dense + 1e-6
    assert found.evaluations <= max(budget + 2, 12)
    assert found.finished == (found.gap <= 1e-4)


doubtful_motions = st.builds(
    lambda motion, lean, inset, width: replace(motion, lean_doubt=lean, inset_doubt=inset, width_doubt=width),
    random_motions, st.floats(0, 0.03), st.floats(0, 0.01), st.floats(0, 0.01),
)  # fmt: skip


@pytest.mark.parametrize("length", [0.1, 0.4, 1.0])
def test_along_an_edge_abreast_of_the_wheel_the_radius_grows_as_pythagoras_says(length):
    edge = SweptObstacle("edge", (-length / 2, 0.0, 0.5), (length / 2, 0.0, 0.5))
    (cell,) = trace(STILL, edge).region.roots
    assert falls(cell, 0.0, -1.0)[0] >= hypot(length / 2, 0.5) - 0.5


def test_what_steer_carries_abreast_of_the_axle_is_farther_from_it_at_both_ends_of_the_turn():
    # About an upright kingpin through the hub: half a meter inboard and 0.4 up in the middle of the turn, 0.3 rad on to
    # either side it is 0.5 sin 0.3 ahead or behind, √(0.1478² + 0.4²) from the axle line.
    start = (-0.5 * np.sin(0.3), -0.5 * np.cos(0.3), 0.4)
    (cell,) = trace(Motion(1.5, steer_in=0.6), SweptObstacle("a", start, rides="axle")).region.roots
    assert (cell.axial, cell.radial) == pytest.approx((-0.5, 0.4))
    assert falls(cell, 0.0, -1.0)[0] >= hypot(0.5 * np.sin(0.3), 0.4) - 0.4


@pytest.mark.parametrize(("twice", "most"), [(0.01, 0.03 - 0.01), (0.1, 0.03**2 / (4 * 0.1))])
def test_a_roll_that_curves_back_falls_no_further_than_its_lowest_point(twice, most):
    # 0.03 p + twice p² for p from −1 to 1: least at p = −1, or at p = −0.03 / (2 twice) where that is less than 1.
    (cell,) = trace(STILL, SweptObstacle("a", (0.0, 0.0, 0.5))).region.roots
    moves, curves = [0.0] * 8, [0.0] * 14
    moves[4], curves[2] = 0.03, twice
    curved = cell._replace(moves=tuple(moves), curves=tuple(curves), rest=0.0)
    assert falls(curved, 1.0, 0.0)[0] == pytest.approx(most)


@given(random_motions | doubtful_motions, obstacles, st.integers(0, 2**32 - 1))
def test_every_cell_covers_what_the_obstacle_does_in_it(reference, motion, obstacle, seed):
    random = np.random.default_rng(seed)
    path = trace(motion, obstacle)
    cell = path.region.roots[random.integers(len(path.region.roots))]
    for _ in range(random.integers(0, 8)):
        cell = halves(path, cell)[random.integers(2)]
    # Wherever the obstacle is in the box, moves and curves by its shares of the box lead to it, but for the rest; along
    # the radius, also but for the bulge, which is only ever outward. Where the motion is in doubt, by that much more.
    for _ in range(12):
        share = random.choice([-1.0, 1.0, random.uniform(-1, 1)], 4)
        at = tuple(np.array(cell.middle) + share * np.array(cell.extent))
        told = place(path, cell.leg, at)
        x, y, z = reference.seen_from_wheel(motion, obstacle, at[0], told.rise, told.far_rise, at[3])[0]
        offset = np.array([y - cell.axial, hypot(x, z) - cell.radial])
        assert np.linalg.norm(offset) <= cell.spread + 1e-9
        s, t, p, e = share
        products = [s * s, p * p, s * t, s * p, s * e, t * p, p * e]
        left = offset - share @ np.reshape(cell.moves, (4, 2)) - products @ np.reshape(cell.curves, (7, 2))
        assert path.seen(cell.leg, at)[2] <= cell.most_doubt + 1e-12
        for angle in np.linspace(0, 2 * pi, 16):
            way = np.array([np.cos(angle), np.sin(angle)])
            assert way @ left <= cell.rest + max(way[1], 0.0) * cell.bulge + 1e-9
            assert way @ offset + path.seen(cell.leg, at)[2] <= falls(cell, *-way)[0] + 1e-9


@given(
    random_motions, obstacles, random_sections, st.tuples(*[st.floats(-1, 1)] * 4),
    st.tuples(st.floats(0, 0.02), st.floats(0, 0.02), st.floats(0, 0.006), st.floats(0, 0.006)),
)  # fmt: skip
def test_a_truck_anywhere_within_the_doubts_keeps_what_is_proven(motion, obstacle, section, signs, by):
    by_lean, by_caster, by_inset, by_width = by
    lean = lean_doubt(motion.inclination, motion.caster, by_lean, by_caster)
    doubtful = replace(motion, lean_doubt=lean, inset_doubt=by_inset, width_doubt=by_width)
    other = replace(
        motion,
        inclination=motion.inclination + signs[0] * by_lean,
        caster=motion.caster + signs[1] * by_caster,
        kingpin_inset=motion.kingpin_inset + signs[2] * by_inset,
        face_to_face=motion.face_to_face + signs[3] * by_width,
        stops_apart=motion.stops_apart or (motion.face_to_face - by_width,) * 2,
        droop_apart=motion.droop_apart or (motion.face_to_face - by_width,) * 2,
    )
    doubtful = replace(doubtful, stops_apart=other.stops_apart, droop_apart=other.droop_apart)
    proven = proven_clearance(trace(doubtful, obstacle), section)
    assert proven <= clearance(other, obstacle, section).distance + 1e-9


def test_what_rides_with_the_knuckle_is_where_it_is_however_the_kingpin_leans():
    arm, motion = SweptObstacle("arm", (0.1, -0.2, 0.1), rides="knuckle"), Motion(1.5, 0.08, 0.08, 0.6, 0.6, 0.09)
    doubtful = replace(motion, lean_doubt=0.03, inset_doubt=0.01, width_doubt=0.01)
    assert clearance(doubtful, arm, CYLINDER) == clearance(motion, arm, CYLINDER)


@given(random_motions, obstacles, random_sections, st.floats(0, 0.1), st.floats(0, 0.02))
def test_a_region_of_a_range_of_spacings_holds_that_of_each_and_none_but_what_all_hold_is_kind(
    motion, obstacle, section, by, more
):
    middle = replace(motion, stops_apart=(0.8, 0.8), droop_apart=(0.9, 0.9))
    wide = replace(
        middle, stops_apart=(0.8 - by, 0.8 + by), droop_apart=(0.9 - by, 0.9 + by),
        bump=middle.bump + more, droop=middle.droop + more, other_bump=middle.other_bump + more,
    )  # fmt: skip
    kind = replace(middle, stops_apart=(0.8 + by, 0.8 - by), droop_apart=(0.9 + by, 0.9 - by))
    least, found, most = (clearance(each, obstacle, section) for each in (wide, middle, kind))
    assert least.proven <= found.distance + 1e-9
    assert found.proven <= most.distance + 1e-9


@pytest.mark.parametrize("seed", [*range(24), *(pytest.param(seed, marks=pytest.mark.slow) for seed in range(24, 50))])
def test_a_tire_of_triangles_agrees_within_its_mesh_error_and_is_never_less_safe(reference, seed):
    random = np.random.default_rng(seed)
    while True:
        motion = Motion(
            random.uniform(1.3, 1.9), *random.uniform(0, 0.12, 2), *random.uniform(0, 0.6, 2),
            random.uniform(0, 0.15), random.uniform(0, 0.2), random.uniform(-0.05, 0.12),
        )  # fmt: skip
        start = random.uniform([-0.6, -0.6, -0.2], [0.6, 0.3, 0.7])
        end = start + random.uniform(-0.4, 0.4, 3) if seed % 2 else None
        rides = ("body", "body", "axle")[seed % 3]
        obstacle = SweptObstacle("a", tuple(start), None if end is None else tuple(end), rides)
        width, barrel = random.uniform(0.2, 0.35), random.uniform(0.17, 0.24)
        section = TireSection(
            width, random.uniform(0.7, 1.0) * width, 2 * (barrel + random.uniform(0.1, 0.25)),
            random.uniform(-0.06, 0.06), barrel, random.uniform(0.7, 1.2) * width, barrel + 0.03,
            random.uniform(0.0, 0.05) * width,
        )  # fmt: skip
        found = clearance(motion, obstacle, section)
        if found.proven > 0.001:
            break
    mesh = reference.tire_mesh(section, turns=240)
    # Triangles cut 240 times round sag by R × (pi/240)² / 2 at the tread; they stand into the barrel's bore by as much
    # of its radius.
    error = section.diameter / 2 * (pi / 240) ** 2 / 2 + 1e-6
    at_worst = reference.mesh_distance(mesh, wheel_point(motion, obstacle, found.place))
    assert abs(at_worst - found.distance) <= error
    swept = reference.swept_points(motion, obstacle, steers=9, rolls=6, rises=5, alongs=9)
    rough = reference.section_distance(section, swept[:, 1], np.hypot(swept[:, 0], swept[:, 2]))
    least = min(reference.mesh_distance(mesh, swept[index]) for index in np.argsort(rough)[:3])
    assert found.proven <= least + error


def test_a_tire_moved_outboard_never_loses_clearance_to_what_stands_inboard():
    motion = Motion(1.6, 0.09, 0.1, radians(36), radians(30), 0.1, radians(8), radians(3))
    for obstacle in (
        SweptObstacle("rail", (-0.5, -0.45, 0.25), (0.5, -0.45, 0.3)),
        SweptObstacle("box", (0.3, -0.42, 0.2)),
    ):
        last = -1.0
        for offset in np.linspace(0.08, -0.08, 9):  # less offset stands further outboard
            found = clearance(motion, obstacle, TireSection(0.25, 0.2, 0.8, offset, 0.19))
            assert found.side == "inboard"
            assert found.distance >= last - 1e-4
            last = found.distance


@given(random_motions, obstacles, random_sections, st.floats(0.0, 0.2))
def test_moved_outboard_no_tire_loses_clearance_to_what_stays_inboard_of_its_middle(
    reference, motion, obstacle, section, outboard
):
    seen = reference.swept_points(motion, obstacle)
    inboard = replace(section, offset=-seen[:, 1].max() - 0.02)  # its middle stands outboard of all that was seen
    moved = replace(inboard, offset=inboard.offset - outboard)
    before, after = clearance(motion, obstacle, inboard), clearance(motion, obstacle, moved)
    assert after.distance >= before.proven - 1e-9


@given(random_motions, obstacles, random_sections, st.floats(0.001, 0.2))
def test_a_bigger_tire_never_gains_clearance(motion, obstacle, section, more):
    bigger = replace(section, diameter=section.diameter + more)
    small, big = (clearance(motion, obstacle, tire) for tire in (section, bigger))
    assert big.proven <= small.distance + 1e-9


def test_an_answer_is_the_same_whatever_was_asked_of_the_trace_before():
    motion, rail = Motion(1.5, 0.1, 0.1, 0.5, 0.5, 0.1), SweptObstacle("rail", (-0.5, -0.35, 0.3), (0.5, -0.35, 0.3))
    section = TireSection(0.25, 0.2, 0.8, 0.0, 0.19)
    swept_region.cache_clear()
    cold = clearance(motion, rail, section)
    for offset in (-0.05, 0.02, 0.07):
        clearance(motion, rail, replace(section, offset=offset), bound=1e-5)
    assert clearance(motion, rail, section) == cold


@given(random_motions, obstacles, random_sections, st.floats(-0.05, 0.2))
def test_a_yes_is_only_ever_said_where_it_is_so(motion, obstacle, section, wanted):
    path = trace(motion, obstacle)
    found = least_clearance(path, section)
    answer = keeps(path, section, wanted)
    if answer:
        assert found.distance >= wanted
    elif found.finished:
        assert found.proven < wanted + 2e-6


def test_what_is_inside_the_tire_at_rest_is_said_to_be():
    motion = Motion(1.5, bump=0.1)
    assert inside_at_rest(motion, SweptObstacle("a", (0.0, 0.0, 0.3)), CYLINDER)
    assert not inside_at_rest(
        motion, SweptObstacle("a", (0.0, 0.0, 0.45)), CYLINDER
    )  # bump alone brings the tire to it


def test_a_bound_of_nothing_is_refused():
    with pytest.raises(ValueError, match="^bound: read"):
        clearance(STILL, SweptObstacle("a", (0.0, 0.0, 0.5)), CYLINDER, bound=0.0)
