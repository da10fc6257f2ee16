"""A tolerance that is needed: figures enough whatever its size, and never wider than what would do."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.quantities.grammar import read_value
from planner.quantities.kinds import ANGLE, CHANGE, LENGTH, PRESSURE, RATIO, SHARE, WEIGHT
from planner.quantities.needed import needed_tolerance
from planner.quantities.show import Style


@pytest.mark.parametrize(
    ("amount", "kind", "system", "shown"),
    [
        # 0.0254 m to the inch: 0.00002 / 0.0254 = 0.000787...
        (0.00002, LENGTH, "inch", "± 0.00078 in (0.02 mm)"),
        (0.00002, LENGTH, "metric", "± 0.02 mm (0.00078 in)"),
        (0.000_98, LENGTH, "inch", "± 0.038 in (0.98 mm)"),  # 0.03858...
        (2.3e-6, LENGTH, "metric", "± 0.0023 mm (0.00009 in)"),  # 0.000090551...
        (0.0254 / 1000, LENGTH, "inch", "± 0.001 in (0.025 mm)"),  # 0.0254 mm
        (0.00357, RATIO, "inch", "± 0.0035"),
        (0.0123, CHANGE, "inch", "± 1.2 %"),
        (0.000_019_9, SHARE, "inch", "± 0.0019 %"),
        (0.000_5, ANGLE, "inch", "± 0.028°"),  # 0.0286...
        (61.0, WEIGHT, "inch", "± 13 lb"),  # / 4.4482216... = 13.7...
        (500.0, PRESSURE, "metric", "± 0.5 kPa"),
    ],
)
def test_a_needed_tolerance_has_two_figures_and_is_rounded_down(amount, kind, system, shown):
    assert needed_tolerance(amount, kind, Style(system)) == shown


@given(st.floats(1e-7, 10.0), st.sampled_from(["inch", "metric"]))
def test_a_needed_tolerance_is_never_shown_as_nothing_nor_wider_than_it_is(amount, system):
    for side in needed_tolerance(amount, LENGTH, Style(system)).removeprefix("± ").rstrip(")").split(" ("):
        assert 0.9 * amount < read_value(side, LENGTH).value <= amount * (1 + 1e-10)
