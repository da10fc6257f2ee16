"""The range of each assumed value against what was read outside of this program."""

import csv

import pytest
from published_rows import FOLDER

from planner.plan.truck.catalog import catalog
from planner.quantities.grammar import read_value
from planner.quantities.show import in_unit

with (FOLDER / "ranges.csv").open(encoding="utf-8", newline="") as file:
    READ = list(csv.DictReader(file))


def test_every_assumed_value_is_held_against_something():
    assumed = {one.node for one in catalog().assumed.values() if not one.limit}
    assert assumed == {row["assumed"] for row in READ}


@pytest.mark.parametrize("row", READ, ids=lambda row: f"{row['assumed']} {row['value']}")
def test_an_assumed_range_holds_what_was_read(row):
    assumed = catalog().assumed[row["assumed"]]
    quantity = read_value(assumed.text, assumed.kind)
    low, high = (
        in_unit(end, assumed.kind, row["unit"]) if row["unit"] else end for end in (quantity.low, quantity.high)
    )
    assert low - 1e-9 <= float(row["value"]) <= high + 1e-9, f"{row['how']} ({row['source']})"


def test_the_pressure_told_is_never_below_the_load_tables():
    """80 psi carries 3,042 lb single; each line of the table is its own exponent, and all of them ask for less."""
    assumed = catalog().assumed["pressure_exponent"]
    told = read_value(assumed.text, assumed.kind).value
    tables = [float(row["value"]) for row in READ if "load and inflation table" in row["source"]]
    assert len(tables) == 4 and all(told > one for one in tables)
