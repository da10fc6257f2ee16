"""The units: definitions against a published table, factors against Pint, spellings against each other."""

import csv
import subprocess
import sys
from fractions import Fraction
from math import pi
from pathlib import Path

import pytest

from planner.quantities import kinds
from planner.quantities.kinds import Kind
from planner.quantities.registry import FACTORS, KIND_SI, SI_UNITS, factor_text, registry
from planner.quantities.spellings import ACCEPTED, LADDERS, SPELLINGS, factor, spelling_key, unit_of, units

PUBLISHED = Path(__file__).parent.parent / "published" / "unit_factors.csv"
OUR_NAMES = {
    "pound (avdp)": "pound", "pound-force": "pound_force", "psi": "pound_force_per_square_inch",
    "mph": "mile_per_hour", "ft lbf": "pound_force_foot", "kgf": "kilogram_force",
}  # fmt: skip
QUANTITIES = [kind for kind in vars(kinds).values() if isinstance(kind, Kind) and kind.form == "quantity"]


@pytest.mark.parametrize("row", list(csv.DictReader(PUBLISHED.open())), ids=lambda row: row["unit"])
def test_each_factor_is_the_published_one(row):
    # The published column is in floats worked out by products, so its last bit or two are not exact.
    assert float(units()[OUR_NAMES.get(row["unit"], row["unit"])].factor) == pytest.approx(
        float(row["factor"]), rel=4e-16
    )


def test_the_agreed_definitions_are_exact():
    assert units()["inch"].factor == Fraction(254, 10_000)
    assert units()["pound"].factor == Fraction(45_359_237, 100_000_000)
    assert units()["standard_gravity"].factor == Fraction(980_665, 100_000)
    assert units()["mile"].factor == 5280 * 12 * units()["inch"].factor
    assert float(180 * units()["degree"].factor) == pi


def test_the_table_of_factors_is_what_pint_works_out_now():
    assert FACTORS.read_text(encoding="utf-8") == factor_text(), "run: python -m planner.quantities.registry"


@pytest.mark.parametrize("name", units())
def test_pint_converts_one_of_each_unit_by_the_same_factor(name):
    unit = units()[name]
    assert registry().Quantity(Fraction(1), name).to(SI_UNITS[unit.si]).magnitude == unit.factor


@pytest.mark.parametrize("kind", QUANTITIES, ids=lambda kind: kind.name)
def test_each_kind_has_its_si_unit_what_to_write_and_a_dimension_in_pint(kind):
    unit = unit_of(kind.si, kind)
    assert unit is not None and factor(unit, kind) == 1
    assert kind.name in ACCEPTED
    assert all(unit_of(name, kind) for name in ACCEPTED[kind.name][0].replace(" or ", ", ").split(", "))
    held, named = kind.si, KIND_SI.get(kind.name, kind.si)
    assert registry().Unit(SI_UNITS[held]).dimensionality == registry().Unit(SI_UNITS[named]).dimensionality


def test_every_unit_is_spelled_and_every_spelling_is_of_a_unit():
    assert set(SPELLINGS) == set(units()) - {"standard_gravity"}
    assert {name for ladder in LADDERS for name in ladder} <= set(units())


def test_within_one_kind_a_spelling_stands_for_one_unit_only():
    taken: dict[tuple[str, str], str] = {}
    for name, spellings in SPELLINGS.items():
        for key in {spelling_key(spelling) for spelling in spellings.split()}:
            for kind in units()[name].kinds:
                assert taken.setdefault((kind, key), name) == name, (kind, key)


def test_reading_a_quantity_imports_no_pint():
    script = (
        "import sys; from planner.quantities.grammar import read; from planner.quantities.kinds import LENGTH;"
        "read('5 1/2 in', LENGTH); print('pint' in sys.modules)"
    )
    root = Path(__file__).parents[2]
    done = subprocess.run([sys.executable, "-c", script], cwd=root, capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"
