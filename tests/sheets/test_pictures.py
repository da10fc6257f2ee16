"""How drawings come out on the page: looked at once, and kept as pictures that a change is held against."""

import pytest
import typst
from drawn_truck import drawn_truck
from syrupy.extensions.image import SVGImageSnapshotExtension

from planner.plan.drawings.scene import Arc, Chart, Dimension, Grid, Label, Line, Scene
from planner.sheets.blocks import DrawingBlock, Heading, Hold, TaskBlock, Tick
from planner.sheets.paper import pictures
from planner.sheets.shop_face import shop_face
from planner.sheets.shop_section import shop_section

pytestmark = pytest.mark.skipif(not typst.__version__.startswith("0.15."), reason="glyphs come from another typesetter")

SCENE = Scene(
    "a plate with a hole",
    "A plate eight inches wide and four high with a hole of two.",
    lines=(
        Line(((0, 0), (0.2032, 0), (0.2032, 0.1016), (0, 0.1016)), closed=True),
        Line(((0.1016, -0.01), (0.1016, 0.1116)), "hidden"),
        Line(((0.16, 0), (0.16, 0.1016)), "danger"),
    ),
    arcs=(Arc((0.0508, 0.0508), 0.0254), Arc((0.16, 0.05), 0.03, 0, 1.5708, "thin")),
    labels=(Label((0.0508, 0.0508), "hole"), Label((0.21, 0.09), "too near", "left")),
    dimensions=(
        Dimension((0, 0), (0.2032, 0), "8 in (203.2 mm)", -0.04),
        Dimension((0.16, 0), (0.2032, 0), "1 11/16 in (43.2 mm)", -0.02),
        Dimension((0, 0), (0, 0.1016), "4 in (101.6 mm)", 0.03),
    ),
)
CHART = Chart(
    "engine speed over road speed", "Two lines.", "road speed, mph", "engine speed, rpm",
    (("found", ((0.0, 0.0), (60.0, 3280.0))), ("planned", ((0.0, 0.0), (60.0, 2950.0)))),
    (Label((50.0, 2733.0), "cruise", "right"),),
)  # fmt: skip
GRID = Grid(
    "clearance", "The tightest place is at full lock and bump.", "steer", "travel", ("-30°", "0°", "30°"),
    ("bump", "ride", "droop"), (("o", "·", "#"), ("·", "·", "o"), ("·", "·", "·")), ((None,) * 3,) * 3,
    (("#", "nearer than wanted"), ("o", "within its tolerance")), (0, 2),
)  # fmt: skip
STEP = TaskBlock(
    "Fit the wheels",
    (
        Tick("front", torque="110 lbf·ft", record="torque", range="at most 120 lbf·ft"),
        Tick("rear", "done", done="done"),
    ),
    "Never under a truck that a jack holds.",
    "Nuts by hand first, then in a star.",
)


@pytest.fixture
def svg(snapshot):
    return snapshot.use_extension(SVGImageSnapshotExtension)


@pytest.mark.parametrize("picture", [SCENE, CHART, GRID], ids=["scene", "chart", "grid"])
def test_a_picture_looks_as_it_did(bare, svg, picture):
    (page,) = pictures(bare(Heading("a drawing"), DrawingBlock(picture)))
    assert page.decode() == svg


def test_the_drawings_of_a_wheel_order_look_as_they_did(bare, svg, tmp_path):
    opened = drawn_truck(tmp_path, brake="188 mm")  # 2 mm from the barrel, where 3 mm are wanted
    drawn = [draw(opened, "found", "front") for draw in (shop_section, shop_face)]
    (page,) = pictures(bare(*(DrawingBlock(one, 360) for one in drawn)))
    assert page.decode() == svg


def test_a_closed_step_and_a_signed_hold_point_look_as_they_did(bare, svg):
    done = Tick("front", "done", record="torque", recorded="110 lbf·ft", done="done 2026-07-01")
    closed = STEP._replace(ticks=(done, Tick("rear", "dropped", done="dropped: no rear wheels")))
    (page,) = pictures(bare(closed, Hold(closed), Hold(STEP._replace(ticks=(done,))), kind="checklist"))
    assert page.decode() == svg


def test_a_step_and_a_hold_point_look_as_they_did(bare, svg):
    (page,) = pictures(bare(STEP, Hold(STEP), kind="checklist"))
    assert page.decode() == svg
