"""Every figure against the outside world: each row of tests/published/*.csv, with its citation."""

import re

import pytest
from published_rows import FOLDER, ROWS, given

from planner.plan.truck.catalog import catalog
from planner.quantities.kinds import Kind
from planner.quantities.show import in_unit
from planner.reference.rows import PUBLISHED, publications, read_rows
from planner.worksheet.bench import work

STANDINGS = {
    "read",
    "read in a secondary page",
    "reference library",
    "worked by hand",
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


@pytest.mark.parametrize(("place", "row"), ROWS, ids=[place for place, _ in ROWS])
def test_a_figure_gives_what_is_published(place, row):
    declared, result = worked(row)
    value, kind = part_of(declared, result.outcome, row["part"])
    if isinstance(value, (str, bool)) or value is None:
        said = {True: "yes", False: "no", None: ""}.get(value, value)
        assert said == row["expected"]
        return
    expected = float(row["expected"].replace(",", ""))
    here = in_unit(float(value), kind, row["unit"]) if row["unit"] else float(value)
    allowed = row["tolerance"].strip()
    slack = abs(expected) * float(allowed[:-1]) / 100 if allowed.endswith("%") else float(allowed)
    assert abs(here - expected) <= slack * (1 + 1e-9), f"{here} against {expected} ({row['source']})"


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
    if row["standing"] in PUBLISHED:
        named, _, where = re.sub(r"[:,] ", "\n", row["source"], count=1).partition("\n")
        assert named and where, row["source"]


@pytest.mark.parametrize("name", sorted(one.name for one in catalog().figures.values()))
def test_every_figure_is_checked_from_outside(name):
    assert any(catalog().named(row["figure"]) == catalog().named(name) for _, row in ROWS)
