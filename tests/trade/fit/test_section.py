"""The tire's section against hand sums and against shapely."""

from dataclasses import replace
from math import hypot, sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.trade.fit.section import TireSection, nearest, probe, probes

# Center plane at y = −0.02; sidewalls 0.125 to each side; corners of 0.025 about (±0.1, 0.375).
TIRE = TireSection(0.250, 0.200, 0.800, 0.02, 0.190)
SHOWING = replace(TIRE, rim_width=0.300, flange_radius=0.240)


@pytest.mark.parametrize(
    ("axial", "radial", "distance", "part", "side"),
    [
        (-0.02, 0.430, 0.030, "tread", "outboard"),
        (-0.165, 0.300, 0.020, "sidewall", "inboard"),
        (0.125, 0.300, 0.020, "sidewall", "outboard"),
        (0.08 + 0.06, 0.375 + 0.08, 0.100 - 0.025, "shoulder", "outboard"),  # 6, 8, 10 from the corner's center
        (-0.02, 0.150, 0.040, "barrel", "outboard"),
        (-0.145 - 0.03, 0.190 - 0.04, 0.050, "barrel", "inboard"),  # 3, 4, 5 from the barrel's edge
        (-0.02, 0.390, -0.010, "tread", "outboard"),
        (0.100, 0.300, -0.005, "sidewall", "outboard"),
        (-0.02, 0.200, -0.010, "barrel", "outboard"),
        (0.08 + 0.006, 0.375 + 0.008, 0.010 - 0.025, "shoulder", "outboard"),
    ],
)
def test_distance_and_part_are_those_of_the_drawing(axial, radial, distance, part, side):
    found = nearest(TIRE, axial, radial)
    assert (found.distance, found.part, found.side) == (pytest.approx(distance, abs=1e-12), part, side)


def test_a_rim_that_is_wider_than_the_tire_counts_as_barrel():
    # Flange tips at y = −0.02 ± 0.15, radius 0.240; the reentrant corner with the sidewall at (0.105, 0.240).
    assert nearest(SHOWING, 0.135, 0.220).distance == pytest.approx(0.005)
    assert nearest(SHOWING, 0.115, 0.260).part == "sidewall"
    assert nearest(SHOWING, 0.115, 0.245).part == "barrel"
    # Inside both: 40 mm under the reentrant corner, 50 mm above the barrel, 65 mm from the flange: 25 deep in the tire
    # alone, but what is outside is √(20² + 15²) = 25 mm away only at the corner itself.
    assert nearest(SHOWING, 0.085, 0.225).distance == pytest.approx(-0.025)
    assert nearest(SHOWING, 0.095, 0.2375).distance == pytest.approx(-hypot(0.010, 0.0025))


def test_a_rim_that_ends_inside_the_tire_changes_nothing():
    assert len(probes(replace(TIRE, rim_width=0.22, flange_radius=0.24))) == 1


def test_a_rounding_higher_than_the_sidewall_is_held_to_it_so_that_the_full_width_is_spanned():
    low = TireSection(0.300, 0.100, 0.460, 0.0, 0.190)  # 100 mm of rounding on a 40 mm sidewall
    assert nearest(low, 0.160, 0.190).distance == pytest.approx(0.010)
    assert nearest(low, 0.110 + 0.04, 0.190 + 0.04).distance == pytest.approx(0.04 * (sqrt(2) - 1))


sections = st.builds(
    lambda width, share, barrel, high, offset, rim, tip: TireSection(
        width, share * width, 2 * (barrel + high), offset, barrel, rim, None if tip is None else barrel + tip * high
    ),
    st.floats(0.15, 0.4), st.floats(0.3, 1.0), st.floats(0.12, 0.25), st.floats(0.03, 0.3), st.floats(-0.15, 0.15),
    st.floats(0.1, 0.5), st.none() | st.floats(0.02, 0.95),
)  # fmt: skip


@given(sections, st.integers(0, 2**32 - 1))
def test_signed_distance_is_shapelys_within_its_polygons_error(reference, section, seed):
    random = np.random.default_rng(seed)
    axial = random.uniform(-0.5, 0.5, 60) - section.offset
    radial = random.uniform(0.0, section.diameter, 60)
    radial[:20] = random.uniform(section.barrel_radius, section.diameter / 2, 20)
    feel = probe(section)
    found = [feel(a, r)[0] for a, r in zip(axial, radial, strict=True)]
    # An arc of 256 chords a quarter turn sags by corner × (pi/1024)² / 2.
    np.testing.assert_allclose(found, reference.section_distance(section, axial, radial), atol=1e-6)


@given(sections, st.floats(-0.6, 0.6), st.floats(0.0, 0.8), st.floats(-0.6, 0.6), st.floats(0.0, 0.8))
def test_each_part_is_convex_which_the_sweeps_bound_rests_on(section, a, r, b, q):
    for part in probes(section):
        here, na, nr = part(a, r)
        assert hypot(na, nr) == pytest.approx(1.0)
        assert part(b, q)[0] >= here + na * (b - a) + nr * (q - r) - 1e-12


@given(sections, st.floats(0.0, 0.2), st.floats(-0.6, 0.6), st.floats(0.0, 0.8))
def test_a_bigger_tire_is_never_further_away(section, more, axial, radial):
    bigger = replace(section, diameter=section.diameter + more)
    assert probe(bigger)(axial, radial)[0] <= probe(section)(axial, radial)[0] + 1e-12


@given(sections, st.floats(-0.6, 0.6), st.floats(0.0, 0.8))
def test_nothing_is_deeper_than_the_deepest(section, axial, radial):
    assert probe(section)(axial, radial)[0] >= -section.deepest - 1e-12


@pytest.mark.parametrize(
    ("entry", "change"),
    [
        ("tread_width", {"tread_width": 0.26}),
        ("section_width", {"section_width": float("nan")}),
        ("barrel_radius", {"barrel_radius": 0.41}),
        ("diameter", {"diameter": -1.0}),
        ("offset", {"offset": float("inf")}),
        ("rim_width", {"rim_width": -0.1}),
        ("flange_radius", {"flange_radius": 0.1}),
    ],
)
def test_a_section_that_cannot_be_is_refused_by_the_name_of_its_entry(entry, change):
    with pytest.raises(ValueError, match=f"^{entry}: read"):
        replace(TIRE, **change)


def test_a_point_that_is_not_finite_is_refused():
    with pytest.raises(ValueError, match="finite"):
        nearest(TIRE, float("nan"), 0.3)
