"""Limits and assumed values that a person sets otherwise hold wherever they are read, unless it was measured there."""

import json

import pytest

from planner.plan.answers.open_project import open_project
from planner.plan.truck.catalog import catalog
from planner.worksheet.outcome import Spot

ASSUMED = catalog().assumed
SETTINGS = "".join(
    f'[{"limits" if one.limit else "assumptions"}.{name}]\nvalue = {json.dumps(one.text)}\nbecause = "mine"\n'
    for name, one in ASSUMED.items()
)


@pytest.fixture(scope="module")
def set_otherwise(tmp_path_factory):
    path = tmp_path_factory.mktemp("otherwise") / "truck.toml"
    path.write_text(f"format = 1\n[fitments.found]\n[fitments.tall]\n{SETTINGS}", encoding="utf-8")
    return open_project(path)


@pytest.mark.parametrize("name", ASSUMED)
def test_what_is_set_otherwise_is_taken_at_every_place(set_otherwise, name):
    table = "limits" if ASSUMED[name].limit else "assumptions"
    spots = set_otherwise.sheet.spots(name)
    assert spots
    for spot in spots:
        assert set_otherwise.keys[set_otherwise.sheet.entered(spot)] == (table, name, "value")


def test_what_was_measured_at_one_place_comes_before_what_is_assumed_everywhere(tmp_path):
    path = tmp_path / "truck.toml"
    path.write_text(
        """format = 1
[assumptions.flange_thickness]
value = "30 mm"
[fitments.tall.front.wheel]
flange_thickness = "10 mm"
""",
        encoding="utf-8",
    )
    sheet = open_project(path).sheet
    values = {spot.place[:2]: sheet.value(spot) for spot in sheet.spots("flange_thickness")}
    assert values[("tall", "front")] == pytest.approx(0.010)
    assert {value for place, value in values.items() if place != ("tall", "front")} == {0.030}
    assert Spot("flange_thickness", ("",) * 5) not in sheet  # it stands at wheels, and nowhere besides
