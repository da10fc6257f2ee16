"""A rule is as grave as what it can do: trucks of which a lighter word would be wrong, and a heavier one."""

from datetime import date

import pytest

from planner.plan.answers.flagging import flags
from planner.plan.answers.open_project import open_project
from planner.plan.truck.catalog import catalog

TODAY = date(2026, 11, 25)


@pytest.fixture
def judged(tmp_path):
    def flags_of(text: str):
        path = tmp_path / "truck.toml"
        path.write_text(f"format = 2\n{text}", encoding="utf-8")
        return {flag.rule.node: flag for flag in flags(open_project(path, TODAY))}

    return flags_of


@pytest.mark.parametrize(
    ("front", "rear", "stop", "caution"),
    [
        ("radial", "bias", "raised", "raised"),
        ("bias", "radial", "clear", "raised"),
        ("radial", "radial", "clear", "clear"),
        ("bias", "bias", "clear", "clear"),
    ],
)
def test_radials_in_front_of_bias_tires_are_a_stop_and_the_other_way_a_caution(judged, front, rear, stop, caution):
    tires = "[fitments.tall.{}.tire]\nconstruction = {!r}\n"
    found = judged(tires.format("front", front) + tires.format("rear", rear))
    assert found["radials_in_front_of_bias"].verdict.answer == stop
    mixed = found["radial_and_bias_on_one_truck"]
    assert mixed.verdict.answer == caution
    assert (mixed.under is found["radials_in_front_of_bias"]) == (stop == "raised")


def test_a_breakover_angle_is_of_no_one_end():
    for node in ("breakover_below_wanted", "breakover_angle_lost"):
        assert "that end" not in catalog().rules[node].cure
    assert "that end" in catalog().rules["approach_below_wanted"].cure
