"""The look on paper: what is drawn, what is left out, and the figures of all sets beside each other."""

from datetime import date
from functools import cache
from pathlib import Path

import pytest

from planner.plan.answers.open_project import open_project
from planner.sheets.blocks import DrawingBlock, Paragraph, Rows
from planner.sheets.kind import Asked, kind_named
from planner.sheets.paper import pdf
from planner.sheets.printing import made
from planner.sheets.text import text

PROJECTS = Path(__file__).parents[2] / "projects"
TODAY = date(2026, 11, 28)


@cache
def look(path):
    """Of a truck that does not change meanwhile."""
    return made(open_project(path, TODAY), kind_named("look"), Asked(), TODAY)


def drawings(sheet):
    return [block.picture for block in sheet.blocks if isinstance(block, DrawingBlock)]


def small(sheet):
    return [block.text for block in sheet.blocks if isinstance(block, Paragraph) and block.small]


def test_the_chosen_set_is_drawn_alone_and_then_every_set_beside_the_others():
    sheet = look(PROJECTS / "county-road-4x4.toml")
    assert [one.title[:5] for one in drawings(sheet)] == ["tall,", "the c"]
    assert not small(sheet)  # nothing of it is left out


def test_figures_stand_in_a_column_for_each_end_of_each_set():
    sheet = look(PROJECTS / "county-road-4x4.toml")
    ends, whole = (block for block in sheet.blocks if isinstance(block, Rows))
    assert ends.heads == (
        "",
        *(f"{name}, {axle}" for name in ("found", "tall", "modest") for axle in ("front", "rear")),
    )
    rows = {row[0]: row[1:] for row in (*ends.rows, *whole.rows)}
    # 36.8 / 2 = 18.4 from 24 ahead; of 24 + 24 1/4 that is 76.27 %; 12 1/2 + 17 1/2 and 14 1/4 + 17 1/2 over the ground
    assert rows["gap ahead"][2].startswith("5.60 in")
    assert rows["fender fill"][2].startswith("76.3 %")
    assert rows["frame higher at the rear axle"][1].startswith("1 3/4 in")


def test_what_is_not_entered_is_said_under_the_drawing_with_the_entries_that_would_draw_it():
    (told,) = small(look(PROJECTS / "just-begun.toml"))
    assert told.startswith("Not drawn, since not entered: ") and "body outline (outline.points)" in told
    assert "overall height" in told and "taller set's wheel backspace" in told


def test_a_truck_with_nothing_entered_says_so_in_one_line(tmp_path):
    path = tmp_path / "truck.toml"
    path.write_text("format = 2\n", "utf-8")
    sheet = look(path)
    assert len(sheet.blocks) == 1
    assert "Not drawn, because not known: wheelbase; found tire size" in text(sheet)


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("name", ["county-road-4x4", "forestry-4x4", "just-begun", "quarry-flatbed"])
def test_every_example_is_set_on_both_papers(name, paper):
    assert pdf(look(PROJECTS / f"{name}.toml"), paper).startswith(b"%PDF")


def test_a_very_long_name_breaks_nothing(tmp_path):
    long = "a name of forty letters that somebody ga"
    path = tmp_path / "truck.toml"
    county = (PROJECTS / "county-road-4x4.toml").read_text("utf-8")
    path.write_text(county.replace("fitments.tall", f'fitments."{long}"').replace('"tall"', f'"{long}"'), "utf-8")
    sheet = look(path)
    assert drawings(sheet)[0].title.startswith(long)
    assert pdf(sheet).startswith(b"%PDF") and max(map(len, text(sheet).splitlines())) <= 80
