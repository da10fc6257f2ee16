"""What a benchmark gives: ratios as numbers, which a test reads; run by hand they are told in lines."""

import argparse
import os
import resource
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from statistics import median
from typing import NamedTuple

ROOT = Path(__file__).resolve().parents[2]
COUNTY = ROOT / "projects" / "county-road-4x4.toml"


class Ratio(NamedTuple):
    """How many times what it is compared with something takes, and how many it may."""

    what: str
    value: float
    to: str
    seconds: float | None = None
    wanted: float | None = None  # at most
    counted: bool = False  # not timed: the same on every machine, so that a test holds it to what is wanted


class Asked(NamedTuple):
    """What a benchmark is run with; a short run goes through all of it once, on little."""

    project: Path = COUNTY
    python: str = sys.executable
    rounds: int | None = None
    short: bool = False

    def times(self, usual: int) -> int:
        return 1 if self.short else self.rounds or usual


def processor_seconds(command: list[str]) -> float:
    """What a whole process takes; a command that tells of a flag ends with 1."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    path = {**os.environ, "PYTHONPATH": os.pathsep.join([str(ROOT), os.environ.get("PYTHONPATH", "")])}
    done = subprocess.run(
        command, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, check=False, stdin=subprocess.DEVNULL, env=path
    )
    if done.returncode not in (0, 1) or b"Traceback" in done.stderr:
        raise SystemExit(done.stderr.decode())
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def in_turn(commands: dict[str, list[str]], rounds: int, before: Callable[[], object] = lambda: None) -> list[Ratio]:
    """Each against the first, by the median; in rounds, so that what else the machine does falls on all alike."""
    times: dict[str, list[float]] = {name: [] for name in commands}
    for _ in range(rounds):
        for name, command in commands.items():
            before()
            times[name].append(processor_seconds(command))
    base = next(iter(times))
    return [Ratio(name, median(took) / median(times[base]), base, median(took)) for name, took in times.items()]


def run(measured: Callable[[Asked], list[Ratio]], told: str | None, project: Path = COUNTY) -> None:
    """A benchmark by hand."""
    parser = argparse.ArgumentParser(description=told, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("project", nargs="?", type=Path, default=project)
    parser.add_argument("--python", default=sys.executable, help="one with the planner installed, so compiled")
    parser.add_argument("--rounds", type=int)
    parser.add_argument("--short", action="store_true")
    for one in measured(Asked(**vars(parser.parse_args()))):
        seconds = "" if one.seconds is None else f"  {one.seconds:.4g} s"
        wanted = "" if one.wanted is None else f"  (wanted: {one.wanted:.2g} x)"
        print(f"{one.what}: {one.value:.3g} x {one.to}{seconds}{wanted}")
