"""Tolerances against an independent library: root-sum-square by linear propagation, worst case by interval ends."""

from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat

from planner.plan.truck.catalog import catalog
from planner.worksheet.bench import work

# Formulas of plain arithmetic, in which the library's own numbers can be put as they are.
ARITHMETIC = {
    "wheel.offset": {"backspace": 4.5, "rim_width": 9.0, "flange_thickness": 0.5},
    "wheel.track": {"face_to_face": 58.0, "offset": -1.5},
    "wheel.poke": {"outboard_reach": 7.0, "face_to_fender_edge": 6.5},
    "fender.tire_for_clearance": {"axle_to_fender": 24.0, "clearance": 2.0, "bump_travel": 3.0},
    "stance.stability_factor": {"track": 60.0, "cg_height": 30.0},
    "brakes.radial_clearance": {"barrel_radius": 7.5, "brake_radius": 7.0},
}


def written(value: float, tolerance: float, kind) -> str:
    unit = " in" if kind.form == "quantity" else ""
    return f"{value:.6f}{unit} ± {tolerance:.6f}{unit}"


@pytest.mark.parametrize("name", ARITHMETIC)
@given(st.lists(st.floats(0.001, 0.05), min_size=4, max_size=4))
def test_the_likely_spread_is_that_of_linear_propagation(name, tolerances):
    declared = catalog().figures[catalog().named(name)]
    middles = ARITHMETIC[name]
    given_texts, theirs = {}, []
    for taken, tolerance in zip(declared.inputs, tolerances, strict=False):
        tolerance = round(tolerance, 6)
        given_texts[taken.name] = written(middles[taken.name], tolerance, taken.kind)
        theirs.append(ufloat(middles[taken.name], tolerance) * 0.0254)
    ours = work(catalog(), declared, given_texts).outcome
    expected = declared.call(*theirs)
    assert ours.value == pytest.approx(expected.nominal_value, rel=1e-9)
    # A quotient bends within its tolerance, and we take the larger end: never less, and hardly more.
    assert expected.std_dev * (1 - 1e-6) <= ours.likely <= expected.std_dev * 1.005


@pytest.mark.parametrize("name", ARITHMETIC)
@given(st.lists(st.floats(0.001, 0.3), min_size=4, max_size=4))
def test_no_corner_of_the_tolerances_lies_outside_the_worst_case(name, tolerances):
    declared = catalog().figures[catalog().named(name)]
    middles = ARITHMETIC[name]
    texts = {
        taken.name: written(middles[taken.name], round(tolerance, 6), taken.kind)
        for taken, tolerance in zip(declared.inputs, tolerances, strict=False)
    }
    ours = work(catalog(), declared, texts).outcome
    ends = [
        ((middles[taken.name] - round(tolerance, 6)) * 0.0254, (middles[taken.name] + round(tolerance, 6)) * 0.0254)
        for taken, tolerance in zip(declared.inputs, tolerances, strict=False)
    ]
    corners = [declared.call(*corner) for corner in product(*ends)]
    slack = 1e-9 * max(1.0, abs(ours.value))
    assert ours.low <= min(corners) + slack and ours.high >= max(corners) - slack
