"""How the page of checks counts the published rows, on a folder of two made-up files."""

import pytest

from planner.plan.opening import catalog
from planner.reference.checks import checks_page
from planner.reference.rows import counted, publications, read_rows

ROWS = """figure,inputs,part,expected,unit,tolerance,source,standing
wheel.offset,backspace=4 in ; rim_width=11 in,,-2,in,1e-9,4 - 11/2 - 1/2,worked by hand
wheel.offset,backspace=0 in ; rim_width=9 in,,-5,in,1e-9,A trade table: line 3,read
wheel.track,face_to_face=60 in ; offset=-2 in,,64,in,1e-9,A trade table,from memory
"""


@pytest.fixture
def rows(tmp_path):
    (tmp_path / "rows.csv").write_text(ROWS, encoding="utf-8")
    (tmp_path / "other.csv").write_text("unit,factor\nin,0.0254\n", encoding="utf-8")
    return read_rows(tmp_path, catalog())


def test_rows_are_found_by_figure_and_a_table_of_another_kind_is_left_out(rows):
    assert {node: len(checks) for node, checks in rows.items()} == {"offset": 2, "track": 1}


def test_the_strongest_row_stands_first(rows):
    assert [row.standing for row in rows["offset"]] == ["read", "worked by hand"]


def test_rows_are_counted_by_standing(rows):
    assert counted(rows["offset"]) == "1 read, 1 worked by hand"
    assert counted([]).startswith("no row")


def test_sums_by_hand_and_what_is_remembered_are_no_publication(rows):
    assert dict(publications(rows)) == {"A trade table": 1}


def test_a_figure_known_from_memory_only_is_named_as_such(rows):
    page = checks_page(catalog(), rows)
    weak = page.split("## From memory or common practice only")[1].split("\n## ")[0]
    assert "wheel.track" in weak and "wheel.offset" not in weak


def test_a_figure_without_a_row_is_named_as_such(rows):
    assert "wheel.poke" in page_part(checks_page(catalog(), rows), "## Without a row")


def page_part(page, heading):
    return page.split(heading)[1].split("\n## ")[0]
