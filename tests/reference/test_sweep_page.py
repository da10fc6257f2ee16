"""docs/sweep.md, which is written by hand: its numbers, modules and figures are those of the code."""

import re
from math import asin, degrees
from pathlib import Path

from planner.plan.fit.fit_limits import WINDOW_STEP
from planner.plan.truck.catalog import catalog
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


def test_the_modules_that_it_names_are_there():
    [named] = re.findall(r"in `planner/trade/fit/`: ([\w, ]+)\.", PAGE)
    assert all((ROOT / "planner" / "trade" / "fit" / f"{one}.py").is_file() for one in named.split(", "))
