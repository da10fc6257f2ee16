"""Every figure against the outside world: each row of tests/published/*.csv, with its citation."""

import pytest
from published_rows import ROWS, given

from planner.plan.opening import catalog
from planner.quantities.kinds import Kind
from planner.quantities.show import in_unit
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


def test_there_are_at_least_120_rows():
    assert len(ROWS) >= 120


@pytest.mark.parametrize("name", sorted(one.name for one in catalog().figures.values()))
def test_every_figure_is_checked_from_outside(name):
    assert any(catalog().named(row["figure"]) == catalog().named(name) for _, row in ROWS)
