"""What it takes to run a tire that is too large, against one check of the truck with it, in one process.

    (cd tests && python -m benchmarks.bench_takes [--rounds N])

At most five times as long is wanted: every stop is solved for every change that may clear it, none by hand.
"""

from pathlib import Path
from time import process_time

from benchmarks.ratio import Asked, Ratio, run

from planner.plan.answers.flagging import flags
from planner.plan.answers.open_project import open_project
from planner.plan.takes.least_changes import what_it_takes
from planner.plan.takes.sized_candidate import asked_for

COUNTY = Path(__file__).parents[2] / "projects" / "county-road-4x4.toml"
SIZES = ("38x13.50R17LT", "40x13.50R17LT")
WANTED = 5.0


def measured(asked: Asked) -> list[Ratio]:
    rows = []
    for size in SIZES[: 1 if asked.short else None]:
        checks, takes = [], []
        for _ in range(asked.times(3)):
            opened = open_project(COUNTY)
            began = process_time()
            meant = asked_for(opened, size)
            assert flags(meant.opened)
            checked = process_time()
            found = what_it_takes(meant.opened, meant.fitment)
            assert found.stops and all(stop.changes for stop in found.stops)
            checks.append(checked - began)
            takes.append(process_time() - checked)
        rows.append(Ratio(f"takes {size}", min(takes) / min(checks), "one check", min(takes), WANTED))
    return rows


if __name__ == "__main__":
    run(measured, __doc__)
