"""Every figure as a number: the same as what people read, parts by their names, nothing that JSON has no word for."""

import json
from pathlib import Path

import pytest
from calling import call

from planner.plan.answers.figure_numbers import FigureNumber, figure_numbers, in_people_unit, people_unit
from planner.plan.answers.figure_rows import figure_spots
from planner.plan.answers.open_project import open_project

PROJECTS = Path(__file__).parents[2] / "projects"
COUNTY = PROJECTS / "county-road-4x4.toml"


def one(found: list[FigureNumber], name: str, part: str = "", **place: str) -> FigureNumber:
    return next(row for row in found if row.figure == name and row.part == part and place.items() <= row.place.items())


@pytest.mark.parametrize("path", sorted(PROJECTS.glob("*.toml")), ids=lambda path: path.stem)
def test_one_call_gives_every_figure_at_every_place(path):
    opened = open_project(path)
    found = list(figure_numbers(opened))
    assert {row.spot for row in found} == {spot for _, spots in figure_spots(opened) for spot in spots}
    for row in found:
        assert row.value is None or isinstance(row.value, (bool, int, float, str, list)), row
        assert "(" not in str(row.value).replace(row.shown, ""), row  # a repr of ours
        if row.low is not None and row.high is not None:
            assert row.low <= row.value <= row.high, row
        assert (row.value is None) == (row.shown in ("not known", "impossible")), row
    json.dumps([row.plain for row in found], allow_nan=False)


def test_check_prints_them_in_si_with_the_place_and_both_ends(capsys):
    rows = json.loads(call(capsys, "check", COUNTY, "--json")[1])["figures"]
    ring = next(row for row in rows if row["figure"] == "wheel.backspace" and row["place"]["axle"] == "front")
    # 4 3/4 in ± 1/32 in: 4.75 × 0.0254 m, and 0.03125 × 0.0254 m to either side
    assert ring["place"] == {"fitment": "tall", "axle": "front"} and ring["unit"] == "m"
    assert [ring[name] for name in ("low", "value", "high")] == pytest.approx([0.11985625, 0.12065, 0.12144375])
    assert ring["shown"].startswith("4 3/4 in ± 1/32 in")


def test_a_result_of_several_parts_is_told_by_their_names(capsys):
    opened = open_project(COUNTY)
    rows = list(figure_numbers(opened))
    assert one(rows, "tire.designation", "rim_diameter_code").value == 17
    assert one(rows, "tire.designation", "nominal_overall_diameter").value == pytest.approx(37 * 0.0254)
    assert one(rows, "gearing.axle_shaft_torque", "governed_by", axle="rear").value == "grip"
    told = json.loads(call(capsys, "why", COUNTY, "tire.designation", "--json")[1])[0]
    assert told["value"]["rim_diameter_code"] == 17 and told["unit"]["nominal_overall_diameter"] == "m"
    assert "Designation(" not in json.dumps(told)


def test_what_is_not_known_is_null_and_says_so():
    rows = list(figure_numbers(open_project(PROJECTS / "just-begun.toml")))
    bare = [row for row in rows if row.value is None]
    assert bare and all(row.low is None and row.high is None for row in bare)


def test_people_have_one_unit_a_kind_and_it_is_their_own():
    for path, unit, fall in ((COUNTY, "in", 0.0254), (PROJECTS / "forestry-4x4.toml", "mm", 0.001)):
        opened = open_project(path)
        for row in figure_numbers(opened):
            if row.unit == "m":
                assert people_unit(row.kind, opened.style) == unit
                value = in_people_unit(row.value, row.kind, opened.style)
                assert value is None or value * fall == pytest.approx(row.value)
            elif row.unit == "s":
                assert people_unit(row.kind, opened.style) == "days"
    assert in_people_unit("grip", None, opened.style) == "grip"


def test_the_list_of_figures_is_json_too_and_a_project_is_pointed_to_its_own_command(capsys):
    rows = json.loads(call(capsys, "figure", "--json")[1])
    offset = next(row for row in rows if row["figure"] == "wheel.offset")
    assert {"key": "backspace", "unit": "m", "may_be_left_out": False} in offset["takes"]
    code, _, err = call(capsys, "figure", COUNTY, "--json")
    assert code == 2 and "planner check FILE --figures, or --json" in err
