"""What is marked on tubes and flaps, in the ways that they are marked."""

from math import isclose

import pytest

from planner.trade.tire.tubes import flap_size, tube_mark
from planner.worksheet.declare import Impossible


@pytest.mark.parametrize(
    ("text", "narrowest", "widest", "rim", "radial"),
    [
        ("7.50-16", 7.5, 7.5, 16, False),
        ("7.00/7.50R16", 7.0, 7.5, 16, True),
        ("700/750-16", 7.0, 7.5, 16, False),
        ("8.25-20, 9.00-20", 8.25, 9.0, 20, False),
        ("Tube 11.00 R 22.5", 11.0, 11.0, 22.5, True),
        ("7.50/16", 7.5, 7.5, 16, False),
        ("LT235/85R16", 235 / 25.4, 235 / 25.4, 16, True),
        ("7.50-16, 235/85R16", 7.5, 235 / 25.4, 16, True),
    ],
)
def test_a_tube_is_for_the_tires_in_its_mark(text, narrowest, widest, rim, radial):
    mark = tube_mark(text)
    assert isclose(mark.narrowest, narrowest * 0.0254) and isclose(mark.widest, widest * 0.0254)
    assert (mark.rim_code, mark.radial) == (rim, radial)


@pytest.mark.parametrize("text", ["", ",", "large", "7.50-16, 7.50-17", "7.50", "H78-15", "\x1b[31m", "7.50-16" * 20])
def test_a_mark_of_no_tire_or_of_several_rims_is_told(text):
    with pytest.raises(Impossible) as trouble:
        tube_mark(text)
    assert "7.50-16" in trouble.value.accepted and "\x1b" not in str(trouble.value)


@pytest.mark.parametrize(
    ("text", "rim"),
    [("16x6.00", 16), ("20 × 7.5", 20), ("20x7.50/8.00", 20), ("7.50-16", 16), ("8.25/9.00R20", 20), ("None", None)],
)
def test_a_flap_is_for_the_rim_in_its_mark(text, rim):
    assert flap_size(text).rim_code == rim


@pytest.mark.parametrize("text", ["", "yes", "99x6.00", "x" * 70])
def test_a_flap_of_no_rim_is_told(text):
    with pytest.raises(Impossible):
        flap_size(text)
