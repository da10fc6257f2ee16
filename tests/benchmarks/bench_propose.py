"""How long a search for what fits takes against one check of the same truck, whole, to its first row, and as it grows.

    (cd tests && python -m benchmarks.bench_propose)

Processor time in one run, each with nothing kept of a sweep that was made before.
"""

import tempfile
from collections.abc import Iterator
from pathlib import Path
from time import process_time

from benchmarks.ratio import Asked, Ratio, run

from planner.plan.answers.flagging import flags
from planner.plan.answers.open_project import open_project
from planner.plan.fit import clearances
from planner.plan.proposing.search import FitSearch
from planner.plan.proposing.space import search_space
from planner.trade.fit import trace, window

MANY = 3000  # combinations
GEARS = ("4.10", "4.56", "4.88", "5.13", "5.38", "5.86")
KEPT = (clearances._nominal, clearances._sure, clearances._kindest, trace.swept_region, window._clear)


def afresh() -> None:
    for one in KEPT:
        one.cache_clear()


def check(path: Path) -> float:
    afresh()
    began = process_time()
    flags(open_project(path))
    return process_time() - began


def search(path: Path, only: tuple[str, ...], every: int) -> tuple[float, float, int]:
    """What a search over every such tire on all its rims takes, what its first row does, and how many it tried."""
    afresh()
    began = process_time()
    opened = open_project(path)
    space = search_space(opened, only)
    found = FitSearch(opened, space._replace(tires=space.tires[::every]))
    first = 0.0
    for _ in found.run():
        if not first and found.still_in:
            assert found.answer(1).proposals
            first = process_time() - began
    found.answer()
    return process_time() - began, first, found.whole


def measured(asked: Asked) -> Iterator[Ratio]:
    text = asked.project.read_text(encoding="utf-8")
    text += "".join(f'\n[[offered]]\nkind = "gear set"\nratio = "{one}"\naxle = "both"\n' for one in GEARS)
    text += "".join(
        f'\n[[offered]]\nkind = "speedometer gear"\nteeth = {one}\n' for one in (18, 19)[: 1 if asked.short else 2]
    )
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "truck.toml"
        path.write_text(text, encoding="utf-8")
        base = min(check(path) for _ in range(asked.times(3)))
        only = ("19.5",) if asked.short else ()
        every = 4 if asked.short else 1
        whole, first, combinations = search(path, only, every)
        half, _, fewer = search(path, only, 2 * every)
    per_three_thousand = whole * MANY / combinations
    yield Ratio(f"a search over {combinations:,}, by {MANY:,}", per_three_thousand / base, "check", whole, 20)
    yield Ratio("its first row, from nothing", first / base, "check", first)
    grows = (whole / combinations) / (half / fewer)
    yield Ratio(f"a combination of {combinations:,}", grows, f"one of {fewer:,}", None, 1.5)


if __name__ == "__main__":
    run(measured, __doc__)
