"""docs/sheets.md, which is written by hand: it tells of every sheet and option, and its pictures are there."""

import re
from pathlib import Path

import pytest

from planner.commands.print import _parser
from planner.reference.markdown import anchor
from planner.sheets.kind import kinds

DOCS = Path(__file__).parents[2] / "docs"
PAGE = (DOCS / "sheets.md").read_text(encoding="utf-8")


def test_every_kind_of_sheet_has_its_row_and_its_heading_and_no_other():
    rows = re.findall(r"^\| \[(\w+)\]\(#([\w-]+)\)", PAGE, re.MULTILINE)
    assert dict(rows) == {name: anchor(kind.title) for name, kind in kinds().items()}
    assert {anchor(found) for found in re.findall(r"^## (.+)$", PAGE, re.MULTILINE)} >= {link for _, link in rows}


def test_every_option_of_the_command_is_told_and_no_other():
    there = {name for action in _parser([])._actions for name in action.option_strings if name.startswith("--")}
    assert set(re.findall(r"`(--\w+)", PAGE)) == there - {"--help", "--output"}


def test_the_banners_are_those_that_are_printed():
    code = "\n".join(path.read_text(encoding="utf-8") for path in (DOCS.parent / "planner" / "sheets").rglob("*.py"))
    for banner in re.findall(r"^- \*\*([A-Z ]+)\*\*", PAGE, re.MULTILINE):
        assert f'"{banner}"' in code


@pytest.mark.parametrize("name", re.findall(r"\]\((pictures/[\w.-]+)\)", PAGE))
def test_a_picture_is_there_and_small_enough_to_be_loaded_with_the_page(name):
    raw = (DOCS / name).read_bytes()
    assert raw.startswith(b"\x89PNG") and len(raw) < 150_000


def test_every_picture_that_is_made_is_shown():
    from reference.sheet_pictures import PAGES

    assert {f"pictures/{name}" for name in PAGES} == set(re.findall(r"\]\((pictures/[\w.-]+)\)", PAGE))
