"""Quantities and ratios as people write them."""

from fractions import Fraction
from math import pi, radians

import pytest

from planner.quantities.amounts import read
from planner.quantities.kinds import (
    ANGLE,
    AREA,
    CHANGE,
    DURATION,
    ENERGY,
    FORCE,
    INERTIA,
    LENGTH,
    MASS,
    PER_LENGTH,
    POSITION,
    PRESSURE,
    RATIO,
    SPEED,
    TORQUE,
    TURNING_SPEED,
    WEIGHT,
)
from planner.quantities.unreadable import Unreadable

INCH = Fraction(254, 10_000)
POUND = Fraction(45_359_237, 100_000_000)
GRAVITY = Fraction(980_665, 100_000)

LENGTHS = {
    "5 1/2 in": Fraction(11, 2) * INCH,
    '5½"': Fraction(11, 2) * INCH,
    "5-1/2 in": Fraction(11, 2) * INCH,
    "5 ½ in": Fraction(11, 2) * INCH,
    "½ in": Fraction(1, 2) * INCH,
    "11/2 in": Fraction(11, 2) * INCH,
    "5 1⁄2 in": Fraction(11, 2) * INCH,
    "2 ft 3 in": 27 * INCH,
    "2' 3\"": 27 * INCH,
    "2ft3in": 27 * INCH,
    "2ft2in": 26 * INCH,
    "5' 6 1/2\"": Fraction(133, 2) * INCH,
    "5'-6 1/2\"": Fraction(133, 2) * INCH,
    "5’ 6½”": Fraction(133, 2) * INCH,
    "5′ 6½″": Fraction(133, 2) * INCH,
    "5' 6''": 66 * INCH,
    "139.7 mm": Fraction(1397, 10_000),
    "139.7mm": Fraction(1397, 10_000),
    "139,7 mm": Fraction(1397, 10_000),
    "1,5 mm": Fraction(15, 10_000),
    "139,75 mm": Fraction(13_975, 100_000),
    "1234,567 mm": Fraction(1_234_567, 1_000_000),
    "0,125 in": Fraction(1, 8) * INCH,
    "1,250 mm": Fraction(125, 100),
    "1,250.5 mm": Fraction(12_505, 10_000),
    "1 250 mm": Fraction(125, 100),
    "1\u00a0250\u00a0mm": Fraction(125, 100),
    "1\u2009250\u202fmm": Fraction(125, 100),
    "1 250,5 mm": Fraction(12_505, 10_000),
    "1 250 1/2 mm": Fraction(12_505, 10_000),
    "5 125/1000 in": Fraction(41, 8) * INCH,
    ".5 in": Fraction(1, 2) * INCH,
    "+5 in": 5 * INCH,
    "5 Inches": 5 * INCH,
    "5 IN": 5 * INCH,
    "5 in.": 5 * INCH,
    "3 Feet": 36 * INCH,
    "2 miles": 2 * 63_360 * INCH,
    "1.25e1 mm": Fraction(125, 10_000),
    "  5   in  ": 5 * INCH,
    "125 thou": Fraction(1, 8) * INCH,
    "1 m 5 cm": Fraction(105, 100),
}


@pytest.mark.parametrize("text", LENGTHS)
def test_a_length_is_read_exactly_and_rounded_once(text):
    found = read(text, LENGTH)
    assert (found.value, found.tolerance, found.text) == (float(LENGTHS[text]), 0.0, text)


@pytest.mark.parametrize("text", [
    "24 in ± 1/8 in", "24 in +/- 1/8", '24 in +- 1/8"', "24 ± 1/8 in", "24in±1/8in", "2 ft ± 1/8 in",
    "24 in ± 3.175 mm", "24 in ± ⅛",
])  # fmt: skip
def test_a_tolerance_has_its_own_unit_or_takes_the_other_one(text):
    found = read(text, LENGTH)
    assert (found.value, found.tolerance) == (0.6096, 0.003175)


def test_a_tolerance_in_percent_is_a_part_of_the_value():
    assert read("24 in ± 0.5 %", LENGTH).tolerance == float(24 * INCH * Fraction(5, 1000))
    assert read("-24 in ± 0.5 %", POSITION).tolerance == float(24 * INCH * Fraction(5, 1000))


def test_a_value_less_its_tolerance_may_be_below_nothing_only_where_nothing_is_possible():
    assert read("1/8 in ± 1/4 in", POSITION).low < 0
    with pytest.raises(Unreadable, match="a tolerance as wide as itself"):
        read("1/8 in ± 1/4 in", LENGTH)


def test_a_minus_holds_for_all_parts_and_may_be_typographic():
    assert read("-2 ft 3 in", POSITION).value == float(-27 * INCH)
    assert read("−5 1/2 in", POSITION).value == float(Fraction(-11, 2) * INCH)


FOOT_POUND = POUND * GRAVITY * 12 * INCH
OTHERS = [
    (PRESSURE, "75 psi", 75 * POUND * GRAVITY / INCH**2),
    (PRESSURE, "2.4 bar", 240_000),
    (PRESSURE, "240 KPA", 240_000),
    (PRESSURE, "2.5 kgf/cm²", Fraction(25_000) * GRAVITY),
    (PRESSURE, "2.5 kg/cm2", Fraction(25_000) * GRAVITY),
    (SPEED, "55 mph", 55 * 63_360 * INCH / 3600),
    (SPEED, "90 km/h", 25),
    (SPEED, "90 kph", 25),
    (SPEED, "90 kmh", 25),
    (SPEED, "55 miles per hour", 55 * 63_360 * INCH / 3600),
    (WEIGHT, "1,250 lb", 1250 * POUND * GRAVITY),
    (WEIGHT, "1 250 kg", 1250 * GRAVITY),
    (WEIGHT, "1,250 lbf", 1250 * POUND * GRAVITY),
    (WEIGHT, "2 t", 2000 * GRAVITY),
    (WEIGHT, "3 short tons", 6000 * POUND * GRAVITY),
    (WEIGHT, "10 kN", 10_000),
    (MASS, "165 lbs", 165 * POUND),
    (MASS, "165 lbf", 165 * POUND),
    (MASS, "10 kgf", 10),
    (MASS, "3 lb 4 oz", Fraction(13, 4) * POUND),
    (FORCE, "-500 lbf", -500 * POUND * GRAVITY),
    (INERTIA, "3 lb·ft²", 3 * POUND * 144 * INCH**2),
    (INERTIA, "3 lb-ft2", 3 * POUND * 144 * INCH**2),
    (AREA, "91.5 mm^2", Fraction(915, 10_000_000)),
    (AREA, "0.25 sq in", INCH**2 / 4),
    (PER_LENGTH, "634 per mile", 634 / (63_360 * INCH)),
    (PER_LENGTH, "634 1/mile", 634 / (63_360 * INCH)),
    (PER_LENGTH, "634 revs/mile", 634 / (63_360 * INCH)),
    (PER_LENGTH, "394/km", Fraction(394, 1000)),
    (DURATION, "1 h 30 min", 5400),
    (DURATION, "2 weeks", 14 * 86_400),
    (ENERGY, "800 kJ", 800_000),
    (ENERGY, "500 ft·lb", 500 * FOOT_POUND),
    *[(TORQUE, f"70 {spelling}", 70 * FOOT_POUND) for spelling in (
        "ft·lb", "ft-lb", "ft lb", "ftlb", "lb-ft", "lbf·ft", "lb·ft", "ft-lbs", "FT-LBS", "ft. lb.", "foot-pounds",
        "lbf-ft", "lbf ft", "ft*lb",
    )],
    *[(TORQUE, f"70 {spelling}", 70 * FOOT_POUND / 12) for spelling in ("in-lb", "lb·in", "lbf·in", "inch pounds")],
    *[(TORQUE, f"70 {spelling}", 70) for spelling in ("N·m", "Nm", "N-m", "N m", "nm", "newton-metres")],
    *[(TORQUE, f"7 {spelling}", 7 * GRAVITY) for spelling in ("kgf·m", "kg-m", "m·kg")],
]  # fmt: skip


@pytest.mark.parametrize(("kind", "text", "exact"), OTHERS, ids=lambda part: getattr(part, "name", str(part)))
def test_each_kind_is_read_in_the_units_of_the_trade(kind, text, exact):
    assert read(text, kind).value == float(Fraction(exact))


@pytest.mark.parametrize(("text", "degrees"), [
    ("8.5 deg", 8.5), ("8.5°", 8.5), ("8°30'", 8.5), ("8° 30'", 8.5), ("8° 30' 36\"", 8.51), ("8 deg 30 min", 8.5),
    ("-3 degrees", -3), ("90 deg", 90), ("510 arcmin", 8.5), ("0.025 turns", 9),
])  # fmt: skip
def test_an_angle_is_read_in_degrees_minutes_and_seconds(text, degrees):
    assert read(text, ANGLE).value == pytest.approx(radians(degrees), rel=1e-15)


def test_a_turning_speed_is_read_in_rpm():
    assert read("2,400 rpm", TURNING_SPEED).value == pytest.approx(80 * pi, rel=1e-15)  # 2400 turns of 2π in 60 s
    assert read("251 rad/s", TURNING_SPEED).value == 251.0


@pytest.mark.parametrize(("text", "value", "tolerance"), [
    ("4.10", 4.1, 0), ("4.10:1", 4.1, 0), ("41:10", 4.1, 0), ("41/10", 4.1, 0), ("4 1/10", 4.1, 0), ("5 %", 0.05, 0),
    ("4,10", 4.1, 0), ("4.10 ± 0.05", 4.1, 0.05), ("0.2 ± 30 %", 0.2, 0.06), ("5 % ± 1 %", 0.05, 0.01),
    ("5 % ± 1", 0.05, 0.01), ("1 : 4", 0.25, 0),
])  # fmt: skip
def test_a_ratio_is_a_bare_number_a_quotient_or_percent(text, value, tolerance):
    found = read(text, RATIO)
    assert (found.value, found.tolerance) == (value, tolerance)


def test_a_change_may_be_less_than_nothing():
    assert read("-3.5 %", CHANGE).value == -0.035


@pytest.mark.parametrize(("kind", "text", "problem"), [
    (LENGTH, "5 parsecs", "'5 parsecs' is not a length: write a number with in, ft, mm, cm or m, such as 5 1/2 in"),
    (LENGTH, "75 psi", "'75 psi' is a pressure; this needs a length: write a number with in,"),
    (LENGTH, "24 in ± 1 psi", "is a pressure; this needs a length"),
    (LENGTH, "24", "'24' has no unit: write a number with in, ft, mm, cm or m"),
    (LENGTH, "0", "'0' has no unit"),
    (LENGTH, "0 in", "'0 in' is impossible, it has to be more than 0"),
    (LENGTH, "-5 in", "'-5 in' is impossible, it has to be more than 0"),
    (LENGTH, "24 in ± -1 in", "is impossible: its tolerance has to be at least 0"),
    (LENGTH, "24 in ± x", "has a tolerance the planner can't read"),
    (LENGTH, "24 in ± 1 ± 2", "has more than one tolerance"),
    (LENGTH, "2 ft 15 in", "has enough in for another ft"),
    (LENGTH, "3 in 2 ft", "has ft after in"),
    (LENGTH, "2.5 ft 3 in", "has a broken number before its last unit"),
    (LENGTH, "1e31 m", "is impossible: nothing on a truck is that much"),
    (LENGTH, "", "'' says nothing"),
    (ANGLE, "91 deg", "is impossible, it has to be from -90 to 90 deg"),
    (ANGLE, "5 %", "is not an angle"),
    (FORCE, "500 lb", "is a mass; this needs a force"),
    (WEIGHT, "5 tons", "is not a weight"),
    (RATIO, "4.10 in", "is a length; this needs a ratio"),
    (RATIO, "1:0", "is not a ratio"),
    (RATIO, "0", "is impossible, it has to be more than 0"),
])  # fmt: skip
def test_what_cannot_be_read_says_what_was_read_and_what_is_accepted(kind, text, problem):
    with pytest.raises(Unreadable) as raised:
        read(text, kind)
    assert problem in str(raised.value)
    assert raised.value.read == text and raised.value.accepted.startswith("write a number")


@pytest.mark.parametrize("text", [
    "1,25,0 mm", "1,250,5 mm", "0,125,000 mm", "1.250,5 mm", "5 7/2 in", "5.5 1/2 in", "1.5/2 in", "1/2/3 in",
    "5..5 in", "5 in 3", "5'3", "2ft2 in", "2 ft.3 in", "5 in-", "5 ft/in", "24 ± 1/8", "± 1/8 in", "5 - 1/2 in",
    "5 -1/2 in", "ft", "in 5", "two inches", "1,250e3 mm", "1 25 mm", "5 in 6 in", "5 in 3 mm", "5 in + 1 in", "5½½ in",
    "1/2½ in", "--5 in", "5e in", "0x10 in", "5_000 mm", "1/0 in", "5 1/0 in",
])  # fmt: skip
def test_what_could_be_misread_is_not_read(text):
    with pytest.raises(Unreadable):
        read(text, LENGTH)
