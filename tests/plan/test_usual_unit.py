"""A number typed without its unit, and a value that is refused: what the field itself is written in."""

import tomllib

import pytest
import tomli_w
from calling import call
from changing_truck import COUNTY

from planner.plan.answers.open_project import open_project
from planner.plan.truck.forms import field, understood, with_unit
from planner.quantities.show import Style

FORESTRY = COUNTY.with_name("forestry-4x4.toml")
FENDER = "fender lip, top"
RADIUS = "axles.rear.brake.radius"


@pytest.fixture(scope="module")
def county(tmp_path_factory):
    """The county truck with one of its obstacles: no answer here rests on what a tire clears."""
    return with_one_obstacle(tmp_path_factory.mktemp("county"), COUNTY)


@pytest.fixture(scope="module")
def forestry(tmp_path_factory):
    return with_one_obstacle(tmp_path_factory.mktemp("forestry"), FORESTRY)


def with_one_obstacle(folder, path):
    data = tomllib.loads(path.read_text("utf-8"))
    data["obstacles"] = [one for one in data["obstacles"] if one["name"] == FENDER] or data["obstacles"][:1]
    (folder / path.name).write_text(tomli_w.dumps(data), "utf-8")
    return folder / path.name


@pytest.mark.parametrize(
    ("key", "typed", "read"),
    [
        (RADIUS, "4", "4 in"),
        (RADIUS, "7 1/4 ± 1/16", "7 1/4 in ± 1/16 in"),
        (RADIUS, "7½", "7½ in"),
        ("axles.front.studs.torque", "120", "120 ft·lb"),
        ("axles.front.studs.pitch", "1.5", "1.5 mm"),  # a metric thread, in an inch project too
        ("use.top_speed", "45", "45 mph"),
        ("use.wanted_grade", "40", "40 %"),
        ("fitments.tall.lead_time", "8", "8 weeks"),
        ('obstacles."fender lip, top".at', "2, 7, 24", "2 in, 7 in, 24 in"),
    ],
)
def test_a_bare_number_is_in_the_unit_that_the_field_is_written_in_and_that_is_said(capsys, county, key, typed, read):
    code, out, _ = call(capsys, "change", county, f"{key}={typed}")
    told = " ".join(out.split())
    assert code in (0, 1)
    assert f"{typed} is read as {read}" in told and f"→ {read.partition(',')[0]}" in told


def test_in_a_metric_project_it_is_the_metric_unit(capsys, forestry):
    for key, typed, read in ((RADIUS, "160", "160 mm"), ("axles.front.studs.proof_stress", "580", "580 MPa")):
        told = " ".join(call(capsys, "change", forestry, f"{key}={typed}")[1].split())
        assert f"{typed} is read as {read}" in told


def test_what_has_its_unit_or_needs_none_is_left_as_it_is(capsys, county):
    for setting in (f"{RADIUS}=180 mm", "fitments.tall.wheel.rim_diameter=16", "axles.front.studs.count=5"):
        assert "is read as" not in call(capsys, "change", county, setting)[1]
    assert "is read as" not in call(capsys, "change", county, "use.wanted_grade=0.3")[1]


def test_a_field_on_the_screen_reads_it_alike(county):
    opened = open_project(county)
    wants = field(opened, RADIUS).wants
    assert understood(wants, "4", Style()).reads.startswith("4 in ")
    assert understood(wants, "4", Style("metric")).reads.startswith("4.00 mm ")
    point = field(opened, 'obstacles."fender lip, top".at').wants
    assert with_unit(["2", "-7", "6 mm"], point, Style()) == ["2 in", "-7 in", "6 mm"]
    assert not understood(point, "2, -7, 6", Style()).fault


@pytest.mark.parametrize(
    ("path", "setting", "example"),
    [
        ("county", f"{RADIUS}=banana", "such as 6 1/2 in ± 1/16 in"),
        ("forestry", f"{RADIUS}=banana", "such as 165 mm ± 2 mm"),
        ("county", "axles.rear.studs.count=six", "such as 6"),
        ("county", "fitments.tall.tire.load_index=abc", "such as 121"),
        ("county", 'obstacles."fender lip, top".at=2 in, x, 4 in', "such as -7 in ± 1/8 in"),
        ("county", "plan.hours_a_week=x", "such as 8"),
    ],
)
def test_a_refused_value_is_told_with_an_example_of_that_very_field(capsys, request, path, setting, example):
    code, out, err = call(capsys, "change", request.getfixturevalue(path), setting)
    assert code == 2 and not out and example in err and err.count("such as") == 1


def test_a_value_that_a_task_records_takes_its_unit_too(capsys, tmp_path, county):
    copy = tmp_path / "truck.toml"
    copy.write_bytes(county.read_bytes())
    code, out, _ = call(
        capsys, "task", copy, "tick", "measure.weigh.front", "3080", "--anyway", "--because", "scale at the yard"
    )
    assert code == 0 and "recorded 3080 lb" in out
