"""A picture drawn for paper: it fits, keeps its shape, and no two of its texts lie on each other."""

from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.plan.drawings.scene import Arc, Chart, Dimension, Grid, Label, Line, Scene
from planner.sheets.board import ADVANCE
from planner.sheets.drafting import drafted
from planner.sheets.shop_face import shop_face
from planner.sheets.shop_section import shop_section
from planner.sheets.tape_places import OBSTACLES, PLACES

SQUARE = Line(((0, 0), (0.2, 0), (0.2, 0.1), (0, 0.1)), closed=True)


def rectangles(drawing):
    return [(t["x"], t["y"], t["x"] + t["wide"], t["y"] + t["tall"]) for t in drawing["texts"]]


def common(one, other):
    across = min(one[2], other[2]) - max(one[0], other[0])
    down = min(one[3], other[3]) - max(one[1], other[1])
    return max(0.0, across) * max(0.0, down)


def dimensioned(*dimensions: Dimension) -> Scene:
    return Scene("a square", "A square.", lines=(SQUARE,), dimensions=dimensions)


def test_a_drawing_fills_the_width_or_the_height_that_it_is_given_and_no_more():
    flat = drafted(Scene("", "", lines=(SQUARE,)), 400, 300)
    assert flat["wide"] == pytest.approx(400) and flat["tall"] == pytest.approx(200)  # 0.2 by 0.1
    high = drafted(Scene("", "", lines=(SQUARE,)), 400, 100)
    assert high["wide"] == pytest.approx(200) and high["tall"] == pytest.approx(100)


def test_up_in_the_scene_is_up_on_paper():
    drawing = drafted(Scene("", "", lines=(Line(((0, 0), (0.1, 0.3))),)), 400, 300)
    (x0, y0), (x1, y1) = drawing["lines"][0]["points"]
    assert x1 > x0 and y1 < y0


def test_a_circle_keeps_its_shape():
    drawing = drafted(Scene("", "", arcs=(Arc((0, 0), 0.1),)), 400, 100)
    xs, ys = zip(*drawing["lines"][0]["points"], strict=True)
    assert max(xs) - min(xs) == pytest.approx(max(ys) - min(ys), rel=1e-3) == pytest.approx(100, rel=1e-3)


def test_a_dimension_has_two_extension_lines_two_arrows_and_its_text_on_its_line():
    drawing = drafted(dimensioned(Dimension((0, 0), (0.2, 0), "8 in (203.2 mm)", -0.04)), 400, 300)
    thin = [line for line in drawing["lines"] if line["weight"] == "dimension"]
    assert len(thin) == 3 and len(drawing["arrows"]) == 2
    (x0, y), (x1, same) = thin[-1]["points"]
    text = drawing["texts"][0]
    assert y == pytest.approx(same)
    assert text["y"] + text["tall"] / 2 == pytest.approx(y)
    assert x0 < text["x"] and text["x"] + text["wide"] < x1
    tips = sorted(points[0][0] for points in drawing["arrows"])
    assert tips == pytest.approx([x0, x1])


def test_a_dimension_that_is_too_short_for_its_text_has_it_beyond_an_end_and_its_arrows_outside():
    drawing = drafted(dimensioned(Dimension((0, 0), (0.002, 0), "5/64 in (2.0 mm)", -0.04)), 400, 300)
    line = [line for line in drawing["lines"] if line["weight"] == "dimension"][-1]["points"]
    text = drawing["texts"][0]
    assert text["x"] > line[1][0] - 20 or text["x"] + text["wide"] < line[0][0] + 20
    tips, backs = zip(*((points[0][0], points[1][0]) for points in drawing["arrows"]), strict=True)
    assert backs[0] < tips[0] < tips[1] < backs[1]


def test_both_units_stand_under_each_other_where_one_line_is_too_long():
    drawing = drafted(dimensioned(Dimension((0.2, 0), (0.2, 0.04), "4 in (101.6 mm)", -0.04)), 400, 300)
    assert drawing["texts"][0]["lines"] == ["4 in", "(101.6 mm)"]


def test_along_an_upright_dimension_line_its_text_is_read_from_the_right():
    drawing = drafted(dimensioned(Dimension((0.2, 0), (0.2, 0.1), "4 in (101.6 mm)", -0.04)), 400, 300)
    (text,) = drawing["texts"]
    assert text["turned"] and text["tall"] > text["wide"]


def test_half_a_diameter_has_one_arrow_and_goes_past_the_center_line():
    drawing = drafted(dimensioned(Dimension((0, 0), (0, 0.1), "Ø 8 in (203.2 mm)", 0.04, half=True)), 400, 300)
    thin = [line["points"] for line in drawing["lines"] if line["weight"] == "dimension"]
    assert len(drawing["arrows"]) == 1 and len(thin) == 2
    assert drawing["arrows"][0][0][1] == pytest.approx(min(y for _, y in thin[-1]))
    square = next(line["points"] for line in drawing["lines"] if line["weight"] == "outline")
    assert max(y for _, y in thin[-1]) > max(y for _, y in square)


def test_a_leader_ends_with_an_arrow_on_what_the_text_tells_of():
    label = Label((0.3, 0.08), "thickness\n(9.5 mm)", "left", (0.2, 0.02))
    drawing = drafted(Scene("", "", lines=(SQUARE,), labels=(label,)), 400, 300)
    leader = next(line["points"] for line in drawing["lines"] if line["weight"] == "dimension")
    assert drawing["arrows"][0][0] == pytest.approx(leader[-1])
    text = drawing["texts"][0]
    assert leader[0][0] < text["x"] and text["lines"] == ["thickness", "(9.5 mm)"]


def test_a_text_stands_where_it_hides_the_least_of_the_drawing():
    lines = (SQUARE, Line(((0.0, 0.05), (0.2, 0.05))))
    (text,) = drafted(Scene("", "", lines, labels=(Label((0.1, 0.05), "beside it"),)), 400, 300)["texts"]
    assert not text["y"] < 100 < text["y"] + text["tall"], "the line is half way down"


@settings(max_examples=40, deadline=None)
@given(st.lists(st.tuples(st.integers(1, 19), st.integers(1, 9)), min_size=2, max_size=7, unique=True))
def test_dimensions_that_stand_close_together_do_not_write_over_each_other(ends):
    several = tuple(
        Dimension((0, 0), (x / 100, 0), f"{x} in ({y}.4 mm)", -0.03 * (at + 1)) for at, (x, y) in enumerate(ends)
    )
    for one, other in combinations(rectangles(drafted(dimensioned(*several), 480, 300)), 2):
        assert common(one, other) < 1


@pytest.mark.parametrize("place", (*PLACES, OBSTACLES), ids=lambda place: place.title)
def test_every_letter_that_a_reading_has_is_in_its_drawing_and_told_in_words(place):
    scene = place.draw()
    written = {one.text for one in (*scene.dimensions, *scene.labels)}
    for mark in filter(None, place.marks.values()):
        assert mark in written | {"E"} if place.title == "Axle and kingpins" else mark in written
        assert f"{mark} " in scene.words or f"{mark} is" in scene.words


@pytest.mark.parametrize("place", (*PLACES, OBSTACLES), ids=lambda place: place.title)
@pytest.mark.parametrize("wide", [505, 522])
def test_the_measuring_drawings_fit_and_their_letters_keep_apart(place, wide):
    drawing = drafted(place.draw(), wide, 210)
    assert drawing["wide"] <= wide and drawing["tall"] <= 210
    for one, other in combinations(rectangles(drawing), 2):
        assert common(one, other) < 1


@pytest.mark.parametrize("axle", ["front", "rear"])
@pytest.mark.parametrize("draw", [shop_section, shop_face])
def test_the_drawings_of_a_real_wheel_fit_and_are_legible(county, draw, axle):
    drawing = drafted(draw(county, "tall", axle), 505, 360)
    assert drawing["wide"] <= 505.1 and drawing["tall"] <= 360.1
    for one, other in combinations(rectangles(drawing), 2):
        assert common(one, other) < 12, "less than a character of this size"


def test_a_picture_of_which_nothing_is_known_says_what_is_missing():
    drawing = drafted(Scene("wheel", "", missing=("fitments.a.wheel.backspace",)), 400, 300)
    assert drawing["lines"] == [] and drawing["missing"] == ["fitments.a.wheel.backspace"]


def test_curves_are_told_apart_without_color_and_named_at_their_ends():
    curves = (("found", ((0.0, 800.0), (60.0, 3200.0))), ("planned", ((0.0, 700.0), (60.0, 2800.0))))
    chart = Chart("engine speed", "…", "mph", "rpm", curves, (Label((50, 2600), "governor", "left"),))
    drawing = drafted(chart, 480, 260)
    assert drawing["wide"] <= 480
    assert {"found", "planned", "mph", "rpm", "governor"} <= {line for t in drawing["texts"] for line in t["lines"]}
    drawn = [line["weight"] for line in drawing["lines"] if line["weight"] not in ("grid",)]
    assert {"outline", "hidden"} <= set(drawn)
    ticks = {line for t in drawing["texts"] for line in t["lines"]}
    assert {"0", "20", "40", "60"} <= ticks and {"500", "3,000"} <= ticks | {"500"}


def test_a_grid_frames_its_worst_cell_and_explains_its_marks():
    cells = (("·", "o"), ("#", "·"))
    grid = Grid("sweep", "…", "steer", "travel", ("0°", "30°"), ("bump", "droop"), cells, ((None, 1.0), (0.1, None)),
                (("#", "too near"),), (1, 0))  # fmt: skip
    drawing = drafted(grid, 480, 260)
    assert [line["weight"] for line in drawing["lines"]].count("danger") == 1
    assert drawing["legend"] == [["#", "too near"]]
    assert {"#", "bump", "30°", "steer", "travel"} <= {line for t in drawing["texts"] for line in t["lines"]}


def test_the_width_of_a_text_is_that_of_the_face_that_it_is_set_in():
    drawing = drafted(Scene("", "", lines=(SQUARE,), labels=(Label((0.1, 0.05), "twelve signs"),)), 400, 300)
    assert drawing["texts"][0]["wide"] == pytest.approx(12 * ADVANCE * drawing["texts"][0]["size"])
