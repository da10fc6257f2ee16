"""What stands behind a number, for results of the sweep too: where they happen, what binds, who brings the doubt."""

import json
from pathlib import Path

import pytest
from calling import call
from changing_truck import write

COUNTY = Path(__file__).parents[2] / "projects" / "county-road-4x4.toml"
PLANNED_STOP = 'changes[0].sets."axles.front.steering.stop_angle"'
OBSTACLES = (
    "spring pack",
    "inner fender",
    "fender lip",
    "U-bolt",
    "frame rail",
    "tie rod",
    "drag link",
    "brake hose",
    "the stop",
)


def told(capsys, name: str, *more: str, truck: Path = COUNTY) -> list:
    code, out, _ = call(capsys, "why", truck, name, *more, "--json")
    assert code == 0
    return json.loads(out)


def test_a_least_clearance_says_as_data_where_it_happens_and_how_surely_it_is_the_least(capsys):
    for one in told(capsys, "fit.clearance"):
        assert one["how"] == "swept" and one["happens"]["words"]
        assert {"steer", "rise", "far_rise", "part", "side"} < one["happens"].keys()
        # the contract: a least clearance is proven to 0.1 mm, or to a twentieth of what is left (below a meter here)
        assert 0 <= one["bound"] <= max(1e-4, 0.05 * abs(one["value"]) + 0.0013) and one["proven"] == pytest.approx(
            one["value"] - one["bound"]
        )


@pytest.mark.parametrize("name", ["fit.steer_limit", "fit.outer_steer_limit", "fit.largest_tire"])
def test_a_limit_says_as_data_what_binds_it(capsys, name):
    (one,) = told(capsys, name, "--axle", "front")
    assert one["binds"].startswith(OBSTACLES)


def test_each_end_of_the_window_says_as_data_what_binds_it(capsys):
    for end, binds in (("low", "the poke wanted"), ("high", "stability against tipping")):
        (one,) = told(capsys, f"fit.backspace_window_{end}", "--axle", "rear")
        assert one["binds"] == binds


def test_a_rule_over_the_sweep_shares_its_doubt_among_the_readings_behind_the_sweep(capsys, tmp_path):
    (one,) = told(capsys, "fit.locks_too_wide", "--axle", "front", truck=write(tmp_path))
    entries = [share["entry"] for share in one["shares"]]
    assert "inner_steer_limit" not in entries and "fitments.tall.tire.section_width" in entries
    assert "axles.front.steering.stop_angle" in entries
    assert sum(share["part"] for share in one["shares"]) == pytest.approx(1)


def test_a_rule_reads_what_a_change_sets_and_names_it(capsys):
    (one,) = told(capsys, "fit.locks_too_wide", "--axle", "front")
    # planned at 27° ± 1/2° the stop comes before any obstacle: nothing else brings doubt
    assert [share["entry"] for share in one["shares"]] == [PLANNED_STOP]


def test_the_likely_spread_stands_beside_the_worst(capsys):
    # shares of 3 mm and 4 mm: at the worst together 7 mm, by the root of their squares 5 mm
    readings = ("outboard_reach=200 mm ± 3 mm", "face_to_fender_edge=180 mm ± 4 mm")
    code, out, _ = call(capsys, "figure", "wheel.poke", *readings)
    assert code == 0 and "± 7 mm" in out.replace("7.0 mm", "7 mm")
    assert "5.00 mm) likely (root-sum-square)" in " ".join(out.split())
    _, out, _ = call(capsys, "figure", "wheel.poke", *readings, "--json")
    assert json.loads(out)["likely"] == pytest.approx(0.005)
    _, out, _ = call(capsys, "why", COUNTY, "wheel.poke", "--axle", "front")
    assert "at the worst" in out and "root-sum-square" in " ".join(out.split())


def test_the_figures_of_check_have_what_the_sweep_gives(capsys):
    _, out, _ = call(capsys, "check", COUNTY, "--figures")
    fit = out[out.index("\nfit\n") :]
    for name in (
        "clearance (tie rod end)",
        "outer steer limit",
        "backspace window low (rear)",
        "largest tire (front)",
    ):
        assert name in fit
    assert "steer limit (rear)" not in fit  # the rear axle does not steer
    _, out, _ = call(capsys, "check", COUNTY, "--json")
    places = [one["place"] for one in json.loads(out)["figures"] if one["figure"] == "fit.largest_tire"]
    assert {"fitment": "tall", "axle": "rear"} in places
