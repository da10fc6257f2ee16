"""Studs, nuts and bores, against general libraries: boxes that overlap, circles one in another, readings that err."""

import numpy as np
import pytest
import shapely
import shapely.affinity

from planner.trade.bolts.hub import register_gap, stud_circle, stud_circle_disagreement
from planner.trade.bolts.thread_marks import least_nut_depth
from planner.trade.bolts.threads import thread_engagement

DRAWS = np.random.default_rng(18).uniform(size=(8, 6))
DRAW_IDS = [f"draw {number}" for number in range(len(DRAWS))]
FAR = 1.0


def between(share: float, low: float, high: float) -> float:
    return low + share * (high - low)


def wide(body: shapely.Geometry) -> float:
    return body.bounds[2] - body.bounds[0]


@pytest.mark.parametrize("draw", DRAWS, ids=DRAW_IDS)
def test_a_nut_holds_on_as_much_stud_as_lies_in_it_and_a_closed_one_leaves_its_room_behind_the_stud(draw):
    """Along the stud, the hub's face at 0: disc, seat, nut, and the stud through them."""
    long, thick, seat = between(draw[0], 0.035, 0.07), between(draw[1], 0.005, 0.02), between(draw[2], 0.0, 0.012)
    across, room = between(draw[3], 0.011, 0.022), between(draw[4], 0.001, 0.003)
    stud = shapely.box(0.0, -across / 2, long, across / 2)
    disc = shapely.box(0.0, across / 2, thick, FAR)
    first_thread = disc.bounds[2] + seat
    held = stud.intersection(shapely.box(first_thread, -FAR, FAR, FAR))
    engaged = thread_engagement(long, thick, seat, across)
    assert engaged.length == pytest.approx(wide(held))
    assert engaged.diameters == pytest.approx(wide(held) / (held.bounds[3] - held.bounds[1]))
    ends = first_thread + least_nut_depth(engaged.length, room)
    assert shapely.LineString([(ends, -FAR), (ends, FAR)]).distance(stud) == pytest.approx(room)


def test_a_stud_that_ends_before_the_nut_begins_is_short_by_what_lies_between_them():
    stud, nut = shapely.box(0.0, 0.0, 0.02, 0.01), shapely.box(0.016 + 0.007, 0.0, FAR, 0.01)
    assert thread_engagement(0.02, 0.016, 0.007, 0.01).length == pytest.approx(-stud.distance(nut))


@pytest.mark.parametrize("draw", DRAWS, ids=DRAW_IDS)
def test_a_bore_goes_from_side_to_side_on_its_pilot_by_the_gap(draw):
    pilot = shapely.Point(0.0, 0.0).buffer(between(draw[0], 0.03, 0.12), quad_segs=16)
    bore = pilot.buffer(between(draw[1], -0.001, 0.002), join_style="mitre")
    pushed = [one - other for one, other in zip(bore.bounds, pilot.bounds, strict=True)]  # to its sides, and back
    assert register_gap(wide(bore), wide(pilot)) == pytest.approx(pushed[2] - pushed[0])
    assert (register_gap(wide(bore), wide(pilot)) > 0) == bore.contains_properly(pilot)


@pytest.mark.parametrize("draw", DRAWS, ids=DRAW_IDS)
def test_of_the_chords_the_one_is_taken_from_which_the_same_error_leads_least_astray(draw):
    """Studs set out as complex numbers; a tape or caliper errs by as much on each chord."""
    circle, count, err = between(draw[0], 0.1, 0.3), int(between(draw[1], 5, 11)), between(draw[2], -1e-3, 1e-3)
    studs = circle / 2 * np.exp(2j * np.pi * np.arange(count) / count)
    skips = [1 + int(share * (count // 2)) for share in draw[3:5]]
    chords = [abs(studs[skip] - studs[0]) for skip in (*skips, 1)]
    readings = [circle * (chord + err) / chord for chord in chords]  # what each makes of the circle
    least_off = min(readings, key=lambda one: abs(one - circle))
    assert stud_circle(count, None, None, *readings, *skips) == pytest.approx(least_off, rel=1e-12)
    assert stud_circle(count, circle_from_adjacent=readings[2]) == readings[2]  # the only one


@pytest.mark.parametrize("count", [5, 6, 8, 10])
def test_all_studs_tell_the_circle_better_than_any_two_and_a_drawing_better_than_all(count):
    """Each stud's center is read off by as much, at random, a thousand times; the drawing's circle is the true one."""
    draw = np.random.default_rng(count)
    errors = draw.normal(scale=1e-4, size=(1000, count, 2)) @ [1, 1j]
    studs = 0.07 * np.exp(2j * np.pi * np.arange(count) / count) + errors
    by_all = 2 * np.mean(np.abs(studs - studs.mean(axis=1, keepdims=True)), axis=1)
    chord = np.abs(studs[:, count // 2] - studs[:, 0])
    by_two = chord / np.sin(np.pi * (count // 2) / count)
    assert np.std(by_all) < np.std(by_two)
    readings = by_all[0], None, by_two[0], None
    assert stud_circle(count, None, *readings, skip=count // 2) == by_all[0]
    assert stud_circle(count, 0.14, *readings, skip=count // 2) == 0.14


@pytest.mark.parametrize("draw", DRAWS, ids=DRAW_IDS)
def test_readings_disagree_by_their_range_and_by_twice_what_a_stud_lies_off_its_circle(draw):
    readings = 0.14 + 0.002 * draw[:5]
    for known in range(2, 6):
        kept = [*readings[:known], *[None] * (5 - known)]
        assert stud_circle_disagreement(*kept) == pytest.approx(np.ptp(readings[:known]))
    off = between(draw[5], -0.003, 0.003)
    studs = np.array([0.07, 0.07j, -0.07, -(0.07 + off) * 1j])
    own = 2 * abs(studs)  # the circle about the middle through each stud alone
    spread = stud_circle_disagreement(
        None, 0.14, None, None, None, abs(off), tuple((stud.real, stud.imag) for stud in studs)
    )
    assert spread == pytest.approx(max(abs(own - 0.14)))
