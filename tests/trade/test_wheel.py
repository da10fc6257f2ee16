"""Rims: what the table knows and does not, and what is left inside a barrel."""

import pytest

from planner.trade.wheel.barrel import barrel_radius, rim_diameters, specified_rim_diameter
from planner.trade.wheel.reach import backspace, inboard_reach, offset, offset_for_poke, outboard_reach, poke
from planner.worksheet.declare import Impossible


def test_a_code_that_the_table_lacks_is_refused_and_never_guessed():
    for code in (10, 12, 14.75, 15.3, 23, 26):
        with pytest.raises(Impossible) as refused:
            specified_rim_diameter(code)
        assert refused.value.key == "rim_diameter_code"


def test_bead_seats_lie_within_a_quarter_inch_of_the_code_and_grow_with_it():
    codes = sorted(rim_diameters())
    diameters = [rim_diameters()[code] for code in codes]
    assert diameters == sorted(diameters)
    assert all(abs(diameter - code * 0.0254) < 0.00635 for code, diameter in zip(codes, diameters, strict=True))


def test_fifteen_degree_rims_are_their_code_in_inches():
    """Rims of codes in .5 are specified as the code in inches: from memory."""
    assert all(diameter == pytest.approx(code * 0.0254) for code, diameter in rim_diameters(15).items())


def test_a_measured_barrel_stands_whatever_else_is_given():
    assert barrel_radius(15, 0.02, 0.006, measured=0.17) == 0.17


def test_a_barrel_waits_while_a_part_of_it_is_missing():
    assert barrel_radius(15, 0.02) is None
    assert barrel_radius() is None


def test_a_well_deeper_than_the_rim_is_impossible():
    with pytest.raises(Impossible) as refused:
        barrel_radius(15, 0.2, 0.006)
    assert refused.value.key == "well_depth"


def test_offset_and_backspace_undo_each_other():
    for given in (-0.05, 0.0, 0.0762):
        assert offset(backspace(given, 0.2286, 0.0127), 0.2286, 0.0127) == pytest.approx(given)


def test_both_reaches_make_up_the_section_whatever_the_offset():
    for given in (-0.05, 0.0, 0.03):
        assert inboard_reach(0.3, given) + outboard_reach(0.3, given) == pytest.approx(0.3)


def test_the_offset_for_a_poke_gives_that_poke():
    assert poke(outboard_reach(0.3, offset_for_poke(-0.0127, 0.3, 0.165)), 0.165) == pytest.approx(-0.0127)
