"""How the page of checks counts the published rows, on a folder of two made-up files."""

import re
from pathlib import Path

import pytest

from planner.plan.truck.catalog import catalog
from planner.reference.checks import LIBRARIES, checks_page
from planner.reference.rows import best_outside, counted, publications, read_libraries, read_rows

ROWS = """figure,inputs,part,expected,unit,tolerance,source,standing
wheel.offset,backspace=4 in ; rim_width=11 in,,-2,in,1e-9,4 - 11/2 - 1/2,worked by hand
wheel.offset,backspace=0 in ; rim_width=9 in,,-5,in,1e-9,A trade table: line 3,read
wheel.track,face_to_face=60 in ; offset=-2 in,,64,in,1e-9,A trade table,from memory
"""


LIBRARY_CHECKS = read_libraries(Path(__file__).parents[1] / "published", catalog())


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


def test_the_best_outside_check_is_a_publication_then_a_library_and_never_a_sum_or_a_memory(rows):
    libraries = LIBRARY_CHECKS["scrub_radius"]
    assert best_outside(rows["offset"], libraries) == "A trade table (read)"
    assert best_outside(rows["track"], libraries).startswith("trimesh: ")
    assert best_outside(rows["track"], []) == ""


@pytest.mark.parametrize(
    ("node", "check"), [(node, check) for node, checks in LIBRARY_CHECKS.items() for check in checks], ids=str
)
def test_a_figure_that_a_library_is_said_to_answer_is_called_in_a_test_with_that_library(node, check):
    text = (Path(__file__).parents[2] / check.test).read_text(encoding="utf-8")
    called = next(one.call.__name__ for one in catalog().figures.values() if one.node == node)
    assert re.search(rf"\b{called}\b", text.split("\nDRAWS")[-1])
    assert imported(check.library, text)


def imported(library: str, text: str) -> bool:
    return bool(re.search(rf"^(?:import|from) {library}\b", text, re.M)) or (library == "pint" and "registry()" in text)


@pytest.mark.parametrize(("library", "file"), [(name, file) for name, _, file in LIBRARIES])
def test_a_library_that_the_page_names_answers_in_that_test(library, file):
    assert imported(library, (Path(__file__).parents[2] / file).read_text(encoding="utf-8"))


def test_a_figure_known_from_memory_only_is_named_as_such(rows):
    page = checks_page(catalog(), rows, {})
    weak = page.split("## From memory or common practice only")[1].split("\n## ")[0]
    assert "wheel.track" in weak and "wheel.offset" not in weak


def test_a_figure_without_a_row_is_named_as_such(rows):
    assert "wheel.poke" in page_part(checks_page(catalog(), rows, {}), "## Without a row")


def page_part(page, heading):
    return page.split(heading)[1].split("\n## ")[0]
