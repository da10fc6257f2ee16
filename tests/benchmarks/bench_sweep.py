"""How the sweep compares, as ratios in one run: with a uniform grid of the same bound, with NumPy on a coarser one.

    (cd tests && python -m benchmarks.bench_sweep)

A grid's bound is the plain Lipschitz one that any sampling
has: the distance changes by at most as much as the point moves. It is shared evenly between steer, travel and edge,
which asks for the fewest samples. The grids look at a level and at an evenly crossed axle alone, the sweep at all
between and beyond. The NumPy grid works out once what can be worked out once; where it would take more
than `NUMPY_SAMPLES` samples for one obstacle, that many are timed and the time scaled up. Where a grid is run in full,
its least distance is held against ours.
"""

from dataclasses import replace
from itertools import pairwise
from math import ceil, hypot, prod, radians
from statistics import median
from time import perf_counter

import numpy as np
from benchmarks.ratio import Asked, Ratio, run

from planner.trade.fit.limits import largest_tire, steer_limit
from planner.trade.fit.motion import Motion, SweptObstacle
from planner.trade.fit.section import TireSection, outline
from planner.trade.fit.sweep import BOUND, least_clearance
from planner.trade.fit.trace import swept_region, trace
from planner.trade.fit.window import backspace_window, evenly, window_map

NUMPY_SAMPLES = 4_000_000
WHOLE = "the sweep of the car, 4 wheels x 12 obstacles,"
COARSER = 10

TIRE = TireSection(0.270, 0.230, 0.840, -0.020, 0.190, 0.220, 0.215)
FRONT = Motion(1.5, 0.09, 0.09, radians(35), radians(32), 0.10, radians(8), radians(3))
REAR = Motion(1.5, 0.11, 0.09)
AROUND = [
    SweptObstacle("frame rail", (-0.5, -0.35, 0.25), (0.5, -0.35, 0.25), required=0.02),
    SweptObstacle("spring pack", (-0.4, -0.33, 0.02), (0.4, -0.33, 0.02), "axle", 0.01),
    SweptObstacle("U-bolt", (0.06, -0.25, -0.05), None, "axle", 0.01),
    SweptObstacle("tie rod end", (-0.15, -0.10, -0.03), None, "knuckle", 0.01),
    SweptObstacle("fender lip, front", (0.5, 0.05, 0.3), (0.3, 0.05, 0.5), required=0.02),
    SweptObstacle("fender lip, rear", (-0.5, 0.05, 0.3), None, required=0.02),
    SweptObstacle("inner fender", (-0.35, -0.2, 0.4), None, required=0.02),
    SweptObstacle("bump stop", (0.0, -0.3, 0.25), None, required=0.02),
    SweptObstacle("shock", (0.1, -0.28, 0.0), (0.15, -0.3, 0.5), required=0.02),
    SweptObstacle("exhaust", (-0.45, -0.3, 0.1), None, required=0.02),
    SweptObstacle("fender lip, top", (0.0, 0.06, 0.55), None, required=0.02),
    SweptObstacle("brake", (0.0, -0.06, 0.16), None, "knuckle", 0.005),
]


def wheels(shift=0.0):
    """Four wheels of twelve obstacles, each side measured a little differently."""
    found = []
    for wheel, motion in enumerate((FRONT, FRONT, REAR, REAR)):
        by = 0.003 * (wheel % 2) + shift
        for obstacle in AROUND:
            end = obstacle.end and (obstacle.end[0] + by, obstacle.end[1], obstacle.end[2] + by)
            start = (obstacle.start[0] + by, obstacle.start[1], obstacle.start[2] + by)
            found.append((motion, replace(obstacle, start=start, end=end)))
    return found


def timed(call, runs):
    """The median time of `call` and its last answer, every run from a cold start."""
    times = []
    for _ in range(runs):
        swept_region.cache_clear()
        start = perf_counter()
        answer = call()
        times.append(perf_counter() - start)
    return median(times), answer


def grid_shape(motion, obstacle, bound):
    """Samples along steer, travel and edge of one case: no point of the sweep is further than `bound` from one."""
    ends = [np.array(end) for end in (obstacle.start, obstacle.end or obstacle.start)]
    lean = np.array([-np.tan(motion.caster), -np.tan(motion.inclination), 1.0])
    foot = np.array([0.0, -motion.kingpin_inset, 0.0])
    travel = motion.bump + motion.droop if obstacle.rides == "body" else 0.0
    arm = max(np.linalg.norm(np.cross(lean / np.linalg.norm(lean), end - foot)) for end in ends) + travel / 2
    steer = 0.0 if obstacle.rides == "knuckle" else (motion.steer_in + motion.steer_out) * arm
    lengths = [steer, travel, hypot(*obstacle.edge)]
    moving = [length for length in lengths if length > 0.0]
    share = 2 * bound / max(1, len(moving))
    return [max(1, ceil(length / share)) for length in lengths]


def cases(obstacle):
    """What a grid looks at of the axle: level and evenly crossed, a small part of what the sweep goes through."""
    return ("together", "crossed") if obstacle.rides == "body" else ("together",)


def numpy_grid(motion, obstacle, section, shape, samples):
    """Seconds for one obstacle's even grid in NumPy, all cases, and its least distance where all of it was run."""
    steers, travels, alongs = shape
    total = prod(shape)
    taken = steers if total <= samples else max(1, int(samples / (travels * alongs)))
    if taken * travels * alongs > 2 * samples:
        travels = max(1, int(samples / alongs))
    whole = taken * travels * alongs >= total
    seconds, least = 0.0, np.inf
    for case in cases(obstacle):
        start = perf_counter()
        least = min(least, _numpy_case(motion, obstacle, section, case, taken, travels, alongs))
        seconds += (perf_counter() - start) * total / (taken * travels * alongs)
    return seconds, least if whole else None


def _numpy_case(motion, obstacle, section, case, steers, travels, alongs):
    along = np.linspace(0, 1, alongs) if alongs > 1 else np.zeros(1)
    x, y, z = (np.array(obstacle.start)[:, None] + np.array(obstacle.edge)[:, None] * along)[:, None, :]
    if obstacle.rides == "body":
        travel = np.linspace(-motion.droop, motion.bump, travels)[:, None]
        far = travel if case == "together" else np.clip(-travel, -motion.droop, motion.bump)
        sine = (travel - far) / motion.face_to_face
        cosine, half = np.sqrt(1 - sine * sine), motion.face_to_face / 2
        across, above = y + half, z - (travel + far) / 2
        y, z = cosine * across + sine * above - half, cosine * above - sine * across
        x = np.broadcast_to(x, y.shape)
    lean = np.array([-np.tan(motion.caster), -np.tan(motion.inclination), 1.0])
    kx, ky, kz = lean / np.linalg.norm(lean)
    y = y + motion.kingpin_inset
    least = np.inf
    lock = 0.0 if obstacle.rides == "knuckle" else 1.0
    for steer in np.linspace(-motion.steer_out * lock, motion.steer_in * lock, steers):
        c, s = np.cos(steer), np.sin(steer)
        u = 1 - c
        rx = (c + kx * kx * u) * x + (kx * ky * u - kz * s) * y + (kx * kz * u + ky * s) * z
        ry = (kx * ky * u + kz * s) * x + (c + ky * ky * u) * y + (ky * kz * u - kx * s) * z
        rz = (kx * kz * u - ky * s) * x + (ky * kz * u + kx * s) * y + (c + kz * kz * u) * z
        across, radial = np.abs(ry - motion.kingpin_inset + section.offset), np.sqrt(rx * rx + rz * rz)
        distance = _numpy_distance(section, across, radial)
        least = min(least, float(distance.min()))
    return least


def _numpy_distance(section, x, y):
    """To the section's polygon: by its lines inside, by its sides outside."""
    corners = [(0.0, section.diameter / 2), *outline(section), (0.0, section.barrel_radius)]
    inside, outside = np.full(x.shape, -np.inf), np.full(x.shape, np.inf)
    for (ax, ay), (bx, by) in pairwise(corners):
        long = hypot(bx - ax, by - ay)
        if not long:
            continue
        ex, ey = (bx - ax) / long, (by - ay) / long
        along = np.clip((x - ax) * ex + (y - ay) * ey, 0, long)
        outside = np.minimum(outside, np.hypot(x - ax - along * ex, y - ay - along * ey))
        inside = np.maximum(inside, (y - ay) * ex - (x - ax) * ey)
    return np.where(inside <= 0, inside, outside)


def sweep(pairs):
    return [least_clearance(trace(motion, obstacle), TIRE) for motion, obstacle in pairs]


def against_grids(name, pairs, runs, samples):
    """Evaluations against the even grid's, which are counted, and time against NumPy's on a coarser one."""
    taken, answers = timed(lambda: sweep(pairs), runs)
    assert all(clearance.finished for clearance in answers)
    fine = sum(len(cases(pair[1])) * prod(grid_shape(*pair, BOUND)) for pair in pairs)
    coarse = 0.0
    for pair, answer in zip(pairs, answers, strict=True):
        seconds, least = numpy_grid(*pair, TIRE, grid_shape(*pair, COARSER * BOUND), samples)
        coarse += seconds
        if least is not None and answer.proven > least:
            raise SystemExit(f"the grid finds {least} for {pair[1].name}, the sweep {answer.distance}")
    count = sum(clearance.evaluations for clearance in answers)
    yield Ratio(f"evaluations, {name}", count / fine, "the even grid", wanted=1 / 50, counted=True)
    yield Ratio(f"time, {name}", taken / coarse, f"NumPy on a grid {COARSER} times coarser", taken, wanted=1)


def growth(runs, many):
    """Time for each obstacle as there are more of them."""
    took = {}
    for times in many:
        pairs = [pair for index in range(times) for pair in wheels(0.0005 * index)]
        took[len(pairs)] = timed(lambda pairs=pairs: sweep(pairs), runs)[0] / len(pairs)
    first = next(iter(took))
    for count, taken in took.items():
        if count != first:
            yield Ratio(f"each of {count} obstacles", taken / took[first], f"each of {first}", taken)


def measured(asked: Asked) -> list[Ratio]:
    """All of it; a short run has the points of one wheel, and a window of few cells."""
    car = wheels()
    ours, runs = timed(lambda: sweep(car), asked.times(5))[0], asked.times(5)
    points = [pair for pair in car if pair[1].end is None]
    groups = {
        "all": car,
        "points only": points,
        "edges only": [pair for pair in car if pair[1].end is not None],
        "points of the front wheels": [pair for pair in points if pair[0] is FRONT],
    }
    sizes, samples = (40, 60), NUMPY_SAMPLES
    if asked.short:
        groups, sizes, samples = {"points of one wheel": points[:8]}, (4, 6), 20_000
    found = [one for name, pairs in groups.items() for one in against_grids(name, pairs, runs, samples)]
    found += growth(asked.times(3), (1, 2) if asked.short else (1, 2, 4, 8))
    diameters, backspaces = evenly(0.7, 1.0, sizes[0]), evenly(0.05, 0.2, sizes[1])

    def window(pairs):
        return window_map([trace(*pair) for pair in pairs], TIRE, diameters, backspaces)

    for name, pairs in (("one wheel", car[:12]), ("a front axle", car[:24]), ("a rear axle", car[24:])):
        taken, _ = timed(lambda pairs=pairs: window(pairs), runs)
        found.append(Ratio(f"{sizes[0]} x {sizes[1]} window, {name}", taken / ours, WHOLE, taken, wanted=5))
    wheel = car[:12]
    for name, call in (
        ("steer limit, in", lambda: steer_limit([trace(*pair) for pair in wheel], TIRE, "in")),
        ("backspace window", lambda: backspace_window([trace(*pair) for pair in wheel], TIRE, 0.05, 0.2)),
        ("largest tire", lambda: largest_tire([trace(*pair) for pair in wheel], TIRE, 0.6, 1.0)),
    ):
        taken, _ = timed(call, runs)
        found.append(Ratio(f"{name} of one wheel", taken / ours, WHOLE, taken))
    return found


if __name__ == "__main__":
    run(measured, __doc__)
