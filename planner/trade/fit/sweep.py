"""The least clearance between a tire and an obstacle over the whole of steer × travel × edge, to a proven bound.

The bound. A cell (see trace.py) covers the obstacle's points c + m + q + v in the half-plane, where c is its middle, m
the sum of its moves, each a share from −1 to 1 times over, q its curves by the products of the same shares, and
|v| ≤ rest; along the radius there may be `bulge` more. The solid is convex there: with any point o of the half-plane
and n the outward normal at the spot of the solid that is nearest to it,

    distance(p) ≥ distance(o) + n · (p − o)
                ≥ distance(o) + n · (c − o) + n · (m + q) − rest − (bulge × how far n points inward along the radius)

for every p in the cell: a tangent. With one at the middle, one where that says the least is, and one where the other
two turn from falling to rising, the distance along the moves is met almost exactly; of the curves only what lies along
n counts (`falls`). So the gap closes fast: a cell a hand across is often enough for a tenth of a millimeter.

The search takes the cell with the lowest bound, tries the place at which that would be met, and halves the cell, until
the lowest bound left is within the wanted bound of the least distance found. No cell is dropped before that, so grid
spacing decides nothing.
"""

from collections.abc import Callable, Sequence
from heapq import heapify, heappop, heappush
from math import inf, sqrt
from typing import NamedTuple

from planner.trade.fit.motion import Motion, Point, SweepPlace, SweptObstacle, measured_direction, refuse
from planner.trade.fit.section import Nearest, PartName, Probe, Side, TireSection, nearest, probe
from planner.trade.fit.trace import Cell, Three, Trace, halves, place, trace

BOUND = 1e-4  # m; 0.1 mm
BUDGET = 20_000  # distance evaluations for one obstacle
SURE = 1e-6  # m; a clearance that is less than this above what is wanted counts as short of it

Look = Callable[[Cell, float], tuple[float, float, Three]]


class Clearance(NamedTuple):
    """The least clearance found, and what is proven of it.

    `distance` happens at `place`; `proven` is what nothing in the sweep comes under, and `gap` is between the two.
    What rides with the axle is where it is at any travel, what rides with the knuckle at any steer: those stay nothing.
    `point` is the obstacle's point there, and `normal` the tire's outward normal, both in the frame of the measurement.
    `taken` is what the measuring tolerance takes off at that place, as much as the normal lets through.
    `sure` stays proven wherever in its tolerance the obstacle is: the other places of the sweep have other normals, so
    the whole length of the tolerance is taken off there. Not `finished`: the budget ran out, and `gap` is as far as it
    came.
    """

    obstacle: SweptObstacle
    distance: float
    proven: float
    place: SweepPlace
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


def looker(section: TireSection) -> Look:
    """A cell to: the distance at its middle, what nothing in it comes under, and the shares of its moves to try.

    A bound that comes to `enough` is not made better.
    """
    floor = -section.deepest
    feel = probe(section)

    def look(cell: Cell, enough: float) -> tuple[float, float, Three]:
        distance, low, shares = _lowest(cell, feel, enough)
        return distance, (low if low > floor else floor), shares

    return look


def _lowest(cell: Cell, feel: Probe, enough: float) -> tuple[float, float, Three]:
    """The distance at the cell's middle, the highest that the tangents prove, and about where it is least.

    Each tangent is put where the ones before it say the least is: at the corner toward which the first falls, and
    where a later one rises along a move again, in between.
    """
    axial, radial, moves = cell.axial, cell.radial, cell.moves
    distance, na, nr = feel(axial, radial)
    fall, steer, travel, along = falls(cell, na, nr)
    best = distance - fall
    s, t, u = (-1.0 if steer > 0.0 else 1.0), (-1.0 if travel > 0.0 else 1.0), (-1.0 if along > 0.0 else 1.0)
    if best >= enough:
        return distance, best, (s, t, u)
    a, b, c, d, e, f = moves
    for _ in range(2):
        x, y = s * a + t * c + u * e, s * b + t * d + u * f
        there, na, nr = feel(axial + x, radial + y)
        fall, steer_there, travel_there, along_there = falls(cell, na, nr)
        low = there - na * x - nr * y - fall
        if low > best:
            best = low
        settled = True
        if steer * steer_there < 0.0:
            s, settled = s * steer / (steer - steer_there), False
        if travel * travel_there < 0.0:
            t, settled = t * travel / (travel - travel_there), False
        if along * along_there < 0.0:
            u, settled = u * along / (along - along_there), False
        if settled or best >= enough:
            break
    return distance, best, (s, t, u)


def falls(cell: Cell, na: float, nr: float) -> tuple[float, float, float, float]:
    """How far inward along a normal anything in the cell can be from its middle, and what each move brings outward.

    With shares s, t, u of steer, travel and along, what lies outward along the normal comes to
    S s + T t + U u + SS s² + TT t² + ST s t + SU s u + TU t u. By t that is at least TT t² − (|T| + |ST| + |TU|) |t|;
    S s + U u + SU s u is least at a corner.
    """
    a, b, c, d, e, f = cell.moves
    steer, travel, along = na * a + nr * b, na * c + nr * d, na * e + nr * f
    a, b, c, d, e, f, g, h, i, j = cell.curves
    steer_twice, travel_twice, both = na * a + nr * b, na * c + nr * d, na * g + nr * h
    by_travel = abs(travel) + abs(na * e + nr * f) + abs(na * i + nr * j)
    if 2.0 * travel_twice <= by_travel:
        by_travel -= travel_twice
    else:
        by_travel *= by_travel / (4.0 * travel_twice)
    same, other = abs(steer + along) - both, abs(steer - along) + both
    fall = cell.rest + by_travel + (same if same > other else other)
    if steer_twice < 0.0:
        fall -= steer_twice
    if nr < 0.0:
        fall -= nr * cell.bulge
    return fall, steer, travel, along


def within(cell: Cell, shares: Three) -> Three:
    """Where in steer, travel and along those shares of the cell's moves are."""
    (s, t, e), (hs, ht, he), (u, v, w) = cell.middle, cell.extent, shares
    return s + u * hs, t + v * ht, e + w * he


def least_clearance(path: Trace, section: TireSection, bound: float = BOUND, budget: int = BUDGET) -> Clearance:
    """The least clearance of one obstacle to one tire over the whole sweep, to within `bound`.

    A stone 30 mm above the tread of a tire 800 mm tall, with an axle that comes up 20 mm:

    >>> stone = SweptObstacle("stone", (0.0, 0.0, 0.430))
    >>> found = least_clearance(
    ...     trace(Motion(face_to_face=1.5, bump=0.02), stone), TireSection(0.25, 0.2, 0.8, 0.0, 0.19)
    ... )
    >>> round(found.distance, 4), found.part, found.place.travel, found.finished
    (0.01, 'tread', 0.02, True)
    """
    best, proven, at, count = _searched(path, section, bound, budget)
    obstacle, where = path.obstacle, place(path, *at)
    x, y, z, *_ = path.region.swings[at[0]](where.steer, where.travel, where.along)
    radial = sqrt(x * x + z * z)
    spot: Nearest = nearest(section, y, radial)
    na, nr = spot.normal
    outward = (nr * x / radial, na, nr * z / radial) if radial else (0.0, na, nr)
    normal = measured_direction(path.motion, obstacle, where, outward)
    (ax, ay, az), (ex, ey, ez) = obstacle.start, obstacle.edge
    point = (ax + where.along * ex, ay + where.along * ey, az + where.along * ez)
    taken = sum(abs(n) * tolerance for n, tolerance in zip(normal, obstacle.tolerance, strict=True))
    finished = best - proven <= bound
    return Clearance(obstacle, best, proven, where, point, spot.part, spot.side, normal, taken, count, finished)


def proven_clearance(path: Trace, section: TireSection, bound: float = BOUND, budget: int = BUDGET) -> float:
    """What nothing in the sweep comes under: at most `bound` less than the least clearance, if the budget lasts."""
    return _searched(path, section, bound, budget)[1]


def _searched(
    path: Trace, section: TireSection, bound: float, budget: int
) -> tuple[float, float, tuple[int, Three], int]:
    """The least distance found, what is proven, the leg and the place of the former, and how many distances it took."""
    if not bound > 0.0:
        raise refuse("bound", bound, "more than nothing, in m")
    look, whole = looker(section), probe(section)
    count, best = 0, inf
    best_leg, best_at = 0, (0.0, 0.0, 0.0)
    heap: list[tuple[float, int, Cell, Three]] = []
    for cell in path.region.roots:
        distance, low, shares = look(cell, best)
        count += 1
        if distance < best:
            best, best_leg, best_at = distance, cell.leg, cell.middle
        heap.append((low, count, cell, shares))
    heapify(heap)
    while heap and best - heap[0][0] > bound and count < budget:
        under, _, cell, shares = heappop(heap)
        at = within(cell, shares)
        x, y, z = path.region.swings[cell.leg](*at)[:3]
        distance = whole(y, sqrt(x * x + z * z))[0]
        count += 1
        if distance < best:
            best, best_leg, best_at = distance, cell.leg, at
            if best - under <= bound:
                heappush(heap, (under, count, cell, shares))
                break
        for half in halves(path, cell):
            distance, low, shares = look(half, best)
            count += 1
            if distance < best:
                best, best_leg, best_at = distance, half.leg, half.middle
            # A half is part of the whole, so what held there holds here.
            heappush(heap, (low if low > under else under, count, half, shares))
    proven = min(best, heap[0][0]) if heap else best
    return best, proven, (best_leg, best_at), count


def keeps(path: Trace, section: TireSection, clearance: float, budget: int = BUDGET) -> bool:
    """Whether the obstacle keeps `clearance` through the whole sweep: True only where that is proven."""
    return not near_cells(path, section, clearance, path.region.roots, budget)


def near_cells(
    path: Trace, section: TireSection, clearance: float, cells: Sequence[Cell], budget: int = BUDGET
) -> Sequence[Cell]:
    """Those of the cells that may come nearer than `clearance`; none where all are proven to keep it.

    Cheaper than the least clearance: a cell that is clear enough is done with, and the first place that is not ends it,
    its cell last. What is cleared of one tire is clear of any that lies within it, so a search that goes on to smaller
    ones need only ask about what is given back. Within a thousandth of a millimeter of what is wanted, or past the
    budget, is too near: an edge that keeps exactly that all along would else have to be looked at all along.
    """
    look, whole = looker(section), probe(section)
    stack = list(cells)
    count = 0
    while stack:
        cell = stack.pop()
        distance, low, shares = look(cell, clearance)
        count += 1
        if low >= clearance:
            continue
        if distance < clearance + SURE or count > budget:
            return [*stack, cell]
        if not cell.parts:
            # A new cell costs more than a look at its lowest place, which often settles it.
            x, y, z = path.region.swings[cell.leg](*within(cell, shares))[:3]
            count += 1
            if whole(y, sqrt(x * x + z * z))[0] < clearance + SURE:
                return [*stack, cell]
        stack += halves(path, cell)
    return []


def inside_at_rest(motion: Motion, obstacle: SweptObstacle, section: TireSection) -> bool:
    """Whether the tire, straight ahead at ride height, is already where the obstacle was measured.

    Said of the tire that was on the truck when it was measured, it means that one of the two was measured wrong. What
    only touches is not inside.
    """
    still = Motion(motion.face_to_face)
    return not keeps(trace(still, obstacle), section, -SURE)
