"""What a bare run leaves out for the time that it takes: bare_run.csv, measured and made anew in tests/ by

    python -m bare_run            # all that is not marked as slow by hand
    python -m bare_run --again    # what a bare run has by the list: what several share falls to the first that runs

A test with many values keeps its first ones, as many as there is time for. A test by which a mutant of
trust/mutants.csv is known to be noticed stays whole.
"""

import argparse
import csv
import os
import subprocess
import sys
from collections import Counter
from collections.abc import Iterator, Sequence
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

LIST = Path(__file__).with_suffix(".csv")
MUTANTS = Path(__file__).with_name("trust") / "mutants.csv"
LONG = 0.3  # seconds of processor time, all values of a test together
MEASURES, ALL = "BARE_RUN_MEASURES", "BARE_RUN_ALL"


def listed() -> dict[str, int]:
    """The tests that take long, without their values: how many of these a bare run has."""
    if ALL in os.environ:
        return {}
    with LIST.open(encoding="utf-8", newline="") as table:
        return {row["test"]: int(row["kept"]) for row in csv.DictReader(table)}


def name_of(test: str) -> str:
    return test.partition("[")[0]


def mark_long(items: Sequence[pytest.Item]) -> None:
    """Marks as slow what a bare run leaves out."""
    long, seen = listed(), Counter[str]()
    for item in items:
        name = name_of(item.nodeid)
        if item.get_closest_marker("slow") is None and name in long:
            seen[name] += 1
            if seen[name] > long[name]:
                item.add_marker("slow")


def noticing() -> set[str]:
    """For each mutant a test that is known to notice it, of its own room if there is one; without their values."""
    with MUTANTS.open(encoding="utf-8", newline="") as table:
        told = [[row[run] for run in ("own", "bare") if "killed by" in row[run]] for row in csv.DictReader(table)]
    return {name_of(results[0].removeprefix("killed by ")) for results in told if results}


@pytest.hookimpl(wrapper=True)
def pytest_runtest_protocol(item: pytest.Item) -> Iterator[None]:
    """With this module as a plugin: what each test takes of a processor, programs that it starts included."""
    began = sum(os.times()[:4])
    try:
        return (yield)
    finally:
        with Path(os.environ[MEASURES], f"{os.getpid()}.csv").open("a", encoding="utf-8", newline="") as table:
            csv.writer(table).writerow([item.nodeid, sum(os.times()[:4]) - began])


def measured(again: bool) -> dict[str, list[float]]:
    """What each test of a bare run took, value by value."""
    with TemporaryDirectory() as folder:
        told = os.environ | {MEASURES: folder} | ({} if again else {ALL: "yes"})
        subprocess.run([sys.executable, "-m", "pytest", "-p", "bare_run"], cwd=LIST.parents[1], env=told)
        rows = [row for path in Path(folder).iterdir() for row in csv.reader(path.open(encoding="utf-8", newline=""))]
    found: dict[str, list[float]] = {}
    for test, seconds in rows:
        found.setdefault(name_of(test), []).append(float(seconds))
    return found


def kept(seconds: Sequence[float]) -> int:
    """How many values there is time for; none where one takes too long."""
    return int(LONG * len(seconds) / sum(seconds)) if sum(seconds) > LONG else len(seconds)


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("--again", action="store_true")
    again = asked.parse_args().again
    long = listed() if again else {}
    for name, seconds in measured(again).items():
        if kept(seconds) < len(seconds) and name not in noticing():
            long[name] = kept(seconds)
    with LIST.open("w", encoding="utf-8", newline="") as table:
        writer = csv.writer(table, lineterminator="\n")
        writer.writerow(["test", "kept"])
        writer.writerows(sorted(long.items()))


if __name__ == "__main__":
    main()
