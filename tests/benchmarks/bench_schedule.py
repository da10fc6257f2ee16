"""How long schedules of 1,250 to 20,000 tasks take: prints seconds and growth, tests nothing.

    python tests/benchmarks/bench_schedule.py [--rounds N]

Twice the tasks should take about twice as long; 10,000 are asked for in under a second.
"""

import argparse
import random
from datetime import date
from time import perf_counter

from planner.plan.work.schedule import Delivery, Job, schedule

SIZES = (1_250, 2_500, 5_000, 10_000, 20_000)
SHAPES = ("chain", "wide", "random")


def jobs_of(shape: str, count: int) -> list[Job]:
    """One long chain, one job that all others wait on, or four waits each on any earlier job."""
    dice = random.Random(count)
    jobs = []
    for at in range(count):
        if shape == "chain":
            after = range(at - 1, at) if at else ()
        elif shape == "wide":
            after = (0,) if at else ()
        else:
            after = {dice.randrange(at) for _ in range(4)} if at else ()
        jobs.append(Job(f"task {at}", 0.25 + dice.random(), tuple(f"task {one}" for one in after)))
    return jobs


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--rounds", type=int, default=5)
    rounds = parser.parse_args().rounds
    for shape in SHAPES:
        before = 0.0
        for count in SIZES:
            jobs = jobs_of(shape, count)
            every = range(0, count - 1, 20)
            parts = [Delivery(f"part {at}", 30, (f"task {at + 1}",), by=f"task {at}") for at in every]
            least = min(_taken(jobs, parts) for _ in range(rounds))
            growth = f"{least / before:.2f} x" if before else ""
            print(f"{shape:7} {count:6} tasks {len(parts):5} parts  {least:.3f} s  {growth}")
            before = least


def _taken(jobs: list[Job], parts: list[Delivery]) -> float:
    began = perf_counter()
    schedule(jobs, parts, start=date(2026, 1, 5), hours_a_week=10)
    return perf_counter() - began


if __name__ == "__main__":
    main()
