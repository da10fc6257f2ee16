"""How large a tire is, how it stands and rolls: against published design sizes, and where no number is given out."""

import csv
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

import planner.trade.tire
from planner.trade.tire.charts import load_capacities, rim_diameters, sold_sizes, speeds
from planner.trade.tire.designation import read_designation
from planner.trade.tire.growth import grown_diameter, grown_width
from planner.trade.tire.rolling import rolling_circumference, static_loaded_radius
from planner.trade.tire.sizes import design_section_width, overall_diameter, rim_width_band, section_width
from planner.worksheet.declare import Impossible

INCH = 0.0254
SHARE = 0.80


# GOST R 52899-2007, Annex A, Table A.1 (read): overall and loaded diameter in mm, the diameter within 1 %.
@pytest.mark.parametrize(
    ("size", "tall"),
    [("185/80R15C", 674), ("215/80R16C", 755), ("215/90-15C", 777), ("175/80-16C", 692), ("225/75R16C", 744)],
)
def test_the_sum_stands_within_one_and_a_half_percent_of_the_published_design_diameter(size, tall):
    assert overall_diameter(size, 1.0) * 1000 == pytest.approx(tall, rel=0.015)


def test_every_size_that_is_sold_can_be_worked_out_and_says_where_it_is_known_from():
    for one in sold_sizes():
        assert 0.6 < overall_diameter(one.designation, 1.0) < 1.2
        assert 0.15 < design_section_width(one.designation) < 0.45
        assert one.source and one.standing in ("read", "from memory")
        assert bool(one.diameter) == (one.standing == "read") == bool(one.section_width)
    # GOST R 52899-2007, Annex A, Table A.1 (read): diameter within 1 %, and the greatest width.
    read = {one.designation: (one.diameter, one.section_width) for one in sold_sizes() if one.standing == "read"}
    assert read == {"185/80R15C": ("674 mm ± 6.7 mm", "188 mm"), "215/80R16C": ("755 mm ± 7.6 mm", "218 mm")}


def test_half_an_inch_of_rim_makes_a_fifth_of_an_inch_of_section():
    # Rule of thumb as published for 205/60R15: 8.03, 8.23, 8.43, 8.63, 8.83 in on 5.5, 6, 6.5, 7, 7.5 in (read).
    widths = [section_width("205/60R15", SHARE, 1.0, rim * INCH) / INCH for rim in (5.5, 6.0, 6.5, 7.0, 7.5)]
    steps = [wide - narrow for narrow, wide in zip(widths, widths[1:], strict=False)]
    assert steps == pytest.approx([0.2] * 4)


# Measuring rims of well-known sizes, from memory of makers' charts.
@pytest.mark.parametrize(
    ("size", "rim"),
    [
        ("LT235/85R16", 6.5),
        ("265/70R17", 8.0),
        ("LT265/75R16", 7.5),
        ("205/60R15", 6.0),
        ("205/55R16", 6.5),
        ("225/45R17", 7.5),
        ("225/40R18", 8.0),
        ("7.50-16", 6.0),
        ("9.00-20", 7.0),
        ("335/80R20", 11.0),
        ("37x12.50R17LT", 10.0),
        ("31x10.50R15LT", 8.5),
    ],
)
def test_on_its_measuring_rim_a_tire_is_as_wide_as_designed(size, rim):
    assert section_width(size, SHARE, 1.0, rim * INCH) == pytest.approx(design_section_width(size))
    assert section_width(size, SHARE, 1.0) == design_section_width(size)


def test_an_old_inch_size_is_wider_than_its_first_figure_and_comes_from_the_table():
    assert overall_diameter("7.50R16", 1.0) == pytest.approx(0.802)  # UN R54 Annex 5, from memory
    assert design_section_width("7.50R16") == pytest.approx(0.210)
    assert design_section_width("7.50R16") > 7.5 * INCH
    assert overall_diameter("7.50R16 8PR", 1.0) == overall_diameter("7.50r16", 1.0)
    assert overall_diameter("7.50R16LT", 1.0) != overall_diameter("7.50R16", 1.0)


def test_a_tire_made_two_percent_over_its_size_is_as_much_larger():
    # LT235/85R16 by hand: 805.5 × 1.02 = 821.61 mm; 235 mm on its measuring rim × 1.04 = 244.4 mm, and an inch more of
    # rim makes 0.4 in of section whatever it was made to: 254.56 mm.
    assert overall_diameter("LT235/85R16", 1.02) == pytest.approx(0.82161)
    assert section_width("LT235/85R16", SHARE, 1.04) == pytest.approx(0.2444)
    assert section_width("LT235/85R16", SHARE, 1.04, 7.5 * INCH) == pytest.approx(0.25456)


# By hand, at the most: a radial of 2 % of its height over 432 mm of rim, a bias tire of 4 % over 406, 2 and 4 % wider.
@pytest.mark.parametrize(
    ("tall", "wide", "kind", "rim", "grown_tall", "grown_wide"),
    [
        (0.932, 0.3, "radial", 17, 0.942, 0.306),
        (0.806, 0.2, " Bias", 16, 0.822, 0.208),
        (0.806, 0.2, None, 16, 0.822, 0.208),
    ],
)
def test_a_bias_tire_and_one_of_which_nothing_is_known_grow_more_than_a_radial(
    tall, wide, kind, rim, grown_tall, grown_wide
):
    assert grown_diameter(tall, 0.02, 0.04, kind, tire_rim_code=rim) == pytest.approx(grown_tall)
    assert grown_width(wide, 0.02, 0.04, kind) == pytest.approx(grown_wide)


def test_growth_by_the_maker_comes_first_and_without_any_rim_all_of_the_diameter_grows():
    assert grown_diameter(0.8, 0.02, 0.04, "radial", 0.0, 16) == 0.8
    assert grown_diameter(0.8, 0.02, 0.04, "radial") == pytest.approx(0.816)
    # A rim of the wheel's own, which the table lacks: 16.25 in × 25.4 = 412.75 mm, so 2 % of 387.25 mm.
    assert grown_diameter(0.8, 0.02, 0.04, "radial", None, 16.25, 20) == pytest.approx(0.807745)


@pytest.mark.parametrize("size", ["H78-15", "6.70-15", "5.00-21", "165R13"])
def test_a_size_that_stands_nowhere_asks_for_the_measured_diameter(size):
    assert read_designation(size)
    with pytest.raises(Impossible, match="enter the measured overall_diameter") as caught:
        overall_diameter(size, 1.0)
    assert caught.value.key == "designation"


@pytest.mark.parametrize("size", ["H78-15", "6.70-15"])
def test_a_size_without_a_known_width_asks_for_the_measured_width(size):
    with pytest.raises(Impossible, match="enter the measured section_width"):
        section_width(size, SHARE, 1.0, 0.15)


@pytest.mark.parametrize("rim_in", [37.0, 400.0])
def test_a_rim_wider_than_the_tire_is_tall_is_impossible(rim_in):
    with pytest.raises(Impossible) as caught:
        section_width("37x12.50R17LT", SHARE, 1.0, rim_in * INCH)
    assert caught.value.key == "rim_width"


@given(st.integers(20, 58), st.integers(10, 30), st.floats(0.1, 0.4))
def test_a_wider_rim_never_makes_a_narrower_tire(tens, ninths, rim):
    size = f"{tens * 5 + 100}/{min(95, ninths * 3 + 5)}R16"
    assert section_width(size, SHARE, 1.0, rim + 0.01) > section_width(size, SHARE, 1.0, rim) > 0


def test_the_band_takes_in_what_makers_approve_and_leaves_out_what_they_do_not():
    # A 12.5 in section is commonly approved on 8 1/2 to 11 in, a 14.5 in one on 11 in (common practice).
    band = rim_width_band(12.5, 0.65, 0.90)
    assert band.low < 8.5 < 11 < band.high
    assert not band.low < 8.0 and not band.high > 11.5
    assert rim_width_band(14.5, 0.65, 0.90).low < 11 < rim_width_band(14.5, 0.65, 0.90).high
    with pytest.raises(Impossible):
        rim_width_band(12.5, 0.9, 0.65)


def test_a_measured_loaded_radius_comes_before_an_estimate():
    assert static_loaded_radius(0.94, deflection=0.03, loaded_radius=0.43) == 0.43


@pytest.mark.parametrize(
    ("key", "given_values"),
    [("deflection", {}), ("deflection", {"deflection": 0.5}), ("loaded_radius", {"loaded_radius": 0.48})],
)
def test_a_loaded_radius_out_of_nothing_or_above_the_free_one_is_impossible(key, given_values):
    with pytest.raises(Impossible) as caught:
        static_loaded_radius(0.94, **given_values)
    assert caught.value.key == key


def test_a_radial_rolls_further_than_a_bias_tire_and_both_less_than_the_free_circumference():
    assert rolling_circumference(1.0, "bias", 3.05, 2.99) < rolling_circumference(1.0, " Radial ", 3.05, 2.99) < 3.1416
    with pytest.raises(Impossible) as caught:
        rolling_circumference(1.0, "belted", 3.05, 2.99)
    assert caught.value.key == "construction"


def test_every_row_of_the_tables_says_where_it_is_from():
    folder = Path(planner.trade.tire.__file__).parent
    for name in ("load_index", "speed_symbols", "rim_diameters", "sizes"):
        with (folder / f"{name}.csv").open(encoding="utf-8", newline="") as file:
            assert all(row["source"] and row["standing"] for row in csv.DictReader(file))


def test_the_tables_are_whole_and_rise():
    indices = load_capacities()
    assert sorted(indices) == list(range(201))
    assert all(indices[at] < indices[at + 1] for at in range(200))
    assert len(speeds()) == 29 and speeds()["U"] < speeds()["H"] < speeds()["V"]


def test_a_nominal_rim_diameter_is_its_code_in_inches_to_the_millimetre():
    # From memory of UN R30/R54: 16 is 406 mm, 17 is 432 mm, 16.5 is 419 mm.
    assert all(rim == pytest.approx(code * INCH, abs=0.00051) for code, rim in rim_diameters().items())


def test_every_size_in_the_table_stands_about_as_tall_as_its_numbers_say():
    # An old inch size has a section about as tall as its first figure is wide; a plain metric or a
    # tubeless truck one about 0.7 to 0.8 of it.
    folder = Path(planner.trade.tire.__file__).parent
    with (folder / "sizes.csv").open(encoding="utf-8", newline="") as file:
        rows = [row for row in csv.DictReader(file) if row["diameter_mm"]]
    for row in rows:
        size = read_designation(row["size"])
        tall = (float(row["diameter_mm"]) / 1000 - size.rim_diameter_code * INCH) / 2
        assert 0.65 <= tall / (size.nominal_section_width or 0) <= 1.12, row["size"]
        assert 0.92 <= float(row["section_width_mm"]) / 1000 / (size.nominal_section_width or 1) <= 1.2, row["size"]
