"""The tire's section against hand sums, against the curves that it goes around, and against shapely."""

from dataclasses import replace
from math import cos, hypot, pi, radians, sin, sqrt, tan

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from planner.trade.fit.section import TireSection, nearest, outline, probe

# Center plane at y = −0.02, sidewalls 0.125 to each side, widest at (0.4 + 0.2) / 2 = 0.3; a tread 0.2 wide that drops
# by 0.02, so that its edge is at (0.1, 0.38) and the tangents of its crown meet at (0.05, 0.4).
TIRE = TireSection(0.250, 0.200, 0.800, 0.02, 0.190, 0.180, 0.200, 0.020)
# The quarter ellipse about (0.1, 0.3) is 0.025 wide and 0.08 high; its tangents 22.5° apart meet tan 11.25° on.
BEYOND = tan(radians(11.25))
SHOWING = replace(TIRE, rim_width=0.250, weights=0.005)  # flange tips, with weights, at y = −0.02 ± 0.13


def test_the_outline_is_the_drawing_by_hand():
    (ax, ay), (bx, by), *_, (dx, dy), last = outline(TIRE)
    assert (ax, ay) == (pytest.approx(0.05), 0.4)
    assert (bx, by) == (pytest.approx(0.1 + 0.025 * BEYOND), pytest.approx(0.38))
    assert (dx, dy) == (pytest.approx(0.125), pytest.approx(0.3 + 0.08 * BEYOND))
    assert last == (0.125, 0.19)
    assert len(outline(TIRE)) == 6


@pytest.mark.parametrize(
    ("axial", "radial", "distance", "part", "side"),
    [
        (-0.02, 0.430, 0.030, "tread", "outboard"),
        (-0.165, 0.300, 0.020, "sidewall", "inboard"),
        (0.125, 0.250, 0.020, "sidewall", "outboard"),
        (0.03 + 0.006, 0.400 + 0.018, sqrt(0.006**2 + 0.018**2), "tread", "outboard"),  # from the crown's corner
        (-0.02, 0.150, 0.040, "barrel", "outboard"),
        (-0.145 - 0.03, 0.190 - 0.04, 0.050, "barrel", "inboard"),  # 3, 4, 5 from the barrel's edge
        (-0.02, 0.390, -0.010, "tread", "outboard"),
        (0.100, 0.250, -0.005, "sidewall", "outboard"),
        (-0.02, 0.200, -0.010, "barrel", "outboard"),
        (0.08 + 0.025 * BEYOND + 0.06, 0.38 + 0.08, 0.100, "shoulder", "outboard"),  # 6, 8, 10 from its first corner
    ],
)
def test_distance_and_part_are_those_of_the_drawing(axial, radial, distance, part, side):
    found = nearest(TIRE, axial, radial)
    assert (found.distance, found.part, found.side) == (pytest.approx(distance, abs=1e-12), part, side)


def test_a_rim_that_stands_out_of_the_tire_is_swept_with_its_weights():
    # The tip is at (0.11, 0.2), 5 mm out of the sidewall; from there to the sidewall's own lowest corner the hull is a
    # straight line, 5 mm out in 116 mm: from 40 mm out, what lies less than 1.7 mm up is still nearest to the tip.
    beside = nearest(SHOWING, 0.11 + 0.04, 0.2 + 0.001)
    assert (beside.distance, beside.part) == (pytest.approx(hypot(0.04, 0.001)), "barrel")
    assert nearest(SHOWING, 0.130, 0.195).distance == pytest.approx(0.020)
    middle = (0.2 + 0.3 + 0.08 * BEYOND) / 2
    assert nearest(SHOWING, 0.1075, middle).distance == pytest.approx(0.0, abs=1e-12)
    assert nearest(SHOWING, 0.125, middle).part == "sidewall"


def test_a_rim_that_ends_inside_the_tire_changes_nothing():
    assert outline(replace(TIRE, rim_width=0.240, weights=0.004)) == outline(TIRE)


def test_a_square_tread_as_wide_as_the_section_is_a_rectangle():
    square = TireSection(0.250, 0.250, 0.800, 0.0, 0.190)
    assert outline(square) == [(0.125, 0.4), (0.125, 0.19)]
    assert nearest(square, 0.125 + 0.03, 0.4 + 0.04).distance == pytest.approx(0.05)


def test_a_drop_past_the_widest_place_is_held_to_it():
    low = TireSection(0.300, 0.100, 0.460, 0.0, 0.190, crown_drop=0.1)  # the widest place is at 0.21, 20 mm down
    assert nearest(low, 0.160, 0.205).distance == pytest.approx(0.010)


sections = st.builds(
    lambda width, share, barrel, high, offset, rim, tip, drop, weights, apart: TireSection(
        width, share * width, 2 * (barrel + high), offset, barrel, rim, None if tip is None else barrel + tip * high,
        drop * width, weights, apart * share * width / 2,
    ),
    st.floats(0.15, 0.4), st.floats(0.3, 1.0), st.floats(0.12, 0.25), st.floats(0.03, 0.3), st.floats(-0.15, 0.15),
    st.floats(0.1, 0.5), st.none() | st.floats(0.02, 0.95), st.just(0.0) | st.floats(0.0, 0.2), st.floats(0.0, 0.02),
    st.just(0.0) | st.floats(-1.0, 1.0),
)  # fmt: skip
axials, radials = st.floats(-0.6, 0.6), st.floats(0.0, 0.8)


@given(sections, st.integers(0, 2**32 - 1))
def test_signed_distance_is_shapelys(reference, section, seed):
    random = np.random.default_rng(seed)
    axial = random.uniform(-0.5, 0.5, 60) - section.offset
    radial = random.uniform(0.0, section.diameter, 60)
    radial[:20] = random.uniform(section.barrel_radius, section.diameter / 2, 20)
    feel = probe(section)
    found = [feel(a, r)[0] for a, r in zip(axial, radial, strict=True)]
    np.testing.assert_allclose(found, reference.section_distance(section, axial, radial), atol=1e-9)


@given(sections, axials, radials, axials, radials)
def test_it_is_convex_which_the_sweeps_bound_rests_on(section, a, r, b, q):
    here, na, nr = probe(section)(a, r)
    assert hypot(na, nr) == pytest.approx(1.0)
    assert probe(section)(b, q)[0] >= here + na * (b - a) + nr * (q - r) - 1e-12


@given(sections, axials, radials)
def test_the_way_along_the_normal_leads_to_the_surface(section, axial, radial):
    distance, na, nr = probe(section)(axial, radial)
    assert probe(section)(axial - distance * na, radial - distance * nr)[0] == pytest.approx(0.0, abs=1e-12)


@given(sections, st.integers(0, 2**32 - 1))
def test_it_holds_crown_sidewall_and_rim_whole(section, seed):
    random = np.random.default_rng(seed)
    feel, apart = probe(section), max(section.stretch, 0.0) / 2
    tread, half, top = section.tread_width / 2, section.section_width / 2, section.diameter / 2
    drop, widest = top - section.shoulder_radius, section.widest_radius
    assume(section.stretch >= 0.0)
    for share, turn in random.uniform([-1, 0], [1, pi / 2], (40, 2)):
        crown = share * tread, top - drop * share**2
        wall = tread + (half - tread) * cos(turn), widest + (top - drop - widest) * sin(turn)
        spots = [crown, wall, (half, random.uniform(section.barrel_radius, widest))]
        # A blown-up sidewall: the arc of a circle from the widest place, where it is upright, to the tread's edge.
        across, up = half - tread, top - drop - widest
        if 0.0 < across <= up:
            radius = (across**2 + up**2) / (2 * across)
            angle = random.uniform(0.0, 2 * np.arctan2(across, up))
            spots.append((half - radius * (1 - cos(angle)), widest + radius * sin(angle)))
        if section.flange_radius is not None:
            spots.append((section.rim_width / 2 + section.weights, section.flange_radius))
        for x, y in spots:
            for moved in (-apart, 0.0, apart):
                assert feel(x + moved - section.offset, y)[0] <= 1e-12
                assert feel(-x + moved - section.offset, y)[0] <= 1e-12


def test_around_a_tire_of_37_inches_it_stands_out_of_crown_and_sidewall_by_two_millimeters_at_the_most():
    tire = TireSection(0.3175, 0.270, 0.940, 0.0, 0.178, 0.254, 0.238, 0.0095)  # 12.50 in wide on a 17 in rim
    turn, share = np.linspace(0, pi / 2, 20_001), np.linspace(0, 1, 20_001)
    widest, shoulder = (0.470 + 0.238) / 2, 0.470 - 0.0095
    x = np.concatenate([0.135 * share, 0.135 + 0.02375 * np.cos(turn)])
    y = np.concatenate([0.470 - 0.0095 * share**2, widest + (shoulder - widest) * np.sin(turn)])
    out = [np.hypot(x - across, y - up).min() for across, up in outline(tire)[:-1]]
    assert max(out) <= 0.0024 and round(max(out) * 1000) == 2


GROWTHS = {
    "diameter": lambda one, more: replace(one, diameter=one.diameter + more),
    "section_width": lambda one, more: replace(one, section_width=one.section_width + more),
    "tread_width": lambda one, more: replace(
        one, tread_width=one.tread_width + more / 0.2 * (one.section_width - one.tread_width)
    ),
    "crown_drop": lambda one, more: replace(one, crown_drop=max(0.0, one.crown_drop - more)),
    "rim_width": lambda one, more: replace(one, rim_width=one.rim_width + more),
    "weights": lambda one, more: replace(one, weights=one.weights + more),
    "stretch": lambda one, more: replace(one, stretch=one.stretch + more),
    "flange_radius": lambda one, more: replace(
        one, flange_radius=one.rim_radius + more / 0.2 * 0.99 * (one.diameter / 2 - one.rim_radius)
    ),
    "barrel_radius": lambda one, more: replace(
        one, flange_radius=one.rim_radius, barrel_radius=one.barrel_radius * (1 - more)
    ),
}


@pytest.mark.parametrize("grown", GROWTHS)
@given(sections, st.floats(0.0, 0.2), axials, radials)
def test_whatever_grows_nothing_comes_to_be_farther_away(grown, section, more, axial, radial):
    bigger = GROWTHS[grown](section, more)
    assert probe(bigger)(axial, radial)[0] <= probe(section)(axial, radial)[0] + 1e-12


@given(sections, st.floats(0.0, 0.1), st.floats(0.0, 1.0), axials, radials)
def test_drawn_apart_it_is_all_tires_of_a_stretch_of_offsets_and_drawn_together_what_they_share(
    section, stretch, share, axial, radial
):
    one = replace(section, offset=section.offset + (share - 0.5) * stretch)
    here = probe(one)(axial, radial)[0]
    assert probe(replace(section, stretch=section.stretch + stretch))(axial, radial)[0] <= here + 1e-12
    if stretch <= section.flat:
        assert probe(replace(section, stretch=section.stretch - stretch))(axial, radial)[0] >= here - 1e-12


@given(sections, axials, radials)
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
        ("crown_drop", {"crown_drop": -0.01}),
        ("weights", {"weights": float("nan")}),
        ("stretch", {"stretch": -0.101}),
    ],
)
def test_a_section_that_cannot_be_is_refused_by_the_name_of_its_entry(entry, change):
    with pytest.raises(ValueError, match=f"^{entry}: read"):
        replace(TIRE, **change)


def test_a_point_that_is_not_finite_is_refused():
    with pytest.raises(ValueError, match="finite"):
        nearest(TIRE, float("nan"), 0.3)
