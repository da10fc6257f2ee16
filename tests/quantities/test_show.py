"""What is shown to people: the unit, the digits, both systems, tolerances rounded up."""

import re
from math import radians

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.quantities import kinds
from planner.quantities.grammar import Unreadable, read_value
from planner.quantities.kinds import (
    ANGLE,
    AREA,
    CHANGE,
    COUNT,
    DURATION,
    ENERGY,
    FORCE,
    INERTIA,
    LENGTH,
    MASS,
    PER_LENGTH,
    POINT,
    POINTS,
    POSITION,
    PRESSURE,
    RATIO,
    RATIOS,
    SPEED,
    TEXT,
    TORQUE,
    TURNING_SPEED,
    WEIGHT,
    YES_NO,
    Kind,
)
from planner.quantities.show import Style, default_unit, in_unit, show, show_in
from planner.quantities.spellings import factor, unit_of

INCH = Style("inch", fractions=True)
DECIMAL = Style("inch", fractions=False)
METRIC = Style("metric", fractions=True)

SHOWN = [
    ("5 1/2 in", LENGTH, INCH, "5 1/2 in (139.7 mm)"),
    ("5 1/2 in", LENGTH, DECIMAL, "5.50 in (139.7 mm)"),
    ("5 1/2 in", LENGTH, METRIC, "139.7 mm (5.50 in)"),
    ("140.9 mm", LENGTH, INCH, "5 9/16 in (5.547 in, 140.9 mm)"),
    ("1/2 in", LENGTH, INCH, "1/2 in (12.7 mm)"),
    ("0.002 in", LENGTH, INCH, "0.002 in (0.05 mm)"),
    ("0.002 in", LENGTH, METRIC, "0.05 mm (0.002 in)"),
    ("0 in", POSITION, INCH, "0 in (0 mm)"),
    ("-2 1/4 in", POSITION, INCH, "-2 1/4 in (-57.2 mm)"),
    ("133 in", LENGTH, INCH, "133 in (3378 mm)"),
    ("40 ft", LENGTH, INCH, "40.0 ft (12.19 m)"),
    ("2 miles", LENGTH, METRIC, "3.22 km (2.00 miles)"),
    ("24 in ± 1/8 in", LENGTH, INCH, "24 in ± 1/8 in (609.6 mm ± 3.2 mm)"),
    ("24 in ± 1/8 in", LENGTH, METRIC, "609.6 mm ± 3.2 mm (24.00 in ± 0.13 in)"),
    ("139.7 mm ± 0.01 mm", LENGTH, METRIC, "139.70 mm ± 0.01 mm (5.5000 in ± 0.0004 in)"),
    ("6,800 lb", WEIGHT, INCH, "6800 lb"),
    ("6,800 lb", WEIGHT, METRIC, "3084 kg"),
    ("26,000 lb", WEIGHT, INCH, "26,000 lb"),
    ("26,000 lb", WEIGHT, METRIC, "11\u00a0793 kg"),
    ("62 lb", MASS, INCH, "62.0 lb"),
    ("62 lb", MASS, METRIC, "28.1 kg"),
    ("1,200 lbf", FORCE, INCH, "1200 lbf"),
    ("1,200 lbf", FORCE, METRIC, "5338 N"),
    ("75 psi", PRESSURE, INCH, "75.0 psi"),
    ("75 psi", PRESSURE, METRIC, "517 kPa"),
    ("8°30'", ANGLE, INCH, "8.5°"),
    ("8.5 deg ± 0.5 deg", ANGLE, METRIC, "8.5° ± 0.5°"),
    ("55 mph", SPEED, INCH, "55.0 mph"),
    ("55 mph", SPEED, METRIC, "88.5 km/h"),
    ("2400 rpm", TURNING_SPEED, METRIC, "2400 rpm"),
    ("70 ft·lb", TORQUE, INCH, "70.0 lbf·ft"),
    ("70 ft·lb", TORQUE, METRIC, "94.9 N·m"),
    ("800 kJ", ENERGY, INCH, "800 kJ"),
    ("3 lb·ft²", INERTIA, METRIC, "0.1264 kg·m²"),
    ("0.1419 in²", AREA, METRIC, "91.55 mm²"),
    ("634.2 per mile", PER_LENGTH, INCH, "634.2 per mile (394.1 per km)"),
    ("634.2 per mile", PER_LENGTH, METRIC, "394.1 per km (634.2 per mile)"),
    ("45 min", DURATION, INCH, "45 min"),
    ("24 h", DURATION, INCH, "24 h"),
    ("2 weeks", DURATION, INCH, "14 days"),
    ("4.10", RATIO, INCH, "4.10"),
    ("3.545", RATIO, INCH, "3.545"),
    ("41.52", RATIO, INCH, "41.52"),
    ("0.2 ± 30 %", RATIO, INCH, "0.20 ± 0.06"),
    ("-3.4 %", CHANGE, INCH, "-3.40 %"),
    ("0.12", CHANGE, INCH, "+12.0 %"),
    ("8", COUNT, INCH, "8"),
    ("yes", YES_NO, INCH, "yes"),
    ("37x12.50R17LT", TEXT, INCH, "37x12.50R17LT"),
    ("0, 2.75 in; 2.75 in, 0", POINTS, INCH, "(0 in, 2 3/4 in), (2 3/4 in, 0 in)"),
    ("0, 2.75 in", POINT, METRIC, "(0 mm, 69.9 mm)"),
    ("3.54, 4.1", RATIOS, INCH, "3.54, 4.10"),
]


@pytest.mark.parametrize(("text", "kind", "style", "shown"), SHOWN)
def test_a_value_is_shown_as_the_trade_writes_it(text, kind, style, shown):
    assert show(read_value(text, kind), kind, style) == shown


def test_a_tolerance_may_be_given_beside_a_bare_float():
    assert show(0.6096, LENGTH, INCH, 0.003175) == "24 in ± 1/8 in (609.6 mm ± 3.2 mm)"


def test_a_value_that_is_no_number_is_never_shown_as_one():
    assert show(float("nan"), LENGTH, INCH) == show(float("inf"), RATIO, INCH) == "not a finite number"
    assert show_in(float("inf"), LENGTH, "mm") == "not a finite number"


def test_a_tolerance_that_is_no_number_is_said_not_to_be_known():
    assert show(0.6096, LENGTH, METRIC, float("inf")) == "609.6 mm (24.00 in) (tolerance not known)"
    assert show_in(0.6096, LENGTH, "in", float("nan")) == "24 in (tolerance not known)"


SHOWN_NUMBER = re.compile(r"^(-?[0-9,\u00a0]*\.?[0-9]*) ?(.*?)(?: \(.*)?$")
QUANTITIES = [kind for kind in vars(kinds).values() if isinstance(kind, Kind) and kind.form == "quantity"]


@given(st.floats(1e-3, 1e5), st.sampled_from(QUANTITIES), st.sampled_from([DECIMAL, METRIC]))
def test_what_is_shown_is_off_by_half_of_its_last_place_at_most(value, kind, style):
    number, unit = SHOWN_NUMBER.match(show(value, kind, style)).groups()
    places = len(number.partition(".")[2])
    of_si = float(factor(unit_of(unit, kind), kind))
    read = float(number.replace(",", "").replace("\u00a0", ""))
    assert abs(read - value / of_si) <= 0.5 * 10.0**-places * (1 + 1e-9) + abs(read) * 1e-13


@given(st.floats(0.0016, 5.0))
def test_a_fraction_of_an_inch_is_off_by_a_thirty_second_at_most_and_the_decimals_stand_beside_it(value):
    shown = show(value, LENGTH, INCH)
    beside = shown.partition("(")[2].rstrip(")").split(", ")
    assert abs(read_value(shown.partition(" (")[0], LENGTH).value - value) <= 0.0254 / 32 + 1e-12
    if len(beside) == 2:
        assert abs(read_value(beside[0], LENGTH).value - value) <= 0.0254 * 0.0005 + 1e-12


@given(st.floats(1e-3, 5.0), st.floats(1e-6, 0.5), st.sampled_from([INCH, DECIMAL, METRIC]))
def test_a_tolerance_is_never_rounded_down_and_by_a_tenth_up_at_most(value, tolerance, style):
    for side in show(value, LENGTH, style, tolerance).rstrip(")").split(" ("):
        shown = read_value(side.partition("± ")[2], LENGTH).value
        assert tolerance * (1 - 1e-10) - 0.0254e-6 <= shown <= tolerance * 1.1 + 0.0254e-6


@given(st.floats(1e-3, 1.5), st.sampled_from(QUANTITIES), st.sampled_from([INCH, DECIMAL, METRIC]))
def test_what_is_shown_first_can_be_read_back(value, kind, style):
    first = show(value, kind, style).partition(" (")[0]
    if first.lstrip("-0.")[:1].isdigit():  # not where it is shown as nothing
        read_value(first, kind)


@given(st.floats(-5, 5))
def test_metric_never_shows_a_fraction(value):
    assert "/" not in show(value, POSITION, METRIC)


@given(st.floats(-1e-9, 1e-9), st.sampled_from([INCH, DECIMAL, METRIC]))
def test_nothing_is_never_minus_nothing(value, style):
    assert "-" not in show(value, POSITION, style)


def test_a_value_is_shown_in_the_unit_asked_for():
    assert show_in(0.1397, LENGTH, "mm") == "139.7 mm"
    assert show_in(0.1397, LENGTH, "inches") == "5.5 in"
    assert show_in(radians(8.5), ANGLE, "deg") == "8.5 deg"
    assert show_in(0.39407, PER_LENGTH, "per mile") == "634.194 per mile"
    assert show_in(0.6096, LENGTH, "in", 0.003175) == "24 in ± 0.13 in"
    assert show_in(0.05, RATIO, "%") == "5 %"
    assert in_unit(30247.9069837714, WEIGHT, "lb") == pytest.approx(6800)


@pytest.mark.parametrize(
    ("unit", "kind"), [("psi", LENGTH), ("parsec", LENGTH), ("", LENGTH), ("in", RATIO), ("\x1b", LENGTH)]
)
def test_a_unit_of_another_kind_is_refused(unit, kind):
    with pytest.raises(Unreadable, match="isn't a unit of a"):
        show_in(1.0, kind, unit)


@pytest.mark.parametrize("kind", QUANTITIES, ids=lambda kind: kind.name)
def test_each_kind_has_a_unit_to_begin_with_that_it_can_be_read_in(kind):
    for style in (INCH, METRIC):
        assert read_value(f"0.5 {default_unit(kind, style)}", kind).value > 0


def test_a_ratio_and_a_count_have_no_unit():
    assert default_unit(RATIO, INCH) == default_unit(COUNT, METRIC) == ""


@given(st.floats(min_value=0.001, max_value=30.0), st.sampled_from([INCH, DECIMAL, METRIC]))
def test_a_limit_is_shown_on_its_safe_side_in_both_systems(limit, style):
    for kind, holds in ((LENGTH.greatest(), float.__le__), (LENGTH.smallest(), float.__ge__)):
        shown = show(limit, kind, style)
        for text in re.split(r"[(,)]", shown.replace("\u00a0", "")):
            if text.strip():
                assert holds(
                    read_value(text.strip(), LENGTH).value, limit * (1 + (1e-9 if kind.safe == "down" else -1e-9))
                )


def test_a_limit_that_is_a_number_of_the_tape_stays_that_number():
    for text in ("37 5/16 in", "4 1/2 in", "33 ft"):
        value = read_value(text, LENGTH).value
        for kind in (LENGTH.greatest(), LENGTH.smallest()):
            assert show(value, kind, INCH).partition(" (")[0] == text.replace("33 ft", "33.0 ft")


def test_a_greatest_length_goes_down_and_a_least_one_up_with_the_exact_one_beside():
    value = 4.3 * 0.0254  # 4 4.8/16 in, 109.22 mm
    assert show(value, LENGTH.greatest(), INCH) == "4 1/4 in (4.300 in, 109.2 mm)"
    assert show(value, LENGTH.smallest(), INCH) == "4 5/16 in (4.300 in, 109.3 mm)"
    assert show(radians(28.768), ANGLE.greatest()) == "28.76°"
    assert show(-value, POSITION.greatest(), METRIC) == "-109.3 mm (-4.30 in)"
