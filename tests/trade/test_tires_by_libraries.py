"""A tire's size, marks and growth, against general libraries: circles, a cord of one length, series, units."""

from math import pi

import numpy as np
import pytest
import shapely
import shapely.affinity
from scipy.optimize import brentq

from planner.quantities.registry import registry
from planner.trade.tire.charts import load_capacities
from planner.trade.tire.designation import tire_size
from planner.trade.tire.growth import grown_diameter, grown_width
from planner.trade.tire.ratings import (
    capacity_by_index,
    dual_capacity_by_index,
    dual_load_capacity,
    marked_speed_limit,
    speed_limit,
)
from planner.trade.tire.rolling import estimated_deflection, static_loaded_radius
from planner.trade.tire.sizes import design_section_width, overall_diameter, section_width
from planner.trade.tire.tubes import tube_mark

DRAWS = np.random.default_rng(21).uniform(size=(8, 5))
DRAW_IDS = [f"draw {number}" for number in range(len(DRAWS))]
CENTER = shapely.Point(0.0, 0.0)


def between(share: float, low: float, high: float) -> float:
    return low + share * (high - low)


def wide(body: shapely.Geometry) -> float:
    return body.bounds[2] - body.bounds[0]


def meters(number: float, unit: str) -> float:
    return float((number * registry()(unit)).to("meter").magnitude)


def cord(rim: float, wide_: float) -> float:
    """How long a round casing is, over the tread from bead to bead: a circle but for the gap at the rim."""
    return wide_ * (pi - np.arcsin(rim / wide_))


@pytest.mark.parametrize(
    ("size", "nominal", "rim"), [("265/70R17", 265, 8.0), ("LT235/85R16", 235, 6.5), ("37x12.50R17LT", 317.5, 10.0)]
)
@pytest.mark.parametrize("inches", [-1.0, -0.5, 0.5, 1.0])
def test_a_rim_of_another_width_spreads_a_casing_that_does_not_stretch_about_as_told(size, nominal, rim, inches):
    """Taken as a round hose, of which no cord grows longer: 0.37 to 0.49 of what the beads are moved; told is 0.4."""
    own = meters(rim, "inch")
    long = cord(own, nominal / 1000)
    other = own + meters(inches, "inch")
    round_ = brentq(lambda one: cord(other, one) - long, other * (1 + 1e-9), 2 * nominal / 1000)
    told = section_width(size, 0.8, 1.0, other) - section_width(size, 0.8, 1.0, own)
    assert told == pytest.approx(round_ - nominal / 1000, rel=0.2)
    assert section_width(size, 0.8, 1.0, own) == design_section_width(size) == pytest.approx(nominal / 1000)


@pytest.mark.parametrize("made", [0.98, 1.0, 1.02])
def test_a_tire_made_larger_than_its_size_is_that_size_drawn_larger(made):
    across, section = 805.5, 235  # LT235/85R16: 406 + 2 × 0.85 × 235
    tread = shapely.affinity.scale(CENTER.buffer(across / 2000), made, made)
    assert overall_diameter("LT235/85R16", made) == pytest.approx(wide(tread))
    body = shapely.affinity.scale(shapely.box(0, 0, section / 1000, 0.1), made)
    for rim in (None, meters(6.5, "inch")):  # which is its measuring rim
        assert section_width("LT235/85R16", 0.8, made, rim) == pytest.approx(wide(body))


@pytest.mark.parametrize("draw", DRAWS, ids=DRAW_IDS)
def test_a_grown_tire_is_drawn_around_the_new_one_by_what_its_height_over_the_rim_gains(draw):
    across, radial, bias = between(draw[0], 0.7, 1.0), between(draw[1], 0.0, 0.02), between(draw[2], 0.021, 0.04)
    new = CENTER.buffer(across / 2, quad_segs=64)
    rims = {16.0: 406.0, 15.0: 381.0, 13.5: meters(13.5, "inch") * 1000}  # UN R54, from memory; an odd one in inches
    for code, rim in rims.items():
        height = new.exterior.distance(CENTER.buffer(rim / 2000, quad_segs=64))
        for kind, by in (("radial", radial), ("bias", bias), (None, bias)):
            grown = new.buffer(height * by, join_style="mitre")
            for codes in ((code, None), (None, code), (code, 22.5)):
                told = grown_diameter(across, radial, bias, kind, None, *codes)
                assert told == pytest.approx(wide(grown), abs=1e-5)
    by_maker = shapely.affinity.scale(new, 1 + radial, 1 + radial)
    assert grown_diameter(across, 0.5, 0.5, "radial", radial, 16.0) == pytest.approx(wide(by_maker))
    section = between(draw[3], 0.18, 0.36)
    for kind, by in (("radial", radial), ("bias", bias), (None, bias)):
        spread = shapely.affinity.scale(shapely.box(0, 0, section, 0.1), 1 + by)
        assert grown_width(section, radial, bias, kind) == pytest.approx(wide(spread))


@pytest.mark.parametrize("draw", DRAWS, ids=DRAW_IDS)
def test_a_tire_pressed_onto_the_road_has_its_axle_above_it_by_what_is_left_of_it(draw):
    across, share = between(draw[0], 0.7, 1.0), between(draw[1], 0.04, 0.1)
    tire = CENTER.buffer(across / 2)
    squashed = estimated_deflection(across, share)
    road = shapely.box(-1, tire.bounds[1] - 1, 1, tire.bounds[1] + squashed)
    assert static_loaded_radius(across, squashed) == pytest.approx(road.distance(CENTER))
    inside = shapely.affinity.scale(tire, 1 - share, 1 - share)
    assert road.distance(CENTER) == pytest.approx(-inside.bounds[1])
    measured = across / 2 * (1 - share)
    assert static_loaded_radius(across, squashed / 2, measured) == measured


def test_a_load_index_of_either_sort_follows_the_preferred_numbers_of_eighty_steps_to_the_decade():
    series = np.geomspace(45.0, 45.0 * 10**2.5, 201)
    for index in load_capacities():
        for figure in (capacity_by_index, dual_capacity_by_index, dual_load_capacity):
            assert figure(index) == pytest.approx(series[index], rel=1 / 30)


def test_speed_symbols_go_up_by_tens_of_kilometers_from_f_to_u_and_by_thirties_from_h():
    """A few letters are left out; H, which came first, stands between U and V."""
    units = registry()
    letters = dict(zip("FGJKLMNPQRSTU", np.arange(80, 210, 10), strict=True))
    letters |= dict(zip("HVWY", np.arange(210, 310, 30), strict=True))
    letters |= dict(zip(["A1", "A2", "A3", "A4", "A5", "A6", "A7", "A8"], np.arange(5, 45, 5), strict=True))
    for symbol, speed in letters.items():
        per_second = (float(speed) * units("kilometer / hour")).to("meter / second").magnitude
        assert speed_limit(symbol) == marked_speed_limit(symbol) == pytest.approx(per_second)


@pytest.mark.parametrize(
    ("mark", "inches", "rim", "radial"),
    [
        ("7.00/7.50R16", [7.0, 7.5], 16, True),
        ("8.25-20, 7.50-20, 9.00-20", [7.5, 9.0], 20, False),
        ("700/750-16", [7.0, 7.5], 16, False),
    ],
)
def test_a_tube_in_inches_is_for_tires_from_the_least_to_the_greatest_of_them(mark, inches, rim, radial):
    found = tube_mark(mark)
    widths = [meters(one, "inch") for one in (np.min(inches), np.max(inches))]
    assert (found.narrowest, found.widest) == pytest.approx(tuple(widths))
    assert (found.rim_code, found.radial) == (rim, radial)


def test_a_tube_by_a_metric_size_is_for_tires_of_as_many_millimeters():
    assert tube_mark("235/85R16").widest == tube_mark("235/85R16").narrowest == pytest.approx(meters(235, "millimeter"))


@pytest.mark.parametrize(
    ("size", "unit", "width", "aspect", "tall", "marks"),
    [
        ("LT235/85R16 120/116R 10PR", "millimeter", 235, 0.85, None, (16, 120, 116, 10)),
        ("P265/70R17 113S", "millimeter", 265, 0.70, None, (17, 113, None, None)),
        ("7.50-16 8PR", "inch", 7.5, None, None, (16, None, None, 8)),
        ("37x12.50R17LT 124Q", "inch", 12.5, None, 37, (17, 124, None, None)),
    ],
)
def test_the_numbers_in_a_size_are_millimeters_shares_or_inches(size, unit, width, aspect, tall, marks):
    found = tire_size(size)
    assert found.nominal_section_width == pytest.approx(meters(width, unit))
    assert found.aspect_ratio == aspect
    assert found.nominal_overall_diameter == (None if tall is None else pytest.approx(meters(tall, unit)))
    assert (found.rim_diameter_code, found.load_index, found.load_index_dual, found.ply_rating) == marks
