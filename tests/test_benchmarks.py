"""Every benchmark is run, shortened, so that none rots; what it counts is held to what is wanted."""

from functools import cache
from importlib import import_module
from math import isfinite
from pathlib import Path

import pytest
from benchmarks.ratio import Asked, Ratio

NAMES = sorted(path.stem for path in Path(__file__).with_name("benchmarks").glob("bench_*.py"))
LONGER = {"bench_change", "bench_diary", "bench_print", "bench_screens", "bench_start"}  # most start several programs


@cache
def measured(name: str) -> list[Ratio]:
    return list(import_module(f"benchmarks.{name}").measured(Asked(short=True)))


@pytest.mark.parametrize(
    "name", [pytest.param(name, marks=pytest.mark.slow if name in LONGER else ()) for name in NAMES]
)
def test_a_benchmark_gives_ratios(name: str) -> None:
    ratios = measured(name)
    assert ratios and len({one.what for one in ratios}) == len(ratios)
    for one in ratios:
        assert isfinite(one.value) and one.value > 0, one
        assert one.seconds is None or 0 < one.seconds < 60, one


def test_the_sweep_asks_for_far_fewer_distances_than_an_even_grid() -> None:
    counted = [one for one in measured("bench_sweep") if one.counted]
    assert counted and all(one.value < one.wanted for one in counted)
