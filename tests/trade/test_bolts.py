"""The stud circle by every way of measuring it, and what the studs carry."""

from math import cos, hypot, pi, radians, sin

import pytest
from scipy.optimize import least_squares

from planner.trade.bolts.circle import (
    circle_from_adjacent,
    circle_from_edges,
    circle_from_points,
    circle_from_skip,
)
from planner.trade.bolts.hub import standard_stud_circle, stud_circle, stud_circle_disagreement
from planner.trade.bolts.threads import clamp_force, stress_area, thread_engagement
from planner.worksheet.declare import Impossible


def on_circle(radius, *degrees, x=0.0, y=0.0):
    return tuple((x + radius * cos(radians(one)), y + radius * sin(radians(one))) for one in degrees)


def test_adjacent_is_skip_of_one_and_skip_counts_the_same_from_either_side():
    assert circle_from_skip(0.1, 8, 1) == pytest.approx(circle_from_adjacent(0.1, 8))
    assert circle_from_skip(0.1, 8, 5) == pytest.approx(circle_from_skip(0.1, 8, 3))


def test_over_the_edges_is_center_to_center_and_one_stud():
    assert circle_from_edges(0.1127, 0.0127, 5, 2) == pytest.approx(circle_from_skip(0.1, 5, 2))


@pytest.mark.parametrize("skip", [0, 6, 7])
def test_a_skip_that_does_not_reach_another_stud_is_impossible(skip):
    with pytest.raises(Impossible) as refused:
        circle_from_skip(0.1, 6, skip)
    assert refused.value.key == "skip"


def test_one_stud_makes_no_circle():
    with pytest.raises(Impossible) as refused:
        circle_from_adjacent(0.1, 1)
    assert refused.value.key == "count"


def test_studs_that_would_overlap_are_impossible():
    with pytest.raises(Impossible) as refused:
        circle_from_edges(0.0127, 0.0127, 5, 2)
    assert refused.value.key == "outer_edge_spacing"


def test_points_on_a_circle_give_it_back_wherever_it_lies():
    fit = circle_from_points(on_circle(0.111125, 10, 70, 130, 190, 250, 310, x=3.0, y=-2.0))
    assert fit.diameter == pytest.approx(0.22225, abs=1e-12)
    assert fit.center == pytest.approx((3.0, -2.0), abs=1e-12)
    assert fit.worst_residual == pytest.approx(0.0, abs=1e-12)


def test_a_right_angle_stands_on_the_diameter():
    """Thales: the sides 3 and 4 give 5, and the center halfway along it."""
    fit = circle_from_points(((3.0, 0.0), (0.0, 4.0), (0.0, 0.0)))
    assert (fit.diameter, *fit.center) == pytest.approx((5.0, 1.5, 2.0))


def test_the_fit_is_of_true_distances_and_not_the_algebraic_one():
    """By symmetry the radius is the mean of 11 and 9 about the origin; the algebraic fit gives √101 = 10.05."""
    fit = circle_from_points(((11.0, 0.0), (-11.0, 0.0), (0.0, 9.0), (0.0, -9.0)))
    assert fit.diameter == pytest.approx(20.0)
    assert fit.worst_residual == pytest.approx(1.0)


@pytest.mark.parametrize(
    ("angles", "errors"),
    [
        ((0, 60, 120, 180, 240, 300), (0.4, -0.3, 0.1, 0.5, -0.6, 0.2)),
        ((0, 72, 144, 216, 288), (-0.5, 0.5, 0.0, 0.3, -0.2)),
        ((0, 20, 45, 60), (0.1, -0.1, 0.15, -0.1)),
    ],
)
def test_the_fit_is_the_one_that_a_general_solver_finds(angles, errors):
    points = tuple(
        ((55 + error) * cos(radians(angle)) + 7, (55 + error) * sin(radians(angle)) - 4)
        for angle, error in zip(angles, errors, strict=True)
    )
    found = least_squares(
        lambda v: [hypot(x - v[0], y - v[1]) - v[2] for x, y in points], (5, 0, 50), xtol=1e-15, ftol=1e-15, gtol=1e-15
    )
    fit = circle_from_points(points)
    assert (*fit.center, fit.diameter / 2) == pytest.approx(tuple(found.x), abs=1e-5)


@pytest.mark.parametrize(
    "points",
    [
        (),
        ((0.0, 0.0), (1.0, 0.0)),
        ((0.0, 0.0), (1.0, 1.0), (2.0, 2.0)),
        ((0.1, 0.3), (0.2, 0.6), (0.3, 0.9), (0.7, 2.1)),
        ((1.0, 1.0), (1.0, 1.0), (1.0, 1.0)),
        ((1.0, 1.0), (2.0, 1.0), (1.0, 1.0)),
    ],
)
def test_points_that_no_circle_runs_through_are_impossible(points):
    with pytest.raises(Impossible) as refused:
        circle_from_points(points)
    assert refused.value.key == "points"


def test_no_reading_of_the_circle_leaves_it_waiting():
    assert stud_circle(6) is None


def test_the_circle_taken_is_the_stated_then_the_fitted_then_the_longest_chord():
    readings = {"circle_from_edges": 3.0, "circle_from_skip": 4.0, "circle_from_adjacent": 5.0}
    assert stud_circle(8, 1.0, 2.0, **readings) == 1.0
    assert stud_circle(8, None, 2.0, **readings) == 2.0
    assert stud_circle(8, **readings, outer_edge_skip=2, skip=4) == 4.0
    assert stud_circle(8, **readings, outer_edge_skip=3, skip=3) == 3.0
    assert stud_circle(8, circle_from_adjacent=5.0) == 5.0


def test_one_reading_alone_cannot_be_checked_and_three_points_are_one_reading():
    assert stud_circle_disagreement(stated_stud_circle=0.1397) is None
    three = on_circle(0.07, 0, 120, 240)
    assert stud_circle_disagreement(None, 0.14, None, None, None, 0.0, three) is None


def test_four_points_check_themselves_on_the_diameter():
    four = on_circle(0.07, 0, 90, 180, 270)
    assert stud_circle_disagreement(None, 0.14, None, None, None, 0.0005, four) == pytest.approx(0.001)


def test_the_greatest_of_all_disagreements_counts():
    assert stud_circle_disagreement(0.1397, None, 0.1399, 0.1404, 0.1394) == pytest.approx(0.001)


def test_a_circle_near_two_standard_ones_takes_the_nearer():
    assert standard_stud_circle(0.1146) == pytest.approx(0.1143)
    assert standard_stud_circle(0.1148) == pytest.approx(0.115)


def test_threads_per_inch_and_the_same_pitch_give_the_same_area():
    by_count = stress_area(0.0127, threads_per_inch=20, series="inch")
    by_pitch = stress_area(0.0127, pitch=0.0254 / 20, series="inch")
    assert by_count == pytest.approx(by_pitch)


def test_the_series_unsaid_goes_by_how_the_thread_is_given():
    assert stress_area(0.0127, threads_per_inch=20) == stress_area(0.0127, threads_per_inch=20, series="inch")
    assert stress_area(0.012, pitch=0.0015) == stress_area(0.012, pitch=0.0015, series="Metric")


def test_a_stress_area_lies_between_the_core_and_the_whole_bar():
    """UNF thread table in general circulation, 1/2-20: minor diameter area 0.1486 in²."""
    area = stress_area(0.0127, threads_per_inch=20)
    assert 0.1486 * 0.0254**2 < area < pi / 4 * 0.0127**2


def test_two_pitches_at_once_and_unknown_series_and_threads_too_coarse_are_refused():
    with pytest.raises(Impossible) as both:
        stress_area(0.0127, pitch=0.001, threads_per_inch=20)
    with pytest.raises(Impossible) as series:
        stress_area(0.0127, threads_per_inch=20, series="pipe")
    with pytest.raises(Impossible) as coarse:
        stress_area(0.0127, threads_per_inch=1)
    assert [one.value.key for one in (both, series, coarse)] == ["pitch", "series", "threads_per_inch"]


def test_without_a_pitch_the_stress_area_waits():
    assert stress_area(0.0127) is None


def test_clamp_grows_with_torque_and_falls_with_friction_and_diameter():
    clamp = clamp_force(100.0, 0.2, 0.0125)
    assert clamp_force(110.0, 0.2, 0.0125) == pytest.approx(1.1 * clamp)
    assert clamp_force(100.0, 0.25, 0.0125) == pytest.approx(0.8 * clamp)
    assert clamp_force(100.0, 0.2, 0.025) == pytest.approx(clamp / 2)


def test_a_stud_that_does_not_reach_through_the_disc_engages_less_than_nothing():
    engaged = thread_engagement(0.02, 0.016, 0.006, 0.0127)
    assert engaged.length == pytest.approx(-0.002)
    assert engaged.diameters == 0.0


def test_without_a_diameter_only_the_length_is_told():
    assert thread_engagement(0.04, 0.01, 0.0).diameters is None
