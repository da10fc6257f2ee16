"""How the page of checks counts the published rows, on a folder of two made-up files."""

import re
from pathlib import Path

import pytest

from planner.plan.truck.catalog import catalog
from planner.reference.checks import LIBRARIES, checks_page
from planner.reference.rows import counted, documents, publications, read_rows

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


def test_sums_by_hand_are_no_publication_and_what_is_remembered_is_marked_so(rows):
    assert publications(rows) == {"A trade table": {"read": 1, "from memory": 1}}
    assert documents(rows["offset"]) == ["A trade table"]
    assert documents(rows["track"]) == ["A trade table (from memory)"]


@pytest.mark.parametrize(("library", "file"), [(name, file) for name, _, file in LIBRARIES])
def test_a_library_that_the_page_names_answers_in_that_test(library, file):
    text = (Path(__file__).parents[2] / file).read_text(encoding="utf-8")
    assert re.search(rf"^(?:import|from) {library}\b", text, re.M) or (library == "pint" and "registry()" in text)


def test_a_figure_known_from_memory_only_is_named_as_such(rows):
    page = checks_page(catalog(), rows)
    weak = page.split("## From memory or common practice only")[1].split("\n## ")[0]
    assert "wheel.track" in weak and "wheel.offset" not in weak


def test_a_figure_without_a_row_is_named_as_such(rows):
    assert "wheel.poke" in page_part(checks_page(catalog(), rows), "## Without a row")


def page_part(page, heading):
    return page.split(heading)[1].split("\n## ")[0]
