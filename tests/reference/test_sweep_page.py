"""docs/sweep.md, which is written by hand: its numbers, modules and figures are those of the code."""

import re
from math import asin, degrees
from pathlib import Path

import pytest

from planner.plan.fit.fit_windows import WINDOW_STEP
from planner.plan.truck.catalog import catalog
from planner.project.models.entry import entries
from planner.project.models.tires import Tire
from planner.project.usual_tolerances import usual_of
from planner.quantities.grammar import read_value
from planner.trade.fit.limits import DIAMETER_STEP, STEER_STEP
from planner.trade.fit.motion import MOST_LEAN, MOST_ROLL
from planner.trade.fit.sweep import BOUND

ROOT = Path(__file__).parents[2]
PAGE = " ".join((ROOT / "docs" / "sweep.md").read_text(encoding="utf-8").split())


def test_the_bounds_that_it_promises_are_those_of_the_search():
    assert f"lies within {BOUND * 1000:g} mm of the least distance found" in PAGE
    assert f"to {degrees(STEER_STEP):.2g}°, never over" in PAGE
    assert f"halved, down to {WINDOW_STEP * 1000:g} mm" in PAGE
    assert f"by halving to {DIAMETER_STEP * 1000:g} mm" in PAGE


def test_what_it_says_is_refused_is_refused():
    assert f"leans by {degrees(MOST_LEAN):g}° or more" in PAGE
    assert f"roll the axle by more than {degrees(asin(MOST_ROLL)):.0f}°" in PAGE


def test_the_clearance_wanted_without_a_word_is_the_declared_one():
    assert catalog().assumed["obstacle_clearance"].text == "1 in" and "without that it is one inch" in PAGE


def ends(name: str) -> tuple[float, float]:
    one = catalog().assumed[name]
    taken = read_value(one.text, one.kind)
    return taken.low, taken.high


def test_the_ranges_of_the_solid_are_the_declared_ones():
    low, high = ends("tread_share")
    assert f"a tread of {low:g} to {high:g} of the section" in PAGE
    low, high = ends("crown_share")
    assert f"a crown that drops by {low:g} to {high:g} of the tread's width" in PAGE
    low, high = ends("flange_height")
    assert f"flanges of {low * 1000:g} to {high * 1000:g} mm" in PAGE
    assert f"weights of up to {ends('weight_reach')[1] * 1000:g} mm" in PAGE


def test_what_a_size_is_off_by_and_grows_by_are_the_declared_ones():
    tall, wide = (usual_of(entries(Tire)[name]) for name in ("overall_diameter", "section_width"))
    assert f"± {tall.by_maker} of the diameter and ± {wide.by_maker} of the width by the maker's table" in PAGE
    assert f"± {tall.by_size} and ± {wide.by_size} by the designation alone" in PAGE
    for name, share in (("diameter_as_made", tall.by_size), ("width_as_made", wide.by_size)):
        assert ends(name)[1] - 1 == pytest.approx(float(share.removesuffix(" %")) / 100)
    grown = {f"{kind}{part}": ends(f"{kind}{part}_growth") for kind in ("radial", "bias") for part in ("", "_width")}
    assert all(low == 0 for low, _ in grown.values())
    assert f"a radial by up to {grown['radial'][1]:.0%}".replace("%", " %") in PAGE
    assert f"a bias one by up to {grown['bias'][1]:.0%}".replace("%", " %") in PAGE
    assert (grown["radial_width"], grown["bias_width"]) == (grown["radial"], grown["bias"])  # by as much of its section


def test_the_modules_that_it_names_are_there():
    [named] = re.findall(r"in `planner/trade/fit/`: ([\w, ]+)\.", PAGE)
    assert all((ROOT / "planner" / "trade" / "fit" / f"{one}.py").is_file() for one in named.split(", "))
