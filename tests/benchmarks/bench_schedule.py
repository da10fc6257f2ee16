"""How long schedules of 1,250 to 20,000 tasks take, each against one of half as many.

    (cd tests && python -m benchmarks.bench_schedule [--rounds N])

Twice the tasks should take about twice as long; 10,000 are asked for in under a second.
"""

import random
from datetime import date
from itertools import pairwise
from time import perf_counter

from benchmarks.ratio import Asked, Ratio, run

from planner.plan.work.schedule import Delivery, Job, schedule

SIZES = (1_250, 2_500, 5_000, 10_000, 20_000)
SHORT = (100, 200)
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


def measured(asked: Asked) -> list[Ratio]:
    sizes, rounds = SHORT if asked.short else SIZES, asked.times(5)
    found = []
    for shape in SHAPES:
        took = {count: min(_taken(shape, count) for _ in range(rounds)) for count in sizes}
        found += [
            Ratio(f"{shape} of {more}", took[more] / took[less], f"of {less}", took[more])
            for less, more in pairwise(sizes)
        ]
    return found


def _taken(shape: str, count: int) -> float:
    jobs = jobs_of(shape, count)
    parts = [Delivery(f"part {at}", 30, (f"task {at + 1}",), by=f"task {at}") for at in range(0, count - 1, 20)]
    began = perf_counter()
    schedule(jobs, parts, start=date(2026, 1, 5), hours_a_week=10)
    return perf_counter() - began


if __name__ == "__main__":
    run(measured, __doc__)
