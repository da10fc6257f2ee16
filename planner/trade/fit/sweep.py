"""The least clearance between a tire and an obstacle over the whole of steer × travel × edge, to a proven bound.

The bound. A cell (see trace.py) covers the obstacle's points c + m + v in the half-plane, where c is its middle, m any
mix of its moves, each between −1 and 1 times over, and |v| ≤ rest; along the radius there may be `bulge` more. Each
part of the solid is convex there, so with n the outward normal at the spot of the part that is nearest to c,

    distance(p) ≥ distance(c) + n · (p − c)
                ≥ distance(c) − Σ |n · move| − rest − (bulge × how far n points inward along the radius)

for every p in the cell. This is exact in the first order, so that the gap closes with the square of the cell's size:
a cell a few centimetres across is often enough for a tenth of a millimetre. The distance to the solid is the least
over its parts, except inside both tire and rim at once (outside the rim, what of the tire's surface is nearest is not
inside the rim, and the other way about). A cell that may reach in there has the plain Lipschitz bound: a distance
changes by at most as much as the point moves, distance(p) ≥ distance(c) − spread.

The search takes the cell with the lowest bound, tries the corner at which the bound would be met, and halves the cell,
until the lowest bound left is within the wanted bound of the least distance found. No cell is dropped before that, so
grid spacing decides nothing.
"""

from collections.abc import Callable
from dataclasses import dataclass
from heapq import heapify, heappop, heappush
from math import inf, sqrt

from planner.trade.fit.motion import Motion, Obstacle, Place, Point, measured_direction, refuse
from planner.trade.fit.section import Nearest, PartName, Section, Side, nearest, probe, probes
from planner.trade.fit.trace import Cell, Trace, halves, place, trace

BOUND = 1e-4  # m; 0.1 mm
BUDGET = 20_000  # distance evaluations for one obstacle
SURE = 1e-6  # m; a clearance that is less than this above what is wanted counts as short of it

Look = Callable[[Cell], tuple[float, float, float, float]]


@dataclass(frozen=True, slots=True)
class Clearance:
    """The least clearance found, and what is proven of it.

    `distance` happens at `place`; `proven` is what nothing in the sweep comes under, and `gap` is between the two.
    What rides with the axle is where it is at any travel, what rides with the knuckle at any steer: those stay nothing.
    `point` is the obstacle's point there, and `normal` the tire's outward normal, both in the frame of the measurement.
    `taken` is what the measuring tolerance takes off at that place, as much as the normal lets through.
    `sure` stays proven wherever in its tolerance the obstacle is: the other places of the sweep have other normals, so
    the whole length of the tolerance is taken off there. Not `finished`: the budget ran out, and `gap` is as far as it
    came.
    """

    obstacle: Obstacle
    distance: float
    proven: float
    place: Place
    point: Point
    part: PartName
    side: Side
    normal: Point
    taken: float
    evaluations: int
    finished: bool

    @property
    def gap(self) -> float:
        return self.distance - self.proven

    @property
    def sure(self) -> float:
        return self.proven - self.obstacle.reach


def looker(section: Section) -> Look:
    """A cell to: the distance at its middle, what no point of the cell comes under, and the normal at the middle."""
    floor = -section.deepest
    parts = probes(section)
    whole = probe(section)
    first = parts[0]

    def look(cell: Cell) -> tuple[float, float, float, float]:
        distance, na, nr = first(cell.axial, cell.radial)
        a, b, c, d, e, f = cell.moves
        low = distance - abs(na * a + nr * b) - abs(na * c + nr * d) - abs(na * e + nr * f) - cell.rest
        if nr < 0.0:
            low += nr * cell.bulge
        return distance, (low if low > floor else floor), na, nr

    def look_at_both(cell: Cell) -> tuple[float, float, float, float]:
        distance, na, nr = whole(cell.axial, cell.radial)
        low, high = inf, -inf
        a, b, c, d, e, f = cell.moves
        for part in parts:
            there, pa, pr = part(cell.axial, cell.radial)
            under = there - abs(pa * a + pr * b) - abs(pa * c + pr * d) - abs(pa * e + pr * f) - cell.rest
            under += min(pr, 0.0) * cell.bulge
            low, high = min(low, under), max(high, under)
        if high < 0.0:
            low = distance - cell.spread
        return distance, max(low, floor), na, nr

    return look if len(parts) == 1 else look_at_both


def low_corner(cell: Cell, na: float, nr: float) -> tuple[float, float, float]:
    """The corner of the cell at which its bound would be met, going by the normal at its middle."""
    (s, t, e), (hs, ht, he), (a, b, c, d, g, h) = cell.middle, cell.extent, cell.moves
    return (
        s - hs if na * a + nr * b > 0.0 else s + hs,
        t - ht if na * c + nr * d > 0.0 else t + ht,
        e - he if na * g + nr * h > 0.0 else e + he,
    )


def least_clearance(path: Trace, section: Section, bound: float = BOUND, budget: int = BUDGET) -> Clearance:
    """The least clearance of one obstacle to one tire over the whole sweep, to within `bound`.

    A stone 30 mm above the tread of a tire 800 mm tall, with an axle that comes up 20 mm:

    >>> stone = Obstacle("stone", (0.0, 0.0, 0.430))
    >>> found = least_clearance(
    ...     trace(Motion(face_to_face=1.5, bump=0.02), stone), Section(0.25, 0.2, 0.8, 0.0, 0.19)
    ... )
    >>> round(found.distance, 4), found.part, found.place.travel, found.finished
    (0.01, 'tread', 0.02, True)
    """
    if not bound > 0.0:
        raise refuse("bound", bound, "more than nothing, in m")
    look, whole = looker(section), probe(section)
    count, best = 0, inf
    best_leg, best_at = 0, (0.0, 0.0, 0.0)
    heap: list[tuple[float, int, Cell, float, float]] = []
    for cell in path.roots:
        distance, low, na, nr = look(cell)
        count += 1
        if distance < best:
            best, best_leg, best_at = distance, cell.leg, cell.middle
        heap.append((low, count, cell, na, nr))
    heapify(heap)
    while heap and best - heap[0][0] > bound and count < budget:
        under, _, cell, na, nr = heappop(heap)
        corner = low_corner(cell, na, nr)
        x, y, z = path.swings[cell.leg](*corner)[:3]
        distance = whole(y, sqrt(x * x + z * z))[0]
        count += 1
        if distance < best:
            best, best_leg, best_at = distance, cell.leg, corner
        for half in halves(path, cell):
            distance, low, na, nr = look(half)
            count += 1
            if distance < best:
                best, best_leg, best_at = distance, half.leg, half.middle
            # A half is part of the whole, so what held there holds here.
            heappush(heap, (low if low > under else under, count, half, na, nr))
    proven = min(best, heap[0][0]) if heap else best
    return _told(path, section, best, proven, (best_leg, best_at), count, best - proven <= bound)


def _told(
    path: Trace,
    section: Section,
    best: float,
    proven: float,
    at: tuple[int, tuple[float, float, float]],
    count: int,
    finished: bool,
) -> Clearance:
    obstacle, where = path.obstacle, place(path, *at)
    x, y, z, *_ = path.swings[at[0]](where.steer, where.travel, where.along)
    radial = sqrt(x * x + z * z)
    spot: Nearest = nearest(section, y, radial)
    na, nr = spot.normal
    outward = (nr * x / radial, na, nr * z / radial) if radial else (0.0, na, nr)
    normal = measured_direction(path.motion, obstacle, where, outward)
    (ax, ay, az), (ex, ey, ez) = obstacle.start, obstacle.edge
    point = (ax + where.along * ex, ay + where.along * ey, az + where.along * ez)
    taken = sum(abs(n) * tolerance for n, tolerance in zip(normal, obstacle.tolerance, strict=True))
    return Clearance(obstacle, best, proven, where, point, spot.part, spot.side, normal, taken, count, finished)


def keeps(path: Trace, section: Section, clearance: float, budget: int = BUDGET) -> bool:
    """Whether the obstacle keeps `clearance` through the whole sweep: True only where that is proven.

    Cheaper than the least clearance: a cell that is clear enough is done with, and the first place that is not ends it.
    Within a thousandth of a millimetre of what is wanted, or past the budget, is a no: an edge that keeps exactly that
    all along would else have to be looked at all along.
    """
    look, whole = looker(section), probe(section)
    stack = list(path.roots)
    count = 0
    while stack:
        cell = stack.pop()
        distance, low, na, nr = look(cell)
        count += 1
        if low >= clearance:
            continue
        if distance < clearance + SURE or count > budget:
            return False
        if cell.halves is None:
            # A new cell costs more than a look at its corner, which often settles it.
            x, y, z = path.swings[cell.leg](*low_corner(cell, na, nr))[:3]
            count += 1
            if whole(y, sqrt(x * x + z * z))[0] < clearance + SURE:
                return False
        stack += halves(path, cell)
    return True


def inside_at_rest(motion: Motion, obstacle: Obstacle, section: Section) -> bool:
    """Whether the tire, straight ahead at ride height, is already where the obstacle was measured.

    Said of the tire that was on the truck when it was measured, it means that one of the two was measured wrong.
    """
    still = Motion(motion.face_to_face)
    return least_clearance(trace(still, obstacle), section).distance < 0.0
