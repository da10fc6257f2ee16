"""Every figure against the outside world: each row of tests/published/*.csv, with its citation."""

import csv
import re
from pathlib import Path

import pytest
from published_rows import FOLDER, ROWS, given

import planner
from planner.plan.truck.catalog import catalog
from planner.quantities.kinds import Kind
from planner.quantities.show import in_unit
from planner.reference.rows import PUBLISHED, publications, read_rows
from planner.worksheet.bench import work

PLANNER = Path(planner.__file__).parent
STANDINGS = {
    "read",
    "read in a secondary page",
    "reference library",
    "worked by hand",
    "transcribed",
    "common practice",
    "from memory",
}


def worked(row):
    name = row["figure"]
    declared = catalog().figures[catalog().named(name)]
    return declared, work(catalog(), declared, given(row))


def part_of(declared, outcome, part) -> tuple[object, Kind]:
    if not part:
        return outcome.value, declared.kind
    return getattr(outcome.value, part), declared.parts[part]


def agrees(row, declared, result) -> bool:
    """Whether what was worked out is what the row expects, within its tolerance."""
    value, kind = part_of(declared, result.outcome, row["part"])
    if isinstance(value, (str, bool)) or value is None:
        return {True: "yes", False: "no", None: ""}.get(value, value) == row["expected"]
    expected = float(row["expected"].replace(",", ""))
    here = in_unit(float(value), kind, row["unit"]) if row["unit"] else float(value)
    allowed = row["tolerance"].strip()
    slack = abs(expected) * float(allowed[:-1]) / 100 if allowed.endswith("%") else float(allowed)
    return abs(here - expected) <= slack * (1 + 1e-9)


@pytest.mark.parametrize(("place", "row"), ROWS, ids=[place for place, _ in ROWS])
def test_a_figure_gives_what_is_published(place, row):
    declared, result = worked(row)
    assert agrees(row, declared, result), f"{result.outcome.value} against {row['expected']} ({row['source']})"


@pytest.mark.parametrize(("place", "row"), ROWS, ids=[place for place, _ in ROWS])
def test_a_row_says_where_it_is_from(place, row):
    assert len(row["source"]) > 3 and row["standing"] in STANDINGS


def test_there_are_250_rows_and_more_over_15_published_sources_and_more():
    assert len(ROWS) >= 250
    read = publications(read_rows(FOLDER, catalog()))
    assert sum(any(standing != "from memory" for standing in counts) for counts in read.values()) >= 12
    assert len(read) >= 15


@pytest.mark.parametrize(("place", "row"), ROWS, ids=[place for place, _ in ROWS])
def test_a_published_value_names_its_document_and_the_place_in_it(place, row):
    if row["standing"] in (*PUBLISHED, "transcribed"):
        named, _, where = re.sub(r"[:,] ", "\n", row["source"], count=1).partition("\n")
        assert named and where, row["source"]


def cells() -> set[frozenset[str]]:
    """The lines of every table that the planner has of its own, each as its cells; numbers alike however written."""
    tables = (PLANNER / "trade").rglob("*.csv")
    lines = (line for path in tables for line in csv.reader(path.open(encoding="utf-8", newline="")))
    return {frozenset(map(plain_number, line)) for line in lines}


def plain_number(text: str) -> str:
    try:
        return f"{float(text.replace(',', '')):g}"
    except ValueError:
        return text


def test_a_row_that_repeats_a_cell_of_the_planners_own_tables_says_that_it_is_transcribed():
    """And no other does: a row that is called transcribed must be found in a table."""
    own = cells()
    for place, row in ROWS:
        # An expected number and what it is looked up by stand in one line; a row of several inputs looks up by one.
        inputs = {plain_number(value) for value in given(row).values()}
        alike = any({plain_number(row["expected"]), one} <= line for one in inputs for line in own)
        exact = row["tolerance"] in ("1e-6", "1e-9")
        assert (row["standing"] == "transcribed") == (alike and exact and not row["part"]), (place, row)


def test_no_row_takes_an_input_that_was_worked_out_from_its_own_result():
    """Such a row would agree with any table: those of loaded radii did, each with the deflection that gives it back."""
    for place, row in ROWS:
        if row["figure"] == "tire.static_loaded_radius" and row["standing"] == "read":
            values = given(row)
            free, gives = (float(values[key].split()[0]) for key in ("overall_diameter", "deflection"))
            assert abs(free / 2 - gives - float(row["expected"])) > 1e-6, place


@pytest.mark.parametrize("name", sorted(one.name for one in catalog().figures.values()))
def test_every_figure_is_checked_from_outside(name):
    assert any(catalog().named(row["figure"]) == catalog().named(name) for _, row in ROWS)
